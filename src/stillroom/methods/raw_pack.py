"""
Food packed raw: firm into the jar, and covered with boiling liquid.

Fruit, tomatoes with their acid, and vegetables for the pressure canner are packed the
same way. Nothing is cooked, so no pot is held; the liquid boils in a saucepan or a
kettle.
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

NAME = "raw_pack"
KEPT = Kept.SHELF
PER_JAR = True
PACK = "raw"


def scale(procedure: Procedure, multiple: int) -> Recipe | Refusal:
    """Return the pack for a whole number of its jars."""
    return per_jar.scale(procedure, multiple, NAME)


def materials(recipe: Recipe, jar: str, jars: int) -> tuple[Material, ...]:
    """Return what it uses up: food, sugar, acid where it is due, jars, lids."""
    return per_jar.materials(recipe, jar, jars)


def checks(recipe: Recipe, station: Station) -> Checked | Refusal:
    """Return what the fire make of it, or why not."""
    return per_jar.checks(recipe, station)


def expected_yield(recipe: Recipe, jar: str) -> Yield | Refusal:
    """Return how many jars it fills, by the printed quantity line."""
    return per_jar.expected_yield(recipe, jar)


def steps(recipe: Recipe, station: Station, filling: Filling) -> Work | Refusal:
    """Return the steps, which hold no pot."""
    return pack_work.raw_work(recipe, station, filling)
