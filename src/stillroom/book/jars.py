"""Jars by the sizes that published tables name, and when they must be sterilised."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from importlib.resources.abc import Traversable
from math import ceil, isfinite

from stillroom.book.never import never_jars
from stillroom.book.reader import read_rows, table
from stillroom.book.words import holds, plain, tokens
from stillroom.in_a_list import all_of
from stillroom.refusal import Refusal, Source


@dataclass(frozen=True, slots=True)
class Jar:
    """A jar size that a published table names."""

    name: str
    """``half-pint``, ``pint``, ``quart`` or ``half-gallon``."""
    volume_m3: float
    """What its name says it holds, without headspace. [m³]"""
    cups: Fraction
    """The same by the cup, exact. [cup]"""
    aliases: tuple[str, ...]
    source: Source


def read_jars(path: Traversable) -> tuple[Jar, ...]:
    """Return the jars of a table, smallest first."""
    columns = ["jar", "aliases", "volume_fl_oz", "volume_ml", "source", "how_known"]
    jars = []
    for row in read_rows(path, columns):
        ounces = row.number("volume_fl_oz", 1, 128)
        millilitres = row.number("volume_ml", 20, 4000)
        if abs(millilitres / ounces - 29.5735) > 0.001:
            raise row.wrong("volume_ml", "and volume_fl_oz are not the same volume")
        jars.append(
            Jar(
                row.text("jar"),
                millilitres / 1e6,
                Fraction(ounces) / 8,
                row.words("aliases"),
                row.source,
            )
        )
    return tuple(sorted(jars, key=lambda jar: jar.volume_m3))


@cache
def jars() -> tuple[Jar, ...]:
    """Return all jars that published tables name, smallest first."""
    return read_jars(table("jars"))


def jar_named(text: str) -> Jar | Refusal:
    """
    Return the jar that is meant by ``text``: "half pint", "8 oz", "Quarts".

    A size that no published row names is refused: a time is for its own jar only.

    Examples
    --------
    >>> jar_named("8 oz").name
    'half-pint'
    """
    wanted = plain(text)
    for jar in jars():
        if wanted in {plain(jar.name), *(plain(alias) for alias in jar.aliases)}:
            return jar
    for never in never_jars():
        if any(holds(tokens(text), phrase) for phrase in never.phrases):
            return never.refusal
    allowed = ", ".join(jar.name for jar in jars())
    return Refusal(
        f"{text!r} is not a jar size that a published process here names",
        instead=f"use one of {allowed}; a process time is for its own jar only",
        source="USDA Complete Guide to Home Canning (AIB 539), jar sizes of its tables",
    )


def may_fill(jar: str, printed: Sequence[str]) -> bool:
    """
    Whether a recipe may fill a jar: a printed one, or a half-pint in place of a pint.

    A jar that is smaller than any printed takes the process time of the next size: that
    is published (NCHFP; the row ``half-pint-as-pint`` of the canner's rules), and no
    time is published for a larger one.

    >>> may_fill("half-pint", ("pint", "quart")), may_fill("quart", ("pint",))
    (True, False)
    """
    return jar in printed or (jar == "half-pint" and "pint" in printed)


def not_printed_for(
    jar: str, recipe: str, printed: Sequence[str], *, source: str
) -> Refusal:
    """
    Refuse a jar that a recipe is not printed for.

    >>> no = not_printed_for("pint", "figs", ("half-pint", "quart"), source="a leaflet")
    >>> print(no.reason); print(no.instead)
    the recipe of figs is printed for half-pint and quart jars, not for pint
    fill half-pint jars
    """
    return Refusal(
        f"the recipe of {recipe} is printed for {all_of(printed)} jars, not for {jar}",
        instead=f"fill {printed[0]} jars",
        source=source,
    )


def jar_volume_m3(text: str) -> float | Refusal:
    """
    Return what a jar holds by its name, without headspace. [m³]

    Examples
    --------
    >>> print(f"{jar_volume_m3('half-pint') * 1e6:.1f} mL")
    236.6 mL
    """
    jar = jar_named(text)
    return jar if isinstance(jar, Refusal) else jar.volume_m3


@dataclass(frozen=True, slots=True)
class SteriliseRule:
    """When and how long empty jars are boiled."""

    boil_min: int
    more_min_per_1000_ft: int
    needed_below_min: int
    source: Source


def read_sterilise(path: Traversable) -> SteriliseRule:
    """Return the rule of a table; it needs all three of its rows."""
    rows = {
        row.text("rule"): row
        for row in read_rows(
            path, ["rule", "value", "unit", "note", "source", "how_known"]
        )
    }
    names = (
        "boil empty jars",
        "more for elevation",
        "needed below a process of",
    )
    for name in names:
        if name not in rows:
            raise next(iter(rows.values())).wrong("rule", f"{name!r} is missing")
    boil, more, below = (rows[name].whole("value", 1, 60) for name in names)
    return SteriliseRule(boil, more, below, rows[names[0]].source)


@cache
def sterilise_rule() -> SteriliseRule:
    """Return the published rule for sterilising empty jars."""
    return read_sterilise(table("sterilise"))


def sterilise_jars_min(elevation_ft: float) -> int:
    """
    Minutes for which empty jars are boiled at an elevation. [min]

    Ten, and one more for each thousand feet begun above 1,000 ft.

    Examples
    --------
    >>> sterilise_jars_min(800), sterilise_jars_min(2150)
    (10, 12)
    """
    if not isfinite(elevation_ft):
        raise ValueError(f"elevation_ft = {elevation_ft} is not an elevation")
    rule = sterilise_rule()
    thousands = max(0, ceil((elevation_ft - 1000) / 1000))
    return rule.boil_min + thousands * rule.more_min_per_1000_ft


def needs_sterile_jars(process_min: int, pressure_psi: float | None) -> bool:
    """
    Whether jars are boiled empty before such a process; never before a pressure canner.

    Parameters
    ----------
    process_min : int
        The published time, without anybody's own margin. [min]
    pressure_psi : float or None
        `None` in boiling water.

    Examples
    --------
    >>> needs_sterile_jars(5, None), needs_sterile_jars(10, None)
    (True, False)
    >>> needs_sterile_jars(8, 6.0)
    False
    """
    return pressure_psi is None and process_min < sterilise_rule().needed_below_min


def clean_jars_words(process_min: int) -> str:
    """
    Say that jars need not be sterilised; empty where a process is too short for that.

    Examples
    --------
    >>> clean_jars_words(10)
    'Jars need no sterilising: the process has 10 min or more; clean and hot will do.'
    >>> clean_jars_words(5)
    ''
    """
    least = sterilise_rule().needed_below_min
    if process_min < least:
        return ""
    return (
        f"Jars need no sterilising: the process has {least} min or more; clean and hot "
        "will do."
    )
