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
import re
import tomllib
from importlib import resources
from pathlib import Path

from stillroom.planning.day import Day
from stillroom.planning.dayfile_fields import Noted, Table
from stillroom.planning.dayfile_goods import shelf_of, wants_of
from stillroom.planning.dayfile_kitchen import kitchen_of
from stillroom.planning.dayfile_lines import line_numbers
from stillroom.planning.dayfile_people import people_of
from stillroom.planning.dayfile_write import write_day
from stillroom.planning.dayschema import LARGEST_FILE, MOST_FAULTS
from stillroom.refusal import Fault, Unreadable

__all__ = [
    "LATEST",
    "check_day",
    "day_schema_text",
    "demo_day_text",
    "new_day_text",
    "read_day",
    "text_of",
    "write_day",
]

LATEST = dt.time(22, 0)
"""End of a day that names none."""

# tomllib needs minutes for a key of a hundred thousand parts; a day's keys have two.
_LONG_KEY = re.compile(
    r"""(?<![\w-])(?:(?:[\w-]++|"[^"\n]*+"|'[^'\n]*+')[ \t]*+\.[ \t]*+){20}"""
)
_AT_LINE = re.compile(r"\s*\(at (?:line (\d+), column \d+|end of document)\)$")


def read_day(path_or_text: Path | str) -> Day:
    """
    Read a day file.

    Parameters
    ----------
    path_or_text : Path or str
        A file, or the text of one. A `str` on a single line is taken for a path: no day
        fits on one line.

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
    if isinstance(path_or_text, str):
        if "\n" in path_or_text or not path_or_text.strip():
            size = len(path_or_text.encode("utf-8", "surrogatepass"))
            if size > LARGEST_FILE:
                raise _too_large("this text", size)
            return path_or_text.removeprefix("\ufeff")
        path_or_text = Path(path_or_text)
    return _decoded(_bytes_of(path_or_text), path_or_text)


def _bytes_of(path: Path) -> bytes:
    new = "stillroom day new FILE writes one to fill in"
    try:
        with path.open("rb") as file:
            # One byte more tells a file that is too large without reading it whole.
            content = file.read(LARGEST_FILE + 1)
            if len(content) > LARGEST_FILE:
                raise _too_large(str(path), path.stat().st_size)
            return content
    except FileNotFoundError:
        raise Unreadable(f"there is no file {_short(path)}; {new}") from None
    except IsADirectoryError:
        raise Unreadable(f"{_short(path)} is a folder, not a day file; {new}") from None
    except PermissionError:
        what = f"{_short(path)} may not be read; look at its permissions"
        raise Unreadable(what) from None
    except (OSError, ValueError) as error:  # ValueError: a zero byte in the name
        reason = getattr(error, "strerror", None) or error
        raise Unreadable(f"{_short(path)} cannot be opened: {reason}") from None


def _short(path: Path) -> str:
    name = str(path)
    return ascii(name if len(name) <= 200 else f"{name[:197]}...")


def _too_large(name: str, size: int) -> Unreadable:
    most = f"a day file has at most {LARGEST_FILE / 1e6:.0f} MB, mostly a few kB"
    about = f"{size / 1e6:.1f} MB" if size > LARGEST_FILE else "more than 1 MB"
    return Unreadable(f"{name} has {about}; {most}. Is it the right file?")


def _decoded(content: bytes, path: Path) -> str:
    if b"\0" in content:
        what = f"{_short(path)} is no text; a day file is written in TOML"
        raise Unreadable(f"{what}, saved as UTF-8")
    try:
        return content.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = content.count(b"\n", 0, error.start) + 1
        byte = content[error.start]
        what = f"the byte 0x{byte:02x} is not UTF-8; save {_short(path)} as UTF-8"
        raise Unreadable(Fault(what, line=line)) from None


def _read(text: str) -> tuple[Day | None, tuple[Fault, ...]]:
    """Return the day, or every fault."""
    if found := _LONG_KEY.search(text):
        line = text.count("\n", 0, found.start()) + 1
        return None, (Fault("no key of a day file has so many dots", line=line),)
    try:
        values = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        return None, (_syntax_fault(text, str(error)),)
    except RecursionError:
        return None, (Fault("lists are nested too deeply for a day file"),)
    except ValueError:  # a whole number with thousands of digits
        return None, (Fault("a number in it has far too many digits"),)
    if not values:
        what = "the file is empty; stillroom day new FILE writes one to fill in"
        return None, (Fault(what, line=1),)
    noted = Noted(line_numbers(text))
    day = _day(Table(values, (), "", noted))
    faults = sorted(noted.faults, key=lambda fault: fault.line or 0)
    if len(faults) > MOST_FAULTS:
        more = Fault(f"and {len(faults) - MOST_FAULTS} faults more")
        faults = [*faults[:MOST_FAULTS], more]
    return (None, tuple(faults)) if faults else (day, ())


def _syntax_fault(text: str, message: str) -> Fault:
    """Say in which line TOML itself is broken, and the usual cause."""
    found = _AT_LINE.search(message)
    reason = message[: found.start()] if found else message
    lines = text.splitlines() or [""]
    line = int(found[1]) if found and found[1] else len(lines)
    there = lines[min(line, len(lines)) - 1].strip()
    if re.search("twice|overwrite|mutate|immutable", reason):
        hint = "Each key stands once in its table; [[shelf]] begins one more lot"
    else:
        hint = 'Words, clock times and measures stand in quotes: power = "3 kW"'
    what = f"this is not TOML: {reason[:120]}, where it says {there[:60]!r}. {hint}"
    return Fault(what, line=line)


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
    return Day(
        name=day.text("name"),
        date=day.date("date") or dt.date.min,
        starts=starts,
        ends=ends,
        kitchen=kitchen_of(_table(root, "kitchen")),
        people=people_of(root, span),
        shelf=shelf_of(root),
        wants=wants_of(root, span),
        done_by=done_by,
        invented=day.flag("invented"),
    )


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
