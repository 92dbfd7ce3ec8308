"""Fresh-pack pickles: printed proportions, printed hours, the published process."""

import pytest

from stillroom.book.pickle_steps import boil_of, stands_of
from stillroom.book.procedures import procedure_for, procedures
from stillroom.book.processes import process_for
from stillroom.methods import multiples, pickle
from stillroom.methods import pot_and_fire as fire
from stillroom.methods.method import Filling
from stillroom.methods.solids import ROOM_K
from stillroom.refusal import Refusal, granted
from tests.one_batch_of import ids_of, recipe_of, station, step_of, work_of

PICKLES = [p for p in procedures() if p.method == pickle.NAME and not p.refuse]
ON_THE_SHELF = [p for p in PICKLES if p.keeping == "shelf"]


@pytest.mark.parametrize("procedure", ON_THE_SHELF, ids=lambda p: p.id)
def test_packs_are_those_that_have_a_published_process(procedure):
    published = {
        pack
        for pack in ("hot", "raw")
        if not isinstance(
            process_for(
                procedure.name, jar=procedure.jars[0], elevation_ft=500, pack=pack
            ),
            Refusal,
        )
    }
    assert set(granted(boil_of(procedure.id)).packs) == published


@pytest.mark.parametrize("procedure", PICKLES, ids=lambda p: p.id)
def test_hours_of_standing_are_those_of_the_recipe(procedure):
    """The recipe's own words hold the same hours, typed apart from the table."""
    for stand in stands_of(procedure.id):
        assert stand.hours in procedure.base_prep


@pytest.mark.parametrize("procedure", ON_THE_SHELF, ids=lambda p: p.id)
def test_every_pickle_makes_sound_steps(procedure):
    jar = "pint" if "pint" in procedure.jars else procedure.jars[0]
    made = recipe_of(procedure.name, jar=jar)
    work = work_of(made, jar, 8)
    first = "cook" if granted(boil_of(procedure.id)).timed == "together" else "brine"
    assert {first, "fill", "wipe_and_lid"} <= set(ids_of(work))
    names = [m.name for m in pickle.materials(made, jar, 8)]
    assert names[0] == made.base.name
    assert "vinegar 5%" in names
    assert names[-2:] == [f"{jar} jars", "lids"]
    assert not {"water", "ice"} & set(names)


def test_raw_pack_is_filled_with_boiling_brine():
    work = work_of(recipe_of("dilled beans"))
    links = {(link.before, link.after): link for link in work.links}
    assert links["brine", "fill"].at_most_min == pickle.POUR_WITHIN_MIN
    assert "cook" not in ids_of(work)
    by_the_jar = step_of(work, "pack_raw").note
    assert "garlic, 1 clove to a pint" in by_the_jar
    assert "dill heads, 1 to a pint" in by_the_jar
    assert "pepper flakes, 1/4 tsp to a pint" in by_the_jar  # it read "0.25 tsp"


def test_a_pickle_with_two_packs_follows_the_process_of_its_jars():
    made = recipe_of("quick sweet pickles")
    assert "cook" in ids_of(work_of(made, pack="hot"))
    assert "pack_raw" in ids_of(work_of(made, pack="raw"))


def test_boils_are_timed_where_they_are_printed():
    """Bread-and-butter: the syrup 10 min; zucchini: 5 min with them in it."""
    at = station(burner_w=3500)
    bread = work_of(recipe_of("bread-and-butter pickles"), at=at)
    assert "10 min" in step_of(bread, "brine").verb
    assert "min" not in step_of(bread, "cook").verb
    zucchini = work_of(recipe_of("bread-and-butter zucchini"), at=at)
    assert "min" not in step_of(zucchini, "brine").verb
    assert "5 min" in step_of(zucchini, "cook").verb
    corn = work_of(recipe_of("corn relish"), at=at)
    assert "5 min" in step_of(corn, "brine").verb
    assert "5 min" in step_of(corn, "cook").verb


def test_brine_of_dilled_beans_by_hand():
    """
    2 1/2 cups each of water and vinegar with 72 g of salt: 1.26 kg from 20 to 97.8 °C.

    At about 4.0 kJ/(kg K) 0.39 MJ; 3.5 kW x 0.40 - 0.15 kW = 1.25 kW: 5.3 min.
    """
    made = recipe_of("dilled beans")
    assert pickle.brine_kg(made) == pytest.approx(0.5925 + 0.5975 + 0.072)
    assert step_of(work_of(made), "brine").duration_min == 6


def test_three_to_four_hours_stand_within_the_day():
    work = work_of(recipe_of("bread-and-butter pickles"))
    stand = step_of(work, "stand_1")
    assert (stand.duration_min, stand.attention_quarters) == (180, 0)
    links = {(link.before, link.after): link for link in work.links}
    assert links["stand_1", "drain"].at_most_min == 60
    assert pickle.evening_before(recipe_of("bread-and-butter pickles")) == ()


