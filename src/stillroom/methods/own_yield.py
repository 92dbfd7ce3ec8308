"""What one batch of the keeper's own recipe fills, and what its ingredients weigh."""

from __future__ import annotations

from stillroom.measures import kitchen_mass, writes_metric
from stillroom.methods.by_name import METHODS
from stillroom.methods.method import Yield
from stillroom.methods.own_class import Classed, ColdOnly, as_procedure
from stillroom.methods.own_recipe import Measured, OwnRecipe
from stillroom.refusal import Refusal, granted

HOLDS = {True: "holds", False: "refused", None: "shown"}
"""What a line of evidence decides, in a word."""


def expected_jars(own: OwnRecipe, answer: Classed | ColdOnly) -> Yield | None:
    """Jars that one batch is expected to fill, where it has a process."""
    if isinstance(answer, ColdOnly):
        return None
    method = METHODS[own.method]
    recipe = method.scale(granted(as_procedure(own)), 1)
    if isinstance(recipe, Refusal):
        return None
    expected = method.expected_yield(recipe, own.jar)
    return None if isinstance(expected, Refusal) else expected


def weights(measured: Measured) -> list[tuple[str, str, str]]:
    """
    Each ingredient as written, its weight in kitchen words, and who says so.

    Weights are in grams where one of them was written in litres or grams.
    """
    metric = writes_metric(*(i.given.quantity for i in measured.ingredients))
    rows = []
    for i in measured.ingredients:
        weight = (
            "not weighed"
            if i.mass_kg is None
            else kitchen_mass(i.mass_kg, metric=metric)
        )
        known = "" if i.source is None else f"{i.source} ({i.source.how_known})"
        said = " ".join(part for part in (i.given.quantity, i.given.name) if part)
        rows.append((said, weight, known.replace("_", " ")))
    return rows
