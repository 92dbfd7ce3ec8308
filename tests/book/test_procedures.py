import csv
import re
from collections import Counter
from fractions import Fraction
from pathlib import Path

import pytest

from stillroom.book.canner_rules import METHODS
from stillroom.book.densities import cup_weight
from stillroom.book.procedures import (
    METHOD_NAMES,
    Procedure,
    answered_procedures,
    procedure_for,
    procedures,
    procedures_named,
    procedures_using,
)
from stillroom.book.processes import Process, process_for
from stillroom.book.produce import SolubleSolids, soluble_solids
from stillroom.refusal import Refusal

PUBLISHED = Path(__file__).parents[1] / "published"
with (PUBLISHED / "procedures.csv").open(encoding="utf-8") as _stream:
    TYPED = list(csv.DictReader(_stream))


def kitchen(text):
    """Read "3 1/2" as a fraction."""
    return sum((Fraction(part) for part in text.split()), Fraction())


@pytest.mark.parametrize("row", TYPED, ids=lambda row: row["name"])
def test_each_recipe_is_the_printed_one(row):
    procedure = procedure_for(row["name"])
    assert isinstance(procedure, Procedure)
    base = next(i for i in procedure.ingredients if i.name == row["base"])
    assert (base.quantity, base.unit) == (
        kitchen(row["base_quantity"]),
        row["base_unit"],
    )
    sugar = procedure.of_role("sugar")
    assert sum(i.quantity for i in sugar) == kitchen(row["sugar_cups"])
    assert {i.unit for i in sugar} == {"cup"}
    pectin = sum(i.quantity for i in procedure.of_role("pectin"))
    assert pectin == int(row["pectin_packages"])
    low, high = row["yield_low"], row["yield_high"]
    assert procedure.printed_yield_low == (float(low) if low else None)
    assert procedure.printed_yield_high == (float(high) if high else None)
    assert procedure.yield_unit == row["yield_unit"]
    assert procedure.how_known == "looked_up"


with (PUBLISHED / "procedure_quantities.csv").open(encoding="utf-8") as _stream:
    QUANTITIES = list(csv.DictReader(_stream))


def of_printed(id_):
    """Every procedure that one printed recipe became: one for each of its fruits."""
    return [p for p in procedures() if p.id == id_ or p.id == f"{id_}-{dashed(p)}"]


def dashed(procedure):
    return procedure.fruit.replace(" ", "-")


@pytest.mark.parametrize("row", QUANTITIES, ids=lambda row: row["procedure"])
def test_each_quantity_is_the_printed_one(row):
    found = of_printed(row["procedure"])
    assert found
    for procedure in found:
        printed = [part.rsplit(" ", 1) for part in row["quantities"].split("; ")]
        assert len(printed) == len(procedure.ingredients)
        for (quantity, unit), own in zip(printed, procedure.ingredients, strict=True):
            assert float(own.quantity) == pytest.approx(float(quantity), abs=4e-4)
            assert own.unit == unit
        sugar = sum(i.mass_kg or 0.0 for i in procedure.of_role("sugar"))
        assert sugar * 1000 == pytest.approx(float(row["sugar_g"]), abs=0.1)
        low, high = row["yield_low"], row["yield_high"]
        assert procedure.printed_yield_low == (float(low) if low else None)
        assert procedure.printed_yield_high == (float(high) if high else None)
        assert procedure.yield_unit == row["yield_unit"]
        assert procedure.headspace_in == float(row["headspace_in"])
        assert row["source"] in procedure.source
        assert procedure.how_known == "looked_up"


