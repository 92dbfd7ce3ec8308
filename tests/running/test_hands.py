"""What each person does now and next: the plan in its order, less what is done."""

import datetime as dt
from dataclasses import replace

import pytest

from stillroom.in_a_list import any_of
from stillroom.jar_count import jars_said
from stillroom.methods.step import Skill
from stillroom.planning.day_file.dayfile import demo_day_text, read_day
from stillroom.planning.dayplan import DayPlan
from stillroom.planning.daytime import clock_time
from stillroom.planning.timetable import Answer, PlacedLoad, PlacedStep
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
    RunLoad,
    StepBegun,
    StepDone,
    VentingBegun,
)
from stillroom.running.fold import fold
from stillroom.running.hands import Todo, hands, has_step
from stillroom.running.loads import loads_of
from stillroom.running.rules import rules_for

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


def test_of_two_things_at_one_minute_what_waits_least_is_shown_first(plan: DayPlan):
    """Water to put on stood before the rims of open hot jars: they wait two minutes."""
    problem, timetable = plan.problem, plan.answer.timetable
    wait_min = {
        (batch.id, link.after): link.at_most_min
        for batch in problem.batches
        for link in batch.links
        if link.at_most_min is not None
    }
    closes = next(s for s in timetable.steps if s.step == "wipe_and_lid" and s.person)
    other = next(
        s
        for s in timetable.steps
        if s.batch != closes.batch and (s.batch, s.step) not in wait_min and s.person
    )
    late = replace(
        other,
        start_min=closes.start_min,
        end_min=closes.start_min + 1,
        person=closes.person,
    )
    for steps in ((late, closes), (closes, late)):
        kept = KeptPlan(
            of="", problem=problem, timetable=replace(timetable, steps=steps, loads=())
        )
        begun = DayBegun(loads=(), plan=kept, occurred_at=START)
        [one] = [h for h in hands(None, fold([begun])) if h.person == closes.person]
        assert (one.now.step, one.then.step) == ("wipe_and_lid", late.step)


def test_jars_are_lifted_by_the_clock_of_their_load_and_not_by_the_plan(plan: DayPlan):
    """The clock said 12:05 and the hand beside it 12:35, of the same jars."""
    load = loads_of(plan)[0]
    placed = next(p for p in plan.answer.timetable.loads if p.id == load.id)
    begun = DayBegun(loads=loads_of(plan), occurred_at=START)
    lift = f"Lift {jars_said(load.count)} out"

    def said(*events: AnyEvent) -> str:
        shown = hands(plan, fold([begun, *events]), START.tzinfo)
        todos = [t for one in shown for t in (one.now, *one.jars, one.then) if t]
        return next(t.at for t in todos if t.verb == lift and t.load == load.name)

    starts_at = plan.problem.starts_at
    hour, minute = map(int, starts_at.split(":"))
    first = START.replace(hour=hour, minute=minute)
    early = first + dt.timedelta(minutes=1)
    boil = FullBoilReached(load=load.id, occurred_at=early)
    out_min = 1 + load.process_min + load.rest_min
    assert said(boil) == clock_time(starts_at, out_min)
    assert clock_time(starts_at, out_min) != clock_time(starts_at, placed.lift_min)


def test_what_was_never_said_done_goes_when_its_jars_are_in_the_canner(plan: DayPlan):
    """Wet hands do not tap every step; nobody goes back to what is on its clock."""
    first = loads_of(plan)[0]
    aboard = {batch for batch, _ in first.jars}
    filled = {(b.id, b.ready_after) for b in plan.problem.batches if b.id in aboard}
    others = [load for load in loads_of(plan)[1:] if aboard & {*dict(load.jars)}]
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
    assert filled
    assert filled <= over
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

    def todos(*events: AnyEvent) -> list[Todo]:
        shown = hands(plan, fold([begun, *steps, *events]))
        firsts = [todo for one in shown for todo in (one.now, one.then) if todo]
        return [todo for todo in firsts if todo.detail == f"load 1, {load.canner}"]

    def verbs(*events: AnyEvent) -> list[tuple[str, str]]:
        return [(todo.verb.split()[0], todo.detail) for todo in todos(*events)]

    def told(*events: AnyEvent) -> list[str]:
        return [todo.verb for todo in todos(*events)]

    aboard = f"load 1, {load.canner}"
    assert ("Lower", aboard) in verbs()
    assert ("Lower", aboard) not in verbs(boil)
    assert ("Lift", aboard) in verbs(boil)
    assert verbs(boil, out) == []
    lost = BoilLost(load=load.id, occurred_at=START)  # its jars are in the canner still
    assert ("Lower", aboard) not in verbs(boil, lost)
    assert ("Lift", aboard) in verbs(boil, lost)
    one = JarBroke(load=load.id, batch=load.jars[0][0], crack="ring", occurred_at=START)
    left = jars_said(load.count - 1)
    assert f"Lower {left}" in told(one)
    assert f"Lift {left} out" in told(boil, one)
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


