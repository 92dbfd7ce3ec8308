"""Fires of a chain of steps, for planning by hand: a pot on the fire stays there."""

from __future__ import annotations

from dataclasses import dataclass

from stillroom.planning.hand.free_time import FreeKitchen
from stillroom.planning.network import Network
from stillroom.planning.problem import Batch, Burner, Problem


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


def light(
    problem: Problem,
    batch: Batch,
    pot: str | None,
    kitchen: FreeKitchen,
    fire: Fire,
    start: int,
) -> str | None:
    """Take the weakest burner that serves and is free; the pot's own if on one."""
    kept = _under_the_pot(batch, kitchen, fire, start)
    if len(kept) > 1:  # it is on one burner just before, on another just after
        return None
    for burner in sorted(problem.burners, key=lambda b: b.power_w):
        if kept and burner.id not in kept:
            continue
        if serves(problem, batch, pot, burner, fire) and kitchen.take_burner(
            burner.id, start + fire.start, start + fire.end
        ):
            return burner.id
    return None


def serves(
    problem: Problem, batch: Batch, pot: str | None, burner: Burner, fire: Fire
) -> bool:
    """Whether a burner is strong enough, and bears the pot that is put on it."""
    if burner.power_w < fire.power_w:
        return False
    in_pot = batch.steps[fire.members[0]].in_pot
    if burner.takes is None or pot is None or not in_pot:
        return True
    return next(p.size for p in problem.pots if p.id == pot) in burner.takes


def _under_the_pot(
    batch: Batch, kitchen: FreeKitchen, fire: Fire, start: int
) -> set[str]:
    """Burners of this pot just before or after: without a gap it is not moved."""
    in_pot = {s.id for s in batch.steps if s.in_pot}
    if batch.steps[fire.members[0]].id not in in_pot:
        return set()
    begin, end = start + fire.start, start + fire.end
    return {
        s.burner
        for s in kitchen.steps
        if s.batch == batch.id
        and s.burner is not None
        and s.step in in_pot
        and s.start_min <= end
        and begin <= s.end_min
    }
