"""``stillroom explain`` and ``thermometer``: words, figures, a curve, an exit code."""

import pytest

from stillroom.cli.curve_text import curve_text
from stillroom.explaining.explanation import Line, Mark, Picture
from stillroom.explaining.topics import TOPICS
from tests.cli.running import run


def test_without_a_topic_all_are_named():
    said = run("explain")
    assert said.code == 0
    for name in TOPICS:
        assert name in said.out
    assert [one["topic"] for one in run("explain", "--json").json["topics"]] == [
        *TOPICS
    ]


@pytest.mark.parametrize("name", TOPICS)
def test_words_come_first_then_figures_then_the_curve(name):
    said = run("explain", name)
    assert said.code == 0
    at = [said.out.index(part) for part in ("Figures", "┤", "From: ")]
    assert at == sorted(at)
    assert max(len(line) for line in said.out.splitlines()) <= 100


@pytest.mark.parametrize("name", TOPICS)
def test_the_contract(name):
    body = run("explain", name, "--json").json
    assert set(body) == {
        "topic", "title", "sentence", "more", "estimate", "figures", "picture",
        "table", "cautions", "source",
    }  # fmt: skip
    assert set(body["figures"][0]) == {
        "label", "value", "unit", "low", "high", "text", "note",
    }  # fmt: skip
    assert set(body["picture"]["lines"][0]) == {"name", "x", "y", "low", "high"}


def test_the_curve_has_the_ends_of_its_axes_in_both_units():
    said = run("explain", "boil").out
    assert "across: elevation, ft (0 m to 3,048 m)" in said
    assert "up: °F (90 °C to 104 °C)" in said


def test_an_option_reaches_its_topic():
    low, high = (
        run("explain", "boil", "--elevation", feet, "--json").json["figures"][0][
            "value"
        ]
        for feet in ("0ft", "8000ft")
    )
    assert low > high + 5


@pytest.mark.parametrize(
    ("words", "code", "match"),
    [
        (("gravity",), 2, "no topic here"),
        (("boil", "--ph", "3"), 2, "--ph: boil does not ask for this"),
        (("set", "--ph", "9"), 2, "--ph: 9 is outside 2.6 to 4"),
        (("set", "--colour", "9"), 2, "No such option"),
        (
            ("jar", "--product", "plum jelly", "--jar", "quart"),
            3,
            "Refused: no process",
        ),
        (("canner", "--burner", "0.4 kW", "--water", "20 L"), 3, "full boil"),
    ],
)
def test_nonsense_and_refusals(words, code, match):
    said = run("explain", *words)
    assert said.code == code
    assert match in said.err
    assert said.out == ""


def test_a_curve_in_the_terminal_tells_its_lines_by_shade():
    picture = Picture(
        title="t",
        desc="d",
        x_label="kg",
        y_label="min",
        lines=(
            Line(name="up", x=(0.0, 1.0), y=(0.0, 10.0)),
            Line(name="down", x=(1.0, 0.0), y=(0.0, 10.0)),
        ),
        marks=(Mark(text="limit", at=5.0, upright=False),),
    )
    rows = curve_text(picture, 60)
    assert all(len(row) <= 60 for row in rows)
    assert rows[0].endswith("█")
    assert rows[13].rstrip().endswith("▒")
    assert "- limit (5.0), published" in rows[-1]


def test_a_thermometer_is_set_right_by_two_points():
    # Water boils at 208.0 °F at 2,150 ft (US Standard Atmosphere 1976, IAPWS R7-97).
    here = ("thermometer", "--elevation", "2150ft")
    body = run(*here, "--boil", "210F", "--ice", "33F", "--json").json
    assert body["boil_off_f"] == pytest.approx(2.0, abs=0.05)
    assert body["ice_off_f"] == pytest.approx(1.0, abs=0.01)
    shows = {row["true_f"]: row["reading_f"] for row in body["shows"]}
    assert shows[32.0] == pytest.approx(33.0, abs=0.01)
    assert shows[140.0] == pytest.approx(140 + 1 + 108 / 176.05, abs=0.03)
    assert body["stop_at_f"] == pytest.approx(216.0 + 2.05, abs=0.1)


def test_one_point_alone_says_so():
    said = run("thermometer", "--boil", "210F", "--elevation", "2150ft")
    assert said.code == 0
    assert "Add --ice" in said.out


@pytest.mark.parametrize(
    ("words", "code", "match"),
    [
        (("--boil", "210F", "--ice", "40F"), 3, "no straight line"),
        (("--boil", "98F", "--ice", "33F"), 3, "in the right unit"),
        (("--boil", "210", "--ice", "33F"), 2, "--boil"),
        (("--boil", "210F", "--ice", "cold"), 2, "--ice"),
    ],
)
def test_a_thermometer_that_cannot_be_set_right(words, code, match):
    said = run("thermometer", "--elevation", "2150ft", *words)
    assert said.code == code
    assert match in said.err


def test_a_thermometer_needs_the_air():
    assert run("thermometer", "--boil", "210F").code == 2
