"""
Jars that had no process, and loads whose process is in doubt: what is published.

A lid that goes down by itself is not a process. Nothing here says that such a jar may
stand on a shelf, be labelled, or go to anybody else.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Collection
from dataclasses import replace

from stillroom.book.foods_said import FOODS
from stillroom.book.trouble import Trouble, troubles_for
from stillroom.in_a_list import all_of
from stillroom.refusal import Refusal
from stillroom.stock.choices import Choices
from stillroom.stock.cold_days import over_its_days
from stillroom.stock.discarding import (
    REDO_WITHIN_H,
    discard_words,
    is_put_up_acid,
)
from stillroom.stock.events import Doubt
from stillroom.stock.fold import Stock
from stillroom.stock.how_cold import Cold, cold_of
from stillroom.stock.how_it_is_booked import if_it_was_processed
from stillroom.stock.jars_out import filled_at, hours_since, hours_since_filled
from stillroom.stock.kept_cold import (
    LOW_ACID,
    came_cold_late,
    cold_food,
    is_cold_food,
    kept_cold,
    may_be_eaten_cold,
)
from stillroom.stock.lacking import how_it_is_said
from stillroom.stock.lacks import (
    Lack,
    counts_as_unprocessed,
    is_in_doubt,
    lack_of,
    lack_words,
)
from stillroom.stock.lotcode import printed
from stillroom.stock.making import (
    CHECK_WITHIN_H,
    held_words,
    may_be_dry,
    whether_dry,
)
from stillroom.stock.of_held import held_inputs
from stillroom.stock.unknown_process import is_process_unknown, process_unknown
from stillroom.stock.warm import stood_warm

NEBRASKA = "Univ. of Nebraska-Lincoln Extension"
_ACID = "acid"
"""Acid food that is kept cold by nothing published: its reason is another."""
_SIGN = {Doubt.WRONG_TIME: "wrong time", Doubt.WATER_LOW: "water below"}
UNPROCESSED_SOURCE = (
    "Univ. of Nebraska-Lincoln Extension; reply of an extension service on full-sugar "
    "jam; USDA Complete Guide Guide 1"
)


def is_asked_if_dry(stock: Stock, code: str) -> bool:
    """Whether jars without a process may be dry goods, of which nobody said so."""
    made = stock.made(code)
    if made is None or lack_of(stock, code) is not Lack.NONE:
        return False
    return may_be_dry(stock.lots[code], made.batch) and not _is_kept_cold(stock, code)


def not_on_a_shelf(stock: Stock, code: str, place: str, at: dt.datetime) -> Refusal:
    """Say of jars at a place that count as unprocessed, or are on hold: no shelf."""
    lot = stock.lots[code]
    if inputs := held_inputs(stock, code):
        return _of_held(stock, code, tuple(of for of, _ in inputs))
    if not counts_as_unprocessed(stock, code):
        return _on_hold(stock, code)
    if is_asked_if_dry(stock, code):
        return whether_dry(lot)
    hours = _hours_out_of_the_cold(stock, code, [place], at)
    may_stay = kept_cold(stock, code, hours) != LOW_ACID
    cold = (
        "into the refrigerator, or the freezer with headspace,"
        if cold_of(place) is Cold.SHELF
        else "leave it in the cold,"
    )
    return Refusal(
        f"{lot.what} {printed(code)} {lack_words(stock, code)}: sealed is not "
        "processed",
        instead=f"{cold} for your own use, or discard it; see its hours with stillroom "
        "stock after" + if_it_was_processed(stock, code)
        if may_stay or is_cold_food(stock, code, [place], at)
        else discard_words(stock, code, at),
        source=UNPROCESSED_SOURCE,
    )


def may_be_eaten(
    stock: Stock, code: str, place: str, at: dt.datetime
) -> Refusal | None:
    """
    Return why jars in doubt may not be eaten from a place; `None` where they may.

    Of what counts as unprocessed only a full-sugar spread of an acid fruit, rendered
    fat and dried meat are ever kept, and only in the cold; and, for days, what is not
    acid and was in the cold within 2 h. A load on hold is eaten from nowhere while it
    is.
    """
    if is_process_unknown(stock, code):
        return process_unknown(stock, code)
    lot, lack = stock.lots[code], lack_of(stock, code)
    warm = stood_warm(stock, code)
    if warm is not None and place in warm.places:
        cold = _is_kept_cold(stock, code)
        if cold and (no := _cold_too_late(stock, code, place, warm.since, at)):
            return no
        if not cold or cold_of(place) is Cold.SHELF:
            return Refusal(
                f"{lot.what} {printed(code)} is on hold: {warm.words}",
                instead="into the refrigerator, or the freezer with headspace, for "
                "your own use, or discard it"
                if cold
                else discard_words(stock, code, at),
                source=UNPROCESSED_SOURCE,
            )
    if counts_as_unprocessed(stock, code):
        if is_asked_if_dry(stock, code):
            return whether_dry(lot)
        cold_at_once = is_cold_food(stock, code, [place], at)
        if cold_at_once and (no := over_its_days(stock, code, place, at)):
            return no
        if not _is_kept_cold(stock, code) and not cold_at_once:
            return Refusal(
                f"{lot.what} {printed(code)} {lack_words(stock, code)}, and "
                + (
                    "no source here says that it may be eaten, acid as it is"
                    if is_put_up_acid(stock, code)
                    else "is not known to be acid"
                ),
                instead=discard_words(stock, code, at),
                source=UNPROCESSED_SOURCE,
            )
        if cold_of(place) is Cold.SHELF:
            return not_on_a_shelf(stock, code, place, at)
        made = stock.made(code)
        assert made is not None
        if no := _cold_too_late(
            stock, code, place, filled_at(made, lot, at.tzinfo), at
        ):
            return no
    if inputs := held_inputs(stock, code):
        return _of_held(stock, code, tuple(of for of, _ in inputs))
    if is_in_doubt(stock, code) and stock.held(code):
        return _on_hold(stock, code)
    is_cold = cold_of(place) is not Cold.SHELF
    if lack is Lack.UNKNOWN and is_cold and _is_kept_cold(stock, code):
        return None  # fat that was boiled in water all the same
    if lack is Lack.UNKNOWN:
        made = stock.made(code)
        why = made.batch.due_source if made is not None else ""
        return Refusal(
            f"{lot.what} {printed(code)} {lack_words(stock, code)}: {why}",
            instead=f"leave it closed; {how_it_is_said(stock, code)}. What has no "
            "published process is discarded untasted",
            source=UNPROCESSED_SOURCE,
        )
    return None


def _cold_too_late(
    stock: Stock, code: str, place: str, since: dt.datetime, at: dt.datetime
) -> Refusal | None:
    """
    Return why a spread without a process is not eaten; `None` where it may be.

    The milder reply ends after a day: carried into the cold later it is what it was on
    its shelf.
    """
    deadline = since + dt.timedelta(hours=CHECK_WITHIN_H)
    if at <= deadline or kept_cold(stock, code) != "jam":
        return None
    if cold_of(place) is not Cold.SHELF and place not in came_cold_late(
        stock, code, deadline
    ):
        return None
    return Refusal(
        f"those jars of {stock.lots[code].what} {printed(code)} at {place} had no "
        f"whole process, and were not in the cold within {CHECK_WITHIN_H:g} h",
        instead=f"{discard_words(stock, code, at)}. Only if they were in the cold by "
        "then, and it was booked late, whoever put them there books when: the late "
        "entry is taken back with stillroom stock mend, then they are moved with their "
        f"own day and hour (stillroom stock move {printed(code)} PLACE --on DAY "
        "--clock TIME)",
        source=UNPROCESSED_SOURCE,
    )


def _hours_out_of_the_cold(
    stock: Stock, code: str, places: Collection[str], at: dt.datetime
) -> float | None:
    """
    Return the hours since jars at some places were filled, as a reply counts them. [h]

    `None` where all of them came into the cold in time: they may stay there.
    """
    made, lot = stock.made(code), stock.lots[code]
    if made is None:
        return None
    if all(cold_of(place) is not Cold.SHELF for place in places):
        filled = filled_at(made, lot, at.tzinfo)
        deadline = filled + dt.timedelta(hours=CHECK_WITHIN_H)
        if not came_cold_late(stock, code, deadline) & set(places):
            return None
    return hours_since_filled(made, lot, at)


def choices_for_warm(stock: Stock, code: str, at: dt.datetime) -> Choices | Refusal:
    """
    Return the published replies on jars that were to be kept cold and were not.

    They are those on jars without a process, their hours counted from the shelf on.
    """
    warm, made = stood_warm(stock, code), stock.made(code)
    assert warm is not None
    assert made is not None
    hours = max(0.0, (at - warm.since).total_seconds() / 3600)
    food = kept_cold(stock, code, hours)
    if food == LOW_ACID:  # its two hours are those of its filling
        hours = hours_since_filled(made, stock.lots[code], at)
    found = troubles_for("never processed", hours=hours, food=food)
    return _choices(found, hours, at)


def may_be_done_again(stock: Stock, code: str, at: dt.datetime) -> bool:
    """
    Whether jars whose process was wrong or short may be put up anew at a moment.

    Within the hours of a wrong process they are opened and become a new lot; later,
    and where they never saw a canner, they do not. Food out of an oven and the like,
    or low-acid food out of boiling water, has the same hours, from when it was filled.
    """
    made, lack = stock.made(code), lack_of(stock, code)
    if made is None or not made.batch.canned or not is_in_doubt(stock, code):
        return False
    if lack is Lack.REFUSED:
        return hours_since_filled(made, stock.lots[code], at) <= REDO_WITHIN_H
    if lack not in (None, Lack.SHORT, Lack.LOW):
        return False
    return hours_since_process(stock, code, at) <= REDO_WITHIN_H


def hours_since_process(stock: Stock, code: str, at: dt.datetime) -> float:
    """Return the hours since the process of a lot that was made here ended. [h]"""
    late, made = stock.processed(code), stock.made(code)
    assert made is not None
    if late is not None:
        return max(0.0, (at - late.ended).total_seconds() / 3600)
    return hours_since(made, stock.lots[code], at)


def _as(stock: Stock, code: str, hours: float | None) -> str:
    """Return as what food jars out of a canner are asked about, at so many hours."""
    food = kept_cold(stock, code, hours)
    return _ACID if food == LOW_ACID and is_put_up_acid(stock, code) else food


def _is_kept_cold(stock: Stock, code: str) -> bool:
    return kept_cold(stock, code) != LOW_ACID


def _of_held(stock: Stock, code: str, inputs: tuple[str, ...]) -> Refusal:
    lot = stock.lots[code]
    out_of = all_of(f"{stock.lots[of].what} {printed(of)}" for of in inputs)
    return Refusal(
        f"{lot.what} {printed(code)} was made out of {out_of}, put on hold since",
        instead="do with it as with those jars, whose choices are in stillroom stock "
        "after; where they are discarded, discard it untasted too. A hold that was a "
        "mistake is taken back with stillroom stock mend",
        source=NEBRASKA,
    )


def _on_hold(stock: Stock, code: str) -> Refusal:
    held = "; ".join(held_words(event) for event in stock.held(code))
    return Refusal(
        f"{stock.lots[code].what} {printed(code)} is on hold: {held}",
        instead="keep it cold and closed, whatever its seals and its set say: its "
        "choices and their hours are in stillroom stock after; a hold that was a "
        "mistake is taken back with stillroom stock mend",
        source=NEBRASKA,
    )


def choices_for_unprocessed(
    stock: Stock, code: str, at: dt.datetime
) -> Choices | Refusal:
    """
    Return the published replies on jars that count as never processed.

    A process that was too short may be done again as long as a wrong one may; after
    that its jars are what they were without it.
    """
    made, lot = stock.made(code), stock.lots[code]
    if made is None:
        return _not_made_here(lot.what)
    is_short = lack_of(stock, code) is not Lack.REFUSED
    if is_short and may_be_done_again(stock, code, at):
        hours = hours_since_process(stock, code, at)
        return choices_after(Doubt.WRONG_TIME, hours, at, food=made.batch.food)
    hours = hours_since_filled(made, lot, at)
    places = tuple(stock.places(code))
    if hours > REDO_WITHIN_H and may_be_eaten_cold(stock, code, places, at):
        return cold_food(stock, code)
    counted = _hours_out_of_the_cold(stock, code, places, at)
    food = _as(stock, code, counted)
    found = troubles_for("never processed", hours=hours, food=food)
    choices = _choices(found, hours, at)
    if isinstance(choices, Refusal) or made.batch.filled_at or made.batch.out_at:
        return choices
    return replace(choices, counted_from="when it was booked")


def choices_for_doubt(
    stock: Stock, code: str, doubt: Doubt, at: dt.datetime
) -> Choices | Refusal:
    """Return what is published for a load whose process was wrong, by its hours."""
    made, lot = stock.made(code), stock.lots[code]
    if made is None:
        return _not_made_here(lot.what)
    return choices_after(doubt, hours_since(made, lot, at), at, food=made.batch.food)


def choices_after(
    doubt: Doubt, hours: float, at: dt.datetime, *, food: str = ""
) -> Choices | Refusal:
    """Return what is published for a wrong process, so many hours after it."""
    late = hours > REDO_WITHIN_H
    # After its hours low water is what it stands for: a wrong process.
    sign = _SIGN[Doubt.WRONG_TIME] if late else _SIGN[doubt]
    known = food if food in FOODS else None
    return _choices(troubles_for(sign, hours=hours, food=known), hours, at)


def _choices(
    found: tuple[Trouble, ...] | Refusal, hours: float, at: dt.datetime
) -> Choices | Refusal:
    if isinstance(found, Refusal):
        return found
    ends = [t.within_h for t in found if t.within_h is not None]
    until = at + dt.timedelta(hours=min(ends) - hours) if ends else None
    return Choices(hours, until, found)


def _not_made_here(what: str) -> Refusal:
    return Refusal(
        f"{what} was not made here, so its hours are not known",
        instead="discard a jar whose process is not known, untasted",
        source="USDA Complete Guide Guide 1; Univ. of Nebraska-Lincoln Extension",
    )
