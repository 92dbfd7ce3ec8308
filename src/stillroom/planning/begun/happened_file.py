"""
What has happened, read from a JSON file or from words like ``plum jelly 2/fill=25min``.

::

    {"steps": [{"batch": "plum jelly 2", "step": "fill", "started": "10:12",
                "finished": "10:20"}, ...],
     "loads": [{"load": "load 1", "lowered": "9:40", "boil": "9:58"}],
     "rest": "as planned"}

A load is called as the plan calls it. A step that still runs has ``expected`` in place
of ``finished``. What the file does not name went as planned, as far as hands, a pot
and a fire were free for it, or has not begun where ``rest`` is "not begun"; a break
that had begun by the plan was had even so, unless its person is told to have worked in
it. What comes before something that is told was over by then, whatever the plan's hour
for it, and so was what was in the only pot before it.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import replace
from pathlib import Path
from typing import Any

from stillroom.measures import read_duration_min
from stillroom.measures.clock import clock_time
from stillroom.planning.begun.happened_json import fault, rows, whole_of
from stillroom.planning.begun.not_free import as_free
from stillroom.planning.begun.slipped import as_it_slipped
from stillroom.planning.begun.too_much_at_once import too_much_at_once
from stillroom.planning.begun.was_before import with_what_was_before
from stillroom.planning.begun.was_out import out_by
from stillroom.planning.daytime import clock_time as hour
from stillroom.planning.daytime import since_midnight_min
from stillroom.planning.happened import Happened, Key
from stillroom.planning.problem import Problem
from stillroom.planning.timetable import (
    PlacedBreak,
    PlacedLoad,
    PlacedStep,
    Timetable,
)
from stillroom.planning.waits.load_names import LoadNames
from stillroom.planning.words.step_words import key_named
from stillroom.refusal import Fault, Unreadable, given_as

AS_PLANNED, NOT_BEGUN = "as planned", "not begun"
_CLOCK = re.compile(r"([0-9]{1,2}):([0-9]{2})(\s*\(next day\))?")
NIGHT_MIN = 6 * 60
"""A clock time further before a day than this is one of the night behind it. [min]"""


def clock_minute(text: object, starts_at: str, key: str) -> int:
    """
    Minute of the day's plan of a clock time; what is behind midnight may say so.

    >>> clock_minute("11:30", "07:30", "--now"), clock_minute("7:10", "07:30", "--now")
    (240, -20)
    >>> clock_minute("0:20", "07:30", "--now"), clock_minute("3 pm", "07:30", "--now")
    (1010, 450)
    >>> clock_minute("2:00 (next day)", "07:30", "--now")
    1110

    Raises
    ------
    Unreadable
        If it is no clock time.
    """
    typed = text.strip() if isinstance(text, str) else ""
    if (other := clock_time(typed)) is not None:
        typed = f"{other:%H:%M}"
    found = _CLOCK.fullmatch(typed)
    if found is None or int(found[1]) > 23 or int(found[2]) > 59:
        raise Unreadable(
            Fault(
                f"{str(text)[:40]!r} is no clock time; write the hour of 24 and the "
                'minute, "11:30", or "11:30 am"',
                key=key,
            )
        )
    minute = int(found[1]) * 60 + int(found[2]) - since_midnight_min(starts_at)
    return minute + 24 * 60 if found[3] or minute < -NIGHT_MIN else minute


def read_late(words: Iterable[str]) -> dict[Key, int]:
    """
    Read which steps end later, and by how much.

    >>> read_late(["plum jelly 2/sugar_in=25min"])
    {('plum jelly 2', 'sugar_in'): 25}

    Raises
    ------
    Unreadable
        If one of them is not like that.
    """
    found: dict[Key, int] = {}
    for word in words:
        name, equals, given = word.partition("=")
        batch, slash, step = name.strip().rpartition("/")
        if not equals or not slash or not batch.strip() or not step.strip():
            raise Unreadable(
                Fault(
                    f'"{word[:80]}" names no step; write BATCH/STEP=MINUTES: '
                    '"plum jelly 2/fill=25min"',
                    key="--late",
                )
            )
        with given_as("--late"):
            minutes = read_duration_min(given.strip())
        if not 0 < minutes <= 24 * 60:
            raise Unreadable(
                Fault(f"{given.strip()} is outside 1 min to 24 h", key="--late")
            )
        found[batch.strip(), step.strip()] = minutes
    return found


def read_happened(
    file: Path, problem: Problem, plan: Timetable, now_min: int
) -> Happened:
    """
    Read what has happened.

    Parameters
    ----------
    file : Path
        JSON, at most 1 MB.
    problem : Problem
        The day.
    plan : Timetable
        Its plan; the file names its steps and loads.
    now_min : int
        Minute of the day.

    Raises
    ------
    Unreadable
        If the file cannot be read, or names what the plan does not have.
    """
    body = whole_of(file)
    rest = body.get("rest", AS_PLANNED)
    if rest not in (AS_PLANNED, NOT_BEGUN):
        raise fault(f'"{AS_PLANNED}" or "{NOT_BEGUN}" is allowed', rest, "rest")
    placed = {(s.batch, s.step): s for s in plan.steps}
    steps = [
        _step(row, problem, placed, now_min, where)
        for where, row in rows(body, "steps")
    ]
    loads = [
        _load(row, problem, plan, now_min, where) for where, row in rows(body, "loads")
    ]
    ids = {load.id for load in loads}
    if len(ids) != len(loads):
        raise fault("name each load once", "a load named twice", "loads")
    told = {(s.batch, s.step): s for s in steps}
    if len(told) != len(steps):
        raise fault("name each step once", "a step named twice", "steps")
    _in_order(problem, steps)
    if rest == NOT_BEGUN:
        begun = with_what_was_before(problem, placed, told, told, loads)
        if out := out_by(problem, begun, told):
            begun = with_what_was_before(problem, placed, told, told, loads, out)
        return Happened(
            now_min=now_min,
            steps=tuple(begun.values()),
            loads=tuple(loads),
            breaks=tuple(_had(plan, steps, now_min)),
        )
    slips = ((s, s.end_min - placed[s.batch, s.step].end_min) for s in steps)
    known = {(s.batch, s.step): late for s, late in slips if late > 0}
    assumed = as_it_slipped(problem, plan, now_min, known, loads)
    begun = {(s.batch, s.step): s for s in (*assumed.steps, *steps)}
    in_loads = (*loads, *(load for load in assumed.loads if load.id not in ids))
    begun = as_free(problem, begun, now_min, told, in_loads)
    for key in too_much_at_once(problem, begun, now_min, told):
        del begun[key]
    begun = with_what_was_before(problem, placed, begun, told, in_loads)
    return replace(
        assumed,
        steps=tuple(begun.values()),
        loads=in_loads,
    )


def _had(
    plan: Timetable, steps: Iterable[PlacedStep], now_min: int
) -> Iterator[PlacedBreak]:
    """
    Breaks that had begun by the plan, of who is not told to have worked in them.

    No break can be told: none of them would have been had, and each be given again.
    """
    for rest in plan.breaks:
        worked = any(
            s.person == rest.person
            and s.start_min < rest.end_min
            and s.end_min > rest.start_min
            for s in steps
        )
        if rest.start_min < now_min and not worked:
            yield rest


def _in_order(problem: Problem, steps: Iterable[PlacedStep]) -> None:
    """Of two steps that are told, what comes first may not begin after the other."""
    begun = {(s.batch, s.step): s.start_min for s in steps}
    for batch in problem.batches:
        for link in batch.links:
            first = begun.get((batch.id, link.before))
            then = begun.get((batch.id, link.after))
            if first is None or then is None or link.at_least_min < 0 or first <= then:
                continue
            at = [hour(problem.starts_at, minute) for minute in (then, first)]
            raise fault(
                f"it begins at {at[0]}, and {link.before}, which comes before it, at "
                f"{at[1]}; mend one of the two",
                f"{batch.id}/{link.after}",
                "steps",
            )


def _step(
    row: dict[str, Any],
    problem: Problem,
    placed: dict[Key, PlacedStep],
    now: int,
    where: str,
) -> PlacedStep:
    starts_at = problem.starts_at
    typed = (str(row.get("batch", "")), str(row.get("step", "")))
    with given_as(where):
        name = key_named(problem, typed)
    if name not in placed:
        steps = ", ".join(s for b, s in placed if b == name[0])
        batches = ", ".join(dict.fromkeys(b for b, _ in placed))
        known = f"steps of it: {steps}" if steps else f"batches: {batches}"
        raise fault(f"name a step of the plan; {known}", "/".join(name), where)
    plan = placed[name]
    if "finished" in row and "expected" in row:
        raise fault("write finished or expected, one of them", "both", where)
    start = plan.start_min
    if "started" in row:
        start = clock_minute(row["started"], starts_at, f"{where}.started")
    length = plan.end_min - plan.start_min
    end = start + length
    if "finished" in row:
        end = clock_minute(row["finished"], starts_at, f"{where}.finished")
        if end > now:
            raise fault("it lies after now; write expected", row["finished"], where)
    elif "expected" in row:
        end = clock_minute(row["expected"], starts_at, f"{where}.expected")
    else:
        end = max(end, now + 1)  # it runs: not over yet
    if start > now:
        raise fault("it lies after now", row.get("started"), f"{where}.started")
    if end < start:
        raise fault("it ends before it began", f"{'/'.join(name)}", where)
    person = row.get("person")
    people = [p.id for p in problem.people]
    if person is None:  # nobody else was named
        person = plan.person
    elif person not in people:
        raise fault(f"name one of {', '.join(people)}", person, f"{where}.person")
    return replace(plan, start_min=start, end_min=end, person=person)


def _load(
    row: dict[str, Any], problem: Problem, plan: Timetable, now: int, where: str
) -> PlacedLoad:
    wanted, names = row.get("load", ""), LoadNames(problem, plan)
    asked = names.id_of(wanted) if isinstance(wanted, str) else None
    load = next((one for one in plan.loads if one.id == asked), None)
    if load is None:
        known = ", ".join(map(names.name, names.number)) or "none"
        raise fault(f"name a load of the plan: {known}", wanted, where)
    at = problem.starts_at
    lower = load.lower_min
    if "lowered" in row:
        lower = clock_minute(row["lowered"], at, f"{where}.lowered")
    lowered = lower + load.lowered_min - load.lower_min
    boil = lowered + load.boil_min - load.lowered_min
    if "boil" in row:
        boil = clock_minute(row["boil"], at, f"{where}.boil")
    elif boil < now:
        boil = now  # no boil was seen: the clock has not started
    done = boil + load.process_min
    lift = max(done + load.lift_min - load.done_min, now if "out" not in row else 0)
    out = lift + load.out_min - load.lift_min
    if "out" in row:
        out = clock_minute(row["out"], at, f"{where}.out")
        lift = out - load.out_min + load.lift_min
    if lower > now:
        raise fault("it lies after now", row.get("lowered"), f"{where}.lowered")
    if not lower <= boil or lift < done:
        raise Unreadable(
            Fault(
                f"the times of {names.name(load.id)} are not in order: lowered, full "
                f"boil, {load.process_min} min of process, lifted out",
                key=where,
            )
        )
    return replace(
        load,
        heat_min=load.heat_min + lower - load.lower_min,
        lower_min=lower,
        lowered_min=min(lowered, boil),
        boil_min=boil,
        done_min=done,
        lift_min=lift,
        out_min=out,
        fire_free_min=max(done, load.fire_free_min),
    )
