"""One answer for a load the day after: every lid is sealed, or nothing is booked."""

import datetime as dt

import pytest
from starlette.testclient import TestClient

from stillroom.records.days import Records, open_records
from stillroom.stock.codec import to_entry
from stillroom.stock.handle import stock_of
from stillroom.stock.making import holds
from stillroom.web.app import build_app
from tests.stock.kitchen import Farm
from tests.web.conftest import ADDRESS
from tests.web.forms import forms, send, words
from tests.web.test_stock import Clock, Shop

SEALED = "/stock/after/sealed"


@pytest.fixture
def farm() -> Farm:
    """Two lots of one load that came out at eight, and one of another."""
    farm = Farm()
    farm.made("8 half-pints plum jelly, pantry", load=3, out_at="08:00")
    farm.made("6 pints plum jam, pantry", load=3, out_at="08:05", food="jam")
    farm.made("7 half-pints fig jam, pantry", load=4, out_at="09:00", food="jam")
    return farm


@pytest.fixture
def open_page(tmp_path, farm):
    opened: list[Records] = []

    def page(hours: float) -> tuple[TestClient, Records]:
        records = open_records(tmp_path / "stillroom.db")
        opened.append(records)
        entries = [to_entry(event) for event in farm.stock.events]
        records.ledger.append("stock", entries, after=0)
        app = build_app(Shop(), port=8765, records=records)
        app.state.clock = Clock()
        app.state.clock.at = farm.at + dt.timedelta(hours=hours)
        return TestClient(app, base_url=ADDRESS), records

    yield page
    for records in opened:
        records.close()


def test_every_lid_of_a_load_is_booked_as_sealed_by_one_answer(open_page, farm):
    client, records = open_page(20)
    page = client.get("/stock/after").text
    assert "Every lid sealed: all 14 jars of load 3" in words(page)
    (form,) = forms(page, SEALED)
    said = client.post(SEALED, data=dict(form))
    assert words(said.text).count("seals 8 good, 0 failed") == 1
    stock = stock_of(records.ledger)
    jelly, jam, figs = stock.lots
    assert [c.good for code in (jelly, jam) for c in stock.checks(code)] == [8, 6]
    assert [c.seen for c in stock.checks(jelly)] == [None]  # its set is asked for still
    assert not stock.checks(figs)
    assert not forms(client.get("/stock/after").text, SEALED)
    client.post(SEALED, data=dict(form))  # tapped twice
    assert stock_of(records.ledger).sequence == stock.sequence


@pytest.mark.parametrize(("hours", "key"), [(20, "All 8 sealed"), (24, "and set")])
def test_a_key_says_the_set_only_once_it_is_looked_at(open_page, hours, key):
    client, _ = open_page(hours)
    page = words(client.get("/stock/after").text)
    assert key in page
    assert ("and set" in page) is (key == "and set")


def test_what_has_set_is_said_by_one_key_once_its_seals_are_in(open_page, farm):
    client, records = open_page(24)
    (form,) = forms(client.get("/stock/after").text, SEALED)
    after = client.post(SEALED, data=dict(form)).text
    assert words(after).count("It has set : ") == 2
    keys = [dict(f) for f in forms(after, "/stock/book") if ("seen", "set") in f]
    for key in (key for key in keys if not key["seals"]):
        assert "Booked" in client.post("/stock/book", data=key).text
    stock = stock_of(records.ledger)
    jelly, jam, _ = stock.lots
    assert [stock.checks(code)[-1].seen for code in (jelly, jam)] == ["set", "set"]
    assert holds(stock, jelly) == ()


def test_a_jar_that_has_gone_since_leaves_the_whole_load_unanswered(open_page, farm):
    client, records = open_page(20)
    (form,) = forms(client.get("/stock/after").text, SEALED)
    jam = list(farm.stock.lots)[1]
    taken = {"deed": "broken", "lot": jam, "quantity": "1", "back": "/stock/after"}
    client.post("/stock/book", data={**taken, "token": "a" * 32})
    before = stock_of(records.ledger).sequence
    said = client.post(SEALED, data=dict(form))
    assert said.status_code == 422
    assert "6 jars were looked at, and the record has 5" in words(said.text)
    assert stock_of(records.ledger).sequence == before


