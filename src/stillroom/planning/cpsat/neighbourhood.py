"""
A part of a plan set free, the rest held: the small searches of the large one.

What is held keeps who does it, in which pot, on which fire and in which load, and its
order with what else is held; no minute is held, so that what is gained early moves all
that follows.
"""

from __future__ import annotations

import random
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from itertools import pairwise

from ortools.sat.python import cp_model

from stillroom.planning.cpsat.variables import DayModel, Expr, Slot
from stillroom.planning.problem import Batch

Value = Callable[[Expr], int]
QUARTERS = 4
WHOLE = 3
"""From so many quarters on, no two things fit into one person's hands."""


@dataclass(frozen=True, slots=True)
class Part:
    """What is set free: some batches, all that touches a stretch of time, or loads."""

    batches: frozenset[str] = frozenset()
    since: int = 0
    until: int = 0
    people: frozenset[str] | None = None
    """Whose work the stretch frees; `None` for all, with pots, fires and loads too."""
    loads: bool = False
    """Jars of what is held may go one load earlier or later."""

    def frees(self, batch: str | None, start: int, end: int) -> bool:
        """Whether something with a time is set free."""
        if batch is not None and batch in self.batches:
            return True
        return start < self.until and end > self.since


@dataclass(frozen=True, slots=True)
class _Held:
    """Something held in one thing's time, as it lies in the plan."""

    begins: int
    ends: int
    start: Expr
    end: Expr
    quarters: int = QUARTERS


def hold_the_rest(
    model: cp_model.CpModel, day: DayModel, value: Value, part: Part
) -> None:
    """
    Add to a copy of a day's model what keeps all but a part of a plan as it is.

    Parameters
    ----------
    model : CpModel
        A clone of ``day.model``.
    day : DayModel
        The day that it is a clone of.
    value : callable
        Values of the plan.
    part : Part
        What is not held.
    """
    _hold_hands(model, day, value, part)
    _hold_fires_and_pots(model, day, value, part)
    _hold_loads(model, day, value, part)


def _fix(model: cp_model.CpModel, value: Value, literal: cp_model.IntVar) -> None:
    model.add(literal == value(literal))


def _chain(model: cp_model.CpModel, held: list[_Held]) -> None:
    """Keep the order of things that never overlap."""
    held.sort(key=lambda h: (h.begins, h.ends))
    for a, b in pairwise(held):
        if a.ends <= b.begins:
            model.add(b.start >= a.end)


# --- hands ------------------------------------------------------------------------


def _hold_hands(
    model: cp_model.CpModel, day: DayModel, value: Value, part: Part
) -> None:
    of_person: dict[str, list[_Held]] = {p.id: [] for p in day.problem.people}
    loose: set[int] = set()
    for piece in day.pieces:
        begins = value(piece.start)
        ends = begins + piece.length
        who = next(p for p, v in piece.hands.by.items() if value(v))
        free = part.frees(piece.hands.batch, begins, ends)
        if free and part.people is not None and who not in part.people:
            free = False
        if free:
            loose.add(id(piece.hands))
            continue
        of_person[who].append(
            _Held(begins, ends, piece.start, piece.start + piece.length, piece.quarters)
        )
    for hands in day.hands:
        if id(hands) not in loose and len(hands.by) > 1:
            for literal in hands.by.values():
                _fix(model, value, literal)
    for slot in day.all_slots():
        if not value(slot.present) or load_is_free(part, value, slot):
            continue
        for start, length, by in (
            (slot.lower, slot.canner.load_min, slot.lowered_by),
            (slot.lift, slot.canner.unload_min, slot.lifted_by),
        ):
            who = next(p for p, v in by.items() if value(v))
            begins = value(start)
            of_person[who].append(
                _Held(begins, begins + length, start, start + length, WHOLE)
            )
            for literal in by.values():
                _fix(model, value, literal)
    for person in day.problem.people:
        rests = zip(person.breaks, day.breaks[person.id], strict=True)
        for rest, start in rests:
            begins, ends = value(start), value(start) + rest.duration_min
            if not part.frees(None, begins, ends):
                of_person[person.id].append(
                    _Held(begins, ends, start, start + rest.duration_min)
                )
    for held in of_person.values():
        _keep_order(model, held)


