import dataclasses
import datetime as dt
import json

import pytest

from stillroom.planning.hand.by_hand import by_hand
from stillroom.records.days import Records
from stillroom.records.ledger import Entry, MovedOn, Recorded
from stillroom.refusal import Refused, Unreadable
from stillroom.running.clock import WallClock
from stillroom.running.codec import UPCASTS, from_entry, to_entry
from stillroom.running.commands import (
    BeginDay,
    FinishStep,
    LiftLoad,
    MarkFullBoil,
)
from stillroom.running.events import (
    KINDS,
    BoilLost,
    ClockSet,
    DayBegun,
    FullBoilReached,
    JarBroke,
    JarIsWhole,
    KeptPlan,
    LeftOut,
    LoadLifted,
    LoadTakenBack,
    PlanTaken,
    RunLoad,
    RunStep,
    StepBegun,
    StepDone,
    StepTakenBack,
    VentingBegun,
    VentingStopped,
)
from stillroom.running.handle import (
    handle,
    run_at_the_stove,
    run_id,
    state_of,
    under_way,
)
from tests.planning.small_days import butter, day, jelly

RUN = "run/2026-09-12"
LOAD = RunLoad(
    id="load 1",
    name="load 1",
    canner="canner 1",
    process_min=10,
    source='a table, "7-4" – ½ inch',
    jar="half-pint",
    jars=(("plum jelly 1", 8), ("plum jelly 2", 4)),
    planned_boil="9:34",
)


def begin(records: Records, at: dt.datetime, run: str = RUN) -> None:
    handle(BeginDay(loads=(LOAD,), at=at), run, ledger=records.ledger)


def test_what_was_handled_is_there_when_the_run_is_read_again(
    records: Records, start: dt.datetime
):
    begin(records, start)
    boil = MarkFullBoil(load="load 1", at=start + dt.timedelta(seconds=61.5))
    state = handle(boil, RUN, ledger=records.ledger)
    assert state_of(RUN, ledger=records.ledger) == state
    assert state.loads[0].boiling_since == start + dt.timedelta(seconds=61.5)
    assert state.loads[0].deadline == start + dt.timedelta(seconds=662)
    assert state.sequence == records.ledger.last(RUN) == 2


def test_a_refusal_writes_nothing(records: Records, start: dt.datetime):
    begin(records, start)
    with pytest.raises(Refused, match="has not been processed"):
        handle(LiftLoad(load="load 1", at=start), RUN, ledger=records.ledger)
    assert records.ledger.last(RUN) == 1


def test_two_taps_on_one_key_are_one_event(records: Records, start: dt.datetime):
    begin(records, start)
    for second in (60, 61):
        at = start + dt.timedelta(seconds=second)
        handle(MarkFullBoil(load="load 1", at=at, seen=1), RUN, ledger=records.ledger)
    state = state_of(RUN, ledger=records.ledger)
    assert state.loads[0].boiling_since == start + dt.timedelta(seconds=60)
    assert state.sequence == 2


def test_a_later_plan_does_not_change_a_begun_run(records: Records, start: dt.datetime):
    begin(records, start)
    shorter = dataclasses.replace(LOAD, process_min=5)
    with pytest.raises(Refused, match="the day was begun at 09:30:00"):
        handle(BeginDay(loads=(shorter,), at=start), RUN, ledger=records.ledger)
    assert state_of(RUN, ledger=records.ledger).loads[0].load == LOAD


class Rival:
    """A ledger in which someone else always writes first, so many times."""

    def __init__(self, records: Records, times: int, at: dt.datetime) -> None:
        self._ledger, self._times, self._at = records.ledger, times, at

    def read(self, stream: str) -> tuple[Recorded, ...]:
        return self._ledger.read(stream)

    def newest_stream(self, prefix: str) -> str | None:
        return self._ledger.newest_stream(prefix)

    def last_written_streams(self, prefix: str, *, most: int) -> tuple[str, ...]:
        return self._ledger.last_written_streams(prefix, most=most)

    def answered(self, stream: str, key: str) -> int | None:
        return self._ledger.answered(stream, key)

    def append(
        self, stream: str, events: list[Entry], *, after: int, key: str | None = None
    ) -> int:
        if self._times:
            self._times -= 1
            step = StepDone(batch="b", step=f"{self._times}", occurred_at=self._at)
            self._ledger.append(stream, [to_entry(step)], after=after)
        return self._ledger.append(stream, events, after=after, key=key)


