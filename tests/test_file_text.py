"""A file that a keeper names: its text, or what is wrong, said in one way."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest
from planning.small_days import day
from planning.written_out import LID, closed

from stillroom.cli.commands.recipe import PAGE
from stillroom.file_text import LARGEST_FILE, FileKind, bytes_of_file, text_of_file
from stillroom.methods.recipe_file import read_recipe
from stillroom.planning.begun.happened_file import read_happened
from stillroom.planning.day_file.dayfile import read_day
from stillroom.planning.timetable import Timetable
from stillroom.refusal import Unreadable
from stillroom.stock.csv_file import CSV

PLAN = Timetable(steps=(LID,), loads=(), breaks=())
READERS: dict[str, Callable[[Path], object]] = {
    "day file": read_day,
    "recipe file": read_recipe,
    "file of what happened": lambda file: read_happened(
        file, day(closed("a")), PLAN, 50
    ),
    "saved page": lambda file: bytes_of_file(file, PAGE),
    "CSV file": lambda file: bytes_of_file(file, CSV),
}


@pytest.mark.parametrize("kind", READERS)
@pytest.mark.parametrize(
    ("content", "said"),
    [
        ("none", "there is no file .*wanted'; "),
        ("folder", "wanted' is a folder, not a {kind}; "),
        ("locked", "wanted' may not be read; look at its permissions"),
        ("long name", "cannot be opened: File name too long"),
        ("large", "wanted' has 1.0 MB; a {kind} has at most 1 MB"),
    ],
)
def test_a_file_that_is_not_to_be_read_is_told_alike(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, kind: str, content: str, said: str
) -> None:
    file = tmp_path / "wanted"
    match content:
        case "folder":
            file.mkdir()
        case "locked":

            def locked(*_: object) -> None:  # modes do not stop root
                raise PermissionError(13, "Permission denied")

            monkeypatch.setattr(Path, "open", locked)
        case "long name":
            file = tmp_path / ("x" * 5000)
        case "large":
            file.write_bytes(b"#" * (LARGEST_FILE + 1))
    with pytest.raises(Unreadable, match=said.format(kind=kind)):
        READERS[kind](file)


@pytest.mark.parametrize(
    ("content", "said"),
    [
        (b"a\0b", "is no text; a note is written in ink, saved as UTF-8"),
        (b"one\ntw\xe9", "line 2: the byte 0xe9 is not UTF-8; save .* as UTF-8"),
    ],
)
def test_what_is_no_text_is_said(tmp_path: Path, content: bytes, said: str) -> None:
    file = tmp_path / "note"
    file.write_bytes(content)
    with pytest.raises(Unreadable, match=said):
        text_of_file(file, FileKind("note", "ink", "write one"))


def test_the_mark_of_an_editor_is_no_text(tmp_path: Path) -> None:
    file = tmp_path / "note"
    file.write_bytes(b"\xef\xbb\xbfplums")
    assert text_of_file(file, FileKind("note", "ink", "write one")) == "plums"
