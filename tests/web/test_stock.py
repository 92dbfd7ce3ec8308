"""The stock's pages: two steps to a booking, and no step that books twice."""

import datetime as dt
import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from starlette.testclient import TestClient

from stillroom.records.days import Records, open_records
from stillroom.stock.codec import to_entry
from stillroom.stock.commands import Check, Label, Recall, Receive
from stillroom.stock.events import Hand, Moved, Part, Seen, Way
from stillroom.stock.handle import handle, stock_of
from stillroom.stock.lotcode import printed
from stillroom.stock.tracing import by_day, trace
from stillroom.web.app import build_app
from tests.stock.kitchen import Farm, thing
from tests.web.conftest import ADDRESS
from tests.web.forms import forms, send, words

JUICE = "14 bags redcurrant juice, 4 cups each, freezer 2, June"


class Shop:
    """A shop without a day: the stock needs none."""

    def day_text(self) -> str:
        return ""


class Clock:
    """An invented morning, to be turned."""

    def __init__(self) -> None:
        self.at = dt.datetime(2026, 11, 25, 9, 0, tzinfo=dt.UTC)

    def now(self) -> dt.datetime:
        return self.at


@pytest.fixture
def records(tmp_path: Path) -> Iterator[Records]:
    with open_records(tmp_path / "stillroom.db") as opened:
        yield opened


@pytest.fixture
def client(records: Records) -> TestClient:
    app = build_app(Shop(), port=8765, records=records)  # type: ignore[arg-type]
    app.state.clock = Clock()
    return TestClient(app, base_url=ADDRESS)


def hidden(html: str) -> dict[str, str]:
    """Fields of the form that confirms."""
    form = html.split('action="/stock/book"')[1].split("</form>")[0]
    return dict(re.findall(r'name="(\w+)" value="([^"]*)"', form))


def deed(client: TestClient, **typed: str):
    """Ask and confirm; the answer to the confirmation."""
    asked = client.get("/stock/ask", params=typed)
    assert asked.status_code == 200, asked.text
    return client.post("/stock/book", data=hidden(asked.text))


def test_what_came_in_is_read_confirmed_and_listed(client, records):
    asked = client.get("/stock/ask", params={"deed": "add", "sentence": JUICE})
    assert "14 bags (56 cups)" in asked.text
    assert stock_of(records.ledger).sequence == 0  # nothing is booked by asking
    done = client.post("/stock/book", data=hidden(asked.text))
    assert "Booked</b> as number 1" in done.text
    shelf = client.get("/stock").text
    assert "Freezer 2" in shelf
    assert "No known date falls within the next 60 days." in shelf


def test_a_double_tap_books_once(client, records):
    asked = client.get("/stock/ask", params={"deed": "add", "sentence": JUICE})
    for _ in range(3):
        again = client.post("/stock/book", data=hidden(asked.text))
        assert "as number 1" in again.text
    assert stock_of(records.ledger).sequence == 1


def test_using_and_counting_go_by_lot_and_place(client, records):
    deed(client, deed="add", sentence=JUICE)
    code = next(iter(stock_of(records.ledger).lots))
    deed(client, deed="drawn", lot=code, place="freezer 2", quantity="2 bags")
    deed(client, deed="count", lot=code, place="freezer 2", quantity="11 bags")
    deed(client, deed="move", lot=code, quantity="3 bags", to="freezer 1")
    stock = stock_of(records.ledger)
    words = stock.lots[code].measure.words
    assert {p: words(n) for p, n in stock.places(code).items()} == {
        "freezer 2": "8 bags (32 cups)",
        "freezer 1": "3 bags (12 cups)",
    }
    ids = re.findall(r'id="([^"]+)"', client.get("/stock").text)
    assert len(ids) == len(set(ids))  # the same lot at two places


def moved_earlier(page: str) -> dict[str, str]:
    """What the form for what was moved and is booked only now carries unseen."""
    each = (form.split("</form>")[0] for form in page.split('action="/stock/ask"'))
    form = next(form for form in each if 'name="clock"' in form)
    return dict(re.findall(r'name="(\w+)" value="([^"]*)"', form))


