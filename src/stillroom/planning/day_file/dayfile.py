r"""
The day file: what the keeper gives, as TOML, read whole or refused with every fault.

::

    file -> bytes (at most 1 MB) -> text (UTF-8) -> TOML -> tables -> Day
                                                      \-> line of each key -> faults

`read_day` answers with a `Day` or raises `Unreadable` with all the faults that could be
found at once; nothing is ever half read. docs/day-file.md shows the form,
``data/day.schema.json`` publishes it.
"""

from __future__ import annotations

import datetime as dt
from importlib import resources
from pathlib import Path

from stillroom import toml_text
from stillroom.planning.day import Day, Want
from stillroom.planning.day_file.batch_names import no_batches
from stillroom.planning.day_file.dayfile_fields import Table
from stillroom.planning.day_file.dayfile_goods import shelf_of, wants_of
from stillroom.planning.day_file.dayfile_kitchen import kitchen_of
from stillroom.planning.day_file.dayfile_people import people_of
from stillroom.planning.day_file.dayfile_write import write_day
from stillroom.planning.day_file.dayschema import GOALS
from stillroom.planning.goal_order import Goal
from stillroom.refusal import Fault, Unreadable
from stillroom.toml_lines import line_numbers
from stillroom.toml_text import Form, Noted, listed, values_of

__all__ = [
    "LATEST",
    "LIKE",
    "check_day",
    "day_like_text",
    "day_schema_text",
    "demo_day_text",
    "new_day_text",
    "read_day",
    "text_of",
    "write_day",
]

LATEST = dt.time(22, 0)
"""End of a day that names none."""

_FORM = Form(
    name="day file",
    new="stillroom day new FILE",
    repeated="[[shelf]]",
    quoted='power = "3 kW"',
)


def read_day(path_or_text: Path | str) -> Day:
    """
    Read a day file.

    Parameters
    ----------
    path_or_text : Path or str
        A file by its path, or the text of one: a `str` never names a file.

    Returns
    -------
    Day
        The whole day, measures in SI.

    Raises
    ------
    Unreadable
        With every fault, its line and its key. Nothing was changed.
    """
    day, faults = _read(text_of(path_or_text))
    if day is None:
        raise Unreadable(*faults)
    return day


def check_day(path_or_text: Path | str) -> tuple[Fault, ...]:
    """
    Find the faults of a day file; none for one that can be planned from.

    Parameters
    ----------
    path_or_text : Path or str
        As for `read_day`.
    """
    try:
        text = text_of(path_or_text)
    except Unreadable as unreadable:
        return unreadable.faults
    return _read(text)[1]


LIKE = ("to-fill-in", "demo", "eighty-jars")
"""Days that are shipped, by the names that the command line knows."""


def day_like_text(name: str) -> str:
    """
    Return one of the days of `LIKE`.

    Raises
    ------
    KeyError
        For any other name.
    """
    files = {
        "to-fill-in": "new_day.toml",
        "demo": "demo.toml",
        "eighty-jars": "eighty_jars.toml",
    }
    return _shipped(files[name])


def new_day_text() -> str:
    """Return a day file to fill in: small, commented, and valid as it stands."""
    return _shipped("new_day.toml")


def demo_day_text() -> str:
    """Return the day of the demo smallholding. All of it is invented."""
    return _shipped("demo.toml")


def day_schema_text() -> str:
    """Return the JSON Schema (2020-12) of the day file."""
    return _shipped("day.schema.json")


def _shipped(name: str) -> str:
    folder = resources.files("stillroom.planning") / "data"
    return (folder / name).read_text(encoding="utf-8")


def text_of(path_or_text: Path | str) -> str:
    """
    Return the text of a file, or the text itself.

    Raises
    ------
    Unreadable
        If there is no such file, it is too large, or it is no text in UTF-8.
    """
    return toml_text.text_of(path_or_text, _FORM)


def _read(text: str) -> tuple[Day | None, tuple[Fault, ...]]:
    """Return the day, or every fault."""
    values = values_of(text, _FORM)
    if isinstance(values, Fault):
        return None, (values,)
    noted = Noted(line_numbers(text))
    day = _day(Table(values, (), "", noted))
    return (None, listed(noted.faults)) if noted.faults else (day, ())


def _day(root: Table) -> Day:
    """Read all tables; faults are noted on the way."""
    day = _table(root, "day")
    starts = day.clock("starts")
    ends = day.clock("ends", LATEST)
    span = _span(day, starts, ends)
    done_by = day.clock("done_by") if day.has("done_by") else None
    late = done_by is not None and not starts < done_by <= ends
    if late and span is not None and day.sound("done_by"):
        what = f"{done_by:%H:%M} is not within the day"
        day.fault("done_by", f"{what}, {starts:%H:%M} to {ends:%H:%M}")
    wants = wants_of(root, span)
    return Day(
        name=day.text("name"),
        date=day.date("date") or dt.date.min,
        starts=starts,
        ends=ends,
        kitchen=kitchen_of(_table(root, "kitchen"), span),
        people=people_of(root, span),
        shelf=shelf_of(root),
        wants=wants,
        done_by=done_by,
        first=tuple(Goal(word) for word in day.words("first", GOALS, "goals")),
        without=_without(day, wants),
        invented=day.flag("invented"),
        as_published=day.flag("as_published"),
    )


def _without(day: Table, wants: tuple[Want, ...]) -> tuple[str, ...]:
    """Read the batches that are left out: each is one of something that is wanted."""
    names = day.names("without")
    for wrong in no_batches(names, wants) if wants else ():
        day.fault("without", wrong)
    return names


def _table(root: Table, key: str) -> Table:
    """Return a table of the file; an empty, silent one where it is missing."""
    if root.has(key):
        return Table(root.raw(key), (key,), key, root.noted)
    return Table({}, (key,), key, Noted({}))


def _span(day: Table, starts: dt.time, ends: dt.time) -> tuple[dt.time, dt.time] | None:
    """From when to when the day goes, if that is known."""
    if not day.has("starts") or not day.sound("starts", "ends"):
        return None
    if ends <= starts:
        what = f"the day ends at {ends:%H:%M} and starts at {starts:%H:%M}"
        day.fault("ends" if day.has("ends") else "starts", f"{what}; {_NO_NIGHT}")
        return None
    return starts, ends


_NO_NIGHT = "it has to end later, and before midnight"
