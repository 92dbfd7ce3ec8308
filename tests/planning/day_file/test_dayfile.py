"""The day file: what it gives, and every way in which it can be wrong."""

import datetime as dt
import io
import os
import re
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from stillroom.file_text import LARGEST_FILE
from stillroom.measures import CUP_M3, fahrenheit, feet
from stillroom.methods.kitchen import CannerKind, Heat
from stillroom.methods.step import Skill
from stillroom.methods.today import air_in
from stillroom.planning.day import Purpose, Rest, Want
from stillroom.planning.day_file.dayfile import (
    check_day,
    demo_day_text,
    new_day_text,
    read_day,
)
from stillroom.refusal import Unreadable, granted
from stillroom.science.air import station_pressure_pa
from stillroom.science.water import boiling_point_k
from stillroom.toml_text import MOST_FAULTS

DEMO = demo_day_text()


def test_the_demo_day_is_read():
    day = read_day(DEMO)
    assert day.invented
    assert (day.date, day.starts) == (dt.date(2026, 8, 22), dt.time(7, 30))
    kitchen = day.kitchen
    assert feet(kitchen.elevation_m) == pytest.approx(2150)
    assert kitchen.heat is Heat.GAS
    assert [burner.power_w for burner in kitchen.burners] == [3500, 3000, 1800, 1800]
    assert kitchen.pots[2].volume_m3 == pytest.approx(float(32 * CUP_M3))
    assert kitchen.canners[1].kind is CannerKind.BOILING_WATER
    assert kitchen.canners[1].stands_on == ("back left", "back right")
    assert kitchen.canners[0].places == {"half-pint": 9, "pint": 9, "quart": 7}
    corwin = day.people[1]
    assert corwin.breaks == (
        Rest(minutes=30, earliest=dt.time(11, 30), latest=dt.time(13, 30)),
    )
    assert corwin.away == ((dt.time(10), dt.time(10, 20)),)
    assert day.people[2].can == {Skill.COLD}
    plum, pears, jars = day.shelf[0], day.shelf[3], day.shelf[9]
    assert (plum.bags, plum.bag_m3) == (11, float(5 * CUP_M3))
    assert plum.volume_m3 == float(55 * CUP_M3)
    assert (plum.what, plum.frozen, plum.use_by) == (
        "plum juice",
        True,
        dt.date(2026, 9, 1),
    )
    assert pears.mass_kg == pytest.approx(9.979, abs=5e-4)
    assert (jars.count, jars.paid, jars.typed) == (84, 79.8, "84")
    assert day.wants[1] == Want(
        product="sour cherry jelly",
        jars=12,
        jar="half-pint",
        purpose=Purpose.STAND,
        by=dt.time(15),
        weight=3,
    )
    assert 60 <= sum(want.jars for want in day.wants) <= 80


def test_what_may_be_left_out_has_its_default():
    day = read_day(new_day_text().replace("cooling =", "# ").replace("ends =", "# "))
    assert day.ends == dt.time(22)
    assert day.kitchen.cooling_min == 24 * 60
    assert day.shelf[0].name == "plum juice"
    assert day.people[0].quarters == 4
    assert (day.wants[0].by, day.wants[0].weight, day.wants[0].multiple) == (
        None,
        1,
        None,
    )


def changed(old, new):
    assert DEMO.count(old) >= 1, old
    return DEMO.replace(old, new, 1)


AIR = 'elevation = "2,150 ft"'


def test_a_barometer_in_the_kitchen_is_taken_as_it_reads():
    text = changed(AIR, 'barometer = "27.6 inHg"\nbarometer_is = "station"')
    kitchen = read_day(text).kitchen
    assert kitchen.elevation_m is None
    assert kitchen.pressure_pa == pytest.approx(93_464.3, abs=0.1)


def test_a_sea_level_reading_is_brought_up_to_the_kitchen():
    text = changed(AIR, f'{AIR}\nbarometer = "1013.25 hPa"\nbarometer_is = "sea-level"')
    pressure_pa = read_day(text).kitchen.pressure_pa
    assert pressure_pa == pytest.approx(station_pressure_pa(101_325.0, 655.32))
    assert 207 < fahrenheit(boiling_point_k(pressure_pa)) < 209


