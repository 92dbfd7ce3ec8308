"""
What a pressure gauge said: "11 psi", "15 lb weighted"; as the tables print it. Pure.

A reading is held against the pressure that is published for the height of the kitchen.
Nothing is reckoned between two printed pressures: a reading stands for the highest one
that it reaches.
"""

from __future__ import annotations

import re

from stillroom.book.names import canner_named
from stillroom.book.processes import METHODS
from stillroom.book.words import short
from stillroom.refusal import Unreadable
from stillroom.stock.events import Batch

MOST_PSI = 25.0
"""No gauge of a domestic canner reads more; our own guard against a slip. [psi]"""
PRESSURE_METHODS = METHODS[1:]
_READING = re.compile(
    r"(?i)\s*(?P<psi>[0-9]{1,3}(?:[.,][0-9]{1,2})?)\s*(?:psi|lbs?|pounds?|#)?\.?"
    r"(?:\s*(?:of\s+)?pressure)?(?:\s*,?\s*\(?(?P<gauge>weighted|weight|dial)\b"
    r"(?:[ -]gauge)?\)?)?\s*"
)
_KINDS = {
    "weighted": "weighted-gauge",
    "weight": "weighted-gauge",
    "dial": "dial-gauge",
}


def has_gauge(canner: str) -> bool:
    """
    Whether a canner of the book has a gauge, by its name; a name of one's own may.

    >>> has_gauge("dial gauge"), has_gauge(""), has_gauge("the big one")
    (True, False, False)
    """
    return canner_named(canner or METHODS[0]) in PRESSURE_METHODS


def read_gauge(text: str, *, canner: str) -> float | None:
    """
    Return what the gauge of a pressure canner read; `None` where nothing was said.

    Raises
    ------
    Unreadable
        If it is no reading in psi, or one that this canner does not have.

    Examples
    --------
    >>> read_gauge("11 psi", canner="dial-gauge")
    11.0
    >>> read_gauge("15 lb weighted", canner="weighted-gauge")
    15.0
    """
    if not text.strip():
        return None
    found = _READING.fullmatch(text)
    if found is None:
        raise Unreadable(
            f"{short(text)!r} is no gauge reading: write it in psi, as the tables are "
            "printed, such as 11 psi or 15 lb weighted (1 psi is 6.895 kPa)"
        )
    psi = float(found["psi"].replace(",", "."))
    if not 0 <= psi <= MOST_PSI:  # whoever saw 0 is to say so: it was no pressure
        raise Unreadable(
            f"{short(text)!r} is outside 0 to {MOST_PSI:g} psi, which gauges of "
            "canners read: look at the number and its unit (1 psi is 6.895 kPa)"
        )
    named = canner_named(canner or METHODS[0])
    if named == METHODS[0]:
        raise Unreadable(
            f"{short(text)!r} was read on a gauge, and boiling water has none: name "
            f"the canner, {' or '.join(PRESSURE_METHODS)}"
        )
    kind = _KINDS.get((found["gauge"] or "").lower())
    if kind is not None and named in PRESSURE_METHODS and named != kind:
        raise Unreadable(
            f"{short(text)!r} is of a {kind} canner, and it was booked in a {named} "
            f"one: name the canner that it was, {kind}, or leave the word out"
        )
    return psi


def psi_words(psi: float | None) -> str:
    """
    Say a pressure behind minutes; empty where it is not known.

    >>> psi_words(11.0), psi_words(None)
    (' at 11 psi', '')
    """
    return "" if psi is None else f" at {psi:g} psi"


def is_too_low(read_psi: float | None, due_psi: float | None) -> bool:
    """
    Whether a gauge read less than is published; what nobody said is no such reading.

    >>> is_too_low(9.0, 11.0), is_too_low(15.0, 11.0), is_too_low(None, 11.0)
    (True, False, False)
    """
    return read_psi is not None and due_psi is not None and read_psi < due_psi


def gauge_not_said(batch: Batch, lot: str = "LOT") -> str:
    """
    Say that nobody wrote down what the gauge read, where a pressure is published.

    At the stove the clock is started by "at pressure now", and a pressure that was lost
    begins it anew: there it was said.
    """
    if batch.due_psi is None or batch.gauge_psi is not None or batch.run:
        return ""
    if not batch.process_min:
        return ""
    return (
        f"nothing says what its gauge read, and {batch.due_psi:g} psi is published: it "
        "is judged by its minutes alone; who read it says so: stillroom stock gauge "
        f"{lot} READING --who NAME"
    )
