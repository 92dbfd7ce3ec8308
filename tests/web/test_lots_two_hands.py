"""The lots of a day under two hands: what one of them says is never lost."""

import datetime as dt

import pytest
from starlette.testclient import TestClient

from stillroom.refusal import Unreadable
from stillroom.running.commands import LiftLoad, MarkBoilLost, MarkFullBoil
from stillroom.running.handle import handle
from stillroom.stock.lotcode import printed
from tests.running.a_run import RUN, START
from tests.web.forms import Fields, forms, send, words
from tests.web.test_lots_made import (
    client,
    jars,
    kitchen,
    records,
    stock,
    under_pressure,
)

__all__ = ["client", "kitchen", "records", "under_pressure"]


def typed(fields: Fields, **new: str) -> Fields:
    """The first lot of a form, with other words in its fields."""
    left = dict(new)
    return [(name, left.pop(name, value)) for name, value in fields]


def test_who_books_second_is_told_and_reads_what_she_typed(client, records, kitchen):
    """The phone books nine; the desk had its page open, counts six, and books."""
    phone, desk = (
        forms(client.get("/stock/made").text, "/stock/made/book")[0] for _ in range(2)
    )
    send(client, "/stock/made/book", phone)
    told = send(client, "/stock/made/book", typed(desk, number="6", place="cellar"))
    page = words(told.text)
    assert "Booked already, by another hand." in page
    assert "Plum jelly 1, load 1: booked 8 half-pints, pantry" in page
    assert "You typed 6 half-pints, cellar." in page
    at = client.app.state.clock.now()
    assert f"booked 8 half-pints, pantry, at {at:%-H:%M}" in page
    assert page.count("You typed") == 1  # the other lot is booked as she has it
    assert jars(records) == {"plum jelly 1": 8, "plum jelly 2": 1}
    code = next(c for c in stock(records).lots)
    assert f'href="/stock/lot/{printed(code)}#count"' in told.text
    assert 'id="count"' in client.get(f"/stock/lot/{printed(code)}").text


def test_another_place_alone_is_told_too(client, records, kitchen):
    """Nine are nine, and she carries them to the cellar: the record has the pantry."""
    phone, desk = (
        forms(client.get("/stock/made").text, "/stock/made/book")[0] for _ in range(2)
    )
    send(client, "/stock/made/book", phone)
    told = send(client, "/stock/made/book", typed(desk, place="cellar"))
    assert "You typed 8 half-pints, cellar." in words(told.text)


@pytest.mark.parametrize(
    ("first", "second", "yours"),
    [
        ("12 psi", "11 psi", "You typed 8 half-pints, pantry, gauge 11 psi."),
        ("", "12 psi", "You typed 8 half-pints, pantry, gauge 12 psi."),
        ("12 psi", "12 psi", ""),
        ("12 psi", "", ""),  # who did not read it says nothing against it
    ],
)
def test_what_each_hand_read_on_the_gauge_is_told(
    client, records, under_pressure, first, second, yours
):
    """Under too low a pressure it is no process: no reading is dropped unsaid."""
    phone, desk = (
        forms(client.get("/stock/made").text, "/stock/made/book")[0] for _ in range(2)
    )
    send(client, "/stock/made/book", typed(phone, gauge=first))
    page = words(send(client, "/stock/made/book", typed(desk, gauge=second)).text)
    assert ("Booked already" in page) is bool(yours)
    assert yours in page
    at = client.app.state.clock.now()
    read = f", gauge {first}" if first else ""
    assert (f"booked 8 half-pints, pantry{read}, at {at:%-H:%M}" in page) is bool(yours)


def test_the_same_numbers_from_two_hands_are_no_matter(client, records, kitchen):
    phone, desk = (
        forms(client.get("/stock/made").text, "/stock/made/book")[0] for _ in range(2)
    )
    for fields in (phone, typed(desk, place="Pantry")):  # a phone begins with a capital
        page = send(client, "/stock/made/book", fields).text
        assert "Booked already" not in words(page)


def test_a_retry_whose_answer_was_lost_is_her_own_booking(client, kitchen):
    fields = forms(client.get("/stock/made").text, "/stock/made/book")[0]
    fields = typed(fields, number="6")
    for _ in range(2):
        page = send(client, "/stock/made/book", fields).text
        assert "Booked already" not in words(page)


