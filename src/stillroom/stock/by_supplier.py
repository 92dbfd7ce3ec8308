"""All that came from one supplier, what was made of it, and whom it met."""

from __future__ import annotations

import re
from collections import defaultdict
from dataclasses import dataclass
from difflib import get_close_matches

from stillroom.in_a_list import any_of
from stillroom.refusal import Refusal
from stillroom.stock.choosing import OUR_RECORD
from stillroom.stock.events import Lot
from stillroom.stock.fold import Out, Stock
from stillroom.stock.making import holds
from stillroom.stock.tracing import Link, trace


@dataclass(frozen=True, slots=True, kw_only=True)
class Supplied:
    """The traces of all that one supplier brought, as one; nothing in it twice."""

    supplier: str
    """As it was written last."""
    came: tuple[Lot, ...]
    """What came from there, the oldest first."""
    made: tuple[Link, ...]
    """What was made of it, the fewest makings first."""
    on_hand: tuple[tuple[Lot, str, int], ...]
    """(lot, place, number) of all of these."""
    outs: tuple[Out, ...]
    """Where it went, in the order of the entries."""


def suppliers(stock: Stock) -> dict[str, tuple[str, ...]]:
    """Return each supplier as last written, and the lots that came from there."""
    found: dict[str, list[str]] = defaultdict(list)
    written: dict[str, str] = {}
    for code, name in stock.supplied().items():
        found[_same(name)].append(code)
        written[_same(name)] = name
    return {written[name]: tuple(codes) for name, codes in found.items()}


def from_supplier(stock: Stock, text: str) -> Supplied | Refusal:
    """Return all that came from a supplier, in capitals or not."""
    known = suppliers(stock)
    name = next((one for one in known if _same(one) == _same(text)), None)
    if name is None:
        return _unknown(tuple(known), text)
    traces = [trace(stock, code) for code in known[name]]
    came = tuple(found.lot for found in traces)
    steps: dict[str, Link] = {}
    for link in (link for found in traces for link in found.forward):
        if link.steps <= steps.setdefault(link.lot.code, link).steps:
            steps[link.lot.code] = link
    here = {
        (lot.code, place): (lot, place, number)
        for found in traces
        for lot, place, number in found.on_hand
    }
    outs = {
        (out.sequence, out.part): out for found in traces for out in found.outs
    }.values()
    return Supplied(
        supplier=name,
        came=came,
        made=tuple(sorted(steps.values(), key=lambda link: link.steps)),
        on_hand=tuple(here.values()),
        outs=tuple(sorted(outs, key=lambda out: out.sequence)),
    )


def held_of(stock: Stock, found: Supplied) -> tuple[tuple[Lot, tuple[str, ...]], ...]:
    """Return what of it is on hold or called back, and why; what is all gone is not."""
    here = {lot.code: lot for lot, _, _ in found.on_hand}
    held = ((lot, holds(stock, lot.code)) for lot in here.values())
    return tuple((lot, why) for lot, why in held if why)


def _same(name: str) -> str:
    """
    Return what two ways to write a name share.

    >>> _same("Orchard  row ") == _same("Orchard-Row"), _same("O\u2019Brien")
    (True, 'o brien')
    """
    return " ".join(re.findall(r"\w+", name.casefold())) or name.strip()


def _unknown(known: tuple[str, ...], text: str) -> Refusal:
    spelt = {_same(name): name for name in known}
    near = [spelt[one] for one in get_close_matches(_same(text), list(spelt), 2, 0.5)]
    some = any_of(sorted(known)[:8])
    return Refusal(
        f"the record has nothing that came from {text[:60]!r}",
        instead=(
            f"is {any_of(near)} meant?"
            if near
            else f"say one that was written down, such as {some}"
            if known
            else "write down from whom a thing came when it is booked: stillroom stock "
            'add "25 lb plums, cellar, from Orchard Row"'
        ),
        source=OUR_RECORD,
    )
