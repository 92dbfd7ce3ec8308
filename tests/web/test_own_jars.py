"""Jars of her own that stood there before: booked on a page with their process."""

import datetime as dt

import pytest
from starlette.testclient import TestClient

from stillroom.planning.day_file.dayfile import new_day_text
from stillroom.records.days import open_records
from stillroom.stock.commands import Receive
from stillroom.stock.handle import handle, stock_of
from stillroom.stock.making import holds
from stillroom.web.app import build_app
from stillroom.web.shop import Shop
from tests.stock.kitchen import thing
from tests.web.conftest import ADDRESS, MemoryStore
from tests.web.forms import forms, send, words

NOW = dt.datetime(2026, 11, 28, 9, 0, tzinfo=dt.UTC)
JARS = {
    "asked": "yes",
    "sentence": "31 half-pints plum jelly, pantry shelf 2",
    "on": "5 October 2025",
    "process": "10",
    "canner": "boiling-water",
    "elevation": "310 m",
}


class Clock:
    def now(self) -> dt.datetime:
        return NOW


@pytest.fixture
def records(tmp_path):
    with open_records(tmp_path / "farm.db") as kept:
        yield kept


@pytest.fixture
def client(records):
    app = build_app(Shop(MemoryStore(new_day_text()), seconds=0.1), records=records)
    app.state.clock = Clock()
    with TestClient(app, base_url=ADDRESS) as client:
        yield client


def booked(client: TestClient, **fields: str):
    page = client.get("/stock/own", params=JARS | fields)
    assert page.status_code == 200, words(page.text)
    (form,) = forms(page.text, "/stock/own/book")
    return send(client, "/stock/own/book", form)


def test_jars_with_their_whole_process_wait_for_their_seals_alone(client, records):
    asked = client.get("/stock/own", params=JARS)
    assert "10 min (USDA Complete Guide" in words(asked.text)
    assert "On 5 October 2025" in words(asked.text)
    assert stock_of(records.ledger).sequence == 0  # nothing is booked by asking
    answer = booked(client)
    assert "Booked" in answer.text
    stock = stock_of(records.ledger)
    (code,) = stock.lots
    assert stock.lots[code].day == "2025-10-05"
    assert holds(stock, code) == (
        "its seals have not been looked at",
        "its set has not been looked at: look from 0:00 on Tue 7 October",
    )


@pytest.mark.parametrize(
    ("fields", "said", "why"),
    [
        ({"process": ""}, "sealed is not processed", "it had no process"),
        ({"process": "0"}, "sealed is not processed", "it had no process"),
        ({"process": "5"}, "less than the published process", "5 min, and 10 min"),
        ({"elevation": "7000 ft"}, "less than the published", "10 min, and 15 min"),
        (
            {"sentence": "4 pint jars zucchini, pantry"},
            "no published process is known",
            "no such process is published for it",
        ),
    ],
)
def test_jars_with_less_are_said_to_be_on_hold_and_are(
    client, records, fields, said, why
):
    asked = client.get("/stock/own", params=JARS | fields)
    assert said in words(asked.text)
    booked(client, **fields)
    stock = stock_of(records.ledger)
    (code,) = stock.lots
    assert any(why in one for one in holds(stock, code))


def test_a_double_tap_books_once(client, records):
    page = client.get("/stock/own", params=JARS)
    (form,) = forms(page.text, "/stock/own/book")
    for _ in range(3):
        send(client, "/stock/own/book", form)
    assert len(stock_of(records.ledger).lots) == 1


@pytest.mark.parametrize(
    ("fields", "said"),
    [
        ({"sentence": ""}, "nothing is written there"),
        ({"sentence": "31 half-pints plum jelly"}, "where it is"),
        ({"sentence": "9 pint jars peaches, loft, 4 May 2025"}, "say one of them"),
        ({"sentence": "9 pint jars peaches, loft, from Ida"}, "is from nobody"),
        ({"on": "October 2025"}, "is no day"),
        ({"on": "5 October 2030"}, "in the future"),
        ({"on": ""}, "say the day"),
        ({"process": "ten"}, "no whole number"),
        ({"process": "-3"}, "no whole number"),
        ({"canner": "oven"}, "is not offered here"),
        ({"elevation": "310"}, "needs its unit"),
        ({"elevation": ""}, "says which process was due"),
    ],
)
def test_what_cannot_be_read_stays_in_its_field(client, records, fields, said):
    answer = client.get("/stock/own", params=JARS | fields)
    assert answer.status_code == 400
    assert said.lower() in words(answer.text).lower()
    assert 'action="/stock/own/book"' not in answer.text
    sent = {n: v for n, v in (JARS | fields).items() if n != "asked"}
    again = send(client, "/stock/own/book", [*sent.items(), ("token", "0" * 32)])
    assert again.status_code == 400
    assert stock_of(records.ledger).sequence == 0


