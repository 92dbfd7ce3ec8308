"""What the last days at the stove made and nobody booked; all invented."""

import datetime as dt

from stillroom.records.days import Records
from stillroom.running.commands import BeginDay, FinishStep
from stillroom.running.handle import handle
from stillroom.running.not_booked import not_booked
from stillroom.stock.handle import stock_of
from tests.running.a_run import FROZEN, START, Kitchen, batch, load
from tests.running.test_under_way import PLAN

NEXT_RUN = "run/2026-09-13"


def left_over(records: Records, at: dt.datetime):
    return not_booked(records.ledger, stock_of(records.ledger), at)


def begin_the_next_day(records: Records, at: dt.datetime) -> None:
    """A day of boxes for the freezer, beside a load that was never started."""
    made = (batch(1, 7), FROZEN)
    begin = BeginDay(loads=(load(1, ("plum jelly 1", 7)),), batches=made, at=at)
    handle(begin, NEXT_RUN, ledger=records.ledger)
    close(records, at)


def close(records: Records, at: dt.datetime) -> None:
    closed = FinishStep(batch=FROZEN.id, step=FROZEN.closes, at=at)
    handle(closed, NEXT_RUN, ledger=records.ledger)


def test_a_day_behind_the_newest_one_is_asked_about_too(records: Records):
    kitchen = Kitchen(records.ledger).begin().fill("plum jelly 1").can("canner/1")
    at = kitchen.at + dt.timedelta(days=1)
    begin_the_next_day(records, at)
    newest, before = left_over(records, at + dt.timedelta(hours=1))
    assert (newest.plan_day, before.plan_day) == ("2026-09-13", "2026-09-12")
    # what is ready and what waits are two things: each is told by its name
    assert newest.sentence == (
        f"1 lot of 13 September 2026 is not booked yet: {FROZEN.id}. "
        "Load 1 (plum jelly 1): its process was not started."
    )
    assert before.sentence.startswith(
        "2 lots of 12 September 2026 are not booked yet: load 1 (plum jelly 1 and plum "
        "jelly 2). Load 2 (plum jelly 2): its process was not started."
    )
    assert before.asks == "Was every load processed?"


def test_each_is_let_go_of_by_its_own_last_tap(records: Records):
    kitchen = Kitchen(records.ledger).begin().fill("plum jelly 1").can("canner/1")
    at = kitchen.at + dt.timedelta(days=1)
    begin_the_next_day(records, at)
    left = left_over(records, kitchen.at + dt.timedelta(days=3))
    assert [day.plan_day for day in left] == ["2026-09-13"]
    assert left_over(records, at + dt.timedelta(days=3)) == ()


def test_of_a_day_without_a_canner_no_process_is_asked(records: Records):
    at = START + dt.timedelta(days=1)
    handle(
        BeginDay(batches=(FROZEN,), plan=PLAN, loads=(), at=at),
        NEXT_RUN,
        ledger=records.ledger,
    )
    close(records, at)
    (day,) = left_over(records, at + dt.timedelta(hours=1))
    assert day.asks == "Is everything booked?"
    assert "process" not in day.sentence


def test_a_load_of_two_batches_is_named_once(records: Records):
    kitchen = Kitchen(records.ledger).begin().fill("plum jelly 1").can("canner/2")
    (day,) = left_over(records, kitchen.at + dt.timedelta(hours=8))
    assert "Load 1 (plum jelly 1 and plum jelly 2): its process" in day.sentence
    assert day.sentence.lower().count("load 1") == 1
