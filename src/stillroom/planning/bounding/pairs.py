"""
Two stirrings at once in one pair of hands: what that spares, and what it costs before.

Two stirrings take all four quarters. Where each of them comes out of slow cooking in
the same hands without a gap, then both were cooking for a while before, and in that
while the same person could do no work of three quarters: most of what is spared now was
lost then.

Notes
-----
Said of one person, where no cooking is shorter than any stirring or pan (see
`stirrings`). While two stirrings go on nothing else does. Did one of them, ``i``,
overlap with two others, then with one after the other, and the cooking of the later
would lie between, within ``i``, which is too short for it. So they come in pairs, half
as many as there are stirrings at most.

Let ``i`` begin before ``j``, or with it. Between the later start of their two cookings
and the start of stirring ``i`` two quarters are taken, so that nothing of two quarters
and more is done but one stirring of another batch, or one pan that boils no sooner than
``i`` and ``j`` end. Of these minutes count the last ones, one more than the shortest
cooking takes: the stirring of no more than one other batch, ``k``, can lie in them,
since the cooking of a second would lie between. What is left of them is lost. Where
there are but three stirrings in a day no second can, so that all of them count; and the
minutes before too at which ``k`` cooks beside one of the pair: no pan is watched there,
since it would have to boil after ``k`` and so go on beside the pair. Minutes
that one pair has lost are not lost by another too: were all four cooking at once,
then each pair, when it is stirred at once, would have to be done before the other.

Pairs leave fewer stirrings with a pan at their end. Of a pair, the one that ends first
has none, nor has ``k``, which ends while both are cooking, for else it would go on
beside ``i``. So ``k`` lies before one pair alone; and where it is of a pair itself, it
ends last of it: as it ends nothing goes on but the two that are cooking. So no stirring
is counted twice, when each pair takes one pan, and one more where there is a ``k``:
``pans + pairs + pairs with a k <= stirrings``. There are never more pans than there is
time for. Half of both together, rounded down, is no less than ``pans + pairs with a k``
(a cut after Chvatal and Gomory), which says more where it had to be rounded.
"""

from __future__ import annotations

from collections import Counter as Tally
from dataclasses import dataclass, replace

import numpy as np

from stillroom.planning.bounding.cheapest import running_least
from stillroom.planning.bounding.marks import Minutes
from stillroom.planning.bounding.stirrings import (
    Stirring,
    beside_pans,
    longest_pan_min,
    stirrings,
)
from stillroom.planning.problem import Problem

THREE = 3
"""Of so many stirrings two may be a pair, and then one is left."""

Moments = tuple[tuple[int, int], ...]
"""Minute and weight of each mark: more of a supply here, less of it there."""


@dataclass(frozen=True, slots=True)
class Pair:
    """What a pair of stirrings spares at most, less what it loses."""

    worth: int
    """Never below nothing."""
    pans: int
    """So many pans at the ends of stirrings it takes (see `Pairs.room`)."""
    marks: Moments
    """What is spared is asked for less than nothing."""


