"""
Tomatoes and their juice, packed hot, with acid in every jar.

The acid belongs to the process in boiling water and under pressure alike.
"""

from __future__ import annotations

from stillroom.book.procedures import Procedure
from stillroom.methods import pack_work, per_jar
from stillroom.methods.method import (
    Checked,
    Filling,
    Kept,
    Material,
    Recipe,
    Station,
    Work,
    Yield,
)
from stillroom.refusal import Refusal

NAME = "tomato"
KEPT = Kept.SHELF
PER_JAR = True
PACK = "hot"


def scale(procedure: Procedure, multiple: int) -> Recipe | Refusal:
    """Return the pack for a whole number of its jars."""
    return per_jar.scale(procedure, multiple, NAME)


def materials(recipe: Recipe, jar: str, jars: int) -> tuple[Material, ...]:
    """Return what it uses up: tomatoes, acid for every jar, jars, lids."""
    return per_jar.materials(recipe, jar, jars)


def checks(recipe: Recipe, station: Station) -> Checked | Refusal:
    """Return what pot and fire make of it, or why not."""
    return per_jar.checks(recipe, station)


def expected_yield(recipe: Recipe, jar: str) -> Yield | Refusal:
    """Return how many jars it fills, by the printed quantity line."""
    return per_jar.expected_yield(recipe, jar)


def steps(recipe: Recipe, station: Station, filling: Filling) -> Work | Refusal:
    """Return the steps, from the knife to the clean pot."""
    if per_jar.the_pack(recipe).milled:
        return pack_work.milled_work(recipe, station, filling)
    return pack_work.hot_work(recipe, station, filling)