@pytest.mark.parametrize("times", [0, 1, 2])
def test_a_run_that_moved_on_is_decided_on_again(
    records: Records, start: dt.datetime, times: int
):
    begin(records, start)
    rival = Rival(records, times, start)
    handle(MarkFullBoil(load="load 1", at=start), RUN, ledger=rival)
    state = state_of(RUN, ledger=records.ledger)
    assert (state.loads[0].boiling_since, state.sequence) == (start, 2 + times)


def test_a_run_that_never_stands_still_is_given_up(
    records: Records, start: dt.datetime
):
    begin(records, start)
    with pytest.raises(MovedOn, match="has moved on"):
        handle(
            MarkFullBoil(load="load 1", at=start), RUN, ledger=Rival(records, 3, start)
        )
    assert state_of(RUN, ledger=records.ledger).loads[0].boiling_since is None


NOON = dt.datetime(2026, 9, 12, 12, 0, 0, 250_000, tzinfo=dt.UTC)
PROBLEM = day(jelly(), butter(), people=2)
PLAN = by_hand(PROBLEM)
assert PLAN is not None
STEP = RunStep(
    batch="plum jelly 1", step="fill", product="plum jelly", book_min=5, follows="skim"
)
EVERY_KIND = [
    DayBegun(loads=(LOAD,), steps=(STEP,), kitchen="invented", occurred_at=NOON),
    VentingBegun(load="load 1", boot="b02c", occurred_at=NOON),
    VentingStopped(load="load 1", occurred_at=NOON),
    FullBoilReached(load="load 1", occurred_at=NOON),
    BoilLost(load="load 1", occurred_at=NOON),
    LoadLifted(load="load 1", occurred_at=NOON),
    LoadTakenBack(load="load 1", was="lifted", occurred_at=NOON),
    StepBegun(batch="plum jelly 1", step="fill", occurred_at=NOON),
    StepDone(batch="plum jelly 1", step="fill", occurred_at=NOON),
    StepTakenBack(batch="plum jelly 1", step="fill", was="done", occurred_at=NOON),
    JarBroke(load="load 1", batch="plum jelly 1", crack="ring", occurred_at=NOON),
    JarIsWhole(load="load 1", batch="plum jelly 1", occurred_at=NOON),
    PlanTaken(
        plan=KeptPlan(of="x", problem=PROBLEM, timetable=PLAN),
        loads=(LOAD,),
        sentence="Done at 17:05, as before; nothing moves.",
        left_out=(LeftOut(batch="plum jelly 2", keeps=("5 cups of plum juice",)),),
        over=(("plum jelly 1", "fill"),),
        occurred_at=NOON,
    ),
    ClockSet(by_ms=-3_600_000, switched_on=NOON, boot="b02c", occurred_at=NOON),
]


@pytest.mark.parametrize("event", EVERY_KIND, ids=lambda event: event.kind)
def test_every_event_comes_back_from_the_ledger(records: Records, event):
    records.ledger.append("run/x", [to_entry(event)], after=0)
    assert from_entry(records.ledger.read("run/x")[0]) == event


def test_a_day_that_was_begun_before_batches_were_kept_still_reads(records: Records):
    """Version 1 as it was written; its batches stay unknown."""
    written = to_entry(DayBegun(loads=(LOAD,), occurred_at=NOON))
    body = json.loads(written.body)
    del body["batches"]
    old = dataclasses.replace(written, version=1, body=json.dumps(body))
    records.ledger.append("run/x", [old], after=0)
    found = from_entry(records.ledger.read("run/x")[0])
    assert found == DayBegun(loads=(LOAD,), batches=(), occurred_at=NOON)


@pytest.mark.parametrize("kind", ["full-boil-reached", "boil-lost", "load-lifted"])
def test_a_tap_of_before_any_came_late_is_still_read(records: Records, kind: str):
    entry = Entry(kind=kind, version=1, body='{"load":"load 1"}', occurred_at=NOON)
    records.ledger.append("run/x", [entry], after=0)
    found = from_entry(records.ledger.read("run/x")[0])
    assert isinstance(found, FullBoilReached | BoilLost | LoadLifted)
    assert (found.load, found.late) == ("load 1", False)


@pytest.mark.parametrize("version", [1, 2, 3])
def test_a_clock_of_before_venting_was_kept_still_runs(records: Records, version: int):
    """Nobody knows how it was vented, and nobody is asked any more."""
    load = dataclasses.replace(LOAD, method="dial-gauge", pressure_psi=11.0)
    body = f'{{"late":false,"load":"{load.id}","boot":""}}'
    old = Entry(kind="full-boil-reached", version=version, body=body, occurred_at=NOON)
    begun = to_entry(DayBegun(loads=(load,), occurred_at=NOON))
    records.ledger.append("run/x", [begun, old], after=0)
    (run,) = state_of("run/x", ledger=records.ledger).loads
    assert (run.boiling_since, run.vented, run.vented_at) == (NOON, "", None)