@pytest.mark.parametrize(
    ("most", "more", "said"),
    [
        ("5000 L", "5001 L", '"5001 L" is more than 5,000 litres'),
        ("10000 kg", "10001 kg", '"10001 kg" is more than 10,000 kg'),
        ("100000", "100001", '"100001" is more than 100,000 pieces'),
    ],
)
def test_a_lot_is_as_large_as_is_allowed_and_no_larger(most, more, said):
    lot = 'quantity = "22 lb"'
    read_day(changed(lot, f'quantity = "{most}"'))
    with pytest.raises(Unreadable, match=re.escape(said)):
        read_day(changed(lot, f'quantity = "{more}"'))


SUPPER = (
    'power = "3.5 kW"',
    'power = "3.5 kW"\ntaken = [["17:30", "18:15"], ["07:00", "07:45"]]',
)


def test_a_burner_is_said_to_be_taken_for_hours_of_the_day():
    (first, *others) = read_day(changed(*SUPPER)).kitchen.burners
    assert first.taken == (
        (dt.time(17, 30), dt.time(18, 15)),
        (dt.time(7), dt.time(7, 45)),
    )
    assert [burner.taken for burner in others] == [(), (), ()]


WRONG = [
    # (old, new, key, what is said)
    ('name = "Plum day at Hollow Larch"', "name = 3", "day.name", "write it in quotes"),
    ('name = "Plum day at Hollow Larch"', 'name = "  "', "day.name", "is no name"),
    ('name = "Plum day at Hollow Larch"', f'name = "{"x" * 81}"', "day.name", "longer"),
    ('name = "Plum day at Hollow Larch"', r'name = "a\u202eb"', "day.name", "printed"),
    ("date = 2026-08-22", 'date = "22.8."', "day.date", "2026-08-22"),
    ("date = 2026-08-22", "date = 2026-08-22T07:30:00", "day.date", "year-month-day"),
    ("date = 2026-08-22", 'date = "2026-02-30"', "day.date", "year-month-day"),
    ("date = 2026-08-22\n", "", "day.date", "missing"),
    ("date = 2026-08-22", "date = 9999-12-31", "day.date", "years 1900 to 2999"),
    ("date = 2026-08-22", "date = 0001-01-01", "day.date", "0001-01-01 is not within"),
    ('starts = "07:30"', 'starts = "7.30"', "day.starts", "no clock time"),
    ('starts = "07:30"', "starts = 7", "day.starts", "no clock time"),
    ('starts = "07:30"', 'starts = "24:00"', "day.starts", "hour of 24"),
    ('starts = "07:30"', 'starts = "7:30 pm"', "day.starts", "hour of 24"),
    ('starts = "07:30"', 'stars = "07:30"', "day.stars", 'did you mean "starts"?'),
    (
        'ends = "20:00"',
        'ends = "07:30"',
        "day.ends",
        "ends at 07:30 and starts at 07:30",
    ),
    ('done_by = "18:30"', 'done_by = "21:00"', "day.done_by", "07:30 to 20:00"),
    ("invented = true", 'invented = "yes"', "day.invented", "neither true nor false"),
    (AIR, "elevation = 2150", "kitchen.elevation", 'elevation = "2150 ft"'),
    (AIR, 'elevation = "2150"', "kitchen.elevation", "the number needs its unit"),
    (AIR, 'elevation = "-501 ft"', "kitchen.elevation", "-500 to 10,000 ft"),
    (AIR, 'elevation = "10001 ft"', "kitchen.elevation", "-500 to 10,000 ft"),
    (AIR, 'elevation = "4000 m"', "kitchen.elevation", "(-152 to 3,048 m)"),
    (AIR, 'elevation = "3 kg"', "kitchen.elevation", "that is a mass"),
    (AIR, "", "kitchen.elevation", "neither an elevation nor a barometer"),
    (AIR, 'barometer = "27.6 inHg"', "kitchen.barometer_is", '"sea-level" for what'),
    (
        AIR,
        'barometer = "30 inHg"\nbarometer_is = "sea-level"',
        "kitchen.barometer",
        'add elevation = "2150 ft"',
    ),
    (
        AIR,
        f'{AIR}\nbarometer = "30 inHg"\nbarometer_is = "station"',
        "kitchen.barometer",
        "check the elevation, and whether the barometer is set to sea level",
    ),
    (
        AIR,
        f'{AIR}\nbarometer = "850 hPa"\nbarometer_is = "sea-level"',
        "kitchen.barometer",
        "is no sea-level reading",
    ),
    (AIR, f'{AIR}\nbarometer_is = "station"', "kitchen.barometer_is", "no barometer"),
    (
        AIR,
        'barometer = "500 hPa"\nbarometer_is = "station"',
        "kitchen.barometer",
        "640 to 1,085 hPa",
    ),
    (
        AIR,
        f'{AIR}\nthermometer_boils = "98 F"',
        "kitchen.thermometer_boils",
        "150 to 240 °F",
    ),
    (
        AIR,
        f'{AIR}\nthermometer_boils = "230 F"',
        "kitchen.thermometer_boils",
        "not set right any more",
    ),
    (AIR, f"{AIR}\nthermometer_boils = 208", "kitchen.thermometer_boils", "no unit"),
    (
        AIR,
        f'{AIR}\nthermometer_ice = "33 F"',
        "kitchen.thermometer_ice",
        "add thermometer_boils",
    ),
    ('stove = "gas"', 'stove = "glasstop"', "kitchen.stove", 'mean "glass-top"?'),
    ("counter = 108", "counter = -1", "kitchen.counter", "from 0 to 5000"),
    (
        "counter = 108",
        "counter = true",
        "kitchen.counter",
        "true is not a whole number",
    ),
    (
        "counter = 108",
        "counter = 10.5",
        "kitchen.counter",
        "10.5 is not a whole number",
    ),
    ('cooling = "24 h"', 'cooling = "11 h"', "kitchen.cooling", "12 to 72 hours"),
    ('power = "3.5 kW"', 'power = "3.5"', "kitchen.burners[1].power", "needs its unit"),
    (
        'power = "3.5 kW"',
        'power = "35 kW"',
        "kitchen.burners[1].power",
        "100 to 20,000 W",
    ),
    (
        'power = "3.5 kW"',
        'power = "0 kW"',
        "kitchen.burners[1].power",
        "100 to 20,000 W",
    ),
    (
        'name = "back left"',
        'name = "Front Left"',
        "kitchen.burners[3].name",
        "number 1",
    ),
    ('volume = "8 qt"', 'volume = "8 oz"', "kitchen.pots[3].volume", 'say "fl oz"'),
    ('volume = "8 qt"', 'volume = "800 qt"', "kitchen.pots[3].volume", "200 litres"),
    ('"wide steel pot"', '"tall steel pot"', "kitchen.pots[2].name", "two pots"),
    ('"long canner"', '"speckled canner"', "kitchen.canners[2].name", "two canners"),
    (
        'stands_on = ["front right"]',
        'stands_on = ["front rigth"]',
        "kitchen.canners[1].stands_on",
        'did you mean "front right"? Allowed: front left, front right, back left',
    ),
    (
        'stands_on = ["front right"]',
        "stands_on = []",
        "kitchen.canners[1].stands_on",
        "[]",
    ),
    (
        'stands_on = ["front right"]',
        'stands_on = ["front right", "front right"]',
        "kitchen.canners[1].stands_on",
        "named twice",
    ),
    (
        'kind = "boiling-water"',
        'kind = "oven"',
        "kitchen.canners[1].kind",
        "Allowed: boil",
    ),
    ("quart = 7 }", "quart = -1 }", "kitchen.canners[1].holds", "from 0 to 100"),
    ("quart = 7 }", "quarts = 7 }", "kitchen.canners[1].holds", 'mean "quart"?'),
    (
        "pint = 9, quart = 7 }",
        'pint = 9 }\nlayers = { "quart" = 2 }',
        "kitchen.canners[1].layers",
        "Allowed: half-pint, pint",
    ),
    ('name = "Corwin"', 'name = "TILDA"', "people[2].name", "two people"),
    ('goes = "15:00"', 'goes = "09:00"', "people[3].goes", "no hours are left"),
    ('comes = "09:00"', 'comes = "20:00"', "people[3].goes", "no hours are left"),
    ('goes = "15:00"', 'goes = "08:59"', "people[3].goes", "comes at 09:00"),
    ('can = ["cold"]', "can = []", "people[3].can", "[] names no skills"),
    ('can = ["cold"]', 'can = ["cook"]', "people[3].can", "cold, knife, pan, lift"),
    (
        'can = ["cold"]',
        'can = "cold"',
        "people[3].can",
        'no list of skills; write ["cold"]',
    ),
    (
        'earliest = "11:30", latest = "13:00"',
        'earliest = "14:30", latest = "14:40"',
        "people[3].breaks[1].earliest",
        "a break of 45 minutes from 14:30 ends after the hours, to 15:00; let it",
    ),
    (
        'earliest = "11:30", latest = "13:00"',
        'earliest = "08:30", latest = "08:45"',
        "people[3].breaks[1].latest",
        "a break by 08:45 begins before the hours, from 09:00; let it begin",
    ),
    (
        'ends = "20:00"',
        'ends = "11:45"',
        "people[1].breaks[1].earliest",
        "ends after the day, to 11:45; let it begin sooner, or take it out",
    ),
    (
        'latest = "13:00"',
        'latest = "11:00"',
        "people[3].breaks[1].latest",
        "before the",
    ),
    ("minutes = 45", "minutes = 1000", "people[3].breaks[1].minutes", "from 5 to 240"),
    ('["10:00", "10:20"]', '["10:00"]', "people[2].away", "no pair of clock times"),
    (
        '["10:00", "10:20"]',
        '["10:20", "10:00"]',
        "people[2].away",
        "ends before it begins",
    ),
    ('["10:00", "10:20"]', '["08:00", "19:30"]', "people[2].away", "no minute"),
    (
        SUPPER[0],
        SUPPER[0] + '\ntaken = ["17:30"]',
        "kitchen.burners[1].taken",
        "no pair of clock",
    ),
    (
        SUPPER[0],
        SUPPER[0] + '\ntaken = [["18:15", "17:30"]]',
        "kitchen.burners[1].taken",
        "18:15 to 17:30 ends before it begins",
    ),
    (
        SUPPER[0],
        SUPPER[0] + '\ntaken = [["05:30", "06:15"]]',
        "kitchen.burners[1].taken",
        "05:30 to 06:15 lies outside the day, 07:30 to 20:00; give hours of the day",
    ),
    (
        SUPPER[0],
        SUPPER[0] + '\ntaken = [["20:00", "20:30"]]',
        "kitchen.burners[1].taken",
        "lies outside the day",
    ),
    (
        SUPPER[0],
        SUPPER[0] + '\ntaken = [["07:00", "12:00"], ["12:00", "20:30"]]',
        "kitchen.burners[1].taken",
        "no minute of the day, 07:30 to 20:00, is left beside it; leave the burner out",
    ),
    ('quantity = "22 lb"', 'quantity = "22 lbb"', "shelf[4].quantity", "called 'lbb'"),
    (
        'quantity = "22 lb"',
        'quantity = "0 lb"',
        "shelf[4].quantity",
        "leave the lot out",
    ),
    (
        'quantity = "22 lb"',
        'quantity = "-2 lb"',
        "shelf[4].quantity",
        "less than nothing",
    ),
    ('quantity = "22 lb"', 'quantity = "22 ft"', "shelf[4].quantity", "is a length"),
    (
        'quantity = "22 lb"',
        'quantity = "90 t"',
        "shelf[4].quantity",
        "teaspoon or a tonne",
    ),
    ('quantity = "22 lb"', 'quantity = "90000 kg"', "shelf[4].quantity", "10,000 kg"),
    ('quantity = "22 lb"', "quantity = 2.5", "shelf[4].quantity", "is no quantity"),
    (
        'quantity = "11 bags of 5 cups"',
        'quantity = "11 bags of 5"',
        "shelf[1].quantity",
        "of",
    ),
    ("frozen = true", "frozen = 1", "shelf[1].frozen", "neither true nor false"),
    ("use_by = 2026-09-01", 'use_by = "soon"', "shelf[1].use_by", "is no date"),
    ("paid = 21.25", "paid = -1", "shelf[6].paid", "no sum of money"),
    ("paid = 21.25", "paid = nan", "shelf[6].paid", "no sum of money"),
    ('name = "crabapples"', 'name = "pectin"', "shelf[7].name", "number 5"),
    ("jars = 30", "jars = 0", "wants[1].jars", "from 1 to 1000"),
    ("jars = 30", "jars = -3", "wants[1].jars", "-3 is not a whole number"),
    ("jars = 30", 'jars = "30"', "wants[1].jars", "written without quotes"),
    (
        'jar = "pint"',
        'jar = "litre"',
        "wants[4].jar",
        "half-pint, pint, quart, half-gallon",
    ),
    ('for = "pantry"', 'for = "pantri"', "wants[1].for", 'did you mean "pantry"?'),
    (
        'by = "15:00"',
        'by = "06:00"',
        "wants[2].by",
        "not within the day, 07:30 to 20:00",
    ),
    ("weight = 3", "weight = 0", "wants[2].weight", "from 1 to 100"),
    ("weight = 3", "multiple = 99", "wants[2].multiple", "from 1 to 12"),
    (
        'by = "15:00"',
        'by = "20:30"',
        "wants[2].by",
        "20:30 is not within the day, 07:30 to 20:00",
    ),
    (
        '["10:00", "10:20"]',
        '["10:00", "10:00"]',
        "people[2].away",
        "10:00 to 10:00 ends before it begins",
    ),
    ('starts = "07:30"', "starts = 07:30:30", "day.starts", "is no clock time"),
    (
        "invented = true",
        'without = "quince jelly 1"',
        "day.without",
        "is no batch of what is wanted",
    ),
    (
        "invented = true",
        'without = "plum jelly"',
        "day.without",
        'did you mean "plum jelly 1"?',
    ),
]


