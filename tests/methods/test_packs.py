"""Jars filled with one food: hot, raw, milled, as juice, with acid, under pressure."""

from dataclasses import replace

import pytest

from stillroom.book.of_which_fruit import by_its_table
from stillroom.book.packs import Pack, pack_for, pack_procedure, packs
from stillroom.book.procedures import procedure_for
from stillroom.book.process_table import Process
from stillroom.book.processes import process_for
from stillroom.methods import (
    hot_pack,
    juice,
    pack_steps,
    per_jar,
    pressure_pack,
    puree,
    raw_pack,
    tomato,
)
from stillroom.methods.by_name import method_named
from stillroom.methods.kitchen import Burner, Heat, Pot
from stillroom.methods.method import Filling, Method, Recipe, Station
from stillroom.methods.recipes import recipe_named
from stillroom.methods.step import Skill
from stillroom.methods.today import air_today
from stillroom.refusal import Refusal, granted

LB = 0.45359237
METHODS = {m.NAME: m for m in (hot_pack, raw_pack, juice, puree, tomato, pressure_pack)}
RAW_BERRY_FT = 900.0
"""The rows of raw berries in the book end at 1,000 ft."""


def station(pot_l: float = 12.0, burner_w: float = 3000.0, material="stainless"):
    return Station(
        pot=Pot(name="big pot", volume_m3=pot_l / 1000, material=material),
        burner=Burner(name="front", power_w=burner_w),
        heat=Heat.GAS,
        efficiency=0.40,
        air=granted(air_today(elevation_m=RAW_BERRY_FT * 0.3048)),
    )


def made(product: str, jars: int = 7, jar: str = "quart", pack: str | None = None):
    """A pack scaled to so many jars, and its method."""
    found = granted(pack_for(product, pack=pack))
    method = METHODS[found.method]
    procedure = granted(pack_procedure(found, jar=jar))
    return method, granted(method.scale(procedure, jars))


def process(pack: Pack, jar: str, canner: str = "") -> Process:
    return granted(
        process_for(
            by_its_table(pack.product.name),
            jar=jar,
            elevation_ft=RAW_BERRY_FT,
            pack=pack.pack,
            canner=canner or ("dial-gauge" if pack.low_acid else "boiling-water"),
        )
    )


def work(method: Method, recipe: Recipe, jar="quart", jars=7, canner="", where=None):
    filling = Filling(
        jar=jar, jars=jars, process=process(per_jar.the_pack(recipe), jar, canner)
    )
    return granted(method.steps(recipe, where or station(), filling))


def test_pears_by_the_printed_line():
    """17 1/2 lb fill 7 quarts; the syrup is 9 cups of water and 2 1/4 of sugar."""
    method, recipe = made("pears")
    pears, sugar, acid, jars, lids = method.materials(recipe, "quart", 7)
    assert acid.name == "ascorbic acid"
    assert acid.said.startswith("1 tsp (3 g) to each gallon")  # leaflet 01600943
    assert pears.name == "pears"
    assert pears.mass_kg == pytest.approx(17.5 * LB)
    assert (sugar.name, sugar.mass_kg) == ("sugar", pytest.approx(0.450, rel=1e-3))
    assert (jars.count, lids.count) == (7, 7)
    expected = granted(method.expected_yield(recipe, "quart"))
    assert expected.likely == 7
    assert expected.printed == "7"
    # 50 lb are printed to fill 16 to 25 quarts, 20 on average.
    assert (expected.low, expected.high) == (5.6, 8.75)
    assert "16 to 25 quarts" in expected.basis


def test_a_bushel_of_pears():
    """
    Fifty pounds and 14 quarts wanted: 35 lb in two loads of 7, 30 min each.

    Eight pounds over are 3 quarts, or 6 pints at 25 min; 1,017 ft is in the band of
    1,001 to 3,000 ft.
    """
    method, load = made("pears")
    kilos = method.materials(load, "quart", 7)[0].mass_kg
    assert 2 * kilos == pytest.approx(35 * LB)
    each = method.materials(made("pears", 1)[1], "quart", 1)[0].mass_kg
    assert int(8 * LB / each) == 3
    pint = method.materials(made("pears", 1, "pint")[1], "pint", 1)[0].mass_kg
    assert int(8 * LB / pint) == 6
    minutes = {
        jar: granted(process_for("pears", jar=jar, elevation_ft=1017, pack="hot"))
        for jar in ("quart", "pint")
    }
    assert (minutes["quart"].minutes, minutes["pint"].minutes) == (30, 25)


