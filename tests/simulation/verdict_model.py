"""
What must come of a deed as the shelf is now, as a person would say it.

The rules of the plain model; it shares no code with the program.
"""

from __future__ import annotations

import datetime as dt
from typing import TYPE_CHECKING

from tests.simulation.looked_model import LOOKED
from tests.simulation.most_ever_model import most_ever
from tests.simulation.shelf_words import (
    ASIDE,
    COLD,
    EACH,
    INTO_A_MOUTH,
    SHELVES,
    TO_OTHERS,
    Deed,
    Does,
    Verdict,
)
from tests.simulation.unsealed_model import too_late_at
from tests.simulation.warm_juice_model import too_warm_at

if TYPE_CHECKING:
    from tests.simulation.shelf_model import ShelfModel


def verdict_on(shelf: ShelfModel, deed: Deed, now: dt.datetime) -> Verdict:
    """Return what must come of a deed as the shelf is now."""
    if deed.token and deed.token in shelf.tokens:
        return Verdict(Does.AGAIN)
    if deed.kind == "add":
        return Verdict(Does.BOOKS)
    if deed.kind == "mend":
        return _mend(shelf, deed)
    if deed.kind == "made":
        return _made(shelf, deed, now)
    if deed.lot not in shelf.lots:
        return Verdict(Does.NO)
    if deed.kind == "recall":
        everything = {deed.lot, *shelf.children(deed.lot)}
        fresh = [c for c in everything if not shelf.recalled(c)]
        return Verdict(Does.BOOKS, {}) if fresh else Verdict(Does.AGAIN)
    if deed.kind in LOOKED:
        at = min(deed.said_at, now) if deed.said_at else now
        return Verdict(LOOKED[deed.kind](shelf, deed, at), {})
    if deed.kind == "check":
        return _check(shelf, deed, now)
    there, number = shelf.at[deed.lot, deed.place], shelf.number(deed)
    if deed.kind == "count":
        return _count(shelf, deed, there, number)
    if not there or (deed.kind == "move" and deed.to == ASIDE):
        return Verdict(Does.NO)
    if number == 0:
        return Verdict(Does.UNREADABLE)
    if number > there:
        return Verdict(Does.NO)
    if deed.late and _counted_since(shelf, deed):
        return Verdict(Does.NO)
    if deed.kind == "move":
        return _move(shelf, deed, number)
    return _take(shelf, deed, min(deed.said_at, now) if deed.said_at else now)


def _count(shelf: ShelfModel, deed: Deed, there: int, number: int) -> Verdict:
    """What happened after the count was made is no difference from it."""
    key = (deed.lot, deed.place)
    since = sum(
        entry.change.get(key, 0)
        for entry in shelf.booked
        if deed.said_at and entry.tells_of > deed.said_at
    )
    found = number - (there - since)
    if there + found < 0:
        return Verdict(Does.NO)
    left = sum(shelf.here(deed.lot).values()) + found
    if deed.late and not deed.sure and left > most_ever(shelf, deed.lot):
        return Verdict(Does.ASKS)
    return Verdict(Does.BOOKS, {key: found})


def _counted_since(shelf: ShelfModel, deed: Deed) -> bool:
    """Whether a count has seen already what is now said to have happened."""
    assert deed.said_at is not None
    return any(
        entry.tells_of > deed.said_at and entry.deed.place in (deed.place, deed.to)
        for entry in shelf.entries("counted", deed.lot)
    )


def _take(shelf: ShelfModel, deed: Deed, now: dt.datetime) -> Verdict:
    code, way = deed.lot, deed.kind
    stays = way in (*TO_OTHERS, *INTO_A_MOUTH) and shelf.recalled(code)
    # Not processed: a spread of an acid fruit is eaten out of the cold only.
    warm = deed.place not in COLD and shelf.counts_as_unprocessed(code)
    stays |= way in INTO_A_MOUTH and (warm or shelf.held_in_doubt(code))
    stays |= way in INTO_A_MOUTH and deed.place in too_late_at(shelf, code, now)
    mouths = (*TO_OTHERS, *INTO_A_MOUTH)
    stays |= way in mouths and deed.place in too_warm_at(shelf, code, now)
    stays |= way in TO_OTHERS and (shelf.held(code) or deed.place == ASIDE)
    stays |= way in ("eaten", "tasted") and shelf.lots[code].what == "lids"
    if stays:
        return Verdict(Does.NO)
    return Verdict(Does.BOOKS, {(code, deed.place): -shelf.number(deed)})


