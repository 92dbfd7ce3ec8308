"""
Apple and grape juice: poured off its sediment, brought to the boil, filled at once.

The juice stands cold for 24 to 48 h before this day (Complete Guide, Guide 2), so that
sediment and tartrate settle: pressing or simmering the fruit is the work of an evening
before, and the juice is a lot on the shelf.
"""

from __future__ import annotations

from stillroom.book.procedures import Procedure
from stillroom.methods import pack_work, per_jar
from stillroom.methods.method import Filling, Kept, Recipe, Station, Work
from stillroom.refusal import Refusal

NAME = "juice"
KEPT = Kept.SHELF
PER_JAR = True
PACK = "hot"

materials = per_jar.materials
checks = per_jar.checks
expected_yield = per_jar.expected_yield


def scale(procedure: Procedure, multiple: int) -> Recipe | Refusal:
    """Return the pack for a whole number of its jars."""
    return per_jar.scale(procedure, multiple, NAME)


def steps(recipe: Recipe, station: Station, filling: Filling) -> Work | Refusal:
    """Return the steps, from pouring off to the clean pot."""
    return pack_work.hot_work(recipe, station, filling)