def test_none_came_of_it_says_the_second_hand(client, kitchen):
    phone, desk = (
        forms(client.get("/stock/made").text, "/stock/made/book")[0] for _ in range(2)
    )
    send(client, "/stock/made/book", phone)
    told = send(client, "/stock/made/book", typed(desk, number="0"))
    assert "You typed 0 half-pints, pantry." in words(told.text)


def never_forms(client: TestClient) -> list[Fields]:
    found = forms(client.get("/stock/made").text, "/stock/made/book")
    return [fields for fields in found if ("never", "1") in fields]


def test_while_its_clock_runs_a_load_is_not_booked_as_never_processed(
    client, records, kitchen
):
    kitchen.fill("plum jelly 2")
    client.app.state.clock.at = START + dt.timedelta(hours=5)
    (of_before,) = never_forms(client)
    at = START + dt.timedelta(hours=3)
    handle(MarkFullBoil(load="canner/2", at=at), RUN, ledger=records.ledger)
    assert never_forms(client) == []
    assert "its clock goes on" in words(client.get("/stock/made").text)
    no = send(client, "/stock/made/book", of_before)
    assert no.status_code == 422
    assert "the clock of load 2 runs since 12:00" in no.text
    assert jars(records) == {}
    # it was the wrong key, and the canner never boiled
    handle(MarkBoilLost(load="canner/2", at=at), RUN, ledger=records.ledger)
    (form,) = never_forms(client)
    send(client, "/stock/made/book", form)
    assert jars(records) == {"plum jelly 2": 6}


def test_out_after_its_process_it_is_not_booked_so_by_a_page_of_before(
    client, records, kitchen
):
    client.app.state.clock.at = START + dt.timedelta(hours=5)
    (of_before,) = never_forms(client)
    kitchen.can("canner/2")
    no = send(client, "/stock/made/book", of_before)
    assert no.status_code == 422
    assert (
        "load 2 was lifted out at the stove after its process, 10 min from" in no.text
    )
    assert jars(records) == {}


def test_booked_first_and_processed_then_both_are_named(client, records, kitchen):
    """The desk at 8:00, before the boil; the phone lifts the jars afterwards."""
    client.app.state.clock.at = START + dt.timedelta(hours=5)
    (form,) = never_forms(client)
    send(client, "/stock/made/book", form)
    (code,) = stock(records).lots
    lot = f"/stock/lot/{printed(code)}"
    assert "The stove says otherwise" not in words(client.get(lot).text)
    at = START + dt.timedelta(hours=3)
    handle(MarkFullBoil(load="canner/2", at=at), RUN, ledger=records.ledger)
    said = "it was booked as never processed, and at the stove load 2 has"
    running = f"{said} its clock running since 12:00"
    assert running in words(client.get(lot).text)
    at += dt.timedelta(minutes=20)
    handle(LiftLoad(load="canner/2", at=at), RUN, ledger=records.ledger)
    out = f"{said} 10 min from 12:00, out 12:20"
    assert out in words(client.get(lot).text)
    assert out.capitalize() in words(client.get("/stock/made").text)
    assert "until then it counts as never processed" in words(client.get(lot).text)


def test_jars_that_are_given_up_are_waited_for_at_the_stove_no_more(
    client, records, kitchen
):
    """The boil did not come back: booked so, it was still called what cannot wait."""
    kitchen.later(5)
    for ask in (MarkFullBoil, MarkBoilLost):
        kitchen.do(ask(load="canner/2", at=kitchen.at))
    client.app.state.clock.at = kitchen.at
    address = f"/stove?day={RUN.rpartition('/')[2]}"
    board = words(client.get(address).text)
    assert "Cannot wait" in board
    assert "lost its boil. Bring it back" in board
    (form,) = never_forms(client)
    send(client, "/stock/made/book", form)
    board = words(client.get(address).text)
    assert "Cannot wait" not in board
    assert "Load 2 ·" not in board


def test_the_clocks_are_there_where_the_stock_cannot_be_read(
    client, records, kitchen, monkeypatch
):
    kitchen.later(5).do(MarkFullBoil(load="canner/2", at=kitchen.at))
    kitchen.do(MarkBoilLost(load="canner/2", at=kitchen.at))
    client.app.state.clock.at = kitchen.at

    def damaged(*_: object) -> None:
        raise Unreadable("the stock is damaged")

    monkeypatch.setattr("stillroom.stock.handle.brought_up", damaged)
    board = client.get(f"/stove?day={RUN.rpartition('/')[2]}")
    assert board.status_code == 200
    assert "lost its boil" in words(board.text)
