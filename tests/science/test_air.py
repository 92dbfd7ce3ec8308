import csv
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from stillroom.science.air import elevation_m, pressure_pa, station_pressure_pa
from stillroom.science.ranges import OutOfRange

PUBLISHED = Path(__file__).parents[1] / "published"
PSI_PA = 6894.757293168
FOOT_M = 0.3048
elevations = st.floats(-300, 4000)

with (PUBLISHED / "standard_atmosphere_1976.csv").open(encoding="utf-8") as _stream:
    ROWS = list(csv.DictReader(_stream))


@pytest.mark.parametrize("row", ROWS, ids=lambda r: f"{r['elevation']} {r['unit']}")
def test_pressure_reproduces_the_standard_atmosphere(row):
    metres = float(row["elevation"]) * (FOOT_M if row["unit"] == "ft" else 1.0)
    unit_pa = PSI_PA if row["pressure_unit"] == "psi" else 1.0
    tolerance = float(row["abs_tolerance"])
    assert pressure_pa(metres) / unit_pa == pytest.approx(
        float(row["pressure"]), abs=tolerance
    )


def test_the_first_layer_ends_at_the_printed_pressure():
    # U.S. Standard Atmosphere, 1976: 22 632.1 Pa at 11 km geopotential height.
    from stillroom.science.air import _layer_pressure_pa

    assert _layer_pressure_pa(11_000.0) == pytest.approx(22_632.10, abs=0.1)


def test_station_pressure_from_an_altimeter_setting():
    # Ratio of the standard atmosphere, 1 013.25 hPa at 1 524 m: 843.0 hPa.
    assert station_pressure_pa(101_325.0, 1524.0) == pytest.approx(84_300, abs=50)
    assert station_pressure_pa(102_000.0, 0.0) == 102_000.0


@given(elevations, elevations)
def test_air_thins_with_elevation(one, other):
    low, high = sorted((one, other))
    if high - low > 1e-6:
        assert pressure_pa(low) > pressure_pa(high)


@given(elevations)
def test_elevation_is_the_inverse(metres):
    assert elevation_m(pressure_pa(metres)) == pytest.approx(metres, abs=1e-6)


@given(st.lists(elevations, min_size=1, max_size=8))
def test_an_array_gives_what_its_elements_give(metres):
    together = pressure_pa(np.array(metres))
    assert together.shape == (len(metres),)
    assert together == pytest.approx([pressure_pa(m) for m in metres], rel=1e-14)


@pytest.mark.parametrize("metres", [-300.1, 4000.1, float("nan"), float("inf")])
def test_an_elevation_outside_is_refused_in_words(metres):
    with pytest.raises(OutOfRange, match=r"elevation_m = .* is outside -300 to 4000"):
        pressure_pa(metres)


def test_one_wrong_element_refuses_the_array():
    with pytest.raises(OutOfRange, match=r"5000 .* Standard Atmosphere, 1976"):
        pressure_pa(np.array([0.0, 5000.0]))


def test_a_pressure_from_nowhere_on_earth_is_refused():
    with pytest.raises(OutOfRange, match="not reduced to sea level"):
        elevation_m(50_000.0)
    with pytest.raises(OutOfRange, match=r"Give the sea-level reading in Pa"):
        station_pressure_pa(1013.25, 100.0)
    with pytest.raises(OutOfRange, match="metres above sea level"):
        station_pressure_pa(101_325.0, 9_000.0)
