"""Jars that were put up by hand and not at the stove's clocks: how they are booked."""

from __future__ import annotations

import datetime as dt
import re
from dataclasses import replace

from stillroom.in_a_list import all_of
from stillroom.stock.commands import Incoming
from stillroom.stock.due import due_process, is_jar, whole_feet
from stillroom.stock.events import Batch, Kind
from stillroom.stock.how_cold import Cold, cold_of
from stillroom.stock.making import product_kind
from stillroom.stock.no_process_needed import is_canned, was_in_canner
from stillroom.stock.not_food import is_never_eaten
from stillroom.stock.unknown_process import is_poured
from stillroom.stock.words import clean, said_day

_PACKED = re.compile(r"(?i)[\s(,]*\b(?P<pack>hot|raw)[- ]?pack(?:ed)?\b\)?")
"""In a name: "peaches, raw pack"."""
_BOTTLES = frozenset({"bottle", "jug", "tin"})


def thing_made(thing: Incoming, day: dt.date, note: str = "") -> Incoming:
    """Return what a sentence says, as made here on a day: jars, or half-made."""
    kind = thing.kind
    if kind is not Kind.FILLED:
        kind = Kind.FILLED if _is_closed(thing) else Kind.HALF_MADE
    return replace(
        thing,
        kind=kind,
        day=day.isoformat(),
        supplier="",
        paid="",
        note=note or thing.note,
    )


def no_part_of_a_making(thing: Incoming, day: dt.date) -> str:
    """
    Say what of a sentence does not go with a thing made here on a day; empty if all.

    What is said of it is not left out in silence: jars booked as made today have hours
    that they never had.
    """
    if thing.day and not day.isoformat().startswith(thing.day):
        return (
            f"the sentence has {said_day(thing.day)}, and the day it was made is "
            f"{said_day(day.isoformat())}: say one of them, with day, month and year"
        )
    if (packed := _PACKED.search(thing.what)) is not None:
        return (
            f"{packed[0].strip(' ,()')!r} stands in the name, and the book has none "
            f"such as {thing.what[:60]!r}: name the food alone, and its pack apart, "
            f"{packed['pack'].lower()}"
        )
    bought = (("from", thing.supplier), ("paid", thing.paid))
    if said := all_of(f"{word} {words}" for word, words in bought if words):
        return (
            f"the sentence has {said!r}, and what is made here is from nobody: what "
            "came in filled is booked with stillroom stock add, and what went into "
            "jars of your own with --from LOT=QUANTITY"
        )
    return ""


def batch_put_up(
    thing: Incoming,
    *,
    process_min: int | None,
    load: int | None = None,
    canner: str,
    elevation_ft: float | None,
    pack: str | None = None,
    gauge_psi: float | None = None,
) -> Batch:
    """
    Return how it was put up, with the process that is published for it there.

    Jars that had their process have seals to look at, wherever they stand. With less
    of it they are kept cold by that, and never go on a shelf.
    """
    due = due_process(
        thing.what,
        thing.measure.part,
        elevation_ft=elevation_ft,
        canner=canner,
        pack=pack,
        gauge_psi=gauge_psi,
    )
    # too low a gauge makes no cold goods of them: it holds them, by its own name
    whole = due.minutes is not None and (process_min or 0) >= due.minutes
    canned = thing.kind is Kind.FILLED and (
        whole
        or _was_in_canner_on_shelf(thing, load, process_min)
        or is_canned(
            thing.what, thing.measure.part, thing.place, kept_dry=thing.kept_dry
        )
    )
    return Batch(
        food=product_kind(thing.what),
        load=load,
        canner=clean(canner, "canner") if canned else "",
        elevation_ft=None if elevation_ft is None else whole_feet(elevation_ft),
        pack=(pack or "") if canned else "",
        process_min=process_min or None,
        due_min=due.minutes if canned else None,
        due_source=due.words if canned else "",
        gauge_psi=gauge_psi if canned else None,
        due_psi=due.psi if canned else None,
        canned=canned,
    )


def _is_closed(thing: Incoming) -> bool:
    """Whether it is in jars; broth in bottles is no better off than in jars."""
    part = thing.measure.part
    return is_jar(part) or (part in _BOTTLES and is_poured(thing.what))


def _was_in_canner_on_shelf(
    thing: Incoming, load: int | None, process_min: int | None
) -> bool:
    """Whether jars of a dry good's name had a process all the same: rice in water."""
    on_shelf = is_jar(thing.measure.part) and cold_of(thing.place) is Cold.SHELF
    is_food = not is_never_eaten(thing.what) and not thing.kept_dry
    return on_shelf and is_food and was_in_canner(load, process_min)
