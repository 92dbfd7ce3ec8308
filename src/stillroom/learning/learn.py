"""
All that a record teaches, together: what a plan takes in.

A figure that rests on fewer than `LEAST_RUNS` is left to the book. A step of a product
leans on the same step of the other products, and that on the book: runs are counted
once.
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Collection, Iterable, Mapping
from dataclasses import replace
from typing import Protocol, TypeVar

from stillroom.learning.days import StepTook, steps_took
from stillroom.learning.lots import (
    Seen,
    batches_filled,
    counts,
    seals_seen,
    sets_seen,
)
from stillroom.learning.pace import BOOK, Pace, fitted
from stillroom.learning.shares import SOFT_WORTH, UNSEALED, UNSEALED_WORTH, shared
from stillroom.learning.slow_days import slow_day
from stillroom.methods.learned import Factor, Learned, Share, SlowDay
from stillroom.running.events import AnyEvent
from stillroom.stock.fold import Stock

LEAST_RUNS = 3
"""Fewer runs are an anecdote; the book's figure stands. Common practice, no source."""
YIELD_SPREAD = 0.08
"""Usual spread of the jars of a batch, on the logarithm: an assumption. [1]"""
SHRINK_SPREAD = 0.05
"""Usual spread of what a count finds, on the logarithm: an assumption. [1]"""

_ONE_IN_TWENTY, _NINETEEN_IN_TWENTY = 0.05, 0.95


class Logged(Protocol):
    """Something measured beside the book."""

    @property
    def log(self) -> float:
        """Logarithm of the figure over the book's."""
        ...


T = TypeVar("T", bound=Logged)


def learned(
    runs: Iterable[Iterable[AnyEvent]],
    stock: Stock,
    *,
    kitchen: str = "",
    elsewhere: Collection[str] = (),
) -> Learned:
    """
    Return what runs at the stove and the stock teach.

    Parameters
    ----------
    runs : iterable of iterables of events
        Each day's events, in order.
    stock : Stock
        What was made, looked at and counted.
    kitchen : str, optional
        Only days in this kitchen, and days of which the kitchen is not known.
    elsewhere : collection of str
        Runs in other kitchens: what was made in them is left out.
    """
    took = steps_took(runs, kitchen=kitchen)
    seals = tuple(seals_seen(stock, elsewhere))
    filled = batches_filled(stock, elsewhere)
    book = {f.product: f.book_jars for f in filled}
    steps = _steps(took)
    return Learned(
        steps=steps,
        slow_day=_slow_day(took, steps),
        any_product=_by(
            {
                step: fitted([t.log for t in some])
                for step, some in _grouped((t.step, t) for t in took).items()
            }
        ),
        yields={
            product: replace(fit, book=book[product])
            for product, fit in _fits(
                ((f.product, f) for f in filled), YIELD_SPREAD
            ).items()
        },
        seals=_share(seals, UNSEALED, UNSEALED_WORTH),
        seals_of={
            product: share
            for product, some in _grouped((s.product, s) for s in seals).items()
            if (share := _share(some, UNSEALED, UNSEALED_WORTH)) is not None
        },
        sets_of={
            product: share
            for product, some in _grouped(
                (s.product, s) for s in sets_seen(stock, elsewhere)
            ).items()
            if (share := _share(some, None, SOFT_WORTH)) is not None
        },
        shrink=_fits(((f.thing, f) for f in counts(stock)), SHRINK_SPREAD),
    )


def _steps(took: tuple[StepTook, ...]) -> dict[tuple[str, str], Factor]:
    """Fit each step of each product, leaning on the other products."""
    own = _grouped(((t.product, t.step), t) for t in took)
    of_step = _grouped((t.step, t) for t in took)
    found = {}
    for (product, step), some in own.items():
        rest = [t.log for t in of_step[step] if t.product != product]
        lean = fitted(rest)
        # the others lend their middle and their spread, and weigh as the book does
        pace = fitted([t.log for t in some], prior=lean)
        if pace.runs + lean.runs >= LEAST_RUNS:
            book = float(some[-1].book_min)
            found[product, step] = factor(pace, others=lean.runs, book=book)
    return found


def _slow_day(
    took: tuple[StepTook, ...], steps: Mapping[tuple[str, str], Factor]
) -> SlowDay | None:
    """What the steps of a day have in common, beside what is usual for each."""
    apart = (
        (t.day, t.log - math.log(steps[t.product, t.step].middle))
        for t in took
        if (t.product, t.step) in steps
    )
    return slow_day(list(_grouped(apart).values()))


def _fits(pairs: Iterable[tuple[str, T]], spread: float) -> dict[str, Factor]:
    prior = Pace(0.0, spread, BOOK.worth, 0)
    return _by(
        {
            name: fitted([one.log for one in some], prior=prior)
            for name, some in _grouped(pairs).items()
        }
    )


def _by(paces: Mapping[str, Pace]) -> dict[str, Factor]:
    return {n: factor(pace) for n, pace in paces.items() if pace.runs >= LEAST_RUNS}


def factor(pace: Pace, *, others: int = 0, book: float | None = None) -> Factor:
    """Return a pace as a factor: off the logarithm, with its ranges."""
    return Factor(
        middle=math.exp(pace.middle),
        low=math.exp(pace.day(_ONE_IN_TWENTY)),
        high=math.exp(pace.day(_NINETEEN_IN_TWENTY)),
        surely_above=math.exp(pace.sure(_ONE_IN_TWENTY)),
        surely_below=math.exp(pace.sure(_NINETEEN_IN_TWENTY)),
        runs=pace.runs,
        others=others,
        book=book,
    )


def _share(seen: Iterable[Seen], book: float | None, worth: float) -> Share | None:
    lots = [(one.count, one.of) for one in seen]
    if len(lots) < LEAST_RUNS:
        return None
    return shared(lots, book=book, worth=worth)


K = TypeVar("K")
V = TypeVar("V")


def _grouped(pairs: Iterable[tuple[K, V]]) -> dict[K, list[V]]:
    found: dict[K, list[V]] = defaultdict(list)
    for key, value in pairs:
        found[key].append(value)
    return dict(found)
