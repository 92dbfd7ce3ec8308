"""Two day files are told apart in the keeper's words."""

import json
import re
from importlib.resources import files

import pytest

from stillroom.planning.day_file.day_changes import changed_day_text, place_in_words
from stillroom.planning.day_file.day_differs import differences
from stillroom.planning.day_file.day_values import PLAIN_TABLES, TABLES_WITH_ROWS
from stillroom.planning.day_file.dayfile import demo_day_text, new_day_text

DEMO = demo_day_text()
SCHEMA = json.loads(
    (files("stillroom.planning") / "data" / "day.schema.json").read_text("utf-8")
)


@pytest.mark.parametrize(
    ("change", "said"),
    [
        ("day.ends=21:00; kitchen.counter=99", [
            ("when the day ends", "20:00", "21:00"),
            ("how many jars the counter has room for", "108", "99"),
        ]),
        ("people.Pip.goes=14:30", [("when Pip goes", "15:00", "14:30")]),
        ("people.Pip=nothing", [("Pip", "there", "–")]),
        ("wants.pear butter=nothing", [("wanted: pear butter", "there", "–")]),
        ("wants.pear butter.jars=4", [
            ("how many jars of pear butter are wanted", "8", "4"),
        ]),
        ("kitchen.canners.second=like long canner", [("second", "–", "there")]),
        ("day.done_by=nothing", [("when the day is to be done", "18:30", "–")]),
        ("day.date=2026-09-01", [
            ("the date of the day", "22 August 2026", "1 September 2026"),
        ]),
        ("people.Pip.comes=10:30", [("when Pip comes", "9:00", "10:30")]),
    ],
)  # fmt: skip
def test_what_differs_is_said_as_the_keeper_calls_it(change, said):
    found = differences(DEMO, changed_day_text(DEMO, change))
    plain = [(d.place, d.then, d.now) for d in found]
    assert plain == said


def test_a_figure_that_is_written_with_a_comma_is_no_other_figure():
    bare = DEMO.replace('"2,150 ft"', '"2150 ft"')
    assert bare != DEMO
    assert differences(DEMO, bare) == ()
    (higher,) = differences(DEMO, DEMO.replace('"2,150 ft"', '"2,151 ft"')) or ()
    assert (higher.then, higher.now) == ("2,150 ft", "2,151 ft")


def test_a_day_in_quotes_is_the_same_day_and_no_day_stays_as_it_was_written():
    quoted = DEMO.replace("date = 2026-08-22", 'date = "2026-08-22"')
    assert quoted != DEMO
    assert differences(DEMO, quoted) == ()
    (none,) = differences(DEMO, quoted.replace("2026-08-22", "2026-02-30")) or ()
    assert (none.then, none.now) == ("22 August 2026", "2026-02-30")


def test_nothing_is_called_by_its_key_in_the_file():
    """There stood "paid of shelf[1].paid" and "Kitchen.mills"."""
    found = differences(DEMO, new_day_text())
    assert len(found) > 40
    assert [d.place for d in found if re.search(r"[._\[]", d.place)] == []
    said = {d.place: (d.then, d.now) for d in found}
    assert said["what was paid for sugar"] == ("21.25", "–")
    assert said["how much of half-pint jars there is"] == ("84", "20")
    assert said["an invented day, to try things on"] == ("yes", "–")
    assert said["how many food mills there are"] == ("1", "0")


@pytest.mark.parametrize("table", PLAIN_TABLES)
def test_every_key_of_a_plain_table_has_words(table):
    keys = [
        key
        for key, kind in SCHEMA["properties"][table]["properties"].items()
        if kind.get("type") != "array" or f"{table}.{key}" not in TABLES_WITH_ROWS
    ]
    assert len(keys) > 8
    for key in keys:
        path = f"{table}.{key}"
        assert place_in_words(path, {}) != path, f"{path} has no words"


def test_remarks_and_layout_are_no_difference():
    assert differences(DEMO, DEMO + "\n# a remark\n") == ()
    assert differences(DEMO, "[day") is None
