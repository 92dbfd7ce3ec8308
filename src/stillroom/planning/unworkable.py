"""
Batches that nobody and nothing in the day can make, each with its reasons.

The others are planned all the same: one recipe that asks for a lifter of hot jars does
not stop the freezer.
"""

from __future__ import annotations

from stillroom.planning.problem import Problem
from stillroom.planning.refuse import batch_faults


def unworkable(problem: Problem) -> dict[str, tuple[str, ...]]:
    """
    Ids of the batches that cannot be made as they stand, and why, in words.

    Links in a circle, a step longer than the day, a step that nobody does or that no
    burner, pot or mill serves, jars that no canner takes or nobody lifts.
    """
    found = {
        batch.id: tuple(fault.what for fault in batch_faults(problem, batch))
        for batch in problem.batches
    }
    return {name: reasons for name, reasons in found.items() if reasons}
