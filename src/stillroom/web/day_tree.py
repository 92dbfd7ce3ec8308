"""
The day file as a tree of what was typed: from the file, from a sent form, to a file.

The tree has the shape of the file, with every value as text (`bool` for a tick, lists
of words for several ticks). A path in it is spelled as the reader of files spells it
in its faults, ``kitchen.pots[2].volume``, counted from one: each fault finds its field.
Nothing is judged here; `stillroom.planning.day_file.dayfile.read_day` alone does that.
"""

from __future__ import annotations

import datetime as dt
import re
import tomllib
from collections.abc import Iterable, Mapping
from typing import Any

from stillroom.measures.clock import clock_time
from stillroom.measures.number_words import in_digits
from stillroom.planning.day_file.dayschema import TABLES
from stillroom.refusal import Fault, Unreadable
from stillroom.web.day_fields import SECTIONS, Field, Kind, Section, nested_fields

Row = dict[str, Any]
Tree = dict[str, list[Row]]
"""Rows of each section by its path; a table that is there once has one row."""

_WHOLE = re.compile(r"[0-9]{1,9}")
_MONEY = re.compile(r"[0-9]{1,9}(\.[0-9]{1,9})?")
_ROW = re.compile(r"(?P<path>[a-z.]+)(\[(?P<number>[0-9]{1,4})\])?")
_NESTED = re.compile(r"(?P<key>breaks|away|taken)\[(?P<number>[0-9]{1,3})\]")


def tree_of_file(text: str) -> Tree:
    """
    Return what stands in a day file, as typed.

    Raises
    ------
    Unreadable
        Where it is not TOML.
    """
    try:
        values = tomllib.loads(text)
    except (ValueError, RecursionError):
        raise Unreadable(
            Fault("the day file is not TOML: mend it as a file first")
        ) from None
    return {section.path: _rows_at(values, section) for section in SECTIONS}


def _rows_at(values: Mapping[str, Any], section: Section) -> list[Row]:
    found: Any = values
    for part in section.path.split("."):
        found = found.get(part, {}) if isinstance(found, dict) else {}
    tables = found if isinstance(found, list) else [found]
    rows = [_row(t, section.fields) for t in tables if isinstance(t, dict)]
    if section.many and not isinstance(found, list):
        return []
    return rows or ([] if section.many else [_row({}, section.fields)])


def _row(table: Mapping[str, Any], fields: Iterable[Field]) -> Row:
    row: Row = {}
    for field in fields:
        value = table.get(field.key)
        match field.kind:
            case Kind.FLAG:
                row[field.key] = value is True
            case Kind.WORDS | Kind.BURNERS:
                words = value if isinstance(value, list) else []
                row[field.key] = [_typed(word) for word in words]
            case Kind.PER_JAR:
                counts = value if isinstance(value, dict) else {}
                row[field.key] = {jar: _typed(n) for jar, n in counts.items()}
            case Kind.ROWS:
                rests = value if isinstance(value, list) else []
                row[field.key] = [
                    {f.key: _typed(rest.get(f.key)) for f in nested_fields(field.kind)}
                    for rest in rests
                    if isinstance(rest, dict)
                ]
            case Kind.PAIRS:
                pairs = value if isinstance(value, list) else []
                row[field.key] = [
                    {"from": _typed(pair[0]), "to": _typed(pair[1])}
                    for pair in pairs
                    if isinstance(pair, list) and len(pair) == 2
                ]
            case Kind.MONEY:
                row[field.key] = _price(value)
            case _:
                row[field.key] = _typed(value)
    return row


def _price(value: Any) -> str:
    """Money as a price is written, "79.80"; what has finer parts keeps them."""
    if isinstance(value, float) and round(value, 2) == value:
        return f"{value:.2f}"
    return _typed(value)


def _typed(value: Any) -> str:
    """A value of the file as one would type it into a field."""
    if value is None:
        return ""
    if isinstance(value, dt.time):
        return f"{value:%H:%M}"
    return str(value)


def tree_of_form(sent: Iterable[tuple[str, str]]) -> Tree:
    """
    Return what was typed into the form.

    Parameters
    ----------
    sent : iterable of (name, value)
        Names are paths; others, and rows beyond what a file may have, are left out.
    """
    tree: Tree = {section.path: [] for section in SECTIONS}
    by_path = {section.path: section for section in SECTIONS}
    for name, value in sent:
        head, _, rest = name.partition(":")
        found = _ROW.fullmatch(head)
        if not rest or found is None or found["path"] not in by_path:
            continue
        section = by_path[found["path"]]
        number = int(found["number"] or 1)
        if not 1 <= number <= TABLES[section.path].at_most:
            continue
        rows = tree[section.path]
        while len(rows) < number:
            rows.append(_row({}, section.fields))
        _put(rows[number - 1], section, rest, value.strip())
    for section in SECTIONS:
        if not section.many and not tree[section.path]:
            tree[section.path].append(_row({}, section.fields))
    return tree


def _put(row: Row, section: Section, rest: str, value: str) -> None:
    key, *more = rest.split(":")
    nested = _NESTED.fullmatch(key)
    if nested is not None:
        rows: list[Row] | None = row.get(nested["key"])
        number = int(nested["number"])
        if rows is None or len(more) != 1 or not 1 <= number <= 20:
            return
        fields = next(f for f in section.fields if f.key == nested["key"])
        known = [f.key for f in nested_fields(fields.kind)]
        while len(rows) < number:
            rows.append(dict.fromkeys(known, ""))
        if more[0] in known:
            rows[number - 1][more[0]] = value
        return
    field = next((f for f in section.fields if f.key == key), None)
    if field is None:
        return
    match field.kind:
        case Kind.FLAG:
            row[key] = bool(value)
        case Kind.WORDS | Kind.BURNERS:
            if value:
                row[key].append(value)
        case Kind.PER_JAR:
            if more and value:
                row[key][more[0]] = value
        case Kind.ROWS | Kind.PAIRS:
            pass
        case _:
            row[key] = value


