"""``stillroom replan --db``: from the run's own record, and taken over into it."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping, Sequence
from dataclasses import replace
from pathlib import Path

from stillroom.cli.booking import token
from stillroom.cli.kept import looked_over
from stillroom.cli.options import print_json
from stillroom.cli.paragraphs import say
from stillroom.cli.replan_text import (
    offers_as_json,
    print_offers,
    print_replanned,
    replanned_as_json,
)
from stillroom.in_a_list import any_of
from stillroom.planning.begun.changes import Changes
from stillroom.planning.begun.happened_file import clock_minute
from stillroom.planning.begun.warming import not_on_the_fire_said
from stillroom.planning.day import Day
from stillroom.planning.day_file.dayfile import read_day, text_of
from stillroom.planning.daytime import clock_time
from stillroom.planning.happened import Key
from stillroom.planning.problem import Problem
from stillroom.planning.whole_day import plan_the_day
from stillroom.planning.words.step_words import late_named, no_such_step
from stillroom.records.engine import place_of
from stillroom.records.ledger import Ledger
from stillroom.records.missing import no_record
from stillroom.refusal import Fault, Refusal, Refused, Unreadable, granted
from stillroom.running.again import Told, plan_again, taking
from stillroom.running.clock import HERE
from stillroom.running.day_mark import mark_of
from stillroom.running.fold import RunState
from stillroom.running.given_up import given_up_in, may_be_given_up
from stillroom.running.handle import handle, run_id, state_of
from stillroom.running.kept_plan import OwnFile, own_file
from stillroom.running.rules import OUR_RECORD, rules_for
from stillroom.running.so_far import minute_0, minute_of
from stillroom.stock.handle import stock_now

QUICK_S = 0.5
"""Batches are wanted of the day file then, and no timetable. [s]"""

NO_MOVE = (
    '"{}" puts nothing at another hour; write who, when it was to begin and when it '
    'begins: "Corwin 10:00=10:30"'
)


def replan_from_record(
    day_file: Path,
    db: str,
    now: str,
    *,
    late_min: Mapping[Key, int],
    leaves: Sequence[str],
    comes: Sequence[str],
    moves: Sequence[str],
    broken: Sequence[str],
    drop: Sequence[str],
    take_in: Sequence[str],
    take: bool,
    within: float,
    json_: bool,
) -> None:
    """
    Plan the rest of a run again, print it, and take it over where that is asked.

    Raises
    ------
    Unreadable
        If there is no such record, or something named is not in the plan.
    Refused
        If the day was not begun with a plan, or what is asked cannot be.
    """
    file = place_of(db).file
    if file is not None and not file.exists():
        raise Unreadable(Fault(no_record(file), "--db"))
    day = read_day(day_file)
    with looked_over(db) as records:
        run = run_id(day.date)
        state = state_of(run, ledger=records.ledger)
        at = _at(now, day, state)
        told, own = Told(), OwnFile()
        if state.plan is not None:
            told = _told(state, at, late_min, leaves, comes, moves, broken, drop)
            own = _own_file(day, day_file, state)
            if take_in and own.day is None:
                raise Refused(_another_file(day_file))
            # what has room is looked for where it is asked for: it takes its time
            own = own if take_in else replace(own, spares=())
            told = replace(told, taken=tuple(take_in))
        told = replace(told, given_up=_given_up(records.ledger, run, state, at))
        again = granted(plan_again(state, at, told, seconds=within, own=own))
        if json_:
            said = replanned_as_json(again.found)
            print_json({**said, "offers": offers_as_json(again.offers), "taken": take})
        else:
            print_replanned(again.found)
            problem = again.found.problem
            if cold := not_on_the_fire_said(problem, again.known.not_said):
                say(cold)
            if unsaid := _not_said_to_boil(state, at):
                say(unsaid)
            print_offers(again.offers, again.found.problem.starts_at)
        if take:
            command = taking(again, state, at)
            handle(command, run, ledger=records.ledger, key=f"again {token()}")
            if not json_:
                say("The day goes by this plan now.")


def _given_up(
    ledger: Ledger, run: str, state: RunState, at: dt.datetime
) -> frozenset[str]:
    """Return the loads that were given up; the stock is seldom asked."""
    if not may_be_given_up(state, at):
        return frozenset()
    return given_up_in(state, run, stock_now(ledger), at)


def _own_file(day: Day, day_file: Path, state: RunState) -> OwnFile:
    """What the run's own day file says; any other one is not even planned."""
    text = text_of(day_file)
    if state.plan is None or state.plan.of != mark_of(text):
        return OwnFile()
    return own_file(plan_the_day(day, seconds=QUICK_S, explain=False), state, text)


