"""
The heat treatment of filled jars: a published row, or no.

Nothing is interpolated, extrapolated or shortened here; what has no published row is
refused, and what is refused says what to do instead.
"""

from __future__ import annotations

from dataclasses import replace
from math import isfinite

from stillroom.book.canner_rules import METHODS, canners_in_words
from stillroom.book.elevation import HIGHEST_ELEVATION_FT, LOWEST_ELEVATION_FT
from stillroom.book.jars import jar_named, may_fill
from stillroom.book.names import (
    UNSTERILISED_TABLE,
    ProductName,
    canner_named,
    product_named,
)
from stillroom.book.of_which_fruit import which_fruit
from stillroom.book.printed_minutes import longer_of
from stillroom.book.process_cautions import cautions_for, source_of
from stillroom.book.process_table import JARS, Process, processes, read_processes
from stillroom.book.uncanned import no_process_without_canner
from stillroom.in_a_list import all_of, any_of
from stillroom.measures import height
from stillroom.refusal import Refusal

__all__ = [
    "JARS",
    "LONGEST_MARGIN_MIN",
    "METHODS",
    "Process",
    "process_for",
    "processes",
    "read_processes",
]

LONGEST_MARGIN_MIN = 120
LOW_ACID = ("vegetable", "dried-legume", "soup", "stock", "meat")
"""Classes of product that only a pressure canner can hold for the shelf."""


