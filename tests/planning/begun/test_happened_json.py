"""A file of what has happened that cannot be read says so in the keeper's terms."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from planning.small_days import day
from planning.written_out import LID, closed, load

from stillroom.planning.begun.happened_file import read_happened
from stillroom.planning.happened import Happened
from stillroom.planning.timetable import Timetable
from stillroom.refusal import Unreadable

PROBLEM = day(closed("a"))
HERS = replace(LID, person="p1", quarters=3)
PLAN = Timetable(steps=(HERS,), loads=(load(30),), breaks=())


def read(file: Path, text: str | bytes) -> Happened:
    file.write_bytes(text.encode() if isinstance(text, str) else text)
    return read_happened(file, PROBLEM, PLAN, 50)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        (
            '{"steps":\n  [{"batch": "a",}]}',
            r"line 2: this is not JSON, where it says '.{18}'\. A comma stands between",
        ),
        (
            '{"steps": [],\n',
            r"^line 1: this is not JSON, where it says '.{13}'\. A comma",
        ),
        ("", 'line 1: the file is empty; {} says that all went as planned, {"rest": '),
        (b'{\n"rest": "\xff"}', "line 2: the byte 0xff is not UTF-8; save .* as UTF-8"),
        (
            '{"rest": "not begun", "rest": "as planned"}',
            "rest: 'rest' stands here; write each key once",
        ),
        ("[" * 100_000, "is no file of what happened"),
        ("1" * 10_000, "is no file of what happened"),
        ("[]", "file: '\\[\\]' stands here; write an object with loads, rest, steps"),
        ('{"stepz": []}', "file: 'stepz' is not known; allowed: loads, rest, steps"),
        ('{"loads": [{"lowered": "8:30"}, {"a": 1}]}', r"loads\[2\]: 'a' is not known"),
        ('{"steps": {}}', "steps: '{}' stands here; write a list of at most 2,000"),
        (
            '{"steps": [{"batch": "a", "step": "lid", "person": 7}]}',
            r"steps\[1\]\.person: '7' stands here; name one of p1",
        ),
        (
            '{"steps": [{"batch": "a", "step": "boil"}]}',
            r"steps\[1\]: 'a/boil' stands here; name a step of the plan; steps of it: ",
        ),
        (b" " * 1_000_001, "a file of what happened has at most 1 MB"),
    ],
)
def test_what_is_wrong_is_said_with_its_place(
    tmp_path: Path, text: str | bytes, said: str
) -> None:
    with pytest.raises(Unreadable, match=said) as refused:
        read(tmp_path / "so_far.json", text)
    for own_words_of_the_reader in ("Expecting", "codec", "char 0", "Errno"):
        assert own_words_of_the_reader not in str(refused.value)


def test_no_file_and_a_folder_are_told_apart(tmp_path: Path) -> None:
    with pytest.raises(Unreadable, match=r"there is no file .*nowhere"):
        read_happened(tmp_path / "nowhere.json", PROBLEM, PLAN, 50)
    with pytest.raises(Unreadable, match="is a folder, not a file of what happened"):
        read_happened(tmp_path, PROBLEM, PLAN, 50)


def test_a_mark_that_an_editor_puts_first_is_no_fault(tmp_path: Path) -> None:
    file = tmp_path / "so_far.json"
    assert read(file, b"\xef\xbb\xbf{}") == read(file, "{}")


@pytest.mark.parametrize("name", ["lid", "LID", "Lid"])
def test_a_step_goes_by_what_the_plan_prints(tmp_path: Path, name: str) -> None:
    row = '{"batch": "A", "step": "%s", "started": "8:25", "person": null}'
    found = read(tmp_path / "so_far.json", f'{{"steps": [{row % name}]}}')
    (one,) = found.steps
    assert (one.step, one.person) == ("lid", "p1")
