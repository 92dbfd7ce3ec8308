"""Every step, read aloud: nothing twice, nothing that contradicts its recipe."""

from __future__ import annotations

import pytest

from stillroom.book.packs import pack_procedure, packs
from stillroom.book.procedures import procedures
from stillroom.book.processes import Process, process_for
from stillroom.book.words import tokens
from stillroom.methods.by_name import METHODS
from stillroom.methods.every_part import naming_every_part
from stillroom.methods.in_halves import in_halves
from stillroom.methods.method import Filling, Recipe, Work
from stillroom.methods.portions import uses
from stillroom.methods.recipes import own_pack, process_name, recipe_named
from stillroom.refusal import Refusal, granted
from tests.one_batch_of import method_of, recipe_of, station, step_of

RECIPES = {
    **{p.id: p for p in procedures() if not p.refuse and p.method in METHODS},
    **{p.id: granted(pack_procedure(p)) for p in packs()},
}


def read(product: str, jar: str = "pint", jars: int = 4, times: int = 1) -> Work:
    """The steps of a product with every part named, as a keeper reads them."""
    recipe = recipe_of(product, times, jar)
    filling = Filling(jar=jar, jars=jars, process=process_of(recipe, jar))
    work = granted(method_of(recipe.procedure).steps(recipe, station(40), filling))
    return naming_every_part(recipe, work)


def by_id(id_: str) -> Work | None:
    """The steps of a recipe by its id; `None` where the book has none."""
    procedure = RECIPES[id_]
    recipe = METHODS[procedure.method].scale(procedure, 1)
    if isinstance(recipe, Refusal):
        return None
    jar = (procedure.jars or ("half-pint",))[-1]
    filling = Filling(jar=jar, jars=4, process=process_of(recipe, jar))
    work = granted(METHODS[procedure.method].steps(recipe, station(40), filling))
    return naming_every_part(recipe, work)


def process_of(recipe: Recipe, jar: str) -> Process | None:
    """Its published process at 2,150 ft, in boiling water or under pressure."""
    procedure = recipe.procedure
    for canner in ("boiling-water", "dial-gauge"):
        found = process_for(
            process_name(procedure),
            jar=jar,
            elevation_ft=2150,
            pack=METHODS[procedure.method].PACK or own_pack(procedure),
            canner=canner,
        )
        if not isinstance(found, Refusal):
            return found
    return None


@pytest.mark.parametrize("id_", RECIPES)
def test_no_step_says_a_thing_twice(id_):
    """Beets: "Slip off the skins", and behind it "Slip off the skins" once more."""
    work = by_id(id_)
    for step in work.steps if work else ():
        clauses = [c for c in step.note.replace("; ", " · ").split(" · ") if c]
        verb = tokens(step.verb)
        for clause in clauses:
            said = tokens(clause)
            assert len(said) < 3 or not set(said) <= set(verb), (step.verb, clause)
        assert len(clauses) == len(set(clauses)), step.note


def test_beets_and_corn_are_trimmed_once():
    assert step_of(read("beets"), "trim").note == ""
    assert step_of(read("whole-kernel corn"), "trim").note == "do not scrape the cob"


def test_halves_say_of_how_much_they_are_halves():
    """It read "both halves together: 10.0 lb", and so of jars "look for nicks"."""
    pears = in_halves(read("pears", jars=40, times=40), lambda step: True)
    cut = step_of(pears, "cut")
    assert cut.verb.endswith(": half of it")
    assert cut.note.startswith("in all ")
    washed = "look for nicks with a fingertip; the one to spare too"
    assert step_of(pears, "wash_jars").note == washed


def test_a_jar_to_spare_that_is_heated_was_washed():
    """ "Wash 7 jars", and then "stand 7 in hot water, one jar to spare"."""
    for id_ in RECIPES:
        work = by_id(id_)
        notes = {s.id: s.note for s in work.steps} if work else {}
        if "heat_jars" in notes:
            spare = "to spare" in notes["heat_jars"]
            assert ("to spare" in notes["wash_jars"]) is spare, id_


@pytest.mark.parametrize(
    ("product", "verb", "gone"),
    [
        ("apple butter", "Wash, quarter and core apples", "no core"),
        ("grape butter", "Wash, stem and pick over grapes", "no leaf"),
        ("plum butter", "Wash, halve and stone plums", "no stone"),
        ("peach butter", "Wash, halve and stone peaches", "no stone"),
    ],
)
def test_fruit_of_a_butter_is_cut_as_such_fruit_is(product, verb, gone):
    """Grapes were quartered and cored."""
    cut = step_of(read(product), "cut")
    assert cut.verb == verb
    assert gone in cut.end_sign


def test_what_fruit_is_softened_in_is_what_is_printed():
    """Apples in cider and vinegar; the orange juice of pears is no water to cook in."""
    apples = step_of(read("apple butter"), "soften").note
    assert apples == "2 cups apple cider · 2 cups vinegar 5%"
    pears = read("pear butter")
    assert step_of(pears, "soften").note == "a little water at the bottom"
    assert "1/3 cup orange juice" in step_of(pears, "cook_down").note
    assert step_of(by_id("butter-plum"), "soften").note == "water to cover"


