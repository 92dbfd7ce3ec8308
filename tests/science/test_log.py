import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from science.figures import PINT
from scipy import special

from stillroom.science.cylinder import history_k, slowest_mode
from stillroom.science.lethality import (
    ACID_FOOD,
    F0,
    decimal_reduction_s,
    estimated_lethality,
    lethal_rate,
    lethality_min,
    survivors,
)
from stillroom.science.log import heating_index, report
from stillroom.science.probe_log import BadLog, ProbeLog, read_probe_log
from stillroom.science.ranges import OutOfRange
from stillroom.science.thermometer import calibration

few = settings(max_examples=50, deadline=None)
BOILS = 373.15


def round_of_a_canner(step_s=60.0, bath=None):
    """A pint that conducts, in a bath that is given at its corners."""
    corners, kelvin = bath or (
        [0.0, 900.0, 7200.0, 7500.0, 9000.0],
        [343.15, BOILS, BOILS, 313.15, 303.15],
    )
    time = np.arange(0.0, corners[-1] + 1, step_s)
    jar = history_k(PINT, corners, kelvin, 343.15, time)
    return ProbeLog(time, jar, np.interp(time, corners, kelvin))


def as_text(log, names="time_s,jar_c,bath_c"):
    rows = zip(log.time_s, log.jar_k - 273.15, log.bath_k - 273.15, strict=True)
    return names + "\n" + "\n".join(f"{t:.0f},{a:.3f},{b:.3f}" for t, a, b in rows)


def test_a_log_gives_back_the_jar_it_was_made_from():
    log = read_probe_log(as_text(round_of_a_canner()))
    seen = report(log, boils_k=BOILS, reference=ACID_FOOD)
    index, _ = slowest_mode(PINT)
    assert seen.heating_index.low <= index / 60.0 <= seen.heating_index.high
    assert seen.heating_index.value == pytest.approx(index / 60.0, rel=0.03)
    assert 1.5 < seen.lag.value < 2.3
    assert seen.come_up_s == pytest.approx(900.0, abs=25.0)
    assert seen.boil_ends_s == pytest.approx(7200.0, abs=10.0)
    assert seen.lost == ()
    assert seen.longest_unbroken_s == pytest.approx(6300.0, abs=30.0)
    # The middle goes on rising after the heat is off.
    assert seen.peak_at_s > 7200.0


def test_a_straight_line_is_found_exactly():
    minutes = np.arange(0.0, 61.0)
    jar = BOILS - 50.0 * 10.0 ** (-minutes / 25.0)
    log = ProbeLog(minutes * 60.0, jar, np.full(61, BOILS))
    index, lag = heating_index(log, come_up_s=0.0, until_s=3600.0)
    assert index.value == pytest.approx(25.0, rel=1e-9)
    assert lag.value == pytest.approx(1.0, rel=1e-9)


def test_a_lost_boil_is_seen_and_cuts_the_time_at_the_boil():
    corners = [0.0, 600.0, 1500.0, 1560.0, 1800.0, 1860.0, 3000.0, 3300.0]
    kelvin = [343.15, BOILS, BOILS, 369.0, 369.0, BOILS, BOILS, 330.0]
    log = round_of_a_canner(15.0, (corners, kelvin))
    seen = report(log, boils_k=BOILS, reference=ACID_FOOD)
    (lost,) = seen.lost
    assert lost.from_s == pytest.approx(1509.0, abs=15.0)
    assert lost.to_s == pytest.approx(1851.0, abs=15.0)
    assert lost.lowest_k == pytest.approx(369.0)
    assert seen.longest_unbroken_s == pytest.approx(3000.0 - 1851.0, abs=30.0)


def test_a_bath_that_never_boils_is_said_to_have_no_come_up():
    log = round_of_a_canner(60.0, ([0.0, 3600.0], [343.15, 368.15]))
    seen = report(log, boils_k=BOILS, reference=ACID_FOOD)
    assert seen.come_up_s is None
    assert seen.heating_index is None
    assert seen.lethality.value > 0.0


