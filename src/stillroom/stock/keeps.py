"""
Until when a lot keeps its quality, as far as somebody publishes it.

A date here is one of quality: nothing is said to be safe before it, nor spoiled after
it. Where nothing is published, and the keeper wrote no date down, that is said.
"""

from __future__ import annotations

import calendar
import datetime as dt
from dataclasses import dataclass
from functools import lru_cache

from stillroom.book.brines import brine_of
from stillroom.book.drying import drying_for, drying_rules
from stillroom.book.freezing_packs import freezing_pack_for
from stillroom.book.keeping import Fact, freezing_of, storage_of
from stillroom.book.procedures import procedure_for
from stillroom.book.produce import fruit_named
from stillroom.book.rendering import rendering_for
from stillroom.book.words import plain
from stillroom.refusal import Refusal, Source
from stillroom.stock.cold_days import cold_days
from stillroom.stock.events import SET_ASIDE, Kind, Lot
from stillroom.stock.for_the_cold import is_for_the_cold
from stillroom.stock.how_cold import Cold, cold_of
from stillroom.stock.no_process_needed import needs_no_process
from stillroom.stock.not_food import is_never_eaten
from stillroom.stock.words import begun

_LIFE = {
    "freezer": ("life in the freezer",),
    "refrigerator": ("life in the refrigerator",),
    "shelf": ("storage life", "best quality"),
}
_OUT_OF_FRUIT = frozenset({"juice", "puree", "pulp", "sauce", "syrup", "cider"})
FROM_MEMORY = "from memory, ask your extension service"
_SPREADS = frozenset({"jelly", "jam", "marmalade", "preserves", "conserve"})


@dataclass(frozen=True, slots=True)
class Keeps:
    """Until when a lot keeps its quality at a place, or why that is not known."""

    until: dt.date | None
    words: str
    source: Source

    @property
    def mark(self) -> str:
        """What stands beside the date wherever it is shown; empty if it was looked up.

        A figure that is known from memory is never shown as if it had been read.
        """
        known = self.until is not None and self.source.how_known == "memory"
        return f" ({FROM_MEMORY})" if known else ""


def keeps(lot: Lot, place: str, *, food: str = "", for_days: bool = False) -> Keeps:
    """
    Return until when ``lot`` keeps its quality at ``place``.

    What is ``for_days`` was put into jars for the cold without a process and is not
    acid: in a refrigerator it goes by the days that are printed for that.

    A date of the lot itself comes first. Of a published range the low end is taken:
    the first of the lots to lose its quality is the one to be used.
    """
    if place == SET_ASIDE:
        said = "set aside: its seal failed, or may have"
        return Keeps(None, said, Source("the seal check of this lot", "keeper"))
    if lot.best_before is not None:
        own = Source("the date that was written down for this lot", "keeper")
        return Keeps(lot.best_before, "best before, as written down", own)
    if is_never_eaten(lot.what):
        named = Source("what it is called", "keeper")
        return Keeps(None, "it is no food, and on no list of what to eat", named)
    cold = cold_of(place)
    days = for_days and cold is Cold.REFRIGERATOR
    fact = cold_days() if days else _fact(lot, cold, food)
    if fact is None:
        none = Source("the book's table of storage and freezing", "looked_up")
        said = f"no {cold} life of {lot.what} is in the book"
        return Keeps(None, said + _in_general(lot, cold), none)
    said = f"{fact.what} {fact.figure}"
    if not lot.day:
        return Keeps(None, f"{said}, but the lot has no date", fact.source)
    return Keeps(_until(begun(lot.day), fact), said, fact.source)


def _until(day: dt.date, fact: Fact) -> dt.date:
    """The low end of its months or days after a day."""
    long = fact.low if fact.low is not None else fact.high
    assert long is not None, fact.of
    if fact.unit == "days":
        return day + dt.timedelta(days=long)
    return add_months(day, int(long))


def _in_general(lot: Lot, cold: Cold) -> str:
    """Add what is printed of frozen food in general: no date follows from it."""
    facts = freezing_of("frozen food")
    if cold is not Cold.FREEZER or isinstance(facts, Refusal):
        return ""
    said = next((f for f in facts if f.text), None)
    if said is None or lot.kind in (Kind.JARS, Kind.LIDS):
        return ""
    known = said.source.how_known.replace("_", " ")
    return f"; of frozen food in general: {said.text} ({said.source}, {known})"


