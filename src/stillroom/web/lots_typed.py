"""
The form of the day's lots as it came: every line read, and all that is wrong in it.

Who books seven lots with wet hands is told of each slip at once, and at its field.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

from starlette.datastructures import FormData, QueryParams

from stillroom.capital import capital
from stillroom.refusal import Unreadable
from stillroom.running.book_lots import wrong_number
from stillroom.running.lots_made import LotMade
from stillroom.stock.from_run import no_place
from stillroom.stock.gauge import read_gauge
from stillroom.stock.words import clean

LINE = ("load", "batch", "number", "place", "gauge")
LONGEST = 200
Key = tuple[str, str]
"""(load, batch)"""
Typed = dict[Key, tuple[str, str, str]]
"""The number of jars of each line, their place and their gauge, as typed."""
_CALLED = {"number": "jars", "place": "place", "gauge": "gauge"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Lines:
    """What the lines of a form say, and what of them cannot be read."""

    mended: dict[Key, tuple[int, str]] = field(default_factory=dict)
    gauges: dict[Key, float | None] = field(default_factory=dict)
    wrong: dict[tuple[Key, str], str] = field(default_factory=dict)
    """By (load, batch) and field, in words."""

    def told(self, lots: Iterable[LotMade]) -> tuple[tuple[Key, str, str], ...]:
        """Return each fault with its line and field, named: "Jars of plum jelly 1"."""
        load = {key_of(lot): lot.load for lot in lots}
        return tuple(
            (key, name, f"{capital(_CALLED[name])} of {_named(key, load)}: {said}")
            for (key, name), said in self.wrong.items()
        )


def key_of(lot: LotMade) -> Key:
    """Return the (load, batch) by which a form names a lot."""
    return (lot.making.batch.run_load, lot.making.batch.run_batch)


def typed_of(form: FormData | QueryParams) -> Typed:
    """Return the lines of the form as they came, to stand there again after a no."""
    said = [[str(x) for x in form.getlist(name)] for name in LINE]
    said[-1] = said[-1] or [""] * len(said[0])  # a form of before asks for none
    return {
        (load, batch): (number[:LONGEST], place[:LONGEST], gauge[:LONGEST])
        for load, batch, number, place, gauge in zip(*said, strict=False)
    }


def read_lines(typed: Typed, lots: Iterable[LotMade]) -> Lines:
    """Read each line: how many jars, where they stand, what their gauge read."""
    of = {key_of(lot): lot for lot in lots}
    lines = Lines()
    for key, (number, place, gauge) in typed.items():
        lot, where = of.get(key), ""
        jars = _number(number.strip(), lot, key, lines)
        try:
            where = clean(place, "place")
        except Unreadable as fault:
            lines.wrong[key, "place"] = _what(fault)
        if where and lot is not None and (no := no_place(where)) is not None:
            lines.wrong[key, "place"] = f"{no.reason}. Instead: {no.instead}"
        if lot is not None and lot.making.batch.due_psi is not None:
            try:
                lines.gauges[key] = read_gauge(gauge, canner=lot.making.batch.canner)
            except Unreadable as fault:
                lines.wrong[key, "gauge"] = _what(fault)
        lines.mended[key] = (jars, where)
    return lines


def _number(text: str, lot: LotMade | None, key: Key, lines: Lines) -> int:
    """Return the number of jars; none, and its fault noted, where it is no number."""
    if not (text.isascii() and text.isdecimal() and len(text) <= 4):
        lines.wrong[key, "number"] = (
            f"{text[:30]!r} is no number of jars: write digits, 0 where none came of it"
        )
        return 0
    if lot is not None and (no := wrong_number(lot, int(text))):
        lines.wrong[key, "number"] = no
    return int(text)


def _what(fault: Unreadable) -> str:
    return "; ".join(one.what for one in fault.faults)


def _named(key: Key, load: Mapping[Key, str]) -> str:
    """Name a line as its heading does: "plum jelly 1, load 2"."""
    _, batch = key
    return ", ".join(filter(None, (batch[:60], load.get(key, ""))))
