"""What is to be saved or booked is there, whoever stops reading the words about it."""

import os
import select
import subprocess
import sys
import time
from pathlib import Path

import pytest

from stillroom.planning.day_file.dayfile import new_day_text, read_day
from tests.cli.running import run

STILLROOM = (sys.executable, "-c", "from stillroom.cli.main import main; main()")


def run_unread(*words: str) -> str:
    """Run a command whose reader has gone; returns what it says on standard error."""
    reader, writer = os.pipe()
    os.close(reader)
    try:
        done = subprocess.run(
            [*STILLROOM, *words],
            stdout=writer,
            stderr=subprocess.PIPE,
            text=True,
            timeout=120,
            check=False,
        )
    finally:
        os.close(writer)
    return done.stderr


@pytest.mark.parametrize("command", ["plan", "what-if"])
def test_a_changed_day_is_saved_though_nobody_reads_its_plan(command, small):
    new = small.with_name("new.toml")
    change = ("--with", "kitchen.counter=70", "--save", str(new), "--seconds", "0")
    assert run_unread(command, str(small), *change) == ""
    assert read_day(new).kitchen.counter_places == 70


def test_what_came_in_is_booked_though_nobody_reads_of_it(tmp_path):
    db = str(tmp_path / "record.db")
    assert run_unread("stock", "add", "25 lb pears, cellar", "--yes", "--db", db) == ""
    assert "pears" in run("stock", "--db", db).out


def test_a_refusal_is_said_though_nobody_reads_the_plan_above_it(small):
    text = new_day_text().replace("counter = 48", "counter = 0")
    assert text != new_day_text()
    small.write_text(text, encoding="utf-8")
    said = run_unread("plan", str(small), "--seconds", "0")
    assert said.startswith("Refused: ")


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="no device that is full")
def test_words_that_cannot_be_written_are_an_error_in_words(tmp_path):
    db = str(tmp_path / "record.db")
    words = ("stock", "add", "25 lb pears, cellar", "--yes", "--db", db)
    assert written_to_a_full_disk(*words) == 2
    assert "pears" in run("stock", "--db", db).out


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="no device that is full")
def test_a_refusal_that_cannot_be_written_is_a_refusal_still():
    carrots = ("carrots", "--jar", "quart", "--elevation", "655m")
    words = ("process", *carrots, "--canner", "boiling-water", "--json")
    assert written_to_a_full_disk(*words) == 3


def written_to_a_full_disk(*words: str) -> int:
    """The exit code of a command that says in one line that it cannot be written."""
    with open("/dev/full", "w") as full:
        done = subprocess.run(
            [*STILLROOM, *words],
            stdout=full,
            stderr=subprocess.PIPE,
            text=True,
            timeout=120,
            check=False,
        )
    assert done.stderr.startswith("the answer cannot be written where it was sent (")
    assert len(done.stderr.splitlines()) == 1
    return done.returncode


def test_what_is_asked_about_is_there_before_the_question(tmp_path):
    pty = pytest.importorskip("pty", reason="no terminals here")
    ours, theirs = pty.openpty()
    asks = subprocess.Popen(
        [*STILLROOM, "stock", "add", "25 lb pears, cellar"],
        stdin=theirs,
        stdout=subprocess.PIPE,
        cwd=tmp_path,
    )
    try:
        assert asks.stdout is not None
        said, until = b"", time.monotonic() + 60
        while b"Book it so?" not in said and time.monotonic() < until:
            if select.select([asks.stdout], [], [], 0.2)[0]:
                said += os.read(asks.stdout.fileno(), 4096)
        assert b"25 lb (11.34 kg)" in said.partition(b"Book it so?")[0]
        os.write(ours, b"n\n")
        assert asks.wait(60) == 0
    finally:
        asks.kill()
        asks.wait()
        os.close(ours)
        os.close(theirs)
        asks.stdout.close()
    assert not (tmp_path / "stillroom.db").exists()
