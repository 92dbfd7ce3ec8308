"""A change of any place of the day file, as its keeper says it after "if"."""

from __future__ import annotations

import datetime as dt
import re
import tomllib
from typing import Any

from stillroom.in_a_list import all_of
from stillroom.jar_count import counted
from stillroom.planning.day_file.day_changes import LIKE, NOTHING, path_parts
from stillroom.planning.day_file.day_values import PLAIN_TABLES, TABLES_WITH_ROWS

_CLOCK = re.compile(r"0\d:\d\d")
_DAY = re.compile(r"\d{4}-\d\d-\d\d", re.ASCII)
_A_BURNER = re.compile(r"\d|burner|fire|plate|ring|stove")
_PLAIN = {
    "day.starts": "the day starts at {}",
    "day.ends": "the day ends at {}",
    "day.done_by": "the day is to be done by {}",
    "day.first": "what counts first is {}",
    "kitchen.counter": "the counter has room for {} jars",
    "kitchen.elevation": "the kitchen is at {}",
    "kitchen.barometer": "the barometer shows {}",
    "kitchen.stove": "the stove is {}",
    "kitchen.thermometer_boils": "the thermometer shows {} at a full boil",
    "kitchen.thermometer_ice": "the thermometer shows {} in ice",
    "kitchen.cooling": "jars cool for {}",
    "kitchen.mills": "the kitchen has {} food mills",
    "kitchen.sieves": "the kitchen has {} sieves",
}
_YES_OR_NO = {
    "day.as_published": ("the book's figures alone count", "past days count, too"),
    "day.invented": ("the day is made up", "the day is a true one"),
    "frozen": ("{what} is frozen", "{what} is not frozen"),
}
_PLAIN_GONE = {
    "day.ends": "the day has no end of its own",
    "day.done_by": "no hour is named by which to be done",
    "day.first": "no goal is put first",
    "day.without": "no batch is left out by its name",
    "kitchen.barometer": "no barometer is read",
    "kitchen.mills": "the kitchen has no food mill",
    "kitchen.sieves": "the kitchen has no sieve",
}
_FIELDS = {
    "name": "{what} is called {value}",
    "comes": "{what} comes at {value}",
    "goes": "{what} goes at {value}",
    "can": "what {what} can do is {value}",
    "quarters": "{what} has {value} of 4 quarters of attention",
    "jars": "{value} jars of {what} are wanted",
    "by": "{what} is wanted by {value}",
    "matters": "{what} matters {value} of 5",
    "quantity": "the shelf has {value} of {what}",
    "use_by": "{what} is to be used by {value}",
    "stands_on": "{what} stands on {value}",
    "volume": "{what} holds {value}",
    "power": "{what} has {value}",
    "kind": "{what} is {value}",
}
_TRUTHS = ("true", "false")
_OTHERWISE = {
    "breaks": "the rests of {what} are otherwise",
    "away": "the hours at which {what} is away are otherwise",
    "taken": "the hours at which {what} is taken are otherwise",
    "holds": "{what} holds other jars",
    "layers": "the layers in {what} are otherwise",
}
_GONE = {
    "breaks": "{what} has no rest",
    "away": "{what} is never away",
    "taken": "{what} is ours all day",
    "by": "{what} is wanted by no hour",
    "use_by": "{what} has no day to be used by",
}


def said_plainly(path: str, value: str) -> str:
    """
    Say a change as one says it after "if", whatever place it is of.

    >>> said_plainly("kitchen.canners.speckled canner", "nothing")
    'the speckled canner is not used'
    >>> said_plainly("day.done_by", "12:00")
    'the day is to be done by 12:00'
    >>> said_plainly("kitchen.mills", "0"), said_plainly("kitchen.counter", "0")
    ('the kitchen has no food mill', 'the counter has room for no jar')
    >>> said_plainly("people.Ada.can", '["cold", "knife"]')
    'what Ada can do is cold and knife'
    """
    parts = path_parts(path)
    if len(parts) == 2 and parts[0] in PLAIN_TABLES:
        return _plain(parts[0], parts[1], value)
    for table in TABLES_WITH_ROWS:
        names = table.split(".")
        if parts[: len(names)] == names and len(parts) > len(names):
            name, *field = parts[len(names) :]
            what = _called(table, name)
            return _field(what, field[0], value) if field else _row(table, what, value)
    return f"{path} is {value}"


def _plain(table: str, key: str, value: str) -> str:
    path, words = f"{table}.{key}", key.replace("_", " ")
    if value == NOTHING:
        return _PLAIN_GONE.get(path, f"nothing is said of the {words} of the {table}")
    if value in _TRUTHS and path in _YES_OR_NO:
        return _YES_OR_NO[path][value == "false"]
    said = value_words(value)
    if said is None:
        return f"the {words} of the {table} is otherwise"
    clause = _PLAIN.get(path, f"the {as_is(words)} of the {table} is {{}}")
    return of_so_many(clause, said)


def _row(table: str, what: str, value: str) -> str:
    if value == NOTHING:
        return {
            "people": f"{what} is not there",
            "shelf": f"the shelf has no {what}",
            "wants": f"no {what} is wanted",
        }.get(table, f"{what} is not used")
    if value.startswith(LIKE):
        return f"{what} is {value}"
    return f"what is said of {what} is otherwise"


