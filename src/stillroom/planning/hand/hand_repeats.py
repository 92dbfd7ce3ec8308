"""
A batch that finds no room, planned by hand: the tries that would repeat.

What a batch misses for its own sake (two loads too far apart for its wait, its washing
up in the way of its jars) it misses again, by as much, when all of it is put later.
While nothing else in the kitchen begins or ends, nothing comes of that. Such rounds of
tries are passed over, up to the next minute at which anything does.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import NamedTuple

from stillroom.planning.bounding.bounds import least_cycle_min
from stillroom.planning.hand.free_time import FreeKitchen, first_minute, minutes
from stillroom.planning.network import UNTIED, Network
from stillroom.planning.problem import Batch, Problem

MOST_IN_A_ROUND = 4
"""Tries after which all chains have been put later by as much."""
NO_LIMIT = 10**9


class Stretch(NamedTuple):
    """Where a chain of steps was placed, and how early and late it might have been."""

    low: int
    high: int
    start: int
    hangs_on_high: bool
    """The latest minute was asked for and not the earliest; or none was in time."""

    @property
    def last(self) -> int:
        """Latest start that was looked at, or counts."""
        return self.high if self.hangs_on_high else self.start

    def is_later(self, other: Stretch, by_min: int) -> bool:
        """Whether it is the other, so much later."""
        return (
            self.low == other.low + by_min
            and self.start == other.start + by_min
            and (not self.hangs_on_high or self.high == other.high + by_min)
        )


@dataclass(frozen=True, slots=True)
class Try:
    """A try that failed, and what it comes to."""

    chain: int
    """Which has to begin later."""
    minute: int
    """Not before then."""
    since: int
    """First minute that counts for what found no room in time: a chain, or a load."""
    until: int
    """The last that counts for it."""
    pot: str | None
    mill: int | None
    placed: dict[int, Stretch]
    """In the order in which they were placed; last what found no room in time."""


@dataclass(frozen=True, slots=True)
class Round:
    """Tries, and the same again so many minutes later."""

    first: Sequence[Try]
    again: Sequence[Try]
    later_min: int


def latest_round(tries: Sequence[Try]) -> Round | None:
    """The round that the last tries went twice, if any."""
    for size in range(1, min(MOST_IN_A_ROUND, len(tries) // 2) + 1):
        first, again = tries[-2 * size : -size], tries[-size:]
        later = again[-1].minute - first[-1].minute
        pairs = zip(first, again, strict=True)
        if later > 0 and all(_is_alike(was, now, later) for was, now in pairs):
            return Round(first, again, later)
    return None


def _is_alike(was: Try, now: Try, later: int) -> bool:
    """Whether it is the same try, each chain where it was or so much later."""
    same = (was.chain, was.pot, was.mill) == (now.chain, now.pot, now.mill)
    if not same or list(was.placed) != list(now.placed):
        return False
    if now.minute != was.minute + later or now.since != was.since + later:
        return False
    return all(
        now.placed[c].is_later(was.placed[c], later)
        or now.placed[c].is_later(was.placed[c], 0)
        for c in now.placed
    )


def rounds_to_come(
    found: Round, changes: int, network: Network, not_after: dict[int, int]
) -> int:
    """
    How many rounds more are sure to end like the last.

    Parameters
    ----------
    found : Round
        A round that was gone twice.
    changes : int
        Pattern of the minutes at which something in the kitchen begins or ends.
    network : Network
        Of the batch.
    not_after : dict
        Chains that must begin by a minute.
    """
    room = NO_LIMIT
    for was, now in zip(found.first, found.again, strict=True):
        moved = [c for c in now.placed if now.placed[c].low != was.placed[c].low]
        fixed = [c for c in now.placed if c not in moved]
        since = min([was.minute, now.since, *(now.placed[c].low for c in moved)])
        until = max([now.until, *(_end_min(c, now, network) for c in moved)])
        if since < 0 or changes & minutes(since, until + 1):
            return 0
        if any(_end_min(c, now, network) > since for c in fixed):
            return 0
        room = min(room, first_minute(changes >> until + 1) or 0)
        for chain in moved:
            limit = not_after.get(chain, NO_LIMIT)
            for other in fixed:
                limit = min(limit, _before(other, chain, now, network))
            room = min(room, limit - now.placed[chain].last - 1)
    return max(0, room) // found.later_min


def _end_min(chain: int, now: Try, network: Network) -> int:
    """Last minute at which a chain was looked for room."""
    here = now.placed[chain]
    return max(here.start, here.last) + network.chains[chain].length_min


def _before(other: int, chain: int, now: Try, network: Network) -> int:
    """Latest start of a chain for the sake of another that stays where it is."""
    root = network.chains[chain].members[0][0]
    other_root = network.chains[other].members[0][0]
    lag = network.lag[root][other_root]
    if lag == UNTIED:
        return NO_LIMIT
    order = list(now.placed)
    there = now.placed[other]
    is_first = order.index(other) < order.index(chain)
    return (there.start if is_first else there.low) - lag


def load_span(problem: Problem, batch: Batch, lift_within_min: int) -> tuple[int, int]:
    """Minutes that count before a load of a batch is lowered, and from then on."""
    process = next(p for p in problem.processes if p.id == batch.process)
    before = after = 0
    for canner in problem.canners:
        heats = (canner.first_heat_min, canner.reheat_min, canner.stays_hot_min)
        before = max(before, 1 + max(heats))
        after = max(after, least_cycle_min(canner, process) + lift_within_min)
    return before, after


def changes_in(problem: Problem, kitchen: FreeKitchen) -> int:
    """Pattern of the minutes at which anything in the kitchen begins or ends."""
    changes = 1 << problem.horizon_min
    hands = (level for levels in kitchen.hands.values() for level in levels)
    for pattern in (*hands, *kitchen.burners.values()):
        changes |= pattern ^ pattern << 1
    for minute in _moments(problem, kitchen):
        if minute >= 0:
            changes |= 1 << minute
    return changes


def _moments(problem: Problem, kitchen: FreeKitchen) -> Iterator[int]:
    """Minutes that are in no pattern: of pots, loads, and jars that cool."""
    cooling = problem.counter.cooling_min
    for name, free_from in kitchen.pot_free_from.items():
        left = kitchen.left_in.get(name)
        yield free_from
        yield free_from - (left.saved_min if left else 0)
    for _, until in problem.counter.taken:
        yield until
    for burner in problem.burners:  # a canner that keeps its burners leaves them then
        for span in burner.taken_apart:
            yield from span
    for held in (held for line in kitchen.loads.values() for held in line):
        load = held.placed
        yield from (load.heat_min, load.lower_min, load.out_min, load.stands_until_min)
        yield from (held.stands_from_min, held.latest_lower_min + 1)
        yield from (load.out_min + cooling, load.out_min - cooling)
