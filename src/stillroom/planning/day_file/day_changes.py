"""
Changes to a day file, said on one line: ``people.Tilda.goes=19:00``.

A path names a table, a row of it by its name where the table has rows, and a key. A row
that is not there is added; ``kitchen.canners.second=like long canner`` copies one, and
``people.Pip=nothing`` takes one out. What the changed file must hold is checked by the
reader of day files, as for any other.
"""

from __future__ import annotations

import copy
import re
import tomllib
from collections.abc import Iterator, Sequence
from typing import Any

from stillroom.planning.day_file.batch_names import products_named, still_there
from stillroom.planning.day_file.day_text_kept import text_with
from stillroom.planning.day_file.day_values import (
    PLAIN_TABLES,
    TABLES_WITH_ROWS,
    Values,
    row_name,
)
from stillroom.planning.day_file.day_values import day_text_of as day_text_of
from stillroom.planning.day_file.dayfile import read_day, text_of
from stillroom.planning.day_file.dayfile_fields import nearest
from stillroom.planning.day_file.dayschema import JARS
from stillroom.refusal import Fault, Unreadable

NOTHING = "nothing"
LIKE = "like "
LONGEST_CHANGE = 2_000


def changed_day_text(text: str, changes: str) -> str:
    """
    Return the text of a day file with changes; the rest of it stays as it is written.

    Parameters
    ----------
    text : str
        A day file.
    changes : str
        One change, or several with semicolons between them.

    Raises
    ------
    Unreadable
        If the day file or a change cannot be read, or the changed day has a fault.
    """
    text = text_of(text)
    values = _values(text)
    if len(changes) > LONGEST_CHANGE:
        raise Unreadable(
            Fault(f"{len(changes)} letters are too many; at most {LONGEST_CHANGE}")
        )
    for change in apart(changes):
        _change(values, change)
    changed = text_with(text, values)
    try:
        read_day(changed)
    except Unreadable as fault:
        # lines of the changed file are no lines of the keeper's
        places = [(place_in_words(f.key, values), f.what) for f in fault.faults]
        missing = _not_there(_values(text), values, [f.key for f in fault.faults])
        places = [*missing, *places]
        raise Unreadable(
            *(
                Fault(f"with {changes}: {place}: {what}" if place else what)
                for place, what in places
            )
        ) from None
    return changed


_WORDS = {
    "comes": "when {} comes",
    "goes": "when {} goes",
    "breaks": "the rests of {}",
    "away": "when {} is away",
    "can": "what {} can do",
    "quarters": "how much attention {} can give",
    "jars": "how many jars of {} are wanted",
    "by": "when {} is wanted by",
    "matters": "how much {} matters",
    "holds": "how many jars the {} holds",
    "stands_on": "what the {} stands on",
    "volume": "how large the {} is",
    "power": "how strong the burner {} is",
    "quantity": "how much of {} there is",
    "name": "your own name for {}",
    "is": "what {} is",
    "frozen": "whether {} is frozen",
    "ready": "when {} has dripped or thawed",
    "use_by": "when {} is to be used by",
    "paid": "what was paid for {}",
    "jar": "the jar for {}",
    "for": "what {} is for",
    "weight": "how much a late minute of {} counts",
    "multiple": "how many times the tested batch of {} is made at once",
    "kind": "what kind of canner the {} is",
    "layers": "how many layers the {} takes",
    "material": "what the {} is made of",
    "largest_pot": "the largest pot that the burner {} bears",
    "taken": "when the burner {} is taken",
}
_PLAIN_WORDS = {
    "day.name": "what the day is called",
    "day.date": "the date of the day",
    "day.starts": "when the day starts",
    "day.ends": "when the day ends",
    "day.done_by": "when the day is to be done",
    "day.first": "what comes before all else",
    "day.without": "batches that are not made",
    "day.invented": "an invented day, to try things on",
    "day.as_published": "planned with the book's figures alone",
    "kitchen.name": "what the kitchen is called",
    "kitchen.elevation": "how high above the sea the kitchen is",
    "kitchen.barometer": "what the barometer shows",
    "kitchen.barometer_is": "of what air the barometer tells",
    "kitchen.thermometer_boils": "what the thermometer shows in boiling water",
    "kitchen.thermometer_ice": "what the thermometer shows in ice",
    "kitchen.stove": "the kind of stove",
    "kitchen.counter": "how many jars the counter has room for",
    "kitchen.cooling": "how long a jar keeps its place",
    "kitchen.mills": "how many food mills there are",
    "kitchen.sieves": "how many sieves there are",
}


