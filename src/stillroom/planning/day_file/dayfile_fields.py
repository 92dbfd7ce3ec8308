"""
One table of a day file, read key by key; every fault is noted and reading goes on.

A getter answers with the value, or notes a fault and answers with a stand-in. The whole
file is refused when it has a fault, so that no stand-in ever leaves: it only lets the
rest of the file be looked at. `Table.sound` tells whether keys can be compared.
"""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from difflib import get_close_matches

from stillroom.measures import (
    FOOT_M,
    read_duration_min,
    read_height_m,
    read_power_w,
    read_pressure_pa,
    read_temperature_k,
    read_volume_m3,
)
from stillroom.planning.day_file.dayschema import LONGEST_LIST, LONGEST_NAME, TABLES
from stillroom.refusal import Unreadable
from stillroom.toml_lines import Path
from stillroom.toml_text import Noted, shown

_CLOCK = re.compile(r"([0-9]{1,2}):([0-9]{2})")
_CLOCK_FORM = 'write the hour of 24 and the minute: "07:30", "18:00"'
_STAND_IN_CLOCK = dt.time(0)
_STAND_IN_DATE = dt.date(2000, 1, 1)
FIRST_YEAR, LAST_YEAR = 1900, 2999
"""Years of a day: the calendar has to go on before and behind it."""


@dataclass(frozen=True, slots=True)
class Scale:
    """How a measure is read, and the unit in which its limits are said."""

    read: Callable[[str], float]
    unit: str
    per: float
    """SI units in one ``unit``."""
    example: str
    zero: float = 0.0
    """Where the unit counts from, in SI."""


FAHRENHEIT = Scale(read_temperature_k, "°F", 1 / 1.8, "208.5 F", 459.67 / 1.8)
FEET = Scale(read_height_m, "ft", float(FOOT_M), "2150 ft")
HECTOPASCAL = Scale(read_pressure_pa, "hPa", 100.0, "27.6 inHg")
WATT = Scale(read_power_w, "W", 1.0, "3 kW")
LITRE = Scale(read_volume_m3, "litres", 0.001, "12 qt")
HOUR = Scale(read_duration_min, "hours", 60.0, "24 h")


def nearest(word: str, known: Sequence[str]) -> str:
    """End a sentence with the known word that was meant, where one is near."""
    close = get_close_matches(word[:LONGEST_NAME], known, n=1, cutoff=0.6)
    return f'; did you mean "{close[0]}"?' if close else "."


def _missing(key: str, kind: str) -> str:
    """Say what to write where a key is missing."""
    table = f"{kind}.{key}".removeprefix(".")
    if table not in TABLES:
        return "this key is missing"
    form = f"[[{table}]]" if TABLES[table].at_most > 1 else f"[{table}]"
    return f"this is missing; write a table {form}"


