"""
What the process of a lot lacks, by the record: it had none, too little, or no such one.

A process that was too short is none, and so is one that nobody publishes for a food
that is not acid. Where it is not known what is due, such food waits until it is.
"""

from __future__ import annotations

import datetime as dt
from enum import StrEnum

from stillroom import measures
from stillroom.book.acid_foods import (
    is_known_acid,
    is_known_low_acid,
    least_minutes,
)
from stillroom.book.names import canner_named
from stillroom.book.never import never_a_process, never_ways
from stillroom.book.processes import METHODS, Process
from stillroom.book.words import holds, tokens
from stillroom.planning.daytime import said_minutes
from stillroom.refusal import Refusal
from stillroom.stock.due import may_be_due
from stillroom.stock.events import GaugeSaid, Kind
from stillroom.stock.fold import Stock
from stillroom.stock.gauge import is_too_low, psi_words
from stillroom.stock.of_held import held_inputs
from stillroom.stock.unknown_process import is_process_unknown
from stillroom.stock.warm import stood_warm


class Lack(StrEnum):
    """What was wrong with a process, by its minutes, its pressure and its canner."""

    NONE = "none"
    """It had no process; a lid that went down by itself is none."""
    SHORT = "short"
    """It had fewer minutes than are published."""
    LOW = "low pressure"
    """Its gauge read less than is published at its height."""
    REFUSED = "refused"
    """
    It was in an oven, a dishwasher or the like; or it is low-acid, and was boiled in
    water; or the table of it has no such jar, canner or height. No minutes make that a
    process.
    """
    LATE = "late"
    """It was begun too long after the jars were filled."""
    UNKNOWN = "unknown"
    """It is not known to be acid, and how many minutes are due is not known."""


COUNTS_AS_NONE = frozenset({Lack.NONE, Lack.SHORT, Lack.LOW, Lack.REFUSED, Lack.LATE})
BEGUN_WITHIN_MIN = 120
"""Filled jars are no pantry stock to be finished tomorrow: a process that was wrong is
given anew within 2 h, and one that was not given at all is no better; a test holds it
to the book. The 24 h of jars that did not seal are of jars that had their process.
[min]"""


def process_given_min(stock: Stock, code: str) -> int | None:
    """
    Return the process that a lot had; one that was typed in late counts. [min].

    `None` where it had none, or was not made here.
    """
    made, late = stock.made(code), stock.processed(code)
    if late is not None:
        return late.minutes
    return made.batch.process_min if made is not None else None


def gauge_read_psi(stock: Stock, code: str) -> float | None:
    """Return what the gauge of its process read; `None` where nobody said. [psi]."""
    made, late = stock.made(code), stock.processed(code)
    booked = made.batch.gauge_psi if made is not None else None
    if late is not None:
        booked = late.gauge_psi
    said = _gauge_said(stock, code)
    return said.gauge_psi if booked is None and said is not None else booked


def gauge_due_psi(stock: Stock, code: str) -> float | None:
    """Return the pressure that is published for it, as was booked. [psi]."""
    made, late = stock.made(code), stock.processed(code)
    booked = made.batch.due_psi if made is not None else None
    if late is not None and late.due_psi is not None:
        booked = late.due_psi
    said = _gauge_said(stock, code)
    return said.due_psi if booked is None and said is not None else booked


def _gauge_said(stock: Stock, code: str) -> GaugeSaid | None:
    """Return what was said later of the gauge of the process that a lot has now."""
    said, late = stock.gauge_said(code), stock.processed(code)
    if said is None or (late is not None and said.occurred_at < late.occurred_at):
        return None
    return said