@pytest.mark.parametrize("asks", ["get", "post"])
def test_a_sentence_that_is_too_long_is_refused_and_loses_no_end(client, records, asks):
    long = f"31 half-pints plum jelly, pantry{', tart' * 70}"
    if asks == "get":
        no = client.get("/stock/own", params=JARS | {"sentence": long})
    else:
        (form,) = forms(client.get("/stock/own", params=JARS).text, "/stock/own/book")
        given = dict(form) | {"sentence": long}
        no = client.post("/stock/own/book", data=given)
    assert no.status_code == 400
    assert "400" in words(no.text)
    assert long in no.text
    assert stock_of(records.ledger).sequence == 0


def test_the_height_of_her_kitchen_stands_in_the_field(client):
    page = client.get("/stock/own").text
    assert 'name="elevation" value="2150 ft"' in page
    assert 'id="fault' not in page


# USDA Complete Guide, Guide 4: beets, hot, dial gauge: 12 psi from 2,001 to 4,000 ft.
BEETS = {
    "sentence": "7 pints beets, pantry",
    "process": "30",
    "canner": "dial-gauge",
    "elevation": "2150 ft",
}


@pytest.mark.parametrize(
    ("gauge", "said", "held"),
    [
        ("12 psi", "30 min at 12 psi", False),
        ("11 psi", "their gauge read less than the published pressure", True),
    ],
)
def test_what_the_gauge_read_is_kept_and_held_against_the_book(
    client, records, gauge, said, held
):
    asked = client.get("/stock/own", params=JARS | BEETS | {"gauge": gauge})
    assert said in words(asked.text)
    assert "30 min at 12 psi (" in words(asked.text)  # the process that is due
    booked(client, **BEETS, gauge=gauge)
    stock = stock_of(records.ledger)
    (code,) = stock.lots
    why = " ".join(holds(stock, code))
    assert ("12 psi is published for it at 2,150 ft" in why) is held


def test_a_gauge_that_nobody_read_is_said_before_it_is_booked(client):
    asked = client.get("/stock/own", params=JARS | BEETS)
    assert "Gauge not said: it is judged by its minutes alone" in words(asked.text)
    assert "Gauge not said" not in words(client.get("/stock/own", params=JARS).text)


def test_the_pack_may_be_said_where_the_book_has_two(client, records):
    beans = BEETS | {"sentence": "7 pints green beans, pantry", "process": "20"}
    asked = client.get("/stock/own", params=JARS | beans)
    assert "no published process is known for them" in words(asked.text)
    packed = beans | {"pack": "raw", "gauge": "12 psi"}
    asked = client.get("/stock/own", params=JARS | packed)
    assert "20 min at 12 psi (" in words(asked.text)
    booked(client, **packed)
    stock = stock_of(records.ledger)
    assert holds(stock, *stock.lots) == ("its seals have not been looked at",)


def test_a_reading_that_is_none_or_in_boiling_water_is_shown_at_its_field(client):
    for fields, said in (
        ({"gauge": "75 kPa"}, "no gauge reading"),
        ({"gauge": "11 psi", "canner": "boiling-water"}, "boiling water has none"),
    ):
        asked = client.get("/stock/own", params=JARS | BEETS | fields)
        assert asked.status_code == 400
        assert said in words(asked.text)


def test_canners_are_called_as_everywhere_else(client):
    page = client.get("/stock/own").text
    assert '<option value="boiling-water">boiling water</option>' in page
    assert '<option value="dial-gauge">dial gauge</option>' in page


TOMATOES = {
    "sentence": "7 quarts tomatoes, pantry",
    "on": "27 November 2026",
    "process": "45",
    "pack": "hot",
}


def test_the_clock_times_of_jars_are_kept_and_said(client, records):
    """At the command line alone could it be said when jars were filled and out."""
    clocks = {"filled": "21:40", "began": "10:05 pm", "out": "0:20"}
    page = client.get("/stock/own", params=JARS | {"on": "27 November 2026"} | clocks)
    said = words(page.text)
    assert "Filled and closed 21:40" in said
    assert "Process from 22:05" in said
    assert "Out of the canner 0:20 of the next day" in said
    booked(client, on="27 November 2026", **clocks)
    (made,) = stock_of(records.ledger).events
    batch = made.batch
    assert (batch.filled_at, batch.process_began, batch.out_at) == (
        "21:40",
        "22:05",
        "00:20",
    )


def test_jars_out_in_the_small_hours_are_of_the_night_after(client, records):
    booked(client, on="27 November 2026", out="0:20")
    (made,) = stock_of(records.ledger).events
    assert made.batch.out_on == "2026-11-28"


def test_jars_that_may_have_stood_too_long_are_asked_about_on_the_page(client):
    """A night between the filling and the jars being out: when did it begin?"""
    long = JARS | TOMATOES | {"filled": "08:00", "out": "17:00"}
    asked = client.get("/stock/own", params=long)
    assert asked.status_code == 422
    assert "say when the process began" in words(asked.text)
    assert not forms(asked.text, "/stock/own/book")
    said = client.get("/stock/own", params=long | {"began": "8:40"})
    assert said.status_code == 200, words(said.text)
    cannot = client.get("/stock/own", params=long | {"began": "16:40"})
    assert cannot.status_code == 422
    assert "cannot have had 45 min from 16:40 on" in words(cannot.text)