def test_without_a_bath_there_is_lethality_only():
    log = read_probe_log("time_min,jar_c\n0,90\n1,92\n2,93\n3,93\n")
    seen = report(log, boils_k=BOILS, reference=ACID_FOOD)
    assert (seen.come_up_s, seen.heating_index, seen.longest_unbroken_s) == (None,) * 3
    with pytest.raises(OutOfRange, match="log bath_c too"):
        heating_index(log, come_up_s=0.0, until_s=180.0)


def test_fahrenheit_semicolons_and_clocks_are_read():
    log = read_probe_log(
        "# a probe of our own\nclock;jar_f;battery\n23:59:00;212,0;3\n0:01:00;194,0;3\n"
        "0:02;176,0;3\n"
    )
    assert log.time_s.tolist() == [0.0, 120.0, 180.0]
    assert log.jar_k == pytest.approx([373.15, 363.15, 353.15])
    dated = read_probe_log(
        "clock,jar_c\n2026-11-24 09:00,80\n2026-11-24 09:01,81\n"
        "2026-11-24T09:02:30,82\n"
    )
    assert dated.time_s.tolist() == [0.0, 60.0, 150.0]


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("", "the log is empty"),
        ("a,b\n1,2\n", "no column for the time"),
        ("time,temp\n0,20\n", "'time' has no unit: write time_s"),
        ("time_s,jar_c,jar_f\n0,20,68\n", "both claim to be the jar"),
        ("time_s,jar_c\n0,80\n60,81\n", "2 readings came"),
        ("time_s,jar_c\n0,80\n60,eighty\n120,82\n", "line 3, jar_c: 'eighty' is not"),
        ("time_s,jar_c\n0,80\n60,nan\n120,82\n", "line 3, jar_c: 'nan' is not a numb"),
        ("time_s,jar_c\n0,80\n60\n120,82\n", "line 3, jar_c: 'nothing' is not"),
        ("clock,jar_c\n9:00,80\n9:61,81\n9:62,82\n", "'9:61' is not a time"),
        ("time_s,jar_c\n0,80\n60,81\n60,82\n", "line 4: the same time as line 3"),
        ("time_s,jar_c\n0,80\n90,81\n60,82\n", "line 4: 30 s before line 3"),
        ("time_min,jar_c\n0,80\n1,81\n9,82\n", "line 4: 8 min without a reading"),
        ("time_s,jar_c\n0,176\n60,180\n120,190\n", "was it read in °F.*jar_f"),
        ("time_s,jar_k\n0,80\n60,81\n120,82\n", "is it in °C.*jar_c"),
        ("time_s,jar_f,bath_f\n0,60,90\n60,70,99\n120,80,100\n", "column bath_c"),
        ("time_s,jar_c\n0,80\n1,20\n60,82\n", "-60 K in 1 s is faster than any"),
        ("time_s,jar_c\n0,80\n60,-300\n120,82\n", "-300 is not a temperature"),
    ],
)
def test_a_bad_log_is_questioned_line_by_line(text, words):
    with pytest.raises(BadLog, match=words):
        read_probe_log(text)


def test_every_fault_is_told_at_once():
    with pytest.raises(BadLog) as caught:
        read_probe_log("time_s,jar_c\n0,80\nx,81\n60,y\n")
    assert len(caught.value.faults) == 2


@few
@given(
    st.floats(340, 395),
    st.floats(340, 395),
    st.sampled_from([F0, ACID_FOOD]),
)
def test_hotter_is_never_less_lethal(one, other, reference):
    low, high = sorted((one, other))
    assert lethal_rate(low, reference) <= lethal_rate(high, reference)
    assert lethal_rate(reference.temperature_k, reference) == 1.0
    hotter = lethal_rate(reference.temperature_k + reference.z_k, reference)
    assert hotter == pytest.approx(10.0)


def test_a_steady_temperature_counts_its_minutes():
    told = estimated_lethality(np.arange(0, 601, 60), [366.45] * 11, ACID_FOOD)
    assert told.value == pytest.approx(10.0, rel=1e-12)
    assert told.low < 10.0 < told.high


