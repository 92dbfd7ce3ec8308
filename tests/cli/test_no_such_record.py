"""Asking a record that is not there makes none: a file is begun by what comes in."""

from pathlib import Path

import pytest

from stillroom.cli.commands.stock import command as stock
from stillroom.records.days import nothing_kept, open_records
from stillroom.refusal import Unreadable
from tests.cli.running import run

BEGIN = {"add", "made"}
WORDS = {
    "check": ("L26K01-1",),
    "complete": ("L26K01-1", "--elevation", "300 m"),
    "count": ("sugar", "1 lb"),
    "gauge": ("L26K01-1", "11 psi", "--who", "Jory"),
    "hold": ("L26K01-1", "--as", "wrong-time"),
    "label": ("L26K01-1",),
    "mend": ("1", "--why", "a slip"),
    "cold": ("sugar", "pantry", "--as", "refrigerator", "--who", "Jory"),
    "move": ("sugar", "pantry"),
    "note": ("sugar", "fine"),
    "out": ("sugar", "1 lb", "--as", "eaten"),
    "process": ("L26K01-1", "--began", "00:01", "--ended", "00:12", "--who", "Jory"),
    "put-up": ("sugar", "--bought", "--who", "Jory"),
    "recall": ("sugar", "--why", "stones"),
    "steps": ("sugar",),
    "trace": ("sugar",),
    "use": ("sugar", "1 lb"),
}
ASKS = sorted(set(stock.commands) - BEGIN)


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    return tmp_path


@pytest.mark.parametrize("name", ["", *ASKS])
def test_a_mistyped_file_is_not_made_and_what_is_near_is_named(folder: Path, name: str):
    open_records("farm.db").close()
    words = ["stock", *([name] if name else []), *WORDS.get(name, ())]
    said = run(*words, "--db", "fram.db")
    assert said.code == 2
    assert "fram.db is not there" in said.err
    assert "Near it is farm.db" in said.err
    assert not (folder / "fram.db").exists()


@pytest.mark.parametrize(
    "words",
    [
        ("learned",),
        ("check",),
        ("backup",),
        ("export", "--out", "x"),
        ("stock", "made", "--from-run", "today"),
    ],
)
def test_nor_by_any_other_command_that_asks(folder: Path, words: tuple[str, ...]):
    open_records("farm.db").close()
    said = run(*words, "--db", "fram.db")
    assert said.code == 2
    assert "Near it is farm.db" in said.err
    assert [path.name for path in folder.iterdir()] == ["farm.db"]


@pytest.mark.parametrize("name", ["", *ASKS])
def test_on_a_fresh_machine_asking_is_friendly_and_makes_nothing(
    folder: Path, name: str
):
    said = run("stock", *([name] if name else []), *WORDS.get(name, ()))
    assert "not there" not in said.out + said.err
    assert said.code == (3 if name in WORDS else 2 if name == "to-day" else 0)
    assert list(folder.iterdir()) == []


def test_the_first_thing_that_comes_in_begins_a_record(folder: Path):
    assert "Nothing was booked yet" in run("stock").out
    first = run("stock", "add", "25 lb pears, cellar", "--yes")
    assert first.code == 0
    assert "A new record begins in stillroom.db." in first.out
    assert "begins" not in run("stock", "add", "1 lb salt, pantry", "--yes").out
    assert "pears" in run("stock").out
    assert (
        run("stock", "add", "5 lb sugar, pantry", "--yes", "--db", "new.db").code == 0
    )
    assert "sugar" in run("stock", "--db", "new.db").out


@pytest.mark.parametrize(
    "words",
    [
        ("add", "zork"),
        ("add", "25 lb pears, cellar"),
        ("made", "zork"),
        ("add", "zork", "--yes", "--db", "new.db"),
    ],
)
def test_what_is_not_booked_begins_no_record(folder: Path, words: tuple[str, ...]):
    """A mistyped first sentence, or one that nobody said yes to."""
    said = run("stock", *words)
    assert "Nothing was booked" in said.out + said.err
    assert "begins in" not in said.out
    assert list(folder.iterdir()) == []


def test_what_was_never_begun_cannot_be_written_to(folder: Path):
    with (
        nothing_kept(Path("stillroom.db")) as records,
        pytest.raises(Unreadable, match="is not there yet: a record begins with"),
    ):
        records.days.save("hers", "first")
    assert list(folder.iterdir()) == []


def test_a_record_named_before_the_command_is_the_one(folder: Path):
    run("stock", "add", "25 lb pears, cellar", "--yes", "--db", "farm.db")
    assert "pears" in run("stock", "--db", "farm.db", "history").out
    assert run("stock", "--db", "farm.db", "use", "pears", "1 lb").code == 0
    run(
        "stock",
        "--db",
        "farm.db",
        "add",
        "5 lb sugar, pantry",
        "--yes",
        "--db",
        "other.db",
    )
    assert "sugar" not in run("stock", "--db", "farm.db").out
    assert [path.name for path in sorted(folder.glob("*.db"))] == [
        "farm.db",
        "other.db",
    ]


def test_a_folder_that_is_not_there_is_said(folder: Path):
    said = run("stock", "--db", "attic/farm.db")
    assert said.code == 2
    assert "nor is the folder attic" in said.err
