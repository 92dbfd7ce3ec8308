"""What a way out costs at least, and what it is likely to cost, before any search."""

from __future__ import annotations

from dataclasses import dataclass, field, replace

from stillroom.planning.bounding.bounds import lower_bound_min
from stillroom.planning.problem import Batch, Problem
from stillroom.planning.way_changes import (
    LONGER_DAY_MIN,
    THINGS,
    Changes,
    Kind,
    changed,
    cost_of,
)
from stillroom.planning.ways.way_found import Node

GAIN_OF_A_THING = 0.95
"""So much sooner a large day may end with one thing more: what is looked at first."""


@dataclass(slots=True)
class Costs:
    """What is proven and what is guessed of a day with changes."""

    problem: Problem
    root_min: int | None = None
    """When the day with its end left open is over, as far as it was searched."""
    over: dict[tuple[Changes, bool], int] = field(default_factory=dict)
    """Minutes by which the day with changes ends late, as far as it was searched."""
    short: dict[Node, int] = field(default_factory=dict)
    """Minutes that a node lacks at least: proven."""

    def least(self, node: Node, *, adds: bool) -> int:
        """What a node costs at least, or what comes of it with a change more."""
        firm = cost_of(self.problem, node.firm) + node.room
        if adds:
            return firm
        if node not in self.short:
            day = changed(self.problem, node.firm)
            end = lower_bound_min(generous(day))
            self.short[node] = max(0, end - day.horizon_min)
        return firm + max(self.short[node], not node.hours.is_plain)

    def likely(self, node: Node) -> float:
        """What it may cost, by how much less work there is than on the whole day."""
        firm = cost_of(self.problem, node.firm)
        if (over := self.over.get((node.firm, node.room))) is not None:
            return firm + over
        if self.root_min is None:
            return firm
        whole = sum(_work(b) for b in self.problem.batches)
        gone = {c.subject for c in node.firm if c.kind is Kind.LEAVE_OUT}
        left = sum(_work(b) for b in self.problem.batches if b.id not in gone)
        things = sum(c.kind in THINGS for c in node.firm)
        share = left / max(1, whole) * GAIN_OF_A_THING**things
        return firm + max(0.0, share * self.root_min - self.problem.horizon_min)


def generous(problem: Problem) -> Problem:
    """The day with everybody there all the time, and nothing waited for."""
    long = problem.horizon_min + 2 * LONGER_DAY_MIN
    people = tuple(
        replace(p, arrives_min=0, leaves_min=long, breaks=(), away=())
        for p in problem.people
    )
    batches = tuple(replace(b, windows=()) for b in problem.batches)
    burners = tuple(replace(b, taken=()) for b in problem.burners)
    return replace(
        problem, horizon_min=long, people=people, burners=burners, batches=batches
    )


def _work(batch: Batch) -> int:
    """Quarters of somebody's minutes."""
    return sum(s.duration_min * s.attention_quarters for s in batch.steps)
