"""The canner's water: minutes on the day, never minutes of a process."""

import pytest

from stillroom.methods.canner_water import canner_times
from stillroom.methods.kitchen import Burner, Canner, CannerKind, Heat, Kitchen
from stillroom.methods.today import air_today
from stillroom.refusal import Refusal, granted


def times(
    power_w: float = 3000.0,
    places: int = 9,
    efficiency: float = 0.40,
    kind: CannerKind = CannerKind.BOILING_WATER,
    **more: bool,
):
    kitchen = Kitchen(
        name="here",
        elevation_m=655.0,
        pressure_pa=None,
        heat=Heat.GAS,
        burners=(Burner(name="one", power_w=power_w),),
        pots=(),
        canners=(),
    )
    canner = Canner(
        name="canner",
        kind=kind,
        stands_on=("one",),
        places={"pint": places},
    )
    air = granted(air_today(elevation_m=655.0))
    return canner_times(canner, kitchen, air, efficiency, **more)


def test_come_up_lies_among_the_measured_ones():
    """Looked-up measurements of home canners from 180 °F: 4.3 to 21 min."""
    assert 4 <= granted(times()).come_up_min <= 22


def test_a_weaker_fire_takes_longer():
    assert granted(times(2000.0)).come_up_min > granted(times(4000.0)).come_up_min


def test_a_fire_that_never_boils_it_is_refused():
    answer = times(450.0)
    assert isinstance(answer, Refusal)
    assert "never" in answer.reason


def test_jars_rest_the_published_five_minutes():
    assert granted(times()).rest_min == 5


def test_first_heat_worked_by_hand():
    """
    9 pints hold 4.26 L; a 19.9 L canner has 0.92·19.9 - 1.3·4.26 = 12.7 kg of water.

    From 50 to 82.2 °C: 12.7·4.19·32.2 = 1,717 kJ at 1,200 - 200 W: 28.6 min, so 29.
    """
    assert granted(times()).first_heat_min == pytest.approx(29, abs=1)


def test_raw_packs_come_up_more_slowly():
    """Raw packs go into water of 140 °F, hot ones of 180 °F (USDA Guide 1)."""
    assert granted(times(raw=True)).come_up_min > granted(times()).come_up_min + 5


def test_raw_packs_come_to_pressure_more_slowly():
    dial = CannerKind.DIAL_GAUGE
    raw, hot = granted(times(kind=dial, raw=True)), granted(times(kind=dial))
    assert raw.come_up_min > hot.come_up_min + 3