def process_for(
    product: str,
    *,
    jar: str,
    elevation_ft: float,
    pack: str | None = None,
    canner: str = "boiling-water",
    margin_min: int = 0,
    pressure_psi: float | None = None,
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
    pressure_psi : float, optional
        One of the printed gauge pressures, where a table has several with times of
        their own; where it is left out, the first: the lowest, and the longest time.
        [psi]

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
    >>> beans = process_for("green beans", jar="quart", elevation_ft=2150, pack="raw",
    ...                     canner="dial gauge")
    >>> beans.minutes, beans.pressure_psi
    (25, 12.0)
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
    printed = _printed_for(name, of_jar, elevation_ft, pressure_psi)
    if isinstance(printed, Refusal):
        return printed
    row, others = printed
    row, longer = longer_of(name.name, jar_name, row)
    return replace(
        row,
        product=name.name,
        jar=jar_name,
        source=source_of(name, row),
        cautions=(
            *cautions_for(name, row, others, jar_name, elevation_ft, margin_min),
            *longer,
        ),
        margin_min=margin_min,
    )


def _asked(
    product: str, jar: str, elevation_ft: float, canner: str, margin_min: int
) -> tuple[ProductName, str, str] | Refusal:
    """Read what was asked: product, canner and jar by the names of the book."""
    name = product_named(product)
    if isinstance(name, Refusal):
        return no_process_without_canner(product) or name
    if (asked := which_fruit(product, name)) is not None:
        return asked
    method = canner_named(canner)
    if isinstance(method, Refusal):
        return replace(method, instead=_published_way(name))
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
            f"{height(elevation_ft)} lies below every kitchen that the tables were "
            f"made for; they begin at 0 ft, and {height(LOWEST_ELEVATION_FT)} is the "
            "lowest taken here",
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
    of_product = _rows_of(name)
    of_method = [row for row in of_product if row.method == method]
    if not of_method:
        methods = _methods_of(name)
        boiled = method == "boiling-water"
        low = boiled and of_product[0].product_class in LOW_ACID
        why = "in this book"
        if boiled:
            why = "published: it is a mixture with low-acid food, for pressure alone"
        if low:
            why = "published: it is low-acid, and spores live through boiling water"
        return Refusal(
            f"no {method} process for {name.name} is {why}",
            instead=f"process it in {canners_in_words(methods)}"
            + (", or freeze it" if low else ""),
            source=of_product[0].source,
        )
    packs = sorted({row.pack for row in of_method})
    if pack is None and len(packs) > 1:
        return Refusal(
            f"{name.name} is published for {all_of(packs)} pack, with times of "
            "their own",
            instead="say which pack it is",
            source=of_method[0].source,
        )
    chosen = packs[0] if pack is None else pack.strip().lower().removesuffix(" pack")
    if chosen not in packs:
        return Refusal(
            f"no {chosen} pack of {name.name} is published",
            instead=f"pack it {any_of(packs)}, or freeze it",
            source=of_method[0].source,
        )
    return tuple(row for row in of_method if row.pack == chosen)


def _rows_of(name: ProductName) -> list[Process]:
    """Return all rows that hold for a product."""
    tables = {name.process_table, name.also_table} - {""}
    return [row for row in processes() if row.published_as in tables]


def _methods_of(name: ProductName) -> list[str]:
    """Return the canners that a product is published for."""
    found = {row.method for row in _rows_of(name)}
    return [method for method in METHODS if method in found]


def _published_way(name: ProductName) -> str:
    """
    Say what a product is processed in, where it was asked for in something else.

    It is said of this product: low-acid food is sent to no boiling-water canner.
    """
    canners = canners_in_words(_methods_of(name))
    return f"process it in {canners} with the published time, or freeze or refrigerate"


def _rows_in_jar(
    name: ProductName, rows: tuple[Process, ...], jar: str
) -> tuple[Process, ...] | Refusal:
    """Return the rows of a jar; a half-pint takes the time of the pint."""
    published = [j for j in JARS if any(row.jar == j for row in rows)]
    if name.jars:  # its recipe names no other jar, whatever the table holds
        published = [j for j in published if j in name.jars]
    if may_fill(jar, published):
        size = jar if jar in published else "pint"
        return tuple(row for row in rows if row.jar == size)
    return Refusal(
        f"no process for {name.name} in {jar} jars is published",
        instead=f"use {any_of(published)} jars, or freeze or refrigerate it",
        source=source_of(name, rows[0]),
    )


def _printed_for(
    name: ProductName,
    rows: tuple[Process, ...],
    elevation_ft: float,
    pressure_psi: float | None,
) -> tuple[Process, tuple[Process, ...]] | Refusal:
    """Return the row meant, and those of the other pressures printed for it."""
    first = _row_of_band(name, _of_option(rows, 1), elevation_ft)
    if isinstance(first, Refusal):
        return first
    further = (
        _row_of_band(name, _of_option(rows, option), elevation_ft)
        for option in sorted({row.option for row in rows} - {1})
    )
    printed = (first, *(row for row in further if isinstance(row, Process)))
    for row in printed:
        if pressure_psi is None or row.pressure_psi == pressure_psi:
            return row, tuple(other for other in printed if other is not row)
    if first.pressure_psi is None:
        return Refusal(
            "boiling water has no gauge pressure",
            instead="leave the pressure out, or name a pressure canner",
            source=first.source,
        )
    pressures = any_of(f"{row.pressure_psi:g} psi" for row in printed)
    return Refusal(
        f"no process for {name.name} at {pressure_psi:g} psi is published for "
        f"{height(elevation_ft)}",
        instead=f"use {pressures}",
        source=first.source,
    )


def _of_option(rows: tuple[Process, ...], option: int) -> tuple[Process, ...]:
    return tuple(row for row in rows if row.option == option)


def _pack_said(name: ProductName, row: Process) -> str:
    """Name the pack of a row where there is another in the same canner."""
    packs = {other.pack for other in _rows_of(name) if other.method == row.method}
    return f"{row.pack}-pack " if len(packs) > 1 else ""


def _instead_so_high(name: ProductName, last: Process, elevation_ft: float) -> str:
    """Say what reaches where the rows of a pack end: the other pack, another canner."""

    def holds_here(row: Process) -> bool:
        end = row.elevation_high_ft
        return row.elevation_low_ft - 1 < elevation_ft and (
            elevation_ft <= (HIGHEST_ELEVATION_FT if end is None else end)
        )

    here = [r for r in _rows_of(name) if r.jar == last.jar and holds_here(r)]
    packs = [
        f"pack it {row.pack}: {row.minutes} min in the same canner"
        for row in here
        if row.method == last.method and row.pack != last.pack and row.option == 1
    ]
    others = {row.method for row in here} - {last.method}
    canners = canners_in_words(m for m in METHODS if m in others)
    ways = packs + (
        [f"process it in {canners} with its own published row"] if canners else []
    )
    if not ways:
        return "freeze or refrigerate it, or ask the extension service there"
    return "; or ".join((*ways, "freeze or refrigerate it"))


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
        f"{height(elevation_ft)} lies above {height(end)}, where the "
        f"{_pack_said(name, last)}{last.method} rows of {name.name} end in this book, "
        "and nothing is extrapolated",
        instead=_instead_so_high(name, last, elevation_ft),
        source="elevation table of boiling water as printed with the Complete Guide, "
        "which ends at 10,000 ft"
        if last.elevation_high_ft is None
        else last.source,
    )
