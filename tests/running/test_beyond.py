"""Jars beyond those that were lifted out of a load: booked apart, with no process."""

import datetime as dt

import pytest

from stillroom.records.days import Records
from stillroom.refusal import Unreadable
from stillroom.running.book_lots import booking
from stillroom.running.commands import BreakJar
from stillroom.stock.lacks import Lack, lack_of
from stillroom.stock.making import holds
from tests.running.a_run import DAY, START, SUGAR_MG, Kitchen
from tests.running.test_lots_made import book, proposals, stocked

FIRST, SECOND = ("canner/1", "plum jelly 1"), ("canner/1", "plum jelly 2")


def test_no_more_are_booked_as_processed_than_were_lifted_less_what_broke(
    records: Records,
):
    """Fifteen were typed of a load of nine, and all fifteen bore its process."""
    kept = stocked(records)
    kitchen = Kitchen(records.ledger).begin()
    broke = BreakJar(load="canner/1", batch="plum jelly 1", at=kitchen.at)
    kitchen.do(broke)
    kitchen.can("canner/1")
    said = "8 jars came, and 7 half-pint jars were lifted out of load 1, and 1 broke"
    with pytest.raises(Unreadable, match=said):
        book(records, kept, mended={FIRST: (8, "pantry")})
    _, made = book(records, kept, mended={FIRST: (7, "pantry")})
    assert [one.number for one in made] == [7, 1]


def test_what_was_filled_beyond_them_is_a_lot_of_its_own_without_a_process(
    records: Records,
):
    kept = stocked(records)
    Kitchen(records.ledger).begin().fill("plum jelly 1").can("canner/1")
    mended = {SECOND: (0, "pantry")}
    stock, (aboard, apart) = book(records, kept, mended=mended, beyond={FIRST: 2})
    assert (aboard.number, aboard.batch.process_min) == (8, 10)
    assert (apart.number, apart.place) == (2, "kitchen, on hold")
    assert apart.batch.process_min is apart.batch.load is None
    assert lack_of(stock, apart.lot.code) is Lack.NONE
    assert "it had no process" in " ".join(holds(stock, apart.lot.code))
    assert lack_of(stock, aboard.lot.code) is None


def test_both_lots_draw_what_was_in_the_pot_and_a_jar_and_a_lid_each(
    records: Records,
):
    """A recall of the juice finds the jars that stand apart too."""
    kept = stocked(records)
    Kitchen(records.ledger).begin().can("canner/1")
    mended = {SECOND: (0, "pantry")}
    stock, made = book(records, kept, mended=mended, beyond={FIRST: 2})
    took = [
        {stock.lots[part.lot].what: part.number for part in one.inputs} for one in made
    ]
    assert [one["lids"] for one in took] == [8, 2]
    assert [one["half-pint jars"] for one in took] == [8, 2]
    assert sum(one["sugar"] for one in took) == SUGAR_MG
    assert took[1]["plum juice"] == sum(one["plum juice"] for one in took) // 5


def test_a_second_request_books_them_once_and_two_loads_have_two_codes(
    records: Records,
):
    kept = stocked(records)
    kitchen = Kitchen(records.ledger).begin().can("canner/1").can("canner/2")
    beyond = {SECOND: 1, ("canner/2", "plum jelly 2"): 2}
    _, made = book(records, kept, beyond=beyond)
    assert [one.number for one in made] == [8, 1, 1, 6, 2, 3]
    assert len({one.lot.code for one in made}) == 6
    again = booking(
        proposals(records),
        on=DAY,
        at=kitchen.at + dt.timedelta(hours=1),
        token="again",
        beyond=beyond,
    )
    assert kept.handle(again)[1] == ()
    assert kitchen.at > START
