"""
What makes a plan calmer and costs nothing: what only heats is put on as late as fits.

Jars that are hot long before they are filled use up the time for which they may be kept
so, on a day that runs late above all.
"""

from __future__ import annotations

from dataclasses import replace

from stillroom.planning.network import UNTIED, network_of
from stillroom.planning.problem import Batch, Problem
from stillroom.planning.timetable import PlacedStep, Timetable


def heated_late(problem: Problem, plan: Timetable) -> Timetable:
    """
    Move what takes no hands, fire, pot or mill to just before what waits for it.

    Parameters
    ----------
    problem : Problem
        The day.
    plan : Timetable
        A plan that holds.

    Returns
    -------
    Timetable
        The same plan otherwise; no moved step breaks a link or ends later than the day.
    """
    placed = {(s.batch, s.step): s for s in plan.steps}
    for batch in problem.batches:
        _put_late(batch, placed)
    steps = sorted(placed.values(), key=lambda s: (s.start_min, s.batch, s.end_min))
    return replace(plan, steps=tuple(steps))


def _put_late(batch: Batch, placed: dict[tuple[str, str], PlacedStep]) -> None:
    network = network_of(batch)
    for chain in network.chains:
        inside = {i for i, _ in chain.members}
        steps = [batch.steps[i] for i in inside]
        if any(
            s.attention_quarters or s.burner_w or s.in_pot or s.on_mill for s in steps
        ) or any(s.id == batch.ready_after for s in steps):
            continue
        room = [
            placed[batch.id, batch.steps[j].id].start_min
            - network.lag[i][j]
            - placed[batch.id, batch.steps[i].id].start_min
            for i in inside
            for j in range(len(batch.steps))
            if j not in inside and network.lag[i][j] != UNTIED
        ]
        # what nothing waits for has no reason to be late, nor a bound on how late
        if not any(
            network.lag[i][j] >= 0
            for i in inside
            for j in range(len(batch.steps))
            if j not in inside
        ):
            continue
        later = min(room)
        if later <= 0:
            continue
        for i in inside:
            key = (batch.id, batch.steps[i].id)
            s = placed[key]
            placed[key] = replace(
                s, start_min=s.start_min + later, end_min=s.end_min + later
            )
