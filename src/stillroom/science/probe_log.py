"""
A probe's log as text: to arrays, questioned on the way.

The first row names columns with their units. One column is the time: ``time_s``,
``time_min`` or ``clock`` (h:mm or h:mm:ss, or a full date and time). One is the jar:
``jar_c``, ``jar_f`` or ``jar_k``; the bath, ``bath_c`` and so on, may come along.
"""

from __future__ import annotations

import csv
import io
from dataclasses import dataclass
from datetime import UTC, datetime

import numpy as np
from numpy import float64
from numpy.typing import NDArray

_DAY_NOUGHT = datetime(2000, 1, 1, tzinfo=UTC)
TIME_COLUMNS = ("time_s", "time_min", "clock")
_SCALES = {"c": (1.0, 273.15), "f": (5.0 / 9.0, 459.67 * 5.0 / 9.0), "k": (1.0, 0.0)}
LONGEST_GAP_S = 300.0
COLDEST_K, HOTTEST_K = 243.15, 403.15
"""A jar or bath in a kitchen: -30 to 130 °C."""
FASTEST_K_PER_S = 8.0
"""A probe that is moved from ice to boiling water does no more."""


class BadLog(ValueError):
    """A log that cannot be taken as it is: every fault, with its line."""

    def __init__(self, faults: list[str]) -> None:
        self.faults = tuple(faults)
        super().__init__("\n".join(faults))


@dataclass(frozen=True, slots=True, eq=False)
class ProbeLog:
    """Readings in order: time from the first one, jar and, if logged, bath."""

    time_s: NDArray[float64]
    jar_k: NDArray[float64]
    bath_k: NDArray[float64] | None


def read_probe_log(text: str) -> ProbeLog:
    r"""
    Read a probe's log.

    Parameters
    ----------
    text : str
        CSV with a heading row: comma, semicolon or tab; point or (with semicolon or
        tab) comma for decimals.

    Returns
    -------
    ProbeLog
        Seconds and kelvin.

    Raises
    ------
    BadLog
        With every fault found and its line: columns that are missing or without unit,
        cells that are no numbers, times that repeat or run backward, gaps over 5 min,
        jumps that no probe makes, and readings that look like °F taken for °C.

    Examples
    --------
    >>> log = read_probe_log("time_min,jar_c\n0,60\n1,62\n2,65\n")
    >>> log.time_s.tolist()
    [0.0, 60.0, 120.0]
    """
    lines = [
        (number, line)
        for number, line in enumerate(text.removeprefix("\ufeff").splitlines(), 1)
        if line.strip() and not line.lstrip().startswith("#")
    ]
    if not lines:
        raise BadLog(
            ["the log is empty: the first row names columns, time_s and jar_c"]
        )
    separator = max(";\t,", key=lines[0][1].count)
    rows = csv.reader(
        io.StringIO("\n".join(line for _, line in lines)), delimiter=separator
    )
    names = [cell.strip().casefold() for cell in next(rows)]
    columns = _columns(names)
    faults: list[str] = []
    table: dict[str, list[float]] = {name: [] for name in columns.values()}
    at: list[int] = []
    for (number, _), cells in zip(lines[1:], rows, strict=True):
        read = _row(number, cells, columns, names, separator, faults)
        if read is not None:
            at.append(number)
            for name, value in read.items():
                table[name].append(value)
    if faults:
        raise BadLog(faults)
    if len(at) < 3:
        raise BadLog([f"{len(at)} readings came: a log needs 3 at least"])
    time = _seconds(columns["time"], table[columns["time"]])
    jar = _kelvin(columns["jar"], table[columns["jar"]])
    bath = (
        _kelvin(columns["bath"], table[columns["bath"]]) if "bath" in columns else None
    )
    faults += _time_faults(time, at)
    probes = [(columns["jar"], jar)]
    if bath is not None:
        probes.append((columns["bath"], bath))
    for name, kelvin in probes:
        faults += _probe_faults(name, kelvin, time, at, faults)
    if faults:
        raise BadLog(faults)
    return ProbeLog(time - time[0], jar, bath)


def _columns(names: list[str]) -> dict[str, str]:
    """Which column holds the time, the jar and the bath."""
    faults = []
    columns: dict[str, str] = {}
    for name in names:
        if name in TIME_COLUMNS:
            key = "time"
        elif name[:-1] in ("jar_", "bath_") and name[-1] in _SCALES:
            key = name[:-2]
        elif name in ("time", "jar", "bath", "temperature", "temp"):
            faults.append(
                f"column {name!r} has no unit: write time_s, time_min or clock; "
                "jar_c, jar_f or jar_k; bath_c, bath_f or bath_k"
            )
            continue
        else:
            continue  # a logger's own columns do no harm
        if key in columns:
            faults.append(
                f"{columns[key]} and {name} both claim to be the {key}: keep one"
            )
        columns[key] = name
    for key, example in (("time", "time_s or clock"), ("jar", "jar_c or jar_f")):
        if key not in columns and not faults:
            faults.append(
                f"no column for the {key}: the first row must name one, {example}; "
                f"it names {', '.join(names) or 'nothing'}"
            )
    if faults:
        raise BadLog(faults)
    return columns


