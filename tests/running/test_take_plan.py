"""A new plan for a run that goes: taken over as it was shown, or not at all."""

import datetime as dt
from dataclasses import replace

import pytest

from stillroom.planning.plan import plan_day
from stillroom.planning.timetable import Answer
from stillroom.refusal import Refusal
from stillroom.running.card_order import card_order
from stillroom.running.commands import TakePlan
from stillroom.running.decide import decide
from stillroom.running.events import (
    DayBegun,
    FullBoilReached,
    KeptPlan,
    LoadLifted,
    PlanTaken,
    RunLoad,
    StepDone,
)
from stillroom.running.fold import fold
from stillroom.running.loads import named_on, published_as_begun
from stillroom.running.so_far import minute_of, said_of_the_day
from tests.planning.small_days import butter, day, jelly, person

ZONE = dt.timezone(dt.timedelta(hours=2))
START = dt.datetime(2026, 9, 12, 8, 0, tzinfo=ZONE)


def at(minute: float) -> dt.datetime:
    return START + dt.timedelta(minutes=minute)


def load(number: int, jars: int = 8, **changes: object) -> RunLoad:
    plain = RunLoad(
        id=f"canner/{number}",
        name=f"load {number}",
        canner="canner",
        process_min=10,
        source="a table",
        jar="half-pint",
        jars=((f"jelly-{number}", jars),),
    )
    return replace(plain, **changes)


@pytest.fixture(scope="module")
def kept() -> KeptPlan:
    problem = day(
        jelly("jelly-1"), jelly("jelly-2"), butter(),
        people=(person("Ada"), person("Ben")),
    )  # fmt: skip
    answer = plan_day(problem, seconds=2)
    assert isinstance(answer, Answer)
    return KeptPlan(of="x", problem=problem, timetable=answer.timetable)


def begun(kept: KeptPlan, *events):
    first = DayBegun(loads=(load(1), load(2)), plan=kept, occurred_at=START)
    return fold([first, *events])


def take(kept: KeptPlan, *loads: RunLoad, seen: int, **given: object) -> TakePlan:
    return TakePlan(
        at=at(60), seen=seen, plan=kept, loads=loads, sentence="Done at 10:00.", **given
    )


def test_what_is_on_its_clock_or_out_stays_as_it_is(kept):
    state = begun(
        kept,
        FullBoilReached(load="canner/1", occurred_at=at(30)),
        LoadLifted(load="canner/1", occurred_at=at(46)),
        FullBoilReached(load="canner/2", occurred_at=at(58)),
    )
    events = decide(state, take(kept, load(1), load(2), load(3, 5), seen=4))
    assert isinstance(events, tuple)
    (taken,) = events
    assert isinstance(taken, PlanTaken)
    after = fold(events, state)
    for name in ("canner/1", "canner/2"):
        assert after.load(name) == state.load(name)
    new = after.load("canner/3")
    assert new is not None
    assert new.load.count == 5
    assert (new.changed, after.sequence) == (5, 5)
    assert after.plan == kept
    assert after.taken == (taken,)


@pytest.mark.parametrize(
    "loads",
    [
        (load(1),),
        (load(1), load(2, process_min=5)),
        (load(1), load(2, 9)),
        (load(1), load(2, canner="other")),
    ],
    ids=["lost", "shorter process", "other jars", "other canner"],
)
def test_a_plan_that_changes_a_load_on_its_clock_is_refused(kept, loads):
    state = begun(kept, FullBoilReached(load="canner/2", occurred_at=at(58)))
    no = decide(state, take(kept, *loads, seen=2))
    assert isinstance(no, Refusal)
    assert "does not know load 2 as it is" in no.reason


def test_a_plan_that_no_longer_has_the_jars_that_are_out_is_refused(kept):
    """They stand on the counter: without their load, none of them would be booked."""
    state = begun(
        kept,
        FullBoilReached(load="canner/1", occurred_at=at(30)),
        LoadLifted(load="canner/1", occurred_at=at(46)),
    )
    no = decide(state, take(kept, load(2), seen=3))
    assert isinstance(no, Refusal)
    assert "does not know load 1 as it is" in no.reason


@pytest.mark.parametrize(
    ("other", "words"),
    [
        (
            {"process_min": 9},
            "9 min in half-pint jars in a boiling-water canner, and by the plan",
        ),
        ({"process_min": 11}, "it has 10 min in half-pint jars"),
        ({"method": "dial-gauge", "pressure_psi": 11.0}, "10 min at 11 psi in"),
        ({"jar": "pint"}, "10 min in pint jars"),
        (  # of the method alone
            {"method": "weighted-gauge"},
            "half-pint jars in a pressure canner (weighted gauge), and by the plan "
            "that the day goes by it has 10 min in half-pint jars in a boiling",
        ),
    ],
)
def test_jars_that_wait_for_their_clock_keep_their_process_as_well(kept, other, words):
    no = decide(begun(kept), take(kept, load(1), load(2, **other), seen=1))
    assert isinstance(no, Refusal)
    assert "the new plan gives jelly-2 " in no.reason
    assert words in no.reason
    assert "whatever its day file says since" in no.instead