def _fact(lot: Lot, cold: Cold, food: str) -> Fact | None:
    if lot.kind in (Kind.JARS, Kind.LIDS):
        return None
    names = [lot.what]
    if plain(lot.what).endswith(("freezer jam", "freezer jelly")):
        names.append("freezer jam")
    canned = lot.kind is Kind.FILLED and not needs_no_process(
        lot.what, kept_dry=lot.kept_dry
    )
    if canned and cold is Cold.SHELF:
        if is_for_the_cold(lot.what):
            return None
        names = ["jars on the shelf"]
    elif food in _SPREADS and cold is Cold.REFRIGERATOR:
        names.append("jelly and jam")
    is_itself = lot.kind in (Kind.RAW, Kind.HALF_MADE)
    if cold is Cold.FREEZER and is_itself and _is_fruit(lot.what):
        names.append("frozen fruit")
    ask = freezing_of if cold is Cold.FREEZER else storage_of
    for name in names:
        facts = ask(name)
        if isinstance(facts, Refusal):
            continue
        for fact in facts:
            if fact.what in _LIFE[cold] and fact.unit in ("months", "days"):
                return fact
    if cold is Cold.SHELF:
        return _as_dried(lot.what) if not canned else None
    if cold is Cold.FREEZER and (is_itself or lot.what.startswith("frozen ")):
        return _as_packed(lot.what)
    return _as_made(lot.what, cold)


@lru_cache(maxsize=1024)
def _as_dried(what: str) -> Fact | None:
    """
    The life that is printed of dried fruit by its warmth; vegetables have half of it.

    >>> _as_dried("dried apples").figure, _as_dried("dried onions").figure
    ('6 to 12 months', '3 to 6 months')
    """
    words = plain(what).split()
    if "dried" not in words or not needs_no_process(what):
        return None
    fresh = " ".join(word for word in words if word != "dried")
    drying = drying_for(fresh)
    if isinstance(drying, Refusal) and not _is_fruit(fresh):
        return None
    cool, warm = (drying_rules()[f"keeps at {f} °F"] for f in (60, 80))
    life, source = "shelf life, at 80 and at 60 °F,", cool.source
    if isinstance(drying, Refusal) or drying.kind == "fruit":
        return Fact(fresh, life, warm.low, cool.high, "months", "", source)
    half = Source(f"half that of fruit: {source.text}", "computed")
    return Fact(fresh, life, warm.low / 2, cool.high / 2, "months", "", half)


@lru_cache(maxsize=1024)
def _as_made(what: str, cold: Cold) -> Fact | None:
    """The life in the cold that is printed with a brine, or taken for a fat."""
    life = _LIFE["freezer" if cold is Cold.FREEZER else "refrigerator"][0]
    fat = rendering_for(what)
    if not isinstance(fat, Refusal):
        months = fat.months_frozen if cold is Cold.FREEZER else fat.months_cold
        return Fact(what, life, None, months, "months", "", fat.source)
    recipe = procedure_for(what)
    brine = None if isinstance(recipe, Refusal) else brine_of(recipe.id)
    if cold is Cold.FREEZER or brine is None or isinstance(brine, Refusal):
        return None
    if brine.keeps_months is None:
        return None
    low, high = brine.keeps_months
    return Fact(what, life, low, high, "months", "", brine.source)


def _as_packed(what: str) -> Fact | None:
    """The life that is printed of a food with how it is packed for the freezer."""
    pack = freezing_pack_for(what)
    if isinstance(pack, Refusal):
        return None
    low, high = pack.months
    life = _LIFE["freezer"][0]
    return Fact(pack.food, life, low, high, "months", "", pack.months_source)


def of_most_fruit(lot: Lot, place: str) -> Fact | None:
    """
    Return what is printed of most frozen fruit, for its juice or puree in a freezer.

    Of juice itself nothing is printed: it is no date, but something to go by.
    """
    if cold_of(place) is not Cold.FREEZER or lot.kind in (Kind.JARS, Kind.LIDS):
        return None
    words = plain(lot.what).split()
    fruit = " ".join(word for word in words if word not in _OUT_OF_FRUIT)
    if fruit == " ".join(words) or not _is_fruit(fruit):
        return None
    facts = freezing_of("frozen fruit")
    if isinstance(facts, Refusal):
        return None
    return next((f for f in facts if f.what in _LIFE["freezer"]), None)


@lru_cache(maxsize=1024)  # what the book does not know it looks for all over
def _is_fruit(what: str) -> bool:
    """Whether it is the fruit itself: of its juice or puree nothing is printed."""
    if set(plain(what).split()) & _OUT_OF_FRUIT:
        return False
    return not isinstance(fruit_named(what), Refusal)


def add_months(day: dt.date, months: int) -> dt.date:
    """
    Return the same day so many months on, or the last one of a shorter month.

    >>> add_months(dt.date(2026, 1, 31), 1)
    datetime.date(2026, 2, 28)
    """
    years, month = divmod(day.month - 1 + months, 12)
    year, month = day.year + years, month + 1
    return dt.date(year, month, min(day.day, calendar.monthrange(year, month)[1]))
