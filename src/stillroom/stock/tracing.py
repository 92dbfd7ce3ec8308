"""
Tracing both ways: from a jar to its inputs, from an input to jars and whom they met.

A walk goes only along the entries of the lots that belong together, whatever else the
record holds.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from itertools import groupby

from stillroom.stock.events import Lot, Way
from stillroom.stock.fold import Out, Stock


@dataclass(frozen=True, slots=True)
class Link:
    """A lot on the way, and how many makings lie between."""

    lot: Lot
    steps: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Trace:
    """All that belongs to a lot, one step back and one step forward and so on."""

    lot: Lot
    back: tuple[Link, ...]
    """What went into it; the nearest first."""
    forward: tuple[Link, ...]
    """What was made of it."""
    outs: tuple[Out, ...]
    """Where it went, and what was made of it."""
    on_hand: tuple[tuple[Lot, str, int], ...]
    """(lot, place, number) of it and of what was made of it."""
    same_load: tuple[Lot, ...]
    """Lots that went through the same canner load."""


def trace(stock: Stock, code: str) -> Trace:
    """Return all that a lot came from and went to."""
    stock.gather(code)
    forward = _walk(code, lambda c: (made.lot.code for made in stock.made_into(c)))
    back = _walk(code, lambda c: _inputs(stock, c))
    mine = (code, *forward)
    return Trace(
        lot=stock.lots[code],
        back=tuple(Link(stock.lots[c], steps) for c, steps in back.items()),
        forward=tuple(Link(stock.lots[c], steps) for c, steps in forward.items()),
        outs=tuple(out for c in mine for out in stock.outs(c)),
        on_hand=tuple(
            (stock.lots[c], place, number)
            for c in mine
            for place, number in stock.places(c).items()
        ),
        same_load=_same_load(stock, code),
    )


def made_of_it(stock: Stock, code: str) -> tuple[str, ...]:
    """Return the codes of all that was made of a lot, and of that, and so on."""
    stock.gather(code)
    return tuple(_walk(code, lambda c: (made.lot.code for made in stock.made_into(c))))


def whom(outs: Iterable[Out]) -> tuple[Out, ...]:
    """Return what went to others: those are told."""
    return tuple(out for out in outs if out.event.way in (Way.SOLD, Way.GIVEN))


def by_day(outs: Iterable[Out], zone: dt.tzinfo | None) -> list[tuple[str, list[Out]]]:
    """Return what left the shelf by the kitchen's day, in the order in which it did."""

    def when(out: Out) -> dt.datetime:
        return out.event.occurred_at.astimezone(zone)

    ordered = sorted(outs, key=lambda out: (when(out), out.sequence))
    days = groupby(ordered, key=lambda out: when(out).date().isoformat())
    return [(day, list(those)) for day, those in days]


def _inputs(stock: Stock, code: str) -> Iterable[str]:
    made = stock.made(code)
    return () if made is None else (part.lot for part in made.inputs)


def _walk(code: str, step: Callable[[str], Iterable[str]]) -> dict[str, int]:
    """Return every lot that is reached, with the fewest steps; the nearest first."""
    seen, edge, steps = {code: 0}, [code], 0
    while edge:
        steps += 1
        reached = [next_ for here in edge for next_ in step(here)]
        edge = [c for c in dict.fromkeys(reached) if c not in seen]
        seen.update(dict.fromkeys(edge, steps))
    del seen[code]
    return seen


def _same_load(stock: Stock, code: str) -> tuple[Lot, ...]:
    return tuple(stock.lots[c] for c in stock.same_load(code) if c != code)
