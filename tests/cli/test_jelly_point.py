"""``stillroom jelly-point``: by elevation, by barometer, on her own thermometer."""

import pytest

from tests.cli.running import run


def test_the_contract():
    body = run("jelly-point", "--elevation", "2150ft", "--json").json
    assert set(body) == {
        "pressure_pa", "water_boils_c", "water_boils_f", "jelly_point_c",
        "jelly_point_f", "source",
    }  # fmt: skip
    assert body["jelly_point_f"] - body["water_boils_f"] == pytest.approx(8.0, abs=0.01)


def test_at_the_sea_it_is_the_rule_of_the_books():
    """USDA Complete Guide, Guide 7: 220 °F at sea level."""
    body = run("jelly-point", "--elevation", "0ft", "--json").json
    assert body["jelly_point_f"] == pytest.approx(220.0, abs=0.1)
    assert body["pressure_pa"] == 101325.0


def test_a_barometer_is_enough():
    body = run("jelly-point", "--pressure", "27.6inHg", "--json").json
    assert body["pressure_pa"] == pytest.approx(93_464, abs=30)
    words = run("jelly-point", "--pressure", "28inHg").out
    assert "948 hPa" in words
    assert "bands" not in words  # a boil and a set are of no elevation band


@pytest.mark.parametrize("words", [("jelly-point",), ("thermometer", "--boil", "98C")])
def test_without_an_elevation_the_barometer_is_named_as_well(words):
    no = run(*words)
    assert no.code == 2
    said = " ".join(no.err.split())
    assert "give --elevation, such as 2150ft or 655m, or --pressure, what a" in said


def test_where_no_barometer_may_be_given_none_is_named():
    no = run("process", "plum jelly", "--jar", "pint")
    assert "give --elevation" in no.err
    assert "--pressure" not in no.err


def test_the_words_ask_for_her_own_boil():
    said = run("jelly-point", "--elevation", "655m")
    assert "What does yours read in boiling water today?" in said.out.replace("\n", " ")


@pytest.mark.parametrize(
    ("words", "match"),
    [
        (("--elevation", "2150"), "needs its unit"),
        (("--pressure", "5 psi"), "--pressure"),
        (("--pressure", "lots"), "--pressure"),
        (("--pressure", "3inHg"), "640 to 1,085 hPa"),
        (("--pressure", "0 Pa"), "--pressure"),
        (("--pressure", "40inHg"), "640 to 1,085 hPa"),
        (("--pressure", "1200hPa"), "640 to 1,085 hPa"),
        (("--elevation", ""), "--elevation"),
        (("--elevation", "0ft", "--thermometer", "hot"), "--thermometer"),
        ((), "--elevation"),
    ],
)
def test_what_cannot_be_read_is_named(words, match):
    said = run("jelly-point", *words)
    assert said.code in (2, 3)
    assert match in said.err
    assert said.out == ""


@pytest.mark.parametrize(
    ("reading", "stop_f"), [("208.5F", 216.5), ("215F", 223.0), ("201F", 209.0)]
)
def test_two_commands_say_the_same_of_one_thermometer(reading, stop_f):
    """8 °F over her own boil, however far off it is; else neither of them answers."""
    here = ("--elevation", "2150ft", "--json")
    point = run("jelly-point", "--thermometer", reading, *here).json
    right = run("thermometer", "--boil", reading, *here).json
    said = point["on_this_thermometer"]
    assert said["stop_at_f"] == pytest.approx(stop_f, abs=0.05)
    assert right["stop_at_f"] == pytest.approx(stop_f, abs=0.05)
    assert said["reads_high_f"] == pytest.approx(right["boil_off_f"], abs=0.01)
    assert said["boils_f"] == pytest.approx(stop_f - 8.0, abs=0.05)


def test_two_commands_refuse_the_same_thermometer():
    here = ("--elevation", "2150ft")
    for words in (("jelly-point", "--thermometer"), ("thermometer", "--boil")):
        said = run(*words, "228F", *here)
        assert said.code == 3
        assert "take another thermometer" in " ".join(said.err.split())
