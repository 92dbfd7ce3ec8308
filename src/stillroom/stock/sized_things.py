"""
Things that are called by what they hold: "2 5-gallon buckets". Pure.

"5 gallon crock" is one crock, or five, and is no five gallons of anything: it is asked.
"""

from __future__ import annotations

import re

from stillroom.refusal import Unreadable
from stillroom.stock.household import are_things, is_a_bare_vessel

_SIZE = (
    r"(?P<size>[0-9½⅓⅔¼¾][0-9½⅓⅔¼¾./]*)[\s-]*"
    r"(?P<unit>quart|qt|gallon|gal|pint|pt|cup|lit(?:er|re)|l)(?P<many>s?)\b\.?[\s-]+"
    r"(?P<thing>\S.*)$"
)
_COUNTED = re.compile(rf"(?i)^(?P<count>[0-9][0-9,]*)\s+(?:x\s+)?{_SIZE}")
_ALONE = re.compile(rf"(?i)^{_SIZE}")


def sized_things(text: str) -> tuple[str, str] | None:
    """
    Return how many, and the name with its size; `None` where it is something else.

    Raises
    ------
    Unreadable
        If it says what one holds, or how many there are, and not which.

    Examples
    --------
    >>> sized_things("2 5 gallon buckets"), sized_things("1 8-quart pressure canner")
    (('2', '5-gallon buckets'), ('1', '8-quart pressure canner'))
    >>> sized_things("5 gallons cider"), sized_things("6 pint freezer boxes")
    (None, None)
    """
    found = _COUNTED.match(text)
    if found and are_things(found["thing"]):
        name = f"{found['size']}-{found['unit']} {found['thing']}"
        return found["count"], name
    alone = _ALONE.match(text)
    if alone is None or not are_things(alone["thing"]):
        return None
    thing, several = alone["thing"], alone["thing"].lower().endswith("s")
    if several and not is_a_bare_vessel(thing):
        return None
    size = f"{alone['size']}-{alone['unit']}"
    either = f'"1 {size} {thing.removesuffix("s")}"'
    if alone["size"].isdigit() and alone["size"] != "1":
        plural = thing if several else f"{thing}s"
        either += f' or "{alone["size"]} {plural}"'
    raise Unreadable(
        f"{text[:60]!r} may say what one holds, or how many there are: write {either}"
    )
