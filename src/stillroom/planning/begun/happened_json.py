"""
The JSON of what has happened: its text and its rows, and what is wrong with them.

Faults are told in the keeper's terms, as those of a day file are: which file, in which
line, what stands there, what is allowed. Rows are counted from one.
"""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

from stillroom.file_text import FileKind, short_name, text_of_file
from stillroom.refusal import Fault, Unreadable

KIND = FileKind("file of what happened", "JSON", "write what has happened into one")
MOST_ROWS = 2000
WHOLE = "file"
"""What a fault of the whole file is a fault of."""
KEYS = {
    WHOLE: {"steps", "loads", "rest"},
    "steps": {"batch", "step", "started", "finished", "expected", "person"},
    "loads": {"load", "lowered", "boil", "out"},
}
"""Keys that an object may have, by the list that it stands in."""


def whole_of(file: Path) -> dict[str, Any]:
    """
    Read a file of what has happened.

    Raises
    ------
    Unreadable
        If there is none, it is larger than 1 MB, no JSON, or has other keys.
    """
    text = text_of_file(file, KIND)
    try:
        body = json.loads(text, object_pairs_hook=_once)
    except json.JSONDecodeError as error:
        raise _no_json(text, error) from None
    except (ValueError, RecursionError):  # thousands of digits, or of brackets
        raise Unreadable(f"{short_name(file)} is no file of what happened") from None
    return table(body, WHOLE, WHOLE)


def fault(allowed: str, came: object, key: str) -> Unreadable:
    """Return what stands at a key, and what is allowed there."""
    return Unreadable(Fault(f"{str(came)[:60]!r} stands here; {allowed}", key=key))


def rows(body: dict[str, Any], key: str) -> list[tuple[str, dict[str, Any]]]:
    """Return the objects of a list, each with where it stands: "steps[1]"."""
    found = body.get(key, [])
    if not isinstance(found, list) or len(found) > MOST_ROWS:
        raise fault(f"write a list of at most {MOST_ROWS:,} objects", found, key)
    where = (f"{key}[{n}]" for n in range(1, len(found) + 1))
    return [(at, table(row, key, at)) for at, row in zip(where, found, strict=True)]


def table(value: object, kind: str, where: str) -> dict[str, Any]:
    """Return an object of a kind, with no keys but its own."""
    allowed = ", ".join(sorted(KEYS[kind]))
    if not isinstance(value, dict):
        raise fault(f"write an object with {allowed}", value, where)
    for key in value:
        if key not in KEYS[kind]:
            raise Unreadable(
                Fault(f"{key[:40]!r} is not known; allowed: {allowed}", key=where)
            )
    return value


def _once(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    """Read an object in which no key stands twice: one of them would be lost."""
    found: dict[str, Any] = {}
    for key, value in pairs:
        if key in found:
            raise fault("write each key once in its object", key, key[:40])
        found[key] = value
    return found


def _no_json(text: str, error: json.JSONDecodeError) -> Unreadable:
    """Say where the text stops to be JSON, and what is mostly missing there."""
    lines = text.rstrip().split("\n")
    line = min(error.lineno, len(lines))  # of a file cut off, the last that is written
    there = lines[line - 1].strip()
    if not text.strip():
        what = 'the file is empty; {} says that all went as planned, {"rest": "not'
        return Unreadable(Fault(f'{what} begun"}} that nothing has begun', line=1))
    return Unreadable(
        Fault(
            f"this is not JSON, where it says {there[:60]!r}. A comma stands between "
            "two parts and not behind the last, words and hours in double quotes, and "
            "each bracket is closed",
            line=line,
        )
    )
