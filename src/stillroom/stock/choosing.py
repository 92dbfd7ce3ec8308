"""Which lot is meant, and from where it is taken: first expired, first out."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from difflib import get_close_matches

from stillroom.book.densities import cup_weight
from stillroom.book.words import plain, short
from stillroom.in_a_list import all_of, any_of
from stillroom.measures.number_words import is_nothing
from stillroom.refusal import Refusal, Unreadable
from stillroom.stock.amounts import Absurd, Measure, Unit
from stillroom.stock.events import SET_ASIDE, Lot, Part, Way
from stillroom.stock.fold import Stock
from stillroom.stock.lacks import is_in_doubt
from stillroom.stock.lotcode import looks_like_a_code, printed, read_code
from stillroom.stock.making import holds
from stillroom.stock.on_hand import on_hand
from stillroom.stock.unsealed import unsealed_at

OUR_RECORD = "how Stillroom keeps records"
_ASIDE_TOO = (Way.SPOILED, Way.BROKEN)


@dataclass(frozen=True, slots=True)
class Wanted:
    """What is there of what was asked for, in the order in which it goes."""

    all: tuple[Part, ...]


def known_lot(stock: Stock, text: str) -> str | Refusal:
    """
    Return the code of a lot: by its code, or by its name where only one has it.

    Raises
    ------
    Unreadable
        If a character of the code is wrong.
    """
    codes = _codes(stock, text)
    if isinstance(codes, Refusal):
        return codes
    if len(codes) == 1:
        return codes[0]
    held = [code for code in codes if stock.balance(code)]
    if len(held) == 1:
        return held[0]
    return Refusal(
        f"{text[:60]!r} may be {len(codes)} lots: "
        + ", ".join(printed(code) for code in (held or codes)[:8]),
        instead="give the code of the one that is meant",
        source=OUR_RECORD,
    )


def called(stock: Stock, text: str) -> str | Refusal:
    """Return what the lots are called that are meant by a name or a code."""
    codes = _codes(stock, text)
    return codes if isinstance(codes, Refusal) else stock.lots[codes[0]].what


def wanted(
    stock: Stock, text: str, *, place: str = "", empty: bool = False
) -> Wanted | Refusal:
    """
    Return all that is there of a lot or a thing, what keeps least first.

    ``empty`` also finds a lot that the record has none of, at the place that is named
    or where it was at first: a count may find some.
    """
    codes = _codes(stock, text)
    if isinstance(codes, Refusal):
        return codes
    rows = on_hand(stock, codes)
    if place:
        named = one_of(tuple(dict.fromkeys(r.place for r in rows)), place)
        rows = tuple(row for row in rows if row.place == named)
    if rows:
        parts = [Part(lot=r.lot.code, place=r.place, number=r.number) for r in rows]
        return Wanted(tuple(parts))
    if empty:
        here = (
            one_of(stock.known_places(), place)
            if place
            else _first_place(stock, codes[-1])
        )
        return Wanted((Part(lot=codes[-1], place=here, number=0),))
    there = ", ".join(dict.fromkeys(r.place for r in on_hand(stock, codes)))
    return Refusal(
        f"the record has no {stock.lots[codes[0]].what} {printed(codes[0])} "
        + (f"at {place[:60]}; it is at {there}" if there else "left"),
        instead="count again: if some is there, book it with stillroom stock count "
        f"{printed(codes[0])} QUANTITY",
        source=OUR_RECORD,
    )


_ALL = frozenset({"all", "all of it", "all of them", "everything", "the rest"})


def parts_of(
    stock: Stock,
    text: str,
    quantity: str,
    *,
    place: str = "",
    way: Way = Way.DRAWN,
    drawn: Mapping[tuple[str, str], int] | None = None,
) -> tuple[Part, ...] | Refusal:
    """
    Return from which lots and places a quantity is taken, or why it cannot be.

    ``drawn`` is what the same entry takes already.
    """
    found = wanted(stock, text, place=place)
    if isinstance(found, Refusal):
        return found
    parts = _fit(stock, _readable(stock, found.all, quantity), text, way)
    if isinstance(parts, Refusal):
        return parts
    measure = stock.lots[parts[0].lot].measure
    if quantity.strip().casefold() in _ALL:
        number = sum(p.number - (drawn or {}).get((p.lot, p.place), 0) for p in parts)
    else:
        number = measure.read(quantity, stock.lots[parts[0].lot].what)
    missing, taken = number, list[Part]()
    for part in parts:
        there = part.number - (drawn or {}).get((part.lot, part.place), 0)
        if (
            there > 0
            and missing > 0
            and not (taken and measure.is_crumb(missing, of=number))
        ):
            take = min(there, missing)
            if measure.is_crumb(there - take, of=take):
                take = there  # nobody could ever use up what rounding left
            taken.append(Part(lot=part.lot, place=part.place, number=take))
            missing -= take
    if missing > 0 and not (taken and measure.is_crumb(missing)):
        return short_of(stock, parts[0].lot, place, number, having=number - missing)
    return tuple(taken)


def _readable(stock: Stock, parts: tuple[Part, ...], quantity: str) -> tuple[Part, ...]:
    """
    Leave out what cannot be meant by a quantity, where something else can.

    A pint of beets is of the jars, and not of those that lie in the cellar by weight.
    """
    found = tuple(p for p in parts if _reads(stock.lots[p.lot].measure, quantity))
    return found or parts


def _reads(measure: Measure, quantity: str) -> bool:
    try:
        measure.read(quantity)
    except Absurd:
        return True  # it is of this kind, and is refused by its own words
    except Unreadable:
        return False
    return True


def _fit(
    stock: Stock, parts: tuple[Part, ...], text: str, way: Way
) -> tuple[Part, ...] | Refusal:
    """Leave out what does not go that way, where there is something else that does."""
    if way not in _ASIDE_TOO:
        on_shelf = tuple(p for p in parts if p.place != SET_ASIDE)
        parts = on_shelf or parts
    if way in (Way.SOLD, Way.GIVEN):
        free = tuple(
            p
            for p in parts
            if not holds(stock, p.lot) and p.place not in unsealed_at(stock, p.lot)
        )
        parts = free or parts
    if way in (Way.EATEN, Way.TASTED):
        whole = tuple(p for p in parts if not is_in_doubt(stock, p.lot))
        parts = whole or parts
    measures = {stock.lots[part.lot].measure for part in parts}
    if len(measures) > 1:
        if len({(m.unit, m.each > 0) for m in measures}) == 1 and all(
            m.unit is not Unit.PIECES for m in measures
        ):
            return parts
        return Refusal(
            f"{text[:60]} is there in "
            + all_of(sorted({measure.said for measure in measures}))
            + ": "
            + ", ".join(f"{printed(p.lot)} at {p.place}" for p in parts[:8]),
            instead="give the code of the lot that is meant",
            source=OUR_RECORD,
        )
    return parts


def why_so_much(why: str, lot: Lot, quantity: str) -> str:
    """Return why, and by which weight of a cup a quantity was read, where by one."""
    said = quantity.strip()
    weight = cup_weight(lot.what)
    none = is_nothing(said) or said.casefold() in _ALL
    if none or isinstance(weight, Refusal) or _reads(lot.measure, said):
        return why
    known = weight.source.how_known.replace("_", " ").replace("memory", "from memory")
    grams = f"{weight.kg_per_cup * 1000:g} g a cup"
    cup = f"{short(said)} at {grams}: {weight.source.text}; {known}"
    return f"{why}; {cup}" if why else cup


def short_of(
    stock: Stock, code: str, place: str, number: int, *, having: int | None = None
) -> Refusal:
    """Say that more is asked for than there is: count again?"""
    lot = stock.lots[code]
    there = stock.balance(code, place or None) if having is None else having
    where = f" at {place}" if place else ""
    return Refusal(
        f"the record has {lot.measure.of(there, lot.what)}{where}, and "
        f"{lot.measure.words(number)} are asked for",
        instead="count again? If more is there, book the count first (stillroom stock "
        f"count {printed(code)} QUANTITY); else take less",
        source=OUR_RECORD,
    )


def one_of(known: tuple[str, ...], name: str) -> str:
    """
    Return the name as it is known already, so that "Freezer 2" is "freezer 2".

    >>> one_of(("freezer 2",), "Freezer 2"), one_of((), "stand")
    ('freezer 2', 'stand')
    >>> one_of(("fridge",), "the fridge"), one_of(("the fridge",), "fridge")
    ('fridge', 'the fridge')
    """
    wanted = name.casefold()
    if wanted in (alike := {k.casefold(): k for k in known}):
        return alike[wanted]
    bare = {k.removeprefix("the "): kept for k, kept in alike.items()}
    return bare.get(wanted.removeprefix("the "), name)


def _codes(stock: Stock, text: str) -> tuple[str, ...] | Refusal:
    if looks_like_a_code(text):
        code = read_code(text)
        if stock.has_lot(code):
            return (code,)
        return _unknown(stock, text)
    name = plain(text)
    return stock.named_on_hand(name) or stock.named(name) or _unknown(stock, text)


def _unknown(stock: Stock, text: str) -> Refusal:
    names = stock.names()
    near = [names[n] for n in get_close_matches(plain(text), list(names), 2, 0.5)]
    return Refusal(
        f"the record has no lot {text[:60]!r}",
        instead=f"is {any_of(near)} meant?"
        if near
        else "see what there is with stillroom stock, and give its name or lot code",
        source=OUR_RECORD,
    )


def _first_place(stock: Stock, code: str) -> str:
    event = stock.event(stock.begun(code))
    return str(getattr(event, "place", ""))
