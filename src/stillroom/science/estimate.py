"""
Figures of our own, with their spread: types that nothing published is made from.

An `Estimate` explains what happened or what is likely. It is not a number: it has no
arithmetic, and no look-up of the book takes one. A published time stays as published.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from numpy import float64
    from numpy.typing import NDArray


@dataclass(frozen=True, slots=True, kw_only=True)
class Estimate:
    """
    A figure of our own, and how far it can be off.

    Parameters
    ----------
    value, low, high : float
        Best figure and the ends of its spread, ``low <= value <= high``. [``unit``]
    unit : str
        Unit of all three, ``"1"`` for a pure number.
    basis : str
        What it was worked out from, in words.
    source : str
        Who published the equation, and what of it is from memory.

    Raises
    ------
    ValueError
        If a figure is not a number, or the value lies outside its own spread.

    Examples
    --------
    >>> print(Estimate(value=65.0, unit="min", low=60.0, high=71.0,
    ...     basis="heat conduction in a pint", source="Carslaw and Jaeger"))
    65 min (60 to 71; an estimate: heat conduction in a pint)
    """

    value: float
    unit: str
    low: float
    high: float
    basis: str
    source: str

    def __post_init__(self) -> None:
        if not self.low <= self.value <= self.high:  # also true of NaN
            raise ValueError(
                f"an estimate of {self.value:g} {self.unit} does not lie between "
                f"{self.low:g} and {self.high:g}: give low <= value <= high"
            )

    def __str__(self) -> str:
        unit = "" if self.unit == "1" else f" {self.unit}"
        spread = f"{_short(self.low)} to {_short(self.high)}"
        return f"{_short(self.value)}{unit} ({spread}; an estimate: {self.basis})"


@dataclass(frozen=True, slots=True, kw_only=True)
class EstimatedCurve:
    """A curve of our own with its spread: points along ``x``, to be drawn."""

    x: NDArray[float64]
    value: NDArray[float64]
    low: NDArray[float64]
    high: NDArray[float64]
    x_unit: str
    unit: str
    basis: str
    source: str


def _short(number: float) -> str:
    if number == 0 or not math.isfinite(number):
        return f"{number:g}"
    decimals = max(0, 1 - math.floor(math.log10(abs(number))))
    return f"{number:.{decimals}f}"
