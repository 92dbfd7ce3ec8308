"""The state follows from the events alone, whatever their order and the restarts."""

import datetime as dt

from hypothesis import given
from hypothesis import strategies as st

from stillroom.refusal import Refusal
from stillroom.running.commands import (
    BeginDay,
    Command,
    LiftLoad,
    MarkBoilLost,
    MarkFullBoil,
)
from stillroom.running.decide import decide
from stillroom.running.events import (
    AnyEvent,
    BoilLost,
    DayBegun,
    FullBoilReached,
    LoadLifted,
    RunLoad,
)
from stillroom.running.fold import NOT_BEGUN, fold
from stillroom.running.load_run import LoadRun, Phase

START = dt.datetime(2026, 9, 12, 9, 30, tzinfo=dt.UTC)
LOADS = tuple(
    RunLoad(
        id=f"load {n}",
        name=f"load {n}",
        canner=f"canner {1 + n % 2}",
        process_min=minutes,
        source="a published table",
        jar="pint",
        jars=(("batch", 7),),
    )
    for n, minutes in enumerate((5, 10, 15))
)
PROCESS = {load.id: dt.timedelta(minutes=load.process_min) for load in LOADS}

# What hands at a stove might tap: any key of any load, now or minutes later.
taps = st.lists(
    st.tuples(
        st.sampled_from([MarkFullBoil, MarkBoilLost, LiftLoad]),
        st.sampled_from([load.id for load in LOADS]),
        st.sampled_from([0, 1, 59, 60, 299, 300, 301, 600, 900, 1200]),
        st.none() | st.integers(0, 12),
    ),
    max_size=30,
)


def a_day(tapped: list[tuple]) -> list[AnyEvent]:
    """Everything that happens when these keys are tapped one after the other."""
    now = START
    events: list[AnyEvent] = []
    commands: list[Command] = [BeginDay(loads=LOADS, at=now)]
    for command, load, seconds, seen in tapped:
        now += dt.timedelta(seconds=seconds)
        commands.append(command(load=load, at=now, seen=seen))
    for asked in commands:
        answer = decide(fold(events), asked)
        if not isinstance(answer, Refusal):
            events += answer
    return events


@given(taps)
def test_no_load_is_ever_lifted_short(tapped: list[tuple]):
    """Judged by the events alone: an unbroken boil for the whole time, and a rest."""
    since: dict[str, dt.datetime] = {}
    for event in a_day(tapped):
        match event:
            case FullBoilReached(load=load, occurred_at=at):
                assert load not in since, "a running clock was started again"
                since[load] = at
            case BoilLost(load=load):
                del since[load]
            case LoadLifted(load=load, occurred_at=at):
                assert at - since[load] >= PROCESS[load] + dt.timedelta(minutes=5)


@given(taps, st.integers(0, 31))
def test_a_restart_in_the_middle_changes_nothing(tapped: list[tuple], cut: int):
    events = a_day(tapped)
    assert fold(events[cut:], fold(events[:cut])) == fold(events)


@given(taps, st.randoms(use_true_random=False))
def test_loads_do_not_touch_each_other(tapped: list[tuple], draw):
    """However the events of several loads are interleaved, each load ends the same."""
    begun, *events = a_day(tapped)
    queues = [[e for e in events if e.load == load.id] for load in LOADS]  # type: ignore[union-attr]
    shuffled: list[AnyEvent] = [begun]
    while any(queues):
        shuffled.append(draw.choice([queue for queue in queues if queue]).pop(0))

    def stands(run: LoadRun) -> tuple:
        return run.boiling_since, run.lifted_at, run.times_lost, run.deadline

    there, here = fold(shuffled), fold([begun, *events])
    assert [stands(run) for run in there.loads] == [stands(run) for run in here.loads]


def test_before_anything_happened():
    assert fold([]) == NOT_BEGUN
    assert NOT_BEGUN.load("load 1") is None


def test_each_phase_and_its_second():
    """Five minutes' process from 9:31, five minutes' rest: 9:36 and 9:41."""
    begun = DayBegun(loads=LOADS, occurred_at=START)
    boiled = START + dt.timedelta(minutes=1)
    waiting = fold([begun]).loads[0]
    boiling = fold([begun, FullBoilReached(load="load 0", occurred_at=boiled)]).loads[0]
    assert waiting.phase(START) is Phase.WAITING
    assert boiling.deadline == START + dt.timedelta(minutes=6)
    assert boiling.may_lift_at == START + dt.timedelta(minutes=11)
    second = dt.timedelta(seconds=1)
    assert boiling.phase(boiling.deadline - second) is Phase.BOILING
    assert boiling.phase(boiling.deadline) is Phase.RESTING
    assert boiling.phase(boiling.may_lift_at - second) is Phase.RESTING
    assert boiling.phase(boiling.may_lift_at) is Phase.READY
