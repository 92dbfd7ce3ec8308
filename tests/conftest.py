"""Databases for any test: a file, and a server of our own where one is installed."""

import os
import uuid
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from hypothesis import settings
from sqlalchemy import text
from sqlalchemy.engine import make_url

from stillroom.records.engine import open_engine, place_of
from tests.browsing import browser, open_page
from tests.records.postgres_server import missing, server

__all__ = ["browser", "open_page"]  # fixtures: one of each for all tests

# Commands wrap their lines to the terminal; what they say is tested at one width. Where
# the tests run, and in which of its workers, makes no difference then.
os.environ["COLUMNS"] = "88"

# A busy machine is no mistake of the code: how fast it is stands in benchmarks/.
# The examples are the same on every run, so that what fails, fails by the change. New
# ones are drawn with HYPOTHESIS_PROFILE=new; docs/decisions/0090 says when.
settings.register_profile("stillroom", deadline=None, derandomize=True)
settings.register_profile("new", deadline=None)
settings.load_profile(os.environ.get("HYPOTHESIS_PROFILE", "stillroom"))


@pytest.fixture(scope="session")
def address() -> Iterator[str]:
    """Give the URL of a running PostgreSQL, or skip and say what is missing."""
    if reason := missing():
        pytest.skip(reason)
    with server() as url:
        yield url


def empty_database(address: str) -> str:
    """Make a database of its own on the server; return its URL."""
    name = f"test_{uuid.uuid4().hex}"
    engine = open_engine(place_of(address)).execution_options(
        isolation_level="AUTOCOMMIT"
    )
    with engine.connect() as connection:
        connection.execute(text(f"CREATE DATABASE {name}"))
    engine.dispose()
    return make_url(address).set(database=name).render_as_string(hide_password=False)


@pytest.fixture(params=["sqlite", "postgresql"])
def fresh(request: pytest.FixtureRequest, tmp_path: Path) -> Callable[[], str]:
    """Give a maker of empty databases, once for each kind of database."""
    if request.param == "postgresql":
        server_at = request.getfixturevalue("address")
        return lambda: empty_database(server_at)
    return lambda: str(tmp_path / f"{uuid.uuid4().hex}.db")


@pytest.fixture
def database(fresh: Callable[[], str]) -> str:
    """Name an empty database: a file, and again on a server."""
    return fresh()