def lack_of(stock: Stock, code: str) -> Lack | None:
    """
    Return what the process of jars that were to keep by it lacks.

    `None` where it was whole, where the food is acid and what is due is not known, and
    of what was not to keep by a process.
    """
    made, lot = stock.made(code), stock.lots[code]
    if made is None or lot.kind is not Kind.FILLED or not made.batch.canned:
        return None
    given, due = process_given_min(stock, code), made.batch.due_min
    if not given:
        return Lack.NONE
    if not _is_process(stock, code):
        return Lack.REFUSED
    if due is not None:
        if given < due:
            return Lack.SHORT
        if is_too_low(gauge_read_psi(stock, code), gauge_due_psi(stock, code)):
            return Lack.LOW
    if _stood_min(stock, code) > BEGUN_WITHIN_MIN:
        return Lack.LATE
    if due is not None:
        return None
    if is_known_acid(lot.what):
        rows = _may_be_due(stock, code)
        if rows == ():
            return Lack.REFUSED
        least = (
            min(row.minutes for row in rows) if rows else least_minutes(lot.what) or 0
        )
        boiled = _is_no_pressure(canner_of(stock, code))
        return Lack.SHORT if boiled and given < least else None
    if is_known_low_acid(lot.what) and _is_no_pressure(canner_of(stock, code)):
        return Lack.REFUSED
    return Lack.UNKNOWN


def _may_be_due(stock: Stock, code: str) -> tuple[Process, ...] | None:
    """Return the processes of which one may be due, with what was said of it."""
    made, lot = stock.made(code), stock.lots[code]
    assert made is not None
    return may_be_due(
        lot.what,
        lot.measure.part,
        canner=canner_of(stock, code),
        pack=made.batch.pack,
        elevation_ft=made.batch.elevation_ft,
    )


def _is_never_published(stock: Stock, code: str) -> bool:
    """Whether the table of acid food has no such jar, canner or height as it had."""
    made = stock.made(code)
    if made is None or made.batch.due_min is not None:
        return False
    return is_known_acid(stock.lots[code].what) and _may_be_due(stock, code) == ()


def _put_up_so(stock: Stock, code: str) -> str:
    """Say in which jars, and in which pack and where, as far as it was said."""
    made, jar = stock.made(code), stock.lots[code].measure.part
    pack = made.batch.pack if made is not None else ""
    height_ft = made.batch.elevation_ft if made is not None else None
    where = "" if height_ft is None else f", at {measures.height(height_ft)}"
    return f", in {jar} jars{f', {pack} pack' if pack else ''}{where}"


def _stood_min(stock: Stock, code: str) -> int:
    """
    Return how long jars stood from their filling to the process that was whole. [min]

    They are carried to the canner within minutes of their closing, by any plan: who
    tapped that long before is asked at the stove before the clock starts. In entries of
    before nobody was asked, and it counts only where the boil or the pressure was lost.
    """
    made = stock.made(code)
    if made is None or stock.processed(code) is not None:
        return 0
    batch = made.batch
    if batch.stood_min is not None:
        return batch.stood_min
    if not (batch.filled_at and batch.process_began):
        return 0
    if batch.run and not batch.times_lost:
        return 0
    a, b = (
        60 * clock.hour + clock.minute
        for clock in map(dt.time.fromisoformat, (batch.filled_at, batch.process_began))
    )
    return (b - a) % (24 * 60)


def _is_process(stock: Stock, code: str) -> bool:
    """
    Whether that was a canner at all, and one whose minutes are those that are due.

    A day that was planned has canners of the book by names of the keeper's own. One
    that was typed in late has its own: boiling water is none for low-acid food,
    whatever was due in the canner that it was booked with.
    """
    made, late = stock.made(code), stock.processed(code)
    assert made is not None
    typed = late.canner if late is not None else ""
    if typed and canner_named(typed) == "boiling-water":
        if canner_named(made.batch.canner or "boiling-water") in METHODS[1:]:
            return False  # the minutes that are due are those under pressure
        return not is_known_low_acid(stock.lots[code].what)
    by_hand = typed or ("" if made.batch.run else made.batch.canner)
    return never_a_process(by_hand) is None


def canner_of(stock: Stock, code: str) -> str:
    """Return what a lot was processed in, as was said last."""
    made, late = stock.made(code), stock.processed(code)
    booked = made.batch.canner if made is not None else ""
    return (late.canner if late is not None else "") or booked


