"""The values of a day file: which tables there are, and how they are written."""

from __future__ import annotations

import datetime as dt
import re
from typing import Any

from stillroom.toml_text import quoted

TABLES_WITH_ROWS = {
    "kitchen.burners": "name",
    "kitchen.pots": "name",
    "kitchen.canners": "name",
    "people": "name",
    "shelf": "name",
    "wants": "product",
}
"""Table to the key that its rows are called by."""
PLAIN_TABLES = ("kitchen", "day")

Values = dict[str, Any]


def row_name(row: Values, key: str) -> str:
    """
    Return what a row is called; a lot without a name of its own by what it is.

    >>> row_name({"is": "pears", "quantity": "2 lb"}, "name")
    'pears'
    """
    return str(row.get(key) or row.get("is") or "")


def day_text_of(values: Values) -> str:
    """
    Write values as a day file.

    >>> print(day_text_of({"day": {"name": "x"}, "people": [{"name": "Ada"}]}), end="")
    people = [{name = "Ada"}]
    [day]
    name = "x"
    """
    lines = []
    tables = {k: v for k, v in values.items() if isinstance(v, dict)}
    for key, value in values.items():
        if key not in tables:
            lines.append(f"{toml_key(key)} = {toml_value(value)}")
    for key, table in tables.items():
        lines.append(f"[{toml_key(key)}]")
        lines += [f"{toml_key(k)} = {toml_value(v)}" for k, v in table.items()]
    return "\n".join(lines) + "\n"


def toml_key(key: str) -> str:
    """A key as it stands before its equals sign."""
    return key if re.fullmatch(r"[A-Za-z0-9_-]+", key) else quoted(key)


def toml_value(value: Any) -> str:
    """A value on one line."""
    match value:
        case bool():
            return "true" if value else "false"
        case str():
            return quoted(value)
        case dict():
            inside = ", ".join(
                f"{toml_key(k)} = {toml_value(v)}" for k, v in value.items()
            )
            return f"{{{inside}}}"
        case list():
            return f"[{', '.join(toml_value(v) for v in value)}]"
        case dt.datetime() | dt.date() | dt.time():
            return value.isoformat()
        case _:
            return repr(value)
