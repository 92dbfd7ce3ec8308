"""The day with its packs divided into pots in one way, and all ways that were tried."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from stillroom.planning.how_good.lateness import score
from stillroom.planning.problem import Problem
from stillroom.planning.timetable import Timetable

Sizes = Mapping[str, tuple[int, ...]]
"""Jars' worths in each pot, by the name of the group that is divided otherwise."""


@dataclass(slots=True)
class Way:
    """The day with its packs divided in one way."""

    sizes: Sizes
    problem: Problem
    plan: Timetable | None = None
    at_hand: Timetable | None = None
    """A plan of it that was there before: of the day before its change, say."""
    bound: int = 0
    """What a search has proven: no plan of it has a smaller finish with its points."""

    @property
    def proven(self) -> bool:
        """No plan of it is better."""
        return self.bound >= self.ends

    def take_at_hand(self) -> None:
        """Go on from the plan at hand, where it is better than the one by hand."""
        if self.at_hand is not None:
            ends = score(self.problem, self.at_hand)
            if self.plan is None or ends < self.ends:
                self.plan = self.at_hand

    @property
    def worth(self) -> tuple[int, int, int]:
        """Finish with points of lateness, canner loads, pots: the less the better."""
        if self.plan is None:
            return (10**9, 0, len(self.problem.batches))
        ends = score(self.problem, self.plan)
        return (ends, len(self.plan.loads), len(self.problem.batches))

    @property
    def ends(self) -> int:
        """Finish plus points of lateness; beyond every day where it has no plan."""
        return self.worth[0]


@dataclass(slots=True)
class Trials:
    """Everything that was tried."""

    plain: Way
    standing: Way
    """What another has to beat: the plain rule, or what a plan at hand has."""
    others: list[Way] = field(default_factory=list)
    ruled_out: list[Sizes] = field(default_factory=list)
    """Divisions that cannot end before a plan that is known: proven by a bound."""

    @property
    def best(self) -> Way:
        """The one that ends first of all that have a plan."""
        return min([self.plain, *self.others], key=lambda way: way.worth)
