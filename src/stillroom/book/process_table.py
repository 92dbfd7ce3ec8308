"""
The table of processes: what a row says, and what stops its loader.

A process belongs to product, pack, jar, canner and elevation band together, and under
pressure to one of the printed pressures. Rows that are only remembered are kept in
``from_memory.csv``, which nothing loads.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from importlib.resources.abc import Traversable

from stillroom.book.acid import AcidRule, acid_rules
from stillroom.book.canner_rules import METHODS
from stillroom.book.reader import Row, read_rows, table
from stillroom.refusal import Caution

JARS = ("half-pint", "pint", "quart", "half-gallon")

_COLUMNS = [
    "product",
    "product_class",
    "pack",
    "method",
    "jar",
    "option",
    "headspace_in",
    "elevation_low_ft",
    "elevation_high_ft",
    "minutes",
    "pressure_psi",
    "acidify",
    "source",
    "how_known",
    "note",
]


@dataclass(frozen=True, slots=True)
class Process:
    """A published process, and what goes with it."""

    product: str
    """As the keeper says it: "plum jelly"."""
    product_class: str
    pack: str
    method: str
    """``boiling-water``, ``dial-gauge`` or ``weighted-gauge``."""
    jar: str
    headspace_in: float
    elevation_low_ft: int
    elevation_high_ft: int | None
    """`None` where the row has no upper end."""
    minutes: int
    """Published process time. [min]"""
    pressure_psi: float | None
    """Gauge pressure; `None` in boiling water. [psi]"""
    source: str
    how_known: str
    cautions: tuple[Caution, ...] = ()
    margin_min: int = 0
    """The keeper's own margin on top, shown as hers. [min]"""
    published_as: str = ""
    """Product of the published row."""
    option: int = 1
    """1 for the first printed pressure of a band, 2 and 3 for further ones."""
    acidify: str = ""
    """Name of the rule by which acid belongs to this process; may be empty."""
    note: str = ""
    """A word on the row itself: other editions, misprints."""

    @property
    def acid(self) -> AcidRule | None:
        """The acid that is part of the process; `None` where none is added."""
        return acid_rules()[self.acidify] if self.acidify else None

    @property
    def total_min(self) -> int:
        """Published minutes and the keeper's own margin. [min]"""
        return self.minutes + self.margin_min

    @property
    def band_ft(self) -> str:
        """
        The elevation band as it is printed.

        "0 to 1,000 ft", "1,001 to 6,000 ft" or "above 6,000 ft".
        """
        if self.elevation_high_ft is None:
            return f"above {self.elevation_low_ft - 1:,} ft"
        return f"{self.elevation_low_ft:,} to {self.elevation_high_ft:,} ft"


def read_processes(path: Traversable) -> tuple[Process, ...]:
    """
    Return the processes of a table.

    Raises
    ------
    Unreadable
        At the first row that is not looked up, has a figure out of range, or leaves a
        gap between elevation bands. The message names file and line.
    """
    found: list[Process] = []
    for row in read_rows(path, _COLUMNS):
        process = _process(row)
        last = found[-1] if found and _key(found[-1]) == _key(process) else None
        if last is None:
            if process.elevation_low_ft != 0:
                raise row.wrong("elevation_low_ft", "must be 0 in a first band")
        elif last.elevation_high_ft is None:
            raise row.wrong("elevation_low_ft", "follows a band without upper end")
        elif process.elevation_low_ft != last.elevation_high_ft + 1:
            raise row.wrong(
                "elevation_low_ft",
                f"is {process.elevation_low_ft}; the band before it ends at "
                f"{last.elevation_high_ft}",
            )
        elif process.minutes < last.minutes or (process.pressure_psi or 0) < (
            last.pressure_psi or 0
        ):
            raise row.wrong("minutes", "or pressure_psi falls with elevation")
        found.append(process)
    return tuple(found)


@cache
def processes() -> tuple[Process, ...]:
    """Return every published row of the book, as printed."""
    return read_processes(table("processes"))


def _process(row: Row) -> Process:
    if row.one_of("how_known", ("looked_up", "memory")) == "memory":
        raise row.wrong("how_known", "is memory: such a row must never give a process")
    method = row.one_of("method", METHODS)
    pressure = row.number_or_none("pressure_psi", 4, 20)
    if (pressure is None) != (method == "boiling-water"):
        raise row.wrong("pressure_psi", f"does not go with {method}")
    low = row.whole("elevation_low_ft", 0, 10_000)
    product = row.text("product")
    acidify = row.note("acidify")
    if acidify and acidify not in acid_rules():
        raise row.wrong("acidify", f"is {acidify!r}, which is no rule of acid")
    return Process(
        product=product,
        product_class=row.text("product_class"),
        pack=row.one_of("pack", ("hot", "raw")),
        method=method,
        jar=row.one_of("jar", JARS),
        headspace_in=row.number("headspace_in", 0.125, 1.5),
        elevation_low_ft=low,
        elevation_high_ft=row.whole_or_none("elevation_high_ft", low + 1, 10_000),
        minutes=row.whole("minutes", 5 if pressure is None else 1, 180),
        pressure_psi=pressure,
        source=row.text("source"),
        how_known=row.text("how_known"),
        published_as=product,
        option=row.whole("option", 1, 3 if pressure else 1),
        acidify=acidify,
        note=row.note("note"),
    )


def _key(process: Process) -> tuple[str, str, str, str, int]:
    return (
        process.published_as,
        process.pack,
        process.method,
        process.jar,
        process.option,
    )