@pytest.mark.parametrize("page", ["/stock", "/stock/lot/{code}"])
def test_what_was_moved_earlier_is_booked_with_its_day_and_hour(client, records, page):
    deed(client, deed="add", sentence=JUICE)
    code = next(iter(stock_of(records.ledger).lots))
    asks = moved_earlier(client.get(page.format(code=printed(code))).text)
    typed = asks | {"to": "freezer 1", "on": "yesterday", "clock": "10:05 pm"}
    asked = client.get("/stock/ask", params=typed)
    assert "carried on 24 November 2026, 22:05" in words(asked.text)
    client.app.state.clock.at += dt.timedelta(hours=16)  # past midnight
    assert client.post("/stock/book", data=hidden(asked.text)).status_code == 200
    moved = stock_of(records.ledger).event(2)
    assert isinstance(moved, Moved)
    assert moved.occurred_at == dt.datetime(2026, 11, 24, 22, 5, tzinfo=dt.UTC)
    assert (moved.to, moved.late) == ("freezer 1", True)


def test_what_is_moved_without_a_day_is_moved_now(client, records):
    deed(client, deed="add", sentence=JUICE)
    code = next(iter(stock_of(records.ledger).lots))
    typed = {"deed": "move", "lot": code, "to": "freezer 1", "on": "", "clock": ""}
    assert 'id="then"' not in client.get("/stock/ask", params=typed).text
    deed(client, **typed)
    moved = stock_of(records.ledger).event(2)
    assert (moved.occurred_at, moved.late) == (client.app.state.clock.at, False)


@pytest.mark.parametrize(
    ("typed", "field", "said"),
    [
        ({"on": "yesterday"}, "clock", "say the hour too, such as 22:05"),
        ({"on": "tomorrow", "clock": "9:00"}, "on", "is no day; write 12 September"),
        ({"on": "June", "clock": "9:00"}, "on", "is no day; write 12 September"),
        ({"on": "1 May 2027", "clock": "9:00"}, "on", "lies in the future"),
        ({"clock": "noonish"}, "clock", "is no clock time"),
        ({"clock": "23:00"}, "clock", "lies in the future; it is 09:00 now"),
        ({"to": ""}, "to", "It was not said where to"),
    ],
)
def test_a_day_or_an_hour_that_cannot_be_is_said_beside_its_field(
    client, records, typed, field, said
):
    deed(client, deed="add", sentence=JUICE)
    code = next(iter(stock_of(records.ledger).lots))
    asks = {"deed": "move", "lot": code, "place": "freezer 2", "quantity": "3 bags"}
    typed = asks | {"to": "freezer 1"} | typed
    no = client.get("/stock/ask", params=typed)
    assert no.status_code == 400
    beside = re.search(rf'<p class="fault" id="fault-{field}">(.*?)</p>', no.text)[1]
    assert said in beside
    assert "--" not in words(no.text)
    assert no.text.count('class="fault"') == no.text.count('aria-invalid="true"') == 1
    (again,) = forms(no.text, "/stock/ask")
    assert {k: v for k, v in again if v} == {k: v for k, v in typed.items() if v}
    booked = client.post("/stock/book", data=typed | {"token": "0" * 32})
    assert said in booked.text
    assert stock_of(records.ledger).sequence == 1


def test_what_was_counted_since_is_not_moved_before(client, records):
    deed(client, deed="add", sentence=JUICE)
    code = next(iter(stock_of(records.ledger).lots))
    deed(client, deed="count", lot=code, place="freezer 2", quantity="11 bags")
    typed = {"deed": "move", "lot": code, "to": "freezer 1", "clock": "8:30"}
    no = client.get("/stock/ask", params=typed)
    assert no.status_code == 422
    assert "after this happened (2026-11-25 08:30)" in words(no.text)
    (again,) = forms(no.text, "/stock/ask")
    assert dict(again)["clock"] == "8:30"


@pytest.mark.parametrize(
    ("typed", "status", "said"),
    [
        ({"deed": "add", "sentence": "some juice"}, 400, "how much there is"),
        ({"deed": "add", "sentence": "<b>3</b>"}, 400, "&lt;b&gt;"),
        ({"deed": "drawn", "lot": "juice", "quantity": "1"}, 422, "no lot"),
        ({"deed": "burn", "lot": "juice", "quantity": "1"}, 400, "nothing that the"),
        ({}, 400, "nothing that the"),
        ({"deed": "move", "lot": "juice", "quantity": "1"}, 400, "where to"),
        ({"deed": "add", "sentence": "x" * 20_000}, 400, "letters"),
    ],
)
def test_nonsense_is_answered_in_words(client, records, typed, status, said):
    answer = client.get("/stock/ask", params=typed)
    assert answer.status_code == status
    assert said in answer.text
    assert client.post("/stock/book", data=typed).status_code == 400
    assert stock_of(records.ledger).sequence == 0