def _row(
    number: int,
    cells: list[str],
    columns: dict[str, str],
    names: list[str],
    separator: str,
    faults: list[str],
) -> dict[str, float] | None:
    read: dict[str, float] = {}
    for name in columns.values():
        place = names.index(name)
        cell = cells[place].strip() if place < len(cells) else ""
        if separator != ",":
            cell = cell.replace(",", ".")
        value = _clock(cell) if name == "clock" else _number(cell)
        if value is None:
            wants = "a time such as 14:05:30" if name == "clock" else "a number"
            faults.append(
                f"line {number}, {name}: {cell or 'nothing'!r} is not {wants}; mend it "
                "or take the line out"
            )
        else:
            read[name] = value
    return read if len(read) == len(columns) else None


def _number(cell: str) -> float | None:
    try:
        value = float(cell)
    except ValueError:
        return None
    return value if abs(value) < 1e12 else None  # also not a number


def _clock(cell: str) -> float | None:
    """Seconds of the day, or of the calendar where the date came along."""
    if "-" in cell or "/" in cell:
        try:
            moment = datetime.fromisoformat(cell)
        except ValueError:
            return None
        # Seconds between two wall-clock times; a log does not span a change of clocks.
        return (moment.replace(tzinfo=UTC) - _DAY_NOUGHT).total_seconds()
    parts = cell.split(":")
    if len(parts) not in (2, 3):
        return None
    numbers = [_number(part) for part in parts]
    if any(n is None or n < 0 for n in numbers):
        return None
    hours, minutes, seconds = ([n or 0.0 for n in numbers] + [0.0])[:3]
    if minutes >= 60 or seconds >= 60 or hours >= 48:
        return None
    return 3600.0 * hours + 60.0 * minutes + seconds


def _seconds(name: str, values: list[float]) -> NDArray[float64]:
    time = np.array(values, dtype=float)
    if name == "time_min":
        return time * 60.0
    if name == "clock" and time.max() < 2 * 86400.0:
        # Past midnight the clock starts again at nought: once, and from late evening.
        back = np.flatnonzero(np.diff(time) < -12 * 3600.0)
        if back.size == 1:
            time[back[0] + 1 :] += 86400.0
    return time


def _kelvin(name: str, values: list[float]) -> NDArray[float64]:
    scale, zero = _SCALES[name[-1]]
    return np.array(values, dtype=float) * scale + zero


def _time_faults(time: NDArray[float64], at: list[int]) -> list[str]:
    faults = []
    for i, step in enumerate(np.diff(time), 1):
        if step == 0.0:
            faults.append(
                f"line {at[i]}: the same time as line {at[i - 1]}; keep one of the two"
            )
        elif step < 0.0:
            faults.append(
                f"line {at[i]}: {-step:.0f} s before line {at[i - 1]}; times run "
                "forward: sort the log or mend the clock"
            )
        elif step > LONGEST_GAP_S:
            faults.append(
                f"line {at[i]}: {step / 60:.0f} min without a reading before it; gaps "
                f"over {LONGEST_GAP_S / 60:.0f} min are not filled in: give the part "
                "before or after"
            )
    return faults


def _probe_faults(
    name: str,
    kelvin: NDArray[float64],
    time: NDArray[float64],
    at: list[int],
    so_far: list[str],
) -> list[str]:
    wrong = np.flatnonzero((kelvin < COLDEST_K) | (kelvin > HOTTEST_K))
    if wrong.size:
        first = int(wrong[0])
        scale, zero = _SCALES[name[-1]]
        shown = (kelvin[first] - zero) / scale
        guess = ""
        if name.endswith("_c") and shown > 130.0:
            guess = f"; was it read in °F? Then name the column {name[:-1]}f"
        elif name.endswith("_k") and shown < 230.0:
            guess = f"; is it in °C? Then name the column {name[:-1]}c"
        return [
            f"line {at[first]}, {name}: {shown:g} is not a temperature of a jar or a "
            f"bath, -30 to 130 °C{guess}"
        ]
    if name == "bath_f" and kelvin.max() < 320.0:
        return [
            f"{name}: the bath never passes {kelvin.max() * 1.8 - 459.67:.0f} °F, "
            "which is lukewarm; is it in °C? Then name the column bath_c"
        ]
    if so_far:
        return []  # with faulty times a rate means nothing
    rates = np.abs(np.diff(kelvin) / np.diff(time))
    if rates.max() > FASTEST_K_PER_S:
        first = int(np.argmax(rates))
        return [
            f"line {at[first + 1]}, {name}: "
            f"{kelvin[first + 1] - kelvin[first]:+.0f} K in "
            f"{time[first + 1] - time[first]:.0f} s is faster than any probe; a loose "
            "plug? Take the line out"
        ]
    return []
