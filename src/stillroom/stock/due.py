"""The process that is published for what was put up here, or why it is not known."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cache, lru_cache

from stillroom.book.acid_foods import goes_by_table_of
from stillroom.book.jars import jar_named
from stillroom.book.names import canner_named
from stillroom.book.processes import METHODS, Process, process_for, processes
from stillroom.refusal import Refusal

PACKS = ("hot", "raw")


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
    psi: float | None = None
    """Published gauge pressure at that height; `None` in boiling water. [psi]"""


def due_process(
    what: str,
    jar: str,
    *,
    elevation_ft: float | None,
    canner: str = "boiling-water",
    pack: str | None = None,
    gauge_psi: float | None = None,
) -> Due:
    """
    Return the process that is published for what was put up here.

    Where several pressures are printed, each with minutes of its own, what the gauge
    read decides which is meant: the highest that it reached. Where nobody said what it
    read, it is the first: the lowest, and the longest time.

    Examples
    --------
    >>> due_process("plum jelly", "half-pint", elevation_ft=2150).minutes
    10
    >>> due_process("plum jelly", "half-pint", elevation_ft=None).words
    'the height of the kitchen was not said'
    >>> due_process("beets", "pint", elevation_ft=3000, canner="dial-gauge").psi
    12.0
    """
    if elevation_ft is None:
        return Due(None, "the height of the kitchen was not said")
    found = process_for(
        what, jar=jar, elevation_ft=elevation_ft, canner=canner, pack=pack
    )
    if isinstance(found, Refusal):
        # What to do instead is for food that is not in its jars yet.
        return Due(None, found.reason)
    if found.pressure_psi is not None and gauge_psi is not None:
        for psi in (p for p in printed_psi() if p <= gauge_psi):
            higher = process_for(
                what,
                jar=jar,
                elevation_ft=elevation_ft,
                canner=canner,
                pack=pack,
                pressure_psi=psi,
            )
            if not isinstance(higher, Refusal):
                found = higher
                break
    return Due(found.minutes, str(found.source), found.pressure_psi)


@lru_cache(maxsize=1024)  # asked of every lot again and again
def may_be_due(
    what: str, jar: str, *, canner: str, pack: str, elevation_ft: float | None
) -> tuple[Process, ...] | None:
    """
    Return the processes of which one may be due, with what was not said of it.

    None where the table ends before that jar, canner or height, and `None` of names,
    jars and canners that the book does not know. Where the height was not said it is
    the lowest there is; a spread of several acid fruits goes by the table of its kind.

    >>> said = {"canner": "boiling-water", "pack": "", "elevation_ft": 500}
    >>> [len(may_be_due("dilled beans", jar, **said)) for jar in ("pint", "quart")]
    [1, 0]
    >>> [row.minutes for row in may_be_due("peaches", "quart", **said)]
    [25, 30]
    """
    named = canner_named(canner or METHODS[0])
    name = goes_by_table_of(what)
    if not name or isinstance(named, Refusal) or not is_jar(jar):
        return None
    height_ft = 0.0 if elevation_ft is None else elevation_ft
    found = (
        process_for(name, jar=jar, elevation_ft=height_ft, canner=named, pack=one)
        for one in ((pack,) if pack else PACKS)
    )
    return tuple(row for row in found if isinstance(row, Process))


@cache
def printed_psi() -> tuple[float, ...]:
    """Return every gauge pressure that is printed for anything, the highest first."""
    printed = {row.pressure_psi for row in processes() if row.pressure_psi is not None}
    return tuple(sorted(printed, reverse=True))
