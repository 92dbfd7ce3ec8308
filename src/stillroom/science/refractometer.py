"""
The refractometer: from the index it sees to °Brix, and what its temperature does.

A reading belongs to 20 °C. An instrument with automatic compensation needs no
correction; and a jelly must be cooled and stirred before a drop of it is read.
"""

from __future__ import annotations

from stillroom.science.ranges import Floats, OutOfRange, within

# OIV-MA-AS2-02, Table I: correction of the reading in % by temperature and reading.
# Only what was seen of the table; the gaps inside are filled between their neighbours.
_AT_C = (10.0, 12.0, 15.0, 17.0, 20.0)
_READING = (10.0, 20.0, 30.0, 40.0, 50.0, 60.0, 65.0)
_CORRECTION = (
    (-0.59, -0.65, -0.69, -0.72, -0.74, -0.75, -0.75),
    (-0.49, -0.53, -0.56, -0.58, -0.60, -0.61, -0.61),
    (-0.32, -0.34, -0.355, -0.37, -0.38, -0.38, -0.38),
    (-0.20, -0.21, -0.22, -0.23, -0.23, -0.23, -0.23),
    (0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0),
)
_AT_70_C = (12.0, 15.0, 17.0, 20.0)
_AT_70 = (-0.60, -0.38, -0.23, 0.0)
_OIV = "OIV-MA-AS2-02, Table I, as far as it was seen and typed"


def refractive_index(soluble_solids: Floats) -> Floats:
    """
    Refractive index of a sucrose solution at 20 °C, sodium light.

    Parameters
    ----------
    soluble_solids : float or ndarray
        Mass fraction, 0 to 0.84. [1]

    Returns
    -------
    float or ndarray
        Index, within 5e-5 of the tables. [1]

    Raises
    ------
    OutOfRange
        If any element lies outside the range above.

    Examples
    --------
    >>> print(f"{refractive_index(0.10):.4f}")
    1.3478

    References
    ----------
    .. [1] Quintic fitted to the CRC Handbook, 102nd ed., and OIV-MA-AS2-02, Table II.
       Glucose syrup (ISO 1743) has another index: 0.4 °Brix if mixed up.
    """
    w = within(
        "soluble_solids",
        soluble_solids,
        0.0,
        0.84,
        source="the CRC and OIV tables of the index of sucrose",
        hint="Give a mass fraction: 65 °Brix is 0.65.",
    )
    return 1.3330152 + w * (
        0.1419501 + w * (0.0618874 + w * (-0.0115846 + w * (0.0467156 - 0.0269747 * w)))
    )


def solids_from_index(refractive_index: Floats) -> Floats:
    """
    Soluble solids from a refractive index at 20 °C.

    Parameters
    ----------
    refractive_index : float or ndarray
        1.3330 to 1.5033. [1]

    Returns
    -------
    float or ndarray
        Mass fraction, within 0.0007 of the table up to 80 %, 0.0013 at 84 %. [1]

    Raises
    ------
    OutOfRange
        If any element lies outside the range above.

    Examples
    --------
    >>> print(f"{100 * solids_from_index(1.34782):.1f} °Brix")
    10.0 °Brix

    References
    ----------
    .. [1] Polynomial fitted to the ICUMSA table, from a public article on the Brix
       scale; by Horner's rule, since the expanded form loses digits.
    """
    n = within(
        "refractive_index",
        refractive_index,
        1.3330,
        1.5033,
        source="the ICUMSA table of sucrose, 0 to 85 %",
        hint="Give the index itself, such as 1.4532.",
    )
    brix = (
        (((11758.74 * n - 88885.21) * n + 270177.93) * n - 413145.80) * n + 318417.95
    ) * n - 99127.4536
    brix = 0.5 * (brix + abs(brix))  # pure water comes out 0.005 under nothing
    return 0.01 * brix


def corrected_solids(
    reading: float, temperature_k: float, *, compensates: bool
) -> float:
    """
    Soluble solids from a reading taken at another temperature than 20 °C.

    Parameters
    ----------
    reading : float
        What the instrument shows, as a mass fraction, 0.10 to 0.70. [1]
    temperature_k : float
        Of the drop and the prism, 283.15 to 293.15. [K]
    compensates : bool
        Whether the instrument corrects for temperature by itself ("ATC").

    Returns
    -------
    float
        Mass fraction at 20 °C; the reading itself where the instrument compensates. [1]

    Raises
    ------
    OutOfRange
        If the table was not seen there: above 20 °C, and at 70 % below 12 °C.

    Examples
    --------
    >>> print(f"{100 * corrected_solids(0.65, 288.15, compensates=False):.2f} °Brix")
    64.62 °Brix

    References
    ----------
    .. [1] OIV-MA-AS2-02, Table I, rows for 10 to 17 °C; between them a straight line.
    """
    hint = (
        "Cool and stir the sample to 20 °C and read again, or use an instrument that "
        "compensates."
    )
    shown = within(
        "reading", reading, 0.10, 0.70, source=_OIV, hint="Give a mass fraction, 0.65."
    )
    if compensates:
        return shown
    celsius = (
        within("temperature_k", temperature_k, 283.15, 293.15, source=_OIV, hint=hint)
        - 273.15
    )
    percent = 100.0 * shown
    last = _between(
        percent, _READING, [_between(celsius, _AT_C, c) for c in _columns()]
    )
    if percent <= _READING[-1]:
        return shown + 0.01 * last
    if celsius < _AT_70_C[0] - 1e-9:
        raise OutOfRange(
            f"reading = {shown:g} at {celsius:.1f} °C is not in {_OIV}: above 65 % it "
            f"was seen from 12 °C. {hint}"
        )
    end = _between(celsius, _AT_70_C, _AT_70)
    return shown + 0.01 * (last + (percent - 65.0) / 5.0 * (end - last))


def _columns() -> list[tuple[float, ...]]:
    return list(zip(*_CORRECTION, strict=True))


def _between(
    x: float, xs: tuple[float, ...], ys: tuple[float, ...] | list[float]
) -> float:
    """Straight line between neighbours; the last value beyond the last place."""
    for i in range(len(xs) - 1):
        if x <= xs[i + 1]:
            share = max(0.0, (x - xs[i]) / (xs[i + 1] - xs[i]))
            return ys[i] + share * (ys[i + 1] - ys[i])
    return ys[-1]
