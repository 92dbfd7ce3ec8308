"""What a way out rests on: hours that there are, room, promises, a plan that holds."""

from __future__ import annotations

from dataclasses import replace

from planning.small_days import Counter, canner, day, person
from planning.written_out import LID, at, batch, closed, labour, load

from stillroom.planning.problem import Want
from stillroom.planning.timetable import (
    LESS_BREAKS_A_PROMISE,
    PlacedBreak,
    Timetable,
    WayOut,
)
from stillroom.planning.way_changes import Change, Kind, changed
from stillroom.planning.ways.held_loads import loads_of
from stillroom.planning.ways.held_plan import as_far_as_it_holds
from stillroom.planning.ways.way_found import Node, Way, never_room, settled
from stillroom.planning.ways.way_hours import Hours, all_hours
from stillroom.planning.ways.ways_out import _least, _said, comes_late

LATER = Change(kind=Kind.ENDS, amount=10)
AT_END = Hours(at_end=True)


def table(*steps, loads=()) -> Timetable:
    return Timetable(steps=steps, loads=tuple(loads), breaks=())


def test_no_day_runs_on_into_the_night() -> None:
    """From 8:00 to 16:00: a minute before midnight is 479 min later."""
    assert AT_END.most(day()) == 479


def test_who_rests_after_she_has_gone_is_not_asked_to_stay() -> None:
    who = (person("Ada", leaves_min=100), person("Ben", leaves_min=100))
    asked = {name for hours in all_hours(day(people=who)) for name in hours.who}
    assert asked == {"Ada", "Ben"}
    who = (who[0], person("Ben", leaves_min=100, rests_later=True))
    asked = {name for hours in all_hours(day(people=who)) for name in hours.who}
    assert asked == {"Ada"}


def test_jars_that_leave_the_counter_in_time_take_no_room_for_good() -> None:
    eight = closed("a", 8)
    for until, never in ((100, False), (2000, True)):
        counter = Counter(places=10, cooling_min=2000, taken=((5, until),))
        assert never_room(day(eight, counter=counter)) == never


def test_a_way_without_a_plan_that_holds_is_none() -> None:
    problem = day(batch("a", labour(20)), batch("b", labour(20)), horizon_min=30)
    first = at("a", "do", 0, 20, "p1")
    for start, is_one in ((20, True), (10, False)):
        plan = table(first, at("b", "do", start, start + 20, "p1"))
        way = settled(problem, Node((), AT_END), (LATER,), plan, least=False)
        assert (way is not None) == is_one


def test_a_promise_is_late_by_the_last_of_its_batches() -> None:
    want = (Want(product="jam", by_min=50),)
    problem = day(
        batch("a", labour(), product="jam", ready_after="do"),
        batch("b", labour(), product="jam", ready_after="do"),
        wants=want,
    )
    plan = table(at("a", "do", 30, 40, "p1"), at("b", "do", 50, 60, "p1"))
    assert comes_late(problem, plan) == "; but jam comes 10 min late"


def test_that_less_breaks_a_promise_is_said_only_where_none_is_broken() -> None:
    def way(late: int) -> Way:
        return Way(
            Node((), AT_END), (LATER,), 10, day(), table(), True, in_time=True,
            late=late,
        )  # fmt: skip

    assert _least(way(0)) == LESS_BREAKS_A_PROMISE
    assert _least(way(3)) == ""


def way_out(*changes: Change, ends: int, least: bool) -> WayOut:
    """As it is said of an hour's work and a half, proven to end no sooner."""
    problem = day(batch("a", labour(90)), horizon_min=80)
    plan = table(at("a", "do", ends - 90, ends, "p1"))
    cost = sum(change.amount for change in changes)
    way = Way(Node((), AT_END), changes, cost, changed(problem, changes), plan, least)
    return _said(problem, way, plan, True)


def test_a_day_that_starts_sooner_is_done_by_its_own_clock() -> None:
    sooner = way_out(Change(kind=Kind.STARTS, amount=30), ends=90, least=True)
    assert sooner.done_by == "9:00"
    assert way_out(LATER, ends=90, least=True).done_by == "9:30"


def test_no_end_is_proven_of_other_hours_than_were_searched() -> None:
    """Ten minutes more are enough: of twenty, nothing was proven for ten."""
    twenty = Change(kind=Kind.ENDS, amount=20)
    fewer = way_out(twenty, ends=90, least=False)
    assert fewer.changes == (LATER,)
    assert fewer.may_be_sooner
    assert not way_out(LATER, ends=90, least=False).may_be_sooner


# --- loads of which some are not made ------------------------------------------------

FIRST = load(30, fire_free_min=65)
SECOND = load(65, id="L2", jars=(("c", 5),), hot=True, heat_min=65, fire_free_min=100)
THIRD = load(100, id="L3", jars=(("d", 5),), hot=True, heat_min=100)


def kept(*batches: str):
    problem = day(*(closed(name) for name in "acd"), canners=(canner(reheat_min=17),))
    return loads_of(problem, table(LID, loads=[FIRST, SECOND, THIRD]), batches)


def test_the_first_load_that_is_left_is_heated_from_cold() -> None:
    second, third = kept("c", "d")
    assert (second.hot, second.heat_min) == (False, 65 - 30)
    assert third == THIRD


def test_no_fire_is_kept_on_for_a_load_that_does_not_come() -> None:
    first, third = kept("a", "d")
    assert first.fire_free_min == first.done_min
    assert (third.hot, third.heat_min) == (False, 100 - 17)
    (alone,) = kept("a")
    assert alone.fire_free_min == alone.done_min


# --- a plan of another day -----------------------------------------------------------


def test_a_plan_holds_without_the_rest_of_who_is_not_there() -> None:
    rest = PlacedBreak(person="Ben", start_min=20, end_min=30)
    plan = replace(table(at("a", "do", 0, 20, "p1")), breaks=(rest,))
    held = as_far_as_it_holds(day(batch("a", labour(20))), plan)
    assert held == replace(plan, breaks=())