def _another_file(day_file: Path) -> Refusal:
    return Refusal(
        f"the day was begun by another day file than {day_file.name}, and a batch is "
        "taken in from its own alone",
        instead="give the day file as it was when the day was begun, or plan the rest "
        "without --take-in",
        source=OUR_RECORD,
    )


def _at(now: str, day: Day, state: RunState) -> dt.datetime:
    """The moment of a clock time, on the day of the run or in the night behind it."""
    starts = dt.datetime.combine(day.date, day.starts, HERE)
    if state.plan is not None and state.begun_at is not None:
        starts = minute_0(state.begun_at.astimezone(HERE), state.plan.problem)
    minutes = clock_minute(now, f"{starts:%H:%M}", "--now")
    return starts + dt.timedelta(minutes=minutes)


def _told(
    state: RunState,
    at: dt.datetime,
    late_min: Mapping[Key, int],
    leaves: Sequence[str],
    comes: Sequence[str],
    moves: Sequence[str],
    broken: Sequence[str],
    drop: Sequence[str],
) -> Told:
    """What was typed, against the plan of the run."""
    assert state.plan is not None
    problem, plan = state.plan.problem, state.plan.timetable
    begun = at if state.begun_at is None else state.begun_at.astimezone(at.tzinfo)
    now = minute_of(at, begun, problem)
    ends = {(s.batch, s.step): s.end_min for s in plan.steps}
    more = {}
    for said, late in late_min.items():
        key = late_named(problem, plan, said, now)
        if key not in ends:
            raise Unreadable(Fault(no_such_step(key, ends), key="--late"))
        if (ended := ends[key] + late) < now:
            raise Unreadable(Fault(_over_by_now(key, ended, now, problem), "--late"))
        more[key] = max(1, ended - now)
    people, canners = [p.id for p in problem.people], [c.id for c in problem.canners]

    def hours(said: Sequence[str], key: str) -> dict[str, int]:
        named = {}
        for one in said:
            name, _, hour = one.partition("=")
            _known(name.strip(), people, key)
            named[name.strip()] = clock_minute(hour, problem.starts_at, key)
        return named

    moved = {}
    for one in moves:
        meant, _, hour = one.partition("=")
        name, _, was = meant.strip().rpartition(" ")
        if not name.strip() or not hour.strip():
            raise Unreadable(Fault(NO_MOVE.format(one.strip()[:80]), "--moves"))
        _known(name.strip(), people, "--moves")
        begins = clock_minute(was, problem.starts_at, "--moves")
        moved[name.strip(), begins] = clock_minute(hour, problem.starts_at, "--moves")
    for canner in broken:
        _known(canner, canners, "--broken")
    return Told(
        more_min=more,
        changes=Changes(
            leaves_min=hours(leaves, "--leaves"),
            back_min=hours(comes, "--comes"),
            moved_min=moved,
            broken=tuple(broken),
            dropped=tuple(drop),
        ),
    )


def _not_said_to_boil(state: RunState, at: dt.datetime) -> str:
    """Say which loads would boil by now, had somebody said so; empty if none."""
    if state.plan is None or state.begun_at is None:
        return ""
    now = minute_of(at, state.begun_at.astimezone(at.tzinfo), state.plan.problem)
    boils = {load.id: load.boil_min for load in state.plan.timetable.loads}
    late = [
        run.load
        for run in state.loads
        if not run.has_begun and boils.get(run.load.id, now) < now
    ]
    if not late:
        return ""
    said = any_of([f"{load.name} is {rules_for(load).at}" for load in late])
    return (
        f"Nobody said at the stove that {said}: no process is taken to have begun, and "
        "no jar to be out, before that is said."
    )


def _over_by_now(key: Key, ended: int, now: int, problem: Problem) -> str:
    """Say of a step that it would be over: the run tells of what has gone by."""
    return (
        f"{'/'.join(key)} was over at {clock_time(problem.starts_at, ended)} then, and "
        f"it is {clock_time(problem.starts_at, now)}: if it runs still, say by how "
        "much more it is late; if not, leave out this --late: what nobody said at the "
        "stove is taken to have gone by the plan"
    )


def _known(name: str, names: Sequence[str], key: str) -> None:
    if name not in names:
        raise Unreadable(
            Fault(
                f"{name[:60]!r} is not in the plan; name one of: {', '.join(names)}",
                key=key,
            )
        )