@pytest.mark.parametrize("name", ["filled", "began", "out"])
def test_no_clock_time_is_named_beside_its_field(client, name):
    page = client.get("/stock/own", params=JARS | {name: "half past nine"})
    assert page.status_code == 400
    assert "is no clock time: write such as 14:05" in words(page.text)
    assert 'value="half past nine"' in page.text


@pytest.mark.parametrize("clock", ["9,40", "10:05:59", "10:05+05:00", "9", "25:00"])
def test_a_clock_time_is_read_whole_or_not_at_all(client, clock):
    """Minutes behind a dot or a comma, and all behind them, fell away in silence."""
    page = client.get("/stock/own", params=JARS | {"out": clock})
    assert page.status_code == 400
    assert "is no clock time" in words(page.text)
    dotted = client.get("/stock/own", params=JARS | {"out": "9.40"})
    assert "Out of the canner 9:40" in words(dotted.text)


def test_what_they_were_made_out_of_leaves_the_stock(client, records):
    """The pages could not say it: the juice stood on the shelf for ever."""
    for said in ("4 bags plum juice, 4 cups each, freezer", "20 lb sugar, pantry"):
        handle(Receive(things=(thing(said),), at=NOW), ledger=records.ledger)
    gone = {"of": "plum juice = 2 bags; sugar=7 lb", "on": "27 November 2026"}
    asked = words(client.get("/stock/own", params=JARS | gone).text)
    assert "Out of 2 bags of plum juice" in asked
    booked(client, **gone)
    stock = stock_of(records.ledger)
    juice, sugar, jelly = stock.lots
    assert stock.balance(juice) == stock.lots[juice].measure.read("2 bags")
    pounds = stock.lots[sugar].measure.read
    assert stock.balance(sugar) == pounds("20 lb") - pounds("7 lb")
    assert {part.lot for part in stock.made(jelly).inputs} == {juice, sugar}


@pytest.mark.parametrize(
    ("of", "status", "says"),
    [
        ("plum juice", 400, "is no LOT=QUANTITY; write such as"),
        ("plum juice = 9 bags", 422, "count again? If more is there"),
        ("quince = 1 lb", 422, "the record has no lot 'quince'"),
        ("plum juice = 2 oz", 400, "Made out of what Stock has"),
        ("plum juice = 1 bag, sugar = 1 lb", 400, "Made out of what Stock has"),
        ("plum juice = 1 bag; " * 12, 400, "longer than 159 letters"),
    ],
)
def test_what_cannot_have_gone_in_is_named(client, records, of, status, says):
    juice = thing("4 bags plum juice, 4 cups each, freezer")
    handle(Receive(things=(juice,), at=NOW), ledger=records.ledger)
    page = client.get("/stock/own", params=JARS | {"of": of, "on": "27 November 2026"})
    assert page.status_code == status
    assert says in words(page.text)
    assert stock_of(records.ledger).sequence == 1
    (form,) = forms(page.text, "/stock/own")  # with all that was typed
    assert ("sentence", JARS["sentence"]) in form


def test_jars_that_stood_too_long_are_said_to_be_held_before_they_are_booked(client):
    """The question was silent, and the lot was on hold once it was booked."""
    beans = JARS | {
        "sentence": "7 pints green beans, pantry",
        "on": "27 November 2026",
        "process": "20",
        "canner": "dial-gauge",
        "gauge": "12 psi",
        "pack": "raw",
        "filled": "9:00",
        "out": "13:30",
    }
    asked = words(client.get("/stock/own", params=beans | {"began": "12:30"}).text)
    assert "They will be on hold: green beans had 20 min, begun 3 h 30 min" in asked
    soon = words(client.get("/stock/own", params=beans | {"began": "9:30"}).text)
    assert "begun" not in soon.partition("Book it so?")[2].partition("Book it")[0]


def test_what_is_left_empty_is_asked_for_and_not_filled_in_behind_the_no(client):
    """It said "'' is no day", and "Give it" under a height that stood there."""
    page = client.get("/stock/own", params=JARS | {"on": "", "elevation": ""}).text
    assert "Say the day, such as 12 June 2026" in words(page)
    assert "''" not in words(page)
    assert 'name="elevation" value=""' in page
    first = client.get("/stock/own").text
    assert 'name="elevation" value="2150 ft"' in first


def test_what_has_its_acid_by_the_jar_has_that_said_beside_its_process(client):
    """Whole minutes without it are no published process."""
    tomatoes = {"sentence": "7 quarts crushed tomatoes, pantry", "process": "50"}
    asked = words(client.get("/stock/own", params=JARS | tomatoes).text)
    assert "50 min (USDA Complete Guide" in asked
    assert "1/2 tsp to a quart" in asked
    assert "Its acid" not in words(client.get("/stock/own", params=JARS).text)
