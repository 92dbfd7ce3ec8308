"""What was booked by mistake is taken back on the page that says it was booked."""

import re
from html import unescape

import pytest

from stillroom.stock.codec import to_entry
from stillroom.stock.events import Mended
from stillroom.stock.handle import stock_of
from tests.stock.kitchen import Farm
from tests.web.forms import words
from tests.web.test_stock import JUICE, client, deed, records

__all__ = ["client", "records"]  # fixtures

AT = {"place": "freezer 2"}


@pytest.fixture
def lot(client, records) -> str:
    deed(client, deed="add", sentence=JUICE)
    return next(iter(stock_of(records.ledger).lots))


def read(answer) -> str:
    """The page as it is read."""
    return words(answer.text)


def key(html: str) -> str:
    """Address behind the first key that takes an entry back."""
    return unescape(re.search(r'href="(/stock/mend/[^"]+)"', html)[1])


def fields(html: str) -> dict[str, str]:
    form = html.split('action="/stock/mend/')[1].split("</form>")[0]
    return dict(re.findall(r'name="(\w+)" value="([^"]*)"', form))


def balance(records, code: str) -> str:
    stock = stock_of(records.ledger)
    return stock.lots[code].measure.words(stock.balance(code))


def test_a_mistaken_sale_is_taken_back_where_it_was_confirmed(client, records, lot):
    sold = deed(client, deed="sold", lot=lot, quantity="3 bags", to="Ida", **AT)
    assert "as number 2" in sold.text
    asked = client.get(key(sold.text))
    assert "Take back number 2: sold: 3 bags" in read(asked)
    assert "Redcurrant juice" in read(asked).split("Then there is:")[1]
    assert "14 bags (56 cups) at freezer 2" in read(asked)
    assert balance(records, lot) == "11 bags (44 cups)"  # asking books nothing
    done = client.post(
        asked.url.path, data={**fields(asked.text), "why": "he took juice home"}
    )
    assert "as number 3: mended number 2: he took juice home" in read(done)
    assert balance(records, lot) == "14 bags (56 cups)"
    assert "/stock/mend/" not in done.text.split('id="shelf"')[0]  # no way back of it
    again = client.get("/stock?booked=2")
    assert "(taken back since)" in read(again)


def test_a_second_tap_takes_back_once_and_a_second_page_is_told(client, records, lot):
    sold = deed(client, deed="sold", lot=lot, quantity="3 bags", **AT)
    pages = [client.get(key(sold.text)) for _ in range(2)]
    sent = {**fields(pages[0].text), "why": "wrong lot"}
    for _ in range(2):
        assert "as number 3" in read(client.post(pages[0].url.path, data=sent))
    other = {**fields(pages[1].text), "why": "wrong lot"}
    no = client.post(pages[1].url.path, data=other)
    assert no.status_code == 422
    assert "entry 2 was mended already" in read(no)
    assert client.get(pages[0].url.path).status_code == 422
    assert stock_of(records.ledger).sequence == 3


@pytest.mark.parametrize(
    ("changed", "said"),
    [
        ({"why": "  "}, "The reason is missing"),
        ({"why": "=1+1"}, "begins with"),
        ({"why": "wrong", "token": "x"}, "not confirmed here"),
    ],
)
def test_without_a_reason_nothing_is_booked_and_it_is_asked_again(
    client, records, lot, changed, said
):
    asked = client.get("/stock/mend/1")
    sent = {**fields(asked.text), **changed}
    answer = client.post("/stock/mend/1", data=sent)
    assert answer.status_code == 400
    assert said in read(answer)
    assert 'aria-invalid="true"' in answer.text
    assert stock_of(records.ledger).sequence == 1
    again = {**fields(answer.text), "why": "twice"}
    assert client.post("/stock/mend/1", data=again).status_code == 200
    assert stock_of(records.ledger).sequence == 2


def test_a_foreign_page_takes_nothing_back(client, records, lot):
    sent = {**fields(client.get("/stock/mend/1").text), "why": "mischief"}
    headers = {"origin": "http://elsewhere.example"}
    answer = client.post("/stock/mend/1", data=sent, headers=headers)
    assert answer.status_code == 403
    assert stock_of(records.ledger).sequence == 1


@pytest.mark.parametrize("number", ["0", "2", "99999999999", "9" * 5000, "x", "²"])
def test_a_number_that_is_not_there_is_said(client, lot, number):
    answer = client.get(f"/stock/mend/{number}")
    assert answer.status_code == 422
    assert "there is no entry" in read(answer)
    assert client.post(f"/stock/mend/{number}", data={}).status_code in (400, 422)


def test_what_was_used_since_is_taken_back_first(client, records, lot):
    deed(client, deed="drawn", lot=lot, quantity="3 bags", **AT)
    no = client.get("/stock/mend/1")
    assert no.status_code == 422
    assert "entry 1 cannot be taken back as it is" in read(no)
    listed = re.search(r'href="(/stock/lot/[^"#]+)#entries"', no.text)[1]
    last = client.get(key(client.get(listed).text.split('id="entries"')[1]))
    assert "Take back number 2: drawn: 3 bags" in read(last)


