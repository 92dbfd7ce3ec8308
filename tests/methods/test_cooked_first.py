"""What a recipe cooks before the pan is said, with the water that it takes."""

from __future__ import annotations

import pytest

from stillroom.book.procedures import answered_procedures
from stillroom.methods.by_name import METHODS
from stillroom.methods.cooked_first import cooked_first, cooked_first_cautions
from stillroom.refusal import granted
from tests.methods.test_every_part import work_of

BY_ID = {procedure.id: procedure for procedure in answered_procedures()}
COOKED = {
    "preserves-apple-powdered": "simmer 10 min with the water and lemon",
    "marmalade-cranberry-powdered": "Simmer the rinds 20 min in the water",
    "jam-grape-powdered": "Cook the pulp 5 min with 1 cup of water and sieve it",
    "jam-plum-powdered": "simmer 5 min with 1/2 cup of water",
    "jelly-pepper-golden-liquid": "boil 20 min with the rest, strain",
    "jam-apricot-none": "let them stand an hour with the sugar",
    "conserve-grape": "boil the pulp 10 min and sieve it",
    "conserve-apricot-orange": "cook 1 lb of dried ones 20 min in 3 cups of water",
    "marmalade-citrus": "Simmer the peels 30 min in the cold water and drain them",
}
SPREADS = ("with_pectin", "liquid_pectin", "boiled_down")


@pytest.mark.parametrize("id_", COOKED)
def test_what_cooks_before_the_pan_is_told_with_the_fruit_and_as_a_caution(id_):
    recipe, work = work_of(BY_ID[id_])
    (fruit,) = [step for step in work.steps if step.id == "crush"]
    assert "before the pan: " in fruit.note
    assert COOKED[id_] in fruit.note
    (caution,) = cooked_first_cautions(recipe)
    assert COOKED[id_] in caution.text
    assert "The plan has no minutes for it" in caution.text


def test_no_other_spread_is_said_to_cook_before_its_pan():
    found = {
        procedure.id
        for procedure in BY_ID.values()
        if procedure.method in SPREADS
        and cooked_first(granted(METHODS[procedure.method].scale(procedure, 1)))
    }
    assert found == set(COOKED)


def test_water_of_one_batch_is_said_to_be_that():
    jam = BY_ID["jam-plum-powdered"]
    twice = granted(METHODS[jam.method].scale(jam, 2))
    assert cooked_first(twice).endswith("6 cups (so printed for one batch)")
