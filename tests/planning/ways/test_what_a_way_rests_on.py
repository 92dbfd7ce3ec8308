"""What a way out rests on: hours that there are, room, promises, a plan that holds."""

from __future__ import annotations

from dataclasses import replace
from types import SimpleNamespace

from planning.small_days import Counter, canner, day, person
from planning.written_out import LID, at, batch, closed, labour, load

from stillroom.planning.problem import Person, Want
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
from stillroom.planning.ways.ways_out import _least, _said, _why_fewer, comes_late

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


def given(hours: Hours, minutes: int, *people: Person) -> list[tuple[str, str, int]]:
    changes = hours.changes(day(people=people), minutes)
    return [(str(c.kind), c.subject, c.amount) for c in changes]


def test_hours_at_the_end_are_given_from_when_the_first_leaves() -> None:
    """Ada leaves at 100 and Ben at 130; the day ends at 480."""
    two = person("Ada", leaves_min=100), person("Ben", leaves_min=130)
    both = Hours(at_end=True, who=("Ada", "Ben"))
    assert both.from_min(day(people=two)) == 100
    stays, ends = str(Kind.STAYS), str(Kind.ENDS)
    assert given(both, 20, *two) == [(stays, "Ada", 20)]
    assert given(both, 50, *two) == [(stays, "Ada", 50), (stays, "Ben", 20)]
    assert given(Hours(at_end=True, who=("Ben",)), 50, *two) == [(stays, "Ben", 50)]
    assert given(both, 380, *two)[0] == (stays, "Ada", 380)
    assert given(both, 381, *two)[0] == (ends, "", 1)
    assert given(AT_END, 7, *two) == [(ends, "", 7)]
    assert both.may_give == {(Kind.ENDS, ""), (Kind.STAYS, "Ada"), (Kind.STAYS, "Ben")}


def test_hours_at_the_start_are_given_from_when_the_last_comes() -> None:
    """Ada comes at 60 and Ben at 30; the day may start at most so much sooner."""
    two = person("Ada", arrives_min=60), person("Ben", arrives_min=30)
    both = Hours(at_end=False, who=("Ada", "Ben"))
    assert both.from_min(day(people=two)) == 60
    comes, starts = str(Kind.COMES), str(Kind.STARTS)
    assert given(both, 20, *two) == [(comes, "Ada", 20)]
    assert given(both, 45, *two) == [(comes, "Ada", 45), (comes, "Ben", 15)]
    assert given(both, 60, *two) == [(comes, "Ada", 60), (comes, "Ben", 30)]
    assert given(both, 61, *two)[0] == (starts, "", 1)
    assert given(Hours(at_end=False), 7, *two) == [(starts, "", 7)]
    assert both.may_give == {
        (Kind.STARTS, ""), (Kind.COMES, "Ada"), (Kind.COMES, "Ben"),
    }  # fmt: skip


def test_a_day_asks_for_each_alone_and_for_all_together() -> None:
    two = person("Ada", leaves_min=100), person("Ben", arrives_min=1, leaves_min=479)
    asked = all_hours(day(people=(*two, person("all day", leaves_min=480))))
    assert asked == (
        Hours(True), Hours(True, ("Ada",)), Hours(True, ("Ben",)),
        Hours(True, ("Ada", "Ben")), Hours(False), Hours(False, ("Ben",)),
    )  # fmt: skip


def test_an_open_end_asks_for_what_is_after_the_day_rests_too() -> None:
    """The work ends at 500 and a rest at 510: the day ends 30 minutes later."""
    problem = day()
    plan = table(at("a", "do", 490, 500, "p1"))
    rest = PlacedBreak(person="p1", start_min=500, end_min=510)
    for breaks, over in (((), 20), ((rest,), 30)):
        asked = AT_END.by_end(problem, replace(plan, breaks=breaks))
        assert asked is not None
        assert [c.amount for c in asked.changes] == [over]
        assert not asked.least
        sure = AT_END.by_end(problem, replace(plan, breaks=breaks), least=True)
        assert sure is not None
        assert sure.least
    short = AT_END.by_end(problem, table(at("a", "do", 470, 480, "p1")))
    assert short is not None
    assert (short.changes, short.least) == ((), True)
    last = 480 + AT_END.most(problem)
    assert AT_END.by_end(problem, table(at("a", "do", 900, last, "p1"))) is not None
    assert AT_END.by_end(problem, table(at("a", "do", 900, last + 1, "p1"))) is None


def test_why_there_are_fewer_than_three_ways() -> None:
    def why(many: int, *, exhausted: bool = True, put_by: bool = False) -> str:
        return _why_fewer(SimpleNamespace(exhausted=exhausted, put_by=put_by), many)

    assert why(3, exhausted=False) == ""
    for late in (why(2, exhausted=False), why(0, put_by=True)):
        assert late == (
            "the time was over before more ways were found: allow more seconds for "
            "the search"
        )
    tried = (
        "other hours, fewer batches, more room to cool, one more helper, burner, "
        "canner or pot were tried, alone and together"
    )
    assert why(0) == f"nothing that can be changed makes it fit: {tried}"
    assert why(1) == f"no other change makes it fit: {tried}"


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