def alone(plan: DayPlan, placed: PlacedStep, **other: object) -> Todo:
    """What its own hands are shown of one step; what the others can or are there."""
    people = tuple(
        p if p.id == placed.person else replace(p, **other)  # type: ignore[arg-type]
        for p in plan.problem.people
    )
    table = replace(plan.answer.timetable, steps=(placed,), loads=())
    by = replace(
        plan,
        problem=replace(plan.problem, people=people),
        answer=replace(plan.answer, timetable=table),
    )
    begun = DayBegun(loads=(), occurred_at=START)
    shown = hands(by, fold([begun]))
    (now,) = [one.now for one in shown if one.person == placed.person]
    assert now is not None
    return now


def at_the_fire(plan: DayPlan, quarters: int) -> PlacedStep:
    """A step on a fire that takes so much of one person."""
    works = {(b.id, s.id): s for b in plan.problem.batches for s in b.steps}
    return next(
        s
        for s in plan.answer.timetable.steps
        if works[s.batch, s.step].burner_w and s.person and s.quarters == quarters
    )


def test_a_fire_is_handed_to_who_can_and_is_there_from_its_begin_to_its_end(
    plan: DayPlan,
):
    placed = at_the_fire(plan, 4)
    works = {(b.id, s.id): s for b in plan.problem.batches for s in b.steps}
    skill = works[placed.batch, placed.step].skill
    there = {
        "skills": frozenset({skill}),
        "arrives_min": placed.start_min,
        "leaves_min": placed.end_min,
    }
    others = [p.id for p in plan.problem.people if p.id != placed.person]
    handed = f", or hand it to {any_of(others)}"
    assert handed in alone(plan, placed, **there).called_away
    for not_so in (
        {"skills": frozenset(set(Skill) - {skill})},
        {"arrives_min": placed.start_min + 1},
        {"leaves_min": placed.end_min - 1},
    ):
        assert "hand it" not in alone(plan, placed, **{**there, **not_so}).called_away


def test_what_is_over_in_five_minutes_is_not_looked_in_on_again(plan: DayPlan):
    """Who comes back in time finds it done; what she stands by she sees."""
    placed = at_the_fire(plan, 1)

    def minutes(long: int, quarters: int = 1) -> int:
        one = replace(placed, end_min=placed.start_min + long, quarters=quarters)
        return alone(plan, one).look_in_min

    assert (minutes(5), minutes(6), minutes(60)) == (0, 5, 5)
    assert minutes(60, quarters=2) == 0


def test_what_is_not_to_be_left_is_offered_to_nobody(plan: DayPlan):
    """Who has it goes on with it. Of the rest what comes first stands first."""
    helper = next(p for p in plan.problem.people if "pan" not in {*map(str, p.skills)})
    everything = replace(
        helper, skills=frozenset(Skill), quarters=4, arrives_min=0, leaves_min=10_000
    )
    people = tuple(everything if p == helper else p for p in plan.problem.people)
    table = plan.answer.timetable
    fire = at_the_fire(plan, 4)
    others = [s for s in table.steps if s.person not in (None, helper.id)]
    free = [s for s in others if s.quarters < 4 and s.start_min > fire.start_min]
    soon, *_, late = sorted(free, key=lambda s: s.start_min)
    assert soon.start_min < late.start_min
    assert fire in others

    def offered(*steps: PlacedStep) -> list[tuple[str, str]]:
        shorter = replace(table, steps=steps, loads=())
        by = replace(
            plan,
            problem=replace(plan.problem, people=people),
            answer=replace(plan.answer, timetable=shorter),
        )
        shown = hands(by, fold([DayBegun(loads=(), occurred_at=START)]))
        (one,) = [one for one in shown if one.person == helper.id]
        return [(todo.batch, todo.step) for _, todo in one.could]

    keys = [(s.batch, s.step) for s in (soon, late)]
    assert offered(late, soon, fire) == keys


