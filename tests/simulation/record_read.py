"""
The record read past the program: rows as they lie in the database, walked by our own
few lines, so that a mistake of the program cannot hide itself.
"""

from __future__ import annotations

import datetime as dt
import hashlib
import json
from collections import Counter, defaultdict
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from sqlalchemy import Engine, create_engine, text
from sqlalchemy.engine import make_url
from sqlalchemy.pool import NullPool

ASIDE = "set aside"
COLUMNS = (
    *("stream", "sequence", "kind", "version", "body"),
    *("occurred_at", "recorded_at", "key", "previous_hash", "hash"),
)
MOVED = text(
    "SELECT lot, place, SUM(quantity) FROM movement "
    "GROUP BY lot, place HAVING SUM(quantity) <> 0"
)
LEFT = text("SELECT lot, place, quantity FROM on_hand")


@dataclass(frozen=True)
class Row:
    """One entry, with what it moved."""

    stream: str
    sequence: int
    kind: str
    body: dict[str, Any]
    at: dt.datetime
    change: dict[tuple[str, str], int]


def moved(kind: str, body: dict[str, Any]) -> dict[tuple[str, str], int]:
    """Return what an entry of the stock adds to each lot and place."""
    sums: Counter[tuple[str, str]] = Counter()
    if kind in ("received", "made"):
        sums[body["lot"]["code"], body["place"]] += body["number"]
    for part in body.get("inputs", ()):
        sums[part["lot"], part["place"]] -= part["number"]
    for part in body.get("parts", ()):
        sums[part["lot"], part["place"]] -= part["number"]
        if kind == "moved":
            sums[part["lot"], body["to"]] += part["number"]
    for part in body.get("changes", ()):
        sums[part["lot"], part["place"]] += part["number"]
    if kind == "counted":
        sums[body["lot"], body["place"]] += body["number"] - body["book"]
    if kind == "checked":
        sums[body["lot"], body["place"]] -= body["aside"]
        sums[body["lot"], ASIDE] += body["aside"]
    return {key: number for key, number in sums.items() if number}


class RecordRead:
    """A record, read on from where it was read last."""

    def __init__(self, url: str) -> None:
        self._engine = _engine(url)
        self._seen = 0
        self.hashes: list[str] = []
        """Of every entry, in the order in which they were written."""
        self.ends: dict[str, tuple[int, str]] = {}
        self.keys: set[str] = set()
        self.balance: Counter[tuple[str, str]] = Counter()
        self.flows: dict[str, Counter[str]] = defaultdict(Counter)

    def new(self) -> list[Row]:
        """Return what was written since, having walked its numbers and its chain."""
        with self._engine.connect() as connection:
            found = connection.execute(
                text(
                    f"SELECT id, {', '.join(COLUMNS)} FROM event "
                    "WHERE id > :seen ORDER BY id"
                ),
                {"seen": self._seen},
            ).mappings()
            rows = [self._walk(dict(row)) for row in found]
            heads = connection.execute(text("SELECT stream, sequence, hash FROM head"))
            ends = {head[0]: (head[1], head[2]) for head in heads}
            tables = [
                {(row[0], row[1]): int(row[2]) for row in connection.execute(question)}
                for question in (MOVED, LEFT)
            ]
        assert ends == self.ends, f"heads {ends}, entries {self.ends}"
        here = {key: number for key, number in self.balance.items() if number}
        assert tables == [here, here], f"tables {tables}, entries {here}"
        return rows

    def _walk(self, row: dict[str, Any]) -> Row:
        stream = row["stream"]
        sequence, hash_ = self.ends.get(stream, (0, "0" * 64))
        assert row["sequence"] == sequence + 1, f"{stream}: {row['sequence']}"
        assert row["previous_hash"] == hash_, f"{stream} {row['sequence']}: chain"
        hashed = [row[name] for name in COLUMNS[:-1]]
        written = json.dumps(hashed, ensure_ascii=False, separators=(",", ":"))
        assert row["hash"] == hashlib.sha256(written.encode()).hexdigest()
        if row["key"] is not None:
            assert row["key"] not in self.keys, f"the key {row['key']} was used twice"
            self.keys.add(row["key"])
        self.ends[stream] = (sequence + 1, row["hash"])
        self.hashes.append(row["hash"])
        self._seen = row["id"]
        body = json.loads(row["body"])
        change = moved(row["kind"], body) if stream == "stock" else {}
        if stream == "stock":
            self._count(row["kind"], body, change)
        return Row(
            stream=stream,
            sequence=row["sequence"],
            kind=row["kind"],
            body=body,
            at=dt.datetime.fromisoformat(row["occurred_at"]),
            change=change,
        )

    def _count(
        self, kind: str, body: dict[str, Any], change: dict[tuple[str, str], int]
    ) -> None:
        self.balance.update(change)
        for (code, place), number in change.items():
            assert self.balance[code, place] >= 0, f"{code} at {place} is below nothing"
            own = "lot" in body and isinstance(body["lot"], dict)
            flow = body.get("way", kind)
            if own:
                flow = "came" if body["lot"]["code"] == code else "made into others"
            self.flows[code][flow] += number

    def places(self) -> Iterator[tuple[str, dict[str, int]]]:
        """Yield each lot with how much of it is where."""
        here: dict[str, dict[str, int]] = defaultdict(dict)
        for (code, place), number in self.balance.items():
            if number:
                here[code][place] = number
        for code in self.flows:
            yield code, here[code]

    def move(self, url: str) -> None:
        """Go on with what the record is now: all that was seen must be in it."""
        self.close()
        self._engine = _engine(url)
        with self._engine.connect() as connection:
            found = connection.execute(
                text("SELECT hash FROM event WHERE id <= :seen ORDER BY id"),
                {"seen": self._seen},
            )
            assert [row.hash for row in found] == self.hashes, "entries are gone"

    def close(self) -> None:
        self._engine.dispose()


def _engine(url: str) -> Engine:
    if url.startswith("postgresql:"):
        url = (
            make_url(url)
            .set(drivername="postgresql+psycopg")
            .render_as_string(hide_password=False)
        )
        return create_engine(url)
    return create_engine(url, poolclass=NullPool)
