"""The same farm weeks over PostgreSQL; skipped, with the reason, where none is."""

from pathlib import Path

import pytest

from tests.conftest import empty_database
from tests.simulation.weeks import run_week


@pytest.mark.parametrize(
    ("seed", "too"), [(2, "not brought back"), (7, "post"), (19, "brought back")]
)
def test_a_farm_week_on_a_server(seed: int, too: str, address: str, tmp_path: Path):
    went = run_week(seed, tmp_path, url=empty_database(address))
    assert went.told["post"] > 20
    assert went.told["copy"] > 3
    assert went.told[too]
