"""The day up to now: what was said is true, the rest went in the plan's order."""

import random
from dataclasses import replace
from itertools import pairwise

import pytest

from stillroom.planning.begun.as_known import Said, as_known
from stillroom.planning.begun.as_planned import as_planned
from stillroom.planning.begun.loads_seen import SOON_MIN
from stillroom.planning.begun.over import SeenLoad
from stillroom.planning.day_odds.odds import odds_of
from stillroom.planning.plan import plan_day
from stillroom.planning.second_thoughts.replan import replan
from stillroom.planning.timetable import Answer
from tests.planning.small_days import butter, day, jelly, person


@pytest.fixture(scope="module")
def two_people():
    problem = day(
        jelly("jelly-1"), jelly("jelly-2"), jelly("jelly-3"), butter(),
        people=(person("Ada"), person("Ben")),
    )  # fmt: skip
    answer = plan_day(problem, seconds=3)
    assert isinstance(answer, Answer)
    return problem, answer.timetable


def boils(plan, now):
    """Loads that were seen to boil, and to come out, by the plan's own minutes."""
    return {
        load.id: SeenLoad(
            boil_min=load.boil_min,
            lifted_min=load.lift_min if load.lift_min < now else None,
        )
        for load in plan.loads
        if load.boil_min <= now
    }


@pytest.mark.parametrize("now", [1, 20, 45, 70, 95, 120])
def test_where_nobody_says_anything_the_day_went_to_plan(two_people, now):
    problem, plan = two_people
    known = as_known(problem, plan, now, Said(loads=boils(plan, now)))
    expected = as_planned(problem, plan, now)
    assert set(known.happened.steps) == set(expected.steps)
    assert {x.id for x in known.happened.loads} == {x.id for x in expected.loads}
    assert known.by_plan >= {(s.batch, s.step) for s in expected.steps}


def test_a_step_that_was_said_done_ends_when_it_was_said(two_people):
    problem, plan = two_people
    first = min(plan.steps, key=lambda s: s.end_min)
    key = (first.batch, first.step)
    known = as_known(problem, plan, 50, Said(ended_min={key: first.end_min + 7}))
    assert known.happened.begun[key].end_min == first.end_min + 7
    assert key not in known.by_plan


def test_what_follows_a_late_step_is_later_too_and_not_undone(two_people):
    """The boil ended 15 late an hour ago: sugar, boil and skim came right after it."""
    problem, plan = two_people
    boil = min((s for s in plan.steps if s.step == "boil"), key=lambda s: s.start_min)
    key = (boil.batch, "boil")
    now = boil.end_min + 60
    said = Said(ended_min={key: boil.end_min + 15})
    begun = as_known(problem, plan, now, said).happened.begun
    was = {(s.batch, s.step): s for s in plan.steps}
    for step in ("sugar", "hard_boil", "skim"):
        if (boil.batch, step) in was:
            now_at, then = begun[boil.batch, step], was[boil.batch, step]
            assert now_at.start_min >= then.start_min + 15
            assert now_at.end_min <= now


def test_what_must_be_over_is_over_although_nobody_said_so(two_people):
    """She is ahead: a batch's lids are on ten minutes before the plan."""
    problem, plan = two_people
    lid = min((s for s in plan.steps if s.step == "lid"), key=lambda s: s.start_min)
    now = lid.end_min - 10
    said = Said(ended_min={(lid.batch, "lid"): now})
    begun = as_known(problem, plan, now, said).happened.begun
    batch = next(b for b in problem.batches if b.id == lid.batch)
    before = {k.before for k in batch.links if k.after == "lid"}
    for step in before:
        assert begun[lid.batch, step].end_min <= begun[lid.batch, "lid"].start_min


IN_TURN = ("boil", "full_boil", "hard_boil", "skim", "fill", "lid")


@pytest.fixture(scope="module")
def two_jellies():
    problem = day(jelly("jelly-1"), jelly("jelly-2"))
    plan = plan_day(problem, seconds=1).timetable
    return problem, plan, min(plan.loads, key=lambda x: x.lower_min)


@pytest.mark.parametrize("sooner", [0, 240])
@pytest.mark.parametrize("tapped", [("boil",), ("fill", "lid"), IN_TURN])
def test_what_was_tapped_off_after_its_jars_came_out_was_over_before(
    two_jellies, tapped, sooner
):
    """In the order of the work, before the jars went in; odds go by that past.

    With ``sooner`` she came four hours before the hour of the file, too.
    """
    problem, plan, load = two_jellies
    first = load.jars[0][0]
    seen = SeenLoad(boil_min=load.boil_min - sooner, lifted_min=load.lift_min - sooner)
    now = load.out_min + len(tapped)
    ended = {(first, name): load.out_min + n for n, name in enumerate(tapped)}
    said = Said(ended_min=ended, loads={load.id: seen})
    known = as_known(problem, plan, now, said)
    begun = known.happened.begun
    assert begun[first, "lid"].end_min <= load.lower_min - sooner
    assert all(s.start_min <= s.end_min for s in known.happened.steps)
    for before, after in pairwise(IN_TURN):
        assert begun[first, before].end_min <= begun[first, after].start_min
    assert not {(first, name) for name in tapped} & known.by_plan
    again = replan(problem, plan, known.happened, seconds=1.0)
    odds = odds_of(problem, again.new, days=200, since_min=now)
    assert abs(odds.even_min - again.new.finish_min) <= 15