def test_a_held_lot_is_not_sold_and_a_check_frees_it(client, records):
    farm = Farm()
    farm.made("8 half-pints plum jelly, pantry")
    records.ledger.append("stock", [entry(farm.stock.event(1))], after=0)
    code = farm.last
    assert "on hold" in client.get("/stock").text
    answer = client.get(
        "/stock/ask", params={"deed": "sold", "lot": code, "quantity": "1"}
    )
    assert answer.status_code == 422
    assert "its seals have not been looked at" in answer.text
    client.app.state.clock.at += dt.timedelta(hours=24)
    deed(client, deed="check", lot=code, seals="7 good 1 failed", seen="set")
    assert (
        deed(client, deed="sold", lot=code, quantity="2", to="Bram").status_code == 200
    )
    page = client.get(f"/stock/lot/{code}").text
    assert "Jars that have not sealed" in page
    assert "sold to Bram" in page


def test_an_unknown_lot_is_said(client):
    assert client.get("/stock/lot/L26M25-1X").status_code in (400, 422)
    assert client.get("/stock?booked=99999999999").status_code == 200


def entry(event):
    from stillroom.stock.codec import to_entry

    return to_entry(event)


def test_a_count_that_is_confirmed_later_loses_nothing_used_since(client, records):
    deed(client, deed="add", sentence=JUICE)
    code = next(iter(stock_of(records.ledger).lots))
    at = {"lot": code, "place": "freezer 2"}
    counted = client.get(
        "/stock/ask", params={"deed": "count", "quantity": "13 bags", **at}
    )
    client.app.state.clock.at += dt.timedelta(minutes=1)
    deed(client, deed="drawn", quantity="2 bags", **at)
    client.app.state.clock.at += dt.timedelta(minutes=1)
    client.post("/stock/book", data=hidden(counted.text))
    stock = stock_of(records.ledger)
    assert stock.lots[code].measure.words(stock.balance(code)).startswith("11 bags")


def test_two_at_once_lose_nothing(records):
    from concurrent.futures import ThreadPoolExecutor

    from stillroom.records.ledger import MovedOn
    from stillroom.stock.commands import Receive, Take
    from tests.stock.kitchen import MORNING, thing

    handle(
        Receive(things=(thing("60 lids, drawer"),), at=MORNING), ledger=records.ledger
    )

    def take(number: int) -> int:
        asked = Take(lot="lids", quantity="1", at=MORNING, token=f"{number:032x}")
        while True:
            try:
                return len(handle(asked, ledger=records.ledger)[1])
            except MovedOn:
                continue

    with ThreadPoolExecutor(4) as hands:
        assert sum(hands.map(take, range(20))) == 20
    stock = stock_of(records.ledger)
    assert stock.balance(next(iter(stock.lots))) == 40


def test_a_jar_leaves_on_the_day_of_the_kitchen_and_not_of_greenwich(client, records):
    from stillroom.stock.commands import Receive, Take
    from stillroom.stock.events import Way
    from tests.stock.kitchen import thing

    zone = dt.timezone(-dt.timedelta(hours=6))
    client.app.state.clock.at = dt.datetime(2026, 11, 25, 9, 0, tzinfo=zone)
    late = dt.datetime(2026, 11, 24, 20, 30, tzinfo=zone)
    sack = thing("5 lb sugar, pantry, from the mill")
    stock, _ = handle(Receive(things=(sack,), at=late), ledger=records.ledger)
    (code,) = stock.lots
    handle(
        Take(lot=code, quantity="1 lb", way=Way.EATEN, at=late), ledger=records.ledger
    )
    page = client.get(f"/stock/lot/{code}").text
    assert '<dt>24 November 2026</dt><dd><ul class="plain"><li>1 lb' in page


def test_a_note_that_is_too_long_is_refused_and_stands_there_whole(client, records):
    deed(client, deed="add", sentence=JUICE)
    words = f"{'tart ' * 96}do NOT sell these, the seal was bad"
    typed = {"deed": "note", "lot": "redcurrant juice", "about": "tasting"}
    no = client.post(
        "/stock/book", data={**typed, "why": words, "token": "0123456789abcdef" * 2}
    )
    assert no.status_code == 400
    assert "has more than 500 letters: shorten it" in no.text
    assert "the seal was bad" in no.text
    assert stock_of(records.ledger).sequence == 1


