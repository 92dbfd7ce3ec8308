"""The hydrometer: how deep it floats in a syrup, in degrees Baumé."""

from __future__ import annotations

from stillroom.science import syrup
from stillroom.science.ranges import Floats


def baume(soluble_solids: Floats) -> Floats:
    """
    Reading of a Baumé hydrometer in a syrup at 20 °C.

    Parameters
    ----------
    soluble_solids : float or ndarray
        Mass fraction, 0 to 0.84. [1]

    Returns
    -------
    float or ndarray
        Degrees Baumé, modulus 145. [°Bé]

    Raises
    ------
    OutOfRange
        If any element lies outside the range above.

    Examples
    --------
    >>> print(f"{baume(0.65):.1f} °Bé")
    35.0 °Bé

    References
    ----------
    .. [1] 145 (1 - 1/s), s the density over that of water, both at 20 °C; within 0.1 of
       Mohos, Confectionery and Chocolate Engineering, Table A2.1.
    """
    density = syrup.density_at_20_c_kg_m3(soluble_solids)
    return 145.0 * (1.0 - syrup.density_at_20_c_kg_m3(0.0) / density)