def test_a_lots_page_has_all_that_was_booked_and_a_key_on_each(client, records, lot):
    deed(client, deed="move", lot=lot, quantity="3 bags", to="freezer 1")
    deed(client, deed="note", about="tasting", lot=lot, why="tart")
    page = client.get(f"/stock/lot/{lot}")
    entries = page.text.split('id="entries"')[1].split("</section>")[0]
    numbers = re.findall(r"/stock/mend/(\d+)\?back=/stock/lot", entries)
    assert numbers == ["3", "2", "1"]  # the last one first: so they are taken back
    asked = client.get(key(entries))
    assert "No number on a shelf changes by that" in read(asked)
    sent = {**fields(asked.text), "why": "of another jar"}
    done = client.post("/stock/mend/3", data=sent)
    assert done.url.path.startswith("/stock/lot/")
    assert "as number 4: mended number 3" in read(done)
    assert "Number 3, 25 November 2026: tasting: redcurrant juice" in read(done)
    assert "tart (taken back since)" in read(done)
    left = done.text.split('id="entries"')[1]
    assert re.findall(r"/stock/mend/(\d+)\?", left) == ["2", "1"]


def test_a_lot_that_never_came_in_leads_back_to_a_page(client, records, lot):
    asked = client.get(f"/stock/mend/1?back=/stock/lot&lot={lot}")
    assert "its coming in is what is taken back" in read(asked)
    sent = {**fields(asked.text), "why": "typed twice"}
    done = client.post("/stock/mend/1", data=sent)
    assert done.status_code == 200
    assert "as number 2: mended number 1: typed twice" in read(done)
    assert "Nothing is on hand yet" in read(client.get("/stock"))


def test_jars_whose_check_is_taken_back_are_said_to_be_on_hold_again(client, records):
    farm = Farm()
    farm.made("8 half-pints plum jelly, pantry")
    farm.later(14)
    farm.check(farm.last, 8)
    entries = [to_entry(event) for event in farm.stock.events]
    records.ledger.append("stock", entries, after=0)
    asked = client.get("/stock/mend/2?back=/stock/after")
    assert "on hold: its seals have not been looked at" in read(asked)
    assert 'href="/stock/after"' in asked.text  # Leave it


def test_a_counted_shelf_has_a_key_on_each_of_its_lines(client, records, lot):
    deed(client, deed="add", sentence="9 bags plums, 1 cup each, freezer 2")
    first, second = stock_of(records.ledger).lots
    form = {"place": "freezer 2", "token": "a" * 32}
    counted = {f"n.{first}": "13 bags", f"n.{second}": "8 bags"}
    done = client.post("/stock/count/book", data={**form, **counted})
    assert re.findall(r"/stock/mend/(\d+)\?back=/stock/count", done.text) == ["3", "4"]
    asked = client.get("/stock/mend/4?back=/stock/count")
    sent = {**fields(asked.text), "why": "one lay below"}
    back = client.post("/stock/mend/4", data=sent)
    assert back.url.path == "/stock/count"
    assert "Mended number 4: one lay below" in read(back)
    stock = stock_of(records.ledger)
    assert isinstance(stock.event(5), Mended)
    assert stock.balance(second) == stock.event(2).number


def headed(answer) -> tuple[str, str]:
    """The title of a page, without the program's name, and its first heading."""
    title = re.search(r"<title>(.*?)</title>", answer.text, re.DOTALL)[1]
    (heading,) = re.findall(r"<h1[^>]*>(.*?)</h1>", answer.text, re.DOTALL)
    return unescape(title).removesuffix(" · Stillroom"), unescape(heading)


def test_a_page_is_called_by_what_it_takes_back(client, lot):
    deed(client, deed="drawn", lot=lot, quantity="3 bags", **AT)
    deed(client, deed="note", about="tasting", lot=lot, why="tart")
    drawn, noted = (headed(client.get(f"/stock/mend/{n}")) for n in (2, 3))
    assert drawn[0].startswith("Take back number 2: drawn: 3 bags")
    assert noted[0].startswith("Take back number 3: tasting: ")
    assert all(title == heading for title, heading in (drawn, noted))
    (title, heading) = headed(client.get("/stock/mend/1"))
    assert title == heading
    assert title.startswith("Number 1 cannot be taken back: received 14 bags")
    assert headed(client.get("/stock/mend/9")) == ("No such entry", "No such entry")


def test_what_is_long_is_said_whole_below_its_heading(client, lot):
    deed(client, deed="note", about="tasting", lot=lot, why="tart and sour " * 20)
    asked = client.get("/stock/mend/2")
    title, heading = headed(asked)
    assert title == heading
    assert len(heading) < 130
    assert heading.endswith("…?")
    assert asked.text.count('id="says"') == 1
    assert read(asked).count("tart and sour") > 20
    short = client.get("/stock/mend/1")
    assert read(short).count("received 14 bags") == 2  # in its title and its heading


def test_what_was_taken_back_meanwhile_is_called_by_its_entry_still(client, lot):
    sent = {**fields(client.get("/stock/mend/1").text), "why": "typed twice"}
    client.post("/stock/mend/1", data=sent)
    again = client.post("/stock/mend/1", data={**sent, "token": "0" * 32})
    assert again.status_code == 422
    assert headed(again)[0].startswith("Number 1 cannot be taken back: received")
