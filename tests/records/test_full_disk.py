"""A disk that is really full: what was answered is kept, nothing is half-written."""

import os
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

from stillroom.records.checking import check_records
from stillroom.records.days import open_records
from stillroom.stock.commands import Receive
from stillroom.stock.handle import FOLLOWING, STREAM, handle, stock_now, stock_of
from stillroom.stock.on_hand import on_hand
from tests.stock.kitchen import MORNING, thing

WRITER = """
import resource, signal, sys
from stillroom.records.days import open_records
from stillroom.refusal import Unreadable
from stillroom.stock.commands import Receive
from stillroom.stock.handle import handle
from tests.stock.kitchen import MORNING, thing

file, most = sys.argv[1], int(sys.argv[2])
if most:
    signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
    resource.setrlimit(resource.RLIMIT_FSIZE, (most, most))
things = tuple(thing("5 lb sugar, pantry") for _ in range(20))
with open_records(file) as records:
    for n in range(10_000):
        try:
            handle(Receive(things=things, at=MORNING), ledger=records.ledger)
        except Unreadable as told:
            print("no:", told, flush=True)
            break
        print("yes", flush=True)
"""


def fill(file: Path, most: int = 0) -> tuple[int, str]:
    """Book until there is no room; return how often that was acknowledged, and why."""
    done = subprocess.run(
        [sys.executable, "-c", WRITER, str(file), str(most)],
        capture_output=True,
        text=True,
        timeout=300,
        env={**os.environ, "PYTHONPATH": os.pathsep.join(sys.path)},
        check=True,
    )
    lines = done.stdout.splitlines()
    return lines.count("yes"), lines[-1]


def all_is_there(file: Path, booked: int) -> None:
    health = check_records(file, following=FOLLOWING)
    assert health.whole, health.sentences()
    with open_records(file) as records:
        assert records.ledger.last(STREAM) == 20 * booked
        whole = stock_of(records.ledger)
        assert on_hand(stock_now(records.ledger)) == on_hand(whole)


def test_a_file_that_may_not_grow(tmp_path: Path):
    file = tmp_path / "farm.db"
    booked, said = fill(file, most=2_000_000)
    assert booked > 5
    assert "disk" in said
    assert "full" in said
    all_is_there(file, booked)
    with open_records(file) as records:  # there is room again
        sugar = Receive(things=(thing("5 lb sugar, pantry"),), at=MORNING)
        handle(sugar, ledger=records.ledger)
        assert records.ledger.last(STREAM) == 20 * booked + 1


@pytest.fixture
def small_disk(tmp_path: Path) -> Iterator[Path]:
    """Mount a disk of 2 MB, where that is allowed."""
    words = ("mount", "-t", "tmpfs", "-o", "size=2m", "tmpfs", str(tmp_path))
    if os.geteuid() != 0 or subprocess.run(words, capture_output=True).returncode:
        pytest.skip("no small disk may be mounted here")
    yield tmp_path
    subprocess.run(("umount", str(tmp_path)), check=True)


def test_a_small_disk_that_is_full(small_disk: Path):
    file = small_disk / "farm.db"
    booked, said = fill(file)
    assert booked > 5
    assert "full" in said
    all_is_there(file, booked)