def _field(what: str, key: str, value: str) -> str:
    words = as_is(key.replace("_", " "))
    if value == NOTHING:
        gone = _GONE.get(key, f"nothing is said of the {words} of {{what}}")
        return gone.format(what=what)
    if value in _TRUTHS and key in _YES_OR_NO:
        return _YES_OR_NO[key][value == "false"].format(what=what)
    read = _read(value)
    if read == [] and key in _GONE:
        return _GONE[key].format(what=what)
    if parts := _in_parts(key, read):
        return f"{what} {parts}"
    said = value_words(value)
    if said is None:
        other = _OTHERWISE.get(key, f"the {words} of {{what}} is otherwise")
        return other.format(what=what)
    clause = _FIELDS.get(key, f"the {words} of {{what}} is {{value}}")
    if key == "quantity" and said.isdecimal():  # of what is counted: 12 lids
        clause = "the shelf has {value} {what}"
    clause = clause.format(what=what, value=said)
    return of_one(clause) if said == "1" else clause


def _in_parts(key: str, read: Any) -> str:
    """
    What has parts of its own, said part by part; empty where it cannot be.

    >>> _in_parts("holds", {"half-pint": 9, "quart": 1})
    'holds 9 half-pints and 1 quart'
    >>> _in_parts("away", [["10:30", "11:00"]])
    'is away from 10:30 to 11:00'
    """
    match key, read:
        case "holds", dict() if read and all(type(n) is int for n in read.values()):
            return f"holds {all_of([counted(n, jar) for jar, n in read.items()])}"
        case "layers", dict() if read and all(type(n) is int for n in read.values()):
            said = [f"{counted(n, 'layer')} of {jar}s" for jar, n in read.items()]
            return f"takes {all_of(said)}"
        case "away" | "taken", list() if read and all(_is_span(one) for one in read):
            said = [f"from {plain_value(a)} to {plain_value(b)}" for a, b in read]
            return f"is {key} {all_of(said)}"
    return ""


def _is_span(one: Any) -> bool:
    return (
        isinstance(one, list)
        and len(one) == 2
        and all(isinstance(at, str) and at for at in one)
    )


def as_is(name: str) -> str:
    """
    Return a name as it stands in a clause that is filled in, whatever signs it holds.

    >>> f"{as_is('{x}')} goes at {{}}".format("9:00")
    '{x} goes at 9:00'
    """
    return name.replace("{", "{{").replace("}", "}}")


def of_so_many(clause: str, said: str) -> str:
    """
    Put a figure into a clause that is one of many.

    >>> [of_so_many("it has {} food mills", said) for said in "012"]
    ['it has no food mill', 'it has 1 food mill', 'it has 2 food mills']
    """
    told = clause.format(said)
    if said == "0":
        return of_none(told)
    return of_one(told) if said == "1" else told


def of_one(clause: str) -> str:
    """
    Say of one what is said of many.

    >>> of_one("1 jars of plum jelly are wanted"), of_one("there is room for 1 jars")
    ('1 jar of plum jelly is wanted', 'there is room for 1 jar')
    """
    for many in ("jar", "food mill", "sieve"):
        clause = clause.replace(f"1 {many}s", f"1 {many}")
    return clause.replace(" are wanted", " is wanted")


def of_none(clause: str) -> str:
    """
    Say that there is none of what is said of many.

    >>> of_none("the counter has room for 0 jars"), of_none("it has 0 food mills")
    ('the counter has room for no jar', 'it has no food mill')
    """
    for many in ("jar", "food mill", "sieve"):
        clause = clause.replace(f" 0 {many}s", f" no {many}")
    return clause


def _called(table: str, name: str) -> str:
    """
    A row as one calls it: a canner by its name, a burner by where it is.

    >>> _called("kitchen.burners", "left"), _called("kitchen.pots", "enamel pot")
    ('the left burner', 'the enamel pot')
    """
    if table == "kitchen.burners" and not _A_BURNER.search(name.casefold()):
        return f"the {name} burner"
    return f"the {name}" if table.startswith("kitchen.") else name


def value_words(value: str) -> str | None:
    """
    A value as it is read aloud; `None` for what has parts of its own.

    >>> value_words("09:30"), value_words('["left", "right"]'), value_words("true")
    ('9:30', 'left and right', 'yes')
    """
    read = _read(value)
    if isinstance(read, bool):
        return "yes" if read else "no"
    if isinstance(read, list) and read and all(isinstance(one, str) for one in read):
        return all_of(read)
    if isinstance(read, list | dict):
        return None
    return plain_value(value)


def _read(value: str) -> Any:
    """A value as `day_changes` reads it: what is no TOML is a text."""
    try:
        return tomllib.loads(f"x = {value}")["x"]
    except (ValueError, RecursionError):
        return value


def plain_value(value: str) -> str:
    """
    A value without its quotes; clock times and days as every sheet writes them.

    >>> plain_value('"09:30"'), plain_value("3 kW"), plain_value("2026-09-01")
    ('9:30', '3 kW', '1 September 2026')
    """
    return as_read(value.strip('"'))


def as_read(text: str) -> str:
    """
    A text of the file as one reads it: "9:30" for 09:30, a day in words.

    >>> as_read("09:30"), as_read("2026-08-22"), as_read('the "big" pot')
    ('9:30', '22 August 2026', 'the "big" pot')
    """
    if _CLOCK.fullmatch(text):
        return text.removeprefix("0")
    if _DAY.fullmatch(text):
        try:
            return f"{dt.date.fromisoformat(text):%-d %B %Y}"
        except ValueError:  # no day of any month
            return text
    return text