@pytest.mark.parametrize(("old", "new", "key", "said"), WRONG)
def test_each_fault_is_named_by_line_and_key(old, new, key, said):
    text = changed(old, new)
    by_key = {fault.key: fault for fault in check_day(text)}
    assert key in by_key
    assert said in by_key[key].what
    lines = text.splitlines()
    written = lines[by_key[key].line - 1]
    assert key.split(".")[-1].split("[")[0] in written or written.startswith("[")


def rests_of(old, new):
    """The break of the helper who is there from 9 to 15, changed as said."""
    *before, third = DEMO.split("[[people]]")
    changed_third = third.replace(old, new, 1)
    assert changed_third != third
    *_, third = read_day("[[people]]".join([*before, changed_third])).people
    return [(r.minutes, r.earliest, r.latest) for r in third.breaks]


def test_of_the_starts_of_a_break_those_within_the_hours_count():
    at = dt.time
    assert rests_of('latest = "13:00"', 'latest = "14:30"') == [
        (45, at(11, 30), at(14, 15))  # over by 15:00, when she goes
    ]
    assert rests_of('earliest = "11:30"', 'earliest = "08:30"') == [
        (45, at(9), at(13))  # not before she comes
    ]


@pytest.mark.parametrize(
    ("breaks", "away", "fits"),
    [
        ((("11:30", "11:30", 60),), "", True),
        ((("11:30", "11:30", 60),), '["11:00", "11:30"]', True),  # they touch
        ((("11:30", "11:30", 60),), '["12:30", "13:00"]', True),
        ((("11:30", "11:30", 60),), '["11:00", "12:00"]', False),
        ((("11:30", "12:00", 60),), '["11:00", "12:00"]', True),
        ((("11:30", "11:30", 60), ("11:45", "12:00", 60)), "", False),
        ((("11:30", "11:30", 60), ("11:45", "12:30", 60)), "", True),
        # the one that is written first can only be taken second
        ((("11:30", "12:30", 60), ("11:30", "11:30", 60)), "", True),
        (
            (("11:30", "12:30", 60), ("11:30", "11:30", 60)),
            '["12:40", "12:50"]',
            False,
        ),
    ],
)
def test_breaks_must_have_room_beside_each_other_and_what_is_away(breaks, away, fits):
    rows = ", ".join(
        f'{{ minutes = {m}, earliest = "{e}", latest = "{la}" }}' for e, la, m in breaks
    )
    gone = f"\naway = [{away}]" if away else ""
    text = changed(
        'breaks = [{ minutes = 45, earliest = "11:30", latest = "13:00" }]',
        f"breaks = [{rows}]{gone}",
    )
    if fits:
        assert len(read_day(text).people[2].breaks) == len(breaks)
        return
    said = refused(text)
    assert "people[3].breaks: not all breaks can be taken" in said
    assert ("away" in said) == bool(away)
    assert "move one of them, or take it out" in said


