"""Properties of second thoughts that hold for every day, whatever was tapped of it."""

from __future__ import annotations

import json
import random
import tempfile
from dataclasses import replace
from pathlib import Path

from hypothesis import HealthCheck, assume, event, given, settings
from hypothesis import strategies as st
from planning.day_strategies_small import random_days, random_pan_days

from stillroom.planning.answering import BrokenPlan
from stillroom.planning.begun.as_known import Said, as_known
from stillroom.planning.begun.changes import Changes, with_changes
from stillroom.planning.begun.happened_file import clock_minute, read_happened
from stillroom.planning.begun.moved_rests import to_come
from stillroom.planning.begun.over import SeenLoad
from stillroom.planning.begun.slipped import as_it_slipped
from stillroom.planning.daytime import clock_time
from stillroom.planning.hand.by_hand import by_hand
from stillroom.planning.happened import Happened
from stillroom.planning.judge.check import violations
from stillroom.planning.plan import plan_day
from stillroom.planning.problem import Problem
from stillroom.planning.second_thoughts.replan import replan
from stillroom.planning.second_thoughts.replan_changed import replan_changed
from stillroom.planning.second_thoughts.replanned import Replanned
from stillroom.planning.timetable import Answer, Timetable
from stillroom.planning.ways.held_plan import only
from stillroom.planning.ways.put_behind import with_the_others
from stillroom.planning.why_not.refuse import refuse_nonsense
from stillroom.refusal import Refusal, Unreadable
from tests.planning.judged_again import judged
from tests.planning.small_days import day, jelly

ALL = tuple(HealthCheck)
SECONDS = 0.3
LONG_ENOUGH_S = 2.0
"""For one case alone: what there is at the stove, also where other work runs."""
MORNING, NIGHT = "08:00", "22:30"


def tapped(r: random.Random, plan: Timetable, now: int) -> Said:
    """Some steps and boils of a plan that somebody said, by and by."""
    loads: dict[str, SeenLoad] = {}
    # no clock starts in a canner that holds another load
    free = {load.canner: 0 for load in plan.loads}
    for load in sorted(plan.loads, key=lambda load: load.lower_min):
        since = max(load.lowered_min, free[load.canner])
        if since > now or r.random() < 0.4:
            continue
        boil = r.randint(since, now)
        lost = r.random() < 0.2
        out = None
        if not lost and boil + load.process_min <= now and r.random() < 0.5:
            out = r.randint(boil + load.process_min, now)
        free[load.canner] = now + 1 if out is None else out
        loads[load.id] = SeenLoad(
            boil_min=None if lost else boil, lifted_min=out, lost=lost
        )
    seen = (load for load in plan.loads if load.id in loads)
    aboard = {name for load in seen for name, _ in load.jars}
    lag = r.choice([0, 0, 10, 60, 240])
    ended, began = {}, {}
    for s in plan.steps:
        if s.batch in aboard:  # its jars were said, and say enough
            continue
        key = (s.batch, s.step)
        if s.end_min + lag <= now and r.random() < 0.5:
            ended[key] = min(now, s.end_min + r.randint(0, lag))
        elif s.start_min <= now and r.random() < 0.4:
            began[key] = r.randint(min(s.start_min - 10, now), now)
    more = {key: r.randint(1, 60) for key in began if r.random() < 0.3}
    return Said(ended_min=ended, began_min=began, loads=loads, more_min=more)


def written(r: random.Random, problem: Problem, plan: Timetable, now: int) -> Happened:
    """What a file of times says; those of the night as the plan writes them."""
    links = {batch.id: batch.links for batch in problem.batches}
    told: dict[tuple[str, str], int] = {}
    rows = []
    for s in sorted(plan.steps, key=lambda s: s.start_min):
        if s.start_min > now or r.random() < 0.6:
            continue
        # told the wrong way round it is refused: what comes first began first
        before = [
            told.get((s.batch, link.before), s.start_min)
            for link in links[s.batch]
            if link.after == s.step
        ]
        began = r.randint(max([s.start_min, *before]), now)
        told[s.batch, s.step] = began
        row = {"batch": s.batch, "step": s.step}
        row["started"] = clock_time(problem.starts_at, began)
        if r.random() < 0.6:
            ended = clock_time(problem.starts_at, r.randint(began, now))
            row["finished"] = ended
        rows.append(row)
    rest = r.choice(["as planned", "not begun"])
    with tempfile.TemporaryDirectory() as folder:
        file = Path(folder) / "happened.json"
        file.write_text(json.dumps({"steps": rows, "rest": rest}), encoding="utf-8")
        return read_happened(file, problem, plan, now)


