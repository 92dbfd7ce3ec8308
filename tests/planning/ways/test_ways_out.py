"""
Ways out: every combination of changes tried on tiny days, and each way judged anew.

Work is counted here and not the clock, so that the same ways come out each time.
"""

from __future__ import annotations

import datetime as dt
import time
from collections.abc import Iterator
from dataclasses import replace
from itertools import product

import pytest
from hypothesis import HealthCheck, assume, given, settings
from planning.brute_days import tiny_day
from planning.day_strategies_small import random_days
from planning.small_days import butter, day, jelly, person, step
from planning.test_brute_force import _plans, earliest_finish

from stillroom.methods.step import Link
from stillroom.planning.cpsat.solve import Search
from stillroom.planning.day import Lot, Purpose
from stillroom.planning.day import Want as FileWant
from stillroom.planning.day_file.day_changes import changed_day_text
from stillroom.planning.day_file.dayfile import read_day
from stillroom.planning.day_file.dayfile_write import write_day
from stillroom.planning.dayplan import DayPlan
from stillroom.planning.daytime import said_minutes
from stillroom.planning.hand.by_hand import by_hand
from stillroom.planning.how_good.lateness import (
    batches_done_min,
    late_wants,
    weighted_lateness,
)
from stillroom.planning.judge.check import violations
from stillroom.planning.problem import Break, Burner, Counter, Problem, Want, Window
from stillroom.planning.timetable import (
    LESS_BREAKS_A_PROMISE,
    LESS_DOES_NOT_DO,
    NoneFound,
    NoPlan,
    Timetable,
    WayOut,
)
from stillroom.planning.way_changes import (
    THINGS,
    Change,
    Changes,
    Kind,
    changed,
    cost_of,
    is_more_than,
    leave_out,
    most_earlier,
    said,
    starting_earlier,
    thing_more,
)
from stillroom.planning.ways.held_plan import PlanOfSome
from stillroom.planning.ways.way_found import Node, Way, settled
from stillroom.planning.ways.way_hours import Hours
from stillroom.planning.ways.way_less import at_the_start
from stillroom.planning.ways.way_plans import Time, with_end_open
from stillroom.planning.ways.way_tight import begun_sooner, tightened
from stillroom.planning.ways.ways_out import Ways, _said, shown_with, ways_out
from stillroom.planning.which_batches.missed_most import weight_min
from stillroom.planning.whole_day import plan_the_day
from tests.kitchens import day as day_of_file
from tests.kitchens import juice, stores
from tests.kitchens import person as helper

# --- every combination of changes, on tiny days ---


def counted(seconds: float) -> Search:
    """A search whose work is counted."""
    return Search(time.monotonic() + 60, 1, 1, deterministic=True, seconds=seconds)


def hard(seed: int) -> Problem:
    """A tiny day that ends too soon; who is there from its start goes sooner still."""
    problem = tiny_day(seed)
    problem = replace(
        problem, batches=tuple(replace(b, jars=1) for b in problem.batches)
    )
    finish = earliest_finish(problem)
    assert finish is not None
    end = finish - 2
    first, *others = problem.people
    people = (
        replace(first, leaves_min=max(1, end - seed % 3)),
        *(replace(p, leaves_min=end) for p in others),
    )
    return replace(problem, horizon_min=end, people=people)


def of_a_price(problem: Problem, price: int) -> Iterator[Changes]:
    """Every set of changes, one thing or batch at most, that weighs so much."""
    things = [Change(kind=k) for k in THINGS if thing_more(problem, k)]
    outs = [leave_out(b) for b in problem.batches]
    hours = [(Kind.ENDS, ""), (Kind.STARTS, "")]
    hours += [
        (Kind.STAYS, p.id) for p in problem.people if p.leaves_min < problem.horizon_min
    ]
    hours += [(Kind.COMES, p.id) for p in problem.people if p.arrives_min > 0]
    for whole in [(), *((c,) for c in (*outs, *things))]:
        rest = price - cost_of(problem, whole)
        for split in product(range(rest + 1), repeat=len(hours)):
            if rest >= 0 and sum(split) == rest:
                yield (
                    *whole,
                    *(
                        Change(kind=kind, subject=who, amount=minutes)
                        for (kind, who), minutes in zip(hours, split, strict=True)
                        if minutes
                    ),
                )


