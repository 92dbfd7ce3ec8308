"""
How long the commands that read everything take on a record of a lifetime.

All of it is invented. Two records: the invented year laid end to end until the lot
codes end, with its days at the stove; and a stock alone, as `tracing` makes it, as
large. Each command is a process of its own; what counts is the time of the processor,
start of the program and all, and the median of a few. After a write, what a server
keeps is asked again.

    python benchmarks/large_record.py
    python benchmarks/large_record.py --before ../earlier/src

With ``--before`` each is done by turns with an earlier source tree, and what it printed
is compared.
"""

from __future__ import annotations

import argparse
import datetime as dt
import os
import re
import statistics
import subprocess
import sys
import tempfile
from collections.abc import Iterator, Sequence
from pathlib import Path

import msgspec
from tracing import filled

from stillroom.records.days import open_records
from stillroom.records.ledger import Entry, Recorded
from stillroom.smallholding.year import write_year
from stillroom.stock.handle import STREAM, derive
from stillroom.stock.lotcode import check_character

SIZE = 95_526
"""Entries of the stock alone."""
YEARS = 74
"""From 2025: the lot codes end with 2099."""
REPEATS = 3
COMMANDS = (
    ("stock", "cover"),
    ("stock", "history"),
    ("stock", "jars"),
    ("stock",),
    ("learned",),
    ("check",),
)
OWN = Path(__file__).resolve().parents[1] / "src"
CALL = "import sys; from stillroom.cli.main import main; sys.exit(main())"

KEPT = """
import datetime as dt, sys, time
from stillroom.learning.record import LearnedKept
from stillroom.records.days import open_records
from stillroom.stock.commands import Receive
from stillroom.stock.cover import covers
from stillroom.stock.handle import KeptStock
from stillroom.stock.sentence import propose

at = dt.datetime(2099, 12, 30, 12, tzinfo=dt.UTC)
with open_records(sys.argv[1]) as records:
    kept, learned = KeptStock(records.ledger), LearnedKept(records.ledger)
    for _ in range(2):
        thing = propose("25 lb pears, cellar", today=at.date(), known_places=()).thing
        kept.handle(Receive(things=(thing,), at=at))
        began = time.process_time()
        with kept.reading() as stock:
            covers(stock, at)
        looked = time.process_time()
        learned.of()
        taught = time.process_time()
print(looked - began, taught - looked)
"""
"""What a server does: a write, then the cover of the shelf, and what days teach."""

_CODE = re.compile(r'"(2[56][A-N]\d\d[0-9A-Z]+)"')
_DAY = re.compile(r"\b(202[56])-(\d\d-\d\d)\b")


def years_end_to_end(where: Path, years: int) -> int:
    """Lay the invented year end to end into a record; return how many entries."""
    one = where.with_name("one-year.db")
    write_year(one)
    with open_records(one) as year, open_records(where) as long:
        streams = {
            name: year.ledger.read(name)
            for name in year.ledger.streams("")
            if name == STREAM or name.startswith("run/")
        }
        ends: dict[str, int] = {}
        for later in range(years):
            for name, entries in streams.items():
                to = _moved_on(name, later)
                before = ends.get(to, 0)
                moved = list(_later(name, entries, later, before))
                ends[to] = long.ledger.append(to, moved, after=before)
    return sum(ends.values())


def _later(
    stream: str, entries: Sequence[Recorded], years: int, before: int
) -> Iterator[Entry]:
    for entry in entries:
        body = msgspec.json.decode(_moved_on(entry.body, years), type=dict[str, object])
        if body.get("token"):
            body["token"] = f"{body['token']}-{years}"
        if entry.kind == "mended":
            body["of"] = int(str(body["of"])) + before
        moved = Recorded(
            kind=entry.kind,
            version=entry.version,
            body=msgspec.json.encode(body).decode(),
            occurred_at=_in_a_later_year(entry.occurred_at, years),
            sequence=before + entry.sequence,
            recorded_at=entry.recorded_at,
        )
        yield Entry(
            kind=moved.kind,
            version=moved.version,
            body=moved.body,
            occurred_at=moved.occurred_at,
            rows=derive(moved) if stream == STREAM else None,
        )