@dataclass(frozen=True, slots=True)
class Pairs:
    """Stirrings of which two may be at once in the hands that a supply counts."""

    stirrings: tuple[tuple[Stirring, int], ...]
    """Each sort, and how many of it."""
    shortest: int
    """Shortest cooking before any stirring of the day. [min]"""
    of_day: int
    """How many stirrings there are in the day, whoever does them."""
    pan_min: int
    """Longest pan of the day. [min]"""
    beside_min: int
    """Longest of the pans that these people alone can watch. [min]"""
    beside: int
    """So many stirrings at most have a pan at their end."""

    @property
    def many(self) -> int:
        """How many stirrings there are."""
        return sum(many for _, many in self.stirrings)

    @property
    def most(self) -> int:
        """So many pairs at most."""
        return self.many // 2

    @property
    def rounded(self) -> bool:
        """Whether half of the stirrings and of the pans beside them is rounded down."""
        return (self.many + self.beside) % 2 == 1

    @property
    def room(self) -> int:
        """So many pans at the ends of stirrings, and what pairs take of them."""
        return (self.many + self.beside) // 2 if self.rounded else self.many

    def takes(self, *, after: bool) -> int:
        """What a pair takes of that, with another stirring before it or without."""
        return int(after) if self.rounded else 1 + after

    def by_pans(self, dearest: int, beside: int, pan: int) -> int:
        """
        Most that pans beside stirrings spare, and what pairs pay for those they take.

        Parameters
        ----------
        dearest : int
            Price of the dearest minute of the supply.
        beside : int
            At so many minutes at most a stirring has a pan beside it. [min]
        pan : int
            Price of each minute that a pan may lie beside a stirring: a pair pays it
            for the pans that it takes. True whatever it is, as long as not negative.
        """
        return self.room * pan * self.beside_min + beside * max(0, dearest - pan)

    def by_pairs(
        self, spent: Minutes, end: int, pan: int
    ) -> tuple[int, tuple[Pair, Pair]]:
        """Most that pairs spare beyond what they pay, and those that spare most."""
        alone, after = (
            replace(pair, worth=pair.worth - pair.pans * pan * self.beside_min)
            for pair in self.dearest(spent, end)
        )
        return self.most * max(0, alone.worth, after.worth), (alone, after)

    def dearest(self, spent: Minutes, end: int) -> tuple[Pair, Pair]:
        """
        The pairs that are worth most: without another stirring before, and with one.

        ``spent`` is the price of all minutes of the supply before each.
        """
        before, behind = self.takes(after=False), self.takes(after=True)
        alone, after = Pair(0, before, ()), Pair(0, behind, ())
        for one, many in self.stirrings:
            for other, _ in self.stirrings:
                if one == other and many < 2:
                    continue
                for later in range(one.minutes):
                    both = _Both(self, one, other, later)
                    worth, marks = both.dearest(spent, end, None)
                    if worth > alone.worth:
                        alone = Pair(worth, before, marks)
                    for third in self.left(one, other):
                        worth, marks = both.dearest(spent, end, third)
                        if worth > after.worth:
                            after = Pair(worth, behind, marks)
        return alone, after

    def left(self, one: Stirring, other: Stirring) -> list[Stirring]:
        """Stirrings that may lie where a pair cooks; of many, the longest."""
        left = Tally(dict(self.stirrings))
        left.subtract([one, other])
        found = [s for s, many in left.items() if many > 0]
        if self.of_day <= THREE or not found:
            return found
        return [max(found, key=lambda s: s.minutes)]


@dataclass(frozen=True, slots=True)
class _Both:
    """Two stirrings at once; all minutes are told from the start of the one."""

    of: Pairs
    one: Stirring
    other: Stirring
    later: int
    """So long after the one the other begins. [min]"""

    def lost(self, third: Stirring | None) -> tuple[int, int]:
        """From when to when nothing is done, but for stirring the third."""
        cooking = -self.one.cooked, self.later - self.other.cooked
        since = max(cooking)
        if self.of.of_day > THREE:
            since = max(since, -self.of.shortest - 1)
        elif third is not None:
            begins = -third.minutes - third.cooked
            since = min(since, max(min(cooking), begins))
        ends = max(self.one.minutes, self.later + self.other.minutes)
        return since, max(since, min(0, ends - self.of.pan_min))

    def dearest(
        self, spent: Minutes, end: int, third: Stirring | None
    ) -> tuple[int, Moments]:
        """Most that they may be worth in a day, and the marks."""
        one, other, later = self.one, self.other, self.later
        together = min(one.minutes, later + other.minutes)
        low = max(one.cooked, other.cooked - later)
        high = end - max(one.minutes, later + other.minutes)
        if together <= later or high < low:
            return 0, ()
        since, until = self.lost(third)
        width = 0 if third is None else min(third.minutes, until - since)
        at = np.arange(low, high + 1)
        stirred = spent[width:] - spent[: len(spent) - width]
        worth = spent[at + together] - spent[at + later]
        worth = worth - spent[at + until] + spent[at + since]
        worth = worth - running_least(-stirred, 0, until - since - width)[at + since]
        n = int(np.argmax(worth))
        begins = int(at[n])
        within = stirred[begins + since : begins + until - width + 1]
        first = since + int(np.argmax(within))
        marks = (
            *_marks(later, together, 1),
            *_marks(since, until, -1),
            *_marks(first, first + width, 1),
        )
        return int(worth[n]), tuple((begins + when, weight) for when, weight in marks)


def _marks(since: int, until: int, spared: int) -> Moments:
    return ((since, spared), (until, -spared)) if until > since else ()


def pairs_of(problem: Problem, people: frozenset[str], end: int) -> Pairs:
    """
    Pairs of the stirrings that some people alone can do, of which there are some.

    ``end`` is the end of the day. [min]
    """
    everyone = frozenset(p.id for p in problem.people)
    mine, all_day = stirrings(problem, people), stirrings(problem, everyone)
    return Pairs(
        tuple(Tally(mine).items()),
        min(s.cooked for s in all_day),
        len(all_day),
        longest_pan_min(problem, everyone),
        longest_pan_min(problem, people),
        beside_pans(problem, people, end).many,
    )
