"""A step that was said begun or done by mistake, and what stands on it since."""

import datetime as dt
from dataclasses import replace

import pytest

from stillroom.planning.dayplan import DayPlan
from stillroom.planning.rinses import as_rinse
from stillroom.refusal import Refusal
from stillroom.running import said_by_mistake
from stillroom.running.commands import TakeStepBack
from stillroom.running.decide import decide
from stillroom.running.events import (
    AnyEvent,
    BoilLost,
    FullBoilReached,
    LoadLifted,
    PlanTaken,
    StepBegun,
    StepTakenBack,
)
from stillroom.running.fold import RunState, fold
from stillroom.running.kept_plan import kept
from stillroom.running.loads import loads_of
from stillroom.running.said_by_mistake import (
    MOST_SHOWN,
    SHOWN_FOR,
    may_be_taken_back,
)
from tests.running.test_set_going import begun, done, minute, plan

__all__ = ["plan"]  # a fixture

BATCH = "plum jelly 1"


def started(plan: DayPlan, step: str, number: int, batch: str = BATCH) -> StepBegun:
    return StepBegun(batch=batch, step=step, occurred_at=minute(plan, number))


def state(plan: DayPlan, *events: AnyEvent) -> RunState:
    return fold([begun(plan), *events])


def back(plan: DayPlan, step: str, was: str, number: int = 40) -> TakeStepBack:
    return TakeStepBack(batch=BATCH, step=step, was=was, at=minute(plan, number))


def steps(plan: DayPlan, batch: str = BATCH) -> list[str]:
    return [s.id for b in plan.problem.batches if b.id == batch for s in b.steps]


def load_of(plan: DayPlan, batch: str = BATCH):
    return next(x for x in loads_of(plan) if batch in dict(x.jars))


def test_a_rinse_is_taken_back_by_the_words_of_its_key(plan: DayPlan):
    """Its key said "Rinse the pot", and what was done "Wash the pot"."""
    wash, of = next(
        (step, batch.id)
        for batch in plan.problem.batches
        for step in batch.steps
        if step.rinse_min and step.in_pot
    )
    steps = tuple(
        as_rinse(s, wash) if (s.batch, s.step) == (of, wash.id) else s
        for s in plan.answer.timetable.steps
    )
    table = replace(plan.answer.timetable, steps=steps)
    rinsed = replace(plan, answer=replace(plan.answer, timetable=table))
    said = state(rinsed, done(rinsed, of, wash.id, 9))
    (key,) = may_be_taken_back(rinsed, said, minute(rinsed, 10))
    assert (key.step, key.verb) == (wash.id, "Rinse the pot")


def test_it_is_as_if_it_had_never_been_said(plan: DayPlan):
    step = steps(plan)[0]
    before = state(plan, started(plan, step, 5))
    said = fold([done(plan, BATCH, step, 9)], before)
    (event,) = decide(said, back(plan, step, "done", 10))
    assert event == StepTakenBack(
        batch=BATCH, step=step, was="done", occurred_at=minute(plan, 10)
    )
    after = fold([event], said)
    assert (after.steps_begun, after.begun_steps) == (
        before.steps_begun,
        before.begun_steps,
    )
    assert (after.steps_done, after.done_at) == (frozenset(), ())
    (event,) = decide(after, back(plan, step, "begun", 11))
    assert fold([event], after).steps_begun == frozenset()
    assert fold([event], after).begun_steps == ()


def test_an_old_screen_does_not_take_back_what_was_said_anew(plan: DayPlan):
    step = steps(plan)[0]
    first = state(plan, done(plan, BATCH, step, 9))
    asked = replace(back(plan, step, "done", 12), said_at=minute(plan, 9))
    (taken,) = decide(first, replace(asked, at=minute(plan, 10)))
    anew = fold([taken, done(plan, BATCH, step, 11)], first)
    no = decide(anew, asked)
    assert isinstance(no, Refusal)
    assert "anew since this screen was drawn" in no.reason
    assert decide(anew, replace(asked, said_at=minute(plan, 11))) != ()


def test_a_second_tap_books_nothing_though_more_was_said_of_the_batch(plan: DayPlan):
    first, second, *_ = steps(plan)
    said = state(plan, done(plan, BATCH, first, 9), done(plan, BATCH, second, 11))
    (event,) = decide(said, back(plan, second, "done"))
    assert decide(fold([event], said), back(plan, second, "done", 41)) == ()


def test_what_only_a_plan_took_to_be_over_was_never_said(plan: DayPlan):
    step = steps(plan)[0]
    taken = PlanTaken(
        plan=kept(plan, "a day"),
        loads=loads_of(plan),
        sentence="as it was",
        over=((BATCH, step),),
        occurred_at=minute(plan, 20),
    )
    assert decide(state(plan, taken), back(plan, step, "done")) == ()


def test_a_clock_holds_each_batch_whose_jars_are_aboard(plan: DayPlan):
    step, load = steps(plan)[-1], load_of(plan)
    both = replace(load, jars=(("plum jelly 2", 4), (BATCH, 4)))
    day = replace(begun(plan), loads=(both,))
    boil = FullBoilReached(load=load.id, occurred_at=minute(plan, 25))
    said = fold([day, done(plan, BATCH, step, 20), boil])
    assert isinstance(decide(said, back(plan, step, "done")), Refusal)


@pytest.mark.parametrize("was", ["begun", "done"])
def test_what_was_not_said_or_is_taken_back_already_books_nothing(plan, was: str):
    step = steps(plan)[0]
    assert decide(state(plan), back(plan, step, was)) == ()
    told = {"begun": started(plan, step, 5), "done": done(plan, BATCH, step, 5)}[was]
    said = state(plan, told)
    (event,) = decide(said, back(plan, step, was))
    assert decide(fold([event], said), back(plan, step, was, 41)) == ()


