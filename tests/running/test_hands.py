"""What each person does now and next: the plan in its order, less what is done."""

import datetime as dt
from dataclasses import replace

import pytest

from stillroom.planning.day_file.dayfile import demo_day_text, read_day
from stillroom.planning.dayplan import DayPlan
from stillroom.planning.timetable import Answer
from stillroom.planning.whole_day import plan_the_day
from stillroom.running.behind_us import behind_us
from stillroom.running.events import (
    AnyEvent,
    BoilLost,
    DayBegun,
    FullBoilReached,
    JarBroke,
    KeptPlan,
    LoadLifted,
    PlanTaken,
    StepBegun,
    StepDone,
)
from stillroom.running.fold import fold
from stillroom.running.hands import hands, has_step
from stillroom.running.loads import loads_of

START = dt.datetime(2026, 8, 22, 7, 30, tzinfo=dt.UTC)


@pytest.fixture(scope="module")
def plan() -> DayPlan:
    """The demo day, which is invented."""
    planned = plan_the_day(read_day(demo_day_text()), seconds=0.5)
    assert isinstance(planned, DayPlan)
    assert isinstance(planned.answer, Answer)
    return planned


def test_at_first_everyone_has_the_first_thing_of_the_plan(plan: DayPlan):
    begun = DayBegun(loads=loads_of(plan), occurred_at=START)
    shown = hands(plan, fold([begun]))
    assert [one.person for one in shown] == [
        person.id for person in plan.problem.people
    ]
    for one in shown:
        firsts = [
            *(
                s.start_min
                for s in plan.answer.timetable.steps
                if s.person == one.person
            ),
            *(
                load.lower_min
                for load in plan.answer.timetable.loads
                if load.lowered_by == one.person
            ),
        ]
        assert (one.now.start_min if one.now else None) == min(firsts, default=None)
        assert one.then is None or one.then.start_min >= one.now.start_min


def test_followed_to_the_end_every_step_comes_once_and_nothing_is_left(plan: DayPlan):
    """Hands that do what they are shown come through the whole plan."""
    events: list[AnyEvent] = [DayBegun(loads=loads_of(plan), occurred_at=START)]
    ids = {load.name: load.id for load in loads_of(plan)}
    done = []
    while now := [one.now for one in hands(plan, fold(events)) if one.now]:
        next_ = min(now, key=lambda todo: todo.start_min)
        if next_.load:
            load = ids[next_.load]
            events.append(FullBoilReached(load=load, occurred_at=START))
            events.append(LoadLifted(load=load, occurred_at=START))
            continue
        done.append((next_.batch, next_.step))
        events.append(StepDone(batch=next_.batch, step=next_.step, occurred_at=START))
    by_hand = [(s.batch, s.step) for s in plan.answer.timetable.steps if s.person]
    assert sorted(done) == sorted(by_hand)
    assert all(has_step(plan, *each) for each in done)


def test_what_was_never_said_done_goes_when_its_jars_are_in_the_canner(plan: DayPlan):
    """Wet hands do not tap every step; nobody goes back to what is on its clock."""
    first = loads_of(plan)[0]
    aboard = {batch for batch, _ in first.jars}
    (batch,) = aboard & {b.id for b in plan.problem.batches}
    others = [load for load in loads_of(plan)[1:] if batch in dict(load.jars)]
    fill = next(b for b in plan.problem.batches if b.id == batch).ready_after
    begun = DayBegun(loads=loads_of(plan), occurred_at=START)

    def to_do(*events: AnyEvent) -> set[tuple[str, str]]:
        state = fold([begun, *events])
        shown = hands(plan, state)
        listed = [t for one in shown for t in (one.now, one.step, one.then) if t]
        could = [todo for one in shown for _, todo in one.could]
        return {(todo.batch, todo.step) for todo in listed + could}

    boils = [
        FullBoilReached(load=load.id, occurred_at=START) for load in (first, *others)
    ]
    over = behind_us(plan.problem, fold([begun, *boils]))
    assert (batch, fill) in over
    assert any(key in over for key in to_do()), "it was there before"
    assert not to_do(*boils) & over
    lost = BoilLost(load=first.id, occurred_at=START)
    assert not to_do(*boils, lost) & over, "its jars stay closed in the canner"


def test_a_batch_is_filled_on_while_jars_of_it_are_still_to_be_canned(plan: DayPlan):
    """A load that waits keeps the steps of its batch; a pot is washed in the end."""
    problem, loads = plan.problem, loads_of(plan)
    begun = DayBegun(loads=loads, occurred_at=START)
    for load in loads:
        boils = [
            FullBoilReached(load=other.id, occurred_at=START)
            for other in loads
            if other.id != load.id
        ]
        over = behind_us(problem, fold([begun, *boils]))
        assert not {batch for batch, _ in over} & {batch for batch, _ in load.jars}
    all_in = [FullBoilReached(load=load.id, occurred_at=START) for load in loads]
    over = behind_us(problem, fold([begun, *all_in]))
    assert {(b.id, b.ready_after) for b in problem.batches} <= over
    pots = {
        (b.id, s.id) for b in problem.batches for s in b.steps if s.id == "wash_pot"
    }
    assert pots
    assert not pots & over


