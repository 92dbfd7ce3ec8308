"""
What no plan can beat, everything asked for together.

Suppose that the day ended at some minute, and let each batch be cut up and smeared over
the day as finely as one likes, each shred with its order, its waits and its no-wait
boils: so many shreds here, so many there, and of hands, fires, pots, mills, canners and
places in loads never more than there are. If that cannot be done, nor can the day. It
is asked as a linear program whose columns, the ways to place one batch, are found as
they are needed; what it answers is taken only as a proposal of prices, and `prices`
proves by them, in whole figures, that there is no plan.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field

import numpy as np

from stillroom.planning.bounding.bounds import Bound
from stillroom.planning.bounding.canning import Canning, canning_of
from stillroom.planning.bounding.kinds import Kind, kinds_of
from stillroom.planning.bounding.marks import Minutes
from stillroom.planning.bounding.pairs import Pairs
from stillroom.planning.bounding.prices import Rest, Stretches, weigh
from stillroom.planning.bounding.proposal import Proposal
from stillroom.planning.bounding.supplies import (
    Hands,
    Supply,
    capacity,
    is_there,
    spared_by_pairs,
    spared_min,
    supplies_of,
)
from stillroom.planning.bounding.words import taken_until_then
from stillroom.planning.problem import Problem
from stillroom.planning.rinses import least_asked

COARSE, FINE, FINEST = 24, 48, 96
"""Into so many stretches a day is cut: first, then, and where there is time for it."""
A_FINEST_ROUND = 12
"""A round over the finest takes as long as so many of the first: 40 to 75 ms for each
kind of batch."""
FIRST_STEP = 32
"""So many minutes later than what is known is tried first, then twice so many. [min]"""
MOST_ROUNDS = 150
"""So often new columns are asked for; what is not proven by then is let go."""


@dataclass(slots=True)
class Smeared:
    """A day, ready to be asked whether it can end by some minute."""

    problem: Problem
    supplies: tuple[Supply, ...]
    kinds: tuple[Kind, ...]
    canning: Canning
    batches_seen: list[dict[tuple[int, ...], None]] = field(default_factory=list)
    """Ways to place a batch of each kind that were of use before, in order."""
    loads_seen: list[dict[tuple[int, int], None]] = field(default_factory=list)
    why: str = ""
    """What the last proof rests on."""

    def cannot_end_by(
        self, end: int, stretches: int, *, is_over: Callable[[], bool]
    ) -> bool:
        """
        Whether it is proven that no plan ends by a minute.

        Parameters
        ----------
        end : int
            The minute. [min]
        stretches : int
            Into how many the day is cut; more are slower and prove more.
        is_over : callable
            Asked before each round, and more often before one that takes longer; true
            ends the attempt, with nothing proven.
        """
        for kind in self.kinds:
            if any(e > kind.last_start(c, end) for c, e in enumerate(kind.earliest)):
                self.why = f"{kind.batch.id} alone takes that long"
                return True
        day = Stretches(end, max(1, -(-end // stretches)))
        there = [by_stretch(capacity(self.problem, s, end), day) for s in self.supplies]
        rests = self.rests(day)
        spared = [spared_min(self.problem, s, end) for s in self.supplies]
        pairs = self.pairs(end)
        proposal = Proposal(
            day,
            self.kinds,
            self.canning,
            rests,
            there,
            spared,
            pairs,
        )
        for n, kind in enumerate(self.kinds):
            for starts in self.batches_seen[n]:
                if kind.fits(starts, end):
                    proposal.add_batch(n, starts)
        for n, load in enumerate(self.canning.kinds):
            for lowered, late in self.loads_seen[n]:
                if lowered + late + load.cycle <= end:
                    proposal.add_load(n, lowered, late)
        asked = A_FINEST_ROUND if stretches >= FINEST else 1
        for _ in range(MOST_ROUNDS):
            if any(is_over() for _ in range(asked)):
                return False
            prices = proposal.prices()
            if prices is None:
                return False
            verdict = weigh(
                day,
                prices,
                self.kinds,
                self.canning,
                rests,
                there,
                spared,
                pairs,
            )
            if verdict.surplus > 0:
                self.why = taken_until_then(
                    self.problem, self.supplies, prices, there, end
                )
                return True
            if not proposal.add_cheap(verdict):
                return False
            self._keep(proposal)
        return False

    def _keep(self, proposal: Proposal) -> None:
        for seen, new in zip(self.batches_seen, proposal.batches, strict=True):
            seen.update(dict.fromkeys(new))
        for seen_loads, new_loads in zip(self.loads_seen, proposal.loads, strict=True):
            seen_loads.update(dict.fromkeys(new_loads))

    def pairs(self, end: int) -> dict[int, Pairs]:
        """Of a supply, the stirrings of which two may be at once."""
        return {
            n: pairs
            for n, supply in enumerate(self.supplies)
            if (pairs := spared_by_pairs(self.problem, supply, end)) is not None
        }

    def rests(self, day: Stretches) -> tuple[Rest, ...]:
        """Breaks of all people, wherever they may begin, the part within the day."""
        found = []
        for person in self.problem.people:
            shares = tuple(
                (n, supply.of(person))
                for n, supply in enumerate(self.supplies)
                if isinstance(supply, Hands) and person.id in supply.people
            )
            there = is_there(person, day.end)
            for rest in person.breaks:
                last = self.problem.horizon_min - rest.duration_min
                rows = {}
                for start in range(
                    max(0, rest.earliest_min), min(rest.latest_start_min, last) + 1
                ):
                    away = np.zeros(day.end, dtype=np.int64)
                    away[start : start + rest.duration_min] = 1
                    row = by_stretch(away * there, day)
                    rows[tuple(row)] = row
                if rows:
                    found.append(Rest(shares, np.array(list(rows.values()))))
        return tuple(found)


def bound_together(
    problem: Problem,
    known: Bound,
    *,
    at_most: int | None = None,
    finest: int = FINE,
    is_over: Callable[[], bool] = lambda: False,
    on_better: Callable[[Bound], None] = lambda _: None,
) -> Bound:
    """
    First minute at which a day can end, everything asked for together.

    Parameters
    ----------
    problem : Problem
        The day.
    known : Bound
        A bound that is known already.
    at_most : int, optional
        A plan ends then: no proof is tried beyond it. [min]
    finest : int
        Into so many stretches the day is cut at last: `FINE`, or `FINEST`, which proves
        some minutes more and takes three to eight times as long.
    is_over : callable
        True ends the work; what is proven by then stands.
    on_better : callable
        Called with each better bound.

    Returns
    -------
    Bound
        The one that is known, or a later one; one past the day's end where nothing
        fits.
    """
    highest = problem.horizon_min + 1 if at_most is None else at_most
    best, low = known, known.minute
    if not problem.batches or low >= highest:
        return best
    day = smeared(problem)
    passes = ((COARSE, FIRST_STEP, 4), (FINE, 2, 1), (FINEST, 2, 1))
    for stretches, step, least_step in passes:
        if stretches > finest:
            break
        not_proven: int | None = None
        while step >= least_step and low < highest and not is_over():
            end = min(low + step, highest) - 1
            if day.cannot_end_by(end, stretches, is_over=is_over):
                low = end + 1
                best = Bound(low, day.why)
                on_better(best)
            else:
                not_proven = end
            step = 2 * step if not_proven is None else (not_proven - low + 1) // 2
    return best


def smeared(problem: Problem) -> Smeared:
    """Make a day ready to be asked, each wash as short as it may be."""
    problem = least_asked(problem)
    supplies = supplies_of(problem)
    kinds = kinds_of(problem, supplies)
    canning = canning_of(problem, supplies, kinds)
    return Smeared(
        problem,
        supplies,
        kinds,
        canning,
        [{} for _ in kinds],
        [{} for _ in canning.kinds],
    )


def by_stretch(line: Minutes, day: Stretches) -> Minutes:
    """Sum of a line of minutes in each stretch."""
    full = np.zeros(day.count * day.width, dtype=np.int64)
    full[: day.end] = line
    summed: Minutes = full.reshape(day.count, day.width).sum(axis=1)
    return summed
