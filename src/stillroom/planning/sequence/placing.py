"""
One batch placed by turns: its pot's longest chain as early as all the others allow.

For each chain the minutes at which it may start are worked out first, from the leaves
of the tree of its links to the root: a minute stays only if what hangs on it has room
within its limits. So a start that is tried hardly ever fails.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from stillroom.planning.hand.free_time import (
    Levels,
    doublings,
    minutes,
    room_for,
    taken,
)
from stillroom.planning.sequence.compiled import Compiled
from stillroom.planning.sequence.parts import FAR, KINDS, POT, Burning, Piece, Work
from stillroom.planning.sequence.room import Placed, PlacedSoFar, Room
from stillroom.planning.sequence.washing import Offer, leave, offers, use

STARTS_TRIED = 24
"""Starts of the first chain that are tried in full before a batch is given up."""
MINUTES_TRIED = 40
"""Minutes that are tried for each of the others."""
NOTHING = PlacedSoFar({}, {}, ())


@dataclass(frozen=True, slots=True)
class Way:
    """How a batch is placed, where there is a choice."""

    cooks_first: bool = False
    """Work goes to those with most skills first."""
    late: bool = False
    """What must be there beforehand is done as late as fits, not as early."""
    later: int = 0
    """So long after the first minute that would fit. [min]"""


def place(
    day: Compiled,
    room: Room,
    batch: int,
    way: Way,
    closes_in: int,
    cut: int | None = None,
) -> bool:
    """
    Place a batch, its jars apart, and all that must be washed before.

    Parameters
    ----------
    day : Compiled
        The day.
    room : Room
        Where to; changed where the batch fits, and only then.
    batch : int
        Which, by position.
    way : Way
        The choices.
    closes_in : int
        Minutes, as bits, at which its jars may be closed.
    cut : int, optional
        Only what may be begun before the rest, by this one of its cuts.

    Returns
    -------
    bool
        Whether it fits.
    """
    turn = _Turn(day, room, batch, way, closes_in, cut)
    best: tuple[int, int, tuple[Offer | None, ...]] | None = None
    starts = turn.starts(room)
    lead = turn.part.order[0]
    for rank, pair in enumerate(offers(day, room, batch, turn.part)):
        first = turn.fitting(starts, pair)[lead]
        if first:
            minute = (first & -first).bit_length() - 1
            if best is None or (minute, rank) < best[:2]:
                best = (minute, rank, pair)
    if best is None:
        return False
    pair = best[2]
    base = room.copy()
    for offer in pair:
        if offer is not None and offer.wash is not None and not use(day, base, offer):
            return False
    if any(offer is not None and offer.wash is not None for offer in pair):
        starts = turn.starts(base)
    masks = turn.fitting(starts, pair)
    tried, left = 0, masks[lead]
    if way.later and left:
        first = (left & -left).bit_length() - 1 + way.later
        left = left >> first << first
    while left and tried < STARTS_TRIED:
        low = left & -left
        left ^= low
        tried += 1
        trial = base.copy()
        begun = turn.attempt(trial, masks, low.bit_length() - 1, pair)
        if begun is not None and all(
            offer is None or leave(day, trial, offer, batch, kind, begun.starts)
            for kind, offer in zip(KINDS, pair, strict=True)
        ):
            if cut is None:
                trial.begun.pop(batch, None)
                trial.closed[batch] = max(
                    begun.starts[c] + offset for c, offset in turn.made.closes
                )
            else:
                trial.begun[batch] = begun
            room.become(trial)
            return True
    return False


def someone(room: Room, work: Work, hands: dict[str, int]) -> int:
    """Starts of a chain from which somebody has time for a work of it."""
    some = 0
    people: Sequence[int] = work.people
    if work.word and work.word in hands:
        people = (hands[work.word],)
    for person in people:
        levels = room.hands[person]
        mine = -1
        for offset, length, quarters in work.spans:
            mine &= room_for(levels[quarters - 1], length) >> offset
        some |= mine
    return some


def within(mask: int, least: int, most: int, whole: int) -> int:
    """
    Starts from which some minute of ``mask`` lies ``least`` to ``most`` later.

    Examples
    --------
    >>> bin(within(0b1000000, 1, 3, 0xFFFF))
    '0b111000'
    >>> bin(within(0b10, -3, -1, 0xFFFF))
    '0b11100'
    """
    if not mask:
        return 0
    if most >= FAR:
        last = mask.bit_length() - 1 - (least if least > -FAR else -FAR)
        return whole & ((1 << (last + 1)) - 1) if last >= 0 else 0
    if least <= -FAR:
        first = (mask & -mask).bit_length() - 1 - most
        return whole >> first << first if first > 0 else whole
    mask = mask >> least if least >= 0 else mask << -least
    for shift in doublings(most - least + 1):
        mask |= mask >> shift
    return mask & whole


def _with_work(levels: Levels, work: Work, start: int) -> Levels | None:
    """A person's attention after a work; `None` where they have too little for it."""
    for offset, length, quarters in work.spans:  # two of one work may be at once
        begins, ends = start + offset, start + offset + length
        if minutes(begins, ends) & ~levels[quarters - 1]:
            return None
        levels = taken(levels, begins, ends, quarters)
    return levels


def _window(piece: Piece, placed: dict[int, int]) -> tuple[int, int, bool]:
    """Earliest and latest start beside what is placed; whether that sets the latest."""
    low, high, bound = piece.low, piece.high, False
    for link in piece.links:
        there = placed.get(link.other)
        if there is not None:
            low = max(low, there + link.least)
            if there + link.most < high:
                high, bound = there + link.most, True
    return low, high, bound


