"""
A picture as geometry: what the server draws into an inline SVG.

The page draws it with classes alone. Lines differ by their dashes as well as by their
weight, marks carry their words, and the same figures stand in a table below.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

from stillroom.explaining.explanation import Also, Line, Picture

Scale = Callable[[float], float]

WIDE, HIGH = 520.0, 356.0
LEFT, RIGHT, TOP, FOOT = 58.0, 54.0, 14.0, 62.0
"""With room for the numbers of both units on either axis."""
LABEL_PX = 15.0
"""Room that one line of a mark's words takes. [px of the drawing]"""
LETTER_PX = 6.4


@dataclass(frozen=True, slots=True)
class Tick:
    """A number on an axis."""

    at: float
    text: str
    also: str = ""
    """The same in the other unit of the axis; empty where there is one unit."""


@dataclass(frozen=True, slots=True)
class DrawnLine:
    """A line as points, its spread as a closed outline, and its name."""

    name: str
    points: str
    band: str


@dataclass(frozen=True, slots=True)
class DrawnMark:
    """A rule across the field, with its words and where they stand."""

    text: str
    upright: bool
    at: float
    label_x: float
    label_y: float
    anchor: str
    published: bool


@dataclass(frozen=True, slots=True)
class Chart:
    """A picture, ready to be drawn."""

    title: str
    desc: str
    x_label: str
    y_label: str
    lines: tuple[DrawnLine, ...]
    marks: tuple[DrawnMark, ...]
    x_ticks: tuple[Tick, ...]
    y_ticks: tuple[Tick, ...]
    wide: float = WIDE
    high: float = HIGH
    left: float = LEFT
    right: float = WIDE - RIGHT
    top: float = TOP
    foot: float = HIGH - FOOT


def chart(picture: Picture) -> Chart:
    """Return the geometry of a picture."""
    x_values = [x for one in picture.lines for x in one.x]
    y_values = [y for one in picture.lines for y in (*one.y, *one.low, *one.high)]
    x_values += [mark.at for mark in picture.marks if mark.upright]
    y_values += [mark.at for mark in picture.marks if not mark.upright]
    x_ticks = nice(min(x_values), max(x_values))
    y_ticks = nice(min(y_values), max(y_values))
    x_ends = (min(x_values), max(x_values))
    y_ends = (min(y_ticks[0], min(y_values)), max(y_ticks[-1], max(y_values)))

    def x_at(x: float) -> float:
        return LEFT + (x - x_ends[0]) / _span(x_ends) * (WIDE - LEFT - RIGHT)

    def y_at(y: float) -> float:
        return HIGH - FOOT - (y - y_ends[0]) / _span(y_ends) * (HIGH - FOOT - TOP)

    return Chart(
        title=picture.title,
        desc=picture.desc,
        x_label=picture.x_label,
        y_label=picture.y_label,
        lines=tuple(_drawn(one, x_at, y_at) for one in picture.lines),
        marks=_marks(picture, x_at, y_at),
        x_ticks=tuple(
            _tick(x, x_at, x_ticks, picture.x_also)
            for x in x_ticks
            if x_ends[0] <= x <= x_ends[1]
        ),
        y_ticks=tuple(_tick(y, y_at, y_ticks, picture.y_also) for y in y_ticks),
    )


def nice(low: float, high: float, most: int = 6) -> tuple[float, ...]:
    """
    Round numbers from below ``low`` to above ``high``.

    >>> nice(0.0, 10000.0)
    (0.0, 2000.0, 4000.0, 6000.0, 8000.0, 10000.0)
    >>> nice(193.7, 220.0)
    (190.0, 195.0, 200.0, 205.0, 210.0, 215.0, 220.0)
    """
    if not high > low:
        low, high = low - 1.0, high + 1.0
    rough = (high - low) / most
    power = 10.0 ** math.floor(math.log10(rough))
    step = next(m * power for m in (1.0, 2.0, 5.0, 10.0) if m * power >= rough * 0.999)
    first, last = math.floor(low / step + 1e-9), math.ceil(high / step - 1e-9)
    return tuple(round(k * step, 12) for k in range(first, last + 1))


def _span(ends: tuple[float, float]) -> float:
    return ends[1] - ends[0] or 1.0


def _tick(value: float, at: Scale, ticks: tuple[float, ...], also: Also | None) -> Tick:
    other = "" if also is None else also.said(value, ticks[1] - ticks[0])
    return Tick(at(value), _text(value, ticks), other)


def _text(value: float, ticks: tuple[float, ...]) -> str:
    step = ticks[1] - ticks[0]
    places = max(0, -math.floor(math.log10(step) + 1e-9))
    return f"{value:,.{places}f}"


def _points(
    xs: tuple[float, ...], ys: tuple[float, ...], x_at: Scale, y_at: Scale
) -> str:
    return " ".join(f"{x_at(x):.1f},{y_at(y):.1f}" for x, y in zip(xs, ys, strict=True))


def _drawn(one: Line, x_at: Scale, y_at: Scale) -> DrawnLine:
    band = ""
    if one.low and one.high:
        there = _points(one.x, one.high, x_at, y_at)
        back = _points(one.x[::-1], one.low[::-1], x_at, y_at)
        band = f"{there} {back}"
    return DrawnLine(one.name, _points(one.x, one.y, x_at, y_at), band)


def _marks(picture: Picture, x_at: Scale, y_at: Scale) -> tuple[DrawnMark, ...]:
    """Place the words so that no two lie on each other: each upright one lower."""
    drawn = []
    uprights = 0
    levels: list[float] = []
    for mark in picture.marks:
        long = LETTER_PX * len(mark.text)
        if mark.upright:
            at = x_at(mark.at)
            fits = at + 6.0 + long <= WIDE - RIGHT
            drawn.append(
                DrawnMark(
                    mark.text,
                    True,
                    at,
                    at + 5.0 if fits else at - 5.0,
                    HIGH - FOOT - 10.0 - LABEL_PX * uprights,
                    "start" if fits else "end",
                    mark.published,
                )
            )
            uprights += 1
        else:
            at = y_at(mark.at)
            label = at - 5.0 if at - TOP > LABEL_PX else at + LABEL_PX - 2.0
            while any(abs(label - other) < LABEL_PX - 1.0 for other in levels):
                label += LABEL_PX
            levels.append(label)
            right = _room(picture, x_at, y_at, label, (WIDE - RIGHT - long, WIDE))
            left = _room(picture, x_at, y_at, label, (0.0, LEFT + long))
            drawn.append(
                DrawnMark(
                    mark.text,
                    False,
                    at,
                    WIDE - RIGHT - 4.0 if right >= left else LEFT + 4.0,
                    label,
                    "end" if right >= left else "start",
                    mark.published,
                )
            )
    return tuple(drawn)


def _room(
    picture: Picture,
    x_at: Scale,
    y_at: Scale,
    level: float,
    between: tuple[float, float],
) -> float:
    """How far the nearest point of any line is from words at a level. [px]"""
    return min(
        (
            abs(y_at(y) - level)
            for one in picture.lines
            for x, y in zip(one.x, one.y, strict=True)
            if between[0] <= x_at(x) <= between[1]
        ),
        default=HIGH,
    )