def test_at_a_fire_it_says_how_closely_it_is_watched_and_who_may_take_it(
    plan: DayPlan,
):
    """May I leave the stove: by the quarters of a person that the plan gives for it."""
    events: list[AnyEvent] = [DayBegun(loads=loads_of(plan), occurred_at=START)]
    placed = {(s.batch, s.step): s for s in plan.answer.timetable.steps}
    works = {(b.id, s.id): s for b in plan.problem.batches for s in b.steps}
    watched = {1: "Look in", 2: "Stay in the kitchen", 3: "Stay beside it", 4: "Called"}
    skilled = {p.id for p in plan.problem.people if "pan" in {*map(str, p.skills)}}
    seen = set()
    while now := [one for one in hands(plan, fold(events)) if one.now and one.now.step]:
        todo, person = now[0].now, now[0].person
        key = (todo.batch, todo.step)
        if works[key].burner_w and placed[key].quarters:
            assert todo.called_away.startswith(watched[placed[key].quarters])
            assert "alled away: fire off first" in todo.called_away
            assert person not in todo.called_away
            seen.add(placed[key].quarters)
            long = placed[key].end_min - placed[key].start_min > 5
            assert bool(todo.look_in_min) is (placed[key].quarters == 1 and long)
            if "hand it to" in todo.called_away:
                assert any(who in todo.called_away for who in skilled - {person})
        else:
            assert (todo.called_away, todo.look_in_min) == ("", 0)
        events.append(StepDone(batch=todo.batch, step=todo.step, occurred_at=START))
    assert {2, 4} <= seen


def test_who_has_nothing_left_is_shown_what_she_could_take_over(plan: DayPlan):
    """What can the child do now: steps of others that she does alone."""
    helper = next(p for p in plan.problem.people if "pan" not in {*map(str, p.skills)})
    hers = [s for s in plan.answer.timetable.steps if s.person == helper.id]
    done = [StepDone(batch=s.batch, step=s.step, occurred_at=START) for s in hers]
    begun = DayBegun(loads=loads_of(plan), occurred_at=START)
    (one,) = [
        one for one in hands(plan, fold([begun, *done])) if one.person == helper.id
    ]
    assert one.now is None
    assert 0 < len(one.could) <= 3
    works = {(b.id, s.id): s for b in plan.problem.batches for s in b.steps}
    for who, todo in one.could:
        assert who != helper.id
        assert str(works[todo.batch, todo.step].skill) in {*map(str, helper.skills)}
        assert todo.end_min <= helper.leaves_min
        assert todo.quarters <= helper.quarters
    assert all(other.could == () for other in hands(plan, fold([begun])) if other.now)


def test_what_she_has_not_the_hours_or_the_hands_for_is_not_offered(plan: DayPlan):
    """Nor what its own hands have begun: two would do it."""
    helper = next(p for p in plan.problem.people if "pan" not in {*map(str, p.skills)})
    steps = plan.answer.timetable.steps
    done = [
        StepDone(batch=s.batch, step=s.step, occurred_at=START)
        for s in steps
        if s.person == helper.id
    ]
    begun = DayBegun(loads=loads_of(plan), occurred_at=START)

    def offered(*events: AnyEvent, **changes: int) -> set[tuple[str, str]]:
        people = tuple(
            replace(p, **changes) if p.id == helper.id else p
            for p in plan.problem.people
        )
        other = replace(plan, problem=replace(plan.problem, people=people))
        shown = hands(other, fold([begun, *done, *events]))
        (one,) = [one for one in shown if one.person == helper.id]
        return {(todo.batch, todo.step) for _, todo in one.could}

    batch, step = first = next(iter(sorted(offered())))
    (placed,) = [s for s in steps if (s.batch, s.step) == first]
    assert first in offered(arrives_min=placed.start_min)
    assert first not in offered(arrives_min=placed.start_min + 1)
    assert first in offered(leaves_min=placed.end_min)
    assert first not in offered(leaves_min=placed.end_min - 1)
    assert first in offered(quarters=placed.quarters)
    assert first not in offered(quarters=placed.quarters - 1)
    said = StepBegun(batch=batch, step=step, occurred_at=START)
    assert first not in offered(said)


