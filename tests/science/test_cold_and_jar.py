import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from stillroom.book.freezing_packs import freezer_load_rule_kg_m3
from stillroom.science import glass
from stillroom.science.cold import (
    Shape,
    estimated_freezing,
    estimated_thawing,
    freezer_load_kg,
    heat_to_freeze_j_per_kg,
    plank_s,
)
from stillroom.science.dry import dried_mass_kg
from stillroom.science.estimate import Estimate
from stillroom.science.gel import Gel, gel_window, setting_temperature
from stillroom.science.headspace import expansion, pressure_when_cold_pa, vacuum_pa
from stillroom.science.jar import (
    heating_rate_index,
    jar_in_air,
    jar_in_water,
    lag_factor,
    middle_by_measured_index,
    middle_curve,
)
from stillroom.science.ranges import OutOfRange
from stillroom.science.setting import time_to_set
from stillroom.science.water import boiling_point_k

PACKET = {
    "density_kg_m3": 1000.0,
    "latent_heat_j_per_kg": 284e3,
    "freezes_k": 271.95,
    "around_k": 255.15,
    "surface_w_m2_k": 8.0,
    "conductivity_w_per_m_k": 1.5,
}
CLOSED = {
    "cold_k": 293.15,
    "air_pa": 101_325.0,
    "contents_m3": 450e-6,
    "headspace_m3": 25e-6,
}


@given(st.floats(0.01, 0.2))
def test_thick_packets_freeze_more_than_twice_as_slowly_when_doubled(size):
    once = plank_s(Shape.SLAB, size, **PACKET)
    twice = plank_s(Shape.SLAB, 2 * size, **PACKET)
    assert 2 * once < twice < 4 * once
    # A ball freezes from all sides: a third of the slab's time at the same size.
    assert plank_s(Shape.SPHERE, size, **PACKET) == pytest.approx(once / 3)


def test_one_layer_is_hard_within_a_day_and_a_heap_is_not():
    layer = estimated_freezing(Shape.SLAB, 0.04, water_share=0.85)
    assert layer.value < 24.0
    assert estimated_freezing(Shape.SLAB, 0.12, water_share=0.85).low > 24.0


def test_bags_thaw_sooner_in_water():
    still, wet = (
        estimated_thawing(
            Shape.SLAB, 0.05, water_share=0.88, around_k=283.15, in_water=in_water
        )
        for in_water in (False, True)
    )
    assert wet.high < still.low


def test_the_freezers_load_follows_the_published_rule():
    # University of Minnesota Extension: 20 cubic feet take 40 to 60 pounds.
    careful, utmost = freezer_load_kg(20 * 0.3048**3, freezer_load_rule_kg_m3())
    assert careful / 0.45359237 == pytest.approx(40.0)
    assert utmost / 0.45359237 == pytest.approx(60.0)


@given(st.floats(0.1, 10), st.floats(0.5, 0.95), st.floats(0.0, 0.4))
def test_drying_takes_water_only(fresh, before, after):
    left = dried_mass_kg(fresh, before, after)
    assert left * (1 - after) == pytest.approx(fresh * (1 - before), rel=1e-12)


@given(st.floats(300, 372), st.floats(300, 372))
def test_a_jar_closed_hotter_pulls_harder(one, other):
    low, high = sorted((one, other))
    if high - low > 1e-3:
        assert pressure_when_cold_pa(closed_k=high, **CLOSED) < pressure_when_cold_pa(
            closed_k=low, **CLOSED
        )


def test_the_air_in_the_headspace_is_conserved():
    inside = pressure_when_cold_pa(closed_k=353.15, **CLOSED)
    from stillroom.science.water import saturation_pressure_pa

    shrunk = 450e-6 * expansion(353.15, 293.15)
    before = (101_325.0 - saturation_pressure_pa(353.15)) * 25e-6 / 353.15
    after = (inside - saturation_pressure_pa(293.15)) * (25e-6 - shrunk) / 293.15
    assert after == pytest.approx(before, rel=1e-9)


def test_closed_cold_there_is_no_vacuum():
    inside = pressure_when_cold_pa(closed_k=293.15, **CLOSED)
    assert vacuum_pa(101_325.0, inside) == pytest.approx(0.0, abs=1e-6)


def test_boiling_contents_hold_no_air():
    at_boil = boiling_point_k(101_325.0)
    inside = pressure_when_cold_pa(closed_k=at_boil - 1e-6, **CLOSED)
    assert inside == pytest.approx(2339, abs=5)  # the vapour of water at 20 °C


def test_heating_out_and_back_is_no_expansion():
    there, back = expansion(293.15, 368.15), expansion(368.15, 293.15)
    assert (1 + there) * (1 + back) == pytest.approx(1.0, rel=1e-12)


def test_glass_stands_between_the_film_and_the_food():
    assert glass.wall_w_m2_k(1500.0, 0.0) == pytest.approx(1500.0)
    assert glass.wall_w_m2_k(1500.0, 0.004) < glass.wall_w_m2_k(1500.0, 0.003)
    # The published baths keep under the limit: raw pack 60 °C, hot pack 82 °C.
    assert glass.shock_k(293.15 + 4.0, 333.15) < glass.SHOCK_LIMIT_K
    assert glass.shock_k(353.15, 355.15) < glass.SHOCK_LIMIT_K
    assert glass.shock_k(373.15, 293.15) == glass.shock_k(293.15, 373.15)


