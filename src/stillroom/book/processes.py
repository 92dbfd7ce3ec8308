"""
The heat treatment of filled jars: a published row, or no.

A process belongs to product, pack, jar, canner and elevation band together. Nothing is
interpolated, extrapolated or shortened here; what has no published row is refused. Rows
that are only remembered are kept in ``from_memory.csv``, which nothing loads.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cache
from importlib.resources.abc import Traversable
from math import isfinite

from stillroom.book.canner_rules import METHODS, canner_rules
from stillroom.book.jars import jar_named, sterilise_jars_min, sterilise_rule
from stillroom.book.names import (
    UNSTERILISED_TABLE,
    ProductName,
    canner_named,
    product_named,
)
from stillroom.book.procedures import procedures_named
from stillroom.book.produce import fruits
from stillroom.book.reader import Row, read_rows, table
from stillroom.refusal import Caution, Refusal

__all__ = [
    "HIGHEST_ELEVATION_FT",
    "JARS",
    "LONGEST_MARGIN_MIN",
    "LOWEST_ELEVATION_FT",
    "METHODS",
    "Process",
    "process_for",
    "processes",
    "read_processes",
]

JARS = ("half-pint", "pint", "quart", "half-gallon")

LOWEST_ELEVATION_FT = -500.0
HIGHEST_ELEVATION_FT = 10_000.0
"""Where the tables of boiling water end; rows "above" an elevation reach no further."""
LONGEST_MARGIN_MIN = 120

_COLUMNS = [
    "product",
    "product_class",
    "pack",
    "method",
    "jar",
    "headspace_in",
    "elevation_low_ft",
    "elevation_high_ft",
    "minutes",
    "pressure_psi",
    "source",
    "how_known",
    "note",
]
_BUTTER_TABLE = "apple butter"


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


def process_for(
    product: str,
    *,
    jar: str,
    elevation_ft: float,
    pack: str | None = None,
    canner: str = "boiling-water",
    margin_min: int = 0,
) -> Process | Refusal:
    """
    Look up how long filled jars are processed.

    Parameters
    ----------
    product : str
        As people say it: "plum jelly", "crab apple butter", "applesauce".
    jar : str
        "half-pint", "pint", "quart", "half-gallon", or "8 oz" and the like.
    elevation_ft : float
        Elevation of the kitchen, -500 to 10 000. The edge of a band belongs to the
        lower band: 1 000 is in the first, 1 000.4 in the next. [ft]
    pack : str, optional
        "hot" or "raw"; where it is left out, the only published one.
    canner : str
        "boiling-water", "dial-gauge" or "weighted-gauge".
    margin_min : int
        Minutes that the keeper adds of her own, 0 to 120. [min]

    Returns
    -------
    Process or Refusal
        The published row with its cautions, or no, with the reason.

    Examples
    --------
    >>> process = process_for("plum jelly", jar="half-pint", elevation_ft=2150)
    >>> process.minutes, process.band_ft
    (10, '1,001 to 6,000 ft')
    >>> print(process_for("plum jelly", jar="quart", elevation_ft=0).reason)
    no process for plum jelly in quart jars is published
    """
    asked = _asked(product, jar, elevation_ft, canner, margin_min)
    if isinstance(asked, Refusal):
        return asked
    name, method, jar_name = asked
    rows = _rows_for(name, method, pack)
    if isinstance(rows, Refusal):
        return rows
    of_jar = _rows_in_jar(name, rows, jar_name)
    if isinstance(of_jar, Refusal):
        return of_jar
    row = _row_of_band(name, of_jar, elevation_ft)
    if isinstance(row, Refusal):
        return row
    return replace(
        row,
        product=name.name,
        jar=jar_name,
        source=_source(name, row),
        cautions=_cautions(name, row, jar_name, elevation_ft, margin_min),
        margin_min=margin_min,
    )


def _process(row: Row) -> Process:
    if row.one_of("how_known", ("looked_up", "memory")) == "memory":
        raise row.wrong("how_known", "is memory: such a row must never give a process")
    method = row.one_of("method", METHODS)
    pressure = row.number_or_none("pressure_psi", 4, 20)
    if (pressure is None) != (method == "boiling-water"):
        raise row.wrong("pressure_psi", f"does not go with {method}")
    low = row.whole("elevation_low_ft", 0, 10_000)
    product = row.text("product")
    return Process(
        product=product,
        product_class=row.text("product_class"),
        pack=row.one_of("pack", ("hot", "raw")),
        method=method,
        jar=row.one_of("jar", JARS),
        headspace_in=row.number("headspace_in", 0.125, 1.5),
        elevation_low_ft=low,
        elevation_high_ft=row.whole_or_none("elevation_high_ft", low + 1, 10_000),
        minutes=row.whole("minutes", 5, 180),
        pressure_psi=pressure,
        source=row.text("source"),
        how_known=row.text("how_known"),
        published_as=product,
    )


def _key(process: Process) -> tuple[str, str, str, str]:
    return process.published_as, process.pack, process.method, process.jar


def _asked(
    product: str, jar: str, elevation_ft: float, canner: str, margin_min: int
) -> tuple[ProductName, str, str] | Refusal:
    """Read what was asked: product, canner and jar by the names of the book."""
    name = product_named(product)
    if isinstance(name, Refusal):
        return name
    method = canner_named(canner)
    if isinstance(method, Refusal):
        return method
    size = jar_named(jar)
    if isinstance(size, Refusal):
        return size
    if not isfinite(elevation_ft):
        return Refusal(
            f"an elevation of {elevation_ft} ft cannot be read",
            instead="give the elevation of the kitchen as a number of feet",
            source="every published process is for a band of elevation",
        )
    if elevation_ft < LOWEST_ELEVATION_FT:
        return Refusal(
            f"{elevation_ft:,g} ft lies below every kitchen that the tables were made "
            f"for; they begin at 0 ft, and {LOWEST_ELEVATION_FT:,g} ft is the lowest "
            "taken here",
            instead="check the elevation and its sign",
            source="USDA Complete Guide to Home Canning (AIB 539), elevation bands",
        )
    if not 0 <= margin_min <= LONGEST_MARGIN_MIN or margin_min != int(margin_min):
        return Refusal(
            f"a margin of {margin_min} min cannot be taken: a margin is whole minutes "
            f"from 0 to {LONGEST_MARGIN_MIN}, and never shortens a published time",
            instead="leave the margin out, or add minutes",
            source="a published process is never shortened",
        )
    return name, method, size.name


def _rows_for(
    name: ProductName, method: str, pack: str | None
) -> tuple[Process, ...] | Refusal:
    """Return all rows of a product in one canner and pack."""
    of_product = [row for row in processes() if row.published_as == name.process_table]
    of_method = [row for row in of_product if row.method == method]
    if not of_method:
        methods = ", ".join(
            m for m in METHODS if any(r.method == m for r in of_product)
        )
        return Refusal(
            f"no {method} process for {name.name} is published",
            instead=f"use {methods}",
            source=of_product[0].source,
        )
    packs = sorted({row.pack for row in of_method})
    if pack is None and len(packs) > 1:
        return Refusal(
            f"{name.name} is published for {' and '.join(packs)} pack, with times of "
            "their own",
            instead="say which pack it is",
            source=of_method[0].source,
        )
    chosen = packs[0] if pack is None else pack.strip().lower().removesuffix(" pack")
    if chosen not in packs:
        return Refusal(
            f"no {chosen} pack of {name.name} is published",
            instead=f"pack it {' or '.join(packs)}, or freeze it",
            source=of_method[0].source,
        )
    return tuple(row for row in of_method if row.pack == chosen)


def _rows_in_jar(
    name: ProductName, rows: tuple[Process, ...], jar: str
) -> tuple[Process, ...] | Refusal:
    """Return the rows of a jar; a half-pint takes the time of the pint."""
    published = [j for j in JARS if any(row.jar == j for row in rows)]
    if _by_leaflet(name):  # the leaflet's recipe names no larger jar than a pint
        published = [j for j in published if j in ("half-pint", "pint")]
    for size in (jar, "pint") if jar == "half-pint" else (jar,):
        if size in published:
            return tuple(row for row in rows if row.jar == size)
    return Refusal(
        f"no process for {name.name} in {jar} jars is published",
        instead=f"use {' or '.join(published)} jars, or freeze or refrigerate it",
        source=_source(name, rows[0]),
    )


def _row_of_band(
    name: ProductName, rows: tuple[Process, ...], elevation_ft: float
) -> Process | Refusal:
    """Return the one row whose band holds the elevation."""
    for row in rows:
        if row.elevation_high_ft is not None and elevation_ft <= row.elevation_high_ft:
            return row
    last = rows[-1]
    if last.elevation_high_ft is None and elevation_ft <= HIGHEST_ELEVATION_FT:
        return last
    if name.process_table == UNSTERILISED_TABLE:
        return Refusal(
            "the 10 min for jars that were not sterilised are printed up to "
            f"{last.elevation_high_ft:,} ft only",
            instead="ask for jelly or jam: above that the ordinary process is 10 min "
            "or longer, and jars need no sterilising",
            source=last.source,
        )
    end = last.elevation_high_ft or HIGHEST_ELEVATION_FT
    return Refusal(
        f"{elevation_ft:,g} ft lies above {end:,.0f} ft, where the {last.method} "
        f"tables for {name.name} end, and nothing is extrapolated",
        instead="freeze or refrigerate it, or ask the extension service there"
        if last.method == "boiling-water"
        else "use a boiling-water canner with its own time, freeze or refrigerate it",
        source="elevation table of boiling water as printed with the Complete Guide, "
        "which ends at 10,000 ft"
        if last.elevation_high_ft is None
        else last.source,
    )


def _by_leaflet(name: ProductName) -> bool:
    """Tell whether a product is a butter that borrows the apple butter table."""
    return name.process_table == _BUTTER_TABLE and name.fruit != "apple"


def _source(name: ProductName, row: Process) -> str:
    return f"{row.source}; {name.source}" if _by_leaflet(name) else row.source


def _cautions(
    name: ProductName, row: Process, jar: str, elevation_ft: float, margin_min: int
) -> tuple[Caution, ...]:
    rules = canner_rules()
    said: list[Caution] = []
    if _by_leaflet(name):
        said.append(rules["butter-by-leaflet"].caution)
    if jar != row.jar:
        said.append(rules["half-pint-as-pint"].caution)
    if row.minutes < sterilise_rule().needed_below_min and row.pressure_psi is None:
        said.append(_sterilise(row, jar, elevation_ft))
    fruit = fruits().get(name.fruit)
    if fruit is not None and fruit.note:
        said.append(Caution(f"{_sentence(fruit.note)}.", str(fruit.source)))
    if elevation_ft < 0:
        said.append(rules["below-sea-level"].caution)
    if row.product_class in ("jelly", "jam"):
        if name.fruit and not procedures_named(name.name):
            said.append(rules["tested-recipe-only"].caution)
        said.append(rules["proportions-fixed"].caution)
    deep = row.minutes > 30
    for rule, words in rules.items():
        if row.method in words.canners:
            in_place = (
                "deep-water-over-lids" if rule == "water-over-lids" and deep else rule
            )
            said.append(rules[in_place].caution)
    if margin_min:
        said.append(
            Caution(
                f"{margin_min} min are the keeper's own margin; {row.minutes} min are "
                "published.",
                "the keeper",
            )
        )
    return tuple(said)


def _sterilise(row: Process, jar: str, elevation_ft: float) -> Caution:
    """Say that jars of a short process are sterilised, and what else is published."""
    boil = sterilise_jars_min(elevation_ft)
    text = (
        f"A process under {sterilise_rule().needed_below_min} min needs sterilised "
        f"jars: boil them empty {boil} min here (10 min, and 1 min more for each "
        "1,000 ft above 1,000 ft)."
    )
    source = str(sterilise_rule().source)
    spreads = processes() if row.product_class in ("jelly", "jam") else ()
    for other in spreads:
        if other.published_as == UNSTERILISED_TABLE and other.jar == jar:
            text += (
                f" Or process {other.minutes} min with jars that are only clean and "
                f"hot: published for {other.band_ft}."
            )
            source += f"; {other.source}"
    return Caution(text, source)


def _sentence(words: str) -> str:
    return words[:1].upper() + words[1:]