@pytest.mark.parametrize("pack", packs(), ids=lambda pack: pack.id)
def test_twice_the_jars_take_twice_as_much_and_are_no_doubled_batch(pack):
    method = METHODS[pack.method]
    one = granted(method.scale(granted(pack_procedure(pack)), 1))
    for jars in (2, 7, 48):
        many = granted(method.scale(granted(pack_procedure(pack)), jars))
        assert many.cautions == one.cautions
        assert len(many.parts) == len(one.parts)
        for some, more in zip(one.parts, many.parts, strict=True):
            assert more.quantity == pytest.approx(jars * some.quantity)
        assert granted(method.expected_yield(many, "pint")).likely == 2 * jars
        assert granted(method.expected_yield(many, "quart")).likely == jars
    assert not any("double" in caution.text for caution in one.cautions)


@pytest.mark.parametrize("jars", [0, 49, -1, 2.5])
def test_only_whole_jars_up_to_forty_eight(jars):
    answer = hot_pack.scale(granted(pack_procedure(granted(pack_for("pears")))), jars)
    assert isinstance(answer, Refusal)
    assert "1 to 48" in answer.reason


@pytest.mark.parametrize("pack", packs(), ids=lambda pack: pack.id)
@pytest.mark.parametrize("jars", [1, 7])
def test_steps_of_every_pack_hold_together(pack, jars):
    """Links name steps, each step says what it rests on, nothing printed is cut."""
    method = METHODS[pack.method]
    for jar in ("pint", "quart"):
        recipe = granted(method.scale(granted(pack_procedure(pack, jar=jar)), jars))
        assert not isinstance(method.checks(recipe, station()), Refusal)
        found = work(method, recipe, jar, jars)
        names = [step.id for step in found.steps]
        assert len(set(names)) == len(names)
        assert all({link.before, link.after} <= set(names) for link in found.links)
        assert found.ready_after == "wipe_and_lid"
        assert all(step.basis for step in found.steps)
        assert all(step.duration_min >= 1 for step in found.steps)
        order = {name: index for index, name in enumerate(names)}
        assert names.index("fill") < names.index("wipe_and_lid")
        assert order["cut"] < order["fill"]
        # Everything on the fire is tied to the filling, directly or step by step.
        after = {link.before: link.after for link in found.links}
        for name in ("cut", "cook", "reheat", "blanch", "boil_liquid", "stand"):
            assert name not in names or name in after
        if "cook" in names:
            cook = found.steps[order["cook"]]
            assert cook.duration_min >= pack.cooking.most_min + 1
            assert cook.spread.low >= pack.cooking.least_min
        if pack.cooking.stand_min:
            assert found.steps[order["stand"]].duration_min == pack.cooking.stand_min


@pytest.mark.parametrize(
    "pack", [p for p in packs() if p.pack == "hot"], ids=lambda pack: pack.id
)
def test_hot_food_goes_into_hot_jars_within_ten_minutes(pack):
    method = METHODS[pack.method]
    recipe = granted(method.scale(granted(pack_procedure(pack)), 7))
    limits = {
        (link.before, link.at_most_min)
        for link in work(method, recipe).links
        if link.after == "fill" and link.why.startswith("hot food")
    }
    ((before, most),) = limits
    assert most == 10
    assert before in ("cook", "reheat", "stand", "trim", "blanch")


@pytest.mark.parametrize(
    "pack", [p for p in packs() if p.pack == "raw"], ids=lambda pack: pack.id
)
def test_a_raw_pack_holds_no_pot(pack):
    method, recipe = raw_pack, None
    recipe = granted(method.scale(granted(pack_procedure(pack)), 7))
    tiny = station(pot_l=0.5, material="copper")
    checked = granted(method.checks(recipe, tiny))
    assert checked.pot_needed_m3 == 0
    found = work(method, recipe, where=tiny)
    assert not any(step.in_pot for step in found.steps)
    assert any("140 °F" in caution.text for caution in checked.cautions)
    soon = next(x for x in found.links if (x.before, x.after) == ("cut", "fill"))
    assert soon.at_most_min == 30


TOMATOES = [p for p in packs() if p.acidify == "tomato"]


