"""The chain: each event carries its own hash and that of the one before it."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any

FIRST = "0" * 64
"""What the first event of a stream carries as the hash of the one before."""

HASHED = (
    "stream",
    "sequence",
    "kind",
    "version",
    "body",
    "occurred_at",
    "recorded_at",
    "key",
    "previous_hash",
)
"""What an event's own hash covers, in this order."""

_as_json = json.JSONEncoder(ensure_ascii=False, separators=(",", ":")).encode
# `json.dumps` would make one of these for every event.


def hash_of(row: Mapping[str, Any]) -> str:
    """
    Return the SHA-256 of an event, from the columns in `HASHED`. [64 hex digits]

    They are written as one JSON list without spaces, in UTF-8, so that no text can
    slip from one column into the next.

    Examples
    --------
    >>> hash_of({**dict.fromkeys(HASHED, "x"), "sequence": 1, "version": 1})[:12]
    'b8cd77d28dc8'
    """
    written = _as_json([row[name] for name in HASHED])
    return hashlib.sha256(written.encode("utf-8")).hexdigest()


def chained(rows: Iterable[dict[str, Any]], previous: str) -> Iterator[dict[str, Any]]:
    """Yield the rows of one stream with both hashes set, behind ``previous``."""
    for row in rows:
        whole = {**row, "previous_hash": previous}
        previous = whole["hash"] = hash_of(whole)
        yield whole


@dataclass(frozen=True, slots=True)
class Broken:
    """A place where a stream is not as it was written."""

    stream: str
    sequence: int
    """The entry at which it is seen."""
    what: str

    def __str__(self) -> str:
        return f"{self.stream}, number {self.sequence}: {self.what}"


class Follow:
    """One stream, followed row by row in order; `broken` is what was found."""

    def __init__(self, stream: str, *, after: int = 0, previous: str = FIRST) -> None:
        self.stream = stream
        self.sequence = after
        self.hash = previous
        self.broken: list[Broken] = []

    def step(self, row: Mapping[str, Any]) -> None:
        """Take the next row; say what is wrong with it, once."""
        sequence = int(row["sequence"])
        if not self.count(sequence) and row["previous_hash"] != self.hash:
            self._say(
                sequence,
                "it does not follow on the one before: that one was changed or swapped",
            )
        if row["hash"] != hash_of(row):
            self._say(sequence, "it is not as it was written")
        self.hash = str(row["hash"])

    def count(self, sequence: int) -> bool:
        """Take the number of the next row; say and return whether some are missing."""
        expected, self.sequence = self.sequence + 1, sequence
        if sequence > expected:
            missing = (
                f"number {expected} is missing"
                if sequence == expected + 1
                else f"numbers {expected} to {sequence - 1} are missing"
            )
            self._say(sequence, f"{missing} before it")
        return sequence > expected

    def end(self, sequence: int, hash_: str) -> None:
        """Compare with where the stream is known to end; 0 where nobody knows it."""
        if sequence > self.sequence:
            self._say(
                sequence,
                f"the stream went up to here, but its last entry is {self.sequence}",
            )
        elif (self.sequence, self.hash) != (sequence, hash_):
            self._say(
                self.sequence, f"the stream is known to end otherwise, at {sequence}"
            )

    def _say(self, sequence: int, what: str) -> None:
        self.broken.append(Broken(self.stream, sequence, what))
