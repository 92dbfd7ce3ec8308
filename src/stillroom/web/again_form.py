"""What she knows of the day beside what was tapped: read from the form's fields."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from stillroom.measures import read_duration_min
from stillroom.planning.begun.as_known import Known
from stillroom.planning.begun.changes import Changes, may_be_dropped
from stillroom.planning.begun.happened_file import clock_minute
from stillroom.planning.begun.moved_rests import to_come
from stillroom.planning.begun.warming import HEAT, warming
from stillroom.planning.daytime import clock_time
from stillroom.planning.happened import Key
from stillroom.planning.problem import Problem
from stillroom.planning.rinses import as_worked
from stillroom.planning.timetable import Timetable
from stillroom.planning.waits.load_names import LoadNames
from stillroom.refusal import Fault, Unreadable
from stillroom.running.again import Told

RECENTLY_MIN = 20
"""What was to end so lately, and nobody said so, may still run. [min]"""
MOST_ASKED = 12
LONGEST_MORE_MIN = 600
MORE, NOT_BEGUN, BROKEN, DROP = "more", "not-begun", "broken", "drop"
LEAVES, COMES, MOVES = "leaves", "comes", "moves"
TAKE = "take-in"
_WAS = re.compile(r"-?\d{1,4}", re.ASCII)
"""A minute of the day, in the name of a field."""


@dataclass(frozen=True, slots=True, kw_only=True)
class UnderWay:
    """A step that runs, or that nobody has said to be over."""

    field: str
    """Name of the field of its minutes."""
    key: str
    """Value that says that it has not begun."""
    verb: str
    batch: str
    until: str
    over: bool
    """By the plan it has ended."""
    unsaid: bool = False
    """Nobody has said that it is on the fire, or lit: it counts as so from now on."""


def under_way(problem: Problem, plan: Timetable, known: Known) -> tuple[UnderWay, ...]:
    """
    Return what a form asks about: what should be on a fire, what runs, what ended last.

    Canners that are lit, or should be, come behind.
    Of a canner it is the water for its next load that was to be warmed by now.
    """
    happened = known.happened
    worked = as_worked(problem, happened.steps)
    verbs = {(b.id, s.id): s.verb for b in worked.batches for s in b.steps}
    asked = [
        s
        for s in happened.steps
        if happened.runs(s)
        or (
            (s.batch, s.step) in known.by_plan
            and s.end_min > happened.now_min - RECENTLY_MIN
        )
    ]
    asked.sort(key=lambda s: (not happened.runs(s), -s.end_min))
    steps = tuple(
        UnderWay(
            field=f"{MORE}|{s.batch}|{s.step}",
            key=f"{s.batch}|{s.step}",
            verb=verbs[s.batch, s.step],
            batch=s.batch,
            until=clock_time(problem.starts_at, s.end_min),
            over=not happened.runs(s),
        )
        for s in asked[:MOST_ASKED]
    )
    return (
        *_not_said(problem, plan, known),
        *steps,
        *_warming(problem, plan, known),
    )


def _not_said(problem: Problem, plan: Timetable, known: Known) -> Iterator[UnderWay]:
    """Steps that should be on a fire, and nobody has said that they are."""
    verbs = {(b.id, s.id): s.verb for b in problem.batches for s in b.steps}
    for s in plan.steps:
        if (s.batch, s.step) in known.not_said:
            yield UnderWay(
                field=f"{MORE}|{s.batch}|{s.step}",
                key=f"{s.batch}|{s.step}",
                verb=verbs[s.batch, s.step],
                batch=s.batch,
                until=clock_time(problem.starts_at, s.end_min),
                over=s.end_min <= known.happened.now_min,
                unsaid=True,
            )


def _warming(problem: Problem, plan: Timetable, known: Known) -> Iterator[UnderWay]:
    """Canners whose water warms, or should by the plan, each for its next load."""
    names, now = LoadNames(problem, plan), known.happened.now_min
    for one in warming(plan, known.happened):
        load = one.load
        yield UnderWay(
            field=f"{MORE}|{load.id}|{HEAT}",
            key=f"{load.id}|{HEAT}",
            verb=f"Warm the water of the {load.canner}",
            batch=names.short(load.id),
            until=clock_time(problem.starts_at, one.hot_min),
            over=one.hot_min <= now,
            unsaid=one.since_min is None,
        )


def leaving_fields(problem: Problem, now: int) -> tuple[tuple[str, str, str], ...]:
    """Field, person and the hour they leave by the plan, of whoever is still there."""
    end = problem.horizon_min
    return tuple(
        (
            f"{LEAVES}|{p.id}",
            p.id,
            clock_time(problem.starts_at, min(p.leaves_min, end)),
        )
        for p in problem.people
        if p.leaves_min > now
    )


def coming_fields(problem: Problem, known: Known) -> tuple[tuple[str, str, str], ...]:
    """Field, person and hour of coming by the plan, empty for whoever was there."""
    seen = {s.person for s in known.happened.steps}
    return tuple(
        (
            f"{COMES}|{p.id}",
            p.id,
            ""
            if p.id in seen or p.arrives_min <= 0
            else clock_time(problem.starts_at, p.arrives_min),
        )
        for p in problem.people
        if p.leaves_min > known.happened.now_min
    )


def moving_fields(
    problem: Problem, plan: Timetable, known: Known
) -> tuple[tuple[str, str, str, str], ...]:
    """Field, person, what and its hours, of each break and absence to come."""
    return tuple(
        (
            f"{MOVES}|{one.person}|{one.start_min}",
            one.person,
            "rests" if one.is_break else "is away",
            f"{clock_time(problem.starts_at, one.start_min)} to "
            f"{clock_time(problem.starts_at, one.end_min)}",
        )
        for one in to_come(problem, plan, known.happened)
    )


def droppable(problem: Problem, known: Known) -> tuple[str, ...]:
    """Batches that may still be left out."""
    return tuple(
        b.id for b in problem.batches if may_be_dropped(problem, known.happened, b.id)
    )


def read_told(
    fields: Mapping[str, list[str]], problem: Problem, plan: Timetable
) -> Told:
    """
    Read the form.

    Raises
    ------
    Unreadable
        With a fault for each field that cannot be read, under the field's name.
    """
    faults: list[Fault] = []
    steps = {(b.id, s.id) for b in problem.batches for s in b.steps}
    steps |= {(load.id, HEAT) for load in plan.loads}
    people = {p.id for p in problem.people}
    more: dict[Key, int] = {}
    hours: dict[str, dict[str, int]] = {LEAVES: {}, COMES: {}}
    moved: dict[tuple[str, int], int] = {}
    for name, values in fields.items():
        text = values[-1].strip() if values else ""
        kind, _, rest = name.partition("|")
        batch, _, step = rest.rpartition("|")
        try:
            if kind == MORE and text and (batch, step) in steps:
                more[batch, step] = _minutes(text)
            elif kind in hours and text and rest in people:
                hours[kind][rest] = clock_minute(text, problem.starts_at, name)
            elif kind == MOVES and text and batch in people and _WAS.fullmatch(step):
                moved[batch, int(step)] = clock_minute(text, problem.starts_at, name)
        except Unreadable as fault:
            faults += [Fault(f.what, key=name) for f in fault.faults]
    if faults:
        raise Unreadable(*faults)
    parted = [value.rpartition("|") for value in fields.get(NOT_BEGUN, [])]
    not_begun = {(batch, step) for batch, _, step in parted}
    canners = {c.id for c in problem.canners}
    return Told(
        more_min=more,
        not_begun=frozenset(not_begun & steps),
        changes=Changes(
            leaves_min=hours[LEAVES],
            back_min=hours[COMES],
            moved_min=moved,
            broken=tuple(c for c in fields.get(BROKEN, []) if c in canners),
            dropped=tuple(dict.fromkeys(fields.get(DROP, []))),
        ),
        taken=tuple(dict.fromkeys(fields.get(TAKE, []))),
    )


def _minutes(text: str) -> int:
    """Minutes, written as a number or as "25 min"."""
    typed = text if not text.isascii() or not text.isdecimal() else f"{text} min"
    minutes = float(read_duration_min(typed))
    if not 0 < minutes <= LONGEST_MORE_MIN:
        raise Unreadable(
            f"{text} is outside 1 min to {LONGEST_MORE_MIN // 60} h; say how long it "
            "still needs from now on"
        )
    return -int(-minutes // 1)