class Table:
    """One table of the file, under its path."""

    def __init__(self, values: object, path: Path, kind: str, noted: Noted) -> None:
        self.path = path
        self.noted = noted
        self._faulty: set[str] = set()
        self._values: dict[str, object] = {}
        if not isinstance(values, dict):
            noted.note(path, f"{shown(values)} stands here; this is a table of keys")
            self._faulty = set(TABLES[kind].known)
            return
        self._values = values
        keys = TABLES[kind]
        for key in values:
            if key not in keys.known:
                allowed = ", ".join(keys.known)
                what = f"this key is not known{nearest(key, keys.known)}"
                noted.note((*path, key[:LONGEST_NAME]), f"{what} Allowed: {allowed}")
        for key in keys.required:
            if key not in values:
                self._faulty.add(key)
                noted.note((*path, key), _missing(key, kind))

    def fault(self, key: str, what: str) -> None:
        """Note a fault of one key."""
        self._faulty.add(key)
        self.noted.note((*self.path, key), what)

    def sound(self, *keys: str) -> bool:
        """Tell whether none of the keys has a fault so far."""
        return self._faulty.isdisjoint(keys)

    def has(self, key: str) -> bool:
        """Tell whether the key is written, and free of faults."""
        return key in self._values and key not in self._faulty

    def raw(self, key: str) -> object:
        """Return the value as `tomllib` read it."""
        return self._values[key]

    def names(self, key: str) -> tuple[str, ...]:
        """Return names with semicolons between them, each once."""
        said = self.text(key, at_most=LONGEST_LIST).split(";")
        return tuple(dict.fromkeys(name.strip() for name in said if name.strip()))

    def text(self, key: str, default: str = "", *, at_most: int = LONGEST_NAME) -> str:
        """Return a short text on one line, blanks at its ends taken off."""
        if not self.has(key):
            return default
        value = self.raw(key)
        if not isinstance(value, str):
            self.fault(key, f'{shown(value)} is no text; write it in quotes: "..."')
            return default
        said = " ".join(value.split()) if value.isprintable() else ""
        if not said:
            self.fault(
                key, f"{shown(value)} is no name: it is empty or cannot be printed"
            )
        elif len(said) > at_most:
            self.fault(key, f"{shown(value)} is longer than {at_most} letters")
        return said

    def choice(self, key: str, allowed: Sequence[str], default: str) -> str:
        """Return one of the allowed words."""
        said = self.text(key, default)
        if self.sound(key) and said not in allowed:
            what = f"{shown(said)} is not known{nearest(said, allowed)}"
            self.fault(key, f"{what} Allowed: {', '.join(allowed)}")
        return said if said in allowed else default

    def whole(self, key: str, limits: tuple[int, int], default: int) -> int:
        """Return a whole number within limits."""
        if not self.has(key):
            return default
        return self.whole_value(key, self.raw(key), limits, default)

    def whole_value(
        self, key: str, value: object, limits: tuple[int, int], default: int
    ) -> int:
        """Return ``value`` as a whole number within limits."""
        low, high = limits
        if type(value) is not int or not low <= value <= high:
            what = f"{shown(value)} is not a whole number from {low} to {high}"
            self.fault(key, f"{what}, written without quotes")
            return default
        return value

    def money(self, key: str) -> float | None:
        """Return a sum of money, zero or more."""
        if not self.has(key):
            return None
        value = self.raw(key)
        if type(value) not in (int, float) or not 0 <= value < 1e9:  # type: ignore[operator]
            self.fault(key, f"{shown(value)} is no sum of money; write paid = 12.60")
            return None
        assert isinstance(value, (int, float))
        return float(value)

    def flag(self, key: str) -> bool:
        """Return true or false; false where it is not written."""
        if not self.has(key):
            return False
        value = self.raw(key)
        if not isinstance(value, bool):
            self.fault(
                key, f"{shown(value)} is neither true nor false (without quotes)"
            )
            return False
        return value

    def clock(self, key: str, default: dt.time = _STAND_IN_CLOCK) -> dt.time:
        """Return a clock time, whole minutes."""
        return (
            self.clock_value(key, self.raw(key), default) if self.has(key) else default
        )

    def clock_value(
        self, key: str, value: object, default: dt.time = _STAND_IN_CLOCK
    ) -> dt.time:
        """Return ``value`` as a clock time."""
        if type(value) is dt.time and not (value.second or value.microsecond):
            return value
        found = _CLOCK.fullmatch(value.strip()) if isinstance(value, str) else None
        if found and int(found[1]) < 24 and int(found[2]) < 60:
            return dt.time(int(found[1]), int(found[2]))
        self.fault(key, f"{shown(value)} is no clock time; {_CLOCK_FORM}")
        return default

    def date(self, key: str) -> dt.date | None:
        """Return a date; `None` where it is not written."""
        if not self.has(key):
            return None
        value = self.raw(key)
        given = value if type(value) is dt.date else _date_of(value)
        if given is None:
            what = f"{shown(value)} is no date; write year-month-day: 2026-08-22"
        elif not FIRST_YEAR <= given.year <= LAST_YEAR:
            what = (
                f"{given.isoformat()} is not within the years {FIRST_YEAR} to "
                f"{LAST_YEAR}; write year-month-day: 2026-08-22"
            )
        else:
            return given
        self.fault(key, what)
        return _STAND_IN_DATE

    def measure(
        self, key: str, scale: Scale, limits: tuple[float, float]
    ) -> float | None:
        """
        Return a measure in SI, or `None` where it is not written or has a fault.

        ``limits`` are in the unit of the scale; both ends are allowed.
        """
        if not self.has(key):
            return None
        value = self.raw(key)
        if not isinstance(value, str):
            what = f"{shown(value)} has no unit; write the measure with it, in quotes"
            self.fault(key, f'{what}: {key} = "{scale.example}"')
            return None
        try:
            size = scale.read(value)
        except Unreadable as unreadable:
            self.fault(key, str(unreadable))
            return None
        low, high = limits
        count = (size - scale.zero) / scale.per
        # The ends are allowed as typed: half a millionth covers the rounding of floats.
        if not low - 5e-7 * abs(low) <= count <= high + 5e-7 * abs(high):
            allowed = f"{low:,g} to {high:,g} {scale.unit}"
            if scale is FEET:  # who measures in metres is told in metres too
                metres = [round(end * scale.per) for end in limits]
                allowed += f" ({metres[0]:,} to {metres[1]:,} m)"
            self.fault(key, f"{shown(value)} is not within {allowed}")
            return None
        return size

    def words(self, key: str, allowed: Sequence[str], what: str) -> tuple[str, ...]:
        """Return a list of different words, each one of the allowed."""
        if not self.has(key):
            return ()
        value = self.raw(key)
        if not isinstance(value, list) or not value:
            alone = [word for word in allowed if word == value]
            form = ", ".join(f'"{word}"' for word in alone or allowed[:2])
            names = "is no list of" if alone else "names no"
            self.fault(key, f"{shown(value)} {names} {what}; write [{form}]")
            return ()
        said: list[str] = []
        for word in value[:LONGEST_NAME]:
            if not isinstance(word, str) or " ".join(word.split()) not in allowed:
                near = nearest(word, allowed) if isinstance(word, str) else "."
                known = ", ".join(allowed) or "none"
                self.fault(key, f"{shown(word)} is not known{near} Allowed: {known}")
            elif " ".join(word.split()) in said:
                self.fault(key, f"{shown(word)} is named twice")
            else:
                said.append(" ".join(word.split()))
        return tuple(said)

    def tables(self, key: str, kind: str, what: str) -> list[Table]:
        """Return the tables under a key, at least one."""
        if not self.has(key):
            return []
        value = self.raw(key)
        at_most = TABLES[kind].at_most
        if not isinstance(value, list):
            self.fault(
                key, f"{shown(value)} stands here; write [[{kind}]] for each {what}"
            )
            return []
        if not value:
            self.fault(key, f"it is empty; write at least one {what}")
        if len(value) > at_most:
            self.fault(key, f"{len(value)} of them are too many; at most {at_most}")
        return [
            Table(values, (*self.path, key, index), kind, self.noted)
            for index, values in enumerate(value[:at_most])
        ]


def all_different(
    tables: Sequence[Table], names: Sequence[str], what: str, key: str = "name"
) -> None:
    """Note a fault where two things have one name."""
    first: dict[str, int] = {}
    for index, (table, name) in enumerate(zip(tables, names, strict=True), start=1):
        other = first.setdefault(name.casefold(), index)
        if name and other != index:
            said = f"two {what} are called {shown(name)}, this one and number {other}"
            table.fault(key, f"{said}; give each a name of its own")


def _date_of(value: object) -> dt.date | None:
    """Read a date that stands in quotes."""
    if isinstance(value, str) and re.fullmatch(r"\d{4}-\d\d-\d\d", value, re.ASCII):
        try:
            return dt.date.fromisoformat(value)
        except ValueError:
            return None
    return None
