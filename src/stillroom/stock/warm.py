"""
Jars that were put up to be kept cold, and stood on a shelf all the same. Pure.

Nobody may book that any more; older entries have it, and places that are read as cold
no longer. What the entries say decides, not when they were written.
"""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass

from stillroom.stock.events import SET_ASIDE, Counted, Kind, Lot, Moved
from stillroom.stock.fold import Stock
from stillroom.stock.how_cold import not_if_unsure
from stillroom.stock.lotcode import printed
from stillroom.stock.no_process_needed import is_canned


@dataclass(frozen=True, slots=True, kw_only=True)
class Warm:
    """Since when jars without a whole process stand where one is due, and where."""

    place: str
    entry: int
    """Number of the entry that brought the first of them there."""
    since: dt.datetime
    places: frozenset[str]
    """Where they are, or may be among others."""
    code: str
    """The lot, as it is printed."""

    @property
    def words(self) -> str:
        """What stands in a hold."""
        if not_if_unsure(self.place) is not None:
            return (
                f"it was put up to be kept cold, and entry {self.entry} has it at "
                f"{self.place}, which may be as cold as a refrigerator or may not: if "
                "it was, all the while, whoever knows it says so with stillroom stock "
                f"cold {self.code}; if it was not, see what may be done with stillroom "
                "stock after"
            )
        return (
            f"it was put up to be kept cold, and entry {self.entry} has it at "
            f"{self.place}: without a whole process no seal lets it stand there; if "
            f"that was a mistake, take entry {self.entry} back with stillroom stock "
            "mend, else see what may be done with stillroom stock after"
        )


def stood_warm(stock: Stock, code: str) -> Warm | None:
    """
    Return where jars stood that were to be kept cold; `None` if all are away.

    A place that may be cold or not counts as warm until somebody says which it was.
    """
    made, lot = stock.made(code), stock.lots[code]
    if made is None or lot.kind is not Kind.FILLED or made.batch.canned:
        return None
    first: tuple[str, int, dt.datetime] | None = None
    places: set[str] = set()
    cold = stock.said_cold(code)
    if made.place not in cold and _is_due_at(lot, made.place):
        places.add(made.place)
        first = (made.place, stock.begun(code), made.occurred_at)
    for number, event in stock.about(code):
        if number not in stock:
            continue
        to = ""
        match event:
            case Moved(parts=parts, to=there) if any(p.lot == code for p in parts):
                came = any(p.lot == code and p.place in places for p in parts)
                is_due = there not in cold and _is_due_at(lot, there)
                to = there if came or is_due else ""
            case Counted(lot=of, place=there, number=counted) if of == code and counted:
                is_due = there not in cold and _is_due_at(lot, there)
                to = there if is_due else ""
            case _:
                pass
        if to:
            places.add(to)
            first = first or (to, number, event.occurred_at)
    here = frozenset(p for p in places if stock.balance(code, p) > 0)
    if first is None or not here:
        return None
    place, entry, since = first
    return Warm(place=place, entry=entry, since=since, places=here, code=printed(code))


def doubtful_places(stock: Stock, code: str) -> tuple[str, ...]:
    """Return where a lot was that may be cold or not, and nobody said which yet."""
    made = stock.made(code)
    if made is None:
        return ()
    was = [made.place]
    for number, event in stock.about(code):
        if number not in stock:
            continue
        match event:
            case Moved(parts=parts, to=to) if any(p.lot == code for p in parts):
                was.append(to)
            case Counted(lot=of, place=place, number=n) if of == code and n:
                was.append(place)
            case _:
                pass
    cold = stock.said_cold(code)
    unsure = (p for p in was if p not in cold and not_if_unsure(p) is not None)
    return tuple(dict.fromkeys(unsure))


def _is_due_at(lot: Lot, place: str) -> bool:
    if place == SET_ASIDE:
        return False
    return is_canned(lot.what, lot.measure.part, place, kept_dry=lot.kept_dry)