@pytest.mark.parametrize("kind", ["step-begun", "step-done"])
def test_a_step_said_before_any_came_late_is_still_read(records: Records, kind: str):
    body = '{"batch":"plum jelly 1","step":"fill"}'
    entry = Entry(kind=kind, version=1, body=body, occurred_at=NOON)
    records.ledger.append("run/x", [entry], after=0)
    found = from_entry(records.ledger.read("run/x")[0])
    assert isinstance(found, StepBegun | StepDone)
    assert (found.step, found.late) == ("fill", False)


def test_a_day_of_before_steps_were_taken_over_is_still_read(records: Records):
    body = to_entry(DayBegun(loads=(LOAD,), occurred_at=NOON)).body
    assert '"steps":[]' in body
    old = body.replace(',"steps":[]', "").replace(',"kitchen":""', "")
    assert "steps" not in old
    assert "kitchen" not in old
    entry = Entry(kind="day-begun", version=1, body=old, occurred_at=NOON)
    records.ledger.append("run/x", [entry], after=0)
    assert state_of("run/x", ledger=records.ledger).begun_at == NOON


def test_no_kind_of_event_is_left_out():
    assert {event.kind for event in EVERY_KIND} == set(KINDS)


@pytest.mark.parametrize(
    ("kind", "version", "body", "said"),
    [
        (
            "moon-risen",
            1,
            "{}",
            "'moon-risen', version 1, which this Stillroom does not",
        ),
        ("boil-lost", 3, '{"load":"load 1"}', "'boil-lost', version 3, which this"),
        ("boil-lost", 1, "{}", r"\(boil-lost\) cannot be read: .*load"),
        ("boil-lost", 1, "{", r"\(boil-lost\) cannot be read: .* Restore"),
    ],
)
def test_an_entry_that_is_not_understood_is_refused(
    records: Records, kind: str, version: int, body: str, said: str
):
    entry = Entry(kind=kind, version=version, body=body, occurred_at=NOON)
    records.ledger.append("run/x", [entry], after=0)
    with pytest.raises(Unreadable, match=said):
        state_of("run/x", ledger=records.ledger)


def test_the_clock_tells_local_time_with_its_zone():
    assert WallClock().now().utcoffset() is not None


def test_a_run_is_named_by_its_day():
    assert run_id(dt.date(2026, 9, 12)) == RUN


def test_before_any_run_the_stove_shows_the_planned_day(
    records: Records, start: dt.datetime
):
    day = dt.date(2026, 9, 12)
    assert run_at_the_stove(day, start, ledger=records.ledger) == RUN
    assert run_at_the_stove(None, start, ledger=records.ledger) is None


@pytest.mark.parametrize(
    ("boiled", "hours", "planned", "shown"),
    [
        (True, 1, dt.date(2026, 9, 13), RUN),  # jars on the fire go before tomorrow
        (True, 1, None, RUN),  # the day file cannot be read just now
        (False, 1, dt.date(2026, 9, 13), RUN),  # its load is still to come
        (False, 23, dt.date(2026, 9, 13), RUN),  # jars may stand filled since
        (False, 25, dt.date(2026, 9, 13), "run/2026-09-13"),
        (False, 1, None, RUN),
        (True, 25, dt.date(2026, 9, 13), "run/2026-09-13"),  # nobody is there any more
        (True, 25, None, None),
    ],
)
def test_a_begun_day_stays_in_sight_while_a_load_of_it_is_to_come(
    records: Records,
    start: dt.datetime,
    boiled: bool,
    hours: int,
    planned: dt.date | None,
    shown: str | None,
):
    begin(records, start)
    if boiled:
        handle(MarkFullBoil(load="load 1", at=start), RUN, ledger=records.ledger)
    later = start + dt.timedelta(hours=hours)
    assert run_at_the_stove(planned, later, ledger=records.ledger) == shown


def test_a_day_whose_jars_are_all_out_gives_way_to_the_next(
    records: Records, start: dt.datetime
):
    begin(records, start)
    ask = {"load": "load 1"}
    handle(MarkFullBoil(at=start, **ask), RUN, ledger=records.ledger)
    out = start + dt.timedelta(minutes=30)
    tomorrow = dt.date(2026, 9, 13)
    assert run_at_the_stove(tomorrow, out, ledger=records.ledger) == RUN
    handle(LiftLoad(at=out, **ask), RUN, ledger=records.ledger)
    assert run_at_the_stove(tomorrow, out, ledger=records.ledger) == run_id(tomorrow)