def test_a_least_wait_lies_before_what_is_known_to_be_over(two_jellies):
    """The lid was on at its minute; the filling before it was tapped off late."""
    problem, plan, load = two_jellies
    first = load.jars[0][0]
    waits = replace(
        problem,
        batches=tuple(
            replace(
                b,
                links=tuple(
                    replace(k, at_least_min=10, at_most_min=None)
                    if (k.before, k.after) == ("fill", "lid")
                    else k
                    for k in b.links
                ),
            )
            for b in problem.batches
        ),
    )
    lid = next(s for s in plan.steps if (s.batch, s.step) == (first, "lid"))
    ended = {(first, "lid"): lid.end_min, (first, "fill"): lid.end_min + 5}
    begun = as_known(waits, plan, lid.end_min + 6, Said(ended_min=ended)).happened.begun
    assert begun[first, "lid"].end_min == lid.end_min
    assert begun[first, "fill"].end_min <= lid.end_min - 10


def test_what_was_said_begun_keeps_its_minute_where_its_end_was_tapped_late(
    two_jellies,
):
    problem, plan, load = two_jellies
    key = (load.jars[0][0], "lid")
    said = Said(
        began_min={key: load.lower_min - 2},
        ended_min={key: load.out_min},
        loads={load.id: SeenLoad(boil_min=load.boil_min, lifted_min=load.lift_min)},
    )
    lid = as_known(problem, plan, load.out_min + 1, said).happened.begun[key]
    assert (lid.start_min, lid.end_min) == (load.lower_min - 2, load.lower_min)


def test_a_step_that_needs_more_runs_on_from_now(two_people):
    problem, plan = two_people
    cook = next(s for s in plan.steps if s.step == "cook")
    now = cook.end_min - 3
    known = as_known(problem, plan, now, Said(more_min={(cook.batch, "cook"): 25}))
    assert known.happened.begun[cook.batch, "cook"] == replace(cook, end_min=now + 25)
    follows = {s.step for s in known.happened.steps if s.batch == cook.batch}
    assert not follows & {"fill", "lid"}


def test_a_step_that_has_not_begun_holds_back_what_follows(two_people):
    problem, plan = two_people
    boil = min((s for s in plan.steps if s.step == "boil"), key=lambda s: s.start_min)
    said = Said(not_begun=frozenset({(boil.batch, "boil")}))
    begun = as_known(problem, plan, boil.end_min + 5, said).happened.begun
    assert (boil.batch, "boil") not in begun
    assert (boil.batch, "skim") not in begun


def test_a_boil_that_nobody_reported_is_not_thought_to_run(two_people):
    """No clock starts before a full boil is said: the load is in, and comes to it."""
    problem, plan = two_people
    load = min(plan.loads, key=lambda load: load.lower_min)
    now = load.boil_min + 3
    kept = as_known(problem, plan, now, Said()).happened.loads
    mine = next(one for one in kept if one.id == load.id)
    assert mine.boil_min == now + SOON_MIN
    assert mine.done_min - mine.boil_min == load.process_min
    lost = Said(loads={load.id: SeenLoad(lost=True)})
    mine = as_known(problem, plan, now, lost).happened.loads[0]
    assert (mine.boil_min, mine.done_min) == (
        now + SOON_MIN,
        now + SOON_MIN + load.process_min,
    )


@pytest.mark.parametrize("seed", range(8))
def test_a_day_that_goes_its_own_way_can_be_planned_again_at_any_minute(
    two_people, seed
):
    """Steps end early and late, half of them are said; each plan passes the judge."""
    problem, plan = two_people
    drawn = random.Random(seed)
    now = drawn.randrange(5, plan.finish_min)
    said = {
        (s.batch, s.step): min(now, max(1, s.end_min + drawn.randrange(-3, 12)))
        for s in plan.steps
        if s.end_min <= now and drawn.random() < 0.5
    }
    late, loads = 0, {}
    for load in sorted(plan.loads, key=lambda load: load.boil_min):
        late += drawn.randrange(0, 6)
        if load.boil_min + late <= now:
            out = load.lift_min + late
            loads[load.id] = SeenLoad(
                boil_min=load.boil_min + late, lifted_min=out if out <= now else None
            )
    known = as_known(problem, plan, now, Said(ended_min=said, loads=loads))
    found = replan(problem, plan, known.happened, seconds=0.8)
    assert set(known.happened.steps) <= set(found.new.steps)
    clocks = {(x.id, x.boil_min, x.done_min) for x in found.new.loads}
    assert {(x.id, x.boil_min, x.done_min) for x in known.happened.loads} <= clocks