def happened(r: random.Random, problem: Problem, plan: Timetable, now: int) -> Happened:
    how = r.choice(["tapped", "written", "slipped"])
    event(how)
    if how == "tapped":
        return as_known(problem, plan, now, tapped(r, plan, now)).happened
    if how == "written":
        return written(r, problem, plan, now)
    begun = [s for s in plan.steps if s.start_min < now]
    late = r.sample(begun, min(len(begun), r.randint(0, 2)))
    slips = {(s.batch, s.step): r.randint(1, 200) for s in late}
    return as_it_slipped(problem, plan, now, slips)


def hold(found: Replanned) -> None:
    """The past is as it was, what is open begins from now on, each load has a name."""
    then, new = found.happened, found.new
    begun = then.begun
    assert [s for s in new.steps if (s.batch, s.step) in begun] == sorted(
        then.steps, key=lambda s: new.steps.index(s)
    )
    assert all(
        s.start_min >= then.now_min for s in new.steps if (s.batch, s.step) not in begun
    )
    names = [load.id for load in new.loads]
    assert len(names) == len(set(names))
    assert {load.id for load in then.loads} <= set(names)
    assert found.sentence
    assert all(words for words, _ in found.gives_way)


@settings(max_examples=60, deadline=None, suppress_health_check=ALL)
@given(st.one_of(random_days(), random_pan_days()), st.randoms(use_true_random=False))
def test_the_rest_of_any_day_can_be_planned_again(
    problem: Problem, r: random.Random
) -> None:
    """By day and by night, alone or with others, with and without a canner or jars."""
    try:
        refuse_nonsense(problem)
    except Unreadable:
        assume(False)
    for batch in problem.batches:  # a pot that stands on a fire may stay on it
        fires = {s.burner_w for s in batch.steps if s.in_pot and s.burner_w}
        assume(len(fires) < 2)
    problem = replace(problem, starts_at=r.choice([MORNING, NIGHT]))
    plan = by_hand(problem, shuffles=1)
    assume(plan is not None)
    assert plan is not None
    now = r.choice([r.randint(0, plan.finish_min), r.randint(0, 700)])
    then = happened(r, problem, plan, now)
    try:
        found = planned_again(r, problem, plan, then)
    except BrokenPlan as wrong:
        # what was told has one fire or canner in two places: that is said, and no more
        for said in str(wrong).split("; "):
            assert said.endswith(" at once") or " while canner " in said, said
        event("in two places")
        return
    if isinstance(found, Refusal):
        event("refused")
        return
    hold(found)


def planned_again(
    r: random.Random, problem: Problem, plan: Timetable, then: Happened
) -> Replanned | Refusal:
    """As it is, or with who goes or comes, a canner that broke, a batch left out."""
    if r.random() < 0.6:
        return replan(problem, plan, then, seconds=SECONDS)
    goes = {p.id: r.randint(0, 400) for p in problem.people if r.random() < 0.3}
    drop = tuple(b.id for b in problem.batches if r.random() < 0.3)
    broken = tuple(c.id for c in problem.canners if r.random() < 0.2)
    back = {p.id: r.randint(0, 400) for p in problem.people if r.random() < 0.3}
    moved = {
        (one.person, one.start_min): r.randint(then.now_min, 400)
        for one in to_come(problem, plan, then)
        if then.now_min <= 400 and r.random() < 0.4
    }
    changes = Changes(
        leaves_min=goes, back_min=back, moved_min=moved, broken=broken, dropped=drop
    )
    changed = with_changes(problem, plan, then, changes)
    if isinstance(changed, Refusal):
        return changed
    finish = plan.finish_min
    return replan_changed(changed, then, seconds=SECONDS, promised_min=finish)


