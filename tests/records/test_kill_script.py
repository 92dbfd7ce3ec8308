"""The kill test itself: a short run of it, and that it would say what is lost."""

import re
import sqlite3
import subprocess
import sys
from importlib.machinery import SourceFileLoader
from importlib.util import module_from_spec, spec_from_loader
from pathlib import Path
from types import ModuleType

import pytest

from stillroom.records.days import open_records

SCRIPT = Path(__file__).parents[2] / "scripts" / "kill_test"


@pytest.fixture(scope="module")
def script() -> ModuleType:
    loader = SourceFileLoader("kill_test", str(SCRIPT))
    spec = spec_from_loader("kill_test", loader)
    assert spec
    module = module_from_spec(spec)
    loader.exec_module(module)
    return module


def kill_test(*words: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, str(SCRIPT), *words],
        capture_output=True,
        text=True,
        check=False,
    )


def test_twenty_kills_lose_nothing():
    done = kill_test("20")
    assert (done.returncode, done.stderr) == (0, "")
    told = re.search(r"20 kills .* (\d+) appends acknowledged", done.stdout)
    assert told
    assert int(told[1]) > 0


@pytest.mark.parametrize("words", [("many",), ("-3",), ("1", "2", "3")])
def test_nonsense_is_said(words: tuple[str, ...]):
    done = kill_test(*words)
    assert done.returncode == 2
    assert "give the number of kills" in done.stdout


@pytest.fixture
def written(file: Path, script: ModuleType) -> Path:
    with open_records(file) as records:
        last = 0
        for n in range(5):
            last = records.ledger.append(
                script.STREAM, script.entries(n), after=last, key=f"append {n}"
            )
    return file


def test_what_is_there_is_found_whole(written: Path, script: ModuleType):
    looked = script.Looked(written)
    looked.look((0, 1, 2))
    looked.look((3, 4))
    assert looked.appends == 5


def test_a_lost_append_is_said(written: Path, script: ModuleType):
    with pytest.raises(SystemExit, match="append 5 was acknowledged and is not there"):
        script.Looked(written).look((4, 5))


@pytest.mark.parametrize(
    ("statement", "said"),
    [
        ("DELETE FROM event WHERE id = 3", "append 1 is half there"),
        ("UPDATE event SET body = '' WHERE id = 2", "append 1 is half there"),
        ("UPDATE event SET key = NULL WHERE id = 3", "its key is missing"),
        ("UPDATE event SET occurred_at = '' WHERE id = 2", "the chain is broken"),
        ("DELETE FROM event WHERE id > 6", "the stream ends at"),
        ("UPDATE head SET sequence = 3", "the stream ends at"),
        ("UPDATE derived SET sequence = 3", "lots and movements end at"),
        ("DELETE FROM movement WHERE number = 4", "movements are missing or doubled"),
        ("UPDATE on_hand SET quantity = 9", "not the sum of its movements"),
    ],
)
def test_what_is_half_there_or_changed_is_said(
    written: Path, script: ModuleType, statement: str, said: str
):
    plain = sqlite3.connect(written)
    found = plain.execute("SELECT name FROM sqlite_master WHERE type = 'trigger'")
    with plain:
        for (name,) in found.fetchall():
            plain.execute(f"DROP TRIGGER {name}")
        plain.execute(statement)
    plain.close()
    with pytest.raises(SystemExit, match=said):
        script.Looked(written).look(())