def test_jars_are_lowered_until_they_boil_and_lifted_until_they_are_out(plan: DayPlan):
    load = min(plan.answer.timetable.loads, key=lambda load: load.lower_min)
    begun = DayBegun(loads=loads_of(plan), occurred_at=START)
    steps = [
        StepDone(batch=s.batch, step=s.step, occurred_at=START)
        for s in plan.answer.timetable.steps
    ]
    boil = FullBoilReached(load=load.id, occurred_at=START)
    out = LoadLifted(load=load.id, occurred_at=START)

    def verbs(*events: AnyEvent) -> list[tuple[str, str]]:
        shown = hands(plan, fold([begun, *steps, *events]))
        firsts = [todo for one in shown for todo in (one.now, one.then) if todo]
        return [
            (todo.verb.split()[0], todo.detail)
            for todo in firsts
            if todo.detail == f"load 1, {load.canner}"
        ]

    aboard = f"load 1, {load.canner}"
    assert ("Lower", aboard) in verbs()
    assert ("Lower", aboard) not in verbs(boil)
    assert ("Lift", aboard) in verbs(boil)
    assert verbs(boil, out) == []
    lost = BoilLost(load=load.id, occurred_at=START)  # its jars are in the canner still
    assert ("Lower", aboard) not in verbs(boil, lost)
    assert ("Lift", aboard) in verbs(boil, lost)
    glass = [
        JarBroke(load=load.id, batch=batch, crack="ring", occurred_at=START)
        for batch, jars in load.jars
        for _ in range(jars)
    ]
    assert verbs(*glass) == []


def test_without_a_timetable_nobody_is_told_anything(plan: DayPlan):
    assert hands(replace(plan, answer=None), fold([])) == ()
    assert not has_step(replace(plan, problem=None), "plum jelly 1", "fill")
    assert not has_step(plan, "plum jelly 1", "sing")


@pytest.mark.parametrize(("rinsed", "verb"), [(True, "Rinse"), (False, "Wash")])
def test_the_board_says_rinse_or_wash(plan: DayPlan, rinsed: bool, verb: str):
    table = plan.answer.timetable
    left = next(s for s in table.steps if s.step == "wash_pot")
    steps = tuple(replace(s, rinsed=rinsed) if s == left else s for s in table.steps)
    answer = replace(plan.answer, timetable=replace(table, steps=steps))
    events: list[AnyEvent] = [DayBegun(loads=loads_of(plan), occurred_at=START)]
    for load in loads_of(plan):
        events.append(FullBoilReached(load=load.id, occurred_at=START))
        events.append(LoadLifted(load=load.id, occurred_at=START))
    events += [
        StepDone(batch=s.batch, step=s.step, occurred_at=START)
        for s in table.steps
        if s != left
    ]
    shown = hands(replace(plan, answer=answer), fold(events))
    assert [one.now.verb for one in shown if one.now] == [f"{verb} the pot"]


def a_load_of(plan: DayPlan):
    return min(plan.answer.timetable.loads, key=lambda load: load.lower_min)


def test_a_step_behind_jars_is_reached_although_their_key_is_not_tapped(plan: DayPlan):
    """Whoever lowered them goes on; when it boils is for the clock to say."""
    load = a_load_of(plan)
    who = load.lowered_by
    mine = sorted(
        (s for s in plan.answer.timetable.steps if s.person == who),
        key=lambda s: s.start_min,
    )
    before = [s for s in mine if s.start_min < load.lower_min]
    after = [s for s in mine if s.start_min >= load.lower_min]
    assert after, "the demo day has work behind its first jars"
    events: list[AnyEvent] = [DayBegun(loads=loads_of(plan), occurred_at=START)]
    events += [StepDone(batch=s.batch, step=s.step, occurred_at=START) for s in before]
    shown = next(one for one in hands(plan, fold(events)) if one.person == who)
    assert (shown.now.verb, shown.now.step) == (f"Lower {load.count} jars", "")
    assert (shown.now.key, shown.now.load) == ("Full boil now", "load 1")
    assert (shown.step.batch, shown.step.step) == (after[0].batch, after[0].step)
    assert all(not todo.step for todo in shown.jars)


def test_jars_that_a_new_plan_has_in_the_canner_are_shown_with_their_new_hour(
    plan: DayPlan,
):
    load = a_load_of(plan)
    late = replace(load, boil_min=load.boil_min + 300)
    loads = tuple(late if x == load else x for x in plan.answer.timetable.loads)
    table = replace(plan.answer.timetable, loads=loads)
    kept = KeptPlan(of="x", problem=plan.problem, timetable=table)
    taken = PlanTaken(
        plan=kept,
        loads=loads_of(plan),
        sentence="",
        over=((load.id, "lower"),),
        occurred_at=START,
    )
    begun = DayBegun(loads=loads_of(plan), plan=kept, occurred_at=START)
    steps = [
        StepDone(batch=s.batch, step=s.step, occurred_at=START) for s in table.steps
    ]

    def of_the_load(*events: AnyEvent) -> list[tuple[int, str]]:
        shown = hands(None, fold([begun, *steps, *events]))
        todos = [todo for one in shown for todo in (one.now, one.then) if todo]
        return [
            (todo.start_min, todo.verb)
            for todo in todos
            if todo.load == "load 1" and todo.key == "Full boil now"
        ]

    assert of_the_load() == [(load.lower_min, f"Lower {load.count} jars")]
    only = replace(taken, plan=replace(kept, timetable=replace(table, loads=(late,))))
    assert of_the_load(only) == [
        (late.boil_min, "Bring the canner to a full boil with its lid on")
    ]