def test_an_answer_names_each_lot_once_and_one_load(open_page, farm):
    client, records = open_page(20)
    (form,) = forms(client.get("/stock/after").text, SEALED)
    jelly, _, figs = farm.stock.lots
    before = stock_of(records.ledger).sequence
    for lots, why in (
        ([(jelly, "8"), (jelly, "8")], "is there twice"),
        ([(jelly, "8"), (figs, "7")], "lots of 2 canner loads"),
    ):
        typed = [("token", dict(form)["token"]), *((f"n.{lot}", n) for lot, n in lots)]
        said = send(client, SEALED, typed)
        assert said.status_code == 422
        assert why in words(said.text)
        assert stock_of(records.ledger).sequence == before


@pytest.mark.parametrize("said", ["all good", "All are sealed."])
def test_all_good_is_understood_where_seals_are_typed(open_page, farm, said):
    client, records = open_page(20)
    jelly = next(iter(farm.stock.lots))
    typed = {"deed": "check", "lot": jelly, "seals": said, "seen": "set"}
    asked = client.get("/stock/ask", params=typed)
    assert "seals 8 good, 0 failed" in words(asked.text)
    client.post("/stock/book", data={**typed, "token": "d" * 32})
    assert [c.good for c in stock_of(records.ledger).checks(jelly)] == [8]


def test_what_is_only_to_be_discarded_is_booked_so_after_it_was_shown(open_page, farm):
    farm.made("7 pints green beans, pantry", food="", process_min=40, due_min=None)
    farm.later(13)
    farm.check(farm.last, 6, 1, seen=None)
    client, records = open_page(1)
    page = client.get("/stock/after").text
    assert words(page).count("are discarded") == 1  # no jar of the other lots
    assert "All 7 are discarded" in words(page)
    (form,) = (f for f in forms(page, "/stock/ask") if ("deed", "spoiled") in f)
    before = stock_of(records.ledger).sequence
    asked = client.get("/stock/ask", params=dict(form))
    assert stock_of(records.ledger).sequence == before
    assert "Spoiled: 6 pints of green beans" in words(asked.text)
    assert "1 pint of green beans" in words(asked.text)  # the one that was set aside
    assert 'href="/stock/after?left=' in asked.text  # Leave it
    (sure,) = forms(asked.text, "/stock/book")
    client.post("/stock/book", data=dict(sure))
    assert stock_of(records.ledger).balance(farm.last) == 0


@pytest.mark.parametrize("hours", [-0.5, 3])
def test_before_its_hours_nobody_is_offered_one_answer(open_page, hours):
    client, _ = open_page(hours)
    assert not forms(client.get("/stock/after").text, SEALED)


def test_a_lot_with_jars_set_aside_is_answered_by_itself(open_page, farm):
    jelly = next(iter(farm.stock.lots))
    farm.later(13)
    farm.check(jelly, 7, 1, seen=None)
    client, records = open_page(1)
    assert not forms(client.get("/stock/after").text, SEALED)
    asked = {f"n.{jelly}": "7", "token": "b" * 32}
    said = client.post(SEALED, data=asked)
    assert said.status_code == 422
    assert "is set aside" in words(said.text)
    assert len(stock_of(records.ledger).checks(jelly)) == 1


@pytest.mark.parametrize(
    ("sent", "said"),
    [
        ({"token": "x"}, "was not confirmed here"),
        ({"token": "c" * 32, "n.L26M25-1M": "many"}, "is no number of jars"),
        ({"token": "c" * 32}, "no lot was named"),
        ({"token": "c" * 32, "n.L26Z": "1"}, "L26Z"),
        ({"token": "c" * 32} | {f"n.{n}": "1" for n in range(41)}, "at most 40"),
    ],
)
def test_what_no_page_sends_books_nothing(open_page, sent, said):
    client, records = open_page(20)
    before = stock_of(records.ledger).sequence
    answer = client.post(SEALED, data=sent)
    assert answer.status_code in (400, 422)
    assert said in words(answer.text)
    assert stock_of(records.ledger).sequence == before
