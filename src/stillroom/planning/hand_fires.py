"""Fires of a chain of steps, for planning by hand: a pot on the fire stays there."""

from __future__ import annotations

from dataclasses import dataclass

from stillroom.planning.network import Network
from stillroom.planning.problem import Batch


@dataclass(slots=True)
class Fire:
    """Steps of a chain that share a burner: offsets from the chain's start."""

    members: list[int]
    start: int
    end: int
    power_w: float


def fires_of(batch: Batch, network: Network, chain: int) -> list[Fire]:
    """Steps of a chain by the fire that they need; of one pot without a gap, one."""
    fires: list[Fire] = []
    last: Fire | None = None
    for i, offset in network.chains[chain].members:
        step = batch.steps[i]
        if step.burner_w <= 0:
            continue
        end = offset + step.duration_min
        if last and step.in_pot and last.end >= offset:
            last.members.append(i)
            last.end = max(last.end, end)
            last.power_w = max(last.power_w, step.burner_w)
            continue
        fire = Fire([i], offset, end, step.burner_w)
        fires.append(fire)
        if step.in_pot:
            last = fire
    return fires