def test_a_note_that_cannot_be_kept_is_called_a_note(client, records):
    deed(client, deed="add", sentence=JUICE)
    (lot,) = stock_of(records.ledger).lots
    for typed, heading in (
        ({"deed": "note", "about": "tasting"}, "<li>Note: "),
        ({"deed": "hold", "doubt": "wrong-time"}, "<li>Note: "),
        ({"deed": "spoiled", "quantity": "1 bag"}, 'id="fault-why">'),
    ):
        said = client.get("/stock/ask", params={"lot": lot, "why": "=tart", **typed})
        assert said.status_code == 400
        assert heading in said.text, typed


def test_what_was_called_back_is_shown_and_not_counted_as_to_be_looked_at(
    client, records
):
    farm = Farm()
    farm.made("8 half-pints plum jelly, pantry", load=3, out_at="08:00")
    farm.later(25)
    farm.do(Check(lot=farm.last, good=8, seen=Seen.SET, at=farm.at))
    farm.do(Label(lot=farm.last, hand=Hand.PRINTED, at=farm.at))
    farm.do(Recall(lot=farm.last, why="soft lids", at=farm.at))
    entries = [to_entry(event) for event in farm.stock.events]
    records.ledger.append("stock", entries, after=0)
    client.app.state.clock.at = farm.at
    page = client.get("/stock/after").text
    assert "looking at" not in page
    assert "Nothing is open: every lot that was not called back has its" in page
    assert "1 load is called back, and some of it is still here" in page
    assert "Recall sheet" in page


def test_what_nobody_may_eat_is_not_named_to_be_used_first(client, records):
    """A jelly near its date was, recalled as it was; old garlic in oil had no word."""
    farm = Farm()
    farm.add("8 half-pints plum jelly, pantry, 1 January 2026, from Ida")
    jelly = farm.last
    assert farm.do(Recall(lot=jelly, why="a soft lid", at=farm.at)) is None
    farm.made("2 half-pints garlic in oil, fridge", canned=False, food="", due_min=None)
    entries = [to_entry(event) for event in farm.stock.events]
    records.ledger.append("stock", entries, after=0)
    farm.later(24 * 5)
    client.app.state.clock.at = farm.at
    text = client.get("/stock").text
    assert "Use first:" not in text
    garlic = text.split("garlic in oil", 1)[1].split("</details>")[0]
    assert "None of it is eaten from here." in garlic
    assert "discard it untasted" in garlic.lower()


def test_where_a_lot_went_is_told_day_by_day_with_what_was_made_of_it():
    farm = Farm()
    berries = farm.add("10 lb plums, pantry, from the orchard")
    farm.made("8 half-pints plum jelly, pantry", (berries, "4 lb"))
    jelly = farm.last
    for lot, quantity in ((berries, "1 lb"), (jelly, "1"), (berries, "2 lb")):
        farm.later(24)
        farm.take(lot, quantity, Way.EATEN)
    farm.take(jelly, "2", Way.SPOILED)
    days = by_day(trace(farm.stock, berries).outs, farm.at.tzinfo)
    assert [len(outs) for _, outs in days] == [1, 1, 2]
    assert [day for day, _ in days] == sorted(day for day, _ in days)
    assert [out.part.lot for _, outs in days for out in outs] == [
        berries,
        jelly,
        berries,
        jelly,
    ]


def test_a_jar_on_hold_whose_seal_failed_says_both_in_two_words(client, records):
    farm = Farm()
    farm.made("6 pints pickled beets, pantry", food="pickle", process_min=5, load=1)
    farm.later(13)
    farm.check(farm.last, 5, 1, seen=None)
    entries = [to_entry(event) for event in farm.stock.events]
    records.ledger.append("stock", entries, after=0)
    client.app.state.clock.at = farm.at
    page = words(client.get("/stock").text)
    assert "1 pint pickled beets on hold, seal failed or doubtful" in page


def test_nobody_and_a_crowd_are_refused_where_a_shelf_is_reckoned(client) -> None:
    for persons in ("0", "61"):
        answer = client.get("/stock/cover", params={"persons": persons})
        assert answer.status_code == 400
        assert "give 1 to 60" in answer.text
    assert client.get("/stock/cover", params={"persons": "60"}).status_code == 200


