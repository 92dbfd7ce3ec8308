import csv
from fractions import Fraction
from pathlib import Path

import pytest

from stillroom.book.densities import cup_weight
from stillroom.book.procedures import (
    Procedure,
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


def test_the_book_holds_fourteen_with_pectin_and_nine_butters():
    kinds = [p.method for p in procedures()]
    assert kinds.count("with_pectin") == 14
    assert kinds.count("butter") == 9
    assert len({p.id for p in procedures()}) == 23
    with_pectin = [p for p in procedures() if p.method == "with_pectin"]
    assert {p.name for p in with_pectin} <= {row["name"] for row in TYPED}


@pytest.mark.parametrize("procedure", procedures(), ids=lambda p: p.id)
def test_each_recipe_has_a_process_for_every_jar_it_names(procedure):
    for jar in procedure.jars:
        process = process_for(procedure.name, jar=jar, elevation_ft=2150)
        assert isinstance(process, Process)
        assert process.published_as == procedure.process_product
        assert process.headspace_in == procedure.headspace_in


@pytest.mark.parametrize("procedure", procedures(), ids=lambda p: p.id)
def test_each_recipe_can_be_weighed(procedure):
    assert procedure.base.mass_kg is not None or procedure.kind == "marmalade"
    assert isinstance(soluble_solids(procedure.fruit), SolubleSolids)
    for ingredient in procedure.ingredients:
        assert ingredient.quantity > 0
        if ingredient.role in ("sugar", "pectin", "liquid", "acid"):
            assert ingredient.mass_kg
            assert ingredient.mass_known
        if ingredient.name == "sugar":  # 200 g a cup
            assert ingredient.mass_kg == pytest.approx(0.2 * float(ingredient.quantity))
        if ingredient.role == "pectin":  # 1.75 oz of 28.35 g
            assert ingredient.mass_kg == pytest.approx(1.75 * 0.0283495, abs=5e-5)
    assert procedure.cautions
    assert procedure.base_prep
    assert procedure.order_of_adding


def test_a_timed_boil_belongs_to_pectin_and_an_end_sign_to_butter():
    for procedure in procedures():
        assert procedure.boil_sign
        if procedure.method == "with_pectin":
            assert procedure.boil_min == 1
            assert "do not double" in procedure.cautions[0].text.lower()
        else:
            assert procedure.boil_min is None
            assert procedure.process_product == "apple butter"


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
    assert [p.name for p in procedures_using("plum juice")] == ["plum jelly"]
    assert [p.name for p in procedures_using("plums")] == ["plum jelly", "plum butter"]
    assert [p.id for p in procedures_using("tart cherry")] == [
        "jelly-sour-cherry-powdered",
        "jam-cherry-powdered",
    ]
    assert procedures_using("stones") == ()


@pytest.mark.parametrize(
    ("said", "method", "reason", "instead"),
    [
        ("quince jelly", None, "no tested recipe for quince jelly", "grape jelly"),
        ("plum jelly, liquid pectin", None, "pectin: liquid", "plum jelly"),
        ("plum jelly, no added pectin", None, "pectin: none", "plum jelly"),
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
