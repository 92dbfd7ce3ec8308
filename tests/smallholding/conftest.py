"""The invented year, written once for all tests that only look at it."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from stillroom.records.days import Records, open_records
from stillroom.smallholding.year import write_year


@pytest.fixture(scope="session")
def year_file(tmp_path_factory: pytest.TempPathFactory) -> Path:
    file = tmp_path_factory.mktemp("year") / "demo.db"
    write_year(file)
    return file


@pytest.fixture
def year(year_file: Path) -> Iterator[Records]:
    with open_records(year_file) as records:
        yield records