def test_jars_in_doubt_are_on_no_page_to_be_eaten_and_have_their_choices(
    client, records
):
    farm = Farm()
    batch = {"food": "", "process_min": 40, "canner": "boiling-water"}
    early = {"filled_at": "06:00", "out_at": "07:00"}
    farm.made("7 quarts green beans, pantry", due_min=None, **batch, **early)
    (beans,) = farm.stock.lots
    farm.made("7 quarts figs, pantry", due_min=55, out_at="08:15", **batch)
    entries = [to_entry(event) for event in farm.stock.events]
    records.ledger.append("stock", entries, after=0)
    client.app.state.clock.at = farm.at
    after = client.get("/stock/after").text
    assert "No such process is published: counts as never" in after
    assert "<b>Discard</b> it untasted" in after  # the deed is said once
    assert "Processed too short: counts as never" in after
    assert "1 h 15 min left" in after
    first = client.get("/stock/first").text
    assert "green beans" not in first
    assert "figs" not in first
    lot = client.get(f"/stock/lot/{beans}").text
    assert "No such process is published: counts as never: discard" in lot
    client.app.state.clock.at = farm.at + dt.timedelta(days=340)
    page = client.get("/stock").text
    assert "No known date falls within" in page
    assert "check missed" not in page
    entry = page.split(f'id="{printed(beans)}-pantry"')[1].split("</details>")[0]
    # what is to be done stands there, and no key that is refused stands first
    assert "None of it is eaten from here. Discard it untasted" in words(entry)
    assert "best quality" not in entry.lower()
    assert re.findall(r'<button[^>]*value="(\w+)"', entry)[0] == "move"
    assert not {"eaten", "sold", "given", "tasted"} & {
        *re.findall(r'<button[^>]*value="(\w+)"', entry)
    }
    typed = {"deed": "eaten", "lot": beans, "quantity": "1"}
    assert "counts as none" in client.get("/stock/ask", params=typed).text


@pytest.mark.parametrize(
    ("typed", "mended"),
    [
        ({"deed": "sold", "quantity": "<b>-3</b>", "to": "Ida & son"}, "2 bags"),
        ({"deed": "drawn", "quantity": ""}, "2 bags"),
        ({"deed": "count", "quantity": "9" * 30}, "3 bags"),
        (
            {"deed": "spoiled", "quantity": "99 bags", "why": "it has thawed"},
            "1 bag",
        ),
    ],
)
def test_a_deed_that_is_refused_stands_there_to_be_mended(
    client, records, typed: dict[str, str], mended: str
) -> None:
    deed(client, deed="add", sentence=JUICE)
    lot = next(iter(stock_of(records.ledger).lots))
    asked = {"lot": lot, "place": "freezer 2", **typed}
    no = client.get("/stock/ask", params=asked)
    assert no.status_code in (400, 422)
    again = dict(forms(no.text, "/stock/ask")[0])
    assert {name: again[name] for name in asked} == asked
    assert no.text.count("<label for=") >= 1
    yes = client.get("/stock/ask", params=again | {"quantity": mended})
    assert yes.status_code == 200, yes.text
    assert "Book it so?" in yes.text


def test_a_place_that_may_be_cold_is_answered_for_on_the_page_of_the_lot(
    client, records
):
    farm = Farm()
    said = {"canned": False, "process_min": None, "due_min": None, "food": "pickle"}
    farm.made("8 pints pickled beets, refrigerator", **said)
    part = Part(lot=farm.last, place="refrigerator", number=2)
    farm.stock.apply(Moved(parts=(part,), to="icebox", occurred_at=farm.at))
    entries = [to_entry(event) for event in farm.stock.events]
    records.ledger.append("stock", entries, after=0)
    client.app.state.clock.at = farm.at
    code = printed(farm.last)
    to_the_form = f'<a href="/stock/lot/{code}#cold">How cold was it'
    assert to_the_form in client.get("/stock/after").text
    form = client.get(f"/stock/lot/{code}").text.split('id="cold"')[1]
    form = form.split("</form>")[0]
    assert "40 °F (4 °C) or below" in form
    typed = dict(re.findall(r'name="(\w+)" value="([^"]*)"', form))
    typed |= {"place": "icebox", "cold": "refrigerator"}
    assert client.post("/stock/book", data=typed).status_code in (400, 422)
    done = client.post("/stock/book", data={**typed, "who": "Bram"})
    assert "icebox was as cold as a refrigerator, Bram says" in done.text
    assert 'id="cold"' not in done.text
    assert "On hold" not in done.text