def test_jars_may_come_into_other_loads_of_the_same_process(kept):
    """Five of them, and then three beside those of another batch."""
    parted = (load(1, jars=5), load(2), load(3, jars=3))
    jars = (("jelly-1", 3), ("jelly-2", 8))
    moved = (replace(parted[0]), replace(parted[1], jars=jars))
    events = decide(begun(kept), take(kept, *moved, seen=1))
    assert isinstance(events, tuple)
    assert fold(events, begun(kept)).load("canner/2").load.jars == jars


def test_of_a_load_of_two_products_each_has_the_words_of_both(kept):
    both = load(1, source="leaf A; leaf B", jars=4)
    both = replace(both, jars=(("plums 1", 4), ("pears 1", 4)))
    alone = load(2, source="leaf A", jars=3)
    alone = replace(alone, jars=(("plums 1", 3),))
    first = DayBegun(loads=(both, alone), plan=kept, occurred_at=START)
    found = published_as_begun(fold([first]))
    assert found["plums 1"].source == "leaf A"
    assert found["pears 1"].source == "leaf A; leaf B"
    assert found["pears 1"].jar == "half-pint"


def test_a_plan_from_before_the_last_event_is_refused(kept):
    state = begun(kept, StepDone(batch="jelly-1", step="boil", occurred_at=at(20)))
    no = decide(state, take(kept, load(1), load(2), seen=1))
    assert isinstance(no, Refusal)
    assert "plan again" in no.instead


def test_two_loads_of_one_name_are_refused(kept):
    no = decide(begun(kept), take(kept, load(1), load(1), seen=1))
    assert isinstance(no, Refusal)
    assert no.reason.startswith(f"two loads are called {load(1).id!r}")
    assert no.instead == "plan again"


def test_what_was_over_is_asked_of_nobody_any_more(kept):
    state = begun(kept)
    events = decide(
        state, take(kept, load(1), seen=1, over=(("jelly-1", "wash_jars"),))
    )
    assert isinstance(events, tuple)
    assert ("jelly-1", "wash_jars") in fold(events, state).steps_done


def test_loads_that_have_begun_keep_their_names_and_others_are_counted_on(kept):
    state = begun(kept, FullBoilReached(load="canner/2", occurred_at=at(30)))
    named = named_on((load(7), load(2, name="load 9"), load(8)), state)
    assert [x.name for x in named] == ["load 1", "load 2", "load 3"]


def test_minutes_are_those_of_the_plan_and_rounded_up(kept):
    assert minute_of(at(30), at(60), kept.problem) == 30
    assert minute_of(at(30.1), at(60), kept.problem) == 31
    assert minute_of(at(30).astimezone(dt.UTC), at(60), kept.problem) == 30


def test_who_says_each_step_done_has_begun_nothing_behind_the_next(kept):
    ada = sorted(
        (s for s in kept.timetable.steps if s.person == "Ada"),
        key=card_order(kept.problem),  # as she is shown them
    )
    first, rest = ada[0], ada[1:]
    done = StepDone(batch=first.batch, step=first.step, occurred_at=at(first.end_min))
    now, said = said_of_the_day(begun(kept, done), kept, at(90))
    assert now == 90
    assert said.ended_min == {(first.batch, first.step): first.end_min}
    next_ = (rest[0].batch, rest[0].step)
    # what only warms on a fire is not said to be on it, and has not begun
    asked = {*said.not_over, *said.not_said}
    assert next_ in asked or at(90) - at(first.end_min) >= dt.timedelta(hours=1)
    soon = at(first.end_min + 40)
    _, said = said_of_the_day(begun(kept, done), kept, soon)
    warms = rest[0].burner is not None and rest[0].quarters < 3
    assert (said.not_said if warms else said.not_over) == {next_}
    assert not (said.not_over if warms else said.not_said)
    if rest[0].quarters >= 3:
        assert said.not_begun == {(s.batch, s.step) for s in rest[1:]}
    # nothing said for long: she has stopped saying so, and the plan is believed
    _, said = said_of_the_day(begun(kept, done), kept, at(first.end_min + 70))
    assert said.not_begun == frozenset()
    assert not said.not_said
    assert not said.not_over
