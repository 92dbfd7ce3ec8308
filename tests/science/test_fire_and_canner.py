import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from science.figures import PINT, QUART

from stillroom.science.canner import Canner, come_up, water_after_wait_k
from stillroom.science.fire import (
    back_to_boil_s,
    evaporation_kg_per_s,
    measured_efficiency,
)
from stillroom.science.kettle import boil_down_s, heating_s
from stillroom.science.ranges import OutOfRange
from stillroom.science.water import heat_capacity_j_per_kg_k, latent_heat_j_per_kg

SUGARED = {
    "mix_kg": 1.2,
    "mix_solids": 0.12,
    "sugar_kg": 1.4,
    "boils_k": 375.0,
    "burner_w": 3500.0,
    "efficiency": 0.4,
}
few = settings(max_examples=30, deadline=None)


@given(st.floats(0.5, 10), st.floats(280, 310), st.floats(0.1, 0.95))
def test_a_water_test_finds_the_efficiency_that_heated_it(mass, start, share):
    end = 363.15
    heat = heat_capacity_j_per_kg_k(0.5 * (start + end))
    seconds = heating_s(mass, heat, start, end, 2000.0, share)
    if 10.0 <= seconds <= 20_000.0:
        found = measured_efficiency(mass, start, end, seconds, 2000.0)
        assert found == pytest.approx(share, rel=1e-12)


@given(st.floats(0.5, 5), st.floats(0.2, 0.5))
def test_what_a_boil_loses_is_what_its_steam_carries(mass, solids):
    seconds = boil_down_s(
        mass, solids, 0.65, latent_heat_j_per_kg(375.0), 2000.0, 0.5, 100.0
    )
    steam = seconds * evaporation_kg_per_s(2000.0, 0.5, 375.0, 100.0)
    assert steam == pytest.approx(mass * (1 - solids / 0.65), rel=1e-9)


def test_a_fire_that_only_keeps_hot_makes_no_steam():
    assert evaporation_kg_per_s(300.0, 0.4, 373.0, 150.0) == 0.0


def test_heat_of_the_return_to_the_boil_by_hand():
    # 1.4 kg of sugar x (1250 J/(kg K) x 81.85 K + 16 kJ/kg) = 165.6 kJ over 1.4 kW.
    assert back_to_boil_s(**SUGARED) == pytest.approx(118.3, abs=0.1)
    # And 1.2 kg of juice at 3.99 kJ/(kg K) from 373 K: 9.6 kJ more.
    later = back_to_boil_s(**SUGARED, boiled_k=373.0)
    assert later == pytest.approx(118.3 + 9.6e3 / 1400.0, abs=0.3)


def test_warm_sugar_a_small_batch_and_a_strong_fire_come_back_sooner():
    usual = back_to_boil_s(**SUGARED)
    assert back_to_boil_s(**SUGARED, sugar_k=343.15) < usual
    assert back_to_boil_s(**(SUGARED | {"burner_w": 5000.0})) < usual
    assert back_to_boil_s(**(SUGARED | {"mix_kg": 2.4, "sugar_kg": 2.8})) == (
        pytest.approx(2 * usual)
    )
    # A heavy pot lends its heat and takes it back; only the rise of the boil counts.
    assert back_to_boil_s(**SUGARED, pot_kg=3.0) == usual
    slow = back_to_boil_s(**SUGARED, pot_kg=3.0, boiled_k=373.0)
    assert slow > back_to_boil_s(**SUGARED, boiled_k=373.0)


@few
@given(
    st.floats(4.0, 20.0),
    st.floats(800.0, 4000.0),
    st.floats(290.0, 365.0),
    st.floats(280.0, 365.0),
    st.integers(0, 9),
    st.booleans(),
)
def test_the_fires_heat_is_shared_without_remainder(mass, net, water, jar, jars, mixed):
    up = come_up(
        Canner(water_kg=mass, net_w=net, metal_j_per_k=3000.0),
        PINT,
        jars,
        water_k=water,
        jar_k=jar,
        boils_k=372.0,
        well_mixed=mixed,
    )
    shared = up.to_room_j + up.to_water_j + up.to_jars_j
    assert shared == pytest.approx(up.given_j, rel=1e-9)
    assert up.jar_mean_k[0] == jar


