"""What is on hand, as the shelf of a day that is to be planned."""

from __future__ import annotations

import datetime as dt
import re
from collections import Counter, defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import replace
from fractions import Fraction

from stillroom.in_a_list import all_of
from stillroom.jar_count import counted
from stillroom.measures import kitchen_mass, kitchen_volume, read_quantity
from stillroom.planning.day import Lot as DayLot
from stillroom.planning.day_file.dayschema import LONGEST_NAME, TABLES
from stillroom.planning.which_batches.names_on_shelf import same_thing
from stillroom.refusal import Unreadable
from stillroom.stock.amounts import Unit
from stillroom.stock.eaten_no_more import eaten_no_more
from stillroom.stock.events import SET_ASIDE, Kind, Lot, Received
from stillroom.stock.fold import Stock
from stillroom.stock.household import is_of_the_house
from stillroom.stock.how_cold import Cold, cold_of
from stillroom.stock.lotcode import printed, read_code
from stillroom.stock.making import holds
from stillroom.stock.on_hand import OnHand, on_hand
from stillroom.stock.words import said_day

OPEN = ", open"
GRAM_MG = 1000
_CODE = re.compile(r"\bL[0-9]{2}[A-N][0-9]{2}-[0-9A-Z]{2,7}\b")
_SUM = re.compile(
    r"[$£€]?\s?(?P<whole>[0-9]{1,7})(?:[.,](?P<cents>[0-9]{2}))?(?:\s?[A-Z]{3})?"
)
"""One sum, and perhaps its currency; "2.50 each" is no price of the whole lot."""


def day_shelf(stock: Stock, at: dt.datetime) -> tuple[DayLot, ...]:
    """
    Return what a day's batches may draw on, what keeps least first.

    Left out are jars that are filled already, what is set aside, recalled or on hold
    (broth in bottles of which nobody said how it was put up), and lye, soap and such;
    so is what stood too long to be eaten (see `stood_too_long`).
    Bags are whole ones; what is left of an open bag is a lot of its own.
    """
    return tuple(lot for row in _rows(stock, at) for lot in _lots(row, stock))


def with_room(
    lots: Sequence[DayLot], most: int = TABLES["shelf"].at_most
) -> tuple[tuple[DayLot, ...], str]:
    """
    Return as many lots as a day has lines for, and in words what stays in the stock.

    Of what there are most lots of, the one that keeps longest stays first; so nothing
    is missing altogether while there is more than one of something else.
    """
    lines: dict[str, list[int]] = defaultdict(list)
    for number, lot in enumerate(lots):
        lines[lot.what].append(number)
    out: Counter[str] = Counter()
    stay: set[int] = set()
    most = max(0, most)
    for _ in range(len(lots) - most):
        # of what there is as many lots of, the one that keeps longest
        what = max(lines, key=lambda name: (len(lines[name]), lines[name][-1:]))
        stay.add(lines[what].pop())
        out[what] += 1
    kept = tuple(lot for number, lot in enumerate(lots) if number not in stay)
    if not stay:
        return kept, ""
    said = all_of(f"{counted(n, 'lot')} of {what}" for what, n in sorted(out.items()))
    stays = "stays" if len(stay) == 1 else "stay"
    room = counted(most, "line")
    return kept, (
        f"A day has room for {room} here: {said} {stays} in the stock, what "
        "keeps longest."
    )


def code_in_name(name: str) -> str:
    """
    Return the code of the lot that a line of the day's shelf is; empty if it is none.

    >>> code_in_name("plum juice L26M25-23G, freezer 2"), code_in_name("plum juice")
    ('26M2523G', '')
    """
    found = _CODE.search(name)
    try:
        return read_code(found[0]) if found else ""
    except Unreadable:
        return ""


def stood_too_long(stock: Stock, at: dt.datetime) -> str:
    """
    Say what would be on it and is eaten no more, in a sentence; empty where none is.

    It stood in oil for too long, or cooked and warm.
    """
    past = dict.fromkeys(
        f"{row.lot.what} {printed(row.lot.code)}"
        for row in _free(stock)
        if _is_past(stock, row, at)
    )
    if not past:
        return ""
    return (
        f"Left out, for it stood too long to be eaten: {all_of(past)}. Stock says why."
    )


def look_at_first(stock: Stock, at: dt.datetime) -> tuple[str, ...]:
    """Return what of it is fresh, so that no date says whether it is still good."""
    return tuple(
        f"{row.lot.what} {printed(row.lot.code)}"
        + (f" of {said_day(row.lot.day)}" if row.lot.day else "")
        for row in _rows(stock, at)
        if row.is_fresh
    )


def is_unknown(stock: Stock, what: str) -> bool:
    """
    Whether no lot of the stock was ever called so, but for jars that are filled.

    Of such a thing the stock says nothing; of another, of which nothing is left, it
    says that it is used up.
    """
    return not any(
        stock.lots[code].kind is not Kind.FILLED
        for name, said in stock.names().items()
        if same_thing(said, what) or same_thing(what, said)
        for code in stock.named(name)
    )


def _rows(stock: Stock, at: dt.datetime) -> Iterable[OnHand]:
    return (row for row in _free(stock) if not _is_past(stock, row, at))


