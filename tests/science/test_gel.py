import csv
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from stillroom.science.air import pressure_pa
from stillroom.science.gel import RISE_K, RISE_OF_PURE_SUCROSE_K, jelly_point_k
from stillroom.science.ranges import OutOfRange
from stillroom.science.water import boiling_point_k

PUBLISHED = Path(__file__).parents[1] / "published"
with (PUBLISHED / "jelly_point.csv").open(encoding="utf-8") as _stream:
    ROWS = list(csv.DictReader(_stream))


def here_f(feet):
    water = boiling_point_k(pressure_pa(feet * 0.3048))
    return jelly_point_k(water) * 1.8 - 459.67


@pytest.mark.parametrize("row", ROWS, ids=lambda r: f"{r['elevation_ft']} ft")
def test_jelly_point_agrees_with_guide_7(row):
    # Whole degrees are printed, in steps of 2 °F for each 1,000 ft up to 4,000 and of 1
    # at 5,000: the 4,000 ft row is 0.66 low by the boiling point of water there.
    allowed = 0.7 if row["elevation_ft"] == "4000" else 0.5
    assert here_f(float(row["elevation_ft"])) == pytest.approx(
        float(row["jelly_f"]), rel=0, abs=allowed
    )


def test_the_reading_of_her_own_thermometer_carries_over():
    # Story S4: it reads 208.5 °F in boiling water, so the stop is 216.5 °F.
    reading_k = (208.5 + 459.67) / 1.8
    assert jelly_point_k(reading_k) * 1.8 - 459.67 == pytest.approx(216.5, abs=1e-9)


def test_the_rises_that_are_in_print():
    # USDA Guide 7: 8 °F. Cruess and McNair, in Lowe's Experimental Cookery: 3.9 K.
    assert pytest.approx(8.0) == RISE_K * 1.8
    assert jelly_point_k(373.15, RISE_OF_PURE_SUCROSE_K) == pytest.approx(377.05)


@given(st.floats(353.15, 378.15), st.floats(3.0, 6.0))
def test_it_lies_above_boiling_water_by_the_rise(water, rise):
    assert jelly_point_k(water, rise) - water == pytest.approx(rise, abs=1e-9)


def test_an_array_gives_what_its_elements_give():
    water = np.array([360.0, 373.15])
    assert jelly_point_k(water) == pytest.approx(
        [jelly_point_k(float(t)) for t in water]
    )


def test_a_reading_not_of_boiling_water_is_refused():
    with pytest.raises(OutOfRange, match=r"water_boils_k = 100 .* boiling water"):
        jelly_point_k(100.0)
    with pytest.raises(OutOfRange, match=r"rise_k = 8 .* 8 °F is 4.44 K"):
        jelly_point_k(373.15, 8.0)
