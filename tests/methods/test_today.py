"""Today's air: boiling and jellying point, and the band that is never too low."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from stillroom.methods.thermometer import calibrated
from stillroom.methods.today import air_today
from stillroom.refusal import Refusal, granted
from stillroom.science import air

# USDA Complete Guide, Guide 7, temperature test: elevation [ft], jellying point [°F].
JELLYING_POINTS = [
    (0, 220),
    (1000, 218),
    (2000, 216),
    (3000, 214),
    (4000, 212),
    (5000, 211),
    (6000, 209),
    (7000, 207),
    (8000, 205),
]


def fahrenheit(kelvin: float) -> float:
    return kelvin * 1.8 - 459.67


@pytest.mark.parametrize(("feet", "printed"), JELLYING_POINTS)
def test_the_jellying_point_agrees_with_the_printed_one(feet, printed):
    today = granted(air_today(elevation_m=feet * 0.3048))
    assert fahrenheit(today.jelly_point_k) == pytest.approx(printed, abs=0.8)


def test_nothing_known_is_refused():
    answer = air_today()
    assert isinstance(answer, Refusal)
    assert "2150ft" in answer.instead


def test_a_barometer_moves_the_boil_but_not_the_band():
    calm = granted(air_today(elevation_m=655.0))
    storm = granted(air_today(elevation_m=655.0, pressure_pa=91_000.0))
    assert storm.water_boils_k < calm.water_boils_k
    assert storm.elevation_ft == calm.elevation_ft == pytest.approx(2149, abs=1)


@given(st.floats(-100.0, 2800.0), st.floats(0.97, 1.03))
def test_a_barometer_alone_never_gives_too_low_a_band(elevation_m, weather):
    """Whatever the weather, the band is taken for at least the true elevation."""
    reading = float(air.pressure_pa(elevation_m)) * weather
    today = air_today(pressure_pa=reading)
    if isinstance(today, Refusal):
        return
    assert today.elevation_ft * 0.3048 >= elevation_m - 1.0
    assert any("highest place" in c.text for c in today.cautions)


def test_a_barometer_set_to_the_sea_is_noticed():
    answer = air_today(elevation_m=2000.0, pressure_pa=101_325.0)
    assert isinstance(answer, Refusal)
    assert "sea level" in answer.instead


def test_stop_on_her_own_thermometer_is_her_boil_and_eight():
    today = granted(air_today(elevation_m=310.0))
    own = granted(calibrated((208.5 + 459.67) / 1.8, today))
    assert fahrenheit(own.stop_reading_k) == pytest.approx(216.5, abs=0.01)
    assert fahrenheit(own.sheet_test_from_k) == pytest.approx(213.0, abs=0.05)
    assert own.boil_off_k * 1.8 == pytest.approx(-1.7, abs=0.15)


def test_a_broken_thermometer_is_refused():
    answer = calibrated(361.15, granted(air_today(elevation_m=310.0)))
    assert isinstance(answer, Refusal)
    assert "another thermometer" in answer.instead
