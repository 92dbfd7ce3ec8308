"""The same farm weeks over PostgreSQL; skipped, with the reason, where none is."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from sqlalchemy import text
from sqlalchemy.engine import make_url

from stillroom.records.engine import open_engine, place_of
from tests.records.postgres_server import missing, server
from tests.simulation.weeks import run_week

pytestmark = pytest.mark.skipif(bool(missing()), reason=missing())


@pytest.fixture(scope="module")
def address(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    with server(tmp_path_factory.mktemp("farm-on-a-server")) as url:
        yield url


def new_database(address: str, name: str) -> str:
    engine = open_engine(place_of(address)).execution_options(
        isolation_level="AUTOCOMMIT"
    )
    with engine.connect() as connection:
        connection.execute(text(f"CREATE DATABASE {name}"))
    engine.dispose()
    return make_url(address).set(database=name).render_as_string(hide_password=False)


@pytest.mark.parametrize("seed", [1, 2, 7])
def test_a_farm_week_on_a_server(seed: int, address: str, tmp_path: Path):
    url = new_database(address, f"week_{seed}")
    went = run_week(seed, tmp_path, url=url)
    assert went.told["post"] > 20
