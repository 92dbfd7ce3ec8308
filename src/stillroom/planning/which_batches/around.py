"""
What is done around the day: the evening before it, and once it is over.

Each is a task with its hour and who does it. Hours at night are put to the morning
where they may be; nobody gets up to tilt a jar.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Mapping, Sequence

from stillroom.methods.salted import DAY_BEFORE
from stillroom.methods.step import Skill
from stillroom.planning.day import Day
from stillroom.planning.dayplan import After, Task
from stillroom.planning.how_good.lateness import batches_done_min
from stillroom.planning.problem import Problem
from stillroom.planning.timetable import Timetable

EVENING = dt.time(19, 0)
"""When the evening before is begun, unless the day before goes on longer. Ours."""
WAKES, SLEEPS = dt.time(7, 0), dt.time(22, 0)
EVENING_TASK_MIN = 5
"""For each thing of the evening before. Common practice, no source. [min]"""
LOOK_MIN = 5
"""To tilt a jar, or to tick off what is done. Common practice, no source. [min]"""
EACH_JAR_MIN = (2.0, 0.25)
"""To take every jar in hand: to begin with, and for each. Common practice. [min]"""


def begins_before(day: Day, *, in_the_morning: bool = False) -> dt.datetime:
    """Return when the things of the evening before are begun, or of that morning."""
    at = WAKES if in_the_morning else EVENING
    begun = dt.datetime.combine(day.date - dt.timedelta(days=1), at)
    if in_the_morning or day.evening_from is None:
        return begun
    return max(begun, day.evening_from)


def evening_tasks(
    day: Day, lines: Sequence[str], sources: Mapping[str, str]
) -> tuple[Task, ...]:
    """
    Put the things of the evening before one after another, with who does them.

    What stands longer than a night is begun in the morning of the day before.

    Parameters
    ----------
    day : Day
        The day that they are for.
    lines : sequence of str
        What is to be done.
    sources : mapping of str to str
        Who says so, of the lines that are printed somewhere.
    """
    morning, evening = begins_before(day, in_the_morning=True), begins_before(day)
    early = [line for line in lines if line.startswith(DAY_BEFORE)]
    late = [line for line in lines if line not in early]
    return (
        *_one_by_one(day, early, morning, sources),
        *_one_by_one(day, late, evening, sources),
    )


def _one_by_one(
    day: Day, lines: Iterable[str], at: dt.datetime, sources: Mapping[str, str]
) -> list[Task]:
    tasks = []
    for line in lines:
        tasks.append(
            Task(
                when=at,
                until=None,
                who=who_looks(day),
                minutes=EVENING_TASK_MIN,
                what=line,
                batches=(),
                source=sources.get(line, ""),
            )
        )
        at += dt.timedelta(minutes=EVENING_TASK_MIN)
    return tasks


def who_looks(day: Day) -> str:
    """
    Who does what lies around a day: the first who does cold work, and is no child.

    Whoever neither minds a pan nor lifts jars is asked only where nobody else is there.
    """
    cold = [p for p in day.people if Skill.COLD in p.can]
    grown = [p for p in cold if {Skill.PAN, Skill.LIFT} & set(p.can)]
    return (grown or cold or list(day.people))[0].name


def after_tasks(
    day: Day, problem: Problem, plan: Timetable, afterwards: Iterable[After]
) -> tuple[Task, ...]:
    """
    Put what is due after the day to its hour.

    It is due so many hours after the last of its batches, and where it has a latest
    hour, that many after the first.
    """
    done = batches_done_min(problem, plan)
    jars = {b.id: b.jars for b in problem.batches}
    start = dt.datetime.combine(day.date, day.starts)
    tasks = []
    for after in afterwards:
        ends = [done[b] for b in after.batches if b in done]
        if not ends:
            continue
        when = _later(start, max(ends), after.later.after_h)
        until = None
        if after.later.until_h is not None:
            until = _later(start, min(ends), after.later.until_h)
        count = sum(jars[b] for b in after.batches if b in jars)
        tasks.append(
            Task(
                when=_awake(when, until),
                until=until,
                who=who_looks(day),
                minutes=LOOK_MIN
                if until is None
                else round(EACH_JAR_MIN[0] + EACH_JAR_MIN[1] * count),
                what=after.later.text,
                batches=after.batches,
                source=after.later.source,
            )
        )
    return tuple(sorted(tasks, key=lambda task: task.when))


def _later(start: dt.datetime, minute: int, hours: float) -> dt.datetime:
    return start + dt.timedelta(minutes=minute + round(60 * hours))


def _awake(when: dt.datetime, until: dt.datetime | None) -> dt.datetime:
    """The first waking hour from then on; the hour itself where that is too late."""
    if WAKES <= when.time() < SLEEPS:
        return when
    date = when.date() + dt.timedelta(days=when.time() >= SLEEPS)
    morning = dt.datetime.combine(date, WAKES)
    return when if until is not None and morning > until else morning
