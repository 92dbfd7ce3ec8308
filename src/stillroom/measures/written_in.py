"""In which measures a person writes: metric, or the US customary ones of print."""

from __future__ import annotations

import re
from fractions import Fraction

from stillroom.measures.words import UNITS, Dimension

_TENS = frozenset(Fraction(10) ** power for power in range(-6, 4))
"""A litre, a gram and a metre by tens; no US measure is one of them."""
_MEASURED = (Dimension.VOLUME, Dimension.MASS, Dimension.LENGTH)
_WORD = re.compile(r"[A-Za-z]+")


def writes_metric(*typed: str) -> bool:
    """
    Whether one of the measures is a metric volume, weight or height.

    One is enough: who is answered in litres has the cups of print beside them.
    Watts and hectopascals tell nothing, they are written everywhere.

    Parameters
    ----------
    typed : str
        Measures that `read_quantity` reads.

    Examples
    --------
    >>> writes_metric("12 qt", "2150 ft"), writes_metric("12 qt", "655 m")
    (False, True)
    >>> writes_metric("6 bags of 5 cups"), writes_metric("3 kW"), writes_metric("11L")
    (False, False, True)
    """
    words = [word for text in typed for word in _WORD.findall(text)]
    units = [UNITS.get(word) or UNITS.get(word.lower()) for word in words]
    return any(unit and unit[0] in _MEASURED and unit[1] in _TENS for unit in units)
