"""Boiled down to the printed end: degrees, minutes, and what goes in late."""

from dataclasses import replace

import pytest

from stillroom.book.procedures import procedure_for, procedures
from stillroom.measures import both
from stillroom.methods import boiled_down
from stillroom.methods.method import Filling, Station
from stillroom.methods.thermometer import calibrated
from stillroom.refusal import granted
from tests.one_batch_of import station

NINE = ("conserve-grape", "conserve-apricot-orange", "marmalade-peach-orange")
BOILED_DOWN = [
    p.id for p in procedures() if p.method == boiled_down.NAME and not p.refuse
]


def steps_of(name: str, at: Station | None = None):
    recipe = granted(boiled_down.scale(granted(procedure_for(name)), 1))
    filling = Filling(jar="half-pint", jars=4, process=None)
    work = granted(boiled_down.steps(recipe, at or station(), filling))
    return {step.id: step for step in work.steps}


@pytest.mark.parametrize("name", BOILED_DOWN)
def test_it_is_stopped_so_far_above_boiling_water_as_its_recipe_prints(name):
    printed = 9 if name in NINE else 8
    sign = steps_of(name)["test"].end_sign
    over = f"{printed} °F ({printed / 1.8:.1f} °C) over your thermometer's boil today"
    near_k = station().air.water_boils_k + printed / 1.8
    assert sign.startswith(f"{over}, near {both(near_k, 0)}")


def test_its_outlook_says_the_same_degree_as_its_step():
    recipe = granted(boiled_down.scale(granted(procedure_for(NINE[0])), 1))
    outlook = granted(boiled_down.checks(recipe, station())).outlook
    assert f"{both(station().air.water_boils_k + 5, 0)} here today" in outlook


def test_nine_degrees_are_nine_on_her_own_thermometer_too():
    at = station()
    own = granted(calibrated(at.air.water_boils_k + 1.0, at.air))
    hers = replace(at, air=replace(at.air, thermometer=own))
    jelly = steps_of("apple jelly without pectin", hers)["test"].end_sign
    conserve = steps_of(NINE[0], hers)["test"].end_sign
    assert float(conserve.split()[0]) == pytest.approx(
        float(jelly.split()[0]) + 1, abs=0.11
    )


def test_whole_fruit_boils_as_long_as_is_printed():
    """Four oranges and a grapefruit: how much water is in them nobody prints."""
    made = steps_of("citrus marmalade")
    assert made["boil_fast"].duration_min + made["test"].duration_min == 20


def test_skins_that_are_kept_go_in_late():
    made = steps_of("grape conserve")
    assert made["boil_fast"].note == "stir in the skins about 10 min before it is done"
    assert steps_of("berry jam without pectin")["boil_fast"].note == ""
