"""
Water: when it boils, what it costs to boil it away, and what it weighs.

Saturation is IAPWS R7-97(2012), the industrial formulation; latent heat and density are
short fits to IAPWS-95 that are good enough for a pot.
"""

from __future__ import annotations

from stillroom.science.ranges import Floats, within

# IAPWS R7-97(2012), Table 34, n1 to n10.
_N = (
    0.11670521452767e4,
    -0.72421316703206e6,
    -0.17073846940092e2,
    0.12020824702470e5,
    -0.32325550322333e7,
    0.14915108613530e2,
    -0.48232657361591e4,
    0.40511340542057e6,
    -0.23855557567849,
    0.65017534844798e3,
)
_CELSIUS_ZERO_K = 273.15
_FIT_SOURCE = "the fit to IAPWS-95, 0 to 130 °C"


def saturation_pressure_pa(temperature_k: Floats) -> Floats:
    """
    Pressure at which water boils at a temperature.

    Parameters
    ----------
    temperature_k : float or ndarray
        273.15 to 647.096. [K]

    Returns
    -------
    float or ndarray
        Absolute pressure, same shape. [Pa]

    Raises
    ------
    OutOfRange
        If any element lies outside the range above.

    Examples
    --------
    >>> print(f"{saturation_pressure_pa(373.15) / 1000:.2f} kPa")
    101.42 kPa

    References
    ----------
    .. [1] IAPWS R7-97(2012), "Industrial Formulation 1997 for the Thermodynamic
       Properties of Water and Steam", Eq. 30, coefficients of Table 34.
    """
    t = within(
        "temperature_k",
        temperature_k,
        273.15,
        647.096,
        source="IAPWS R7-97(2012) Eq. 30",
        hint="Give kelvin: °C + 273.15.",
    )
    theta = t + _N[8] / (t - _N[9])
    a = theta**2 + _N[0] * theta + _N[1]
    b = _N[2] * theta**2 + _N[3] * theta + _N[4]
    c = _N[5] * theta**2 + _N[6] * theta + _N[7]
    return 1e6 * (2.0 * c / (-b + _root(b**2 - 4.0 * a * c))) ** 4


def boiling_point_k(pressure_pa: Floats) -> Floats:
    """
    Temperature at which water boils under a pressure.

    Parameters
    ----------
    pressure_pa : float or ndarray
        Absolute pressure, 611.213 to 22.064e6. [Pa]

    Returns
    -------
    float or ndarray
        Saturation temperature, same shape. [K]

    Raises
    ------
    OutOfRange
        If any element lies outside the range above.

    Examples
    --------
    >>> print(f"{boiling_point_k(101_325.0) - 273.15:.2f} °C")
    99.97 °C

    References
    ----------
    .. [1] IAPWS R7-97(2012), Eq. 31, coefficients of Table 34.
    """
    p = within(
        "pressure_pa",
        pressure_pa,
        611.213,
        22.064e6,
        source="IAPWS R7-97(2012) Eq. 31",
        hint="Give absolute pressure: a gauge reading plus the local air pressure.",
    )
    beta = _root(_root(p / 1e6))
    e = beta**2 + _N[2] * beta + _N[5]
    f = _N[0] * beta**2 + _N[3] * beta + _N[6]
    g = _N[1] * beta**2 + _N[4] * beta + _N[7]
    d = 2.0 * g / (-f - _root(f**2 - 4.0 * e * g))
    return 0.5 * (_N[9] + d - _root((_N[9] + d) ** 2 - 4.0 * (_N[8] + _N[9] * d)))


def latent_heat_j_per_kg(temperature_k: Floats) -> Floats:
    """
    Heat that turns a kilogram of boiling water to steam.

    Parameters
    ----------
    temperature_k : float or ndarray
        273.15 to 403.15. [K]

    Returns
    -------
    float or ndarray
        Latent heat of evaporation, within 90 J/kg of IAPWS-95. [J/kg]

    Raises
    ------
    OutOfRange
        If any element lies outside the range above.

    Examples
    --------
    >>> print(f"{latent_heat_j_per_kg(373.15) / 1e6:.3f} MJ/kg")
    2.256 MJ/kg

    References
    ----------
    .. [1] Cubic in °C, fitted to IAPWS-95 saturation values.
    """
    t = _celsius(temperature_k)
    return 1e3 * (2500.95 + t * (-2.38005 + t * (6.58865e-4 - 1.31524e-5 * t)))


