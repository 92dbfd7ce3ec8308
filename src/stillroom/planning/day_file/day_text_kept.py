"""
The text of a day file with other values, and everything else as its keeper wrote it.

Comments, order and spelling stay where they are; only the lines of what changes are
written anew. What comes out is read again and held against the values that it must
have; a file laid out in a way that this does not know is written whole instead.
"""

from __future__ import annotations

import re
import tomllib
from dataclasses import dataclass, field
from typing import Any

from stillroom.planning.day_file.day_values import (
    PLAIN_TABLES,
    TABLES_WITH_ROWS,
    Values,
    day_text_of,
    toml_key,
    toml_value,
)

_HEADER = re.compile(r"\s*(\[\[?)\s*([A-Za-z0-9_.-]+)\s*\]\]?\s*(#.*)?$")
_KEY = re.compile(r"(\s*)([A-Za-z0-9_-]+)(\s*=\s*)")


def text_with(text: str, after: Values) -> str:
    r"""
    Return the text of a day file with the values ``after``.

    >>> print(text_with("[day]  # ours\nends = 20  # noon", {"day": {"ends": 21}}))
    [day]  # ours
    ends = 21  # noon
    <BLANKLINE>
    """
    before = tomllib.loads(text)
    try:
        written = _written_into(text, before, after)
        if tomllib.loads(written) == after:
            return written
    except (_Unknown, tomllib.TOMLDecodeError):
        pass
    return day_text_of(after)


_Name = tuple[str, int]
"""The name of a row, and the how many-th of that name it is."""


class _Unknown(Exception):
    """A layout that only a whole writing does justice to."""


@dataclass(slots=True)
class _Section:
    """A table or one row of it: its head, and the lines of each of its keys."""

    table: str
    head: str
    lines: list[tuple[str, str]] = field(default_factory=list)
    """(key, text with its line end); the key is empty for comments and blank lines."""

    def set(self, key: str, value: Any) -> None:
        for n, (name, line) in enumerate(self.lines):
            if name == key:
                self.lines[n] = (key, _line(key, value, line))
                return
        keys = [n for n, (name, _) in enumerate(self.lines) if name]
        at = keys[-1] + 1 if keys else 0
        self.lines.insert(at, (key, _line(key, value, "")))

    def drop(self, key: str) -> None:
        self.lines = [pair for pair in self.lines if pair[0] != key]

    def rest(self) -> list[tuple[str, str]]:
        """What stands below its last key, which is about what follows."""
        keys = [n for n, (name, _) in enumerate(self.lines) if name]
        below = self.lines[keys[-1] + 1 :] if keys else list(self.lines)
        while below and not below[0][1].strip():
            below = below[1:]
        return below


def _written_into(text: str, before: Values, after: Values) -> str:
    sections = _sections(text if text.endswith("\n") else text + "\n")
    for name in PLAIN_TABLES:
        mine = [s for s in sections if s.table == name]
        was, now = _plain(before.get(name, {})), _plain(after.get(name, {}))
        if was == now:
            continue
        if len(mine) != 1:
            raise _Unknown
        _set_all(mine[0], was, now)
    for table, key in TABLES_WITH_ROWS.items():
        _rows_into(sections, table, key, _rows(before, table), _rows(after, table))
    return "".join(s.head + "".join(line for _, line in s.lines) for s in sections)


def _rows_into(
    sections: list[_Section],
    table: str,
    key: str,
    before: list[Values],
    after: list[Values],
) -> None:
    if before == after:
        return
    mine = [s for s in sections if s.table == table]
    if len(mine) != len(before):
        raise _Unknown
    names = _named(after, key)
    known_as = _called_now(_named(before, key), names)
    there = dict(zip(known_as, zip(before, mine, strict=True), strict=True))
    last = mine[-1] if mine else sections[-1]
    asked = dict(zip(names, after, strict=True))
    for name, row in asked.items():
        if name in there:
            was, section = there[name]
            _set_all(section, was, row)
            continue
        new = _Section(table, f"\n[[{table}]]\n")
        called = {key: row[key]} if key in row else {}  # it stands first
        _set_all(new, {}, {**called, **row})
        place = sections.index(last)
        # what stands below the last row, such as a heading, stays below the new one
        below = last.rest()
        if below:
            last.lines = last.lines[: len(last.lines) - len(below)]
            new.lines += [("", "\n"), *below]
            while last.lines and not last.lines[-1][1].strip():
                last.lines.pop()
        sections.insert(place + 1, new)
        last = new
    for name, (_, section) in there.items():
        if name not in asked:
            place = sections.index(section)
            if place:
                sections[place - 1].lines += section.rest()
            sections.remove(section)


def _named(rows: list[Values], key: str) -> list[_Name]:
    names = [str(row.get(key, "")) for row in rows]
    return [(name, names[:n].count(name)) for n, name in enumerate(names)]


def _called_now(before: list[_Name], after: list[_Name]) -> list[_Name]:
    """Rows as they are called now: one in the same place has another name only."""
    if len(before) != len(after):
        return before
    return [
        now if was not in after and now not in before else was
        for was, now in zip(before, after, strict=True)
    ]


def _set_all(section: _Section, before: Values, after: Values) -> None:
    for key in before:
        if key not in after:
            section.drop(key)
    for key, value in after.items():
        if key not in before or before[key] != value:
            section.set(key, value)


def _plain(table: Values) -> Values:
    """A table without the rows that have sections of their own."""
    return {
        key: value
        for key, value in table.items()
        if not any(full.endswith(f".{key}") for full in TABLES_WITH_ROWS)
    }


def _rows(values: Values, table: str) -> list[Values]:
    here: Any = values
    for name in table.split("."):
        here = here.get(name, {}) if isinstance(here, dict) else {}
    return list(here) if isinstance(here, list) else []


def _sections(text: str) -> list[_Section]:
    """The file as its tables and rows; the first one is what stands before them."""
    sections = [_Section("", "")]
    lines = text.splitlines(keepends=True)
    at = 0
    while at < len(lines):
        line = lines[at]
        if head := _HEADER.match(line.rstrip("\r\n")):
            sections.append(_Section(head[2], line))
            at += 1
            continue
        found = _KEY.match(line)
        if found is None:
            sections[-1].lines.append(("", line))
            at += 1
            continue
        end = _value_ends(lines, at)
        sections[-1].lines.append((found[2], "".join(lines[at:end])))
        at = end
    return sections


def _value_ends(lines: list[str], at: int) -> int:
    """The line after a value, which may span several."""
    for end in range(at + 1, len(lines) + 1):
        try:
            tomllib.loads("".join(lines[at:end]))
        except tomllib.TOMLDecodeError:
            continue
        return end
    raise _Unknown


def _line(key: str, value: Any, old: str) -> str:
    """A key and its value; the remark at the end of an old line stays."""
    given = f"{toml_key(key)} = {toml_value(value)}"
    remark = ""
    found = _KEY.match(old)
    if found is not None:
        given = f"{found[0]}{toml_value(value)}"
        remark = _remark(old.rstrip("\r\n")) if old.count("\n") <= 1 else ""
    return f"{given}{remark}\n"


def _remark(line: str) -> str:
    """What stands behind the value of a line, with the room before it."""
    for hash_at in (n for n, letter in enumerate(line) if letter == "#"):
        try:
            tomllib.loads(line[:hash_at])
        except tomllib.TOMLDecodeError:
            continue
        value = line[:hash_at].rstrip()
        return line[len(value) :]
    return ""