def test_what_was_not_said_of_jars_is_added_on_their_page(client, records):
    farm = Farm()
    batch = {"food": "", "process_min": 25, "canner": "pressure canner"}
    farm.made("7 quarts green beans, pantry", due_min=None, **batch)
    entries = [to_entry(event) for event in farm.stock.events]
    records.ledger.append("stock", entries, after=0)
    client.app.state.clock.at = farm.at
    code = printed(farm.last)
    to_the_form = f'<a href="/stock/lot/{code}#complete">Add what was not said'
    for page in ("/stock", "/stock/after", f"/stock/lot/{code}"):
        assert to_the_form in client.get(page).text, page
    form = client.get(f"/stock/lot/{code}").text.split('id="complete"')[1]
    form = form.split("</form>")[0]
    assert 'name="elevation"' in form
    assert "<option>dial-gauge</option>" in form
    assert "<option>boiling-water</option>" not in form  # it was under pressure
    typed = dict(re.findall(r'name="(\w+)" value="([^"]*)"', form))
    some = client.post("/stock/book", data={**typed, "elevation": "310 m"})
    assert some.status_code == 422
    assert "still not known" in some.text
    assert 'value="310 m"' in some.text
    unread = client.post("/stock/book", data={**typed, "elevation": "high"})
    assert unread.status_code == 400
    assert "Height above the sea: " in unread.text
    whole = {"elevation": "310 m", "canner": "dial-gauge", "pack": "raw"}
    done = client.post("/stock/book", data={**typed, **whole})
    assert "25 min at 11 psi are due" in done.text
    assert 'id="complete"' not in done.text
    assert "its seals have not been looked at" in done.text
    assert "<dt>Pack</dt><dd>raw</dd>" in done.text


def test_own_jars_taken_in_say_where_they_are_booked_with_their_process(client):
    said = {"deed": "add", "sentence": "31 half-pints plum jelly, pantry, October 2025"}
    page = client.get("/stock/ask", params=said).text
    assert "these jars are on hold" in page
    assert '<a href="/stock/own">the page Jars of your own</a>' in page


def test_each_count_that_cannot_be_read_is_named_and_told_at_its_field(client, records):
    for what in ("9 lb sugar", "4 boxes regular powdered pectin", "60 lids"):
        came = Receive(things=(thing(f"{what}, pantry"),), at=client.app.state.clock.at)
        handle(came, ledger=records.ledger)
    page = client.get("/stock/count?place=pantry").text
    (fields,) = (f for f in forms(page, "/stock/count/book"))
    lots = [name for name, _ in fields if name.startswith("n.")]
    assert len(lots) == 3
    typed = dict(zip(lots, ("some", "-2", "60"), strict=True))
    no = send(client, "/stock/count/book", [(k, typed.get(k, v)) for k, v in fields])
    assert no.status_code == 400
    told = re.findall(r'<li><a href="#n-([^"]+)">([^<]+)</a></li>', no.text)
    assert [f"n.{code}" for code, _ in told] == lots[:2]
    whats = {lot.what.capitalize() for lot in stock_of(records.ledger).lots.values()}
    for code, said in told:
        assert any(said.startswith(f"{what} {code}: ") for what in whats)
        field = re.search(rf'<input id="n-{code}"[^>]*>', no.text)
        assert field
        assert 'aria-invalid="true"' in field[0]
        assert f'id="fault-{code}"' in no.text
    assert no.text.count("aria-invalid") == 2


def test_a_no_leads_back_to_where_it_was_asked(client, records):
    """Asked on the page of the day after, it led to the stock."""
    came = Receive(things=(thing("60 lids, pantry"),), at=client.app.state.clock.at)
    handle(came, ledger=records.ledger)
    (code,) = stock_of(records.ledger).lots
    for back, words_of_it, leads in (
        ("/stock/after", "Back to the day after", "/stock/after"),
        ("/stock/lot", "Back to the lot", f"/stock/lot/{code}"),
        ("/stock", "Back to the stock", "/stock#"),
    ):
        asked = {"deed": "count", "lot": code, "quantity": "some", "back": back}
        page = client.get("/stock/ask", params=asked).text
        link = re.search(rf'href="([^"]+)">{words_of_it}<', page)
        assert link
        assert link[1].startswith(leads)