def test_no_breaks_may_be_said_with_an_empty_list():
    whole = 'breaks = [{ minutes = 45, earliest = "11:30", latest = "13:00" }]'
    assert rests_of(whole, "breaks = []") == []


def test_one_slip_is_one_fault():
    """A fault draws no others after it where nothing else is wrong."""
    for old, new, key, _ in WRONG:
        if key.endswith((".power", ".jars", ".quantity", ".volume", ".can", ".goes")):
            assert len(check_day(changed(old, new))) == 1, (old, new)


def test_all_faults_come_at_once_in_the_order_of_the_lines():
    text = DEMO
    slips = [w for w in WRONG if w[2] in ("wants[1].jars", "day.name", "kitchen.stove")]
    for old, new, _, _ in {key: slip for slip in slips for key in [slip[2]]}.values():
        text = text.replace(old, new, 1)
    faults = check_day(text)
    assert [fault.key for fault in faults] == [
        "day.name",
        "kitchen.stove",
        "wants[1].jars",
    ]
    with pytest.raises(Unreadable) as refused:
        read_day(text)
    assert refused.value.faults == faults
    assert str(refused.value).count("\n") == 2
    assert str(refused.value).startswith("line 4, day.name: ")


@pytest.mark.parametrize("table", ["shelf", "wants", "people", "kitchen.pots"])
def test_an_empty_table_is_named(table):
    parts = DEMO.split("\n[")
    kept = [part for part in parts if not part.startswith(f"[{table}]]")]
    faults = check_day("\n[".join(kept))
    assert [fault.key for fault in faults] == [table]
    assert faults[0].what == f"this is missing; write a table [[{table}]]"


