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
from stillroom.running.beyond import had_its_process
from stillroom.running.book_lots import wrong_number
from stillroom.running.lots_made import LotMade
from stillroom.stock.from_run import no_place
from stillroom.stock.gauge import read_gauge
from stillroom.stock.words import clean

LINE = ("load", "batch", "number", "place", "gauge", "beyond")
LONGEST = 200
Key = tuple[str, str]
"""(load, batch)"""
Typed = dict[Key, tuple[str, str, str, str]]
"""
The number of jars of each line, their place, their gauge, and how many more were filled
and in no canner, as typed: empty where that was not asked.
"""
_CALLED = {
    "number": "jars",
    "place": "place",
    "gauge": "gauge",
    "beyond": "jars in no canner",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Lines:
    """What the lines of a form say, and what of them cannot be read."""

    mended: dict[Key, tuple[int, str]] = field(default_factory=dict)
    gauges: dict[Key, float | None] = field(default_factory=dict)
    beyond: dict[Key, int] = field(default_factory=dict)
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
    for at in (-2, -1):  # a form of before asks for none
        said[at] = said[at] or [""] * len(said[0])
    return {
        (load, batch): (
            number[:LONGEST],
            place[:LONGEST],
            gauge[:LONGEST],
            beyond[:LONGEST],
        )
        for load, batch, number, place, gauge, beyond in zip(*said, strict=False)
    }


def asked_apart(typed: Typed, lots: Iterable[LotMade]) -> Typed:
    """
    Return the lines with jars parted that cannot all have had the process of a load.

    What was typed beyond those that were lifted out stands in a field of its own then,
    to be looked at and sent again: nothing is booked by it.
    """
    of = {key_of(lot): lot for lot in lots}
    parted = dict(typed)
    for key, (number, place, gauge, beyond) in typed.items():
        most = had_its_process(of[key]) if key in of else None
        if beyond or most is None or not _is_number(number) or int(number) <= most:
            continue
        if not wrong_number(of[key], most, int(number) - most):
            parted[key] = (str(most), place, gauge, str(int(number) - most))
    return parted


def read_lines(typed: Typed, lots: Iterable[LotMade]) -> Lines:
    """Read each line: how many jars, where they stand, what their gauge read.

    Of jars that were in no canner it is read how many.
    """
    of = {key_of(lot): lot for lot in lots}
    lines = Lines()
    for key, (number, place, gauge, beyond) in typed.items():
        lot, where = of.get(key), ""
        more = _number(beyond.strip() or "0", key, "beyond", lines)
        jars = _number(number.strip(), key, "number", lines)
        if lot is not None and (said := wrong_number(lot, jars, more)):
            lines.wrong[key, "beyond" if more else "number"] = said
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
        lines.beyond[key] = more
    return lines


def _number(text: str, key: Key, name: str, lines: Lines) -> int:
    """Return the number of jars; none, and its fault noted, where it is no number."""
    if not _is_number(text):
        lines.wrong[key, name] = (
            f"{text[:30]!r} is no number of jars: write digits, 0 where none came of it"
        )
        return 0
    return int(text)


def _is_number(text: str) -> bool:
    return text.isascii() and text.isdecimal() and len(text) <= 4


def _what(fault: Unreadable) -> str:
    return "; ".join(one.what for one in fault.faults)


def _named(key: Key, load: Mapping[Key, str]) -> str:
    """Name a line as its heading does: "plum jelly 1, load 2"."""
    _, batch = key
    return ", ".join(filter(None, (batch[:60], load.get(key, ""))))