def _move(shelf: ShelfModel, deed: Deed, number: int) -> Verdict:
    if deed.to == deed.place:
        return Verdict(Does.NO)
    if deed.to in SHELVES and (deed.place == ASIDE or shelf.in_doubt(deed.lot)):
        return Verdict(Does.NO)
    lot = shelf.lots[deed.lot]
    put_up_cold = lot.jars and shelf.made_here(deed.lot) and not lot.canned
    if deed.to in SHELVES and put_up_cold:
        return Verdict(Does.NO)
    return Verdict(
        Does.BOOKS,
        {(deed.lot, deed.place): -number, (deed.lot, deed.to): number},
    )


def _check(shelf: ShelfModel, deed: Deed, now: dt.datetime) -> Verdict:
    code = deed.lot
    if not (shelf.lots[code].jars and shelf.made_here(code)):
        return Verdict(Does.NO)
    if deed.good is None:
        early = deed.seen == "set" and shelf.is_early(code, now)
        books = deed.seen and not early
        return Verdict(Does.BOOKS, {}) if books else Verdict(Does.NO)
    here = shelf.here(code)
    aside = here.pop(ASIDE, 0)
    bad, there = deed.failed + deed.doubtful, sum(here.values())
    if deed.good + bad == there:
        going = bad
    elif aside and deed.good + bad == there + aside:
        going = bad - aside
    else:
        return Verdict(Does.NO)
    before = shelf.entries("checked", code)
    doubtful = before[-1].deed.doubtful if before else 0
    if going < 0 and -going > doubtful:
        return Verdict(Does.NO)
    if not going:
        return Verdict(Does.BOOKS, {})
    # Where it was not said at which place they stood, there must be one only.
    place = deed.place or (next(iter(here)) if len(here) == 1 else "")
    if not place or going > here.get(place, 0):
        return Verdict(Does.NO)
    return Verdict(Does.BOOKS, {(code, place): -going, (code, ASIDE): going})


def _made(shelf: ShelfModel, deed: Deed, now: dt.datetime) -> Verdict:
    for code, number in deed.inputs:
        if code not in shelf.lots:
            return Verdict(Does.NO)
        here = shelf.here(code)
        aside = here.pop(ASIDE, 0)
        asked = number * EACH.get(shelf.lots[code].what, 1)
        if asked > (sum(here.values()) or aside) or shelf.recalled(code):
            return Verdict(Does.NO)
        if shelf.done_again(code, now):
            continue
        if shelf.held_in_doubt(code):
            return Verdict(Does.NO)
        # What keeps least goes first: that on the shelf before that in the cold.
        if shelf.counts_as_unprocessed(code) and set(here or (ASIDE,)) - set(COLD):
            return Verdict(Does.NO)
        warm = sum(n for place, n in here.items() if place not in COLD)
        places = (here if asked > warm else ()) if here else (ASIDE,)
        if too_late_at(shelf, code, now) & set(places):
            return Verdict(Does.NO)
        if too_warm_at(shelf, code, now) & set(here):
            return Verdict(Does.NO)
    return Verdict(Does.BOOKS)


def _mend(shelf: ShelfModel, deed: Deed) -> Verdict:
    if not 1 <= deed.of <= shelf.sequence:
        return Verdict(Does.NO)
    entry = shelf.booked[deed.of - 1]
    if entry.kind == "mended" or entry.undone:
        return Verdict(Does.NO)
    if any(shelf.at[key] - n < 0 for key, n in entry.change.items()):
        return Verdict(Does.NO)
    back = {key: -n for key, n in entry.change.items()}
    return Verdict(Does.BOOKS, back)