def test_the_book_holds_every_printed_recipe_once_for_each_fruit():
    assert len(QUANTITIES) == 96
    printed = {p.id for row in QUANTITIES for p in of_printed(row["procedure"])}
    assert {p.id for p in procedures()} - printed == {"jam-peach-powdered"}  # in TYPED
    assert len(printed) + 1 == len(procedures()) == 115
    counts = Counter(p.method for p in procedures())
    assert counts == {
        "with_pectin": 25,
        "liquid_pectin": 17,
        "boiled_down": 19,
        "butter": 12,
        "freezer_spread": 5,
        "syrup": 1,
        "hot_pack": 5,
        "raw_pack": 2,
        "pickle": 16,
        "brined": 2,
        "tomato": 7,
        "pressure_pack": 4,
    }
    assert set(counts) == set(METHOD_NAMES)


def answers(procedure, jar):
    """Every published process of a recipe in a jar: any canner, either pack."""
    return [
        answer
        for canner in METHODS
        for pack in ("hot", "raw")
        if isinstance(
            answer := process_for(
                procedure.name, jar=jar, canner=canner, pack=pack, elevation_ft=650
            ),
            Process,
        )
    ]


@pytest.mark.parametrize("procedure", procedures(), ids=lambda p: p.id)
def test_each_recipe_has_a_process_for_every_jar_it_names(procedure):
    for jar in procedure.jars:
        found = answers(procedure, jar)
        assert found
        for process in found:
            assert process.published_as == procedure.process_product
            assert process.headspace_in == procedure.headspace_in
    if procedure.keeping == "cold":
        assert not procedure.jars
        assert not any(answers(procedure, jar) for jar in ("half-pint", "pint"))
    if procedure.method == "pressure_pack":
        assert all(p.pressure_psi for p in answers(procedure, "quart"))


@pytest.mark.parametrize("procedure", procedures(), ids=lambda p: p.id)
def test_each_recipe_can_be_weighed(procedure):
    if procedure.method in ("with_pectin", "butter") and not procedure.refuse:
        assert procedure.base.mass_kg is not None or procedure.kind == "marmalade"
        assert isinstance(soluble_solids(procedure.fruit), SolubleSolids)
    for ingredient in procedure.ingredients:
        assert ingredient.quantity > 0
        if ingredient.role in ("sugar", "liquid", "salt") or (
            ingredient.role == "acid" and "ascorbic" not in ingredient.name
        ):
            assert ingredient.mass_kg or "oil" in ingredient.name
            assert ingredient.mass_known or "oil" in ingredient.name
        if ingredient.name == "sugar":  # 200 g a cup
            assert ingredient.mass_kg == pytest.approx(
                0.2 * float(ingredient.quantity), abs=1e-4
            ) or ingredient.unit in ("tbsp",)
        if ingredient.unit in ("lb", "oz"):  # 453.59237 g, exactly
            pounds = ingredient.quantity / (16 if ingredient.unit == "oz" else 1)
            assert ingredient.mass_kg == pytest.approx(
                0.45359237 * float(pounds), rel=1e-12
            )
        if ingredient.name == "regular powdered pectin":  # 1.75 oz of 28.35 g
            assert ingredient.mass_kg == pytest.approx(1.75 * 0.0283495, abs=5e-5)
        if ingredient.unit == "pouch":  # 3 oz
            each = ingredient.mass_kg / float(ingredient.quantity)
            assert each == pytest.approx(0.085, abs=5e-5)
    assert procedure.cautions
    assert procedure.base_prep
    assert procedure.order_of_adding


