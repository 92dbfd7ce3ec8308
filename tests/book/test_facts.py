"""Weights, keeping, juice, remake and yearly amounts: as printed, with their source."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from stillroom.book.about import about, list_products
from stillroom.book.acid import acid_rules
from stillroom.book.folk import beside_folk_rule, folk_rule
from stillroom.book.food_facts import facts_of, foods
from stillroom.book.jelly_juice import jelly_juices, juice_table
from stillroom.book.jelly_point import boiling_points
from stillroom.book.keeping import (
    canner_facts_of,
    freezing_headspace,
    freezing_of,
    storage_of,
)
from stillroom.book.never import never_jars, never_products, never_ways
from stillroom.book.processes import Process, process_for
from stillroom.book.produce import fruits
from stillroom.book.remake import remake_for, remakes
from stillroom.book.uncanned import names_without_canner
from stillroom.book.yearly import yearly_amounts, yearly_amounts_of
from stillroom.refusal import Refusal
from stillroom.science.air import pressure_pa
from stillroom.science.water import boiling_point_k

POUND_KG = 0.45359237
QUART_M3 = 9.46353e-4


# USDA Complete Guide, quantity lines: pounds to 7 quarts and to 9 pints.
@pytest.mark.parametrize(
    ("food", "quarts", "pints"),
    [
        ("apples", 19, 12.25),
        ("plums", 14, 9),
        ("sour cherries", 17.5, 11),
        ("tomatoes", 21, 13),
        ("green beans", 14, 9),
        ("sweet corn", 31.5, 20),
        ("rhubarb", 10.5, 7),
    ],
)
def test_a_canner_load_takes_what_is_printed(food, quarts, pints):
    facts = facts_of(food)
    assert not isinstance(facts, Refusal)
    assert facts.weights is not None
    assert facts.weights.kg_per_7_quarts == pytest.approx(quarts * POUND_KG)
    assert facts.weights.kg_per_9_pints == pytest.approx(pints * POUND_KG)
    assert facts.weights.source.how_known == "looked_up"


def test_a_quart_takes_about_a_seventh_of_the_load():
    for facts in foods():
        weights = facts.weights
        if weights and weights.kg_per_m3_canned and weights.kg_per_7_quarts:
            seven = weights.kg_per_m3_canned * 7 * QUART_M3
            assert seven == pytest.approx(weights.kg_per_7_quarts, rel=0.1)


# FDA/CFSAN, Approximate pH of foods; Univ. of Idaho course chart.
@pytest.mark.parametrize(
    ("food", "low", "high", "acid_class"),
    [
        ("apple", 3.3, 4.0, "acid"),
        ("plum", 2.8, 4.6, "acid"),
        ("fig", 5.05, 5.98, "needs acid"),
        ("melon", 6.13, 6.58, "needs acid"),
        ("tomatoes", 4.3, 4.9, "always acidified"),
        ("snap beans", 5.3, 5.7, "low acid"),
        ("lemon juice", 2.0, 2.6, "acidifier"),
    ],
)
def test_ph_and_acid_class_are_as_printed(food, low, high, acid_class):
    facts = facts_of(food)
    assert not isinstance(facts, Refusal)
    assert facts.ph == (low, high)
    assert facts.ph_source is not None
    assert facts.acid_class == acid_class


def test_both_tables_of_fruit_call_it_acid_or_neither_does():
    """Where printed lists differ, as of pineapple, both go by the stricter."""
    known = {facts.name: facts.acid_class for facts in foods()}
    both = {f.name: f.acid_class for f in fruits().values() if f.name in known}
    assert len(both) > 35
    assert {name: known[name] for name in both} == both
    pineapple = facts_of("pineapple")
    assert pineapple.acid_class == "needs acid"
    assert "the stricter is taken" in pineapple.note


def test_what_reaches_above_the_acid_line_is_marked():
    # pH 4.6 divides the methods: Michigan State Univ. Extension leaflet 01600938.
    for facts in foods():
        if facts.ph is not None and facts.ph[0] > 4.6:
            assert facts.acid_class in ("needs acid", "low acid")
        if facts.acid_class == "acid" and facts.ph and facts.ph[1] > 4.6:
            assert facts.note


def test_every_figure_has_a_source_of_its_own():
    assert len(foods()) == 47
    for facts in foods():
        assert (facts.weights is None) or facts.weights.source.text
        assert (facts.juice == "") == (facts.juice_source is None)
        assert (facts.ph is None) == (facts.ph_source is None)
        assert (facts.pectin_group == "") == (facts.pectin_source is None)


@pytest.mark.parametrize(
    ("look_up", "asked"),
    [
        (facts_of, "plumbs"),
        (storage_of, "bricks"),
        (freezing_of, "bricks"),
        (juice_table, "quince"),
        (juice_table, "brick"),
        (yearly_amounts_of, "bricks"),
        (canner_facts_of, "oven"),
        (about, "bricks"),
    ],
)
def test_what_is_not_printed_is_refused_with_what_to_do(look_up, asked):
    refusal = look_up(asked)
    assert isinstance(refusal, Refusal)
    assert refusal.reason
    assert refusal.instead
    assert refusal.source


# Iowa State Univ. and Kansas State Univ. Extension; Nebraska Extension on onions.
@pytest.mark.parametrize(
    ("look_up", "food", "what", "figure"),
    [
        (storage_of, "onions", "temperature", "32 to 40 °F"),
        (storage_of, "onions", "storage life", "5 to 8 months"),
        (storage_of, "garlic", "relative humidity", "60 to 70%"),
        (storage_of, "potatoes", "temperature", "40 °F"),
        (storage_of, "carrots", "storage life", "2 to 6 months"),
        (storage_of, "dried beans", "storage life", "12 months or more"),
        (storage_of, "jars on the shelf", "upper limit", "at most 95 °F"),
        (freezing_of, "onion", "blanch", "0 min"),
        (freezing_of, "grape juice", "rest before freezing", "24 to 48 h"),
        (canner_facts_of, "pressure canner", "vent before closing", "10 min"),
        (canner_facts_of, "unsealed jar", "wrong process first time", "2 h"),
        (
            canner_facts_of,
            "pressure canner",
            "dial gauge check",
            "every year, before use",
        ),
        (canner_facts_of, "cooling jars", "wait before seal test", "12 to 24 h"),
    ],
)
def test_keeping_is_as_printed(look_up, food, what, figure):
    found = look_up(food)
    assert not isinstance(found, Refusal)
    assert figure in [fact.figure for fact in found if fact.what == what]
    assert all(fact.source.text for fact in found)


# NCHFP, Headspace to allow between packed food and closure.
@pytest.mark.parametrize(
    ("pack", "jar", "top", "inches"),
    [
        ("liquid pack", "pint", "wide", 0.5),
        ("liquid pack", "quart", "narrow", 1.5),
        ("dry pack", "quart", "narrow", 0.5),
        ("juice", "pint", "narrow", 1.5),
        ("juice", "quart", "wide", 1.0),
    ],
)
def test_headspace_for_the_freezer(pack, jar, top, inches):
    room = freezing_headspace(pack, jar, top=top)
    assert not isinstance(room, Refusal)
    assert room.headspace_in == inches
    assert isinstance(freezing_headspace(pack, "gallon", top=top), Refusal)


def test_juice_for_jelly_is_as_printed():
    # USDA Complete Guide, Guide 7, Extracting juices and making jelly.
    assert list(jelly_juices()) == ["apple", "blackberry", "crabapple", "grape", "plum"]
    plum = juice_table("plums")
    assert not isinstance(plum, Refusal)
    assert plum.water_cups_per_lb == (0.5, 0.5)
    assert plum.simmer_min == (15, 20)
    assert plum.sugar_cups_per_cup == (0.75, 0.75)
    assert plum.printed_half_pints == (8, 9)
    assert "more than the solids" in plum.note
    apple = juice_table("apple")
    assert not isinstance(apple, Refusal)
    assert (apple.lemon_tsp_per_cup, apple.lemon_optional) == (1.5, True)


def test_a_remake_is_as_printed():
    # USDA Complete Guide, Guide 7, Remaking soft jellies: to a quart of jelly.
    powdered, liquid, none = (remake_for(p) for p in ("powdered", "liquid", "none"))
    assert not isinstance(powdered, Refusal)
    assert not isinstance(liquid, Refusal)
    assert not isinstance(none, Refusal)
    assert (powdered.sugar_cups, powdered.water_cups) == (0.25, 0.5)
    assert (powdered.lemon_tbsp, powdered.powdered_pectin_tsp) == (2, 4)
    assert powdered.boil_min == (0.5, 0.5)
    assert (liquid.sugar_cups, liquid.liquid_pectin_tbsp) == (0.75, 2)
    assert liquid.boil_min == (1, 1)
    assert (none.lemon_tbsp, none.boil_min) == (2, (3, 4))
    assert {r.of_cups for r in remakes() if r.form == "per quart"} == {4}
    older = remake_for("powdered", form="per cup", cups=1)
    assert not isinstance(older, Refusal)
    assert older.powdered_pectin_tsp == 1.5
    for refused in (
        remake_for("powdered", cups=6.5),
        remake_for("powdered", cups=0),
        remake_for("calcium"),
        remake_for("liquid", form="per cup"),
    ):
        assert isinstance(refused, Refusal)
        assert refused.instead


def test_printed_plans_for_a_year_contradict_each_other_and_say_so():
    jelly = yearly_amounts_of("jelly")
    assert not isinstance(jelly, Refusal)
    assert [(a.per_person, a.unit) for a in jelly] == [
        (13.5, "pint"),
        (40, "half-pint"),
    ]
    assert all(a.note.startswith("conflict") for a in jelly)
    assert "2.2 pints" in jelly[0].note
    tomatoes = yearly_amounts_of("tomatoes")
    assert not isinstance(tomatoes, Refusal)
    assert {a.per_person for a in tomatoes} >= {40, 20}
    for amount in yearly_amounts():
        assert amount.volume_m3 > 0


@pytest.mark.parametrize("feet", sorted(boiling_points()))
def test_printed_boiling_points_agree_with_the_science(feet):
    # The table rests on a barometric rule of its own; it parts from ours higher up.
    point = boiling_points()[feet]
    ours_f = boiling_point_k(pressure_pa(feet * 0.3048)) * 1.8 - 459.67
    if point.water_boils_f is not None:
        assert abs(ours_f - point.water_boils_f) < 1.2
    if point.household_boils_f is not None:
        assert abs(ours_f - point.household_boils_f) < 1.2


def test_acid_doses_are_those_printed():
    # USDA Complete Guide, Guide 3: 1 tbsp or 1/4 tsp to a pint, twice that to a quart.
    pint = {(d.acid, str(d.quantity)) for d in acid_rules()["tomato"].in_jar("pint")}
    assert pint == {("bottled lemon juice", "1"), ("citric acid", "1/4")}
    for name, rule in acid_rules().items():
        for dose in rule.in_jar("pint"):
            twice = [d for d in rule.in_jar("quart") if d.acid == dose.acid]
            assert twice[0].quantity == 2 * dose.quantity, name


@pytest.mark.parametrize(
    ("product", "pack", "rule"),
    [
        ("crushed tomatoes", "hot", "tomato"),
        ("tomato juice", "hot", "tomato"),
        ("figs", "hot", "fig"),
        ("Asian pears", "hot", "asian pear"),
        ("quick fresh-pack dill pickles", "raw", "recipe vinegar"),
        ("choice salsa", "hot", "choice salsa"),
        ("tomato paste salsa", "hot", "paste salsa"),
        ("apple pie filling", "hot", "pie filling"),
    ],
)
def test_acid_is_part_of_the_process_and_is_said(product, pack, rule):
    process = process_for(product, jar="pint", elevation_ft=0, pack=pack)
    assert isinstance(process, Process)
    assert process.acid is not None
    assert process.acid.name == rule
    assert process.acid.caution in process.cautions


def test_fruit_that_is_acid_by_itself_is_given_none():
    for product in ("plum jelly", "applesauce", "pears", "peaches"):
        process = process_for(product, jar="pint", elevation_ft=0, pack="hot")
        assert isinstance(process, Process)
        assert process.acid is None


# PRACTICE of the trade: the classes that are never canned, by the words people use.
def test_each_thing_that_is_never_done_has_reason_instead_and_source():
    ways = {never.what for never in never_ways()}
    assert {"oven", "microwave", "dishwasher", "slow cooker", "sun"} <= ways
    assert {"open kettle", "paraffin", "canning powder"} <= ways
    for never in (*never_ways(), *never_products(), *never_jars()):
        assert never.phrases
        assert never.refusal.reason
        assert never.refusal.instead
        assert never.refusal.source


def test_the_folk_rule_stands_beside_the_published_band_and_differs():
    # Apple sauce, pints: 15 min to 1,000 ft, 20 min to 6,000, 25 above (leaflet).
    sea, here = (
        process_for("applesauce", jar="pint", elevation_ft=feet) for feet in (0, 7000)
    )
    assert isinstance(sea, Process)
    assert isinstance(here, Process)
    beside = beside_folk_rule(here, sea, 7000)
    assert not isinstance(beside, Refusal)
    assert beside.published.minutes == 25
    assert beside.folk_min == (21, 27)
    assert "is not used" in beside.words
    assert "never by a formula" in folk_rule().why_not


def test_the_folk_rule_says_one_figure_where_both_its_ends_are_one():
    """There stood "5 to 5 min" at 1,017 ft."""
    sea, here = (
        process_for("quince jelly", jar="half-pint", elevation_ft=feet)
        for feet in (0, 1017)
    )
    assert isinstance(sea, Process)
    assert isinstance(here, Process)
    beside = beside_folk_rule(here, sea, 1017)
    assert not isinstance(beside, Refusal)
    assert "would say 5 min at 1,017 ft" in beside.words


def test_under_pressure_the_folk_rule_says_nothing():
    ask = {"jar": "quart", "canner": "dial-gauge", "pack": "raw"}
    sea = process_for("green beans", elevation_ft=0, **ask)
    here = process_for("green beans", elevation_ft=5000, **ask)
    assert isinstance(sea, Process)
    assert isinstance(here, Process)
    beside = beside_folk_rule(here, sea, 5000)
    assert not isinstance(beside, Refusal)
    assert beside.folk_min is None
    assert sea.minutes == here.minutes == 25
    other = process_for("carrots", elevation_ft=0, **ask)
    assert isinstance(other, Process)
    assert isinstance(beside_folk_rule(here, other, 5000), Refusal)


def test_all_about_one_product():
    plums = about("plums")
    assert not isinstance(plums, Refusal)
    assert len(plums.processes) == 40
    assert plums.facts is not None
    assert plums.jelly_juice is not None
    jelly = about("plum jelly")  # by its fruit: of the jelly itself nothing is known
    assert not isinstance(jelly, Refusal)
    assert jelly.facts == plums.facts
    onions = about("onions")
    assert not isinstance(onions, Refusal)
    assert isinstance(onions.product, Refusal)
    assert onions.storage
    assert onions.freezing
    elder = about("elderberry jelly")
    assert not isinstance(elder, Refusal)
    assert isinstance(elder.product, Refusal)
    assert [p.id for p in elder.procedures] == ["jelly-elderberry-powdered"]
    mint = about("mint jelly")
    assert not isinstance(mint, Refusal)
    assert {row.jar for row in mint.processes} == {"half-pint"}


def test_every_listed_product_has_its_page_and_its_rows():
    listed = list_products()
    assert len({one.name for one in listed}) == len(listed) > 180
    for one in listed:
        page = about(one.name)
        assert not isinstance(page, Refusal)
        assert page.name == one.name
        assert len(page.processes) == one.rows
        assert one.rows > 0 or one.name in names_without_canner()


@settings(deadline=None)  # the first call reads the tables
@given(st.text(max_size=30))
def test_any_word_is_answered_without_a_stumble(text):
    for look_up in (about, facts_of, storage_of, freezing_of, yearly_amounts_of):
        look_up(text)
