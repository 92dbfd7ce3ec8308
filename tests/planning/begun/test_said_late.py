"""Steps that are said to end later: which, and by how many minutes."""

from __future__ import annotations

import pytest

from stillroom.planning.begun.happened_file import read_late
from stillroom.refusal import Unreadable


def test_each_step_is_late_by_its_own_minutes() -> None:
    said = ["plum jelly 2/sugar_in=25min", " a / b = 1 h 5 min ", "a/c/d=24 h"]
    assert read_late(said) == {
        ("plum jelly 2", "sugar_in"): 25,
        ("a", "b"): 65,
        ("a/c", "d"): 1440,
    }
    assert read_late(["a/b=5 min", "a/b=7 min"]) == {("a", "b"): 7}


@pytest.mark.parametrize(
    ("word", "said"),
    [
        ("fill=25min", '"fill=25min" names no step; write BATCH/STEP=MINUTES'),
        ("a/fill", "names no step"),
        ("/fill=5 min", "names no step"),
        ("a/ =5 min", "names no step"),
        ("a/fill=0 min", "0 min is outside 1 min to 24 h"),
        ("a/fill=1441 min", "1441 min is outside 1 min to 24 h"),
        ("a/fill=soon", "--late: "),
    ],
)
def test_what_is_no_step_or_no_length_of_a_day_is_refused(word: str, said: str) -> None:
    with pytest.raises(Unreadable) as told:
        read_late([word])
    assert said in str(told.value)
    assert [fault.key for fault in told.value.faults] == ["--late"]