@pytest.mark.parametrize("seed", [4, 7, 8, 10, 15, 16, 17, 22, 23, 25])
def test_no_changes_of_all_are_cheaper_than_the_first_way(seed: int) -> None:
    # seed 10: a minute of the day's start and three of a helper do, where five of
    # any one hour would be needed
    problem = hard(seed)
    found = ways_out(problem, counted(20))
    assert len(found.ways) == 3
    assert_ways(problem, found)
    for price in range(found.ways[0].cost_min):
        for changes in of_a_price(problem, price):
            tried = changed(problem, changes)
            assert not any(_plans(tried, tried.horizon_min)), (price, changes)


@pytest.mark.parametrize("seed", [4, 10, 15, 22])
def test_none_is_cheaper_with_what_it_breaks_of_a_promise(seed: int) -> None:
    problem = hard(seed)
    due = max(1, problem.horizon_min // 2)
    wants = tuple(Want(product=name, by_min=due, weight=1 + seed % 2) for name in "ab")
    problem = replace(problem, wants=wants)
    found = ways_out(problem, counted(20))
    for price in range(found.ways[0].cost_min):
        for changes in of_a_price(problem, price):
            tried = changed(problem, changes)
            for plan in _plans(tried, tried.horizon_min):
                late = weighted_lateness(tried, plan)
                assert price + late >= found.ways[0].cost_min, (changes, plan)


def assert_ways(problem: Problem, found: Ways) -> None:
    """Each holds; the cheapest comes first; none is another with something more."""
    for n, way in enumerate(found.ways):
        day_then = changed(problem, way.changes)
        assert violations(day_then, way.timetable) == ()
        assert way.changes
        late = weighted_lateness(day_then, way.timetable)
        assert way.cost_min == cost_of(problem, way.changes) + late
        for before in found.ways[:n]:
            assert before.cost_min <= way.cost_min
            assert not is_more_than(way.changes, before.changes)
    assert (len(found.ways) == 3) == (found.why_fewer == "")


@settings(
    max_examples=4,
    deadline=None,
    derandomize=True,
    suppress_health_check=list(HealthCheck),
)
@given(random_days())
def test_ways_out_of_any_day_hold(problem: Problem) -> None:
    plan = with_end_open(problem, counted(1))
    assume(plan is not None and plan.finish_min > 40)
    assert plan is not None
    end = min(problem.horizon_min, plan.finish_min - 15)
    people = tuple(
        replace(p, arrives_min=min(p.arrives_min, end), breaks=(), away=())
        for p in problem.people
    )
    short = replace(problem, horizon_min=end, people=people)
    found = ways_out(short, counted(1))
    if [way.changes for way in found.ways] == [()]:
        assert violations(short, found.ways[0].timetable) == ()  # it fits after all
    else:
        assert_ways(short, found)


# --- what a way is, on days of one thing that is short ---


def test_the_same_ways_each_time() -> None:
    problem = day(jelly(), butter(), people=2, horizon_min=150)
    one, two = (ways_out(problem, counted(4)) for _ in range(2))
    assert [(w.says, w.timetable) for w in one.ways] == [
        (w.says, w.timetable) for w in two.ways
    ]
    assert_ways(problem, one)


def test_two_batches_are_left_out_where_one_is_not_enough() -> None:
    # 48 jars are to cool and there is room for 32: two batches of eight less, or
    # sixteen places more, at a minute's price for each
    batches = [jelly(f"jelly-{n}") for n in range(6)]
    few = Counter(places=32, cooling_min=1440)
    problem = day(*batches, people=3, big_pots=3, counter=few, horizon_min=900)
    missed = [b.id for b in batches[::-1]]  # the first would be missed least
    found = ways_out(problem, counted(4), missed=missed)
    assert_ways(problem, found)
    room, both, fewer = found.ways
    assert [(c.kind, c.amount) for c in room.changes] == [(Kind.ROOM, 16)]
    assert {(c.kind, c.amount) for c in both.changes} == {
        (Kind.LEAVE_OUT, 8),
        (Kind.ROOM, 8),
    }
    assert {c.subject for c in fewer.changes} == {"jelly-0", "jelly-1"}
    assert fewer.says == "it fits without 2 batches of jelly"
    assert fewer.cost_min == 160


def test_where_time_does_not_help_it_says_why_there_are_fewer() -> None:
    # two strong fires at once, and one strong burner: no hours whatever would help
    fire = {"burner_w": 3000.0}
    steps = (step("one", 10, 0, **fire), step("two", 10, 0, **fire), step("mix", 5, 0))
    links = tuple(Link(before=b, after="mix", at_most_min=0) for b in ("one", "two"))
    batch = jelly(process=None, pots=(), ready_after="", steps=steps, links=links)
    found = ways_out(day(batch), counted(20))
    kinds = {c.kind for way in found.ways for c in way.changes}
    assert kinds == {Kind.BURNER, Kind.CANNER}  # the canner brings its own fire
    assert len(found.ways) == 2
    assert "alone and together" in found.why_fewer


def test_what_the_search_reached_is_used() -> None:
    problem = day(jelly(), jelly("jelly-2"), people=2, horizon_min=60)
    reached = with_end_open(problem, counted(4))
    assert reached is not None
    found = ways_out(problem, counted(4), reached=reached)
    most = reached.finish_min - 60
    assert found.ways[0].cost_min <= most


def test_a_plan_without_some_batches_is_a_way_out() -> None:
    problem = day(jelly(), butter(), people=2, horizon_min=150)
    without = changed(problem, (leave_out(problem.batches[1]),))
    plan = with_end_open(without, counted(2))
    assert plan is not None
    shown = PlanOfSome(kept=("jelly-1",), plan=plan)
    found = ways_out(problem, counted(4), shown=shown)
    *others, last = found.ways
    assert (last.says, last.cost_min) == ("it fits without one batch of butter", 70)
    assert last.is_shown
    assert "(the plan shown)" in last.sentence
    # three others beside it, and none that leaves out as much and more besides
    assert len(others) == 3
    for way in others:
        assert not way.is_shown
        assert not is_more_than(way.changes, last.changes)


def test_a_way_that_breaks_a_promise_says_so_and_costs_as_much_more() -> None:
    """A jelly ends at minute 96 at best; promised for minute 50 at weight 2."""
    problem = day(jelly(), jelly("jelly-2"), people=2, horizon_min=100)
    promised = replace(problem, wants=(Want(product="jelly", by_min=50, weight=2),))
    found = ways_out(promised, counted(4))
    assert len(found.ways) == 3
    for way in found.ways:
        there = changed(promised, way.changes)
        late = (
            max(batches_done_min(there, way.timetable).values()) - there.wants[0].by_min
        )
        if late <= 0:
            assert "; but" not in way.says
        else:
            assert way.says.endswith(f"; but jelly comes {said_minutes(late)} late")
            assert way.cost_min == cost_of(promised, way.changes) + 2 * late
    assert any("late" in way.says for way in found.ways)
    costs = [way.cost_min for way in found.ways]
    assert costs == sorted(costs)


def late_comer() -> Problem:
    """A jelly takes 76 min; who makes it comes an hour before the day ends."""
    problem = day(
        jelly(),
        people=(person("Ada", arrives_min=420, leaves_min=480),),
        horizon_min=480,
    )
    return replace(problem, wants=(Want(product="jelly", by_min=150, weight=2),))


def test_a_way_keeps_a_promise_with_no_minute_more_than_that_needs() -> None:
    """To be done by minute 150 she comes at 74: 346 min sooner. Else 16 min do."""
    ways = ways_out(late_comer(), counted(4)).ways
    assert [(way.says.split(":")[0], way.cost_min) for way in ways] == [
        ("it fits if Ada comes 5 h 46 min sooner, at 9", 346),
        ("it fits if Ada comes 16 min sooner, at 14", 16 + 2 * 330),
        ("it fits if the day ends 16 min later, at 16", 16 + 2 * 346),
    ]
    assert ways[0].says.endswith(LESS_BREAKS_A_PROMISE)
    assert ways[1].says.endswith(f"{LESS_DOES_NOT_DO}; but jelly comes 5 h 30 min late")


def an_hour() -> Problem:
    """A day of an hour, at whose end the jelly is promised."""
    ada = person("Ada", leaves_min=60)
    wants = (Want(product="jelly", by_min=60, weight=2),)
    return replace(late_comer(), people=(ada,), horizon_min=60, wants=wants)


def hour_sooner(kind: Kind, amount: int) -> tuple[Problem, Changes, Timetable]:
    """A jelly by hand, 82 min, as soon as who comes, or begins, that much sooner."""
    problem = an_hour() if kind is Kind.STARTS else late_comer()
    changes = (Change(kind=kind, subject="Ada" * (kind is Kind.COMES), amount=amount),)
    plan = by_hand(changed(problem, changes), seconds=0.0)
    assert plan is not None
    return problem, changes, plan


def test_minutes_that_a_plan_does_not_need_are_not_asked_for() -> None:
    """Of 400 min sooner 352 keep the promise; the rest is put off with the work."""
    problem, changes, plan = hour_sooner(Kind.COMES, 400)
    assert plan.finish_min == 20 + 82
    ((fewer,), later) = tightened(problem, changes, plan)
    assert (fewer.amount, later.finish_min) == (352, 150)
    assert violations(changed(problem, (fewer,)), later) == ()


def test_a_way_says_no_more_minutes_than_its_plan_needs() -> None:
    problem, changes, plan = hour_sooner(Kind.COMES, 400)
    node = Node((), Hours(at_end=False, who=("Ada",)))
    way = Way(node, changes, 400, changed(problem, changes), plan, False)
    told = _said(problem, way, plan, False)
    assert told.says.startswith("it fits if Ada comes 5 h 52 min sooner, at 9:08")
    assert (told.cost_min, told.finish_min) == (352, 150)
    # of a change that is proven to be the least nothing is taken
    least = replace(way, least=True)
    assert _said(problem, least, plan, False).cost_min == 400


def test_who_comes_sooner_comes_later_where_the_day_has_time_to_spare() -> None:
    """A plan made to end soon begins at once: put off, 16 min of 400 are enough."""
    problem, changes, plan = hour_sooner(Kind.COMES, 400)
    problem = replace(problem, wants=())
    hours = Hours(at_end=False, who=("Ada",))
    given = hours.less(problem, changed(problem, changes), plan, Time(counted(1)), 0.5)
    assert given is not None
    assert [c.amount for c in given.changes] == [16]
    assert violations(changed(problem, given.changes), given.plan) == ()


def test_an_end_that_keeps_a_promise_is_not_said_to_be_sooner() -> None:
    says = f"it fits if the day ends at 14:00{LESS_BREAKS_A_PROMISE}"
    plan = Timetable(steps=(), loads=(), breaks=())
    way = WayOut(
        says=says, cost_min=1, finish_min=1, done_by="14:00", timetable=plan, changes=()
    )
    assert replace(way, may_be_sooner=True).sentence == says


def test_a_day_that_starts_too_early_starts_later() -> None:
    """A day of an hour needs 22 min more, and not 50; its clock begins anew."""
    problem, changes, plan = hour_sooner(Kind.STARTS, 50)
    ((fewer,), later) = tightened(problem, changes, plan)
    assert (fewer.amount, later.finish_min) == (22, 82)
    assert violations(changed(problem, (fewer,)), later) == ()


def test_a_day_that_ends_too_late_ends_with_its_plan() -> None:
    problem = replace(late_comer(), wants=())
    changes = (Change(kind=Kind.ENDS, amount=90),)
    plan = by_hand(changed(problem, changes), seconds=0.0)
    assert plan is not None
    assert tightened(problem, changes, plan)[0] == (Change(kind=Kind.ENDS, amount=22),)


def test_all_of_a_plan_begun_sooner_may_keep_what_it_promises() -> None:
    """She comes at 300 and is done at 382: 232 min sooner it is in time."""
    problem, changes, plan = hour_sooner(Kind.COMES, 120)
    late = weighted_lateness(changed(problem, changes), plan)
    assert (plan.finish_min, late) == (382, 2 * 232)
    node = Node((), Hours(at_end=False, who=("Ada",)))
    way = Way(node, changes, 120, changed(problem, changes), plan, False, late=late)
    sooner = begun_sooner(problem, way)
    assert sooner is not None
    assert (sooner.cost, sooner.late, sooner.plan.finish_min) == (352, 0, 150)
    assert begun_sooner(problem, sooner) is None


def by_itself(problem: Problem, changes: Changes) -> Timetable:
    """The jelly by hand in 82 min, on a day with changes."""
    plan = by_hand(changed(problem, changes), seconds=0.0)
    assert plan is not None
    assert plan.finish_min == 82
    return plan


def sooner(minutes: int) -> Change:
    return Change(kind=Kind.STARTS, amount=minutes)


def test_a_day_that_starts_sooner_already_starts_so_much_sooner_still() -> None:
    """It ends at 82 of a day that starts 10 min sooner, at whose 70 it is promised."""
    problem, later = an_hour(), Change(kind=Kind.ENDS, amount=12)
    plan = by_itself(problem, (sooner(10), later))
    node = Node((sooner(10),), Hours(at_end=True))
    way = settled(problem, node, (later,), plan, least=False)
    assert way is not None
    assert [late for _, late in late_wants(way.problem, way.plan)] == [12]
    kept = begun_sooner(problem, way)
    assert kept is not None
    assert [c.amount for c in kept.changes if c.kind is Kind.STARTS] == [10 + 12]
    assert (kept.late, kept.cost, kept.least) == (0, 22 + 12, False)


@pytest.mark.parametrize(("starts_at", "may"), [("04:22", True), ("04:21", False)])
def test_a_day_begins_at_four_for_a_promise_and_no_minute_sooner(
    starts_at: str, may: bool
) -> None:
    problem, later = replace(an_hour(), starts_at=starts_at), Change(kind=Kind.ENDS)
    changes = (sooner(10), replace(later, amount=12))
    node, plan = Node((), Hours(at_end=True)), by_itself(problem, changes)
    way = settled(problem, node, changes, plan, least=False)
    assert way is not None
    assert (begun_sooner(problem, way) is not None) == may


def test_room_to_cool_is_asked_for_once_however_soon_a_day_begins() -> None:
    """Eight jars and no place for one; promised 10 min before the end of the day."""
    wants = (Want(product="jelly", by_min=50, weight=2),)
    counter = Counter(places=0, cooling_min=1440)
    problem = replace(an_hour(), wants=wants, counter=counter)
    plan = by_itself(an_hour(), (sooner(22),))
    node = Node((), Hours(at_end=False), room=True)
    way = settled(problem, node, (sooner(22),), plan, least=False)
    assert way is not None
    kept = begun_sooner(problem, way)
    assert kept is not None
    assert {(c.kind, c.amount) for c in kept.changes} == {
        (Kind.STARTS, 32),
        (Kind.ROOM, 8),
    }
    assert len(kept.changes) == 2


def test_minutes_of_one_hour_are_said_together() -> None:
    """However they were found: what is whole in a way, and what gives beside it."""
    problem = an_hour()
    plan = by_itself(problem, (sooner(22),))
    node = Node((sooner(10),), Hours(at_end=False))
    way = settled(problem, node, (sooner(12),), plan, least=False)
    assert way is not None
    assert [(c.kind, c.amount) for c in way.changes] == [(Kind.STARTS, 22)]


# --- changes ---


def test_a_day_that_starts_earlier_keeps_its_clocks() -> None:
    rest = Break(duration_min=10, earliest_min=30, latest_start_min=60)
    people = (
        person("keeper", breaks=(rest,), leaves_min=480),
        person("helper", arrives_min=20, away=((40, 50),)),
    )
    ready = Window(step="boil", earliest_min=25, latest_min=90, why="it is ready")
    supper = Burner(id="strong-1", power_w=3000.0, taken=((60, 90), (0, 5)))
    problem = day(jelly(windows=(ready,)), people=people, done_by_min=300)
    problem = replace(problem, burners=(*problem.burners[:-1], supper))
    earlier = starting_earlier(problem, 15)
    assert [b.taken for b in earlier.burners][-2:] == [(), ((75, 105), (15, 20))]
    assert (earlier.starts_at, earlier.horizon_min) == ("07:45", 495)
    keeper, other = earlier.people
    assert (keeper.arrives_min, keeper.leaves_min) == (0, 495)
    assert (keeper.breaks[0].earliest_min, keeper.breaks[0].latest_start_min) == (
        45,
        75,
    )
    assert (other.arrives_min, other.away) == (35, ((55, 65),))
    window = earlier.batches[0].windows[0]
    assert (window.earliest_min, window.latest_min) == (40, 105)
    assert earlier.done_by_min == 315


def test_what_is_more_than_another() -> None:
    less = (Change(kind=Kind.ENDS, amount=20),)
    out = leave_out(jelly("jelly-1")), leave_out(jelly("jelly-2"))
    assert is_more_than((*less, out[0]), less)
    assert is_more_than((Change(kind=Kind.ENDS, amount=21),), less)
    assert not is_more_than((Change(kind=Kind.ENDS, amount=19), out[0]), less)
    assert is_more_than(out, (out[1],))
    assert is_more_than((out[0],), (out[1],))  # another batch of the same product
    assert not is_more_than((out[0],), out)


def test_changes_are_said_together() -> None:
    problem = day(jelly(), butter(), people=(person("Ada", arrives_min=30),))
    changes = (
        Change(kind=Kind.ENDS, amount=75),
        Change(kind=Kind.COMES, subject="Ada", amount=20),
        leave_out(problem.batches[0]),
        Change(kind=Kind.POT),
    )
    assert said(problem, changes) == (
        "it fits without one batch of jelly, with one more pot like big-1, if Ada "
        "comes 20 min sooner, at 8:10 and the day ends 1 h 15 min later, at 17:15"
    )


def test_the_hour_of_a_want_is_said_only_where_it_tells_batches_apart() -> None:
    due = jelly("jelly-1")
    due = replace(due, product="jelly by 14:30")
    alone = day(due, butter())
    out = (leave_out(due),)
    assert said(alone, out) == "it fits without one batch of jelly"
    both = day(due, jelly("jelly-2"))
    assert said(both, out) == (
        "it fits without one batch of the jelly that is wanted by 14:30"
    )
    assert said(both, (leave_out(both.batches[1]),)) == (
        "it fits without one batch of jelly"
    )


def test_what_comes_late_is_said_of_the_plan_that_is_shown_at_last() -> None:
    """A jelly ends at minute 76; it is searched on after the ways were found."""
    label = "jelly by 9:20"
    batches = (replace(jelly("jelly-1"), product=label), butter())
    problem = day(*batches, people=2, horizon_min=150)
    problem = replace(problem, wants=(Want(product=label, by_min=80),))
    without = changed(problem, (leave_out(batches[1]),))
    plan = with_end_open(without, counted(2))
    assert plan is not None
    assert max(batches_done_min(without, plan).values()) <= 80
    slow = replace(
        plan,
        loads=tuple(
            replace(one, lift_min=one.lift_min + 20, out_min=one.out_min + 20)
            for one in plan.loads
        ),
    )
    late = max(batches_done_min(without, slow).values()) - 80
    assert late > 0
    found = ways_out(
        problem, counted(4), shown=PlanOfSome(kept=("jelly-1",), plan=slow)
    )
    last = found.ways[-1]
    assert last.is_shown
    assert last.says.endswith(
        f"; but jelly, wanted by 9:20, comes {said_minutes(late)} late"
    )
    none = NoPlan(
        clashes=(), minimal=False, would_help=(last.says,),
        ways_out=found.ways,
    )  # fmt: skip
    told = shown_with(problem, none, plan)
    assert told.ways_out[-1].says == "it fits without one batch of butter"
    assert told.ways_out[-1].finish_min == plan.finish_min
    assert told.ways_out[:-1] == found.ways[:-1]
    assert last.says not in told.would_help
    # of other batches than those that are shown nothing is said anew
    assert shown_with(problem, none, replace(plan, steps=())).ways_out == found.ways


# --- through a day file ---


@pytest.fixture(scope="module")
def too_short() -> DayPlan:
    """Two batches take 119 min; the day has 110."""
    ends = dt.time(9, 50)
    plan = plan_the_day(
        day_of_file(
            people=(helper(goes=ends), helper("Ben", comes=dt.time(9), goes=ends)),
            ends=ends,
        ),
        seconds=3.0,
        workers=1,
        deterministic=True,
    )
    assert isinstance(plan, DayPlan)
    return plan


def test_each_way_is_a_change_of_the_day_file(too_short: DayPlan) -> None:
    none = too_short.too_much or too_short.answer
    assert isinstance(none, NoPlan)
    *others, shown = none.ways_out  # the last says what is left out already
    assert shown.is_shown
    assert len(others) == 3
    assert not any(way.is_shown for way in others)
    text = write_day(too_short.day)
    for way in none.ways_out:
        assert way.typed
        other = read_day(changed_day_text(text, way.typed))

        def judged(problem: Problem, plan=way.timetable) -> NoneFound:
            assert violations(problem, plan) == ()
            return NoneFound(impossible=False, bound_min=0, bound_why="", reached=None)

        # the batches of the changed file, and the judge in the planner's stead
        plan_the_day(other, seconds=0.1, answer_of=judged, explain=False)
        assert way.done_by in way.sentence


# --- what a batch that is left out weighs ---


def test_pears_that_will_not_keep_weigh_more_than_frozen_juice() -> None:
    # one day, both matter as most things do: 4 + 2 x 3 + 0 = 10 for each jar of frozen
    # juice, 30 more for each of pears that are to be used within two days
    today = day_of_file(
        FileWant(product="plum jelly", jars=8, jar="half-pint"),
        FileWant(product="pear butter", jars=4, jar="pint"),
        shelf=(
            juice("plum juice", bags=1),
            Lot(
                name="pears",
                what="pears",
                mass_kg=9.0,
                use_by=dt.date(2026, 8, 23),
            ),
            *stores(),
        ),
        date=dt.date(2026, 8, 22),
        people=(helper(goes=dt.time(10, 50)),),
        ends=dt.time(10, 50),
    )
    plan = plan_the_day(today, seconds=2.0, workers=1, deterministic=True)
    assert isinstance(plan, DayPlan)
    # the day has 170 min, the butter alone takes 164: it is kept, the jelly left out
    assert [out.product for out in plan.left_out] == ["plum jelly"]
    none = plan.too_much
    assert none is not None
    shown = none.ways_out[-1]
    assert shown.is_shown
    assert shown.cost_min == 8 * 10
    assert "wants.plum jelly=nothing" in shown.typed or "without" in shown.typed
    for way in none.ways_out:
        for change in way.changes:
            if change.product == "pear butter":
                assert change.a_jar == 40


@pytest.mark.parametrize(
    ("more", "less"),
    [
        ((0, 1, False), (1, 5, True)),  # what will not keep, whatever else matters
        ((1, 1, False), (2, 5, True)),
        ((2, 4, False), (2, 3, True)),  # what matters, before what sells
        ((2, 3, True), (2, 3, False)),
    ],
)
def test_a_jar_weighs_in_the_order_of_what_is_missed(
    more: tuple[int, int, bool], less: tuple[int, int, bool]
) -> None:
    assert weight_min(*more) > weight_min(*less)


# --- batches that are named ---


def test_a_batch_left_out_by_name_is_not_made_and_keeps_its_fruit() -> None:
    today = day_of_file(
        FileWant(product="plum jelly", jars=15, jar="half-pint"),
        shelf=(juice("plum juice", bags=2), *stores()),
    )
    whole = plan_the_day(today, seconds=0.5, workers=1)
    assert isinstance(whole, DayPlan)
    assert [b.id for b in whole.batches] == ["plum jelly 1", "plum jelly 2"]
    text = changed_day_text(write_day(today), 'day.without="plum jelly 1"')
    fewer = plan_the_day(read_day(text), seconds=0.5, workers=1)
    assert isinstance(fewer, DayPlan)
    assert [b.id for b in fewer.batches] == ["plum jelly 2"]  # it keeps its name
    assert fewer.left_out == ()
    assert any("leaves out plum jelly 1" in c.text for c in fewer.cautions)
    bags = next(held for held in fewer.leftovers if "plum juice" in held.lot)
    assert "frozen" in " ".join(bags.choices)


def test_a_way_that_no_fewer_wanted_jars_can_say_names_its_batch() -> None:
    # two wants of one jelly: the file has no one row whose jars could be fewer
    ends = dt.time(9, 50)
    plan = plan_the_day(
        day_of_file(
            FileWant(product="plum jelly", jars=8, jar="half-pint"),
            FileWant(
                product="plum jelly", jars=8, jar="half-pint", purpose=Purpose.STAND
            ),
            shelf=(juice("plum juice", bags=2), *stores()),
            people=(helper(goes=ends), helper("Ben", comes=dt.time(9), goes=ends)),
            ends=ends,
        ),
        seconds=3.0,
        workers=1,
        deterministic=True,
    )
    assert isinstance(plan, DayPlan)
    none = plan.too_much
    assert none is not None
    for way in none.ways_out:
        assert way.typed
        assert way.why_not_typed == ""
        if any(c.kind is Kind.LEAVE_OUT for c in way.changes):
            assert way.typed.startswith('day.without="plum jelly ')


def test_nothing_left_is_said_in_words() -> None:
    today = day_of_file(
        FileWant(product="plum jelly", jars=8, jar="half-pint"),
        shelf=(juice("plum juice", bags=1), *stores()),
        without=("plum jelly 1",),
    )
    plan = plan_the_day(today, seconds=0.5, workers=1)
    assert isinstance(plan, DayPlan)
    assert plan.answer is None
    assert any("leaves out plum jelly 1" in c.text for c in plan.cautions)


def test_a_way_that_cannot_be_typed_says_why() -> None:
    # a semicolon parts changes: somebody whose name holds one cannot be named in them
    ends = dt.time(9, 50)
    plan = plan_the_day(
        day_of_file(people=(helper("Ada; Ben", goes=ends),), ends=ends),
        seconds=0.5,
        workers=1,
    )
    assert isinstance(plan, DayPlan)
    none = plan.too_much or plan.answer
    assert isinstance(none, NoPlan)
    assert none.ways_out
    for way in none.ways_out:
        assert way.typed == ""
        assert "holds a sign that parts changes" in way.why_not_typed


def test_a_search_without_time_still_finds_ways_that_hold() -> None:
    """Jelly and butter end at minute 181; the day has 150, and no second is given."""
    problem = day(jelly(), butter(), people=2, horizon_min=150)
    over = Search(time.monotonic() - 1.0, 1, 1, False, 0.1)
    found = ways_out(problem, over)
    assert found.ways
    for way in found.ways:
        assert violations(changed(problem, way.changes), way.timetable) == ()
    assert (len(found.ways) == 3) == (found.why_fewer == "")


@pytest.mark.parametrize(
    ("says", "proven", "said"),
    [
        ("it fits if the day ends 4 h later, at 16:19", False, "; done by 16:19 or"),
        (
            "it fits if the day ends at 16:19: less does not do",
            False,
            "less does not do",
        ),
        ("it fits if the day ends 4 h later, at 16:19", True, "later, at 16:19"),
    ],
)
def test_an_end_that_may_be_sooner_is_said_so_where_it_is_the_change_too(
    says: str, proven: bool, said: str
) -> None:
    way = WayOut(
        says=says,
        cost_min=1,
        finish_min=499,
        done_by="16:19",
        timetable=Timetable(steps=(), loads=(), breaks=()),
        may_be_sooner=not proven,
    )
    assert said in way.sentence
    assert ("or sooner" in way.sentence) == said.endswith("or")


@pytest.mark.parametrize(
    ("starts_at", "may_start"), [("04:30", 0), ("04:40", 1), ("00:30", 0)]
)
def test_no_way_begins_in_the_night_where_the_start_is_sooner_already(
    starts_at: str, may_start: int
) -> None:
    """A day from 4:30, 20 min sooner already: 10 are left; 40 and 20 are tried."""
    whole = replace(day(jelly(), people=2), starts_at=starts_at, horizon_min=60)
    starts = Change(kind=Kind.STARTS, amount=20)
    later = Change(kind=Kind.ENDS, amount=40)
    longer = changed(whole, (starts, later))
    plan = by_hand(longer)
    assert plan is not None
    node = Node((starts,), Hours(at_end=True))
    way = Way(node, (starts, later), 60, longer, plan, least=False)
    time_left = Time(counted(1.0))
    found = [f.problem.starts_at for f in at_the_start(whole, way, time_left)]
    assert found == ["04:00"] * may_start


@pytest.mark.parametrize(
    ("starts_at", "earlier"),
    [("06:30", 150), ("04:00", 0), ("00:30", 0), ("03:59", 0)],
)
def test_no_hours_at_the_start_reach_into_the_night(
    starts_at: str, earlier: int
) -> None:
    whole = replace(day(jelly(), people=2), starts_at=starts_at)
    assert most_earlier(whole) == earlier
    assert Hours(at_end=False).most(whole) == earlier
    first, second = whole.people
    late = replace(whole, people=(first, replace(second, arrives_min=60)))
    assert Hours(at_end=False, who=(second.id,)).most(late) == 60 + earlier