def _in_a_later_year(moment: dt.datetime, years: int) -> dt.datetime:
    return moment.replace(year=moment.year + years)


def _moved_on(text: str, years: int) -> str:
    """Return a text with its days and lot codes so many years later."""
    text = _DAY.sub(lambda found: f"{int(found[1]) + years}-{found[2]}", text)
    return _CODE.sub(lambda found: f'"{_code(found[1], years)}"', text)


def _code(code: str, years: int) -> str:
    body = f"{int(code[:2]) + years:02}{code[2:-1]}"
    return body + check_character(body)


def command(tree: Path, where: Path, words: Sequence[str]) -> tuple[float, str]:
    """Return the processor's time of a command, and what it said. [s]"""
    return _run(tree, CALL, *words, "--db", str(where))


def kept(tree: Path, where: Path) -> tuple[float, float]:
    """Return the time of cover and of learning after a second write. [s]"""
    with tempfile.TemporaryDirectory() as folder:
        copy = Path(folder) / "copy.db"
        copy.write_bytes(where.read_bytes())
        cover, learned = _run(tree, KEPT, str(copy))[1].split()
    return float(cover), float(learned)


def _run(tree: Path, program: str, *words: str) -> tuple[float, str]:
    before = os.times()
    done = subprocess.run(
        [sys.executable, "-c", program, *words],
        check=True,
        capture_output=True,
        text=True,
        env={**os.environ, "PYTHONPATH": str(tree)},
    )
    after = os.times()
    spent = after.children_user - before.children_user
    spent += after.children_system - before.children_system
    return spent, done.stdout


def measure(trees: Sequence[Path], where: Path, repeats: int) -> None:
    """Do each command by turns in all trees; print times, and the last to the first."""
    for words in COMMANDS:
        runs = [[command(tree, where, words) for tree in trees] for _ in range(repeats)]
        if len({said for run in runs for _, said in run}) > 1:
            print(f"  stillroom {' '.join(words)} is answered differently")
        _tell(" ".join(words), [[spent for spent, _ in run] for run in runs])
    asked = [[kept(tree, where) for tree in trees] for _ in range(repeats)]
    _tell("cover after a write", [[cover for cover, _ in run] for run in asked])
    _tell("learned after a write", [[taught for _, taught in run] for run in asked])


def _tell(what: str, runs: list[list[float]]) -> None:
    middle = [statistics.median(column) for column in zip(*runs, strict=True)]
    times = " → ".join(f"{spent:6.2f} s" for spent in middle)
    ratio = f"   {middle[0] / middle[-1]:5.1f} times" if len(middle) > 1 else ""
    print(f"  {what:22} {times}{ratio}", flush=True)


def main() -> None:
    """Make both records, and measure in each."""
    read = argparse.ArgumentParser(description=__doc__.splitlines()[1])
    read.add_argument("--before", type=Path, help="An earlier tree's src.")
    read.add_argument("--repeats", type=int, default=REPEATS)
    read.add_argument("--years", type=int, default=YEARS)
    read.add_argument("--size", type=int, default=SIZE)
    asked = read.parse_args()
    trees = [asked.before.resolve(), OWN] if asked.before else [OWN]
    with tempfile.TemporaryDirectory() as folder:
        years = Path(folder) / "years.db"
        entries = years_end_to_end(years, asked.years)
        print(f"{asked.years} years with days at the stove, {entries:,} entries:")
        measure(trees, years, asked.repeats)
        stock = Path(folder) / "stock.db"
        with open_records(stock) as records:
            filled(records.ledger, asked.size)
        print(f"A stock alone, {asked.size:,} entries:")
        measure(trees, stock, asked.repeats)
    print(f"Times of the processor; load {os.getloadavg()[0]:.1f}")


if __name__ == "__main__":
    main()
