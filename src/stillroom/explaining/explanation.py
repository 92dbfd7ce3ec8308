"""What an explanation is made of: a sentence, figures, a picture, a table, a source."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable
from dataclasses import dataclass

from stillroom import measures
from stillroom.measures import FOOT_M, INCH_M, INCH_OF_MERCURY_PA, POUND_KG
from stillroom.refusal import Caution
from stillroom.science.estimate import Estimate

KELVIN = "K"
"""Unit of a temperature; said in °F and °C."""
APART = "K apart"
"""Unit of a difference of temperatures."""
INDEX = "index"
"""Unit of a refractive index, which has none."""
_PLACES = {
    "min": 1,
    "h": 1,
    "psi": 1,
    "kg": 2,
    "%": 1,
    "pH": 2,
    "kPa": 1,
    "": 3,
    INDEX: 4,
}


def said(value: float, unit: str) -> str:
    """
    Say a value with its unit.

    >>> said(12.34, "min"), said(373.15, "K"), said(3.05, "pH"), said(1043.9, "kg/m³")
    ('12.3 min', '212.0 °F (100.0 °C)', '3.05', '1,044 kg/m³')
    """
    if unit == KELVIN:
        return measures.both(value)
    if unit == APART:
        return measures.apart(value)
    places = _PLACES.get(unit, 2)
    if abs(value) >= 100.0:
        places = 0
    number = f"{value:,.{places}f}"
    if 0.0 < abs(value) < 0.5 * 10.0**-places:
        number = f"{value:.2g}"
    return number if unit in ("", "pH", INDEX) else f"{number} {unit}"


@dataclass(frozen=True, slots=True, kw_only=True)
class Figure:
    """One figure of an explanation, in SI or in a unit that says itself."""

    label: str
    value: float
    unit: str
    low: float | None = None
    """With `high` the spread of an estimate; `None` where it is none."""
    high: float | None = None
    note: str = ""

    @property
    def text(self) -> str:
        """Value and unit as they are read."""
        return said(self.value, self.unit)

    @property
    def spread(self) -> str:
        """Spread of an estimate as it is read, else empty."""
        if self.low is None or self.high is None:
            return ""
        return (
            f"{said(self.low, self.unit)} to {said(self.high, self.unit)}, an estimate"
        )


def estimated(
    label: str, estimate: Estimate, unit: str = "", *, scale: float = 1.0
) -> Figure:
    """Return an estimate as a figure with its spread, in its own unit or scaled."""
    return Figure(
        label=label,
        value=estimate.value * scale,
        unit=unit or ("" if estimate.unit == "1" else estimate.unit),
        low=estimate.low * scale,
        high=estimate.high * scale,
        note=estimate.basis,
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """A line of a picture; with `low` and `high` it has a band, its spread."""

    name: str
    x: tuple[float, ...]
    y: tuple[float, ...]
    low: tuple[float, ...] = ()
    high: tuple[float, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Mark:
    """A straight line across a picture: what is published, or the keeper's own case."""

    text: str
    at: float
    upright: bool
    """Across the x axis; else across the y axis."""
    published: bool = True


@dataclass(frozen=True, slots=True)
class Also:
    """The other unit of an axis, for who measures in that."""

    unit: str
    of: Callable[[float], float]
    """A number of the axis in this unit."""

    def said(self, number: float, step: float) -> str:
        """
        Return a number of the axis in this unit, as finely as its steps need.

        >>> CELSIUS.said(212.0, 10.0), CELSIUS_APART.said(-0.5, 0.5)
        ('100 °C', '-0.3 °C')
        >>> METRES.said(10_000.0, 2_000.0)
        '3,048 m'
        """
        apart = abs(self.of(step) - self.of(0.0))
        places = max(0, -math.floor(math.log10(apart / 2.5)))
        return f"{self.of(number):,.{places}f} {self.unit}"


CELSIUS = Also("°C", lambda degrees_f: (degrees_f - 32.0) / 1.8)
CELSIUS_APART = Also("°C", lambda degrees_f: degrees_f / 1.8)
INCHES = Also("in", lambda cm: cm / (100.0 * float(INCH_M)))
KILOPASCALS = Also("kPa", lambda inhg: inhg * float(INCH_OF_MERCURY_PA) / 1000.0)
METRES = Also("m", lambda feet: feet * float(FOOT_M))
POUNDS = Also("lb", lambda kg: kg / float(POUND_KG))


@dataclass(frozen=True, slots=True, kw_only=True)
class Picture:
    """Lines and marks in units that a keeper reads off the axes."""

    title: str
    desc: str
    x_label: str
    y_label: str
    lines: tuple[Line, ...]
    marks: tuple[Mark, ...] = ()
    x_also: Also | None = None
    y_also: Also | None = None
    """`None` where one unit serves everybody."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Table:
    """The figures of a picture, or more of them, to be read."""

    caption: str
    heads: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Explanation:
    """Why something is so: words first, then figures, then the picture."""

    topic: str
    title: str
    sentence: str
    more: tuple[str, ...] = ()
    figures: tuple[Figure, ...]
    picture: Picture | None = None
    table: Table
    cautions: tuple[Caution, ...] = ()
    source: str
    estimate: bool
    """Whether a figure here is an estimate of our own."""


def line(
    name: str,
    x: Iterable[float],
    y: Iterable[float],
    low: Iterable[float] = (),
    high: Iterable[float] = (),
) -> Line:
    """Return a line of any numbers, arrays too."""
    plain = [tuple(float(number) for number in part) for part in (x, y, low, high)]
    return Line(name=name, x=plain[0], y=plain[1], low=plain[2], high=plain[3])


def fahrenheit(temperatures_k: Iterable[float]) -> tuple[float, ...]:
    """Return temperatures in °F, as pictures have them."""
    return tuple(measures.fahrenheit(float(kelvin)) for kelvin in temperatures_k)
