"""The jellying point as printed, by elevation: what ``science.gel`` is held to."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from importlib.resources.abc import Traversable

from stillroom.book.reader import read_rows, table
from stillroom.measures import kelvin
from stillroom.refusal import Source


@dataclass(frozen=True, slots=True)
class PublishedJellyPoint:
    """A printed jellying point."""

    elevation_ft: int
    jellying_point_f: float
    source: Source

    @property
    def jellying_point_k(self) -> float:
        """The same in kelvin. [K]"""
        return kelvin(self.jellying_point_f)


def read_jelly_points(path: Traversable) -> Mapping[int, PublishedJellyPoint]:
    """Return the points of a table by elevation in feet."""
    columns = ["elevation_ft", "jellying_point_f", "source", "how_known"]
    points = {}
    for row in read_rows(path, columns):
        elevation = row.whole("elevation_ft", 0, 10_000)
        points[elevation] = PublishedJellyPoint(
            elevation, row.number("jellying_point_f", 190, 225), row.source
        )
    return points


@cache
def jelly_points() -> Mapping[int, PublishedJellyPoint]:
    """Return all printed jellying points by elevation. [ft]"""
    return read_jelly_points(table("jelly_point"))


@dataclass(frozen=True, slots=True)
class PublishedBoilingPoint:
    """Printed boiling points of water at one elevation."""

    elevation_ft: int
    water_boils_f: float | None
    """By the table printed with the Complete Guide; `None` where it has no row. [°F]"""
    household_boils_f: float | None
    """By the household table of high-altitude cooking. [°F]"""
    source: Source


def read_boiling_points(path: Traversable) -> Mapping[int, PublishedBoilingPoint]:
    """Return the points of a table by elevation in feet."""
    columns = [
        *("elevation_ft", "water_boils_f", "household_boils_f"),
        *("source", "how_known"),
    ]
    points = {}
    for row in read_rows(path, columns):
        elevation = row.whole("elevation_ft", 0, 10_000)
        tabled = row.number_or_none("water_boils_f", 190, 215)
        household = row.number_or_none("household_boils_f", 190, 215)
        if tabled is None and household is None:
            raise row.wrong("water_boils_f", "and household_boils_f are both empty")
        points[elevation] = PublishedBoilingPoint(
            elevation, tabled, household, row.source
        )
    return points


@cache
def boiling_points() -> Mapping[int, PublishedBoilingPoint]:
    """Return all printed boiling points of water by elevation. [ft]"""
    return read_boiling_points(table("boiling_point"))
