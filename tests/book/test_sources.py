"""docs/sources.md is what the tables say, and the book opens quickly."""

import subprocess
import sys
from pathlib import Path

from stillroom.book.sources import (
    rows_by_how_known,
    source_uses,
    sources_page,
    table_names,
)

PAGE = Path(__file__).parents[2] / "docs" / "sources.md"


def test_the_page_of_sources_is_current():
    assert PAGE.read_text(encoding="utf-8") == sources_page(), (
        "a table has changed: run scripts/sources.py"
    )


def test_processes_are_looked_up_and_memory_is_kept_apart():
    counts = rows_by_how_known()
    assert dict(counts["processes"]) == {"looked_up": 1298}
    assert dict(counts["procedures"]) == {"looked_up": 97}
    assert dict(counts["acid_doses"]) == {"looked_up": 11}
    assert dict(counts["from_memory"]) == {"memory": 32}


def test_every_row_is_counted_once():
    counts = rows_by_how_known()
    assert set(counts) == set(table_names())
    rows = sum(sum(known.values()) for known in counts.values())
    assert sum(use.rows for use in source_uses()) == rows
    for use in source_uses():
        assert use.source.strip()
        assert sum(use.how_known.values()) == use.rows


def test_the_first_look_up_takes_nothing_along():
    """Quick, as it brings no solver, no arrays and no web; benchmarks/look_up.py."""
    code = (
        "import sys\n"
        "from stillroom.book.processes import process_for\n"
        "process_for('plum jelly', jar='pint', elevation_ft=0)\n"
        "print(*(m for m in sys.modules if '.' not in m))\n"
    )
    done = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, check=True
    )
    slow = {"numpy", "ortools", "sqlalchemy", "starlette", "jinja2", "typst", "uvicorn"}
    assert "stillroom" in done.stdout.split()
    assert not slow & set(done.stdout.split())


def test_importing_the_book_reads_no_table():
    code = (
        "from stillroom.book import processes, about, names\n"
        "from stillroom.book.process_table import processes as rows\n"
        "assert rows.cache_info().currsize == 0\n"
        "assert names._special.cache_info().currsize == 0\n"
    )
    subprocess.run([sys.executable, "-c", code], check=True)
