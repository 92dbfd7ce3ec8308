"""A packed copy is held against what it was made from: to the last byte."""

from pathlib import Path

import pytest

from stillroom.records.packed import _same

LONG = 3 * (1 << 20) + 7


@pytest.mark.parametrize(
    ("one", "other", "same"),
    [
        (b"a" * LONG, b"a" * LONG, True),
        (b"a" * LONG, b"a" * (LONG - 1) + b"b", False),
        (b"a" * LONG, b"a" * (LONG - 1), False),
        (b"a" * LONG, b"", False),
        (b"", b"", True),
    ],
)
def test_two_files_are_the_same_to_the_last_byte(
    tmp_path: Path, one: bytes, other: bytes, same: bool
):
    for name, text in (("one", one), ("other", other)):
        (tmp_path / name).write_bytes(text)
    assert _same(tmp_path / "one", tmp_path / "other") is same
