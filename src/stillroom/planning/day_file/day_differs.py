"""In what two day files differ, each place as its keeper calls it."""

from __future__ import annotations

import re
import tomllib
from dataclasses import dataclass
from typing import Any

from stillroom.planning.day_file.change_words import as_read, value_words
from stillroom.planning.day_file.day_changes import place_in_words
from stillroom.planning.day_file.day_values import (
    PLAIN_TABLES,
    TABLES_WITH_ROWS,
    Values,
)
from stillroom.planning.day_file.day_values import toml_value as written

NOTHING = "–"


@dataclass(frozen=True, slots=True)
class Differs:
    """One place with what stood there then and what stands there now."""

    place: str
    then: str
    now: str


def differences(then: str, now: str) -> tuple[Differs, ...] | None:
    r"""
    Return the places in which two day files differ; remarks and layout count as none.

    `None` where one of them is no TOML.

    >>> differences('[day]\nends = "20:00"', '[day]\nends = "21:00"')
    (Differs(place='when the day ends', then='20:00', now='21:00'),)
    """
    try:
        before, after = tomllib.loads(then), tomllib.loads(now)
    except tomllib.TOMLDecodeError:
        return None
    found = []
    for table in reversed(PLAIN_TABLES):
        for key in _keys(before.get(table), after.get(table)):
            if any(full == f"{table}.{key}" for full in TABLES_WITH_ROWS):
                continue
            pair = _value(before.get(table), key), _value(after.get(table), key)
            if _bare(pair[0]) != _bare(pair[1]):
                found.append(Differs(place_in_words(f"{table}.{key}", after), *pair))
    for table, name in TABLES_WITH_ROWS.items():
        found += _rows(table, name, before, after)
    return tuple(found)


def _rows(table: str, name: str, before: Values, after: Values) -> list[Differs]:
    old, new = _named(before, table, name), _named(after, table, name)
    found = []
    for key in [*old, *(k for k in new if k not in old)]:
        was, is_ = old.get(key), new.get(key)
        if was == is_:
            continue
        called = f"{_of(table)}{key[0]}"
        if was is None or is_ is None:
            there = "there", NOTHING
            found.append(Differs(called, *(there if is_ is None else there[::-1])))
            continue
        for field in _keys(was, is_):
            pair = _value(was, field), _value(is_, field)
            if _bare(pair[0]) != _bare(pair[1]):
                found.append(Differs(_place(table, field, is_), *pair))
    return found


def _place(table: str, field: str, row: Values) -> str:
    """A key of a row, which by itself is the first of its table."""
    values: Values = {}
    here = values
    *above, last = table.split(".")
    for part in above:
        here = here.setdefault(part, {})
    here[last] = [row]
    return place_in_words(f"{table}[1].{field}", values)


def _of(table: str) -> str:
    """What a row is called before its name, where the name alone does not tell."""
    return {"wants": "wanted: ", "shelf": "on the shelf: "}.get(table, "")


def _named(values: Values, table: str, name: str) -> dict[tuple[str, int], Values]:
    here: Any = values
    for part in table.split("."):
        here = here.get(part, {}) if isinstance(here, dict) else {}
    found: dict[tuple[str, int], Values] = {}
    for row in here if isinstance(here, list) else []:
        said = str(row.get(name, row.get("is", "?")))
        number = sum(key[0] == said for key in found)
        found[said, number] = row
    return found


def _keys(old: Any, new: Any) -> list[str]:
    both = [*(old or {}), *(k for k in (new or {}) if k not in (old or {}))]
    return [str(key) for key in both]


def _bare(value: str) -> str:
    """Without the commas in a figure: "2,150 ft" is no other height than "2150 ft"."""
    return re.sub(r"(?<=\d),(?=\d{3}(?!\d))", "", value)


def _value(table: Any, key: str) -> str:
    if not table or key not in table:
        return NOTHING
    value = table[key]
    if isinstance(value, str):
        return as_read(value)
    return value_words(written(value)) or written(value)