@pytest.mark.parametrize("pack", TOMATOES, ids=lambda pack: pack.id)
@pytest.mark.parametrize("canner", ["boiling-water", "dial-gauge", "weighted-gauge"])
@pytest.mark.parametrize(("jar", "dose"), [("quart", "2 tbsp"), ("pint", "1 tbsp")])
def test_acid_goes_into_every_jar_of_tomatoes_whatever_the_canner(
    pack, canner, jar, dose
):
    """2 tbsp of bottled lemon juice to a quart, 1 to a pint: Guide 3."""
    method = METHODS[pack.method]
    recipe = granted(method.scale(granted(pack_procedure(pack, jar=jar)), 6))
    found = work(method, recipe, jar, 6, canner)
    step = next(s for s in found.steps if s.id == "measure_acid")
    assert step.verb == f"{dose} bottled lemon juice into each of 6 jars"
    assert "1/4 tsp citric acid" in step.note or jar == "quart"
    assert "Guide 3" in step.basis
    names = [s.id for s in found.steps]
    assert names.index("measure_acid") < names.index("fill")
    links = {(x.before, x.after): x.at_most_min for x in found.links}
    assert links["measure_acid", "fill"] == 5  # out of the hot water, and not cold yet
    # acid goes in once the food is hot, so that no jar waits for it
    hot = any((last, "measure_acid") in links for last in ("cook", "reheat"))
    assert hot or pack.pack == "raw"
    assert step.skill is Skill.KNIFE  # no child's work
    acid = next(
        m for m in method.materials(recipe, jar, 6) if m.name == "bottled lemon juice"
    )
    tablespoons = acid.volume_m3 / 14.786765e-6
    assert tablespoons == pytest.approx(6 * int(dose[0]))
    texts = " ".join(c.text for c in granted(method.checks(recipe, station())).cautions)
    assert "frost-killed vines" in texts
    # with citric acid in its place, the step asks for that first
    parts = [next(iter(part.instead), part) for part in recipe.parts]
    citric = replace(recipe, parts=tuple(parts))
    step = next(
        s for s in work(method, citric, jar, 6, canner).steps if s.id == "measure_acid"
    )
    dose_of_it = {"quart": "1/2 tsp", "pint": "1/4 tsp"}[jar]
    assert step.verb == f"{dose_of_it} citric acid into each of 6 jars"
    assert f"{dose} bottled lemon juice" in step.note


@pytest.mark.parametrize("product", ["green beans", "beets", "cubed pumpkin"])
@pytest.mark.parametrize("pack", ["hot", "raw"])
def test_low_acid_food_in_boiling_water_is_refused(product, pack):
    found = pack_for(product, pack=pack)
    if isinstance(found, Refusal):
        assert pack == "raw"  # beets and pumpkin are packed hot only
        return
    by_book = process_for(product, jar="pint", elevation_ft=0, pack=pack)
    assert isinstance(by_book, Refusal)
    method, recipe = made(product, 6, "pint", pack)
    # A process of something else, slipped in, is not taken either.
    other = granted(process_for("peaches", jar="pint", elevation_ft=0, pack=pack))
    answer = method.steps(recipe, station(), Filling(jar="pint", jars=6, process=other))
    assert isinstance(answer, Refusal)
    assert "pressure" in answer.instead
    assert "low-acid" in answer.reason
    cautions = granted(method.checks(recipe, station())).cautions
    assert any("pressure canner only" in caution.text for caution in cautions)


@pytest.mark.parametrize(
    ("product", "pack", "said", "not_said"),
    [
        ("green beans", "hot", "30 min with pints, 45 min with quarts", "five minutes"),
        ("peaches", "hot", "In boiling water the five minutes of rest", "45 min"),
    ],
)
def test_what_holds_the_liquid_in_is_said_of_its_own_canner(
    product, pack, said, not_said
):
    """Beans under pressure were told of five minutes, and stand for forty."""
    method, recipe = made(product, 7, "pint", pack)
    texts = [c.text for c in granted(method.checks(recipe, station())).cautions]
    (lost,) = [text for text in texts if "lost liquid" in text]
    assert said in lost
    assert not_said not in lost


@pytest.mark.parametrize(
    ("product", "where"),
    [
        ("green beans", "in a basin from the kettle, not in the pressure canner"),
        ("peaches", "in the canner's water or a basin"),
    ],
)
def test_jars_are_heated_where_there_is_water_for_it(product, where):
    """The second load's jars were to stand in a canner that was under pressure."""
    method, recipe = made(product, 7, "pint", "hot")
    found = granted(pack_for(product, pack="hot"))
    filling = Filling(jar="pint", jars=7, process=process(found, "pint"))
    work = granted(method.steps(recipe, station(), filling))
    (heat,) = [step for step in work.steps if step.id == "heat_jars"]
    assert heat.note.startswith(where)