def test_an_empty_list_is_named_too():
    head, _, _ = DEMO.partition("[[wants]]")
    faults = check_day("wants = []\n" + head)
    assert [(fault.key, fault.line) for fault in faults] == [("wants", 1)]
    assert "at least one want" in faults[0].what


def test_a_person_who_comes_after_the_day_is_over_is_named():
    text = changed('ends = "20:00"\ndone_by = "18:30"', 'ends = "08:30"')
    keys = {fault.key for fault in check_day(text)}
    assert {"people[2].comes", "people[3].comes"} <= keys


def test_a_day_that_starts_after_the_default_end_says_so():
    text = new_day_text().replace('starts = "08:00"', 'starts = "22:30"')
    text = text.replace('ends = "18:00"', "")
    fault = check_day(text)[0]
    assert (fault.key, fault.line) == ("day.starts", 11)
    assert "ends at 22:00 and starts at 22:30; it has to end later" in fault.what


BROKEN = [
    ("[day]\nname = Plum\n", 2, "stand in quotes"),
    ("[day]\nname = 'a'\nname = 'b'\n", 3, "stands once"),
    ("[day]\n[day]\n", 2, "stands once"),
    ('[day]\nname = "a\n', 2, "not TOML"),
    ("[day\n", 1, "not TOML"),
    ("x = [\n", 1, "not TOML"),
    ("x = " + "[" * 5000 + "\n", None, "nested too deeply"),
    ("x = " + "9" * 5000 + "\n", None, "too many digits"),
    ("\n" + "a." * 400_000 + "b = 1\n", 2, "so many dots"),
    ("\n", 1, "the file is empty"),
    ("# only a note\n", 1, "the file is empty"),
]


