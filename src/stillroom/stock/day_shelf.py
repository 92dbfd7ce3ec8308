"""What is on hand, as the shelf of a day that is to be planned."""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction

from stillroom.measures import kitchen_volume, read_quantity
from stillroom.planning.day import Lot as DayLot
from stillroom.stock.amounts import Unit
from stillroom.stock.events import SET_ASIDE, Kind
from stillroom.stock.fold import Stock
from stillroom.stock.how_cold import Cold, cold_of
from stillroom.stock.lotcode import printed
from stillroom.stock.on_hand import OnHand, on_hand
from stillroom.stock.unknown_process import is_process_unknown

LONGEST_NAME = 80
"""A day file takes no longer name."""


def day_shelf(stock: Stock) -> tuple[DayLot, ...]:
    """
    Return what a day's batches may draw on, what keeps least first.

    Left out are jars that are filled already, broth in bottles of which nobody said
    how it was put up, what is set aside, and what was recalled.
    Bags are whole ones; what is left of an open bag is a lot of its own.
    """
    return tuple(lot for row in _rows(stock) for lot in _lots(row, stock))


def _rows(stock: Stock) -> Iterable[OnHand]:
    for row in on_hand(stock):
        filled = row.lot.kind is Kind.FILLED or is_process_unknown(stock, row.lot.code)
        if not filled and row.place != SET_ASIDE and not stock.recall(row.lot.code):
            yield row


def _lots(row: OnHand, stock: Stock) -> Iterable[DayLot]:
    lot, measure = row.lot, row.lot.measure
    frozen = cold_of(row.place) is Cold.FREEZER
    name = f"{lot.what[:40]} {printed(lot.code)}"
    if len(stock.places(lot.code)) > 1:
        name = f"{name}, {row.place}"[:LONGEST_NAME]
    # A day file has no room for the mark of a date that is known from memory.
    use_by = None if row.keeps.mark else row.keeps.until
    if measure.unit is Unit.PIECES:
        yield DayLot(name=name, what=lot.what, count=row.number, use_by=use_by)
        return
    bags, rest = divmod(row.number, measure.each) if measure.each else (0, row.number)
    if bags and measure.unit is Unit.UL:
        bag_m3 = scooped(measure.each)
        yield DayLot(
            name=name,
            what=lot.what,
            volume_m3=float(bags * bag_m3),
            bags=bags,
            bag_m3=float(bag_m3),
            frozen=frozen,
            use_by=use_by,
        )
        name = f"{name}, open"[:LONGEST_NAME]
    else:
        rest = row.number
    if not rest:
        return
    if measure.unit is Unit.UL:
        volume = float(scooped(rest))
        yield DayLot(
            name=name, what=lot.what, volume_m3=volume, frozen=frozen, use_by=use_by
        )
    else:
        mass = float(Fraction(rest, 10**6))
        yield DayLot(
            name=name, what=lot.what, mass_kg=mass, frozen=frozen, use_by=use_by
        )


def scooped(microlitres: int) -> Fraction:
    """
    Return a volume as it was scooped, where it is within a microlitre of that. [m3].

    A cup is no whole number of microlitres; 946,353 of them were four cups.

    >>> from stillroom.measures import CUP_M3
    >>> scooped(946_353) == 4 * CUP_M3
    True
    """
    kept = Fraction(microlitres, 10**9)
    kitchen = kitchen_volume(kept)
    if kitchen.startswith("under"):
        return kept
    said = read_quantity(kitchen).value
    return said if abs(said - kept) <= Fraction(1, 10**9) else kept
