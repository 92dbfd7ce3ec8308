import numpy as np
import pytest

from stillroom.science.air import gauge_to_absolute_pa, kitchen_pressure_pa, pressure_pa
from stillroom.science.curves import (
    back_to_boil_by_batch,
    boil_by_elevation,
    middle_of_jar,
)
from stillroom.science.ranges import OutOfRange
from stillroom.science.water import boiling_point_k

FIRE = {"burner_w": 3500.0, "efficiency": 0.4, "boils_k": 375.0, "sugar_per_mix": 1.2}


def test_the_boil_falls_with_elevation_and_the_jelly_point_with_it():
    boil, jelly = boil_by_elevation()
    assert (np.diff(boil.y) < 0.0).all()
    assert jelly.y - boil.y == pytest.approx(40.0 / 9.0)
    assert boil.y[0] == boiling_point_k(float(pressure_pa(0.0)))


def test_a_larger_batch_is_later_back_at_the_boil():
    curve = back_to_boil_by_batch(**FIRE)
    assert curve.x[0] > 0.0
    assert (np.diff(curve.y) > 0.0).all()
    weak = back_to_boil_by_batch(**(FIRE | {"burner_w": 2000.0}))
    assert (weak.y > curve.y).all()


def test_the_middle_lags_behind_the_bath_and_peaks_later():
    bath, middle = middle_of_jar(
        "pint", start_k=355.15, boils_k=371.15, come_up_s=900.0, process_s=600.0
    )
    assert bath.x.shape == middle.x.shape == (121,)
    assert middle.value.max() < bath.y.max()
    assert middle.x[np.argmax(middle.value)] > bath.x[np.argmax(bath.y)]
    assert bath.y[0] == 355.15


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: boil_by_elevation(1000.0, 500.0), "has no length"),
        (lambda: boil_by_elevation(0.0, 9000.0), "elevation_m = "),
        (lambda: boil_by_elevation(points=1), "points = 1"),
        (
            lambda: back_to_boil_by_batch(**(FIRE | {"sugar_per_mix": 120})),
            "Give kg of",
        ),
        (
            lambda: middle_of_jar(
                "pint", start_k=355.0, boils_k=371.0, come_up_s=5.0, process_s=600.0
            ),
            "come_up_s = 5",
        ),
    ],
)
def test_a_curve_that_is_none_is_refused(call, words):
    with pytest.raises(OutOfRange, match=words):
        call()


def test_three_ways_to_know_the_air_agree():
    by_height = kitchen_pressure_pa(elevation_m=655.0)
    assert by_height == pressure_pa(655.0)
    assert kitchen_pressure_pa(barometer_pa=94_000.0, elevation_m=655.0) == 94_000.0
    by_boil = kitchen_pressure_pa(boils_reading_k=boiling_point_k(by_height))
    assert by_boil == pytest.approx(by_height, rel=1e-6)
    by_weather = kitchen_pressure_pa(altimeter_setting_pa=101_325.0, elevation_m=655.0)
    assert by_weather == pytest.approx(by_height, rel=2e-5)
    assert gauge_to_absolute_pa(0.0, by_height) == by_height


@pytest.mark.parametrize(
    ("told", "words"),
    [
        ({}, "neither a barometer nor an elevation"),
        ({"altimeter_setting_pa": 101_325.0}, "neither a barometer nor an elevation"),
        (
            {"barometer_pa": 94e3, "boils_reading_k": 371.0},
            "three ways to say one thing",
        ),
        ({"barometer_pa": 940.0}, "1 hPa is 100"),
        ({"boils_reading_k": 98.0}, r"°C \+ 273.15"),
    ],
)
def test_the_air_is_asked_for_in_words(told, words):
    with pytest.raises(OutOfRange, match=words):
        kitchen_pressure_pa(**told)
