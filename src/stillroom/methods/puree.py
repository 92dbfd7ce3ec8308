"""Applesauce and fruit purée: cooked soft, milled, and filled boiling."""

from __future__ import annotations

from stillroom.book.procedures import Procedure
from stillroom.methods import pack_work, per_jar
from stillroom.methods.method import Filling, Kept, Recipe, Station, Work
from stillroom.refusal import Refusal

NAME = "puree"
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
    """Return the steps, from the knife to the clean pot."""
    return pack_work.milled_work(recipe, station, filling)