def test_jars_without_a_process_or_with_another_pack_are_refused():
    method, recipe = made("peaches")
    none = method.steps(recipe, station(), Filling(jar="quart", jars=7, process=None))
    assert isinstance(none, Refusal)
    assert "without a process" in none.reason
    raw = granted(process_for("peaches", jar="quart", elevation_ft=0, pack="raw"))
    answer = method.steps(recipe, station(), Filling(jar="quart", jars=7, process=raw))
    assert isinstance(answer, Refusal)
    assert "hot pack in quart jars" in answer.instead
    answer = method.steps(
        recipe, station(), Filling(jar="half-gallon", jars=7, process=raw)
    )
    assert isinstance(answer, Refusal)
    assert "pint and quart" in answer.reason


SKINNED = [p for p in packs() if p.hands == "skin"]


@pytest.mark.parametrize("pack", SKINNED, ids=lambda pack: pack.id)
def test_what_is_skinned_is_dipped_in_boiling_water_at_a_fire(pack):
    assert pack.prep.startswith(f"Dip the {pack.food} {pack_steps.DIP_S} s in boiling")
    method = METHODS[pack.method]
    recipe = granted(method.scale(granted(pack_procedure(pack)), 7))
    found = work(method, recipe)
    dip, cut = found.steps[2:4]
    assert (dip.id, cut.id) == ("dip", "cut")
    assert (dip.skill, cut.skill) == (Skill.PAN, Skill.KNIFE)
    assert dip.burner_w > 0
    assert "boiling water" in dip.caution.lower()
    links = {(x.before, x.after): x.at_most_min for x in found.links}
    assert links["dip", "cut"] == 30


def test_nothing_else_is_dipped():
    others = [p for p in packs() if "30 to 60 s" in p.prep and p.hands != "skin"]
    assert others == []
    method, recipe = made("pears")
    assert "dip" not in [step.id for step in work(method, recipe).steps]


def has_a_quart(pack: Pack) -> bool:
    found = process_for(
        pack.product.name,
        jar="quart",
        elevation_ft=RAW_BERRY_FT,
        pack=pack.pack,
        canner="dial-gauge" if pack.low_acid else "boiling-water",
    )
    return not isinstance(found, Refusal)


@pytest.mark.parametrize(
    "pack", [p for p in packs() if has_a_quart(p)], ids=lambda pack: pack.id
)
def test_no_child_is_at_jars_of_boiling_food(pack):
    method = METHODS[pack.method]
    recipe = granted(method.scale(granted(pack_procedure(pack)), 7))
    close = next(s for s in work(method, recipe).steps if s.id == "wipe_and_lid")
    assert close.skill is not Skill.COLD


def test_the_pot_holds_raw_food_and_all_its_water():
    """Six quarts of carrots are 5.68 L loose, and nine cups of water 2.13 L on top."""
    method, recipe = made("carrots", 6)
    big = granted(method.checks(recipe, station(7.9))).pot_needed_m3
    assert big == pytest.approx(5.678e-3 + 2.129e-3, rel=1e-3)
    assert isinstance(method.checks(recipe, station(7.6)), Refusal)


def test_pot_holds_a_quarter_more_than_the_jars():
    """7 quarts are 6.62 L, times 1.25 8.28 L: 8 to 10 qt are printed for the sauce."""
    method, recipe = made("applesauce")
    assert granted(method.checks(recipe, station(8.3))).pot_needed_m3 == pytest.approx(
        8.281e-3, rel=1e-3
    )
    small = method.checks(recipe, station(8.2))
    assert isinstance(small, Refusal)
    assert "L short" in small.reason


def test_metal_and_fire_are_minded():
    method, recipe = made("pears")
    assert "copper" in str(method.checks(recipe, station(material="copper")))
    assert "never brings" in str(method.checks(recipe, station(burner_w=300.0)))
    beans, recipe = made("green beans", pack="hot")
    assert not isinstance(beans.checks(recipe, station(material="cast iron")), Refusal)


