"""
A bushel of pears: 50 lb, 14 empty quarts, 12 pints, at an invented 310 m (1,017 ft).

Wanted: 14 quarts and a butter. The pulp then measures 7 1/4 cups, not 8.
"""

import pytest

from stillroom.methods.kitchen import Pot
from stillroom.planning.day import Lot, Want
from stillroom.planning.day_file.dayfile_write import write_day
from stillroom.planning.whole_day import plan_the_day
from stillroom.refusal import granted
from tests.cli.running import run
from tests.kitchens import CUP, day, kitchen, stores

LB = 0.45359237


@pytest.fixture(scope="module")
def plan(tmp_path_factory: pytest.TempPathFactory):
    here = kitchen(
        elevation_m=310.0,
        pots=(
            Pot(name="11 L pot", volume_m3=0.011),
            Pot(name="8 L pot", volume_m3=0.008),
        ),
    )
    shelf = (
        Lot(name="pears", what="pears", mass_kg=50 * LB),
        Lot(name="sugar", what="sugar", mass_kg=8.0),
        Lot(name="orange juice", what="orange juice", volume_m3=CUP),
        Lot(name="quarts", what="quart jars", count=14),
        Lot(name="pints", what="pint jars", count=12),
        Lot(name="half-pints", what="half-pint jars", count=12),
        Lot(name="lids", what="lids", count=60),
    )
    wants = (
        Want(product="pears", jars=14, jar="quart"),
        Want(product="pear butter", jars=7, jar="half-pint"),
    )
    file = tmp_path_factory.mktemp("s5") / "pears.toml"
    file.write_text(write_day(day(*wants, shelf=shelf, kitchen=here)), encoding="utf-8")
    said = run("plan", str(file), "--seconds", "4", "--json")
    assert said.code == 0, said.err
    return said.json


def test_35_lb_for_14_quarts_in_two_loads_of_30_min(plan):
    """17 1/2 lb for 7 quarts; hot pack, 30 min at 1,001 to 3,000 ft: both printed."""
    quarts = [b for b in plan["batches"] if b["product"] == "pears"]
    assert [b["expected"]["jars"] for b in quarts] == [7, 7]
    pounds = [
        i["quantity"] for b in quarts for i in b["ingredients"] if "pear" in i["name"]
    ]
    assert sum(pounds) == 35
    loads = [load for load in plan["loads"] if load["jar"] == "quart"]
    assert [load["process_min"] for load in loads] == [30, 30]


def test_seven_pounds_for_one_butter(plan):
    (butter,) = [b for b in plan["batches"] if b["product"] == "pear butter"]
    (pears,) = [i for i in butter["inputs"] if i["lot"] == "pears"]
    assert pears["quantity"].startswith("7 lb")


def test_eight_pounds_over_are_three_quarts_or_six_pints(plan):
    (left,) = [rest for rest in plan["leftovers"] if rest["lot"] == "pears"]
    assert left["text"].startswith("8 lb")
    assert (
        "pears, packed hot: 3 quart jars (0 empty on the shelf) or 6 pint jars (12 "
        "empty on the shelf)" in (left["choices"])
    )


def test_pints_take_25_min_here():
    """USDA Guide 2: pears, hot pack, pints 25 min at 1,001 to 3,000 ft; never 20."""
    body = run(
        "process", "pears", "--jar", "pint", "--elevation", "310m", "--json"
    ).json
    assert (body["minutes"], body["elevation_band_ft"]) == (25, [1001, 3000])


def test_the_butters_process_is_not_the_one_from_memory(plan):
    (load,) = [load for load in plan["loads"] if load["jar"] == "half-pint"]
    assert load["process_min"] == 10
    assert "01600550" in load["source"]


def test_two_published_batch_limits_are_shown(plan):
    said = " ".join(c["text"] for c in plan["cautions"])
    assert "4 cups of pulp" in said
    assert "8 cups" in said


def test_7_1_4_cups_of_pulp_give_back_3_8_cup_of_sugar():
    body = run("measured", "pear butter", "7 1/4 cups", "--json").json
    (sugar,) = [c for c in body["changes"] if c["name"] == "sugar"]
    assert sugar["now"] == "3 5/8 cups (725 g)"
    assert sugar["what"] == "take back 3/8 cup"
    assert 7 <= body["jars_now"] < 8.4


def test_asian_pears_are_not_pears():
    body = run(
        "process", "Asian pears", "--jar", "quart", "--elevation", "310m", "--json"
    )
    assert body.code == 0
    assert body.json["product"] != "pears"
    said = str(body.json)
    assert "lemon" in said  # acid is part of it


def test_oven_is_no_canner():
    said = run(
        "process", "pear butter in the oven", "--jar", "pint", "--elevation", "310m"
    )
    assert said.code == 3


def planned(*wants: Want, lots: tuple[Lot, ...]):
    whole = day(*wants, shelf=(*lots, *stores()), kitchen=kitchen(elevation_m=310.0))
    return granted(plan_the_day(whole, seconds=2.0))


def test_the_eight_pounds_over_make_six_pints_or_three_quarts():
    over = Lot(name="over", what="pears", mass_kg=8 * LB)
    pints = planned(Want(product="pears", jars=6, jar="pint"), lots=(over,))
    assert [(b.jars, b.process.minutes) for b in pints.batches] == [(6, 25)]
    quarts = planned(Want(product="pears", jars=4, jar="quart"), lots=(over,))
    assert [b.jars for b in quarts.batches] == [3]
    assert quarts.unmet[0].planned == 3


def test_asian_pears_get_their_acid_in_every_jar():
    tree = Lot(name="tree", what="Asian pears", mass_kg=20 * LB)
    quarts = Lot(name="quarts", what="quart jars", count=7)
    plan = planned(
        Want(product="Asian pears", jars=7, jar="quart"), lots=(tree, quarts)
    )
    (batch,) = plan.problem.batches
    (acid,) = [step for step in batch.steps if step.id == "measure_acid"]
    assert "2 tbsp bottled lemon juice into each of 7 jars" in acid.verb
    assert any(bought.name == "bottled lemon juice" for bought in plan.shopping)
