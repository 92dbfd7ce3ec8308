"""The judge of second thoughts on what has begun, on a day written out by hand."""

from __future__ import annotations

from dataclasses import replace

from planning.small_days import Break, day, person
from planning.written_out import LID, closed, load

from stillroom.planning.happened import Happened
from stillroom.planning.judge.check_replan import replan_violations
from stillroom.planning.timetable import PlacedBreak, Timetable

REST = PlacedBreak(person="p1", start_min=35, end_min=55)
PROBLEM = day(
    closed(),
    people=(
        person(
            "p1",
            breaks=(Break(duration_min=20, earliest_min=0, latest_start_min=200),),
        ),
    ),
)
# lids on until 30, lowered 30 to 34, at the boil 46 to 56, lifted 61 to 65
PLAN = Timetable(steps=(LID,), loads=(load(),), breaks=(REST,))
AT_40 = Happened(now_min=40, steps=(LID,), loads=(load(),), breaks=(REST,))


def said(new: Timetable, happened: Happened = AT_40) -> tuple[str, ...]:
    return replan_violations(PROBLEM, happened, new)


def test_the_plan_that_it_went_by_so_far_changes_nothing_of_the_past() -> None:
    assert said(PLAN) == ()


def test_a_load_that_is_in_is_not_lifted_before_its_process_ends() -> None:
    for lift, holds in ((55, False), (61, True)):
        lifted = replace(load(), lift_min=lift, out_min=lift + 4)
        answer = "load L1 is lifted before its process ends"
        assert (answer in said(replace(PLAN, loads=(lifted,)))) is not holds


def test_a_load_that_has_not_begun_is_lowered_from_now_on() -> None:
    not_in = replace(AT_40, loads=())
    assert "load L1 is to be lowered 10 min ago" in said(PLAN, not_in)
    later = replace(PLAN, loads=(load(40),), breaks=())
    found = said(later, replace(not_in, breaks=()))
    assert not any("min ago" in sentence for sentence in found)


def test_a_rest_that_has_begun_stays_and_no_other_begins_in_the_past() -> None:
    moved = replace(REST, start_min=70, end_min=90)
    new = replace(PLAN, breaks=(moved,))
    assert "a break of p1 has begun and is told otherwise" in said(new)
    unrested = replace(AT_40, breaks=())
    assert said(new, unrested) == ()
    assert "a break of p1 is to begin 5 min ago" in said(PLAN, unrested)