def test_applesauce_is_cooked_milled_and_boiled_again():
    method, recipe = made("applesauce")
    found = work(method, recipe)
    assert [s.id for s in found.steps][2:] == [
        *("cut", "cook", "mill", "wash_mill", "reheat"),
        *("fill", "wipe_and_lid", "wash_pot"),
    ]
    assert [s.id for s in found.steps if s.on_mill] == ["mill", "wash_mill"]
    names = [m.name for m in method.materials(recipe, "quart", 7)]
    assert names == ["apples", "quart jars", "lids"]  # the sugar is as one likes


def test_juice_is_a_lot_that_has_stood_and_is_filled_at_the_boil():
    method, recipe = made("apple juice", 3, "half-gallon")
    base = method.materials(recipe, "half-gallon", 3)[0]
    assert base.name == "apple juice"
    assert base.volume_m3 == pytest.approx(24 * 2.365882e-4, rel=1e-6)
    found = work(method, recipe, "half-gallon", 3)
    pour = next(s for s in found.steps if s.id == "cut")
    assert "24 to 48 h" in pour.note
    (wait,) = [x for x in found.links if (x.before, x.after) == ("cut", "cook")]
    assert wait.why == "juice sours"  # "cut food browns and dries"
    cook = next(s for s in found.steps if s.id == "cook")
    assert cook.end_sign == "it boils"


def test_jars_of_juice_at_five_minutes_are_sterilised_first():
    method, recipe = made("grape juice", 7)
    heat = next(s for s in work(method, recipe).steps if s.id == "heat_jars")
    assert heat.verb.startswith("Boil 7 empty")


def test_a_yield_says_by_which_printed_figure_it_is_planned():
    """Of pints it said "2 1/2 lb a quart", and they go by 11 lb for nine."""
    quart, pint = (
        granted(hot_pack.expected_yield(recipe_in(jar), jar)).basis
        for jar in ("quart", "pint")
    )
    assert quart.startswith("2 1/2 lb a quart; printed: 17.5 lb for 7 quarts")
    assert pint.startswith(
        "planned by nine pints; printed: 17.5 lb for 7 quarts, 11 lb"
    )


def recipe_in(jar: str) -> Recipe:
    return granted(
        hot_pack.scale(granted(pack_procedure(pack_for("pears"), jar=jar)), 4)
    )


def test_beets_are_covered_with_fresh_water_and_pears_with_their_syrup():
    beets = {s.id: s for s in work(*made("beets")).steps}
    assert not beets["boil_liquid"].in_pot
    assert "skins" in beets["trim"].verb
    pears = {s.id: s for s in work(*made("pears")).steps}
    assert pears["boil_liquid"].in_pot
    assert pears["boil_liquid"].note == "9 cups water · 2 1/4 cups sugar"


def test_a_range_of_minutes_is_planned_by_its_longer_end():
    """Beets boil 15 to 25 min by size: 25 are planned, and 10 fewer may be met."""
    cook = next(s for s in work(*made("beets")).steps if s.id == "cook")
    assert "25 min" in cook.verb
    assert cook.duration_min - cook.spread.low >= 10


def test_a_recipe_printed_by_the_load_is_made_by_the_quart():
    """The book's nectarines are 7 quarts: twice that is 14 quarts, 35 lb."""
    nectarines = granted(procedure_for("nectarines"))
    assert nectarines.printed_yield_low == 7
    recipe = granted(hot_pack.scale(nectarines, 2))
    assert per_jar.quarts(recipe) == pytest.approx(14)
    assert per_jar.food_kg(recipe) == pytest.approx(35 * LB)


def test_what_is_printed_by_the_load_is_planned_jar_by_jar():
    """Five pints of tomato juice are five pints, not two quarts and a half of seven."""
    for product in ("tomato juice", "tomatoes packed in water", "nectarines", "figs"):
        recipe = granted(recipe_named(product, jar="pint"))
        assert recipe.id.startswith("pack-")
        method = granted(method_named(recipe.method))
        five = granted(method.scale(recipe, 5))
        assert granted(method.expected_yield(five, "pint")).likely == 5
    assert granted(recipe_named("choice salsa", jar="pint")).id == "salsa-choice"
    assert isinstance(recipe_named("pears packed raw", jar="pint"), Refusal)


@pytest.mark.parametrize(
    ("product", "method"),
    [("apple pie filling", hot_pack), ("choice salsa", tomato)],
)
def test_recipes_that_are_no_plain_pack_are_left_to_the_hand(product, method):
    answer = method.scale(granted(procedure_for(product)), 1)
    assert isinstance(answer, Refusal)
    assert "no plain pack" in answer.reason


