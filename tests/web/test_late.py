"""What a phone sends late: named, timed, taken in once, or refused in words."""

import datetime as dt

import pytest

from stillroom.stock.handle import stock_of
from tests.web.test_stock import client, records

__all__ = ["client", "records"]
TOKEN = "0123456789abcdef" * 2


@pytest.fixture
def code(client, records) -> str:
    from stillroom.stock.commands import Receive
    from stillroom.stock.handle import handle
    from tests.stock.kitchen import thing

    asked = Receive(
        things=(thing("34 half-pints plum jelly, pantry"),),
        at=client.app.state.clock.at - dt.timedelta(days=90),
    )
    stock, _ = handle(asked, ledger=records.ledger)
    return next(iter(stock.lots))


def late(client, hours: float = 1.0, **fields: str):
    at = client.app.state.clock.at - dt.timedelta(hours=hours)
    said = {"token": TOKEN, "at": at.isoformat(), "deed": "eaten", **fields}
    return client.post("/stock/late", data=said)


def test_it_is_booked_at_its_own_time_and_marked(client, records, code):
    said = late(client, lot=code, quantity="2")
    assert said.status_code == 200
    assert said.json()["again"] is False
    event = stock_of(records.ledger).event(2)
    assert event.late
    assert event.occurred_at == client.app.state.clock.at - dt.timedelta(hours=1)


def test_the_same_entry_again_is_answered_and_books_nothing(client, records, code):
    late(client, lot=code, quantity="2")
    for _ in range(3):
        said = late(client, lot=code, quantity="2")
        assert said.status_code == 200
        assert said.json() == {"said": [], "again": True}
    assert stock_of(records.ledger).sequence == 2


def test_a_device_whose_clock_is_wrong_is_told_in_the_words_of_a_clock(client, code):
    """It said "at: 2026-11-25T19:00:00.242Z lies in the future"."""
    clock = client.app.state.clock
    now = clock.at
    ahead = now + dt.timedelta(hours=5)
    no = late(client, hours=-5, lot=code, quantity="2").json()["no"]
    assert no.startswith(f"{ahead:%-d %B %Y, %-H:%M} lies in the future; it is ")
    assert f"it is {now:%-d %B %Y, %-H:%M} here: set the clock of the device" in no


@pytest.mark.parametrize(
    ("fields", "status", "said"),
    [
        ({"token": "x"}, 400, "does not name itself"),
        ({"at": "yesterday"}, 400, "no moment"),
        ({"at": "2026-11-25T09:00:00"}, 400, "time zone"),
        ({"at": "2026-11-25T19:00:00+00:00"}, 400, "lies in the future"),
        ({"at": "2026-01-25T19:00:00+00:00"}, 400, "more than 60 days ago"),
        ({"quantity": "-2"}, 400, ""),
        ({"quantity": "2 furlongs"}, 400, ""),
        ({"quantity": "5 lb"}, 400, "kept in half-pints"),
        ({"quantity": "35"}, 422, "34 half-pints"),
        ({"quantity": "1" * 300}, 400, ""),
        ({"lot": "L26M25-ZZZ"}, 400, ""),
        ({"lot": "walnuts"}, 422, "has no lot"),
        ({"deed": "add", "sentence": "some sugar"}, 400, "how much there is"),
        ({"deed": "add", "sentence": "2 lb sugar, set aside"}, 400, "set aside"),
        ({"deed": "process", "who": "Bram"}, 400, "fill in both clock times"),
        (
            {"deed": "process", "who": "Bram", "began": "22:05", "ended": "22:16"},
            422,
            "no lot of jars that was filled here",
        ),
        ({"deed": "fly"}, 400, "nothing that the stock page does"),
        ({"deed": "sold", "to": "stand"}, 422, "on hold"),
        ({"to": "=cmd|' /C calc'!A0"}, 400, "formula"),
        ({"to": "I\u0000da"}, 400, "cannot be read"),
        ({"deed": "count-shelf", "place": "pantry"}, 422, "nothing was counted"),
        (
            {"deed": "count-shelf", "place": "pantry", "n.plum jelly": "-3"},
            400,
            "",
        ),
    ],
)
def test_a_no_is_said_in_words_and_nothing_is_written(
    client, records, code, fields, status, said
):
    given = {"lot": code, "quantity": "2", **fields}
    no = late(client, **given)
    assert no.status_code == status, no.text
    assert no.json()["no"]
    assert said in no.json()["no"]
    assert stock_of(records.ledger).sequence == 1