_POUNDS = re.compile(r"([0-9]+(?: [0-9]/[0-9])?) lb")
OF_ANOTHER_NAME = {
    "butter-pear",  # butters reckon raw fruit from pulp
    "conserve-apricot-orange",  # dried apricots, soaked
}
"""What is bought is another thing than what the recipe measures."""
BOX_LB = (1.25 + 1.5) / 2
"""Strawberries, or blackberries, in a quart box: Univ. of Georgia Extension, Weights
and approximate processed yields for fruits."""
PARED = 1 - 500 / 2000
"""Of apples: Univ. of Minnesota, The Food Industry Center."""
RECKONED_LB = {
    # peaches: 3 lb give 3 3/4 cups crushed; apricots: 3 1/2 lb give 5 cups chopped
    "jam-peach-none-usda": 3 / 3.75 * 5.75,
    "jam-apricot-none-usda": 3.5 / 5 * 4.25,
    "jam-apricot-none": 3.5 / 5 * 8,
    "preserves-apple-powdered": 0.660 / PARED / 0.45359237,
    "jam-strawberry-powdered": 3 * BOX_LB,
    "jam-strawberry-liquid": 2 * BOX_LB,
    "jam-strawberry-freezer": BOX_LB,
    "jam-blackberry-powdered": 3 * BOX_LB,
    "jam-blackberry-freezer-blackberry": 1.5 * BOX_LB,
    "jam-blackberry-freezer-raspberry": 1.5 * BOX_LB,
    "jelly-blackberry-powdered": 3 * BOX_LB,
    "jelly-blackberry-liquid": 3 * BOX_LB,
    "jelly-blackberry-none": 2.5 * BOX_LB,
}
"""Where the recipe prints no pounds: by what other published yield says."""
BESIDE_IT_LB = {
    "jam-pear-apple-liquid": ("apples", 0.125 / PARED / 0.45359237),
    "marmalade-peach-orange": ("oranges", 2 / 2.5),  # 2 of them, 2 to 3 to a pound
}


@pytest.mark.parametrize("procedure", procedures(), ids=lambda p: p.id)
def test_fruit_in_cups_has_the_pounds_that_are_printed_for_it(procedure):
    base, printed = procedure.ingredients[0], _POUNDS.search(procedure.base_prep)
    in_cups = base.unit == "cup"
    reckoned = RECKONED_LB.get(procedure.id)
    if reckoned is not None:
        assert base.as_bought_known == "computed"
        assert base.as_bought_kg == pytest.approx(0.45359237 * reckoned, rel=2e-3)
        assert base.as_bought_kg > base.mass_kg
    elif not in_cups or printed is None or procedure.id in OF_ANOTHER_NAME:
        assert base.as_bought_kg is None
    else:
        pounds = float(kitchen(printed[1]))
        assert base.as_bought_kg == pytest.approx(0.45359237 * pounds, rel=1e-12)
        assert base.as_bought_known == "looked_up"
        assert base.as_bought_kg > base.mass_kg  # stones, peel and stems
    also = {i.name: i for i in procedure.ingredients[1:] if i.as_bought_kg is not None}
    name, pounds = BESIDE_IT_LB.get(procedure.id, ("", 0.0))
    assert list(also) == ([name] if name else [])
    for one in also.values():
        assert one.as_bought_kg == pytest.approx(0.45359237 * pounds, rel=2e-3)


FRUIT_THAT_LOSES_NOTHING = {"berries", "berries, cherries or grapes", "blueberries"}
FRUIT_THAT_LOSES_NOTHING |= {"blackberries", "raspberries", "boysenberries"}
FRUIT_THAT_LOSES_NOTHING |= {"loganberries", "gooseberries"}
OF_CANS = {"canned or cooked dried apricots"}


@pytest.mark.parametrize("procedure", answered_procedures(), ids=lambda p: p.id)
def test_no_fruit_with_stones_peel_or_hulls_is_weighed_as_what_is_left_of_it(procedure):
    """Twice a batch was planned of too little: one pound of apples is no pound sliced.

    Pulp is reckoned back to its fruit by the butters; vegetables go by cups of prepared
    ones, which no shelf weighs.
    """
    for one in procedure.of_role("fruit"):
        if one.unit != "cup" or one.mass_kg is None or one.as_bought_kg is not None:
            continue
        name = one.name
        assert (
            name.endswith(("juice", " pulp", "raisins"))
            or name in FRUIT_THAT_LOSES_NOTHING | OF_CANS
        )


