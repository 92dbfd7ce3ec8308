"""
What goes by itself, and has to be set going: a canner lit, jars in hot water.

The plan gives it to nobody's hands, so no person's card says it. Pure.
"""

from __future__ import annotations

from datetime import datetime

from stillroom.planning.begun.as_known import LOWER
from stillroom.planning.begun.warming import HEAT
from stillroom.planning.dayplan import DayPlan
from stillroom.planning.problem import Problem
from stillroom.planning.rinses import as_worked
from stillroom.planning.timetable import PlacedStep, Timetable
from stillroom.planning.words.entries import Ink
from stillroom.planning.words.sheet import day_sheet
from stillroom.running.behind_us import behind_us
from stillroom.running.fold import RunState
from stillroom.running.hands import Todo, gone_by, step_todo
from stillroom.running.load_run import LoadRun
from stillroom.running.so_far import minute_of

SOON_MIN = 10
"""So long before its minute a thing is shown: hands are wet when it is due. [min]"""


def to_set_going(
    plan: DayPlan | None, state: RunState, at: datetime
) -> tuple[Todo, ...]:
    """
    Return what is to be set going by now, or soon, in the order of the plan.

    A canner goes from here when its jars are said to be filled, or its clock has begun.
    A step goes when it is said done, or something behind it is. On a day on which no
    step is ever tapped they go by the plan. Else they stay, however long ago the last
    tap was: water that nobody has lit goes by itself for nobody.
    """
    by = gone_by(plan, state)
    if by is None or state.begun_at is None:
        return ()
    problem, timetable = by
    now = minute_of(at, state.begun_at.astimezone(at.tzinfo), problem)
    found = [
        *_canners(problem, timetable, state, now + SOON_MIN),
        *_steps(problem, timetable, state, now),
    ]
    return tuple(sorted(found, key=lambda todo: todo.start_min))


def _canners(
    problem: Problem, timetable: Timetable, state: RunState, until: int
) -> list[Todo]:
    """Canners to be lit, each for its next load alone; none that holds jars still."""
    over = state.taken[-1].over if state.taken else ()
    taken = {run.load.canner for run in state.in_canners}
    sheet = day_sheet(problem, timetable)
    found = []
    for entry in sorted(sheet.entries, key=lambda entry: entry.start_min):
        run = state.load(entry.load)
        if run is None or entry.who or entry.ink is not Ink.HEAT:
            continue
        if run.is_in or entry.where in taken:
            continue
        taken.add(entry.where)
        if _is_filled(run, state) or (entry.load, LOWER) in over:
            continue
        if entry.start_min <= until:
            found.append(
                Todo(
                    start_min=entry.start_min,
                    at=sheet.clock(entry.start_min),
                    verb=entry.what,
                    detail=f"{run.load.name}, {entry.where} · {entry.detail}",
                    until=entry.end_sign,
                    batch=entry.load,
                    step=HEAT,
                    begun=(entry.load, HEAT) in state.steps_begun,
                )
            )
    return found


def _is_filled(run: LoadRun, state: RunState) -> bool:
    """Whether it was said; where it cannot be known, the canner is still shown."""
    closes = {batch.id: batch.closes for batch in state.batches}
    return any((b, closes.get(b)) in state.steps_done for b, _ in run.load.jars)


def _steps(
    problem: Problem, timetable: Timetable, state: RunState, now: int
) -> list[Todo]:
    """Steps of batches that nobody stands by."""
    worked = as_worked(problem, timetable)
    steps = {(b.id, s.id): s for b in worked.batches for s in b.steps}
    over = behind_us(problem, state)
    said = state.steps_done | state.steps_begun
    taps = bool(state.done_at or state.begun_steps)  # not what a new plan has over
    return [
        step_todo(placed, steps[placed.batch, placed.step], problem.starts_at, state)
        for placed in timetable.steps
        if placed.person is None
        and (placed.batch, placed.step) not in over
        and placed.start_min <= now + SOON_MIN
        and not _is_behind_us(placed, timetable, said, None if taps else now)
    ]


def _is_behind_us(
    placed: PlacedStep,
    timetable: Timetable,
    said: frozenset[tuple[str, str]],
    now: int | None,
) -> bool:
    """Whether a step is over; by the plan at ``now``, or never by that."""
    mine = [s for s in timetable.steps if s.batch == placed.batch]
    tapped = [s for s in mine if (s.batch, s.step) in said]
    if not tapped:
        return now is not None and placed.end_min <= now
    return any(s.start_min >= placed.end_min for s in tapped)
