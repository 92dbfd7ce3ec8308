import pytest

from stillroom.records.days import Records
from tests.closed_for_good import close_for_good


@pytest.fixture(autouse=True)
def closed_for_good(monkeypatch: pytest.MonkeyPatch) -> None:
    """No command reads on in a record that it has closed."""
    monkeypatch.setattr(Records, "close", close_for_good)