def without_blank_rows(tree: Tree) -> Tree:
    """Leave out rows into which nothing was typed, also the breaks among them."""
    kept: Tree = {}
    for section in SECTIONS:
        rows = []
        for row in tree[section.path]:
            row = {
                f.key: [r for r in row[f.key] if any(r.values())]
                if f.kind in (Kind.ROWS, Kind.PAIRS)
                else row[f.key]
                for f in section.fields
            }
            if not section.many or not _is_blank(row, section):
                rows.append(row)
        kept[section.path] = rows
    return kept


def _is_blank(row: Row, section: Section) -> bool:
    """Whether nothing was typed; a choice always has something, and does not count."""
    return not any(
        row[field.key] for field in section.fields if field.kind is not Kind.CHOICE
    )


def add_row(tree: Tree, path: str) -> None:
    """Add an empty row to a section, or a break to a person: ``people[1].breaks``."""
    for section in SECTIONS:
        rows = tree[section.path]
        if section.many and path == section.path:
            if len(rows) < TABLES[path].at_most:
                rows.append(_row({}, section.fields))
            return
        for number, row in enumerate(rows, start=1):
            for field in section.fields:
                if path == f"{section.path}[{number}].{field.key}" and field.kind in (
                    Kind.ROWS,
                    Kind.PAIRS,
                ):
                    fields = nested_fields(field.kind)
                    row[field.key].append({f.key: "" for f in fields})
                    return


def remove_row(tree: Tree, path: str) -> None:
    """Remove a row, ``kitchen.pots[2]`` or ``people[1].breaks[1]``, if it is there."""
    found = re.fullmatch(r"(.+)\[([0-9]{1,4})\]", path)
    if found is None:
        return
    at, index = found[1], int(found[2]) - 1
    for section in SECTIONS:
        rows = tree[section.path]
        if section.many and at == section.path and 0 <= index < len(rows):
            del rows[index]
            return
        for number, row in enumerate(rows, start=1):
            for field in section.fields:
                if at != f"{section.path}[{number}].{field.key}":
                    continue
                if field.kind in (Kind.ROWS, Kind.PAIRS) and 0 <= index < len(
                    row[field.key]
                ):
                    del row[field.key][index]
                    return


def file_of_tree(tree: Tree) -> str:
    """Return the day file of what was typed, faults and all."""
    tables = []
    for section in SECTIONS:
        header = f"[[{section.path}]]" if section.many else f"[{section.path}]"
        tables += [
            "\n".join([header, *_lines(row, section.fields)]) + "\n"
            for row in tree[section.path]
        ]
    return "\n".join(tables)


def _lines(row: Row, fields: Iterable[Field]) -> Iterable[str]:
    for field in fields:
        value = row[field.key]
        if not value:  # left empty: the file does not have the key
            continue
        match field.kind:
            case Kind.FLAG:
                yield f"{field.key} = true"
            case Kind.WORDS | Kind.BURNERS:
                yield f"{field.key} = [{', '.join(_text(word) for word in value)}]"
            case Kind.PER_JAR:
                pairs = [f"{_text(jar)} = {_whole(n)}" for jar, n in value.items()]
                yield f"{field.key} = {{ {', '.join(pairs)} }}"
            case Kind.ROWS:
                rows = [
                    ", ".join(_lines(one, nested_fields(field.kind))) for one in value
                ]
                yield f"{field.key} = [{', '.join(f'{{ {one} }}' for one in rows)}]"
            case Kind.PAIRS:
                pairs = [f"[{_clock(p['from'])}, {_clock(p['to'])}]" for p in value]
                yield f"{field.key} = [{', '.join(pairs)}]"
            case Kind.WHOLE:
                yield f"{field.key} = {_whole(value)}"
            case Kind.MONEY:
                money = value if _MONEY.fullmatch(value) else None
                yield f"{field.key} = {_money(money) if money else _text(value)}"
            case Kind.CLOCK:
                yield f"{field.key} = {_clock(value)}"
            case Kind.DATE:
                yield f"{field.key} = {_date(value)}"
            case _:
                yield f"{field.key} = {_text(value)}"


def _whole(value: str) -> str:
    """Bare where it is a whole number; else in quotes, and the reader says why not."""
    number = in_digits(value)
    return str(int(number)) if _WHOLE.fullmatch(number) else _text(value)


def _clock(value: str) -> str:
    """The hour of 24 of a clock time; else as typed, and the reader says why not."""
    clock = clock_time(value)
    return _text(value if clock is None else f"{clock:%H:%M}")


def _money(value: str) -> str:
    whole, _, cents = value.partition(".")
    return f"{int(whole)}.{cents}" if cents else str(int(whole))


def _date(value: str) -> str:
    if re.fullmatch(r"[0-9]{4}-[0-9]{2}-[0-9]{2}", value):
        try:
            return dt.date.fromisoformat(value).isoformat()
        except ValueError:
            pass
    return _text(value)


def _text(text: str) -> str:
    """A TOML basic string."""
    said = text.replace("\\", "\\\\").replace('"', '\\"')
    return (
        '"'
        + "".join(
            letter
            if letter.isprintable()
            else "?"
            if 0xD800 <= ord(letter) < 0xE000
            else f"\\U{ord(letter):08x}"
            for letter in said
        )
        + '"'
    )