@pytest.mark.parametrize(
    ("product", "words"),
    [
        ("quick fresh-pack dill pickles", "The evening before"),
        ("piccalilli", "The evening before"),
        ("pickle relish", "The day before"),
    ],
)
def test_what_stands_longer_is_begun_before(product, words):
    made = recipe_of(product)
    (line,) = pickle.evening_before(made)
    assert line.startswith(words)
    checked = granted(pickle.checks(made, station()))
    assert line in {caution.text for caution in checked.cautions}
    ids = ids_of(work_of(made))
    assert ids[0] == ("from_cold" if product == "pickle relish" else "drain")
    assert "prepare" not in ids


def test_salt_goes_where_the_recipe_has_it():
    """USDA Guide 6: 1/3 cup salts the cucumbers; the brine is vinegar and sugar."""
    work = work_of(recipe_of("quick sweet pickles"), "pint", 8)
    brine = step_of(work, "brine")
    assert "1/3 cup canning salt over it" in step_of(work, "prepare").note
    assert "salt" not in brine.verb + brine.note
    assert brine.note.startswith("4 1/2 cups sugar · 3 1/2 cups vinegar 5%")


def test_salt_of_a_soak_is_told_the_evening_before_and_the_rest_in_the_brine():
    """3/4 of 1 1/4 cups are for the soak: all of it in the brine was 2 1/2 times."""
    made = recipe_of("quick fresh-pack dill pickles")
    (line,) = pickle.evening_before(made)
    assert "for 1 batch: wash and cut 8 lb pickling cucumbers" in line
    assert "2 gallons water and 3/4 cup canning salt" in line
    assert line.endswith("Keep 1/2 cup canning salt for the brine.")
    brine = step_of(work_of(made, "quart", 4), "brine")
    assert "1/2 cup canning salt, the rest of the 1 1/4 cups" in brine.note
    assert "1/4 cup sugar" in brine.note
    (piccalilli,) = pickle.evening_before(recipe_of("piccalilli"))
    assert piccalilli.endswith("with the salt: 1/2 cup canning salt.")
    assert "salt" not in step_of(work_of(recipe_of("piccalilli")), "brine").note


def test_every_vegetable_that_stands_overnight_is_named():
    (line,) = pickle.evening_before(recipe_of("piccalilli"))
    for name in ("6 cups green tomatoes", "2 1/4 cups onions", "7 1/2 cups cabbage"):
        assert name in line


def test_three_batches_that_soak_overnight_are_three_times_the_salt_and_water():
    made = recipe_of("quick fresh-pack dill pickles")
    (line,) = pickle.evening_before(made, made, made)
    assert "for all 3 batches together: wash and cut 24 lb" in line
    assert "6 gallons water and 2 1/4 cups canning salt" in line
    assert "Keep 1 1/2 cups canning salt for the brine" in line
    assert (
        "To each batch belong 8 lb pickling cucumbers, 2 gallons water and 3/4" in line
    )
    twice = recipe_of("quick fresh-pack dill pickles", 2)
    (one_pot,) = pickle.evening_before(twice)
    assert "for 1 batch (2 times the recipe): wash and cut 16 lb" in one_pot
    assert "4 gallons water and 1 1/2 cups canning salt" in one_pot
    (unlike,) = pickle.evening_before(twice, made)
    assert "for 3 times the recipe (2 batches)" in unlike
    assert "6 gallons water and 2 1/4 cups canning salt" in unlike
    assert "To the recipe taken once belong 8 lb" in unlike


@pytest.mark.parametrize("procedure", PICKLES, ids=lambda p: p.id)
def test_no_more_salt_stands_overnight_than_the_recipe_has(procedure):
    """Where the brine takes "the rest", some is left; else they stand in all of it."""
    stood_in = sum(float(stand.salt or 0) for stand in stands_of(procedure.id))
    if not stood_in:
        return
    (printed,) = (i for i in procedure.ingredients if i.role == "salt")
    if "the rest of the salt" in procedure.order_of_adding:
        assert 0 < stood_in < float(printed.quantity)
    else:
        assert stood_in == float(printed.quantity)


def test_a_relish_is_boiled_in_the_syrup_that_it_stood_in():
    """USDA Guide 6: the syrup is poured on the day before, next day all to the boil."""
    made = recipe_of("pickle relish")
    (line,) = pickle.evening_before(made)
    assert "6 cups vinegar 5%" in line
    work = work_of(made)
    assert "brine" not in ids_of(work)
    assert "drain" not in ids_of(work)
    assert "Everything together" in step_of(work, "cook").verb
    assert not any("vinegar" in step.verb + step.note for step in work.steps)