def place_in_words(key: str, values: Values) -> str:
    """
    Say a place in a day file as its keeper calls it.

    >>> place_in_words("people[1].goes", {"people": [{"name": "Pip"}]})
    'when Pip goes'
    >>> place_in_words("day.ends", {})
    'when the day ends'
    """
    if key in _PLAIN_WORDS:
        return _PLAIN_WORDS[key]
    row = re.match(r"([a-z_.]+)\[(\d+)\](?:\.([^.\[]+))?", key)
    if row is None or row[1] not in TABLES_WITH_ROWS:
        return key
    here: Any = values
    for part in row[1].split("."):
        here = here.get(part, {}) if isinstance(here, dict) else {}
    number = int(row[2]) - 1
    if not isinstance(here, list) or number >= len(here):
        return key
    name = row_name(here[number], TABLES_WITH_ROWS[row[1]]) or key
    if row[3] is None:
        return name
    if row[3] not in _WORDS:  # as it was typed, whatever signs it holds
        return f"{row[3].replace('_', ' ')} of {name}"
    return _WORDS[row[3]].format(name)


def _not_there(
    before: Values, values: Values, keys: Sequence[str]
) -> Iterator[tuple[str, str]]:
    """Say of rows with faults that the day did not have which ones it has."""
    said = set()
    for key in keys:
        found = re.match(r"([a-z_.]+)\[\d+\]", key)
        if found is None or (table := found[1]) not in TABLES_WITH_ROWS:
            continue
        name, there = place_in_words(found[0], values), _rows(before, table)
        names = [row_name(row, TABLES_WITH_ROWS[table]) for row in there]
        if name in names or name in said:
            continue
        said.add(name)
        yield (
            "",
            f'no row of {table} is called "{name}"; '
            f"{_there(there, TABLES_WITH_ROWS[table])}. A new one is written whole, or "
            f"like one of them: {table}.{name}=like {names[0] if names else 'NAME'}",
        )


def _values(text: str) -> Values:
    whole = text_of(text)
    read_day(whole)  # every fault of the file itself is said as usual
    return tomllib.loads(whole)


def apart(changes: str) -> list[str]:
    """Changes between semicolons; one in quotes or brackets parts nothing."""
    found, depth, quoted, start = [], 0, False, 0
    for at, letter in enumerate(changes):
        if letter == '"':
            quoted = not quoted
        elif not quoted and letter in "[{":
            depth += 1
        elif not quoted and letter in "]}":
            depth -= 1
        elif letter == ";" and not quoted and depth <= 0:
            found.append(changes[start:at])
            start = at + 1
    found.append(changes[start:])
    return [c.strip() for c in found if c.strip()] or [""]


def _change(values: Values, change: str) -> None:
    path, equals, given = change.partition("=")
    parts = path_parts(path)
    if not equals or not parts:
        raise Unreadable(
            Fault(
                f'"{change[:80]}" is no change; write PATH=VALUE: '
                '"people.Tilda.goes=19:00", "kitchen.counter=120"'
            )
        )
    given = given.strip()
    for table, key in TABLES_WITH_ROWS.items():
        names = tuple(table.split("."))
        if tuple(parts[: len(names)]) == names:
            _change_row(values, table, key, parts[len(names) :], given, change)
            return
    if len(parts) == 2 and parts[0] in PLAIN_TABLES:
        _set(values.setdefault(parts[0], {}), parts[1], given)
        return
    known = (*TABLES_WITH_ROWS, *(f"{t}.KEY" for t in PLAIN_TABLES))
    raise Unreadable(
        Fault(
            f'"{path.strip()[:80]}" is no place in a day file'
            f"{nearest(path.strip(), known)} Allowed: {', '.join(known)}"
        )
    )


def path_parts(text: str) -> list[str]:
    """
    Part a path at its dots; a name with dots in it stands in quotes.

    >>> path_parts('people."J. R.".goes')
    ['people', 'J. R.', 'goes']
    """
    parts = re.findall(r'"([^"]*)"|([^."]+)', whole_path(text))
    return [(quoted or plain).strip() for quoted, plain in parts if quoted or plain]


def whole_path(text: str) -> str:
    """
    Write a path out: what stands in the kitchen is understood without that word.

    >>> whole_path("canners.second"), whole_path("people.Ann.goes")
    ('kitchen.canners.second', 'people.Ann.goes')
    """
    path = text.strip()
    first = path.partition(".")[0].strip()
    return f"kitchen.{path}" if f"kitchen.{first}" in TABLES_WITH_ROWS else path