def test_a_heating_curve_agrees_with_the_exponential_integral():
    # fh 20 min, gap 50 K down to 1 K under 121.1 °C, by SciPy's exp1.
    ln10 = np.log(10.0)
    time = np.linspace(0.0, 20.0 * np.log10(50.0) * 60.0, 2001)
    line = 394.25 - 50.0 * 10.0 ** (-time / 1200.0)
    closed = 20.0 / ln10 * (special.exp1(ln10 / 10) - special.exp1(ln10 * 5.0))
    assert lethality_min(time, line, F0) == pytest.approx(closed, rel=1e-6)


def test_minute_readings_are_close_enough():
    log = round_of_a_canner(10.0)
    fine = lethality_min(log.time_s, log.jar_k, ACID_FOOD)
    coarse = lethality_min(log.time_s[::6], log.jar_k[::6], ACID_FOOD)
    assert coarse == pytest.approx(float(fine), rel=0.002)


def test_many_logs_give_what_each_gives():
    rng = np.random.default_rng(4)
    time = np.arange(0.0, 1200.0, 30.0)
    rows = 360.0 + 10.0 * rng.random((5, time.size))
    each = [float(lethality_min(time, row, ACID_FOOD)) for row in rows]
    assert lethality_min(time, rows, ACID_FOOD) == pytest.approx(each)


@given(st.floats(2.0, 1e6), st.floats(10, 1000), st.floats(1, 500))
def test_after_one_d_a_tenth_is_left(count, time, d):
    assert survivors(count, d, d) == pytest.approx(count / 10)
    left = survivors(1.0, time, d)
    if left > 1e-17 and left < 0.999:
        assert decimal_reduction_s(time, 1.0, left) == pytest.approx(d, rel=1e-9)


@pytest.mark.parametrize(
    ("time", "kelvin", "words"),
    [
        ([0, 60], [370] * 2, "3 of each"),
        ([0, 60, 120], [370] * 2, "in pairs"),
        ([0, 60, 60], [370] * 3, "does not come after 60 s"),
        ([0, 60, 500], [370] * 3, "440 s without a reading"),
        ([0, 60, 120], [212] * 3, "was it read in °F"),
        ([0, 60, 120], [370, float("nan"), 370], "temperature_k = nan"),
    ],
)
def test_a_log_with_holes_has_no_lethality(time, kelvin, words):
    with pytest.raises(OutOfRange, match=words):
        estimated_lethality(time, kelvin, ACID_FOOD)


@given(st.floats(-3, 3), st.floats(-1.4, 1.4), st.floats(280, 380))
def test_a_thermometer_set_right_reads_its_two_points_and_back(off, apart, kelvin):
    mine = calibration(
        boil_reading_k=369.8 + off + apart,
        water_boils_k=369.8,
        ice_reading_k=273.15 + off - apart,
    )
    assert mine.temperature_k(273.15 + off - apart) == pytest.approx(273.15)
    assert mine.temperature_k(369.8 + off + apart) == pytest.approx(369.8)
    assert mine.temperature_k(mine.reading_k(kelvin)) == pytest.approx(kelvin)


def test_with_the_boil_alone_its_error_is_taken_everywhere():
    mine = calibration(boil_reading_k=371.0, water_boils_k=369.8)
    assert mine.ice_off_k is None
    assert mine.temperature_k(375.0) == pytest.approx(373.8)
    both = np.array([300.0, 375.0])
    assert mine.temperature_k(both) == pytest.approx(both - 1.2)


@pytest.mark.parametrize(
    ("readings", "words"),
    [
        ({"boil_reading_k": 373.3, "ice_reading_k": 273.15}, "more than 3 K apart"),
        ({"boil_reading_k": 479.0}, "was it read in °F"),
        ({"boil_reading_k": 369.8, "ice_reading_k": 305.0}, "ice_reading_k = 305"),
        ({"boil_reading_k": float("nan")}, "boil_reading_k = nan"),
    ],
)
def test_a_broken_thermometer_is_refused(readings, words):
    with pytest.raises(OutOfRange, match=words):
        calibration(water_boils_k=369.8, **readings)
