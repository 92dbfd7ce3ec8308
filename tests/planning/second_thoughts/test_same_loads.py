"""Which load of a plan made anew is which of the plan before, and how that is told."""

from __future__ import annotations

from dataclasses import replace

import pytest
from planning.small_days import Break, canner, day, jelly, person, placed_load

from stillroom.cli.replan_text import replanned_as_json
from stillroom.planning.begun.as_planned import as_planned
from stillroom.planning.happened import Happened
from stillroom.planning.plan import plan_day
from stillroom.planning.second_thoughts.moves import moved_words, moves_between
from stillroom.planning.second_thoughts.replan import replan
from stillroom.planning.second_thoughts.same_loads import (
    most_alike,
    numbered_by_their_jars,
)
from stillroom.planning.timetable import PlacedBreak, Timetable

NOTHING_BEGUN = Happened(now_min=0, steps=(), loads=())


def load(name, lower, *jars, **more):
    return placed_load(name, lower, jars=tuple(jars), **more)


def ids(loads, before, taken=()):
    named = numbered_by_their_jars(loads, before, taken)
    return {one.lower_min: one.id for one in named}


def of_loads(*loads):
    return Timetable(steps=(), loads=loads, breaks=())


# --- what a load is called ---------------------------------------------------------


def test_a_load_that_is_parted_takes_no_name_from_those_behind_it():
    # jelly 1 and 2 shared load 1; now jelly 2 has a load of its own before the butter
    before = [
        load("canner/1", 40, ("jelly-1", 4), ("jelly-2", 3)),
        load("canner/2", 90, ("butter-1", 6)),
    ]
    now = [
        load("canner/?", 45, ("jelly-1", 4)),
        load("canner/?", 85, ("jelly-2", 3)),
        load("canner/?", 130, ("butter-1", 6)),
    ]
    assert ids(now, before) == {45: "canner/1", 85: "canner/3", 130: "canner/2"}


def test_a_name_is_given_once_and_no_name_of_a_load_that_has_begun():
    before = [load("canner/2", 90, ("jelly-1", 8))]
    now = [load("canner/?", 95, ("jelly-1", 3)), load("canner/?", 140, ("jelly-1", 5))]
    # most of its jars have its name, though they go in later
    assert ids(now, before, ["canner/1"]) == {95: "canner/3", 140: "canner/2"}


def test_in_another_canner_a_load_is_called_anew():
    before = [load("canner/1", 40, ("jelly-1", 8))]
    now = [load("canner/?", 50, ("jelly-1", 8), canner="deep")]
    assert ids(now, before) == {50: "deep/1"}


def test_most_alike_has_most_of_the_jars_and_is_the_first_of_such():
    mine = load("canner/1", 40, ("jelly-1", 4), ("jelly-2", 3))
    one = load("a", 90, ("jelly-2", 3))
    two = load("b", 50, ("jelly-1", 3))
    more = load("c", 99, ("jelly-1", 4))
    assert most_alike(mine, [one, two]) is two
    assert most_alike(mine, [one, two, more]) is more
    assert most_alike(mine, [load("d", 1, ("butter-1", 8))]) is None
    assert most_alike(mine, []) is None


# --- how it is told ----------------------------------------------------------------


def told(old, new):
    moves = moves_between(NOTHING_BEGUN, old, new)
    return [(moved_words(day(), old, m)[0], m.was_min, m.is_min) for m in moves]


def test_a_load_that_goes_into_another_canner_says_into_which():
    old = of_loads(load("canner/1", 40, ("jelly-1", 8)))
    new = of_loads(load("deep/1", 40, ("jelly-1", 8)))
    said = "Lower load 1 into the deep, not the canner"
    assert told(old, new) == [(said, 40, 40)]


def test_a_load_more_is_told_by_its_jars_and_its_hour():
    old = of_loads(load("canner/1", 40, ("jelly-1", 4), ("jelly-2", 3)))
    new = of_loads(
        load("canner/1", 40, ("jelly-1", 4)), load("canner/2", 85, ("jelly-2", 3))
    )
    said = "Lower 3 of jelly-2 into the canner: one load more"
    assert told(old, new) == [(said, 40, 85)]


def test_a_load_whose_jars_go_in_with_another_says_when():
    old = of_loads(
        load("canner/1", 40, ("jelly-1", 4)), load("canner/2", 90, ("jelly-2", 3))
    )
    new = of_loads(load("canner/1", 40, ("jelly-1", 4), ("jelly-2", 3)))
    assert told(old, new) == [("Lower load 2 into the canner", 90, 40)]


@pytest.fixture(scope="module")
def two_canners():
    """One jelly, in the first of two canners."""
    problem = day(
        jelly(),
        canners=(canner(), canner("deep")),
        people=(
            person("Ada", breaks=(Break(duration_min=10, earliest_min=90,
                                        latest_start_min=200),)),
        ),
    )  # fmt: skip
    plan = plan_day(problem, seconds=1).timetable
    return problem, plan, replan(problem, plan, as_planned(problem, plan, 1), seconds=1)


def in_the_other(found):
    (one,) = found.old.loads
    other = {"canner": "deep", "deep": "canner"}[one.canner]
    return replace(one, id=f"{other}/1", canner=other)


def test_the_first_sentence_says_that_a_load_goes_into_another_canner(two_canners):
    _, plan, found = two_canners
    new = replace(plan, loads=(in_the_other(found),))
    moves = moves_between(found.happened, plan, new)
    moved = replace(found, new=new, moves=moves)
    assert moved.sentence.endswith(", as before; 1 load goes into another canner.")
    (one,) = replanned_as_json(moved)["moves"]
    assert (one["what"], one["into"]) == (plan.loads[0].id, new.loads[0].canner)


def test_the_first_sentence_counts_the_loads_that_there_are_more(two_canners):
    _, plan, found = two_canners
    (one,) = plan.loads
    ((made, count),) = one.jars
    parted = (
        replace(one, jars=((made, 2),)),
        replace(in_the_other(found), jars=((made, count - 2),)),
    )
    moves = moves_between(found.happened, plan, replace(plan, loads=parted))
    moved = replace(found, moves=moves)
    assert moved.sentence.endswith(", as before; there is 1 load more.")


def test_a_break_that_begins_at_another_minute_moves(two_canners):
    problem, plan, found = two_canners
    (rest,) = plan.breaks
    later = PlacedBreak(
        person="Ada", start_min=rest.start_min + 12, end_min=rest.end_min + 12
    )
    new = replace(plan, breaks=(later,))
    moves = moves_between(found.happened, plan, new)
    moved = replace(found, new=new, moves=moves)
    assert moved.sentence.endswith("; the break of Ada begins 12 min later.")
    assert not moved.is_new_plan
    (one,) = moves
    assert moved_words(problem, plan, one) == ("The break of Ada", "")
    # one that was had is no longer to come
    had = replace(found.happened, breaks=(rest,))
    assert moves_between(had, plan, replace(plan, breaks=(rest,))) == ()