def _is_past(stock: Stock, row: OnHand, at: dt.datetime) -> bool:
    return eaten_no_more(stock, row.lot.code, row.place, at) is not None


def _free(stock: Stock) -> Iterable[OnHand]:
    """What a batch may draw on by its kind and its place, and nothing holds."""
    for row in on_hand(stock):
        code = row.lot.code
        filled = row.lot.kind is Kind.FILLED
        # lids and freezer boxes are of the house, and a batch takes them
        for_no_batch = row.is_never_eaten and not is_of_the_house(row.lot.what)
        if filled or row.place == SET_ASIDE or for_no_batch:
            continue
        if not holds(stock, code) and not stock.recall(code):
            yield row


def _lots(row: OnHand, stock: Stock) -> Iterable[DayLot]:
    lot, measure = row.lot, row.lot.measure
    name = f"{lot.what[:40]} {printed(lot.code)}"
    if len(stock.places(lot.code)) > 1:
        # as long as it may be with the mark of an open bag behind it
        name = f"{name}, {row.place}"[: LONGEST_NAME - len(OPEN)]
    common = DayLot(
        name=name,
        what=lot.what,
        frozen=cold_of(row.place) is Cold.FREEZER,
        # A day file has no room for the mark of a date that is known from memory.
        use_by=None if row.keeps.mark else row.keeps.until,
    )
    if measure.unit is Unit.PIECES:
        paid = _paid(stock, lot, row.number)
        yield replace(common, count=row.number, paid=paid, frozen=False)
        return
    if not measure.each:
        yield _loose(common, row.number, stock, lot)
        return
    bags, rest = measure.parts(row.number)
    if measure.unit is Unit.MG and rest:
        # how many bags are whole nobody said; all of it is weighed
        bags, rest = 0, row.number
    if rest:  # an open bag goes first: nobody opens another beside it
        of_open = replace(common, name=f"{name}{OPEN}") if bags else common
        yield _loose(of_open, rest, stock, lot)
    if bags:
        yield _in_bags(common, bags, stock, lot)


def _loose(common: DayLot, number: int, stock: Stock, lot: Lot) -> DayLot:
    common = replace(common, paid=_paid(stock, lot, number))
    if lot.measure.unit is Unit.UL:
        return replace(common, volume_m3=float(scooped(number)))
    return replace(common, mass_kg=float(weighed(number)))


def _in_bags(common: DayLot, bags: int, stock: Stock, lot: Lot) -> DayLot:
    """Whole bags, as each was filled: six of 2 lb are 12 lb, to the last digit."""
    each = lot.measure.each
    common = replace(common, bags=bags, paid=_paid(stock, lot, bags * each))
    if lot.measure.unit is Unit.UL:
        bag_m3 = scooped(each)
        return replace(common, volume_m3=float(bags * bag_m3), bag_m3=float(bag_m3))
    bag_kg = weighed(each)
    return replace(common, mass_kg=float(bags * bag_kg), bag_kg=float(bag_kg))


def _paid(stock: Stock, lot: Lot, number: int) -> float | None:
    """Return what so much of a lot cost, to the cent; `None` where nobody said it."""
    found = _SUM.fullmatch(lot.paid)
    came = stock.event(stock.begun(lot.code))
    if found is None or not isinstance(came, Received) or came.number <= 0:
        return None
    whole = Fraction(f"{found['whole']}.{found['cents'] or '00'}")
    return float(round(whole * number / came.number, 2))


def scooped(microlitres: int) -> Fraction:
    """
    Return a volume as it was scooped, where it is within a microlitre of that. [m3].

    A cup is no whole number of microlitres; 946,353 of them were four cups.

    >>> from stillroom.measures import CUP_M3
    >>> scooped(946_353) == 4 * CUP_M3
    True
    """
    kept = Fraction(microlitres, 10**9)
    return _as_said(kept, kitchen_volume(kept), Fraction(1, 10**9))


def weighed(milligrams: int) -> Fraction:
    """
    Return a mass as it was weighed, where it is within a milligram of that. [kg].

    A pound is no whole number of milligrams; 11,339,809 of them were 25 lb. Of what was
    weighed by pounds and by grams the last gram is left off, and less than one over a
    mass in pounds: what is there is never less than is said.

    >>> from stillroom.measures import POUND_KG
    >>> weighed(11_339_809) == 25 * POUND_KG
    True
    >>> weighed(6_804_032) == 15 * POUND_KG, float(weighed(4_957_771))
    (True, 4.957)
    """
    kept = Fraction(milligrams, 10**6)
    said = _as_said(kept, kitchen_mass(kept), Fraction(1, 10**6))
    if said != kept or milligrams < 100 * GRAM_MG or not milligrams % GRAM_MG:
        return said
    fewer = milligrams - milligrams % GRAM_MG
    said = read_quantity(kitchen_mass(kept)).value
    less = kept - said
    return said if 0 <= less < Fraction(1, 1000) else Fraction(fewer, 10**6)


def _as_said(kept: Fraction, kitchen: str, least: Fraction) -> Fraction:
    """Return what the kitchen's words for it come to, where nothing parts the two."""
    if kitchen.startswith("under"):
        return kept
    said = read_quantity(kitchen).value
    return said if abs(said - kept) <= least else kept