@given(st.sampled_from([MORNING, NIGHT, "05:59", "18:00"]), st.integers(0, 23 * 60))
def test_what_the_plan_writes_of_an_hour_is_read_as_that_hour(
    starts: str, minute: int
) -> None:
    assert clock_minute(clock_time(starts, minute), starts, "--now") == minute


def planned() -> tuple[Problem, Timetable]:
    problem = day(jelly("a"), jelly("b"), people=1)
    answer = plan_day(problem, seconds=1)
    assert isinstance(answer, Answer)
    return problem, answer.timetable


def test_a_load_that_went_in_before_its_turn_keeps_its_name() -> None:
    """The second load boils, the first has not begun: both were called the second."""
    problem = replace(
        day(jelly("a"), jelly("b"), people=1),
        canners=(replace(day().canners[0], places={"half_pint": 8}),),
    )
    answer = plan_day(problem, seconds=1)
    assert isinstance(answer, Answer)
    plan = answer.timetable
    first, second = sorted(plan.loads, key=lambda load: load.boil_min)
    now = second.boil_min + 1
    batch = first.jars[0][0]
    waits = frozenset(
        (s.batch, s.step) for s in plan.steps if s.batch == batch and s.step != "boil"
    )
    said = Said(
        loads={second.id: SeenLoad(boil_min=second.boil_min)},
        not_begun={*waits, (first.id, "lower"), (batch, "boil")},
    )
    then = as_known(problem, plan, now, said).happened
    assert [load.id for load in then.loads] == [second.id]
    found = replan(problem, plan, then, seconds=LONG_ENOUGH_S)
    hold(found)
    assert judged(found) == ()
    assert {load.id for load in found.new.loads} == {first.id, second.id}


def test_what_comes_before_a_step_that_was_said_begun_is_over() -> None:
    """Begun before the day's hour, and what it waits for was never said."""
    problem, plan = planned()
    first = min(plan.steps, key=lambda s: s.start_min)
    batch = next(b for b in problem.batches if b.id == first.batch)
    after = next(k.after for k in batch.links if k.before == first.step)
    said = Said(began_min={(batch.id, after): -5})
    then = as_known(problem, plan, 3, said).happened
    begun = then.begun
    assert begun[batch.id, first.step].end_min <= -5
    assert begun[batch.id, after].start_min == -5
    hold(replan(problem, plan, then, seconds=LONG_ENOUGH_S))


def test_a_batch_that_is_put_behind_takes_no_name_of_a_load() -> None:
    """What has happened is told by the names of loads: those of the plan stay."""
    problem, plan = planned()
    load = next(x for x in plan.loads if ("a", 8) in x.jars)
    alone = only(problem, ["a"])
    kept = Timetable(
        steps=tuple(s for s in plan.steps if s.batch == "a"),
        loads=(replace(load, id="canner/2", jars=(("a", 8),), hot=False),),
        breaks=(),
    )
    assert violations(alone, kept) == ()
    both = with_the_others(replace(problem, horizon_min=2000), kept, ["b"])
    assert both is not None
    names = {name: load.id for load in both.loads for name, _ in load.jars}
    assert names["a"] == "canner/2"
    assert {load.id for load in both.loads} <= {"canner/1", "canner/2"}


def test_two_pots_that_were_on_one_fire_are_of_the_past() -> None:
    """Told in another order than that of the clock; one of the two is on it still."""
    problem = day(jelly("a"), jelly("b"), big_pots=2, people=2)
    answer = plan_day(problem, seconds=1)
    assert isinstance(answer, Answer)
    plan = answer.timetable
    first, second = sorted(
        (s for s in plan.steps if s.step == "boil"), key=lambda s: s.start_min
    )
    now = second.start_min + 3
    on_it = replace(first, start_min=now - 10, end_min=now - 1)
    still = replace(second, start_min=now - 11, end_min=now + 4, burner=first.burner)
    then = Happened(now_min=now, steps=(on_it, still), loads=())
    assert first.batch != second.batch
    hold(replan(problem, plan, then, seconds=LONG_ENOUGH_S))