@pytest.mark.parametrize(("text", "line", "said"), BROKEN)
def test_broken_toml_is_refused_with_its_line(text, line, said):
    (fault,) = check_day(text)
    assert fault.line == line
    assert said in fault.what
    assert len(fault.what) < 400


def test_a_file_of_nothing_but_faults_lists_the_first_of_them():
    text = "".join(f"key{n} = 1\n" for n in range(5000))
    faults = check_day(text)
    assert len(faults) == MOST_FAULTS + 1
    assert faults[-1].what == "and 4905 faults more"


def test_too_many_of_one_kind_is_a_fault():
    text = DEMO + "[[wants]]\nproduct = 'plum jelly'\njars = 1\njar = 'pint'\n" * 100
    (fault,) = check_day(text)
    assert (fault.key, fault.what) == ("wants", "105 of them are too many; at most 100")


def refused(source):
    with pytest.raises(Unreadable) as raised:
        read_day(source)
    assert check_day(source) == raised.value.faults
    return str(raised.value)


def test_a_text_names_no_file(tmp_path):
    """What comes from a page is a text, also on one line."""
    path = tmp_path / "day.toml"
    path.write_text(DEMO, encoding="utf-8")
    said = refused(str(path))
    assert "there is no file" not in said
    assert "line 1" in said


