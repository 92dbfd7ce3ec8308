"""
Jars that would wait too long, as pot and canner can only stand on the same fire.

The canner is lit when the pot has left its fire, and its water takes so long. Neither
hours nor hands help then: a stronger fire does, or one more.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from stillroom.in_a_list import all_of
from stillroom.planning.bounding.bounds import canners_for
from stillroom.planning.daytime import said_minutes
from stillroom.planning.network import UNTIED, network_of
from stillroom.planning.problem import Batch, Canner, Problem


@dataclass(frozen=True, slots=True)
class OneFire:
    """A batch whose jars cannot go into a canner in time, and the quickest there is."""

    batch: Batch
    canner: Canner
    wait_min: int
    """So long they would wait closed, at the least. [min]"""

    @property
    def sentence(self) -> str:
        """Why it cannot be canned here, with its name."""
        fires = all_of(self.canner.burners)
        heats = said_minutes(self.canner.first_heat_min)
        return (
            f"{self.batch.id}: its pot and {self.canner.id} can only stand on the same "
            f"fire ({fires}); its water takes {heats} to get hot once the pot is off, "
            f"and the jars would wait {self.wait_min} min closed, at most "
            f"{self.batch.closed_wait_at_most_min} are allowed"
        )


def one_fire_for_both(problem: Problem) -> Iterator[OneFire]:
    """Yield the batches that no canner here can take before their wait is over."""
    process_of = {p.id: p for p in problem.processes}
    for batch in problem.batches:
        process = process_of.get(batch.process or "")
        if process is None:
            continue
        waits = [
            OneFire(batch, canner, _least_wait_min(problem, batch, canner))
            for canner in canners_for(problem, process.jar)
        ]
        quickest = min(waits, key=lambda one: one.wait_min, default=None)
        if quickest and quickest.wait_min > batch.closed_wait_at_most_min:
            yield quickest


def _least_wait_min(problem: Problem, batch: Batch, canner: Canner) -> int:
    """
    So long closed jars wait for a canner at the least. [min]

    What is cooked on a fire that the canner covers is over before the canner is lit;
    the jars are closed a longest while after it, where its links say so.
    """
    network = network_of(batch)
    closing = [
        i for i, step in enumerate(batch.steps) if batch.ready_after in ("", step.id)
    ]
    least = 0
    for i, step in enumerate(batch.steps):
        if step.burner_w <= 0:
            continue
        able = {b.id for b in problem.burners if b.power_w >= step.burner_w}
        if not able or not able <= set(canner.burners):
            continue
        if any(
            network.lag[i][j] < step.duration_min or network.lag[j][i] == UNTIED
            for j in closing
        ):
            continue
        closed = max(batch.steps[j].duration_min - network.lag[j][i] for j in closing)
        least = max(least, step.duration_min + canner.first_heat_min - closed)
    return least
