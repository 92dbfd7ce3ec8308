"""What a recipe cooks first has its printed minutes in the plan, and its water."""

from __future__ import annotations

import pytest

from stillroom.book.procedures import answered_procedures
from stillroom.methods import pot_and_fire as fire
from stillroom.methods.by_name import METHODS
from stillroom.methods.cooked_first import cook_min, stand_min
from stillroom.methods.method import Filling
from stillroom.methods.solids import ROOM_K
from stillroom.refusal import granted
from tests.methods.test_every_part import named, work_of
from tests.one_batch_of import station

BY_ID = {procedure.id: procedure for procedure in answered_procedures()}
COOKED = {
    "preserves-apple-powdered": (10, "simmer 10 min with the water and lemon"),
    # the rinds 20 min, then the fruit with them 10 min more
    "marmalade-cranberry-powdered": (30, "add the fruit for 10 min more"),
    "jam-grape-powdered": (5, "Cook the pulp 5 min with 1 cup of water and sieve it"),
    "jam-plum-powdered": (5, "simmer 5 min with 1/2 cup of water"),
    "jelly-pepper-golden-liquid": (20, "boil 20 min with the rest, strain"),
    "conserve-grape": (10, "boil the pulp 10 min and sieve it"),
    "marmalade-citrus": (30, "Simmer the peels 30 min in the cold water"),
}
"""Minutes as their leaflets print them, read by eye."""
STANDS = "jam-apricot-none"
SPREADS = ("with_pectin", "liquid_pectin", "boiled_down")


def whole(id_: str, batches: int = 1):
    procedure = BY_ID[id_]
    return granted(METHODS[procedure.method].scale(procedure, batches))


@pytest.mark.parametrize("id_", COOKED)
def test_what_cooks_first_has_its_minutes_before_the_boil(id_):
    recipe, work = work_of(BY_ID[id_])
    printed, words = COOKED[id_]
    (first,) = [step for step in work.steps if step.id == "cook_first"]
    wet = sum(p.mass_kg or 0.0 for p in recipe.of_role("fruit", "liquid", "acid"))
    to_boil = fire.heat_up_min(wet, 0.12, station(pot_l=30.0), ROOM_K)
    assert printed + to_boil <= first.duration_min < printed + to_boil + 1
    assert f"{printed} min in all once it simmers" in first.verb
    assert words in first.note
    assert (first.in_pot, first.attention_quarters) == (True, 1)
    assert first.burner_w > 0
    links = {(link.before, link.after) for link in work.links}
    assert {("crush", "cook_first"), ("cook_first", "to_boil")} <= links


def test_no_other_spread_cooks_or_stands_before_its_boil():
    spreads = [p for p in BY_ID.values() if p.method in SPREADS]
    assert {p.id for p in spreads if cook_min(whole(p.id))} == set(COOKED)
    assert {p.id for p in spreads if stand_min(whole(p.id))} == {STANDS}
    (_, jelly) = work_of(BY_ID["jelly-plum-powdered"])  # its juice is cooked before
    assert not any(step.id == "cook_first" for step in jelly.steps)


def test_what_comes_out_of_a_can_is_not_cooked_first():
    """Dried apricots are, 20 min in their own water: that is told with the fruit."""
    recipe, work = work_of(BY_ID["conserve-apricot-orange"])
    assert cook_min(recipe) == 0
    assert "cook 1 lb of dried ones 20 min in 3 cups of water" in named(work, "crush")


def test_a_puree_comes_to_the_boil_in_its_vinegar():
    """Golden pepper jelly: its minutes are counted from the boil, not from cold."""
    _, work = work_of(BY_ID["jelly-pepper-golden-liquid"])
    (first,) = [step for step in work.steps if step.id == "cook_first"]
    assert first.duration_min > 20


def test_fruit_that_stands_with_its_sugar_stands_an_hour():
    _, work = work_of(BY_ID[STANDS])
    waits = {
        link.before: link.at_least_min
        for link in work.links
        if link.after == "to_boil" and link.at_least_min
    }
    assert waits == {"crush": 60, "measure_sugar": 60}
    assert "stand an hour with the sugar" in named(work, "crush")


def test_water_of_one_batch_is_said_to_be_that():
    twice = whole("jam-plum-powdered", 2)
    method = METHODS[twice.procedure.method]
    filling = Filling(jar="half-pint", jars=4, process=None)
    work = granted(method.steps(twice, station(pot_l=30.0), filling))
    assert named(work, "cook_first").endswith("6 cups (so printed for one batch)")
