"""
An old thermometer: it reads 208.5 °F in boiling water today, at an invented 310 m.

She means to cook to 220; she is told to stop at 216.5 on this one.
"""

import pytest

from tests.cli.running import run

HERE = ("jelly-point", "--elevation", "310m")


def test_stop_is_her_boil_and_eight():
    body = run(*HERE, "--thermometer", "208.5F", "--json").json
    own = body["on_this_thermometer"]
    assert own["stop_at_f"] == 216.5
    assert own["sheet_test_from_f"] == 213.0
    assert own["reads_high_f"] == pytest.approx(-1.7, abs=0.15)
    assert body["water_boils_f"] == pytest.approx(210.2, abs=0.1)


def test_220_is_nowhere():
    for words in ((), ("--thermometer", "208.5F")):
        said = run(*HERE, *words)
        assert said.code == 0
        assert "220" not in said.out


def test_in_words():
    text = " ".join(run(*HERE, "--thermometer", "208.5F").out.split())
    assert text.startswith("Stop at 216.5 °F (102.5 °C) on this thermometer: your boil")
    assert "sheet test at 213 °F" in text
    assert "reads about 1.6 °F low" in text or "reads about 1.7 °F low" in text


def test_without_a_reading_it_is_asked_for():
    text = " ".join(run(*HERE).out.split())
    assert (
        "What does yours read in boiling water today? Give it before the sugar" in text
    )


def test_no_quince_recipe_is_invented():
    said = run("batch", "quince jelly", "--have", "8 cups", "--pot", "12qt", "--json")
    assert said.code == 3


def test_a_reading_in_the_wrong_unit_is_questioned():
    said = run(*HERE, "--thermometer", "98.1F")
    assert said.code == 3
    assert "right unit" in said.err
