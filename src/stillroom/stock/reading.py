"""What has been read so far of a sentence, and what its parts share in reading."""

from __future__ import annotations

import datetime as dt
import re
from dataclasses import dataclass, field

from stillroom.measures import EitherComma
from stillroom.refusal import Unreadable
from stillroom.stock.amounts import MOST_PIECES, Absurd, Unit, measured

HOLD_SEVERAL = ("flat", "case", "basket", "punnet", "tray", "sleeve")
"""Of those it is asked what one holds."""
BOXES = ("box", "carton", "crate", "pack", "packet", "package", "pouch", "bag", "tin")
"""Of what is counted one of these may hold several, where that is said."""
BETWEEN = re.compile(r",(?=\s|[^\W\d])|;|\n")
"""Between the parts of a sentence; in "1,200" it is none."""
_WHOLE = re.compile(r"[0-9]{1,3}(?:,[0-9]{3})+|[0-9]+")
"""A comma stands between thousands, or it is a decimal one: half a jar is no count."""
NUMBER = re.compile(r"([0-9][0-9,]*(?:\.[0-9]+)?)\s*")


@dataclass(slots=True)
class Reading:
    """What has been read so far."""

    today: dt.date
    known_places: tuple[str, ...]
    what: str = ""
    unit: Unit = Unit.PIECES
    number: int = 0
    part: str = ""
    each: int = 0
    place: str = ""
    day: str = ""
    supplier: str = ""
    paid: str = ""
    best_before: dt.date | None = None
    note: str = ""
    kept_dry: bool = False
    bought_in_shop: bool = False
    said: dict[str, str] = field(default_factory=dict)
    """Which part said a thing of which there is one: "place", "day", "supplier"."""
    faults: list[str] = field(default_factory=list)
    remarks: list[str] = field(default_factory=list)


def longest_measure(text: str) -> tuple[str, str]:
    """Split off as many words in front as are a measure."""
    words = text.split(" ")
    fault = Unreadable(f"{text[:60]!r} begins with no measure")
    for last in range(min(len(words), 7), 0, -1):
        size = " ".join(words[:last])
        try:
            measured(size)
        except (Absurd, EitherComma):
            raise
        except Unreadable as error:
            fault = error
            continue
        return size, " ".join(words[last:])
    raise fault


def whole(number: str, text: str) -> int:
    """
    Return a count of pieces, or say what is wrong with it.

    >>> whole("1,200", "1,200 lids")
    1200
    """
    if not _WHOLE.fullmatch(number):
        raise Unreadable(
            f"{text[:40]!r}: things are counted whole, and {number[:30]!r} is no whole "
            "number"
        )
    digits = number.replace(",", "")
    if len(digits) > 9 or not 0 < int(digits) <= MOST_PIECES:
        raise Unreadable(
            f"{text[:40]!r}: a count is above 0 and at most {MOST_PIECES:,}"
        )
    return int(digits)


def each_holds(size: str, reading: Reading) -> None:
    """Read what each of the parts holds."""
    if not reading.part and reading.unit is not Unit.PIECES:
        raise Unreadable(
            f"{size[:40]!r} each: of how many? Write such as "
            '"14 bags redcurrant juice, 4 cups each"'
        )
    unit, each, _ = measured(size)
    if unit is Unit.PIECES and reading.part in (*HOLD_SEVERAL, *BOXES):
        reading.part, reading.number = "", reading.number * each
        return
    if unit is Unit.PIECES:
        raise Unreadable(f"{size[:40]!r} each: give what one holds, such as 4 cups")
    reading.unit, reading.each = unit, each
    reading.part = reading.part or "piece"
    reading.number *= each
