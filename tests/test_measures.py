"""Kitchen measures: what is read, what is refused, and back."""

import datetime as dt
import math
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from stillroom.measures import (
    CUP_M3,
    OUNCE_KG,
    TABLESPOON_M3,
    TEASPOON_M3,
    Dimension,
    celsius,
    cups,
    fahrenheit,
    feet,
    kitchen_mass,
    kitchen_volume,
    read_duration_min,
    read_height_m,
    read_length_m,
    read_mass_kg,
    read_power_w,
    read_pressure_pa,
    read_quantity,
    read_temperature_k,
    read_volume_m3,
)
from stillroom.measures.clock import clock_time
from stillroom.measures.read import LONGEST_TEXT
from stillroom.measures.words import SCALES, TRAPS, UNITS
from stillroom.refusal import Unreadable

# NIST SP 811, appendix B, seven digits (from memory): unit, SI, half of the last digit.
PUBLISHED = [
    ("1 cup", 236.5882e-6, 5e-11),
    ("1 pt", 473.1765e-6, 5e-11),
    ("1 qt", 0.9463529e-3, 5e-11),
    ("1 gal", 3.785412e-3, 5e-10),
    ("1 tbsp", 14.78676e-6, 5e-12),
    ("1 tsp", 4.928922e-6, 5e-13),
    ("1 fl oz", 29.57353e-6, 5e-12),
    ("1 lb", 0.45359237, 1e-12),
    ("1 oz", 0.02834952, 5e-9),
    ("1 ft", 0.3048, 1e-12),
    ("1 inHg", 3386.389, 5e-4),
    ("1 mmHg", 133.3224, 5e-5),
    ("1 BTU/h", 0.2930711, 5e-8),
]


@pytest.mark.parametrize(("typed", "size", "digit"), PUBLISHED)
def test_units_have_their_published_size(typed, size, digit):
    assert float(read_quantity(typed).value) == pytest.approx(size, rel=0, abs=digit)


CUP = CUP_M3
READ = [
    ("7 1/2 cups", CUP * Fraction(15, 2)),
    ("7½ cups", CUP * Fraction(15, 2)),
    ("7 ½ cups", CUP * Fraction(15, 2)),
    ("7-1/2 cups", CUP * Fraction(15, 2)),
    ("7.5 cups", CUP * Fraction(15, 2)),
    ("7\N{NO-BREAK SPACE}1/2\N{NO-BREAK SPACE}cups", CUP * Fraction(15, 2)),
    ("15/2 c", CUP * Fraction(15, 2)),
    ("1/3 cup", CUP / 3),
    ("⅔ cup", CUP * 2 / 3),
    ("1\N{FRACTION SLASH}2 cup", CUP / 2),
    (".5 cup", CUP / 2),
    ("3.5 qt", CUP * 14),
    ("12qt", CUP * 48),
    ("2 PINTS", CUP * 4),
    ("2 U.S. pints", CUP * 4),
    ("8 fl. oz.", CUP),
    ("2 tbsp + 1 tsp", TEASPOON_M3 * 7),
    ("2 tbsp and 1 tsp", TEASPOON_M3 * 7),
    ("2 tbsp 1 tsp", TEASPOON_M3 * 7),
    ("2 Tbsp & 1 tsp", TEASPOON_M3 * 7),
    ("1 dozen", 12),
    ("2 lb 3 oz", OUNCE_KG * 35),
    ("2 lb, 3 oz", OUNCE_KG * 35),
    ("2lb3oz", OUNCE_KG * 35),
    ("950 ml", Fraction(950, 10**6)),
    ("9.5 dl", Fraction(950, 10**6)),
    ("95 cl", Fraction(950, 10**6)),
    ("0.95 L", Fraction(950, 10**6)),
    ("7.3 kg", Fraction(73, 10)),
    ("2,150 ft", Fraction(65532, 100)),
    ("-200 ft", Fraction(-6096, 100)),
    ("\N{MINUS SIGN}200 ft", Fraction(-6096, 100)),
    ("655m", 655),
    ("2.5kW", 2500),
    ("935 hPa", 93_500),
    ("27.6 in. Hg", Fraction(276, 10) * Fraction(254, 10) * Fraction("133.322387415")),
    ("5 boxes", 5),
    ("60", 60),
    ("24 h", 86_400),
    ("210 °F", (Fraction(210) + Fraction("459.67")) * 5 / 9),
    ("98.9 ºC", Fraction("372.05")),
    ("98.9℃", Fraction("372.05")),
    ("-18 °C", Fraction("255.15")),
    ("273.15 K", Fraction("273.15")),
]


