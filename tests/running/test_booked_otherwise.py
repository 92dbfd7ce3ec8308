"""What the stove has of jars that were booked as never processed, and who asks."""

import datetime as dt
from dataclasses import replace

import pytest

from stillroom.records.days import Records
from stillroom.running.book_lots import booking, unprocessed
from stillroom.running.booked_otherwise import booked_otherwise, runs_still
from stillroom.running.commands import MarkFullBoil
from stillroom.running.handle import state_of
from stillroom.running.lots_made import lots_made
from stillroom.stock.commands import Process
from stillroom.stock.handle import KeptStock
from tests.running.a_run import DAY, LOADS, RUN, ZONE, Kitchen


@pytest.fixture
def kitchen(records: Records) -> Kitchen:
    return Kitchen(records.ledger).begin().fill("plum jelly 1")


def booked(kitchen: Kitchen, *, never: bool) -> tuple[KeptStock, str]:
    """The jars of load 1, booked as they stand or as never processed."""
    kept = KeptStock(kitchen.ledger)
    state = state_of(RUN, ledger=kitchen.ledger)
    with kept.reading() as stock:
        found = lots_made(state, RUN, stock, ZONE)
    lots = [x for x in found if x.making.batch.run_batch == "plum jelly 1"]
    made = [unprocessed(x) for x in lots] if never else lots
    asked = booking(made, on=DAY, at=kitchen.at, token="the lots")
    stock, _ = kept.handle(asked)
    code = stock.from_run(RUN, "plum jelly 1", "canner/1")
    assert code is not None
    return kept, code


def said(kitchen: Kitchen, kept: KeptStock, code: str) -> str:
    state = state_of(RUN, ledger=kitchen.ledger)
    with kept.reading() as stock:
        return booked_otherwise(state, stock, code, ZONE)


def test_jars_that_were_booked_with_their_process_are_asked_nothing(kitchen: Kitchen):
    """What is in the record and at the stove alike is no contradiction."""
    kept, code = booked(kitchen.can("canner/1"), never=False)
    assert said(kitchen, kept, code) == ""


def test_a_process_that_somebody_typed_in_since_is_not_asked_again(kitchen: Kitchen):
    kept, code = booked(kitchen, never=True)
    kitchen.can("canner/1")
    assert "booked as never processed" in said(kitchen, kept, code)
    began = kitchen.at - dt.timedelta(minutes=16)
    typed = Process(
        lot=code, began=began, ended=kitchen.at, who="Tilda", at=kitchen.at, token="one"
    )
    kept.handle(typed)
    assert said(kitchen, kept, code) == ""


def test_what_never_came_on_its_clock_is_no_contradiction(kitchen: Kitchen):
    kept, code = booked(kitchen, never=True)
    assert said(kitchen, kept, code) == ""


def test_of_a_canner_under_pressure_no_boil_was_lost(records: Records):
    """Who goes to the stove finds the key by its words."""
    under = replace(LOADS[0], method="dial-gauge", pressure_psi=12.0)
    kitchen = Kitchen(records.ledger).begin(loads=(under, LOADS[1])).later(60)
    kitchen.do(MarkFullBoil(load="canner/1", at=kitchen.at))
    run = state_of(RUN, ledger=records.ledger).load("canner/1")
    assert run is not None
    no = runs_still(run, kitchen.at)
    assert no is not None
    assert "the clock of load 1 runs since 10:00" in no.reason
    assert "say at the stove that it lost its pressure" in no.instead


def test_the_hours_of_a_process_are_those_of_the_kitchen(kitchen: Kitchen):
    """The record gives them back in UTC."""
    kitchen.can("canner/1")
    run = state_of(RUN, ledger=kitchen.ledger).load("canner/1")
    assert run is not None
    no = runs_still(run, kitchen.at)
    assert no is not None
    assert "after its process, 10 min from 9:25" in no.reason