def _keep_order(model: cp_model.CpModel, held: list[_Held]) -> None:
    """Keep the order of what one person cannot do at once."""
    held.sort(key=lambda h: (h.begins, h.ends))
    _chain(model, [h for h in held if h.quarters >= WHOLE])
    for i, lighter in enumerate(held):
        if lighter.quarters >= WHOLE:
            continue
        room = QUARTERS - lighter.quarters
        before = [h for h in held[:i] if h.quarters > room and h.ends <= lighter.begins]
        after = [h for h in held[i:] if h.quarters > room and h.begins >= lighter.ends]
        if before:
            model.add(lighter.start >= max(before, key=lambda h: h.ends).end)
        if after:
            model.add(lighter.end <= min(after, key=lambda h: h.begins).start)


# --- pots, mills, fires --------------------------------------------------------------


def _hold_fires_and_pots(
    model: cp_model.CpModel, day: DayModel, value: Value, part: Part
) -> None:
    whole = part.people is None
    in_pot: dict[str, list[_Held]] = {}
    on_mill: list[_Held] = []
    for batch in day.problem.batches:
        for what, size in (("in_pot", day.pot_size.get(batch.id)), ("on_mill", None)):
            span = _span(day, value, batch, what)
            if span is None:
                continue
            free = whole and part.frees(batch.id, span.begins, span.ends)
            if what == "on_mill":
                if not free:
                    on_mill.append(span)
                continue
            if size is None:
                continue
            if free:
                continue
            for literal in size.values():
                _fix(model, value, literal)
            chosen = next(s for s, v in size.items() if value(v))
            in_pot.setdefault(chosen, []).append(span)
    for size_name, spans in in_pot.items():
        pots = sum(1 for p in day.problem.pots if p.size == size_name)
        _chain_named(model, spans, pots)
    if day.problem.mills:
        _chain_named(model, on_mill, day.problem.mills)
    on_fire: dict[int, list[_Held]] = {}
    for block in day.blocks:
        begins = value(block.start)
        ends = begins + block.length
        if whole and part.frees(block.batch, begins, ends):
            continue
        for c, literal in block.at.items():
            if value(literal):
                on_fire.setdefault(c, []).append(
                    _Held(begins, ends, block.start, block.start + block.length)
                )
            if len(block.at) > 1:
                _fix(model, value, literal)
    for slot in day.all_slots():
        if not value(slot.present) or load_is_free(part, value, slot):
            continue
        held = _Held(value(slot.heat), value(slot.out), slot.heat, slot.out)
        for c, alike in enumerate(day.classes):
            if slot.canner.id in alike.canners and len(alike.burners) == 1:
                on_fire.setdefault(c, []).append(held)
    for c, fires in on_fire.items():
        _chain_named(model, fires, len(day.classes[c].burners))


def _span(day: DayModel, value: Value, batch: Batch, what: str) -> _Held | None:
    inside = [i for i, s in enumerate(batch.steps) if getattr(s, what)]
    if not inside:
        return None
    first = min(inside, key=lambda i: value(day.start(batch.id, i)))
    last = max(inside, key=lambda i: value(day.end(batch, i)))
    start, end = day.start(batch.id, first), day.end(batch, last)
    return _Held(value(start), value(end), start, end)


def _chain_named(model: cp_model.CpModel, held: list[_Held], names: int) -> None:
    """Keep the order of what shares a name, names given in turn as they come free."""
    lines: list[list[_Held]] = [[] for _ in range(names)]
    for h in sorted(held, key=lambda h: (h.begins, h.ends)):
        free = [line for line in lines if not line or line[-1].ends <= h.begins]
        if free:
            max(free, key=lambda x: x[-1].ends if x else -1).append(h)
    for line in lines:
        _chain(model, line)


# --- loads --------------------------------------------------------------------------


def load_is_free(part: Part, value: Value, slot: Slot) -> bool:
    """Whether a load of the plan is set free."""
    if part.loads:
        return True
    if part.people is not None:
        return False
    if any(b in part.batches and value(v) for b, v in slot.aboard.items()):
        return True
    return part.frees(None, value(slot.lower), value(slot.out))