def test_juice_that_goes_in_with_the_pulp_softens_no_fruit():
    """Apricots, which no process is printed for, in 1 cup of water, and sieved."""
    printed = next(p for p in procedures() if p.id == "butter-apricot")
    recipe = granted(METHODS["butter"].scale(printed, 1))
    filling = Filling(jar="pint", jars=4, process=None)
    apricots = granted(METHODS["butter"].steps(recipe, station(40), filling))
    assert step_of(apricots, "soften").note == "1 cup water"
    assert "1/3 cup orange juice" in step_of(apricots, "cook_down").note


def test_what_was_cooked_first_is_not_put_in_a_second_time():
    """The vinegar of golden pepper jelly was named at both boils, 3 cups in all."""
    pepper = by_id("jelly-pepper-golden-liquid")
    assert "1 1/2 cups vinegar 5%" in step_of(pepper, "cook_first").note
    assert step_of(pepper, "to_boil").note == "what was cooked first · 7 cups sugar"
    apple = by_id("preserves-apple-powdered")
    assert step_of(apple, "cook_first").note.endswith(
        "1 cup water · 1 tbsp lemon juice, bottled"
    )
    assert "water" not in step_of(apple, "to_boil").note
    assert "what was cooked first: 6 cups apples" in step_of(apple, "to_boil").note
    berry = by_id("marmalade-cranberry-powdered")
    assert "3 cups water" in step_of(berry, "cook_first").note
    assert "water" not in step_of(berry, "to_boil").note
    # what is drained off, and what goes in raw, is named where it goes in
    citrus = step_of(by_id("marmalade-citrus"), "to_boil").note
    assert "2 cups water" in citrus
    assert "4 oranges" in citrus
    assert "1 orange" in step_of(by_id("conserve-grape"), "to_boil").note


@pytest.mark.parametrize(
    ("id_", "verb"),
    [
        ("jam-strawberry-powdered", "Wash and crush the fruit"),
        ("jam-grape-powdered", "Wash and crush the fruit"),
        ("jelly-mint-liquid", "Wash and cut the mint leaves"),
        ("jelly-pepper-hot-liquid", "Wash and cut the hot peppers and sweet green pep"),
        ("jelly-grape-concentrate-liquid", "Measure the grape juice concentrate"),
        ("conserve-apricot-orange", "Drain and cut the canned or cooked dried apr"),
        ("jam-pear-powdered", "Wash and cut the pears"),
        (
            "conserve-grape",
            "Wash the grapes, orange and raisins, and cut the orange",
        ),
    ],
)
def test_fruit_is_crushed_where_it_is_crushed(id_, verb):
    """Mint leaves and a can of concentrate were to be washed and crushed."""
    assert step_of(by_id(id_), "crush").verb.startswith(verb)


def test_what_is_dried_is_blanched_once_in_so_many_goes():
    """It read "Into boiling water or steam, 6 min, 1 times"; pears are steamed."""
    recipe = recipe_named("dried pears", jar="pint")
    made = granted(METHODS["dry"].scale(granted(recipe), 12))
    filling = Filling(jar="pint", jars=4, process=None)
    work = granted(METHODS["dry"].steps(made, station(40), filling))
    assert step_of(work, "treat").verb == "Steam 6 min, in 10 goes"
    assert "times" not in step_of(work, "treat").verb


def test_apples_for_the_dryer_are_held_in_what_is_printed():
    """It read "Hold it against browning", until "held in water with lemon juice"."""
    recipe = granted(recipe_named("dried apples", jar="pint"))
    made = granted(METHODS["dry"].scale(recipe, 6))
    filling = Filling(jar="pint", jars=2, process=None)
    treat = step_of(granted(METHODS["dry"].steps(made, station(12), filling)), "treat")
    assert treat.verb == (
        "Hold the apples in water with lemon juice or ascorbic acid against browning"
    )
    assert treat.end_sign == "all of it under water"


def test_what_is_frozen_is_blanched_once_in_so_many_goes():
    """ "Blanch 7 min, 3 times" is 21 min to who reads it at the stove."""
    recipe = recipe_of("frozen green beans", 12, "pint")
    filling = Filling(jar="pint", jars=12, process=None)
    work = granted(METHODS["freeze"].steps(recipe, station(12), filling))
    assert step_of(work, "blanch").verb == "Blanch 3 min, in 5 goes"
    checked = granted(METHODS["freeze"].checks(recipe, station(12)))
    assert "blanched 3 min, in 5 goes; " in checked.outlook


def test_one_quart_is_one_and_boiling_water_boils_once():
    recipe = recipe_of("beets", jar="quart")
    checked = granted(method_of(recipe.procedure).checks(recipe, station(40)))
    assert checked.outlook.startswith("1 quart, packed hot")
    raw = granted(recipe_named("green beans packed raw", jar="quart"))
    assert raw.order_of_adding == "packed raw; boiling water over it"


@pytest.mark.parametrize("id_", ["jam-fig-liquid", "jam-pear-apple-liquid"])
def test_acid_that_must_be_bottled_is_said_so_at_the_pot_and_on_the_list(id_):
    """Figs are acid by their lemon juice alone, and any on the shelf was taken."""
    recipe = granted(METHODS[RECIPES[id_].method].scale(RECIPES[id_], 1))
    assert "bottled lemon juice" in {need.name for need in uses(recipe)}
    notes = " ".join(step.note for step in by_id(id_).steps)
    assert "lemon juice, bottled" in notes
    assert "bottled, bottled" not in notes