def _is_no_pressure(canner: str) -> bool:
    """
    Whether it is none that low-acid food is processed in, by its name.

    A pressure canner of which nobody said which gauge it has, and a name of the
    keeper's own, may be one: then it is not known what was due.
    """
    if canner_named(canner or "boiling-water") == "boiling-water":
        return True
    words = tokens(canner)
    return any(holds(words, p) for never in never_ways() for p in never.phrases)


def is_unprocessed(stock: Stock, code: str) -> bool:
    """Whether jars that were to keep by a process had none, as the record has it."""
    return lack_of(stock, code) is Lack.NONE


def counts_as_unprocessed(stock: Stock, code: str) -> bool:
    """
    Whether jars had no process, or one that counts as none.

    One that was too short does, whether it was booked with the lot or typed in late:
    what was said of the jars before that, their choices and the hours of those, stays.
    """
    return lack_of(stock, code) in COUNTS_AS_NONE


def is_due_unknown(stock: Stock, code: str) -> bool:
    """Whether jars had a process, and what is published for them is not known."""
    made, lot = stock.made(code), stock.lots[code]
    if made is None or lot.kind is not Kind.FILLED or not made.batch.canned:
        return False
    return bool(process_given_min(stock, code)) and made.batch.due_min is None


def is_in_doubt(stock: Stock, code: str) -> bool:
    """
    Whether a process was wrong, short or missing: such jars are no pantry stock.

    So are jars that came in, may be low-acid and of which nobody said how they were put
    up; jars that were put up cold and stood on a shelf, and what was made out of
    jars that were put on hold since. A load on hold is in doubt
    whatever its lids and its minutes say. Seals or a set that nobody has looked at, or
    a soft set, put no process in doubt.
    """
    made = stock.made(code)
    if made is None:
        return is_process_unknown(stock, code)
    if held_inputs(stock, code):
        return True
    if not made.batch.canned:
        return stood_warm(stock, code) is not None
    return lack_of(stock, code) is not None or bool(stock.held(code))


def lack_words(stock: Stock, code: str) -> str:
    """Say what process jars had whose process lacks something: none, or which."""
    given = process_given_min(stock, code)
    match lack_of(stock, code):
        case Lack.SHORT:
            return f"had {given} min, too short a process, which counts as none"
        case Lack.LOW:
            made = stock.made(code)
            height = made.batch.elevation_ft if made is not None else None
            where = "" if height is None else f" at {measures.height(height)}"
            return (
                f"had {given} min{psi_words(gauge_read_psi(stock, code))}, and "
                f"{gauge_due_psi(stock, code):g} psi is published for it{where}: too "
                "low a pressure, which counts as none"
            )
        case Lack.LATE:
            stood = said_minutes(_stood_min(stock, code))
            within = said_minutes(BEGUN_WITHIN_MIN)
            return (
                f"had {given} min, begun {stood} after it was filled: within {within} "
                "is the limit, so it counts as none"
            )
        case Lack.REFUSED:
            canner = canner_of(stock, code) or "boiling-water"
            if (never := never_a_process(canner)) is not None:
                return (
                    f"had {given} min by {canner}, which is no process ({never.reason})"
                )
            named = canner_named(canner)
            kind = canner if isinstance(named, Refusal) else f"{named} canner"
            made = stock.made(code)
            if _is_never_published(stock, code):
                return (
                    f"had {given} min in a {kind}{_put_up_so(stock, code)}; no such "
                    "process is published for it, so it counts as none"
                )
            if made is not None and canner_named(made.batch.canner) in METHODS[1:]:
                return (
                    f"had {given} min in a {kind}, and what was due was for a "
                    f"{made.batch.canner} canner, so it counts as none"
                )
            return (
                f"had {given} min in a {kind}; no such "
                "process is published for it, so it counts as none"
            )
        case Lack.UNKNOWN:
            return f"had {given} min, and how many are due is not known"
        case Lack.NONE | None:
            return "had no process"
