"""The canner's water: minutes on the day, never minutes of a process."""

from typing import Any

import pytest

from stillroom.methods.canner_water import canner_times
from stillroom.methods.kitchen import Burner, Canner, CannerKind, Heat, Kitchen
from stillroom.methods.today import air_today
from stillroom.refusal import Refusal, granted


def times(
    power_w: float = 3000.0,
    places: int | dict[str, int] = 9,
    efficiency: float = 0.40,
    kind: CannerKind = CannerKind.BOILING_WATER,
    **more: Any,
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
        places={"pint": places} if isinstance(places, int) else places,
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


def test_of_two_jar_sizes_each_minute_is_that_of_the_slower_one():
    """
    14 half-pints leave 14 kg of water to warm; 10 quarts leave 6, and are more jar.

    50 to 82.2 °C: 14.0·4.19·32.2 = 1,887 kJ at 1,000 W is 31.5 min, so 32; for the
    quarts alone 6.0·4.19·32.2 = 810 kJ is 13.5, so 14.
    """
    places = {"half-pint": 14, "quart": 10}
    small, large, both = (
        granted(times(places=places, jars=jars))
        for jars in (("half-pint",), ("quart",), ("half-pint", "quart"))
    )
    assert (small.first_heat_min, large.first_heat_min) == (32, 14)
    assert both.first_heat_min == small.first_heat_min
    assert both.reheat_min == small.reheat_min
    assert both.come_up_min == max(small.come_up_min, large.come_up_min)
    assert both.load_min == small.load_min


def test_a_jar_size_that_it_does_not_take_is_no_size_of_its():
    assert granted(times(places={"half-pint": 0, "quart": 7})) == granted(
        times(places={"quart": 7})
    )


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
