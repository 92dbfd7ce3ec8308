"""Killed at any moment, nothing acknowledged is lost, and nothing is half there."""

import signal
import sqlite3
import subprocess
import sys
from pathlib import Path

import pytest

from stillroom.records.days import open_records

WRITER = """
import sys
from stillroom.records.days import open_records
records = open_records(sys.argv[1])
number = records.ledger.last("day")
while True:
    number = records.days.save(f"text {number + 1}", "one more")
    print(number, flush=True)
"""


@pytest.mark.parametrize("acknowledged", [1, 57])
def test_a_killed_writer_loses_no_acknowledged_save(file: Path, acknowledged: int):
    with subprocess.Popen(
        [sys.executable, "-c", WRITER, str(file)], stdout=subprocess.PIPE, text=True
    ) as writer:
        assert writer.stdout is not None
        for line in writer.stdout:
            if int(line) >= acknowledged:
                break
        writer.send_signal(signal.SIGKILL)
        said = [int(line) for line in writer.stdout.read().splitlines()]
    last_said = max([acknowledged, *said])
    with open_records(file) as records:
        found = records.days.revisions()
        assert len(found) >= last_said
        assert [(r.number, r.text) for r in found] == [
            (n, f"text {n}") for n in range(1, len(found) + 1)
        ]
        assert records.days.save("mended", "after the kill") == len(found) + 1
    plain = sqlite3.connect(file)
    assert plain.execute("PRAGMA integrity_check").fetchone() == ("ok",)
    plain.close()
