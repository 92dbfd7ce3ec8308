import datetime as dt
from collections.abc import Iterator
from pathlib import Path

import pytest

from stillroom.records.days import Records, open_records


@pytest.fixture
def records(tmp_path: Path) -> Iterator[Records]:
    with open_records(tmp_path / "stillroom.db") as opened:
        yield opened


@pytest.fixture
def start() -> dt.datetime:
    """Half past nine in a kitchen seven hours behind UTC."""
    return dt.datetime(2026, 9, 12, 9, 30, tzinfo=dt.timezone(dt.timedelta(hours=-7)))
