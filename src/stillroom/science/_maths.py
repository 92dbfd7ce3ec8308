"""Exponential and logarithm that load the array library only when an array comes."""

from __future__ import annotations

import math
from typing import Any

from stillroom.science.ranges import Floats


def exp(number: Floats) -> Floats:
    """Return e to the power of ``number``, shape kept."""
    return _either("exp", number)  # type: ignore[no-any-return]


def log(number: Floats) -> Floats:
    """Return the natural logarithm of ``number``, shape kept."""
    return _either("log", number)  # type: ignore[no-any-return]


def _either(function: str, number: Any) -> Any:
    if isinstance(number, (int, float)):
        return getattr(math, function)(number)
    import numpy as np

    return getattr(np, function)(number)