def test_without_jars_it_is_a_kettle():
    up = come_up(
        Canner(water_kg=9.0, net_w=1500.0, loss_w_per_k=0.0),
        PINT,
        0,
        water_k=293.15,
        jar_k=293.15,
        boils_k=373.15,
    )
    by_hand = heating_s(9.0, 4190.0, 293.15, 373.15, 1500.0, 1.0)
    assert up.full_boil_s == pytest.approx(by_hand, rel=1e-9)


def test_stirred_jars_take_the_heat_of_one_node():
    # Water held near the boil by a great mass: the jars follow an exponential.
    up = come_up(
        Canner(water_kg=60.0, net_w=100.0, loss_w_per_k=0.0),
        PINT,
        1,
        water_k=363.15,
        jar_k=343.15,
        boils_k=378.15,
        well_mixed=True,
    )
    area = 2 * np.pi * 0.038 * 0.105 * PINT.side_w_m2_k
    area += np.pi * 0.038**2 * (PINT.bottom_w_m2_k + 20.0)
    held = 0.5 / 1.4e-7 * np.pi * 0.038**2 * 0.105
    end = np.searchsorted(up.time_s, 300.0)
    left = (up.water_k - up.jar_mean_k)[end] / 20.0
    assert left == pytest.approx(np.exp(-area / held * up.time_s[end]), abs=0.02)


def test_more_jars_and_less_fire_take_longer():
    def minutes(jars, net, jar_k=355.15):
        return come_up(
            Canner(water_kg=9.0, net_w=net),
            QUART,
            jars,
            water_k=355.15,
            jar_k=jar_k,
            boils_k=373.12,
        ).full_boil_s

    assert minutes(3, 1500.0) < minutes(7, 1500.0) < minutes(7, 1200.0)
    assert minutes(7, 1500.0, 345.0) > minutes(7, 1500.0)
    # Measured from 180 °F: 4.3 to 21 min (IAFP 2013 abstract).
    assert 4.3 < minutes(7, 2200.0) / 60.0 < 21.0


def test_the_water_boils_before_the_food_is_hot():
    up = come_up(
        Canner(water_kg=9.0, net_w=2200.0),
        QUART,
        7,
        water_k=355.15,
        jar_k=340.15,
        boils_k=373.12,
    )
    assert up.jar_mean_k[-1] < up.water_k[-1] - 5.0
    assert (np.diff(up.water_k) > -2.0).all()


def test_a_weak_fire_never_boils_and_says_so():
    up = come_up(
        Canner(water_kg=20.0, net_w=200.0, loss_w_per_k=6.0),
        PINT,
        0,
        water_k=300.0,
        jar_k=300.0,
        boils_k=373.15,
    )
    assert up.full_boil_s is None


def test_a_hot_restart_starts_from_what_the_wait_left():
    pot = Canner(water_kg=9.0, net_w=1500.0)
    assert water_after_wait_k(pot, 372.0, 0.0) == pytest.approx(372.0)
    assert water_after_wait_k(pot, 372.0, 1e5) == pytest.approx(293.15, abs=0.5)
    mixed = water_after_wait_k(pot, 372.0, 0.0, topped_up_kg=1.0, topped_up_k=292.0)
    assert mixed == pytest.approx((9 * 372.0 + 292.0) / 10)


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: Canner(water_kg=-9, net_w=1500), "water_kg = -9"),
        (lambda: Canner(water_kg=9, net_w=1.5), "Give the share that arrives"),
        (
            lambda: come_up(
                Canner(water_kg=9, net_w=1500),
                PINT,
                7,
                water_k=82,
                jar_k=355,
                boils_k=373,
            ),
            r"water_k = 82 .* °C \+ 273.15",
        ),
        (lambda: measured_efficiency(1, 290, 363, 10, 1000), "Check mass, time"),
        (lambda: evaporation_kg_per_s(1000, 40, 373), "40 % is 0.40"),
        (lambda: back_to_boil_s(**(SUGARED | {"mix_solids": 12})), "12 °Brix is 0.12"),
    ],
)
def test_a_figure_outside_is_refused_in_words(call, words):
    with pytest.raises(OutOfRange, match=words):
        call()
