"""
What past days of this kitchen taught: values alone, beside the book's figures.

Whoever plans takes these in; how they were fitted is the business of ``learning``. A
published time is never among them: what `may_be_learned` refuses stays as printed.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, field, replace

from stillroom.book.words import plain
from stillroom.jar_count import counted
from stillroom.methods.handling import BASIS
from stillroom.methods.method import Work, Yield
from stillroom.methods.step import Spread, Step
from stillroom.refusal import Source

OWN_RECORD = "your own record"
SURE = 0.95
"""Spare jars and lids are enough on this share of days."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Factor:
    """How many times the book's figure it is in this kitchen."""

    middle: float
    """Half of the days are below it."""
    low: float
    """One day in twenty is below it."""
    high: float
    """One day in twenty is above it."""
    surely_above: float
    """Of the middle itself: with nineteen in twenty it is above this."""
    surely_below: float
    runs: int
    """Own runs that it rests on."""
    others: int = 0
    """Runs of the same work for other products that it leans on."""
    book: float | None = None
    """The book's figure for the last of these runs, as an example: minutes or jars."""

    @property
    def words(self) -> str:
        """
        What it rests on.

        >>> f = Factor(middle=1, low=1, high=1, surely_above=1, surely_below=1, runs=1)
        >>> f.words
        'learned from 1 run of yours'
        """
        own = f"{self.runs} run{'' if self.runs == 1 else 's'} of yours"
        if not self.others:
            return f"learned from {own}"
        if not self.runs:
            return f"learned from {self.others} of your runs with other products"
        return f"learned from {own} and {self.others} with other products"


@dataclass(frozen=True, slots=True, kw_only=True)
class Share:
    """So many of a hundred: a beta distribution, with what it rests on."""

    a: float
    b: float
    low: float
    """With nineteen in twenty the share is above it."""
    high: float
    lots: int
    jars: int
    """What was looked at, over all lots."""
    seen: int
    """How many of those it was."""
    book: float | None
    """The book's share; `None` where the book has none."""

    @property
    def mean(self) -> float:
        """Likely share."""
        return self.a / (self.a + self.b)

    def enough(self, jars: int) -> int:
        """
        Return how many of ``jars`` it will be at most, on a share `SURE` of days.

        The predictive distribution is beta-binomial (Gelman et al., Bayesian Data
        Analysis, 3rd ed., section 2.4; known from memory).

        >>> seals = Share(a=2, b=48, low=0, high=1, lots=0, jars=0, seen=0, book=0.04)
        >>> seals.enough(80)
        9
        """
        return beta_binomial_quantile(self.a, self.b, jars, SURE)


@dataclass(frozen=True, slots=True, kw_only=True)
class SlowDay:
    """Share of the spread of a step that all steps of a day have in common."""

    share: float
    days: int
    book: float

    @property
    def words(self) -> str:
        """
        What it rests on, beside the assumption.

        >>> SlowDay(share=0.12, days=9, book=0.3).words
        'learned from 9 days of yours; assumed without them: 30'
        """
        return (
            f"learned from {counted(self.days, 'day')} of yours; assumed without them: "
            f"{100 * self.book:.0f}"
        )


def beta_binomial_quantile(a: float, b: float, n: int, share: float) -> int:
    """
    Return the least count whose distribution function reaches ``share``.

    Parameters
    ----------
    a, b : float
        Of the beta distribution of the share, above 0.
    n : int
        Trials, 0 or more.
    share : float
        Above 0, below 1.

    Examples
    --------
    >>> beta_binomial_quantile(1.0, 1.0, 9, 0.5)  # all of 0 to 9 alike
    4
    """
    total, k = 0.0, -1
    while total < share - 1e-12 and k < n:
        k += 1
        total += math.exp(
            math.lgamma(n + 1)
            - math.lgamma(k + 1)
            - math.lgamma(n - k + 1)
            + math.lgamma(a + k)
            + math.lgamma(b + n - k)
            - math.lgamma(a + b + n)
            + math.lgamma(a + b)
            - math.lgamma(a)
            - math.lgamma(b)
        )
    return max(k, 0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Learned:
    """All that the record of one kitchen taught; nothing where it taught nothing."""

    steps: Mapping[tuple[str, str], Factor] = field(default_factory=dict)
    """By (product, step)."""
    any_product: Mapping[str, Factor] = field(default_factory=dict)
    """By step, for a product that was never made here."""
    yields: Mapping[str, Factor] = field(default_factory=dict)
    """Jars, by product."""
    slow_day: SlowDay | None = None
    seals: Share | None = None
    """Jars that did not seal, of all that were looked at."""
    seals_of: Mapping[str, Share] = field(default_factory=dict)
    sets_of: Mapping[str, Share] = field(default_factory=dict)
    """Batches that stayed soft, by product."""
    shrink: Mapping[str, Factor] = field(default_factory=dict)
    """What a count finds of what the record has, by thing."""

    def of_step(self, product: str, step: str) -> Factor | None:
        """Return what is known of a step for a product, or for any."""
        found = self.steps.get((plain(product), step))
        if found is not None:
            return found
        lent = self.any_product.get(step)
        return lent and replace(lent, runs=0, others=lent.runs)


AS_PUBLISHED = Learned()
"""Nothing learned: every figure is the book's."""


def may_be_learned(step: Step) -> bool:
    """
    Whether the minutes of a step are of hands or fire alone.

    Only then may they be learned. Whatever has a printed time in it (a minute by the
    clock, a blanch, a simmer as printed, jars boiled empty) stays as it is printed.
    """
    if step.spread is None:
        return False
    if step.basis == BASIS:
        return True
    plainly = "(" not in step.basis and ";" not in step.basis
    return step.basis.startswith("computed: ") and plainly


def with_own_minutes(work: Work, product: str, learned: Learned) -> Work:
    """Return the work of a batch with learned minutes where there are any."""
    return replace(
        work, steps=tuple(_own_step(step, product, learned) for step in work.steps)
    )


def _own_step(step: Step, product: str, learned: Learned) -> Step:
    factor = learned.of_step(product, step.id) if may_be_learned(step) else None
    if factor is None:
        return step
    book = step.duration_min
    likely = max(1, round(book * factor.middle))
    return replace(
        step,
        duration_min=likely,
        spread=Spread(
            low=min(likely, max(1, math.floor(book * factor.low))),
            likely=likely,
            high=max(likely, math.ceil(book * factor.high)),
        ),
        basis=f"{factor.words}; the book says {book} min ({step.basis})",
        book_min=book,
        rinse_min=_still_a_rinse(step, likely),
    )


def _still_a_rinse(wash: Step, likely: int) -> int | None:
    """A rinse is shorter than the wash, or there is no use in one."""
    rinse = wash.rinse_min
    return rinse if rinse is not None and rinse < likely else None


def with_own_yield(expected: Yield, product: str, learned: Learned) -> Yield:
    """Return the jars expected as past batches filled them, beside the book's."""
    factor = learned.yields.get(plain(product))
    if factor is None:
        return expected
    book = expected.likely
    return replace(
        expected,
        likely=book * factor.middle,
        low=book * factor.low,
        high=book * factor.high,
        basis=f"{factor.words}; the book says {book:.1f} ({expected.basis})",
        source=Source(f"{OWN_RECORD}; {expected.source}", "keeper"),
        book_likely=book,
    )