@pytest.mark.parametrize("size", ["half-pint", "pint", "quart"])
def test_a_jar_cools_in_air_slower_than_it_warms_in_water(size):
    # The opposite of what canners call fh < fc for foods that stir themselves: here
    # both follow from the film outside.
    warms, cools = (heating_rate_index(jar(size)) for jar in (jar_in_water, jar_in_air))
    assert warms.high < cools.low
    assert lag_factor(jar_in_water(size)).value < 2.04


def test_the_middle_of_the_curve_lies_within_its_spread():
    corners = [0, 900, 2400, 2700, 6000]
    bath = [333.15, 373.15, 373.15, 313.15, 298.15]
    time = np.arange(0.0, 6001.0, 60.0)
    curve = middle_curve(jar_in_water("pint"), corners, bath, 333.15, time)
    assert (curve.low <= curve.value).all()
    assert (curve.value <= curve.high).all()
    after = curve.x > 2400.0
    assert curve.value[after].max() > curve.value[~after].max()


def test_slow_set_pectin_waits_longer_than_rapid():
    rapid, slow = (
        time_to_set("half-pint", setting_temperature(share), filled_k=363.15)
        for share in (0.74, 0.62)
    )
    assert rapid.value < slow.value
    assert time_to_set("quart", setting_temperature(0.62), filled_k=363.15).value > (
        slow.value
    )


@pytest.mark.parametrize(
    ("ph", "solids", "verdicts"),
    [
        (3.1, 0.65, (Gel.INSIDE,)),
        (3.6, 0.65, (Gel.TOO_LITTLE_ACID,)),
        (3.4, 0.65, (Gel.LITTLE_ACID,)),
        (2.6, 0.65, (Gel.TOO_MUCH_ACID,)),
        (3.1, 0.55, (Gel.TOO_LITTLE_SOLIDS,)),
        (3.7, 0.72, (Gel.TOO_LITTLE_ACID, Gel.TOO_MUCH_SOLIDS)),
    ],
)
def test_the_window_has_named_verdicts(ph, solids, verdicts):
    assert gel_window(ph, solids) == verdicts


def test_pectin_that_sets_by_calcium_is_not_judged():
    for call in (lambda: gel_window(3.1, 0.5, 0.35), lambda: setting_temperature(0.35)):
        with pytest.raises(OutOfRange, match="sets by calcium"):
            call()


def test_an_estimate_says_what_it_is():
    told = Estimate(value=0.0, unit="min", low=0.0, high=3.0, basis="b", source="s")
    assert str(told) == "0 min (0 to 3.0; an estimate: b)"
    with pytest.raises(ValueError, match="low <= value <= high"):
        Estimate(value=5.0, unit="K", low=6.0, high=7.0, basis="b", source="s")
    with pytest.raises(ValueError, match="estimate of nan"):
        Estimate(value=float("nan"), unit="K", low=0, high=1, basis="b", source="s")


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: plank_s(Shape.SLAB, 4.0, **PACKET), "4 cm is 0.04"),
        (
            lambda: plank_s(Shape.SLAB, 0.04, **(PACKET | {"around_k": 272.0})),
            "Give colder air",
        ),
        (lambda: freezer_load_kg(200.0, (32.0, 48.0)), "10 cubic feet is 0.283"),
        (lambda: dried_mass_kg(1.0, 0.2, 0.8), "never adds water"),
        (lambda: dried_mass_kg(1.0, 85, 20), "85 % is 0.85"),
        (
            lambda: heat_to_freeze_j_per_kg(
                above_j_per_kg_k=3800.0,
                start_k=260.0,
                freezes_k=272.0,
                latent_heat_j_per_kg=3e5,
                below_j_per_kg_k=1900.0,
                end_k=255.0,
            ),
            "Start warmer",
        ),
        (
            lambda: pressure_when_cold_pa(closed_k=380.0, **CLOSED),
            "there is only steam",
        ),
        (lambda: glass.wall_w_m2_k(1500.0, 3.0), "3 mm is 0.003"),
        (lambda: glass.shock_k(20.0, 100.0), r"°C \+ 273.15"),
        (lambda: jar_in_water("bucket"), "measure it and make a Cylinder"),
        (
            lambda: time_to_set("pint", setting_temperature(0.62), filled_k=90.0),
            "filled_k = 90",
        ),
        (lambda: gel_window(3.1, 65), "65 °Brix is 0.65"),
    ],
)
def test_bad_input_is_refused_in_words(call, words):
    with pytest.raises(OutOfRange, match=words):
        call()


def test_a_thin_food_follows_its_own_measured_line():
    index = Estimate(value=10.0, unit="min", low=9, high=11, basis="log", source="s")
    lag = Estimate(value=1.5, unit="1", low=1.4, high=1.6, basis="log", source="s")
    time = np.arange(0.0, 3601.0, 60.0)
    curve = middle_by_measured_index(index, lag, time, 373.15, 323.15)
    assert curve.value[0] == 323.15
    assert (np.diff(curve.value) >= 0.0).all()
    assert (curve.low <= curve.value).all()
    assert (curve.value <= curve.high).all()
    assert 373.15 - curve.value[20] == pytest.approx(50 * 1.5 * 0.01)
    with pytest.raises(OutOfRange, match="the colder jar"):
        middle_by_measured_index(index, lag, time, 323.15, 373.15)