def test_a_note_that_is_too_long_is_refused_and_loses_no_end(client, records, code):
    words = f"{'tart ' * 96} do NOT sell these, the seal was bad"
    no = late(client, deed="note", about="tasting", lot=code, why=words)
    assert no.status_code == 400
    assert "has more than 500 letters: shorten it" in no.json()["no"]
    assert stock_of(records.ledger).sequence == 1


def test_a_phone_a_little_ahead_is_taken_at_the_kitchens_time(client, records, code):
    late(client, hours=-0.1, lot=code, quantity="2")
    event = stock_of(records.ledger).event(2)
    assert event.occurred_at == client.app.state.clock.at
    assert not event.late


def test_more_lines_than_a_shelf_has_are_refused(client, records, code):
    lines = {f"n.lot {i}": "1" for i in range(501)}
    no = late(client, deed="count-shelf", place="pantry", **lines)
    assert no.status_code == 400
    assert "at most 500" in no.json()["no"]


def test_another_page_cannot_write_here(client, records, code):
    no = client.post(
        "/stock/late",
        data={"token": TOKEN},
        headers={"origin": "http://elsewhere.example"},
    )
    assert no.status_code == 403


def test_a_count_that_was_a_minute_on_its_way_loses_nothing_used_since(
    client, records, code
):
    from stillroom.stock.commands import Take
    from stillroom.stock.handle import handle

    half_a_minute_ago = client.app.state.clock.at - dt.timedelta(seconds=30)
    used = Take(lot=code, quantity="2", at=half_a_minute_ago)
    handle(used, ledger=records.ledger)
    said = late(client, 1 / 60, deed="count", lot=code, quantity="33", place="pantry")
    assert said.status_code == 200
    stock = stock_of(records.ledger)
    assert not stock.event(3).late
    assert stock.balance(code) == 31


@pytest.mark.parametrize("nth", [1, 2])
def test_what_a_full_disk_turned_away_is_kept_by_the_phone_and_sent_again(
    client, records, code, tmp_path, nth
):
    from tests.simulation.faults import Fault, Faults

    faults = Faults(records._engine, tmp_path / "stillroom.db", tmp_path / "none")
    faults.arm(Fault("full", nth=nth))
    said = late(client, lot=code, quantity="2")
    assert said.status_code == 503
    assert "disk is full" in said.json()["later"]
    assert "no" not in said.json()  # which would be its last word
    assert stock_of(records.ledger).sequence == 1
    faults.arm(None)
    assert late(client, lot=code, quantity="2").json()["again"] is False
    assert stock_of(records.ledger).balance(code) == 32


def test_what_came_in_is_booked_once_on_the_day_on_which_it_was_typed(
    client, records, code
):
    for again in (False, True, True):
        said = late(client, 30, deed="add", sentence="2 lb sugar, Pantry")
        assert said.status_code == 200, said.text
        assert said.json()["again"] is again
    stock = stock_of(records.ledger)
    assert stock.sequence == 2
    event = stock.event(2)
    assert event.late
    assert event.occurred_at == client.app.state.clock.at - dt.timedelta(hours=30)
    assert event.place == "pantry"  # as that shelf is called already
    assert event.lot.code.startswith("26M24")  # the day before