@pytest.mark.parametrize(("typed", "size"), READ)
def test_measures_are_read_exactly(typed, size):
    assert read_quantity(typed).value == size


@pytest.mark.parametrize("word", sorted(UNITS))
def test_every_unit_word_is_read_with_and_without_a_space(word):
    dimension, size = UNITS[word]
    for typed in (f"3 {word}", f"3{word}"):
        quantity = read_quantity(typed)
        assert (quantity.dimension, quantity.value) == (dimension, 3 * size)


@pytest.mark.parametrize("word", sorted(SCALES))
def test_every_thermometer_word_is_read(word):
    assert read_quantity(f"300 {word}").dimension is Dimension.TEMPERATURE


@pytest.mark.parametrize("word", sorted(TRAPS))
def test_every_word_with_a_trap_says_what_to_write(word):
    with pytest.raises(Unreadable, match="is not read: ") as refused:
        read_quantity(f"2 {word}")
    assert repr(word) in str(refused.value)


@pytest.mark.parametrize("typed", ["3 to 4 cups", "3-4 lb", "3 - 4 lb"])
def test_a_range_is_said_to_be_one(typed):
    """It read "no unit is called 'to'"."""
    with pytest.raises(Unreadable, match="it is a range; give one of them"):
        read_quantity(typed)


@pytest.mark.parametrize(
    ("typed", "meant"),
    [
        *(("1,5 l", "1.5 l"), ("0,75 kg", "0.75 kg"), ("2,25 l", "2.25 l")),
        *(("0,750 kg", "0.750 kg"), ("0,125 l", "0.125 l"), ("12,5kg", "12.5 kg")),
        *(("2,5 kW", "2.5 kW"), ("98,9 °C", "98.9 °C"), ("3,5 lb", "3.5 lb")),
        *(("6 bags of 1,5 l", "6 bags of 1.5 l"), ("1,5 l, 250 ml", "1750 ml")),
        # what parts thousands still does, where nobody means decimals by it
        *(("2,150 ft", "2150 ft"), ("10,000 BTU/h", "10000 BTU/h")),
        *(("1,234,567 g", "1234567 g"), ("1,500.5 g", "1500.5 g")),
        *(("1,200", "1200"), ("1,500 cups", "1500 cups")),
    ],
)
def test_a_comma_is_of_decimals_where_it_can_part_no_thousands(typed, meant):
    """ "1,5 l" was refused, and "0,750 kg" read as 750 kg."""
    assert read_quantity(typed).value == read_quantity(meant).value


def test_bags_keep_their_number_and_their_size():
    quantity = read_quantity("6 bags of 5 cups")
    assert (quantity.bags, quantity.bag, quantity.value) == (6, 5 * CUP, 30 * CUP)
    assert quantity.typed == "6 bags of 5 cups"
    assert read_quantity("4 bags of 3 1/2 cups").value == 14 * CUP
    assert read_quantity("5 cups").bag is None


