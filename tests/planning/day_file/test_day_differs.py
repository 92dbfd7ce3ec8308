"""Two day files are told apart in the keeper's words."""

import pytest

from stillroom.planning.day_file.day_changes import changed_day_text
from stillroom.planning.day_file.day_differs import differences
from stillroom.planning.day_file.dayfile import demo_day_text

DEMO = demo_day_text()


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
    ],
)  # fmt: skip
def test_what_differs_is_said_as_the_keeper_calls_it(change, said):
    found = differences(DEMO, changed_day_text(DEMO, change))
    plain = [(d.place, d.then, d.now) for d in found]
    assert plain == said


def test_remarks_and_layout_are_no_difference():
    assert differences(DEMO, DEMO + "\n# a remark\n") == ()
    assert differences(DEMO, "[day") is None
