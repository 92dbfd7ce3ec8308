"""Who published what the book holds, and how much of it was seen in print."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from csv import DictReader
from dataclasses import dataclass
from importlib.resources import files

from stillroom.book.reader import HOW_KNOWN

MEMORY_ONLY = "from_memory"
"""The table that nothing loads."""
_IN_WORDS = {
    "looked_up": "looked up",
    "computed": "computed",
    "practice": "common practice",
    "memory": "memory",
}


@dataclass(frozen=True, slots=True)
class SourceUse:
    """One source, and the rows that rest on it."""

    source: str
    tables: Mapping[str, int]
    """Rows by table."""
    how_known: Mapping[str, int]
    """Rows by ``looked_up``, ``computed``, ``practice`` and ``memory``."""

    @property
    def rows(self) -> int:
        """How many rows rest on it."""
        return sum(self.tables.values())


def table_names() -> tuple[str, ...]:
    """Return the names of all tables that ship with the book."""
    paths = (files("stillroom.book") / "data").iterdir()
    names = (path.name for path in paths)
    return tuple(sorted(n.removesuffix(".csv") for n in names if n.endswith(".csv")))


def rows_by_how_known() -> Mapping[str, Mapping[str, int]]:
    """Return how many rows of each table were looked up, computed or remembered."""
    return {
        name: Counter(row["how_known"] for row in _rows(name)) for name in table_names()
    }


def source_uses() -> tuple[SourceUse, ...]:
    """Return every source with what rests on it, the most used first."""
    tables: dict[str, Counter[str]] = {}
    known: dict[str, Counter[str]] = {}
    for name in table_names():
        for row in _rows(name):
            tables.setdefault(row["source"], Counter())[name] += 1
            known.setdefault(row["source"], Counter())[row["how_known"]] += 1
    uses = (SourceUse(source, tables[source], known[source]) for source in tables)
    return tuple(sorted(uses, key=lambda use: (-use.rows, use.source)))


def sources_page() -> str:
    """Return the page ``docs/sources.md``: tables, then sources, in Markdown."""
    heads = " | ".join(_IN_WORDS.values())
    lines = [
        "# Sources of the book",
        "",
        "Made by `scripts/sources.py` from the tables in `src/stillroom/book/data/`; "
        "a test holds it to them.",
        "One row is one published figure or line of figures. *Looked up*: its text was "
        "seen, some in a reprint or a",
        "quotation. *Computed*: worked out from such figures. *Memory*: known, not "
        "seen. A process is only ever",
        f"answered from a row that was looked up; `{MEMORY_ONLY}.csv` is kept apart "
        "and nothing loads it.",
        "",
        "## Tables",
        "",
        f"| table | rows | {heads} |",
        "|---|---|---|---|---|---|",
    ]
    counts = rows_by_how_known()
    for name, known in counts.items():
        lines.append(f"| `{name}` | {sum(known.values())} | {_cells(known)} |")
    total: Counter[str] = Counter()
    for known in counts.values():
        total.update(known)
    lines += [f"| all | {sum(total.values())} | {_cells(total)} |", "", "## Sources"]
    lines += ["", f"| source | rests on it | {heads} |", "|---|---|---|---|---|---|"]
    for use in source_uses():
        rests = ", ".join(f"{name} {n}" for name, n in sorted(use.tables.items()))
        text = use.source.replace("|", "/")
        lines.append(f"| {text} | {rests} | {_cells(use.how_known)} |")
    return "\n".join(lines) + "\n"


def _cells(known: Mapping[str, int]) -> str:
    return " | ".join(str(known.get(how, 0) or "") for how in HOW_KNOWN)


def _rows(name: str) -> list[dict[str, str]]:
    path = files("stillroom.book") / "data" / f"{name}.csv"
    with path.open("r", encoding="utf-8") as stream:
        return list(DictReader(stream))
