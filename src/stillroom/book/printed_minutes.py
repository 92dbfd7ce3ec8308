"""
Where a recipe itself prints a longer process than the table that answers for it.

The longer of two published times is taken, never the shorter; it stays inside one band.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cache
from importlib.resources.abc import Traversable

from stillroom.book.process_table import Process
from stillroom.book.reader import read_rows, table
from stillroom.refusal import Caution


@dataclass(frozen=True, slots=True, kw_only=True)
class PrintedMinutes:
    """A process time printed with a recipe, for one band. [min]"""

    product: str
    canner: str
    jars: tuple[str, ...]
    elevation_low_ft: int
    elevation_high_ft: int
    minutes: int
    caution: Caution


def read_printed_minutes(path: Traversable) -> tuple[PrintedMinutes, ...]:
    """Return the rows of a table; every one of them must have been looked up."""
    columns = [
        *("product", "canner", "jars", "elevation_low_ft", "elevation_high_ft"),
        *("minutes", "text", "source", "how_known"),
    ]
    found = []
    for row in read_rows(path, columns):
        row.one_of("how_known", ("looked_up",))
        low = row.whole("elevation_low_ft", 0, 10_000)
        found.append(
            PrintedMinutes(
                product=row.text("product"),
                canner=row.one_of("canner", ("boiling-water",)),
                jars=row.words("jars"),
                elevation_low_ft=low,
                elevation_high_ft=row.whole("elevation_high_ft", low, 10_000),
                minutes=row.whole("minutes", 5, 200),
                caution=Caution(row.text("text"), row.text("source")),
            )
        )
    return tuple(found)


@cache
def printed_minutes() -> tuple[PrintedMinutes, ...]:
    """Return every process time that a recipe prints beside its table."""
    return read_printed_minutes(table("printed_minutes"))


def longer_of(
    product: str, jar: str, row: Process
) -> tuple[Process, tuple[Caution, ...]]:
    """
    Return the row, with the recipe's own time where that is longer, and why.

    It never returns fewer minutes than the row has.
    """
    for printed in printed_minutes():
        same_band = (row.elevation_low_ft, row.elevation_high_ft) == (
            printed.elevation_low_ft,
            printed.elevation_high_ft,
        )
        if (
            printed.product == product
            and printed.canner == row.method
            and jar in printed.jars
            and same_band
            and printed.minutes > row.minutes
        ):
            return replace(row, minutes=printed.minutes), (printed.caution,)
    return row, ()