def test_a_process_that_was_typed_in_cut_off_is_booked_once(client, records, code):
    from stillroom.stock.lacks import process_given_min
    from tests.stock.kitchen import Farm
    from tests.web.test_stock import entry

    farm = Farm()
    farm.at = client.app.state.clock.at - dt.timedelta(hours=5)
    farm.made("8 half-pints plum jelly, pantry", process_min=None)
    records.ledger.append("stock", [entry(farm.stock.event(1))], after=1)
    fields = {"deed": "process", "lot": farm.last, "who": "Bram"}
    for _ in range(2):
        said = late(client, 3, **fields, began="05:00", ended="05:11")
        assert said.status_code == 200, said.text
    stock = stock_of(records.ledger)
    assert stock.sequence == 3
    assert process_given_min(stock, farm.last) == 11
    # What it says is of its own hour: then, that process was not over.
    too_soon = {**fields, "token": "f" * 32, "began": "06:30", "ended": "06:41"}
    assert late(client, 3, **too_soon).status_code == 422


def test_a_count_of_more_than_there_ever_was_is_asked_about_before_it_is_booked(
    client, records, code
):
    """Without script: the form answers with the question, and its key books."""
    from tests.web.forms import forms, send, words

    shelf = client.get("/stock/count?place=pantry").text
    fields = dict(forms(shelf, "/stock/count/book")[0])
    line = next(name for name in fields if name.startswith("n."))
    asked = client.post("/stock/count/book", data={**fields, line: "99999"})
    assert "Book it so?" in asked.text
    assert "the lot never had more than 34 half-pints" in words(asked.text)
    assert "99965 half-pints more now" in words(asked.text)
    assert stock_of(records.ledger).sequence == 1
    send(client, "/stock/count/book", forms(asked.text, "/stock/count/book")[0])
    assert stock_of(records.ledger).balance(code) == 99999


def test_a_plain_count_is_booked_without_a_question(client, records, code):
    from tests.web.forms import forms

    shelf = client.get("/stock/count?place=pantry").text
    fields = dict(forms(shelf, "/stock/count/book")[0])
    line = next(name for name in fields if name.startswith("n."))
    client.post("/stock/count/book", data={**fields, line: "33"})
    assert stock_of(records.ledger).balance(code) == 33


def test_such_a_count_from_a_phone_is_not_booked_and_leads_to_the_question(
    client, records, code
):
    said = late(client, **{"deed": "count-shelf", "place": "pantry", f"n.{code}": "99"})
    assert said.status_code == 422
    assert "never had more than 34 half-pints" in said.json()["no"]
    assert stock_of(records.ledger).sequence == 1
    asked = client.get(said.json()["ask"])
    assert "Book it so?" in asked.text
    assert 'value="99"' in asked.text
    assert client.get("/stock/count/ask?place=pantry&n.x=1").status_code in (400, 422)


def test_such_a_count_of_one_lot_is_asked_about_as_it_is_with_the_kitchen_in_reach(
    client, records, code
):
    """It was booked unasked; the question goes by its own name and hour."""
    from tests.web.forms import forms, send, words

    typed = {"deed": "count", "lot": code, "place": "pantry", "quantity": "99999"}
    here = client.get("/stock/ask", params=typed)
    never = "the lot never had more than 34 half-pints"
    assert never in words(here.text)
    said = late(client, **typed)
    assert said.status_code == 422
    assert never in said.json()["no"]
    assert stock_of(records.ledger).sequence == 1
    late(client, lot=code, quantity="4", token="e" * 32, hours=0.5)
    asked = client.get(said.json()["ask"])
    assert never in words(asked.text)
    send(client, "/stock/book", forms(asked.text, "/stock/book")[0])
    stock = stock_of(records.ledger)
    assert stock.balance(code) == 99999 - 4  # counted before these were eaten
    assert late(client, **typed).json() == {"said": [], "again": True}
    assert stock_of(records.ledger).sequence == stock.sequence