def test_a_timed_boil_belongs_to_pectin_and_an_end_sign_to_what_cooks_down():
    for procedure in procedures():
        assert procedure.boil_sign
        if procedure.method == "with_pectin":
            assert procedure.boil_min == 1
            assert "do not double" in procedure.cautions[0].text.lower()
        if procedure.method in ("butter", "boiled_down", "brined"):
            assert procedure.boil_min is None
        if procedure.method == "butter":
            assert procedure.process_product == "apple butter"


# Elderberry: Univ. of Wisconsin B2909. The others: what their print leaves open.
@pytest.mark.parametrize(
    ("id_", "why"),
    [
        ("jelly-elderberry-powdered", "pH 4.92"),
        ("jelly-red-currant-liquid", "size that is not known"),
        ("jelly-berry-group-liquid-old-raspberry", "size that is not known"),
        ("butter-apricot", "how much pulp the fruit gives is not"),
        ("relish-green-tomato", "from memory only"),
    ],
)
def test_what_is_kept_for_the_record_is_never_answered_with(id_, why):
    procedure = next(p for p in procedures() if p.id == id_)
    assert why in procedure.refuse
    refusal = procedure_for(id_)
    assert isinstance(refusal, Refusal)
    assert why in refusal.reason
    assert procedure not in procedures_named(procedure.name)
    assert procedure not in procedures_using(procedure.fruit or "green tomatoes")
    by_name = procedure_for(procedure.name)
    assert isinstance(by_name, Refusal) or by_name is not procedure


@pytest.mark.parametrize(
    ("said", "id_"),
    [
        ("plum jelly", "jelly-plum-powdered"),
        ("plum jelly with powdered pectin", "jelly-plum-powdered"),
        ("plum jelly without pectin", "jelly-plum-none"),
        ("plum jelly, no added pectin", "jelly-plum-none"),
        ("plum jelly, liquid pectin", "jelly-plum-liquid"),
        ("grape jelly", "jelly-grape-powdered"),
        ("grape jelly (liquid pectin)", "jelly-grape-liquid"),
        ("crab apple jelly", "jelly-crabapple-none"),
        ("blackberry jam without pectin", "jam-berry-none-blackberry"),
        ("bread and butter pickles", "pickle-bread-butter"),
        ("ketchup", "tomato-ketchup"),
        ("strawberry freezer jam", "jam-strawberry-freezer"),
        ("fermented dill pickles", "pickle-dill-fermented"),
        ("sweet pepper relish", "relish-sweet-pepper"),
        ("spaghetti sauce without meat", "sauce-spaghetti-plain"),
    ],
)
def test_the_pectin_that_is_named_chooses_the_recipe(said, id_):
    procedure = procedure_for(said)
    assert isinstance(procedure, Procedure), procedure
    assert procedure.id == id_


def test_a_method_that_is_named_chooses_the_recipe():
    for method, id_ in [
        ("with_pectin", "jelly-plum-powdered"),
        ("liquid_pectin", "jelly-plum-liquid"),
        ("boiled_down", "jelly-plum-none"),
    ]:
        procedure = procedure_for("plum jelly", method=method)
        assert isinstance(procedure, Procedure)
        assert procedure.id == id_


def test_a_recipe_of_several_fruits_is_named_after_each():
    for fruit, base in [("boysenberry", "boysenberries"), ("raspberry", "raspberries")]:
        procedure = procedure_for(f"jam-red-raspberry-powdered-{fruit}")
        assert isinstance(procedure, Procedure)
        assert (procedure.name, procedure.base.name) == (f"{fruit} jam", base)


def test_a_quantity_for_each_jar_says_so():
    procedure = procedure_for("tomato-whole-water")
    assert isinstance(procedure, Procedure)
    acid = procedure.of_role("acid")[0]
    assert (acid.quantity, acid.unit, acid.per) == (2, "tbsp", "quart")


