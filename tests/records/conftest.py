from collections.abc import Iterator
from pathlib import Path

import pytest

from stillroom.records.days import Records, open_records


@pytest.fixture
def file(tmp_path: Path) -> Path:
    return tmp_path / "stillroom.db"


@pytest.fixture
def records(file: Path) -> Iterator[Records]:
    with open_records(file) as opened:
        yield opened