REFUSED = [
    ("", "nothing is written"),
    ("   ", "nothing is written"),
    ("nan cups", "no number stands where 'nan cups'"),
    ("inf", "no number"),
    ("-inf cups", "no number"),
    ("1e3 cups", "no unit is called 'e'"),
    ("cups", "no number"),
    ("-", "it has no number"),
    ("-1 cup", "less than nothing"),
    ("-2 kg", "less than nothing"),
    ("-500 °F", "colder than"),
    ("1/0 cup", "divided by zero"),
    ("2 1/0 cups", "divided by zero"),
    ("0/0 cup", "divided by zero"),
    ("2 3/2 cups", "below one, not 3/2"),
    ("1 1/2/3 cups", "no unit is called '/'"),
    ("1.5.2 cups", "one point too many"),
    ("1,2345 l", "a decimal has a point: 1.2345, not 1,2345"),
    ("1,5,5 l", "a decimal has a point"),
    ("1,500 g", "may part thousands or decimals; write 1500 or 1.5."),
    ("2,250 l", "may part thousands or decimals; write 2250 or 2.25."),
    ("250,000 ml", "may part thousands or decimals"),
    ("6 bags of 1,500 ml", "may part thousands or decimals"),
    ("2,5", "counted whole"),
    ("3.5 1/2 cups", "do not add up"),
    ("1 2 cups", "do not add up"),
    ("1 cup 2 lb", "volume and mass do not add up"),
    ("1 cup + 3", "volume and count do not add up"),
    ("70 °F + 3 °F", "temperatures are not added up"),
    ("1 cup +", "ends where more is announced"),
    ("1 cup and", "ends where more is announced"),
    ("+ 1 cup", "no number"),
    ("2 cups juice", "no unit is called 'cups juice'"),
    ("3 blobs", "no unit is called 'blobs'"),
    ("100 C", "may be cups or Celsius"),
    ("2 imperial pints", "imperial pint is 568 ml"),
    ("1 UK pint", "imperial pint is 568 ml"),
    ("1 metric cup", "a metric cup 250 ml"),
    ("11 psi", "counted from the air around it"),
    ("1 pinch", "a pinch has no size"),
    ("1 bushel", "weigh it"),
    ("6 1/2 bags", "counted whole"),
    ("3 boxes 2 bags", "give one count"),
    ("6 bags of 5", 'after it a measure'),
    ("5 cups of 2 cups", 'before "of" goes a count'),
    ("0 bags of 5 cups", "between 1 and 10000 bags"),
    ("6 bags of 5 ft", "a volume or a weight"),
    ("٣ cups", "belongs to no measure"),
    ("²/₃ cup", "belongs to no measure"),
    ("1 cup\N{RIGHT-TO-LEFT OVERRIDE}", "belongs to no measure"),
    ("1\0cup", "belongs to no measure"),
    ("5 \uff43ups", "belongs to no measure"),
    ("9" * 40 + " cups", "more than 30 digits"),
    ("1/" + "9" * 40 + " cup", "more than 30 digits"),
    ("1 cup " * 30, "has 180 letters"),
]  # fmt: skip


@pytest.mark.parametrize(("typed", "why"), REFUSED)
def test_what_cannot_be_read_is_refused_with_why_and_an_example(typed, why):
    with pytest.raises(Unreadable) as refused:
        read_quantity(typed)
    message = str(refused.value)
    assert why in message
    assert message.startswith("cannot read ")
    assert 'Write "7 1/2 cups"' in message


def test_ten_megabytes_are_refused_at_once_and_not_shown_in_full():
    text = "1 cup " * 1_700_000
    with pytest.raises(Unreadable, match="it has 10200000 letters") as refused:
        read_volume_m3(text)
    assert len(str(refused.value)) < 300


TYPED = [
    (read_volume_m3, "8 oz", 'say "fl oz"'),
    (read_volume_m3, "8", "needs its unit"),
    (read_volume_m3, "2 lb", "that is a mass"),
    (read_mass_kg, "2 cups", 'that is a volume. Write "2 lb 3 oz"'),
    (read_length_m, "2150", 'needs its unit. Write "2150 ft" or "655 m"'),
    (read_pressure_pa, "27.6", "needs its unit"),
    (read_power_w, "3", 'Write "2.5 kW", "1800 W" or "10000 BTU/h"'),
    (read_power_w, "9000 BTU", "heat an hour"),
    (read_temperature_k, "210", 'Write "210 °F"'),
    (read_duration_min, "30 s", "minutes are counted whole"),
    (read_duration_min, "24", "needs its unit"),
]


