"""
Durations that the runs at the stove tell, where they tell them honestly.

A step's duration is from when it was said to be begun to when it was said to be done;
or, where the plan has it follow another step without a pause, from the end of that one.
Nothing else counts: two taps minutes apart do not say what lay between them.
"""

from __future__ import annotations

import datetime as dt
import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from stillroom.book.words import plain
from stillroom.methods.in_halves import whole_step
from stillroom.running.events import (
    AnyEvent,
    ClockSet,
    DayBegun,
    RunStep,
    StepBegun,
    StepDone,
    StepTakenBack,
)

TOLD_AFTERWARDS_S = 15.0
"""Two taps so near tell that both were given afterwards: no duration follows. [s]"""


@dataclass(frozen=True, slots=True)
class StepTook:
    """One step of one day, beside the book's minutes."""

    product: str
    """Made plain."""
    step: str
    minutes: float
    book_min: int
    day: int
    """Counted through the runs."""

    @property
    def log(self) -> float:
        """Logarithm of its minutes over the book's."""
        return math.log(self.minutes / self.book_min)


def steps_took(
    runs: Iterable[Iterable[AnyEvent]], *, kitchen: str = ""
) -> tuple[StepTook, ...]:
    """
    Return what each step took on each day, one run after the other.

    With a ``kitchen``, days that were in another one are left out.
    """
    return tuple(
        took
        for day, events in enumerate(runs)
        for took in _of_one_day(events, kitchen, day)
    )


def _of_one_day(
    events: Iterable[AnyEvent], kitchen: str, day: int
) -> Iterator[StepTook]:
    steps: dict[tuple[str, str], RunStep] = {}
    begun: dict[tuple[str, str], dt.datetime] = {}
    done: dict[tuple[str, str], dt.datetime] = {}
    for event in events:
        match event:
            case DayBegun(steps=taken_over, kitchen=where):
                if kitchen and where and where != kitchen:
                    return
                steps = {(s.batch, s.step): s for s in taken_over}
            case StepBegun(batch=batch, step=step, occurred_at=at):
                begun.setdefault((batch, step), at)
            case StepDone(batch=batch, step=step, occurred_at=at):
                done.setdefault((batch, step), at)
            case StepTakenBack(batch=batch, step=step, was=was):
                (begun if was == "begun" else done).pop((batch, step), None)
            case ClockSet():
                for told in (begun, done):
                    told.update({name: event.anew(at) for name, at in told.items()})
            case _:
                pass
    for name, taken in steps.items():
        since = begun.get(name, done.get((taken.batch, taken.follows)))
        if since is None or name not in done:
            continue
        seconds = (done[name] - since).total_seconds()
        if seconds >= TOLD_AFTERWARDS_S:
            product = plain(taken.product)
            step = whole_step(taken.step)
            yield StepTook(product, step, seconds / 60, taken.book_min, day)
