"""
Pots and mills in turn: a use ends unwashed, and is washed when the next asks for it.

So the wash takes nobody's time while something hurried waits, and where the next in it
is of the same contents it is only a rinse. What is left unwashed is washed at the end.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import product

from stillroom.planning.hand.free_time import minutes, room_for
from stillroom.planning.sequence.compiled import Compiled
from stillroom.planning.sequence.parts import KINDS, Made, Part
from stillroom.planning.sequence.room import Placed, Room, Unwashed


@dataclass(frozen=True, slots=True)
class Offer:
    """A pot or mill that a batch may have, and when."""

    tool: int
    free: int
    """Minutes at which it may be in it."""
    wash: tuple[int, int, bool] | None = None
    """(start, person, rinsed) of the wash of the use before, which comes first."""


def offers(
    day: Compiled, room: Room, batch: int, part: Part
) -> Iterator[tuple[Offer | None, ...]]:
    """Pot and mill that a part of a batch may have, in all ways that differ."""
    made = day.made[batch]
    ways: list[list[Offer | None]] = []
    for kind in KINDS:
        if not part.held[kind]:
            ways.append([None])
            continue
        tool = room.tool_of.get((batch, kind))
        if tool is not None:  # begun before: it is in it
            since, _ = _span(made, kind, room.begun[batch].starts)
            ways.append([Offer(tool, minutes(since, day.problem.horizon_min))])
            continue
        tools = made.tools[kind]
        found: list[Offer | None] = [] if tools else [None]
        seen = set()
        for tool in tools:
            for offer in _offers_of(day, room, batch, kind, tool):
                key = (day.alike[tool], offer.free, offer.wash)
                if key not in seen:
                    seen.add(key)
                    found.append(offer)
        ways.append(found)
    yield from product(*ways)


def _offers_of(
    day: Compiled, room: Room, batch: int, kind: int, tool: int
) -> Iterator[Offer]:
    free = room.tools[tool]
    if free:
        yield Offer(tool, free)
    left = room.unwashed[tool]
    if left is None:
        return
    last = day.made[left.batch]
    rinse = last.rinse[kind]
    if last.contents != day.made[batch].contents:
        rinse = None
    washed = _washing(day, room, left, kind, rinse)
    if washed is not None:
        start, person, end = washed
        rest = minutes(end, day.problem.horizon_min)
        yield Offer(tool, rest, (start, person, rinse is not None))


def _washing(
    day: Compiled, room: Room, left: Unwashed, kind: int, rinse: int | None
) -> tuple[int, int, int] | None:
    """Earliest (start, person, end) of a wash or rinse."""
    made = day.made[left.batch]
    chain = made.wash[kind]
    assert chain is not None
    (work,) = made.pieces[chain].works
    (_, length, quarters) = work.spans[0]
    length = length if rinse is None else rinse
    best: tuple[int, int, int] | None = None
    for person in work.people:
        open_from = room.hands[person][quarters - 1] >> left.since << left.since
        fits = room_for(open_from, length)
        if fits:
            start = (fits & -fits).bit_length() - 1
            if best is None or start < best[0]:
                best = (start, person, start + length)
    return best


def use(day: Compiled, room: Room, offer: Offer) -> bool:
    """Wash or rinse what is offered, as the offer says."""
    left = room.unwashed[offer.tool]
    assert left is not None
    assert offer.wash is not None
    kind = 0 if offer.tool < len(day.problem.pots) else 1
    rinsed = offer.wash[2]
    rinse = day.made[left.batch].rinse[kind] if rinsed else None
    # hands may have gone to the wash of the mill since the offer was made
    washed = _washing(day, room, left, kind, rinse)
    if washed is None:
        return False
    _wash(day, room, left, kind, washed, rinsed=rinsed)
    room.unwashed[offer.tool] = None
    room.tools[offer.tool] |= minutes(washed[2], day.problem.horizon_min)
    return True


def _wash(
    day: Compiled,
    room: Room,
    left: Unwashed,
    kind: int,
    washed: tuple[int, int, int],
    *,
    rinsed: bool,
) -> None:
    start, person, end = washed
    chain = day.made[left.batch].wash[kind]
    assert chain is not None
    quarters = day.made[left.batch].pieces[chain].works[0].spans[0][2]
    room.give(person, start, end - start, quarters)
    room.placed.append(Placed(left.batch, chain, start, (person,), (), rinsed))
    room.end = max(room.end, end)


def leave(
    day: Compiled,
    room: Room,
    offer: Offer,
    batch: int,
    kind: int,
    placed: dict[int, int],
) -> bool:
    """Book the use of a pot or mill by a batch whose chains are placed, if all are."""
    made = day.made[batch]
    horizon = day.problem.horizon_min
    first, last = _span(made, kind, placed)
    tool, free = offer.tool, room.tools[offer.tool]
    if (batch, kind) in room.tool_of:  # begun before: it is its own
        free |= offer.free
    if minutes(first, last) & ~free:
        return False
    room.tool_of[batch, kind] = tool
    if offer.wash is not None and offer.wash[2]:  # nothing else in between
        room.tools[tool] &= ~minutes(offer.wash[0], first)
    rest = minutes(first, horizon)
    wash = made.wash[kind]
    if any(
        p.held[kind] and c not in placed for c, p in enumerate(made.pieces) if c != wash
    ):
        room.tools[tool] &= ~rest
        return not rest & ~free
    if wash is None:
        room.tools[tool] = free & ~minutes(first, last)
        return True
    since = last
    for link in made.pieces[wash].links:
        if link.other in placed:
            since = max(since, placed[link.other] + link.least)
    left = Unwashed(batch, since)
    rest = minutes(first, horizon)
    if rest & ~free:  # something else is in it later: to be washed before that
        washed = _washing(day, room, left, kind, None)
        if washed is None or minutes(first, washed[2]) & ~free:
            return False
        _wash(day, room, left, kind, washed, rinsed=False)
        room.tools[tool] = free & ~minutes(first, washed[2])
        return True
    room.tools[tool] &= ~rest
    room.unwashed[tool] = left
    return True


def _span(made: Made, kind: int, placed: dict[int, int]) -> tuple[int, int]:
    """First minute in a tool, and the last so far."""
    held = [
        (start + mine[0], start + mine[1])
        for chain, start in placed.items()
        if (mine := made.pieces[chain].held[kind])
    ]
    return min(start for start, _ in held), max(end for _, end in held)


def wash_up(day: Compiled, room: Room) -> bool:
    """Wash all that is left, what is done first before the others."""
    left = [(u.since, n, u) for n, u in enumerate(room.unwashed) if u is not None]
    for _, tool, unwashed in sorted(left, key=lambda x: x[:2]):
        kind = 0 if tool < len(day.problem.pots) else 1
        washed = _washing(day, room, unwashed, kind, None)
        if washed is None:
            return False
        _wash(day, room, unwashed, kind, washed, rinsed=False)
        room.unwashed[tool] = None
    return True
