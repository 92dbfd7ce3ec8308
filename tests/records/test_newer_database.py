import sqlite3
from pathlib import Path

import pytest

from stillroom.records.days import open_records
from stillroom.refusal import Unreadable


def test_a_database_of_a_newer_stillroom_is_refused_untouched(file: Path):
    open_records(file).close()
    newer = sqlite3.connect(file)
    with newer:
        newer.execute("INSERT INTO migration VALUES (99, 'of the future', 'then')")
    newer.close()
    before = file.read_bytes()
    with pytest.raises(
        Unreadable, match=r"newer Stillroom .* number 99, .* up to \d+\)"
    ):
        open_records(file)
    assert file.read_bytes() == before


def test_a_database_of_another_program_is_refused_untouched(file: Path):
    other = sqlite3.connect(file)
    with other:
        other.execute("CREATE TABLE honey (jar INTEGER)")
    other.close()
    before = file.read_bytes()
    with pytest.raises(Unreadable, match=r"another program \(tables: honey\)"):
        open_records(file)
    assert file.read_bytes() == before