def test_of_two_days_under_way_the_one_begun_last_is_shown_and_none_is_lost(
    records: Records, start: dt.datetime
):
    """Begun from a page of before: whoever begins it means that one."""
    begin(records, start)
    at = start + dt.timedelta(hours=1)
    begin(records, at, "run/2026-09-13")
    step = FinishStep(batch="plum jelly 1", step="fill", at=at)
    handle(step, RUN, ledger=records.ledger)
    for planned in (dt.date(2026, 9, 12), dt.date(2026, 9, 14)):
        shown = run_at_the_stove(planned, at, ledger=records.ledger)
        assert shown == "run/2026-09-13"
    assert list(under_way(at, ledger=records.ledger)) == ["run/2026-09-13", RUN]
    handle(MarkFullBoil(load="load 1", at=at), RUN, ledger=records.ledger)
    assert list(under_way(at, ledger=records.ledger)) == [RUN, "run/2026-09-13"]


def test_of_two_days_with_jars_on_the_fire_the_last_tapped_is_shown(
    records: Records, start: dt.datetime
):
    """Whoever taps stands there: the page goes on with what her hand was at."""
    other = "run/2026-09-13"
    begin(records, start)
    begin(records, start + dt.timedelta(minutes=1), other)
    at = start + dt.timedelta(hours=1)
    for run, shown in ((RUN, [RUN, other]), (other, [other, RUN])):
        handle(MarkFullBoil(load="load 1", at=at), run, ledger=records.ledger)
        assert list(under_way(at, ledger=records.ledger)) == shown
        at += dt.timedelta(minutes=1)
    step = FinishStep(batch="plum jelly 1", step="fill", at=at)
    handle(step, RUN, ledger=records.ledger)
    assert list(under_way(at, ledger=records.ledger)) == [RUN, other]


def test_a_late_tap_of_the_day_before_takes_no_clock_out_of_sight(
    records: Records, start: dt.datetime
):
    begin(records, start)
    today, at = "run/2026-09-13", start + dt.timedelta(hours=20)
    begin(records, at, today)
    handle(MarkFullBoil(load="load 1", at=at), today, ledger=records.ledger)
    late = MarkFullBoil(load="load 1", at=start, late=True)
    handle(late, RUN, ledger=records.ledger)
    tomorrow = dt.date(2026, 9, 14)
    assert run_at_the_stove(tomorrow, at, ledger=records.ledger) == today


def test_a_clock_that_an_old_page_starts_is_in_sight(
    records: Records, start: dt.datetime
):
    begin(records, start)
    newer, at = "run/2026-09-15", start + dt.timedelta(days=3)
    begin(records, at, newer)
    handle(MarkFullBoil(load="load 1", at=at), RUN, ledger=records.ledger)
    planned = dt.date(2026, 9, 15)
    assert run_at_the_stove(planned, at, ledger=records.ledger) == RUN
    later = at + dt.timedelta(minutes=1)  # a clock of the day itself, set since
    handle(MarkFullBoil(load="load 1", at=later), newer, ledger=records.ledger)
    assert run_at_the_stove(planned, later, ledger=records.ledger) == newer


def test_the_same_day_is_the_same_entry_whoever_writes_it():
    """What a set holds comes in another order in each process: it is put in order."""
    names = [f"skill {n}" for n in range(9)]
    people = (dataclasses.replace(PROBLEM.people[0], skills=frozenset(names)),)
    problem = dataclasses.replace(PROBLEM, people=people)
    plan = KeptPlan(of="x", problem=problem, timetable=PLAN)
    entry = to_entry(PlanTaken(plan=plan, loads=(), sentence="", occurred_at=NOON))
    (written,) = json.loads(entry.body)["plan"]["problem"]["people"]
    assert written["skills"] == names


def test_a_setting_of_the_clock_of_before_starts_had_names_is_read(records: Records):
    body = json.dumps({"by_ms": 60_000, "switched_on": NOON.isoformat()})
    entry = Entry(kind="clock-set", version=1, body=body, occurred_at=NOON)
    records.ledger.append("run/x", [entry], after=0)
    found = from_entry(records.ledger.read("run/x")[0])
    assert found == ClockSet(by_ms=60_000, switched_on=NOON, occurred_at=NOON)


def test_what_was_written_in_every_version_of_before_is_read():
    """An old day is read as one of now, and never as one of a program to come."""
    before = {
        (kind, version): event.version
        for kind, event in KINDS.items()
        for version in range(1, event.version)
    }
    assert before == UPCASTS
