"""
The rule "add minutes for each 1,000 ft": why it is not used.

Shown beside the published bands where a keeper asks for it, and never an answer.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cache
from importlib.resources.abc import Traversable

from stillroom.book.process_table import Process
from stillroom.book.processes import processes
from stillroom.book.reader import read_rows, table
from stillroom.measures import height
from stillroom.refusal import Refusal, Source


@dataclass(frozen=True, slots=True)
class FolkRule:
    """A rule that circulates, with what speaks against it."""

    rule: str
    words: str
    minutes: tuple[float, float]
    """Least and most minutes that are added for each ``per_ft``. [min]"""
    per_ft: int
    above_ft: int
    why_not: str
    source: Source


@dataclass(frozen=True, slots=True)
class FolkBeside:
    """What the rule would say of a jar, beside the published row. Never an answer."""

    published: Process
    folk_min: tuple[float, float] | None
    """`None` under pressure, where time does not go by elevation. [min]"""
    words: str


def read_folk_rules(path: Traversable) -> tuple[FolkRule, ...]:
    """Return the rules of a table."""
    columns = [
        *("rule", "words", "minutes_low", "minutes_high", "per_ft", "unit"),
        *("above_ft", "why_not", "source", "how_known"),
    ]
    found = []
    for row in read_rows(path, columns):
        low = row.number("minutes_low", 0.5, 5)
        found.append(
            FolkRule(
                rule=row.text("rule"),
                words=row.text("words"),
                minutes=(low, row.number("minutes_high", low, 5)),
                per_ft=row.whole("per_ft", 500, 2000),
                above_ft=row.whole("above_ft", 0, 2000),
                why_not=row.text("why_not"),
                source=row.source,
            )
        )
    return tuple(found)


@cache
def folk_rule() -> FolkRule:
    """Return the rule, with why it is not used."""
    return read_folk_rules(table("folk_rules"))[0]


def beside_folk_rule(
    here: Process, at_sea_level: Process, elevation_ft: float
) -> FolkBeside | Refusal:
    """
    Set the rule beside the published row of an elevation.

    Parameters
    ----------
    here, at_sea_level : Process
        Published rows of the same product, pack, jar and canner.
    elevation_ft : float
        Elevation of the kitchen. [ft]

    Returns
    -------
    FolkBeside or Refusal
        The rule's minutes for comparison only.
    """
    rule = folk_rule()
    same = ("published_as", "pack", "jar", "method", "option")
    if any(getattr(here, name) != getattr(at_sea_level, name) for name in same):
        return Refusal(
            "the two rows are not of one product, pack, jar and canner",
            instead="compare a row with the first band of its own table",
            source=here.source,
        )
    if here.pressure_psi is not None:
        words = (
            f"Published: {here.minutes} min at {here.pressure_psi:g} psi. Under "
            "pressure the time does not change with elevation; the pressure does."
        )
        return FolkBeside(here, None, f"{words} The rule says nothing of that.")
    thousands = max(0.0, elevation_ft - rule.above_ft) / rule.per_ft
    low, high = (at_sea_level.minutes + thousands * each for each in rule.minutes)
    said = f"{low:.0f} to {high:.0f}" if round(low) != round(high) else f"{low:.0f}"
    words = (
        f"Published for {here.band_ft}: {here.minutes} min. The rule of {rule.words} "
        f"would say {said} min at {height(elevation_ft)}, and is not used. "
        f"{rule.why_not}"
    )
    return FolkBeside(here, (low, high), words)


def folk_beside(process: Process, elevation_ft: float) -> FolkBeside | Refusal:
    """
    Set the rule beside a row, from the first band of the row's own table.

    Examples
    --------
    >>> from stillroom.book.processes import process_for
    >>> row = process_for("plum jelly", jar="pint", elevation_ft=2150)
    >>> folk_beside(row, 2150).folk_min is not None
    True
    """
    first_bands = [
        row
        for row in processes()
        if (row.published_as, row.pack, row.method, row.option)
        == (process.published_as, process.pack, process.method, process.option)
        and row.elevation_low_ft == 0
    ]
    by_jar = {row.jar: row for row in first_bands}
    first = by_jar.get(process.jar) or by_jar["pint"]  # a half-pint takes its time
    return beside_folk_rule(process, replace(first, jar=process.jar), elevation_ft)