def test_each_way_of_packing_is_known_by_its_name():
    for name, module in METHODS.items():
        found = granted(method_named(name))
        assert found is module
        assert found.PER_JAR
        assert (found.PACK == "raw") == (name == "raw_pack")
    wrong = raw_pack.scale(granted(pack_procedure(granted(pack_for("pears")))), 1)
    assert isinstance(wrong, Refusal)
    assert "hot pack" in wrong.instead


def test_how_raw_food_goes_in_is_what_is_printed_of_it():
    """Peas were packed firm, and not pressed down; others are packed firm."""

    def note(name: str) -> str:
        pack = granted(pack_for(name, pack="raw"))
        filling = Filling(jar="pint", jars=4, process=None)
        return pack_steps.fill(pack, filling).note

    assert note("green peas").startswith("Do not shake or press them down, boiling")
    assert note("green beans").startswith("packed firm, boiling water over it")
    own = "tomatoes packed raw without liquid"
    assert note(own).startswith("Press the tomatoes down until juice fills the gaps")


@pytest.mark.parametrize(
    ("jar", "spoon"), [("pint", "1/2 tsp salt a jar"), ("quart", "1 tsp salt a jar")]
)
def test_salt_is_said_by_the_jar_that_is_filled(jar, spoon):
    """A teaspoon a quart, said over 18 pints, was taken twice."""
    pack = granted(pack_for("green beans", pack="hot"))
    filled = pack_steps.fill(pack, Filling(jar=jar, jars=4, process=None))
    assert spoon in filled.note


def test_water_and_sugar_are_named_once():
    """The sheet said "water, water", and "sugar, water"."""
    sauce = granted(pack_procedure(granted(pack_for("applesauce"))))
    preps = {part.name: part.prep for part in sauce.ingredients}
    assert preps["water"] == preps["sugar"] == ""
    pears = granted(pack_procedure(granted(pack_for("pears", pack="hot"))))
    preps = {part.name: part.prep for part in pears.ingredients}
    assert "syrup" in preps["sugar"]


def test_minutes_from_the_boil_are_not_said_of_the_way_to_it():
    """ "Boil gently for 5 min" stood over 35 min, for the way to the boil is in it."""
    pack = granted(pack_for("green beans", pack="hot"))
    procedure = granted(pack_procedure(pack))
    recipe = granted(per_jar.scale(procedure, 7, pack.method))
    step = pack_steps.cook(recipe, pack, station())
    assert step.duration_min > pack.cooking.most_min
    assert step.verb == (
        "Bring the green beans to the boil, then boil gently for 5 min"
    )


def steps_of_pack(product: str, pack: str | None = None):
    method, recipe = made(product, pack=pack)
    process = granted(
        process_for(
            recipe.procedure.name, jar="quart", elevation_ft=500, pack=method.PACK
        )
    )
    filling = Filling(jar="quart", jars=7, process=process)
    work = granted(method.steps(recipe, station(pot_l=20.0), filling))
    return recipe, {step.id: step for step in work.steps}


def test_nothing_boiling_is_poured_over_what_is_packed_without_liquid():
    recipe, _ = steps_of_pack("tomatoes packed raw without liquid")
    printed = recipe.procedure
    assert printed.order_of_adding.endswith(
        "packed raw, pressed down until its own juice covers it"
    )
    assert printed.boil_sign == "its own juice covers it"


def test_liquid_that_goes_into_the_jar_first_is_told_where_jars_are_filled():
    _, steps = steps_of_pack("firm berries", pack="hot")
    assert "1/2 cup of the liquid goes into each jar first" in steps["fill"].note


def test_sugar_that_is_mixed_in_with_the_knife_work_is_measured_there():
    _, steps = steps_of_pack("stewed rhubarb")
    assert steps["cut"].note.endswith("· 3 1/2 cups sugar")


@pytest.mark.parametrize(
    ("quarts", "goes"), [(2, "1 go"), (3, "2 goes"), (5, "3 goes")]
)
def test_berries_are_blanched_two_quarts_at_a_time(quarts, goes):
    method, recipe = made("firm berries", quarts)
    (step,) = (s for s in work(method, recipe, jars=quarts).steps if s.id == "blanch")
    assert step.end_sign == f"30 s each, in {goes}"