@pytest.mark.parametrize(("read", "typed", "why"), TYPED)
def test_typed_readers_refuse_other_dimensions(read, typed, why):
    with pytest.raises(Unreadable) as refused:
        read(typed)
    assert why in str(refused.value)


def test_a_lone_c_is_what_the_reader_asks_for():
    assert read_volume_m3("2 C") == read_volume_m3("2 cups")
    assert read_temperature_k("100 C") == read_temperature_k("100 °C")


@pytest.mark.parametrize(
    ("typed", "long"),
    [
        *(("1.200 m", "1200"), ("1.000m", "1000"), ("2.150 ft", "2150")),
        *(("10.000 feet", "10000"), ("-1.000 metres", "1000")),
    ],
)
def test_a_height_whose_point_may_part_thousands_is_asked_about(typed, long):
    with pytest.raises(Unreadable, match=f"part thousands or tenths; write {long} if"):
        read_height_m(typed)


@pytest.mark.parametrize(
    ("typed", "metres"),
    [
        *(("1,200 m", 1200.0), ("1200 m", 1200.0), ("1.2 m", 1.2), ("1.25 m", 1.25)),
        *(("0.305 km", 305.0), ("304.800 m", 304.8), ("1.2000 m", 1.2)),
        ("-152.4 m", -152.4),
    ],
)
def test_a_height_that_can_mean_one_thing_alone_is_read(typed, metres):
    assert read_height_m(typed) == pytest.approx(metres)


def test_typed_readers_answer_in_si():
    assert read_volume_m3("950 ml") == 0.00095
    assert read_mass_kg("900 g") == 0.9
    assert read_length_m("2150 ft") == 655.32
    assert read_pressure_pa("935 hPa") == 93_500
    assert read_power_w("2.5 kW") == 2500
    assert read_temperature_k("0 °C") == 273.15
    assert read_duration_min("1 1/2 h") == 90


WRITTEN = [
    (CUP * Fraction(15, 2), "7 1/2 cups"),
    (CUP / 3, "1/3 cup"),
    (CUP, "1 cup"),
    (CUP * Fraction(4, 3), "1 1/3 cups"),
    (TEASPOON_M3 * 7, "2 tbsp + 1 tsp"),
    (TEASPOON_M3 / 4, "1/4 tsp"),
    (CUP * 2 + TABLESPOON_M3, "2 cups + 1 tbsp"),
    (CUP * 2 / 3 + TEASPOON_M3, "2/3 cup + 1 tsp"),
    (Fraction(0), "0 tsp"),
    (TEASPOON_M3 / 100, "under 1/4 tsp"),
]


@pytest.mark.parametrize(("size", "written"), WRITTEN)
def test_volumes_are_written_as_they_are_scooped(size, written):
    assert kitchen_volume(size) == written
    assert kitchen_volume(float(size)) == written


@given(st.integers(0, 192 * 60))
def test_a_volume_on_the_grid_reads_back_the_same(quarter_teaspoons):
    size = quarter_teaspoons * TEASPOON_M3 / 4
    assert read_quantity(kitchen_volume(size)).value == size
    assert read_quantity(kitchen_volume(float(size))).value == size


@given(st.floats(0, 0.05))
def test_a_written_volume_is_never_off_by_more_than_an_eighth_teaspoon(size):
    written = kitchen_volume(size)
    if not written.startswith("under"):
        off = abs(read_quantity(written).value - Fraction(size))
        assert off <= TEASPOON_M3 / 8


