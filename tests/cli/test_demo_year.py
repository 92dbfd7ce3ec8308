"""``stillroom demo-year``, ``serve --demo``: invented things in their own record."""

import datetime as dt
import os
import re
import signal
import socket
import subprocess
import sys
import urllib.request
from pathlib import Path

import pytest

from stillroom.cli.commands.serve import _see_to_the_demo
from stillroom.planning.day_file.dayfile import demo_day_text, new_day_text
from stillroom.records.days import open_records
from stillroom.records.ledger import Entry
from stillroom.refusal import Refused
from stillroom.smallholding.invented import MARK
from tests.cli.running import run

NOON = dt.datetime(2026, 11, 25, 12, tzinfo=dt.UTC)
PROGRAM = "from stillroom.cli.main import main; main()"


def free_port() -> int:
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        return int(free.getsockname()[1])


def test_a_record_that_is_kept_is_refused_untouched(tmp_path):
    file = tmp_path / "mine.db"
    with open_records(file) as records:
        records.days.save(demo_day_text(), "a keeper's own")
    before = file.read_bytes()
    said = run("demo-year", "--db", str(file))
    assert said.code == 3
    assert "holds a record already" in said.err
    assert file.read_bytes() == before
    served = run("serve", "--demo", "--db", str(file), "--port", str(free_port()))
    assert served.code == 3
    assert "serve it without --demo" in served.err
    assert file.read_bytes() == before


def serving(folder: Path, *arguments: str) -> subprocess.Popen[str]:
    """Serve in a folder; returns once the pages are there."""
    process = subprocess.Popen(
        [sys.executable, "-c", PROGRAM, "serve", "--seconds", "0.5", *arguments],
        cwd=folder,
        env={**os.environ, "PYTHONUNBUFFERED": "1"},
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
    )
    assert process.stdout is not None
    for line in process.stdout:
        if re.search(r"The pages are at", line):
            break
    return process


def test_the_demo_is_served_from_a_file_of_its_own(tmp_path: Path):
    """From an empty folder to the pages, and no record of the keeper's is begun."""
    port = free_port()
    process = serving(tmp_path, "--demo", "--port", str(port))
    try:
        page = urllib.request.urlopen(f"http://127.0.0.1:{port}/stock", timeout=20)
        assert b"Invented." in page.read()
        page = urllib.request.urlopen(f"http://127.0.0.1:{port}/learned", timeout=20)
        assert b"of other products" in page.read()
        page = urllib.request.urlopen(f"http://127.0.0.1:{port}/day", timeout=20)
        assert b"Learned from your past days" in page.read()
    finally:
        process.send_signal(signal.SIGTERM)
        _, err = process.communicate(timeout=20)
    assert err == ""
    # whatever she tries out there is copied day by day too; her own record is not begun
    assert {"stillroom-demo.db"} <= set(os.listdir(tmp_path))
    assert "stillroom.db" not in os.listdir(tmp_path)


def test_the_address_stands_first_and_last_and_no_plan_between(tmp_path: Path):
    port = free_port()
    said = []
    process = subprocess.Popen(
        [sys.executable, "-c", PROGRAM, "serve", f"--port={port}", "--seconds=0.5"],
        cwd=tmp_path,
        env={**os.environ, "PYTHONUNBUFFERED": "1"},
        stdout=subprocess.PIPE,
        text=True,
    )
    assert process.stdout is not None
    try:
        for line in process.stdout:
            said.append(line.strip())
            if "The pages are at" in line:
                break
    finally:
        process.send_signal(signal.SIGINT)
        process.communicate(timeout=20)
    address = f"http://127.0.0.1:{port}/"
    first = next(n for n, line in enumerate(said) if address in line)
    assert "The pages come at" in said[first]
    assert address in said[-1]
    between = [line for line in said[first + 1 : -1] if line]
    assert 2 <= len(between) <= 8, between
    assert "The page Day has the whole plan; stillroom plan prints it." in between


def test_make_run_shows_it_only_where_nobody_keeps_a_record():
    makefile = (Path(__file__).parents[2] / "Makefile").read_text(encoding="utf-8")
    assert "$(if $(wildcard stillroom.db),,--demo)" in makefile


def test_the_demo_on_a_server_is_written_once_and_served_again(database: str):
    with open_records(database) as records:
        entry = Entry(kind="marked", version=1, body="{}", occurred_at=NOON)
        records.ledger.append(MARK, [entry], after=0)
    _see_to_the_demo(database)
    with open_records(database) as records:
        assert records.ledger.streams("") == (MARK,)


def test_a_record_that_is_kept_on_a_server_is_refused(database: str):
    with open_records(database) as records:
        records.days.save(demo_day_text(), "a keeper's own")
    with pytest.raises(Refused, match="holds a record that somebody keeps"):
        _see_to_the_demo(database)


def test_a_day_to_begin_with_is_not_passed_over_in_silence(tmp_path: Path):
    """`--like` cannot change a record that has its day; it says so."""
    file = tmp_path / "own.db"
    with open_records(file) as records:
        records.days.save(new_day_text(), "a keeper's own")
    process = serving(
        tmp_path, "--db", str(file), "--like", "demo", "--port", str(free_port())
    )
    process.send_signal(signal.SIGTERM)
    said = process.communicate(timeout=20)[1]
    assert "has a day already" in said
    assert "--like is for a record that is begun" in said
