"""A mistyped address is refused, makes no file, and shows no password."""

from pathlib import Path

import pytest

from stillroom.records.engine import place_of
from stillroom.refusal import Unreadable
from tests.cli.running import run

SECRET = "do-not-tell"
MISTYPED = (
    f"postgresql:/ada:{SECRET}@h/d",
    f"postgresql//ada:{SECRET}@h/d",
    f"postgresql:ada:{SECRET}@h/d",
    f" postgresql://ada:{SECRET}@h/d",
    f"postgres+psycopg:/ada:{SECRET}@h/d",
    f"Postgresql;//ada:{SECRET}@h/d",
    f"postgresql:///ada:{SECRET}@h/d",
    f"postgres://ada:{SECRET}@h/d",
    f"postgresql://ada@h/d password={SECRET}",
    f"postgresql://ada:{SECRET}",
    f"postgresql://ada:{SECRET}/d",
    f"://ada:{SECRET}@h/d",
    f"//ada:{SECRET}@h/d",
    f"ada:{SECRET}@h/d",
    f"host=h dbname=d password={SECRET}",
    f"password = {SECRET} host=h",
    f"dbname=d password={SECRET} options=x://y",
)


@pytest.mark.parametrize("where", MISTYPED)
def test_a_mistyped_address_is_refused_and_not_shown(
    where: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
):
    monkeypatch.chdir(tmp_path)
    for words in (
        ("check",),
        ("serve", "--port", "1"),
        ("stock", "add", "25 lb plums, cellar", "--yes"),
    ):
        said = run(*words, "--db", where)
        assert said.code != 0
        assert "postgresql://" in said.err
        assert "Traceback" not in said.err
        assert SECRET not in said.out + said.err
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize(
    "name",
    ["postgres.db", "postgres/farm.db", "./a:b@c.db", "/attic/a:b@c.db", "user.db"],
)
def test_a_file_of_such_a_name_is_a_file(name: str):
    assert place_of(name).file == Path(name)


def test_how_an_address_is_written_is_said():
    with pytest.raises(Unreadable, match="is written postgresql://NAME@HOST/DATABASE"):
        place_of(MISTYPED[0])