def density_kg_m3(temperature_k: Floats) -> Floats:
    """
    Density of liquid water at its saturation pressure.

    Parameters
    ----------
    temperature_k : float or ndarray
        273.15 to 403.15. [K]

    Returns
    -------
    float or ndarray
        Within 0.03 of IAPWS-95. [kg/m³]

    Raises
    ------
    OutOfRange
        If any element lies outside the range above.

    Examples
    --------
    >>> print(f"{density_kg_m3(293.15):.1f} kg/m³")
    998.2 kg/m³

    References
    ----------
    .. [1] Polynomial of fifth degree in °C, fitted to IAPWS-95 saturation values.
    """
    t = _celsius(temperature_k)
    return 999.824 + t * (
        0.0554734
        + t * (-7.87974e-3 + t * (5.25848e-5 + t * (-2.64931e-7 + 5.68876e-10 * t)))
    )


def heat_capacity_j_per_kg_k(temperature_k: Floats) -> Floats:
    """
    Heat that warms a kilogram of liquid water by one kelvin.

    Parameters
    ----------
    temperature_k : float or ndarray
        273.15 to 403.15. [K]

    Returns
    -------
    float or ndarray
        At the saturation pressure, within 1.2 of IAPWS-95. [J/(kg K)]

    Raises
    ------
    OutOfRange
        If any element lies outside the range above.

    Examples
    --------
    >>> print(f"{heat_capacity_j_per_kg_k(293.15):.0f} J/(kg K)")
    4184 J/(kg K)

    References
    ----------
    .. [1] Polynomial of fifth degree in °C, fitted to IAPWS-95 saturation values.
    """
    t = _celsius(temperature_k)
    return 4218.80 + t * (
        -3.00522
        + t * (0.0823787 + t * (-1.04193e-3 + t * (6.81324e-6 - 1.65971e-8 * t)))
    )


def conductivity_w_per_m_k(temperature_k: Floats) -> Floats:
    """
    Thermal conductivity of liquid water.

    Parameters
    ----------
    temperature_k : float or ndarray
        273.15 to 403.15. [K]

    Returns
    -------
    float or ndarray
        At the saturation pressure, within 0.0006 of IAPWS R15-11. [W/(m K)]

    Raises
    ------
    OutOfRange
        If any element lies outside the range above.

    Examples
    --------
    >>> print(f"{conductivity_w_per_m_k(298.15):.3f} W/(m K)")
    0.606 W/(m K)

    References
    ----------
    .. [1] Quartic in °C, fitted to IAPWS R15-11 saturation values.
    """
    t = _celsius(temperature_k)
    return 0.55608 + t * (
        2.41689e-3 + t * (-1.80088e-5 + t * (8.08977e-8 - 2.13427e-10 * t))
    )


def viscosity_pa_s(temperature_k: Floats) -> Floats:
    """
    Dynamic viscosity of liquid water.

    Parameters
    ----------
    temperature_k : float or ndarray
        273.15 to 383.15. [K]

    Returns
    -------
    float or ndarray
        At 0.1 MPa. [Pa s]

    Raises
    ------
    OutOfRange
        If any element lies outside the range above.

    Examples
    --------
    >>> print(f"{1000 * viscosity_pa_s(293.15):.3f} mPa s")
    1.002 mPa s

    References
    ----------
    .. [1] IAPWS SR6-08(2011), "Revised Supplementary Release on Properties of Liquid
       Water at 0.1 MPa", Eq. 7.
    """
    kelvin = within(
        "temperature_k",
        temperature_k,
        273.15,
        383.15,
        source="IAPWS SR6-08(2011), as used here",
        hint="Give kelvin: °C + 273.15.",
    )
    t = kelvin / 300.0
    micro: Floats = (
        280.68 * t**-1.9 + 511.45 * t**-7.7 + 61.131 * t**-19.6 + 0.45903 * t**-40.0
    )
    return 1e-6 * micro


def _root(number: Floats) -> Floats:
    root: Floats = number**0.5
    return root


def _celsius(temperature_k: Floats) -> Floats:
    kelvin = within(
        "temperature_k",
        temperature_k,
        273.15,
        403.15,
        source=_FIT_SOURCE,
        hint="Give kelvin: °C + 273.15.",
    )
    return kelvin - _CELSIUS_ZERO_K