def test_proportions_never_change():
    one, three = recipe_of("corn relish"), recipe_of("corn relish", 3)
    for single, several in zip(one.parts, three.parts, strict=True):
        assert several.quantity == pytest.approx(3 * single.quantity)
    said = " ".join(caution.text for caution in three.cautions)
    assert "no more onion" in said
    assert "never diluted" in said
    assert isinstance(pickle.scale(one.procedure, 5), Refusal)
    assert isinstance(pickle.scale(one.procedure, 0.5), Refusal)


def test_the_printed_yield_is_taken_and_turned_into_her_jars():
    made = recipe_of("bread-and-butter pickles", 2)
    assert granted(pickle.expected_yield(made, "pint")).likely == 16
    assert granted(pickle.expected_yield(made, "quart")).likely == 8


def test_vinegar_in_copper_is_refused():
    answer = pickle.checks(recipe_of("corn relish"), station(material="copper"))
    assert isinstance(answer, Refusal)
    assert "acid" in answer.reason


def test_a_pot_that_is_too_small_is_refused():
    answer = pickle.checks(recipe_of("pickled mixed vegetables"), station(8.0))
    assert isinstance(answer, Refusal)
    assert "short" in answer.reason


def test_a_recipe_whose_boil_is_not_in_the_book_is_refused():
    plum = next(p for p in procedures() if p.id == "jelly-plum-powdered")
    assert isinstance(pickle.scale(plum, 1), Refusal)


def test_without_a_process_the_recipe_says_its_pack():
    made = recipe_of("dilled beans")
    bare = Filling(jar="pint", jars=4, process=None)
    work = granted(pickle.steps(made, station(), bare))
    assert "pack_raw" in ids_of(work)


@pytest.mark.parametrize("product", ["choice salsa", "chile salsa"])
def test_a_salsa_is_cooked_as_a_relish_and_needs_no_weeks(product):
    made = recipe_of(product)
    work = work_of(made)
    assert "brine" not in ids_of(work)
    assert step_of(work, "cook").verb.startswith("Everything together")
    assert work.later == ()
    assert "weeks" not in granted(pickle.checks(made, station())).outlook
    said = " ".join(caution.text for caution in made.cautions)
    assert "frost-killed" in said  # the cautions of tomatoes stay with it
    assert "lemon juice" in said


@pytest.mark.parametrize(
    ("product", "minutes"),
    [("choice salsa", 3), ("chile salsa", 10), ("cranberry orange chutney", 15)],
)
def test_what_goes_in_together_simmers_as_printed(product, minutes):
    """NCHFP: choice salsa 3 min, chile salsa 10, cranberry orange chutney 15."""
    jar = "half-pint" if "chutney" in product else "pint"
    cook = step_of(work_of(recipe_of(product, jar=jar), jar), "cook")
    assert cook.verb == f"Everything together, to the boil, {minutes} min"
    assert cook.duration_min > minutes


def test_it_is_tasted_after_four_weeks():
    (taste,) = work_of(recipe_of("dilled beans")).later
    assert taste.after_h == 4 * 7 * 24


def test_spices_are_so_many_times_what_is_printed():
    made = recipe_of("quick sweet pickles", multiple=2, jar="pint")
    need = {m.name: m for m in pickle.materials(made, "pint", 16)}
    tsp = 4.92892159375e-6  # m3
    for name, spoons in (("celery seed", 4), ("mustard seed", 12)):
        assert need[name].volume_m3 == pytest.approx(spoons * tsp)


@pytest.mark.parametrize(("jar", "jars", "pints"), [("pint", 7, 7), ("quart", 4, 8)])
def test_a_spice_by_the_jar_is_for_all_of_its_jars(jar, jars, pints):
    """1 clove of garlic, 1 head of dill and 1/4 tsp of pepper to a pint."""
    made = recipe_of("dilled beans", jar=jar)
    need = {m.name: m for m in pickle.materials(made, jar, jars)}
    assert need["dill heads"].count == pints
    assert need["cloves of garlic"].count == pints
    pepper = need["cayenne or red pepper flakes"].volume_m3
    assert pepper == pytest.approx(pints / 4 * 4.92892159375e-6)


@pytest.mark.parametrize(
    ("product", "brine", "vegetables"),
    [
        ("piccalilli", "it boils", "a gentle boil for 30 min, or until half is left"),
        ("bread-and-butter zucchini", "it boils", "a simmer, timed"),
        (
            "bread-and-butter pickles",
            "the syrup boils 10 min",
            "slowly back to the boil",
        ),
        ("pickled bell peppers", "the syrup boils 1 min", "the peppers in it boil"),
    ],
)
def test_brine_is_not_boiled_till_the_vegetables_are_done(product, brine, vegetables):
    work = work_of(recipe_of(product))
    assert step_of(work, "brine").end_sign == brine
    assert step_of(work, "cook").end_sign == vegetables