def one_load(plan: DayPlan) -> tuple[PlacedLoad, DayPlan, RunLoad, RunLoad]:
    """A load, the plan with nothing else, and the load in boiling water and under."""
    load = a_load_of(plan)
    table = replace(plan.answer.timetable, steps=(), loads=(load,))
    by = replace(plan, answer=replace(plan.answer, timetable=table))
    (boiled,) = loads_of(by)
    return load, by, boiled, replace(boiled, method="dial-gauge", pressure_psi=11.0)


def test_a_pressure_canner_is_shut_and_vented_by_who_lowers_its_jars(plan: DayPlan):
    """A vent that is left out is no process."""
    load, by, boiled, under = one_load(plan)

    def lowering(one: RunLoad) -> Todo:
        shown = hands(by, fold([DayBegun(loads=(one,), occurred_at=START)]))
        (now,) = [one.now for one in shown if one.person == load.lowered_by]
        assert now is not None
        return now

    jars = f"Lower {load.count} jars"
    assert lowering(boiled).verb == jars
    assert lowering(boiled).key_when == "it is at a full boil"
    rules = rules_for(under)
    assert lowering(under).verb == f"{jars}, shut the lid, {rules.bring}"
    assert "vent" in rules.bring
    assert lowering(boiled).until == (
        "1 to 2 inches (2.5 to 5 cm) of water over the lids, lid on"
    )
    assert lowering(under).until == "lid locked, vent open"
    assert "the glass cracks" in lowering(boiled).caution
    steam = lowering(under)
    assert steam.key_when == "steam streams steadily from the open vent"
    assert steam.key == "Steam streams now"
    assert steam.load == "load 1"


def test_the_water_is_looked_at_before_each_load_under_pressure(plan: DayPlan):
    """The second went in with its lid locked, and nobody told of its water."""
    load, by, _, under = one_load(plan)
    out = replace(
        load,
        id=f"{load.canner}/0",
        lower_min=load.lower_min - 200,
        lift_min=load.lower_min - 100,
    )
    table = replace(by.answer.timetable, loads=(out, load))
    two = replace(by, answer=replace(by.answer, timetable=table))
    water = "first 2 to 3 inches (5 to 8 cm) of hot water in it"

    def detail(of: DayPlan) -> str:
        loads = (replace(under, id=out.id, name="load 0"), under)
        begun = DayBegun(loads=loads, occurred_at=START)
        lifted = LoadLifted(load=out.id, occurred_at=START)
        shown = hands(of, fold([begun, lifted]))
        todos = [todo for one in shown for todo in (one.now, one.then, *one.jars)]
        return next(t.detail for t in todos if t and t.load == under.name)

    assert detail(by) == f"{water} · load 1, {load.canner}"
    assert detail(two) == f"{water} again · load 1, {load.canner}"


def test_raw_packs_are_told_how_warm_their_water_may_be(plan: DayPlan):
    _, by, boiled, _under = one_load(plan)

    def detail(one: RunLoad) -> str:
        begun = DayBegun(loads=(one,), occurred_at=START)
        shown = hands(by, fold([begun]))
        todos = [todo for one in shown for todo in (one.now, one.then, *one.jars)]
        return next(t.detail for t in todos if t and t.load == boiled.name)

    assert "140 °F (60 °C), not hotter" in detail(replace(boiled, raw=True))
    assert "140 °F" not in detail(boiled)


def test_while_steam_streams_the_vent_is_what_is_to_be_closed(plan: DayPlan):
    """Its jars are in: nobody is told to lower them any more."""
    load, by, _, under = one_load(plan)
    begun = DayBegun(loads=(under,), occurred_at=START)
    vents = VentingBegun(load=under.id, occurred_at=START)
    shown = hands(by, fold([begun, vents]))
    (now,) = [one.now for one in shown if one.person == load.lowered_by]
    assert now is not None
    assert now.verb == (
        "When its vent clock has run out, close the vent, bring it to 11 psi"
    )
    assert (now.key, now.key_when) == ("At pressure now", "it is at 11 psi")


