"""The one gate through which every number enters ``science``."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, TypeVar

if TYPE_CHECKING:
    from numpy import float64
    from numpy.typing import NDArray

    Floats = TypeVar("Floats", float, NDArray[float64])
else:
    # Arrays are met lazily: a look-up for one kitchen never pays for loading NumPy.
    Floats = TypeVar("Floats")


class OutOfRange(ValueError):
    """A number lies outside the range for which its equation is known to hold."""


def within(
    name: str, value: Floats, low: float, high: float, *, source: str, hint: str
) -> Floats:
    """
    Return ``value`` as float or float array, if all of it lies in the range.

    Parameters
    ----------
    name : str
        Name of the quantity, with its unit: ``pressure_pa``.
    value : float or ndarray
        What came.
    low, high : float
        Ends of the range; both are allowed. Same unit as ``value``.
    source : str
        Who says that the range ends there.
    hint : str
        What to do instead: one sentence.

    Raises
    ------
    OutOfRange
        If any element lies outside, or is not a number. Nothing is clipped.

    Examples
    --------
    >>> within("power_w", 1800, 0, 20_000, source="stoves", hint="Give watts.")
    1800.0
    """
    if isinstance(value, (int, float)):
        number = float(value)
        if not low <= number <= high:  # also true of NaN
            raise _outside(name, number, low, high, source, hint)
        return number
    import numpy as np

    numbers: Any = np.asarray(value, dtype=np.float64)
    wrong = ~((numbers >= low) & (numbers <= high))
    if wrong.any():
        raise _outside(name, float(numbers[wrong][0]), low, high, source, hint)
    return numbers[()]  # type: ignore[no-any-return]  # a scalar for a 0-d array


def _outside(
    name: str, number: float, low: float, high: float, source: str, hint: str
) -> OutOfRange:
    return OutOfRange(
        f"{name} = {number:g} is outside {low:g} to {high:g}, the range of {source}. "
        f"{hint}"
    )