def test_pear_butter_tells_of_both_batch_limits():
    handbook, leaflet = procedures_named("pear butter")
    assert handbook.base.quantity == 8
    assert leaflet.base.quantity == 4
    assert leaflet.base.name == "pear pulp"
    assert leaflet.largest_batch_cups == 4
    words = " ".join(caution.text for caution in handbook.cautions)
    assert "4 cups of pulp a batch" in words
    assert "8 cups in this handbook recipe" in words
    assert procedure_for("pear butter") is handbook
    assert procedure_for("butter-general-pear") is leaflet


def test_a_general_butter_is_there_for_each_fruit_of_the_leaflet():
    for fruit in ("apple", "apricot", "crabapple", "grape", "peach", "pear", "plum"):
        ids = [p.id for p in procedures_named(f"{fruit} butter")]
        assert f"butter-general-{fruit}" in ids


def test_recipes_are_found_by_fruit_and_by_juice():
    assert {p.name for p in procedures_using("plum juice")} == {"plum jelly"}
    assert {p.name for p in procedures_using("plums")} == {
        "plum jelly",
        "plum butter",
        "plum jam",
    }
    assert [p.id for p in procedures_using("tart cherry")] == [
        "jelly-sour-cherry-powdered",
        "jam-cherry-powdered",
        "jelly-sour-cherry-liquid",
        "jam-cherry-freezer-liquid",
    ]
    assert {p.id for p in procedures_using("zucchini")} == {
        "pickle-zucchini",
    }
    assert procedures_using("stones") == ()


@pytest.mark.parametrize(
    ("said", "method", "reason", "instead"),
    [
        ("quince jelly", None, "no tested recipe for quince jelly", "grape jelly"),
        ("peach jelly, liquid pectin", None, "pectin: liquid", "peach jam"),
        ("raspberry jelly, no added pectin", None, "pectin: none", "raspberry jam"),
        ("plum jelly", "butter", "no tested recipe", "plum butter"),
        ("plum butter", "with_pectin", "no tested recipe", "plum jelly"),
        ("applesauce", None, "no tested recipe for applesauce", "apple jelly"),
        ("fruit puree", None, "no tested recipe", "extension leaflet"),
        ("plumb jelly", None, "knows no product", "plum jelly"),
        ("elderberry jelly", None, "pH 4.92", "freeze"),
        ("grape-plum jelly", None, "knows no product", "grape jelly or plum jelly"),
    ],
)
def test_a_recipe_that_is_not_held_is_refused(said, method, reason, instead):
    refusal = procedure_for(said, method=method)
    assert isinstance(refusal, Refusal)
    assert reason in refusal.reason
    assert instead in refusal.instead


def test_masses_agree_with_the_weights_of_a_cup():
    for procedure in procedures():
        for ingredient in procedure.ingredients:
            juice = ingredient.name.endswith("juice")
            if not (juice and ingredient.unit == "cup" and ingredient.mass_kg):
                continue
            weight = cup_weight(ingredient.name)
            assert not isinstance(weight, Refusal)
            per_cup = ingredient.mass_kg / float(ingredient.quantity)
            assert per_cup == pytest.approx(weight.kg_per_cup, rel=0.03)


def test_where_the_book_has_no_recipe_it_says_that_it_has_the_process():
    """A plan of meat stock led nowhere, and its process stood in the book."""
    none = procedure_for("meat stock")
    assert isinstance(none, Refusal)
    assert 'its process alone is in the book: stillroom book "meat stock"' in (
        none.instead
    )
    found = process_for(
        "meat stock", jar="quart", elevation_ft=2100, canner="weighted-gauge"
    )
    assert not isinstance(found, Refusal)


@pytest.mark.parametrize("procedure", procedures(), ids=lambda p: p.id)
def test_a_recipe_answers_to_its_whole_title(procedure):
    found = procedure_for(procedure.title)
    if procedure.refuse:
        assert isinstance(found, Refusal)
        assert procedure.refuse in found.reason
    else:
        assert found == procedure