def test_who_lifts_jars_from_under_pressure_is_told_of_the_vent(plan: DayPlan):
    """The plan says the hour alone: what comes before the lid is a caution to her."""
    load, by, boiled, under = one_load(plan)

    def lifting(one: RunLoad) -> Todo:
        begun = DayBegun(loads=(one,), occurred_at=START)
        boils = FullBoilReached(load=one.id, occurred_at=START)
        shown = hands(by, fold([begun, boils]))
        (now,) = [one.now for one in shown if one.person == load.lifted_by]
        assert now is not None
        assert now.verb == f"Lift {load.count} jars out"
        return now

    assert lifting(boiled).caution == ""
    assert lifting(under).caution.startswith("When no pressure is left, open the vent")


def test_the_day_goes_by_its_own_plan_whatever_the_day_file_has_now(plan: DayPlan):
    """The desk plans tomorrow; the phone at the stove goes on with today."""
    placed = at_the_fire(plan, 4)
    mine = KeptPlan(
        of="x",
        problem=plan.problem,
        timetable=replace(plan.answer.timetable, steps=(placed,), loads=()),
    )
    state = fold([DayBegun(loads=(), plan=mine, occurred_at=START)])
    shown = [one.now for one in hands(plan, state) if one.now]
    assert [(todo.batch, todo.step) for todo in shown] == [(placed.batch, placed.step)]
    others = [s for s in plan.answer.timetable.steps if s.batch != placed.batch]
    only = replace(plan.problem, batches=plan.problem.batches[:1])
    other = DayBegun(loads=(), plan=replace(mine, problem=only), occurred_at=START)
    gone = next(s for s in others if s.batch != only.batches[0].id)
    assert not has_step(plan, gone.batch, gone.step, fold([other]))


def test_jars_between_two_steps_are_shown_between_them(plan: DayPlan):
    """Who lifts one load and lowers the next before her next step sees both."""
    first, second, *_ = sorted(plan.answer.timetable.loads, key=lambda x: x.lower_min)
    placed = at_the_fire(plan, 4)
    who = placed.person
    loads = (
        replace(first, lowered_by=who, lifted_by=who),
        replace(second, lowered_by=who, lifted_by=who),
    )
    last = max(load.lift_min for load in loads) + 10
    step = replace(placed, start_min=last, end_min=last + 5)
    table = replace(plan.answer.timetable, steps=(step,), loads=loads)
    by = replace(plan, answer=replace(plan.answer, timetable=table))
    shown = hands(by, fold([DayBegun(loads=loads_of(plan), occurred_at=START)]))
    (one,) = [one for one in shown if one.person == who]
    assert one.now is not None
    assert one.step is not None
    assert (one.step.batch, one.step.step) == (placed.batch, placed.step)
    assert one.now.verb.startswith("Lower")
    said = [(todo.verb.split()[0], todo.load) for todo in (one.now, *one.jars)]
    assert sorted(said) == [
        (verb, load) for verb in ("Lift", "Lower") for load in ("load 1", "load 2")
    ]
    hours = [todo.start_min for todo in (one.now, *one.jars)]
    assert hours == sorted(hours)


def test_of_two_plans_taken_over_the_last_one_knows_which_jars_are_in(plan: DayPlan):
    load = a_load_of(plan)
    late = replace(load, boil_min=load.boil_min + 300, lift_min=load.lift_min + 300)
    table = replace(plan.answer.timetable, steps=(), loads=(late,))
    kept = KeptPlan(of="x", problem=plan.problem, timetable=table)
    in_it, not_in = (
        PlanTaken(
            plan=kept, loads=loads_of(plan), sentence="", over=over, occurred_at=START
        )
        for over in (((load.id, "lower"),), ())
    )
    begun = DayBegun(loads=loads_of(plan), plan=kept, occurred_at=START)

    def lowering(*taken: PlanTaken) -> Todo:
        shown = hands(None, fold([begun, *taken]))
        (now,) = [one.now for one in shown if one.person == load.lowered_by]
        assert now is not None
        return now

    assert lowering(in_it, not_in).verb == f"Lower {load.count} jars"
    said = lowering(not_in, in_it)
    assert said.verb.startswith("Bring the canner")
    lowered = clock_time(plan.problem.starts_at, load.lower_min)
    assert f"jars in since {lowered} by the plan" in said.detail