def test_a_file_is_read_from_its_path(tmp_path):
    path = tmp_path / "day.toml"
    path.write_text(DEMO, encoding="utf-8")
    assert read_day(path) == read_day(DEMO)
    path.write_bytes(b"\xef\xbb\xbf" + DEMO.replace("\n", "\r\n").encode())
    assert read_day(path) == read_day(DEMO)


def test_what_is_no_day_file_is_refused_clearly(tmp_path):
    assert "there is no file" in refused(tmp_path / "none.toml")
    assert "stillroom day new FILE" in refused(tmp_path / "none.toml")
    assert "is a folder, not a day file" in refused(tmp_path)
    assert "cannot be opened" in refused(Path("day\0.toml"))
    assert "cannot be opened" in refused(Path("x" * 5000))
    path = tmp_path / "day.toml"
    path.write_bytes(b"")
    assert "the file is empty" in refused(path)
    path.write_bytes(os.urandom(2000) + b"\0")
    assert "is no text" in refused(path)
    path.write_bytes(b"[day]\nname = 'caf\xe9'\n")
    assert refused(path).startswith("line 2: the byte 0xe9 is not UTF-8")
    path.write_bytes(DEMO.encode("utf-16"))
    assert "saved as UTF-8" in refused(path)


def test_a_file_that_may_not_be_read_is_refused(tmp_path, monkeypatch):
    def locked(*_):  # file modes do not stop root, under whom tests may run
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr(Path, "open", locked)
    assert "may not be read" in refused(tmp_path / "day.toml")


def test_fifty_megabytes_are_refused_without_being_read(tmp_path, monkeypatch):
    path = tmp_path / "large.toml"
    with path.open("wb") as file:
        file.truncate(50_000_000)
    asked = []

    class Counted(io.BytesIO):
        def read(self, size=-1):
            asked.append(size)
            return super().read(size)

    with monkeypatch.context() as patched:
        patched.setattr(Path, "open", lambda *_: Counted(b" " * 2_000_000))
        said = refused(path)
    assert set(asked) == {1_000_001}
    assert "has 50.0 MB; a day file has at most 1 MB" in said
    assert "has 50.0 MB" in refused("\n" * 50_000_000)


def test_a_file_at_the_limit_is_read(tmp_path):
    path = tmp_path / "day.toml"
    path.write_text(DEMO + "#" * (LARGEST_FILE - len(DEMO.encode())))
    assert path.stat().st_size == LARGEST_FILE
    assert read_day(path) == read_day(DEMO)


VALUES = st.sampled_from(
    ["3", "-1", "nan", "1e400", '"x"', '""', "[]", "{}", "true", "2026-01-01", "[[1]]",
     "07:30:00", "{ a = 1 }", '"12 qt"', "[{}]", '"25:00"', '"6 bags of 0 cups"', "[3]"]
)  # fmt: skip


@given(st.lists(st.tuples(st.integers(0, 400), VALUES), min_size=1, max_size=5))
def test_a_spoiled_day_is_read_or_refused_with_a_line_for_each_fault(spoiling):
    lines = DEMO.splitlines()
    for at, value in spoiling:
        key, is_pair, _ = lines[at % len(lines)].partition("=")
        if is_pair:
            lines[at % len(lines)] = f"{key}= {value}"
    text = "\n".join(lines) + "\n"
    faults = check_day(text)
    assert all(fault.line and fault.key for fault in faults)
    if not faults:
        assert read_day(text).name


def test_a_thermometer_of_the_kitchen_says_where_to_stop_on_it():
    text = changed(AIR, f'{AIR}\nthermometer_boils = "206.5 F"')
    kitchen = read_day(text).kitchen
    air = granted(air_in(kitchen))
    assert air.thermometer is not None
    assert fahrenheit(air.thermometer.stop_reading_k) == pytest.approx(214.5, abs=0.05)
    assert air.shown_k(air.water_boils_k) == pytest.approx(kitchen.boils_reading_k)


def test_ice_and_boil_make_a_line():
    text = changed(AIR, f'{AIR}\nthermometer_boils = "98 C"\nthermometer_ice = "33 F"')
    air = granted(air_in(read_day(text).kitchen))
    assert fahrenheit(air.shown_k(273.15)) == pytest.approx(33.0)