def _hold_loads(
    model: cp_model.CpModel, day: DayModel, value: Value, part: Part
) -> None:
    free_slots = {
        (s.canner.id, s.index)
        for s in day.all_slots()
        if not value(s.present) or load_is_free(part, value, s)
    }
    for slot in day.all_slots():
        if part.loads:
            continue
        here = (slot.canner.id, slot.index)
        if here in free_slots:
            if part.people is not None:
                _fix(model, value, slot.present)
            continue
        for literal in (slot.present, *slot.kind.values()):
            _fix(model, value, literal)
        for batch, literal in slot.aboard.items():
            if batch not in part.batches:
                _fix(model, value, literal)
                _fix(model, value, slot.jars[batch])
    if not part.loads:
        return
    where: dict[str, set[tuple[str, int]]] = {}
    for slot in day.all_slots():
        for batch, literal in slot.aboard.items():
            if value(literal):
                where.setdefault(batch, set()).add((slot.canner.id, slot.index))
    for slot in day.all_slots():
        for batch, literal in slot.aboard.items():
            if batch in part.batches:
                continue
            if part.frees(None, value(slot.lower), value(slot.out)):
                continue
            if not any(
                c == slot.canner.id and abs(n - slot.index) <= 1
                for c, n in where.get(batch, ())
            ):
                model.add(literal == 0)


# --- which part ------------------------------------------------------------------


class Parts:
    """Draws parts, larger ones where the last of their kind were soon searched."""

    KINDS = ("batches", "near", "stretch", "late", "people", "loads")
    ABOUT_LOADS = ("batches", "near", "stretch", "loads")

    def __init__(self, day: DayModel, seed: int, *, about_loads: bool = False) -> None:
        self.day, self.drawn = day, random.Random(seed)
        self.kinds = self.ABOUT_LOADS if about_loads else self.KINDS
        self.share_of_loads = 1.0 if about_loads else 0.6
        self.size = dict.fromkeys(self.KINDS, 0.35)
        self.turn: Iterator[str] = iter(())

    def draw(self, value: Value, finish: int) -> tuple[str, Part]:
        """A kind, and a part of it."""
        kind = next(self.turn, None)
        if kind is None:
            kinds = list(self.kinds)
            self.drawn.shuffle(kinds)
            self.turn = iter(kinds)
            kind = next(self.turn)
        return kind, getattr(self, f"_{kind}")(value, finish, self.size[kind])

    def heard(self, kind: str, searched: bool) -> None:
        """Larger the next time where all was searched, else smaller."""
        size = self.size[kind] * (1.15 if searched else 0.85)
        self.size[kind] = min(1.0, max(0.1, size))

    def _loads_too(self) -> bool:
        return self.drawn.random() < self.share_of_loads

    def _batches(self, value: Value, finish: int, size: float) -> Part:
        all_batches = [b.id for b in self.day.problem.batches]
        many = min(len(all_batches), max(2, round(size * len(all_batches))))
        chosen = frozenset(self.drawn.sample(all_batches, many))
        return Part(batches=chosen, loads=self._loads_too())

    def _near(self, value: Value, finish: int, size: float) -> Part:
        """Batches that lie beside each other."""
        at: dict[str, int] = {}
        for batch in self.day.problem.batches:
            starts = [
                value(self.day.start(batch.id, i)) for i in range(len(batch.steps))
            ]
            in_pot = [t for t, s in zip(starts, batch.steps, strict=True) if s.in_pot]
            at[batch.id] = min(in_pot or starts, default=0)
        order = sorted(at, key=lambda b: at[b])
        many = min(len(order), max(2, round(size * len(order))))
        first = self.drawn.randrange(len(order) - many + 1)
        chosen = frozenset(order[first : first + many])
        return Part(batches=chosen, loads=self._loads_too())

    def _stretch(self, value: Value, finish: int, size: float) -> Part:
        length = max(20, round(size * finish))
        since = self.drawn.randrange(-length // 3, max(1, finish - length // 2))
        return Part(since=since, until=since + length, loads=self._loads_too())

    def _late(self, value: Value, finish: int, size: float) -> Part:
        length = max(20, round(size * finish))
        return Part(since=finish - length, until=finish, loads=True)

    def _people(self, value: Value, finish: int, size: float) -> Part:
        people = [p.id for p in self.day.problem.people]
        length = max(20, round(2 * size * finish))
        since = self.drawn.randrange(0, max(1, finish - length + 1))
        return Part(
            since=since,
            until=since + length,
            people=frozenset(self.drawn.sample(people, min(2, len(people)))),
        )

    def _loads(self, value: Value, finish: int, size: float) -> Part:
        length = max(20, round(2 * size * finish))
        since = self.drawn.randrange(0, max(1, finish - length + 1))
        return Part(since=since, until=since + length, people=frozenset(), loads=True)
