"""The hours of what is done once the day is over, and who looks."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace

import pytest

from stillroom.methods.method import Later
from stillroom.methods.step import Skill
from stillroom.planning.dayplan import After, DayPlan, Task
from stillroom.planning.how_good.lateness import batches_done_min
from stillroom.planning.timetable import Answer
from stillroom.planning.which_batches.around import _awake, after_tasks, who_looks
from stillroom.planning.whole_day import plan_the_day
from tests.kitchens import day, person

FIRST, SECOND = "plum jelly 1", "plum jelly 2"


@pytest.fixture(scope="module")
def plan() -> DayPlan:
    """Two batches of eight half-pints, one out of the canner after the other."""
    found = plan_the_day(day(), seconds=0.0)
    assert isinstance(found, DayPlan)
    assert [(b.id, b.jars) for b in found.batches] == [(FIRST, 8), (SECOND, 8)]
    return found


def tasks(plan: DayPlan, *afterwards: After) -> tuple[Task, ...]:
    assert plan.problem is not None
    assert isinstance(plan.answer, Answer)
    return after_tasks(plan.day, plan.problem, plan.answer.timetable, afterwards)


def out(plan: DayPlan) -> dict[str, dt.datetime]:
    """When the jars of each batch are out, by the clock."""
    assert plan.problem is not None
    assert isinstance(plan.answer, Answer)
    eight = dt.datetime.combine(plan.day.date, plan.day.starts)
    done = batches_done_min(plan.problem, plan.answer.timetable)
    assert done[FIRST] != done[SECOND]
    return {name: eight + dt.timedelta(minutes=m) for name, m in done.items()}


def after(
    *batches: str, hours: float, until: float | None = None, text: str = "look"
) -> After:
    later = Later(after_h=hours, text=text, source="invented", until_h=until)
    return After(batches=batches, later=later)


def test_it_is_due_after_the_last_and_over_after_the_first_of_its_own_batches(plan):
    """Half an hour counts, and a batch that is not asked after does not."""
    each = out(plan)
    (both,) = tasks(plan, after(FIRST, SECOND, hours=1.5, until=6.0))
    assert both.when == max(each.values()) + dt.timedelta(minutes=90)
    assert both.until == min(each.values()) + dt.timedelta(hours=6)
    for name in (FIRST, SECOND):
        (one,) = tasks(plan, after(name, hours=1.5, until=6.0))
        assert one.when == each[name] + dt.timedelta(minutes=90)
        assert one.until == each[name] + dt.timedelta(hours=6)


def test_every_jar_of_its_batches_is_taken_in_hand_where_there_is_a_latest_hour(plan):
    """Two minutes to begin with and a quarter for each of 8 or 16 jars; else five."""
    (one,) = tasks(plan, after(FIRST, hours=1.0, until=6.0))
    (both,) = tasks(plan, after(FIRST, SECOND, hours=1.0, until=6.0))
    (look,) = tasks(plan, after(FIRST, SECOND, hours=1.0))
    assert (one.minutes, both.minutes, look.minutes) == (4, 6, 5)
    assert look.until is None


def test_what_is_due_first_stands_first_and_what_was_not_made_is_not_looked_at(plan):
    found = tasks(
        plan,
        after(SECOND, hours=3.0, text="later"),
        after(FIRST, hours=1.0, text="sooner"),
        after("quince jelly 1", hours=0.0, text="nobody made it"),
    )
    assert [task.what for task in found] == ["sooner", "later"]


def at(day_of_august: int, hour: int, minute: int = 0) -> dt.datetime:
    return dt.datetime.combine(dt.date(2026, 8, day_of_august), dt.time(hour, minute))


@pytest.mark.parametrize(
    ("due", "until", "looked"),
    [
        # awake from seven up to ten at night
        (at(22, 7), None, at(22, 7)),
        (at(22, 21, 59), None, at(22, 21, 59)),
        # at ten and in the small hours it waits for the next morning
        (at(22, 22), None, at(23, 7)),
        (at(23, 0, 30), None, at(23, 7)),
        (at(23, 6, 59), None, at(23, 7)),
        # by seven is still in time; where seven is too late it keeps its hour
        (at(22, 23), at(23, 7), at(23, 7)),
        (at(22, 23), at(23, 6, 59), at(22, 23)),
    ],
)
def test_nobody_gets_up_at_night_unless_the_morning_is_too_late(due, until, looked):
    assert _awake(due, until) == looked


def test_whoever_does_cold_work_looks_and_otherwise_whoever_is_named_first():
    at_the_stove = person("Ada", can=frozenset({Skill.PAN}))
    at_the_table = person("Bo", can=frozenset({Skill.COLD}))
    assert who_looks(day(people=(at_the_stove, at_the_table))) == "Bo"
    also = replace(at_the_stove, name="Cy")
    assert who_looks(day(people=(at_the_stove, also))) == "Ada"


def test_a_child_looks_only_where_nobody_else_is_there():
    """Bo is named first, does cold work, and neither minds a pan nor lifts jars."""
    child = person("Bo", can=frozenset({Skill.COLD, Skill.KNIFE}))
    for grown in (Skill.PAN, Skill.LIFT):
        mother = person("Ada", can=frozenset({Skill.COLD, grown}))
        assert who_looks(day(people=(child, mother))) == "Ada"
    assert who_looks(day(people=(child,))) == "Bo"
