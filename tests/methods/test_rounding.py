"""Kitchen measures round so little that a batch stays what it was."""

import pytest

from stillroom.book.procedures import procedures
from stillroom.measures import read_quantity
from stillroom.methods.by_name import METHODS
from stillroom.methods.method import Part, Recipe
from stillroom.methods.portions import quantity_words
from stillroom.refusal import Refusal

RECIPES = [
    recipe
    for procedure in procedures()
    if procedure.method in METHODS
    and not METHODS[procedure.method].PER_JAR
    and not procedure.refuse
    for multiple in (1, 2, 3)
    if not isinstance(
        recipe := METHODS[procedure.method].scale(procedure, multiple), Refusal
    )
]


def written_kg(part: Part) -> float:
    """Mass of a part as its words say it."""
    assert part.mass_kg is not None
    if part.volume_m3 is None:
        return part.mass_kg
    words = read_quantity(quantity_words(part))
    return part.mass_kg * float(words.value) / part.volume_m3


@pytest.mark.parametrize(
    "recipe", RECIPES, ids=lambda r: f"{r.procedure.id}-{r.multiple}"
)
def test_the_sum_stays_within_one_per_cent(recipe: Recipe):
    weighed = [part for part in recipe.parts if part.mass_kg]
    whole = sum(part.mass_kg or 0.0 for part in weighed)
    if whole:
        assert sum(map(written_kg, weighed)) == pytest.approx(whole, rel=0.01)
