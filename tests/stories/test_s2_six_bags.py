"""
Six bags of frozen plum juice, marked 5 cups; the first one measures 4 3/4.

An invented keeper at 310 m with 6.5 kg sugar, five boxes of pectin, an 11 L and an 8 L
pot. What must come out was worked out from published recipes, not from this program.
"""

from dataclasses import replace

import pytest

from stillroom.methods.kitchen import Pot
from stillroom.planning.day import Lot, Want
from stillroom.planning.day_file.dayfile_write import write_day
from tests.cli.running import run
from tests.kitchens import day, juice, kitchen


@pytest.fixture(scope="module")
def plan(tmp_path_factory: pytest.TempPathFactory):
    here = replace(
        kitchen(),
        elevation_m=310.0,
        pots=(
            Pot(name="11 L pot", volume_m3=0.011),
            Pot(name="8 L pot", volume_m3=0.008),
        ),
    )
    shelf = (
        juice("plum juice", bags=6, bag_cups=4.75),
        Lot(name="sugar", what="sugar", mass_kg=6.5),
        Lot(name="pectin", what="regular powdered pectin", count=5),
        Lot(name="jars", what="half-pint jars", count=48),
        Lot(name="lids", what="lids", count=60),
    )
    wants = (Want(product="plum jelly", jars=46, jar="half-pint"),)
    file = tmp_path_factory.mktemp("s2") / "six-bags.toml"
    file.write_text(write_day(day(*wants, shelf=shelf, kitchen=here)), encoding="utf-8")
    said = run("plan", str(file), "--seconds", "5", "--json")
    assert said.code == 0, said.err
    return said.json


def test_five_batches_and_no_sixth(plan):
    """28 1/2 cups = 5 batches of 5 cups, 3 1/2 left, 1 1/2 short of a sixth."""
    assert len(plan["batches"]) == 5
    assert all(b["multiple"] == 1 for b in plan["batches"])
    (left,) = plan["leftovers"]
    assert left["text"] == "3 1/2 cups, 1 1/2 cups short of another batch"
    assert all(i["quantity"] != 5.7 for b in plan["batches"] for i in b["ingredients"])


def test_the_sugar_is_short_by_half_a_kilogram(plan):
    """Five batches take 35 cups = 7.0 kg; the fifth is the one that runs out."""
    (sugar,) = [p for p in plan["shopping"] if p["name"] == "sugar"]
    assert "7.0 kg" in sugar["need"]
    assert "500 g" in sugar["buy"]
    assert sugar["why"] == "there is enough for 4 of the 5 batches that take it"


def test_boxes_are_whole_and_enough(plan):
    assert not [p for p in plan["shopping"] if "pectin" in p["name"]]
    assert all(
        i["quantity"] == 1.0
        for b in plan["batches"]
        for i in b["ingredients"]
        if "pectin" in i["name"]
    )


def test_jars_by_the_solids_beside_the_printed(plan):
    """35 to 40 printed, 39 derived."""
    assert plan["batches"][0]["expected"]["printed"] == "7 to 8"
    assert sum(b["expected"]["jars"] for b in plan["batches"]) == 39
    (unmet,) = plan["unmet"]
    assert (unmet["wanted"], unmet["planned"]) == (46, 39)


def test_the_small_pot_is_named_as_short(plan):
    said = [c["text"] for c in plan["cautions"]]
    assert any("8 L pot holds 8.0 L" in text and "0.3 L short" in text for text in said)


def test_only_the_large_pot_holds_it(plan):
    """Dissolved 8.7 cups a batch, times four is 8.3 L: the 8 L pot is 0.3 short."""
    assert {b["pot"] for b in plan["batches"]} == {"11 L pot"}
    refused = run(
        "batch", "plum jelly", "--have", "28 1/2 cups", "--pot", "8L", "--json"
    )
    assert refused.code == 3


def test_six_bags_are_thawed_the_last_opened_for_a_cup_and_a_quarter(plan):
    line = plan["evening_before"][0]
    assert line.startswith("Move 6 of 6 bags")
    assert "the last is opened for 1 1/4 cups" in line


def test_ten_minutes_at_310_m(plan):
    """1,017 ft lies in the band 1,001 to 6,000 ft."""
    assert {load["process_min"] for load in plan["loads"]} == {10}


def test_41_lids_are_set_out(plan):
    """39 jars and one lid in twenty to spare."""
    assert any("41 lids" in line for line in plan["evening_before"])
    assert any("39 half-pint jars and 2 to spare" in x for x in plan["evening_before"])
