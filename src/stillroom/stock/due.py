"""The process that is published for what was put up here, or why it is not known."""

from __future__ import annotations

import math
from dataclasses import dataclass

from stillroom.book.jars import jar_named
from stillroom.book.processes import process_for
from stillroom.refusal import Refusal


def is_jar(part: str) -> bool:
    """Whether a part is a jar that published tables name."""
    return bool(part) and not isinstance(jar_named(part), Refusal)


def whole_feet(elevation_ft: float) -> int:
    """
    Return a height in whole feet, never into a lower band than it is in.

    >>> whole_feet(1000.0), whole_feet(1000.4)
    (1000, 1001)
    """
    return math.ceil(elevation_ft - 1e-6)  # a hair of room for what was typed in metres


@dataclass(frozen=True, slots=True)
class Due:
    """The published process of what was put up, or why there is none."""

    minutes: int | None
    words: str
    """Who publishes it, or why it is not known."""


def due_process(
    what: str,
    jar: str,
    *,
    elevation_ft: float | None,
    canner: str = "boiling-water",
    pack: str | None = None,
) -> Due:
    """
    Return the process that is published for what was put up here.

    Examples
    --------
    >>> due_process("plum jelly", "half-pint", elevation_ft=2150).minutes
    10
    >>> due_process("plum jelly", "half-pint", elevation_ft=None).words
    'the height of the kitchen was not said'
    """
    if elevation_ft is None:
        return Due(None, "the height of the kitchen was not said")
    found = process_for(
        what, jar=jar, elevation_ft=elevation_ft, canner=canner, pack=pack
    )
    if isinstance(found, Refusal):
        return Due(None, f"{found.reason}; {found.instead}")
    return Due(found.minutes, str(found.source))
