from pathlib import Path

import pytest

from stillroom.planning.day_file.dayfile import new_day_text
from stillroom.records.days import Records
from tests.closed_for_good import close_for_good


@pytest.fixture(autouse=True)
def closed_for_good(monkeypatch: pytest.MonkeyPatch) -> None:
    """No command reads on in a record that it has closed."""
    monkeypatch.setattr(Records, "close", close_for_good)


@pytest.fixture
def small(tmp_path: Path) -> Path:
    """A day file of the small day to fill in."""
    file = tmp_path / "day.toml"
    file.write_text(new_day_text(), encoding="utf-8")
    return file