def test_peppers_that_are_simmered_first_are_heated_first():
    """
    Corn relish: 5 cups of vinegar, sugar and salt are 1.59 kg; 8 3/4 cups of peppers,
    celery and onions go in with them, about 1.2 kg. It was timed for vinegar alone.
    """
    at = station(burner_w=2000)
    work = work_of(recipe_of("corn relish"), at=at)
    first, late = step_of(work, "brine"), step_of(work, "cook")
    vinegar = (1195 + 350 + 45) / 1000
    greens = 8.75 * 236.588e-6 * multiples.CUT_KG_PER_M3
    heat = fire.heat_up_min(vinegar + greens, 0.395 / 2.83, at, ROOM_K)
    assert first.duration_min == pytest.approx(heat + 5, abs=1)
    assert f"computed: {vinegar + greens:.1f} kg" in first.basis
    assert "2 1/2 cups celery, chopped" in first.note
    assert "corn" not in first.note
    assert late.note.startswith("10 cups corn kernels")
    # the corn, at room temperature, and nothing that was hot already
    corn = 10 * 236.588e-6 * multiples.CUT_KG_PER_M3
    alone = fire.heat_up_min(corn, 0.0, at, ROOM_K)
    assert late.duration_min == pytest.approx(alone + 5, abs=2)


@pytest.mark.parametrize(
    ("product", "verb"),
    [
        ("pickled bell peppers", "Bring vinegar, water and sugar to the boil, 1 min"),
        ("dilled beans", "Bring vinegar, water and salt to the boil"),
        (
            "quick fresh-pack dill pickles",
            "Bring vinegar, water, salt, sugar and spices to the boil",
        ),
    ],
)
def test_what_goes_into_the_jar_is_not_boiled_in_the_brine(product, verb):
    """Of bell peppers and dilled beans no spice is boiled: it lies in the jar."""
    assert step_of(work_of(recipe_of(product)), "brine").verb == verb


def test_all_but_what_comes_late_is_simmered_first():
    work = work_of(recipe_of("corn relish"))
    first, late = step_of(work, "brine"), step_of(work, "cook")
    assert first.verb == "Bring all but mustard, turmeric and corn to the boil, 5 min"
    assert late.verb == "Mustard, turmeric and corn in, back to the boil, 5 min"
    assert ("prepare", "brine") in {(link.before, link.after) for link in work.links}


def test_dill_that_is_printed_either_way_is_said_either_way():
    for name, said in (
        ("quick fresh-pack dill pickles", "4 1/2 tbsp of dill seed"),
        ("dilled beans", "1 tsp of dill seed"),
        ("fermented dill pickles", "4 to 5 heads of fresh dill"),
    ):
        parts = granted(procedure_for(name)).ingredients
        (dill,) = (part for part in parts if part.name.startswith("dill "))
        assert said in dill.prep
        assert dill.how_known == "looked_up"


@pytest.mark.parametrize("multiple", [1, 2])
def test_what_goes_in_by_the_jar_says_so_however_many_batches_it_is(multiple):
    """A batch of four pints read "1 dill heads", and two of them "2 dill heads"."""
    recipe = granted(pickle.scale(granted(procedure_for("dilled beans")), multiple))
    said = {part.name: (part.quantity, part.prep) for part in recipe.parts}
    by_the_jar = {"garlic", "dill heads", "cayenne or red pepper flakes"}
    assert {part.name for part in recipe.parts if part.per == "pint"} == by_the_jar
    assert not any(part.per for part in recipe.parts if part.name not in by_the_jar)
    assert said["garlic"] == (1, "to each pint")
    assert said["dill heads"] == (1, "to each pint, or 1 tsp of dill seed")
    assert said["cayenne or red pepper flakes"] == (0.25, "to each pint")
    assert said["green or yellow beans"][0] == 2 * multiple
    needs = {m.name: m for m in pickle.materials(recipe, "pint", 4 * multiple)}
    assert needs["cloves of garlic"].count == 4 * multiple
    assert needs["dill heads"].count == 4 * multiple


@pytest.mark.parametrize("procedure", ON_THE_SHELF, ids=lambda p: p.id)
def test_who_fills_pickles_is_warned_of_what_is_in_the_pot(procedure):
    """Salted vinegar over raw cucumbers was "Boiling sugar sticks and burns"."""
    jar = "pint" if "pint" in procedure.jars else procedure.jars[0]
    made = recipe_of(procedure.name, jar=jar)
    work = work_of(made, jar, 8)
    fill = step_of(work, "fill")
    is_sweet = any("sugar" in part.name for part in made.parts)
    if "pack_raw" in ids_of(work):
        assert "brine" in fill.caution
        assert "Hot food" not in fill.caution
        assert "over what is packed" in fill.note
    else:
        assert ("sugar" in fill.caution) is is_sweet
