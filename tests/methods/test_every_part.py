"""Nothing that a recipe takes is missing from the words of its steps."""

import pytest

from stillroom.book.procedures import procedures
from stillroom.methods.by_name import METHODS
from stillroom.methods.every_part import naming_every_part
from stillroom.methods.method import Filling, Work
from stillroom.methods.portions import uses
from stillroom.refusal import Refusal, granted
from tests.one_batch_of import station

BY_ID = {procedure.id: procedure for procedure in procedures()}


def work_of(procedure):
    method = METHODS[procedure.method]
    recipe = granted(method.scale(procedure, 1))
    jar = (procedure.jars or ("half-pint",))[0]
    filling = Filling(jar=jar, jars=4, process=None)
    work = method.steps(recipe, station(pot_l=30.0), filling)
    return recipe, naming_every_part(recipe, work) if isinstance(work, Work) else None


def named(work, step):
    (found,) = [one for one in work.steps if one.id == step]
    return found.note


@pytest.mark.parametrize(
    "procedure",
    [
        p
        for p in procedures()
        if not p.refuse
        and p.method in METHODS
        and not isinstance(METHODS[p.method].scale(p, 1), Refusal)
    ],
    ids=lambda p: p.id,
)
def test_every_part_is_named_in_some_step(procedure):
    recipe, work = work_of(procedure)
    if work is None:  # asks for a process, which the packs' own tests give it
        return
    words = " ".join(f"{step.verb} {step.note}" for step in work.steps)
    evening = getattr(METHODS[procedure.method], "evening_before", None)
    words += " ".join(evening(recipe) if evening else ())  # salt of what stands in it
    parts = [p for p in recipe.parts if p.role not in ("fruit", "soak")]
    assert [p.name for p in parts if p.name not in words] == []
    # and it is known from when on it is in jars, boxes, a crock or on trays
    assert any(step.put_up for step in work.steps)
    closed = {"wipe_and_lid", "label", "close", "weigh_down", "start"}
    order = [step.id for step in work.steps if step.put_up or step.id in closed]
    assert order[0] not in closed


def test_what_goes_into_the_jar_goes_into_the_jar():
    _, work = work_of(BY_ID["pickle-bell-peppers"])
    assert "garlic, half a clove to a half-pint" in named(work, "fill")
    assert "canning salt, 1/4 tsp to a half-pint" in named(work, "fill")
    _, dill = work_of(BY_ID["pickle-dill-quick"])
    assert "mustard seed, whole, 1 tsp to a pint" in named(dill, "pack_raw")
    assert "garlic" not in named(work, "brine")


def test_what_goes_in_late_goes_in_late():
    _, work = work_of(BY_ID["relish-corn"])
    assert "celery seed" in named(work, "brine")
    assert "turmeric" in named(work, "cook")
    assert "dry mustard" in named(work, "cook")


def test_nuts_come_at_the_end():
    _, work = work_of(BY_ID["conserve-grape"])
    assert "nuts" in named(work, "test")
    assert "nuts" not in named(work, "to_boil")


@pytest.mark.parametrize("recipe", ["relish-piccalilli", "pickle-quick-sweet"])
def test_salt_that_vegetables_stood_in_is_not_put_into_the_brine(recipe):
    _, work = work_of(BY_ID[recipe])
    assert "salt" not in named(work, "brine")


@pytest.mark.parametrize(
    ("recipe", "step", "part"),
    [
        ("pickle-hot-peppers", "brine", "2 cloves garlic"),
        ("pickle-dill-quick", "pack_raw", "3 tbsp mustard seed"),
        ("pickle-reduced-sodium-dill", "pack_raw", "8 dill heads"),
        ("jelly-mint-liquid", "to_boil", "3 1/2 cups sugar"),
        ("jam-cherry-freezer-liquid", "stir_in", "1/4 cup lemon juice"),
        ("conserve-grape", "to_boil", "1 cup raisins"),
        ("marmalade-cranberry-powdered", "crush", "1 lb cranberries"),
        ("preserves-apple-powdered", "crush", "1/2 lemon, thin slices, if wanted"),
        ("pickle-mixed-vegetables", "prepare", "2 cups cauliflower, flowerets"),
        ("chutney-cranberry-orange", "prepare", "2 cups raisins, golden"),
    ],
)
def test_a_step_says_how_much_of_it_goes_in(recipe, step, part):
    """The printed order names it, and a verb may: neither says how much."""
    _, work = work_of(BY_ID[recipe])
    assert part in named(work, step)


def test_dill_of_the_jar_is_not_boiled_in_the_brine():
    _, work = work_of(BY_ID["pickle-reduced-sodium-dill"])
    assert "dill" not in named(work, "brine")


def test_what_has_no_more_said_of_it_ends_without_a_comma():
    _, work = work_of(BY_ID["conserve-apple-powdered"])
    assert named(work, "crush").endswith("1/2 cup raisins")


@pytest.mark.parametrize(
    ("recipe", "takes"),
    [
        ("jam-berry-powdered", "bottled lemon juice"),  # printed so
        ("jam-peach-powdered", "lemon juice"),
    ],
)
def test_acid_that_is_printed_as_bottled_is_asked_for_as_bottled(recipe, takes):
    made, _ = work_of(BY_ID[recipe])
    assert [m.name for m in uses(made) if "lemon" in m.name] == [takes]