@given(st.integers(0, 16 * 4 - 1) | st.integers(16, 4000).map(lambda oz: 4 * oz))
def test_a_mass_on_the_grid_reads_back_the_same(quarter_ounces):
    size = quarter_ounces * OUNCE_KG / 4
    assert read_quantity(kitchen_mass(size)).value == size
    assert read_quantity(kitchen_mass(float(size))).value == size


@given(st.integers(0, 999) | st.integers(100, 100_000).map(lambda n: 10 * n))
def test_a_metric_mass_on_the_grid_reads_back_the_same(grams):
    size = Fraction(grams, 1000)
    assert read_quantity(kitchen_mass(size, metric=True)).value == size


def test_masses_are_written_as_a_scale_shows_them():
    assert kitchen_mass(1.985) == "4 lb 6 oz"
    assert kitchen_mass(OUNCE_KG * 16) == "1 lb"
    assert kitchen_mass(OUNCE_KG * Fraction(161, 10), at_least=True) == "1 lb 1 oz"
    assert kitchen_mass(OUNCE_KG * 16, at_least=True) == "1 lb"
    assert kitchen_mass(1.0001, metric=True, at_least=True) == "1.01 kg"
    assert kitchen_mass(OUNCE_KG * Fraction(159, 10)) == "1 lb"
    assert kitchen_mass(0.0496) == "1 3/4 oz"
    assert kitchen_mass(0.001) == "under 1/4 oz"
    assert kitchen_mass(0) == "0 oz"
    assert kitchen_mass(2, metric=True) == "2.0 kg"
    assert kitchen_mass(1.443, metric=True) == "1.44 kg"
    assert kitchen_mass(0.9996, metric=True) == "1.0 kg"
    assert kitchen_mass(0.0496, metric=True) == "50 g"
    assert kitchen_mass(0.0001, metric=True) == "under 1 g"


@pytest.mark.parametrize("size", [-1.0, math.nan, math.inf])
def test_nothing_that_is_no_size_is_written(size):
    with pytest.raises(ValueError, match=r"volume_m3 = .* give zero or more"):
        kitchen_volume(size)
    with pytest.raises(ValueError, match=r"mass_kg = .* give zero or more"):
        kitchen_mass(size)


def test_si_to_what_is_read_off():
    assert cups(read_volume_m3("7 1/2 cups")) == pytest.approx(7.5, rel=1e-15)
    assert fahrenheit(373.15) == pytest.approx(212, abs=1e-9)
    assert celsius(373.15) == pytest.approx(100, abs=1e-9)
    assert feet(655.32) == pytest.approx(2150, abs=1e-9)


@given(st.text(max_size=LONGEST_TEXT + 5))
def test_any_text_is_a_measure_or_refused(text):
    try:
        quantity = read_quantity(text)
    except Unreadable:
        return
    assert quantity.typed == text.strip()
    assert math.isfinite(float(quantity.value))


@given(st.text("0123456789 /.,+-½cuplbozftmF°of andgs", max_size=40))
def test_any_mix_of_a_measures_letters_is_a_measure_or_refused(text):
    try:
        quantity = read_quantity(text)
    except Unreadable:
        return
    assert math.isfinite(float(quantity.value))


@pytest.mark.parametrize("hour", range(24))
def test_every_hour_of_the_day_is_read_by_both_clocks(hour):
    """One o'clock too: nothing but the hours around it were ever asked."""
    half = "am" if hour < 12 else "pm"
    assert clock_time(f"{hour % 12 or 12}:30 {half}") == dt.time(hour, 30)
    assert clock_time(f"{hour}:30") == dt.time(hour, 30)
    assert clock_time(f"{hour:02d}59") == dt.time(hour, 59)


@pytest.mark.parametrize("said", ["0:30 am", "13:00 pm", "1:60 pm", "24:00", "9:60"])
def test_what_no_clock_shows_is_no_clock_time(said):
    assert clock_time(said) is None