def in_path(name: str) -> str:
    """
    A name as it stands in a path.

    >>> in_path("Ann"), in_path("J. R.")
    ('Ann', '"J. R."')
    """
    return f'"{name}"' if "." in name else name


PARTS = {"holds": "{ half-pint = 9, pint = 9 }", "layers": "{ half-pint = 2 }"}
"""What has parts of its own, and how it is written whole."""


def _change_row(
    values: Values, table: str, key: str, rest: list[str], given: str, change: str
) -> None:
    rows = _rows(values, table)
    if len(rest) > 2:
        whole = f"{table}.{in_path(rest[0])}.{rest[1]}"
        raise Unreadable(
            Fault(
                f'"{change[:80]}" names a part of {rest[1]}: write it whole, '
                f"{whole}={PARTS.get(rest[1], 'VALUE')}"
            )
        )
    if not rest:
        raise Unreadable(
            Fault(
                f'"{change[:80]}" names no row: write {table}.NAME.KEY=VALUE; '
                f"{_there(rows, key)}"
            )
        )
    name = rest[0]
    row = _called(rows, key, name)
    if len(rest) == 2:
        if row is None:
            row = {key: name}
            rows.append(row)
        _set(row, rest[1], given)
        if not row_name(row, key):
            whole = f"{table}.{in_path(name)}={NOTHING}"
            raise Unreadable(
                Fault(
                    f'"{change[:80]}" leaves nothing to call it by; give another '
                    f"{key}, or take it out: {whole}"
                )
            )
    elif given == NOTHING:
        if row is None:
            raise Unreadable(
                Fault(f'no row of {table} is called "{name}"; {_there(rows, key)}')
            )
        rows.remove(row)
        if table == "wants":
            _no_longer_left_out(values, row)
    else:
        new = _new_row(rows, key, given, change)
        new[key] = name if row is None else row_name(row, key)
        if row is None:
            rows.append(new)
        else:
            rows[rows.index(row)] = new


def _no_longer_left_out(values: Values, want: Values) -> None:
    """Take the batches of a want that is gone out of those that are left out."""
    day = values.get("day", {})
    if not isinstance(day.get("without"), str):
        return
    names = [name.strip() for name in day["without"].split(";")]
    left = [p for row in values["wants"] for p in _products(row)]
    if there := still_there(names, _products(want), left):
        day["without"] = "; ".join(there)
    else:
        del day["without"]


def _products(want: Values) -> tuple[str, ...]:
    return products_named(str(want.get("product", "")), str(want.get("jar", JARS[0])))


def _new_row(rows: list[Values], key: str, given: str, change: str) -> Values:
    """A row written out, or the copy of one."""
    if given.startswith(LIKE):
        model = given[len(LIKE) :].strip().strip('"')
        if (row := _called(rows, key, model)) is not None:
            return copy.deepcopy(row)
        raise Unreadable(
            Fault(f'there is no "{model}" to be like; {_there(rows, key)}')
        )
    value = _value(given)
    if not isinstance(value, dict):
        raise Unreadable(
            Fault(
                f'"{change[:80]}" gives no row: write {{ KEY = VALUE, ... }}, '
                f"like NAME, or the word {NOTHING} to take it out"
            )
        )
    return value


def _rows(values: Values, table: str) -> list[Values]:
    here: Values = values
    *above, last = table.split(".")
    for name in above:
        here = here.setdefault(name, {})
    rows: list[Values] = here.setdefault(last, [])
    return rows


def _called(rows: list[Values], key: str, name: str) -> Values | None:
    """Find a row by what it is called; capital letters make no difference."""
    said = name.casefold()
    return next((r for r in rows if row_name(r, key).casefold() == said), None)


def _there(rows: list[Values], key: str) -> str:
    """Say which rows there are."""
    names = ", ".join(row_name(row, key) or "?" for row in rows)
    return f"there {'are' if len(rows) > 1 else 'is'} {names or 'none'}"


def _set(row: Values, key: str, given: str) -> None:
    if given == NOTHING:
        row.pop(key, None)
    else:
        row[key] = _value(given)


def _value(given: str) -> Any:
    """Read a value as TOML; what is none, 19:00 or 10 qt, is a text."""
    try:
        return tomllib.loads(f"value = {given}\n")["value"]
    except (tomllib.TOMLDecodeError, RecursionError, ValueError):
        return given