class _Turn:
    """What does not change while one batch is placed."""

    __slots__ = ("batch", "before", "closes_in", "day", "made", "part", "way", "whole")

    def __init__(
        self,
        day: Compiled,
        room: Room,
        batch: int,
        way: Way,
        closes_in: int,
        cut: int | None,
    ) -> None:
        self.day, self.batch, self.way = day, batch, way
        self.made, self.closes_in = day.made[batch], closes_in
        self.whole = minutes(0, day.problem.horizon_min)
        self.before = room.begun.get(batch, NOTHING)
        if cut is not None:
            self.part = self.made.cuts[cut][0]
        elif self.before is NOTHING:
            self.part = self.made.whole
        else:
            self.part = next(
                rest
                for begun, rest in self.made.cuts
                if set(begun.order) == self.before.starts.keys()
            )

    def starts(self, room: Room) -> list[int]:
        """For each chain the starts that hands, fires, windows and closing allow."""
        pieces = self.made.pieces
        found = [0] * len(pieces)
        hands = self.before.hands
        for c in self.part.order:
            mask = self._starts_of(room, pieces[c], hands)
            low, high, _ = _window(pieces[c], self.before.starts)
            found[c] = mask & minutes(max(0, low), high + 1)
        if len(self.made.closes) == 1:
            chain, offset = self.made.closes[0]
            found[chain] &= self.closes_in >> offset
        return found

    def _starts_of(self, room: Room, piece: Piece, hands: dict[str, int]) -> int:
        if piece.high < piece.low:
            return 0
        mask = minutes(piece.low, piece.high + 1)
        for work in piece.works:
            mask &= someone(room, work, hands)
        for fire in piece.fires:
            length, some = fire.end - fire.start, 0
            for burner in fire.burners:
                some |= room_for(room.fire(self.day, burner), length)
            mask &= some >> fire.start
        return mask

    def fitting(self, starts: list[int], pair: tuple[Offer | None, ...]) -> list[int]:
        """The starts that remain with a pot and a mill, and all that hangs on them."""
        masks = starts[:]
        for kind, offer in zip(KINDS, pair, strict=True):
            if offer is None:
                continue
            for c, since, least in self.part.held[kind]:
                masks[c] &= room_for(offer.free, least) >> since
        for chain, on, least, most in self.part.branches:
            masks[on] &= within(masks[chain], least, most, self.whole)
        return masks

    def attempt(
        self, room: Room, masks: list[int], start: int, pair: tuple[Offer | None, ...]
    ) -> PlacedSoFar | None:
        """Place all chains of the part, the first at ``start``."""
        placed = dict(self.before.starts)
        hands = dict(self.before.hands)
        fires = list(self.before.fires)
        pot = pair[POT]
        lead = self.part.order[0]
        for c in self.part.order:
            piece = self.made.pieces[c]
            low, high, before = _window(piece, placed)
            if c == lead:
                low = high = start
            if low > high:
                return None
            mask = masks[c] & minutes(max(0, low), high + 1)
            late = before and (piece.idle or self.way.late)
            tried = 0
            while mask:
                bit = mask.bit_length() - 1 if late else (mask & -mask).bit_length() - 1
                mask ^= 1 << bit
                if self._book(room, c, bit, hands, fires, pot):
                    placed[c] = bit
                    break
                tried += 1
                if tried == 1:
                    mask &= self._starts_of(room, piece, hands)
                elif tried > MINUTES_TRIED:
                    return None
            else:
                return None
        return PlacedSoFar(placed, hands, tuple(fires))

    def _book(
        self,
        room: Room,
        chain: int,
        start: int,
        hands: dict[str, int],
        fires: list[tuple[int, int, int]],
        pot: Offer | None,
    ) -> bool:
        """Place a chain; nothing is changed where somebody or something lacks."""
        piece = self.made.pieces[chain]
        given: list[int] = []
        saved = room.hands[:]
        for work in piece.works:
            people: Sequence[int] = work.people
            if work.word and work.word in hands:
                people = (hands[work.word],)
            elif self.way.cooks_first:
                people = people[::-1]
            for person in people:
                after = _with_work(room.hands[person], work, start)
                if after is not None:
                    break
            else:
                room.hands = saved
                return False
            room.hands[person] = after
            given.append(person)
        burners: list[int] = []
        kept = room.burners[:]
        lit = len(fires)
        for fire in piece.fires:
            burner = self._burner(room, fire, start, fires, pot)
            if burner is None:
                room.hands, room.burners = saved, kept
                del fires[lit:]
                return False
            room.burners[burner] &= ~minutes(start + fire.start, start + fire.end)
            if fire.in_pot:
                fires.append((start + fire.start, start + fire.end, burner))
            burners.append(burner)
        for work, person in zip(piece.works, given, strict=True):
            if work.word:
                hands[work.word] = person
        room.placed.append(
            Placed(self.batch, chain, start, tuple(given), tuple(burners))
        )
        room.end = max(room.end, start + piece.length)
        return True

    def _burner(
        self,
        room: Room,
        fire: Burning,
        start: int,
        fires: list[tuple[int, int, int]],
        pot: Offer | None,
    ) -> int | None:
        """A burner that is free; the pot's own where it stands on one without a gap."""
        begin, end = start + fire.start, start + fire.end
        span = minutes(begin, end)
        own = {b for s, e, b in fires if fire.in_pot and s <= end and begin <= e}
        size = None
        if pot is not None and fire.in_pot:
            size = self.day.problem.pots[pot.tool].size
        for burner in fire.burners:
            takes = self.day.problem.burners[burner].takes
            if own and own != {burner}:
                continue
            if takes is not None and size is not None and size not in takes:
                continue
            if not span & ~room.fire(self.day, burner):
                return burner
        return None
