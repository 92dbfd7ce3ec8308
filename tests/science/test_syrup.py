import csv
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from stillroom.science.ranges import OutOfRange
from stillroom.science.syrup import (
    density_at_20_c_kg_m3,
    density_kg_m3,
    heat_capacity_j_per_kg_k,
)
from stillroom.science.water import density_kg_m3 as water_density_kg_m3

PUBLISHED = Path(__file__).parents[1] / "published"
solids = st.floats(0, 0.84)
temperatures = st.floats(273.15, 388.15)

with (PUBLISHED / "sucrose_density.csv").open(encoding="utf-8") as _stream:
    ROWS = list(csv.DictReader(_stream))


@pytest.mark.parametrize("row", ROWS, ids=lambda r: f"{r['mass_percent']} %")
def test_density_reproduces_the_crc_table(row):
    fraction = float(row["mass_percent"]) / 100
    printed = pytest.approx(
        float(row["density_kg_m3"]), rel=0, abs=float(row["abs_tolerance"])
    )
    assert density_at_20_c_kg_m3(fraction) == printed
    assert density_kg_m3(fraction, 293.15) == printed


def test_hot_syrup_agrees_with_peacock():
    # Peacock 1995 for 65 % at 100 °C: 1276 kg/m³, within 10.
    assert density_kg_m3(0.65, 373.15) == pytest.approx(1276, abs=10)


@pytest.mark.parametrize("celsius", [20, 40, 60, 80, 95])
def test_without_solids_it_is_water(celsius):
    # Peacock's temperature part on the CRC density at 20 °C is 1.7 low when hot.
    got = density_kg_m3(0.0, celsius + 273.15)
    assert got == pytest.approx(water_density_kg_m3(celsius + 273.15), abs=2)


# Sugar-industry form worked out by hand for pure sucrose: B / %, t / °C, kJ/(kg K).
@pytest.mark.parametrize(
    ("brix", "celsius", "kilojoules"),
    [(0, 20, 4.1868), (65, 20, 2.653), (65, 95, 3.018)],
)
def test_heat_capacity_by_hand(brix, celsius, kilojoules):
    got = heat_capacity_j_per_kg_k(brix / 100, celsius + 273.15) / 1e3
    assert got == pytest.approx(kilojoules, abs=0.001)


# Choi and Okos 1986, computed: w / %, t / °C, kJ/(kg K). It lies up to 18 % lower.
@pytest.mark.parametrize(
    ("brix", "celsius", "kilojoules"),
    [
        (0, 20, 4.177),
        (15, 20, 3.788),
        (50, 20, 2.881),
        (65, 20, 2.492),
        (65, 95, 2.569),
    ],
)
def test_heat_capacity_lies_where_choi_and_okos_allow(brix, celsius, kilojoules):
    got = heat_capacity_j_per_kg_k(brix / 100, celsius + 273.15) / 1e3
    assert 0.99 * kilojoules < got < 1.19 * kilojoules


@given(solids, solids, temperatures)
def test_more_sugar_makes_it_heavier_and_quicker_to_heat(one, other, kelvin):
    low, high = sorted((one, other))
    if high - low > 1e-6:
        assert density_kg_m3(low, kelvin) < density_kg_m3(high, kelvin)
        capacity = heat_capacity_j_per_kg_k
        assert capacity(low, kelvin) > capacity(high, kelvin)


@given(solids, temperatures, temperatures)
def test_warm_syrup_takes_more_room(fraction, one, other):
    low, high = sorted((one, other))
    if high - low > 1e-6:
        assert density_kg_m3(fraction, low) > density_kg_m3(fraction, high)


def test_an_array_gives_what_its_elements_give():
    fractions = np.array([0.0, 0.5, 0.65])
    kelvin = np.array([293.15, 333.15, 373.15])
    for function in (density_kg_m3, heat_capacity_j_per_kg_k):
        each = [
            function(float(w), float(t)) for w, t in zip(fractions, kelvin, strict=1)
        ]
        assert function(fractions, kelvin) == pytest.approx(each)


def test_brix_is_not_taken_for_a_fraction():
    with pytest.raises(OutOfRange, match=r"soluble_solids = 65 .* 65 °Brix is 0.65"):
        density_kg_m3(65.0, 293.15)
    with pytest.raises(OutOfRange, match=r"outside 0 to 0\.84"):
        heat_capacity_j_per_kg_k(0.85, 293.15)
    with pytest.raises(OutOfRange, match=r"Give kelvin: °C \+ 273.15"):
        density_kg_m3(0.65, 20.0)