def test_the_last_of_a_batch_goes_first(plan: DayPlan):
    first, second, *_ = steps(plan)
    said = state(plan, done(plan, BATCH, first, 9), started(plan, second, 10))
    no = decide(said, back(plan, first, "done"))
    assert isinstance(no, Refusal)
    assert "take that back first" in no.instead
    other = state(
        plan, done(plan, BATCH, first, 9), started(plan, first, 12, "plum jelly 2")
    )
    (event,) = decide(other, back(plan, first, "done"))  # another batch holds nothing
    assert isinstance(event, StepTakenBack)


@pytest.mark.parametrize(
    ("clock", "holds"),
    [
        ([20], True),  # minute of the full boil; the step was said at 20
        ([19], False),  # before it: a pot that was washed while the canner boiled
        ([19, None], True),  # lost: the whole time again, and since when is not known
    ],
)
def test_a_clock_of_its_jars_that_was_started_since_holds_it(plan, clock, holds):
    load, step = load_of(plan).id, steps(plan)[-1]
    events: list[AnyEvent] = [done(plan, BATCH, step, 20)]
    boil = FullBoilReached(load=load, occurred_at=minute(plan, clock[0]))
    events.insert(1 if clock[0] >= 20 else 0, boil)
    if None in clock:
        events.append(BoilLost(load=load, occurred_at=minute(plan, 22)))
    answer = decide(state(plan, *events), back(plan, step, "done"))
    assert isinstance(answer, Refusal) is holds
    if holds:
        assert BATCH in answer.reason


def test_a_load_that_is_out_holds_what_was_said_before_its_clock(plan: DayPlan):
    load, step = load_of(plan).id, steps(plan)[-1]
    out = state(
        plan,
        done(plan, BATCH, step, 20),
        FullBoilReached(load=load, occurred_at=minute(plan, 25)),
        LoadLifted(load=load, occurred_at=minute(plan, 55)),
    )
    assert isinstance(decide(out, back(plan, step, "done", 56)), Refusal)


def test_a_clock_of_other_jars_holds_nothing(plan: DayPlan):
    step = steps(plan)[0]
    other = load_of(plan, "plum jelly 2").id
    assert other != load_of(plan).id
    said = state(
        plan,
        done(plan, BATCH, step, 20),
        FullBoilReached(load=other, occurred_at=minute(plan, 25)),
    )
    assert decide(said, back(plan, step, "done")) != ()
    assert not isinstance(decide(said, back(plan, step, "done")), Refusal)


@pytest.mark.parametrize(("taken", "holds"), [(21, True), (20, True), (19, False)])
def test_a_plan_of_the_rest_that_was_made_with_it_holds_it(plan, taken: int, holds):
    step = steps(plan)[0]
    new = PlanTaken(
        plan=kept(plan, "a day"),
        loads=loads_of(plan),
        sentence="as it was",
        occurred_at=minute(plan, taken),
    )
    told = done(plan, BATCH, step, 20)
    events = [told, new] if taken >= 20 else [new, told]
    answer = decide(state(plan, *events), back(plan, step, "done"))
    assert isinstance(answer, Refusal) is holds


def shown(plan: DayPlan, number: int, *events: AnyEvent) -> list[tuple[str, str, str]]:
    found = may_be_taken_back(plan, state(plan, *events), minute(plan, number))
    return [(said.batch, said.step, said.was) for said in found]


def test_the_board_has_a_key_for_the_last_minutes_alone(plan: DayPlan):
    step, most = steps(plan)[0], int(SHOWN_FOR / dt.timedelta(minutes=1))
    told = done(plan, BATCH, step, 5)
    assert shown(plan, 5, told) == [(BATCH, step, "done")]
    assert shown(plan, 5 + most - 1, told) == [(BATCH, step, "done")]
    assert shown(plan, 5 + most, told) == []


def test_the_board_shows_the_last_of_each_batch_the_newest_first(plan: DayPlan):
    first, second, *_ = steps(plan)
    events = [
        done(plan, BATCH, first, 5),
        done(plan, "plum jelly 2", first, 6),
        started(plan, second, 7),
    ]
    want = [(BATCH, second, "begun"), ("plum jelly 2", first, "done")]
    assert shown(plan, 8, *events) == want
    assert len(want) <= MOST_SHOWN


def test_the_board_shows_no_more_than_a_few(plan: DayPlan, monkeypatch):
    monkeypatch.setattr(said_by_mistake, "MOST_SHOWN", 1)
    first, *_ = steps(plan)
    events = [done(plan, BATCH, first, 5), done(plan, "plum jelly 2", first, 6)]
    assert shown(plan, 8, *events) == [("plum jelly 2", first, "done")]


def test_without_a_plan_there_is_nothing_to_name_a_step_by(plan: DayPlan):
    told = state(plan, done(plan, BATCH, steps(plan)[0], 5))
    assert may_be_taken_back(None, told, minute(plan, 6)) == ()


def test_the_board_shows_nothing_that_would_be_refused(plan: DayPlan):
    load, step = load_of(plan).id, steps(plan)[-1]
    boil = FullBoilReached(load=load, occurred_at=minute(plan, 21))
    assert shown(plan, 22, done(plan, BATCH, step, 20), boil) == []


def test_the_board_names_the_step_as_the_plan_does(plan: DayPlan):
    step = steps(plan)[0]
    (said,) = may_be_taken_back(
        plan, state(plan, done(plan, BATCH, step, 5)), minute(plan, 6)
    )
    (batch,) = (b for b in plan.problem.batches if b.id == BATCH)
    assert said.verb == batch.steps[0].verb
    assert said.at == minute(plan, 5)
