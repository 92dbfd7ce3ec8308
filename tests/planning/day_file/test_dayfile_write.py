"""A day that is written reads back as the same day."""

import datetime as dt
import re
from dataclasses import replace

import pytest
from day_strategies import days
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from stillroom.measures import (
    CUP_M3,
    read_mass_kg,
    read_temperature_k,
    read_volume_m3,
)
from stillroom.planning.day import Lot
from stillroom.planning.day_file.dayfile import (
    demo_day_text,
    new_day_text,
    read_day,
    write_day,
)


@settings(suppress_health_check=[HealthCheck.too_slow])
@given(days())
def test_any_day_reads_back_the_same(day):
    assert read_day(write_day(day)) == day


def test_the_shipped_days_read_back_the_same():
    for text in (demo_day_text(), new_day_text()):
        day = read_day(text)
        assert read_day(write_day(day)) == day


def test_handy_measures_stay_handy():
    text = write_day(read_day(demo_day_text()))
    for said in (
        'elevation = "2150 ft"',
        'power = "3.5 kW"',
        'volume = "12 qt"',
        'quantity = "4 bags of 3 1/2 cups"',
        'cooling = "24 h"',
        "paid = 21.25",
    ):
        assert said in text


def lot_read_back(lot):
    day = replace(read_day(demo_day_text()), shelf=(lot,))
    return read_day(write_day(day)).shelf[0]


def test_a_lot_that_was_never_typed_is_written_from_its_size():
    for lot, typed in (
        (Lot(name="a", what="a", mass_kg=6.5), "6.5 kg"),
        (Lot(name="a", what="a", mass_kg=read_mass_kg("1.125 lb")), "1.125 lb"),
        (Lot(name="a", what="a", volume_m3=float(5 * CUP_M3)), "5 cups"),
        (Lot(name="a", what="a", count=60), "60"),
    ):
        assert lot_read_back(lot) == replace(lot, typed=typed)


def test_what_was_typed_gives_way_when_the_size_has_changed():
    bag = float(5 * CUP_M3)
    lot = Lot(
        name="a",
        what="a",
        volume_m3=4 * bag,
        bags=4,
        bag_m3=bag,
        typed="6 bags of 5 cups",
    )
    assert lot_read_back(lot) == replace(lot, typed="4 bags of 5 cups")


@given(st.floats(0.001, 0.2) | st.floats(1e-9, 1e-6))
def test_any_volume_is_written_to_the_last_bit(size):
    lot = lot_read_back(Lot(name="a", what="a", volume_m3=size))
    assert lot.volume_m3 == size == read_volume_m3(lot.typed)


@given(st.floats(-152.4, 3048).filter(lambda metres: metres == 0 or abs(metres) > 1e-9))
def test_any_elevation_is_written_to_the_last_bit(elevation):
    day = read_day(demo_day_text())
    kitchen = replace(day.kitchen, elevation_m=elevation)
    text = write_day(replace(day, kitchen=kitchen))
    assert read_day(text).kitchen.elevation_m == elevation


@pytest.mark.parametrize(
    ("metres", "metric", "said"),
    [
        (12.345, True, "12.3450 m"),
        (655.32, True, "655.32 m"),
        (655.32, False, "2150 ft"),
    ],
)
def test_no_point_of_a_height_may_be_one_of_thousands(metres, metric, said):
    """Three digits behind it would be refused when the file is read again."""
    day = read_day(demo_day_text())
    kitchen = replace(day.kitchen, elevation_m=metres, metric=metric)
    text = write_day(replace(day, kitchen=kitchen))
    assert f'elevation = "{said}"' in text
    assert read_day(text).kitchen.elevation_m == metres


@pytest.mark.parametrize("typed", ["208.5 F", "208.333 F", "98.4 C"])
def test_what_a_thermometer_reads_is_written_with_few_digits(typed):
    reads = read_temperature_k(typed)
    day = read_day(demo_day_text())
    kitchen = replace(day.kitchen, boils_reading_k=reads)
    text = write_day(replace(day, kitchen=kitchen))
    (said,) = re.findall(r'thermometer_boils = "(.*)"', text)
    assert len(said) <= len("208.333 F")
    assert said.endswith(" F")
    assert read_temperature_k(said) == reads


def test_names_with_quotes_and_backslashes_are_escaped():
    day = read_day(demo_day_text())
    named = replace(day, name='The "big" \\n day # é 梅', done_by=dt.time(19))
    assert read_day(write_day(named)) == named
