import pytest

from stillroom.science.air import pressure_pa
from stillroom.science.canner import Canner
from stillroom.science.gel import Gel
from stillroom.science.ranges import OutOfRange
from stillroom.science.sugars import CrystalRisk
from stillroom.science.why import (
    steam_at_band_edges,
    the_canner,
    the_eight_degrees,
    the_jar,
)

POT = Canner(water_kg=9.0, net_w=1500.0)
LOAD = {"water_k": 333.15, "jar_k": 343.15, "boils_k": 372.0, "wait_s": 900.0}
FILLED = {"filled_k": 358.15, "pressure_pa": 95_000.0}


def test_the_rule_and_the_percentage_meet_in_a_real_jelly():
    why = the_eight_degrees(101_325.0, ph=3.1, boil_s=900.0)
    assert why.pure_rise_k == pytest.approx(3.79, abs=0.01)
    assert why.inverted_rise_k == pytest.approx(why.rule_k, abs=0.02)
    assert why.pure_solids == pytest.approx(0.679, abs=0.001)
    assert why.inverted.low < 0.27 < why.inverted.high
    assert 0.80 < why.water_activity < 0.86
    assert why.crystals is CrystalRisk.NONE


def test_a_less_sour_jelly_inverts_less_and_will_not_set():
    sour = the_eight_degrees(95_000.0, ph=3.0, boil_s=900.0)
    mild = the_eight_degrees(95_000.0, ph=3.8, boil_s=900.0)
    assert mild.inverted.value < sour.inverted.value
    assert mild.water_activity > sour.water_activity
    assert mild.gel == (Gel.TOO_LITTLE_ACID,)


def test_the_rule_holds_in_the_hills():
    for metres in (0.0, 1500.0, 3000.0):
        why = the_eight_degrees(pressure_pa(metres), ph=3.1, boil_s=900.0)
        assert why.solids.low < 0.65 < why.solids.high


def test_a_warm_jar_does_not_crack_and_a_vented_one_pulls_harder():
    cold = the_jar("pint", jar_k=293.15, **FILLED)
    warm = the_jar("pint", jar_k=343.15, **FILLED)
    assert cold.shock_is_large
    assert not warm.shock_is_large
    assert warm.vacuum_after_venting_pa > warm.vacuum_pa > 0.0
    assert 0.03 < warm.swells < 0.05
    assert warm.heating.high < warm.cooling.low


def test_the_second_load_boils_sooner():
    why = the_canner(POT, "quart", 7, **LOAD)
    assert why.again.value < why.first.value
    assert 333.15 < why.waits_at_k < 372.0
    assert the_canner(POT, "quart", 3, **LOAD).first.value < why.first.value


def test_a_fire_that_never_boils_has_no_minutes():
    weak = Canner(water_kg=20.0, net_w=150.0, loss_w_per_k=8.0)
    assert the_canner(weak, "pint", 9, **LOAD).first is None


def test_the_dial_gauge_rule_keeps_the_steam_where_it_is():
    kelvin = [t for _, t in steam_at_band_edges()]
    assert max(kelvin) - min(kelvin) < 0.4


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (
            lambda: the_eight_degrees(101_325.0, ph=7.0, boil_s=900.0),
            "pH of the",
        ),
        (lambda: the_eight_degrees(101_325.0, ph=3.1, boil_s=15.0), "Give seconds"),
        (lambda: the_jar("bucket", jar_k=293.15, **FILLED), "measure it and make"),
    ],
)
def test_bad_input_is_refused_in_words(call, words):
    with pytest.raises(OutOfRange, match=words):
        call()
