"""
Food packed raw: firm into the jar, and covered with boiling liquid.

Fruit, tomatoes with their acid, and vegetables for the pressure canner are packed the
same way. Nothing is cooked, so no pot is held; the liquid boils in a saucepan or a
kettle.
"""

from __future__ import annotations

from stillroom.book.procedures import Procedure
from stillroom.methods import pack_work, per_jar
from stillroom.methods.method import Filling, Kept, Recipe, Station, Work
from stillroom.refusal import Refusal

NAME = "raw_pack"
KEPT = Kept.SHELF
PER_JAR = True
PACK = "raw"

materials = per_jar.materials
checks = per_jar.checks
expected_yield = per_jar.expected_yield


def scale(procedure: Procedure, multiple: int) -> Recipe | Refusal:
    """Return the pack for a whole number of its jars."""
    return per_jar.scale(procedure, multiple, NAME)


def steps(recipe: Recipe, station: Station, filling: Filling) -> Work | Refusal:
    """Return the steps, which hold no pot."""
    return pack_work.raw_work(recipe, station, filling)
