"""A server that runs and turns us away says so in words, and shows no password."""

import datetime as dt

import pytest
from sqlalchemy import text
from sqlalchemy.engine import make_url

from stillroom.records.days import open_records
from stillroom.records.engine import open_engine, place_of
from stillroom.records.ledger import Entry
from stillroom.records.turned_away import words_of_a_server
from stillroom.refusal import NotNow
from tests.cli.running import run
from tests.conftest import empty_database

NOON = dt.datetime(2026, 11, 25, 12, tzinfo=dt.UTC)
SECRET = "do-not-tell"


def as_role(url: str, *rights: str) -> str:
    """Make a role with these rights; return its address."""
    there = make_url(url)
    role = f"{there.database}_guest"
    engine = open_engine(place_of(url))
    with engine.begin() as connection:
        connection.execute(text(f"CREATE ROLE {role} LOGIN"))
        for right in rights:
            connection.execute(text(f"GRANT {right} TO {role}"))
    engine.dispose()
    there = there.set(username=role, password=SECRET)
    return there.render_as_string(hide_password=False)


def test_a_role_without_rights_is_told_whom_to_ask(address: str):
    url = empty_database(address)
    with open_records(url) as records:
        entry = Entry(kind="k", version=1, body="{}", occurred_at=NOON)
        records.ledger.append("x", [entry], after=0)
    guest = as_role(url)
    for words in (("check",), ("stock", "add", "25 lb plums, cellar", "--yes")):
        said = run(*words, "--db", guest)
        assert said.code != 0
        assert "ask who runs the server for the rights (GRANT)" in said.err
        assert "Traceback" not in said.err
        assert SECRET not in said.out + said.err


def test_a_role_that_may_only_read_is_told_that_nothing_was_written(address: str):
    url = empty_database(address)
    open_records(url).close()
    guest = as_role(url, "SELECT ON ALL TABLES IN SCHEMA public")
    said = run("stock", "add", "25 lb plums, cellar", "--yes", "--db", guest)
    assert said.code != 0
    assert "nothing was written; ask who runs" in said.err


def test_a_database_that_is_not_there_is_no_server_out_of_reach(address: str):
    none = make_url(address).set(database="none_such", password=SECRET)
    with pytest.raises(NotNow, match=r"no database of that name.*createdb") as told:
        open_records(none.render_as_string(hide_password=False))
    assert "cannot be reached" not in str(told.value)
    assert SECRET not in str(told.value)


def test_a_name_that_is_not_let_in_is_told(address: str):
    other = make_url(address).set(username="none_such")
    with pytest.raises(NotNow, match="name before the @ is right"):
        open_records(other.render_as_string(hide_password=False))


@pytest.mark.parametrize("asked", ["foo=x", "sslmode=x", "connect_timeout=x"])
def test_what_no_connection_takes_is_told_as_the_address(address: str, asked: str):
    with pytest.raises(NotNow, match="what stands after its \\?"):
        open_records(f"{address}?{asked}")


def test_a_wrong_password_is_told_as_that():
    """The server of the tests takes any: these are the words of one that does not."""
    for words in (
        'FATAL:  password authentication failed for user "ada"',
        "fe_sendauth: no password supplied",
    ):
        assert "the password or the name" in words_of_a_server(Exception(words))
    assert words_of_a_server(Exception("Connection refused")) == ""
