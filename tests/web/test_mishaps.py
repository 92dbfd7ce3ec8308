"""What went wrong with a load, tapped twice, late, or once its lots are booked."""

from starlette.testclient import TestClient

from stillroom.running.commands import MarkFullBoil
from stillroom.running.handle import state_of
from stillroom.stock.events import Doubt
from stillroom.stock.lotcode import printed
from tests.running.a_run import RUN
from tests.web.forms import forms, send, words
from tests.web.test_lots_made import (
    broken,
    client,
    doubt,
    jars,
    kitchen,
    records,
    stock,
)

__all__ = ["client", "kitchen", "records"]  # fixtures
BROKE = "/stove/broke/book"
WHOLE = "/stove/broke/whole"


def booked(client: TestClient) -> None:
    """The lots of load 1; load 2 is still to come."""
    page = client.get("/stock/made").text
    send(client, "/stock/made/book", forms(page, "/stock/made/book")[0])


def test_a_finger_that_comes_down_twice_breaks_one_jar_of_a_booked_lot(
    client, records, kitchen
):
    booked(client)
    _, fields = broken(client, "/stove/broke?load=canner/1")
    again = send(client, BROKE, [*fields, ("crack", "ring")])
    assert again.status_code == 200
    assert jars(records) == {"plum jelly 1": 7, "plum jelly 2": 1}


def test_one_of_two_broken_jars_is_taken_back_by_one_tap_or_two(
    client, records, kitchen
):
    """The second finger is told that it is done, and no more comes back."""
    broken(client, "/stove/broke?load=canner/1")
    page, _ = broken(client, "/stove/broke?load=canner/1", "star")
    (whole,) = forms(page.text, WHOLE)
    for _ in range(2):
        answer = send(client, WHOLE, whole)
        assert "Taken back: that jar is counted again." in words(answer.text)
    run = state_of(RUN, ledger=records.ledger).load("canner/1")
    assert run.broken == (("plum jelly 1", "ring"),)


def test_only_the_load_whose_lot_is_booked_is_counted_there(client, records, kitchen):
    """Half of the batch is booked; of the other half a jar still leaves the run."""
    booked(client)
    kitchen.fill("plum jelly 2").later(5)
    kitchen.do(MarkFullBoil(load="canner/2", at=kitchen.at))
    client.app.state.clock.at = kitchen.at
    page = client.get("/stove/broke").text
    now = stock(records)
    codes = {now.made(c).batch.run_batch: printed(c) for c in now.lots if now.made(c)}
    assert words(page).count("Its lot is booked") == 2
    assert all(page.count(f"its page, {code}") == 1 for code in codes.values())
    first, second = (client.get(f"/stove/broke?load=canner/{n}").text for n in (1, 2))
    assert "Its lot is booked" in words(first)
    assert "Its lot is booked" not in words(second)
    (line,) = forms(second, BROKE)  # the loads beside it are not asked about
    assert ("load", "canner/2") in line
    send(client, BROKE, [*line, ("crack", "ring")])
    run = state_of(RUN, ledger=records.ledger).load("canner/2")
    assert run.broken == (("plum jelly 2", "ring"),)
    assert jars(records)["plum jelly 2"] == 1


def test_of_two_things_that_were_wrong_the_last_says_what_is_done(client, kitchen):
    first = words(doubt(client, Doubt.WRONG_TIME.value).text)
    both = words(doubt(client, Doubt.WATER_LOW.value).text)
    assert "on hold: wrong time" in first
    assert "on hold: wrong time, water below the lids" in both
    low = "treat the jars as of a wrong process"
    assert low not in first
    assert low in both


def test_what_is_done_with_a_canner_that_boiled_dry_is_one_tap_from_its_clock(
    client, records, kitchen
):
    """Nothing was said of it, and of low water only until the first load was out."""
    link = "/stove/wrong?run=2026-09-12#in-the-canner"
    address = "/stove?day=2026-09-12"
    assert link not in client.get(address).text
    kitchen.later(5).do(MarkFullBoil(load="canner/2", at=kitchen.at))
    client.app.state.clock.at = kitchen.at
    assert link in client.get(address).text
    page = client.get(link).text
    assert 'id="in-the-canner"' in page
    assert "It boiled dry: fire off, and nothing cold into it" in words(page)
    assert "topped up with boiling water" in words(page)
    assert "out since" in words(page)  # load 1 is out
