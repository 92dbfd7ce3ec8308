"""
The kettle: how long the fire takes, what is left in the pot, and how big a pot.

Heat that arrives is ``efficiency × burner_w - loss_w``. Efficiencies of kinds of burner
are published figures and lie in ``book``; the keeper's own water test is better.
"""

from __future__ import annotations

from stillroom.science import syrup
from stillroom.science.ranges import Floats, within

_KITCHEN = "what a domestic stove and pot can do"


def heating_s(
    mass_kg: Floats,
    heat_capacity_j_per_kg_k: Floats,
    from_k: Floats,
    to_k: Floats,
    burner_w: Floats,
    efficiency: Floats,
    loss_w: float = 0.0,
) -> Floats:
    """
    Time to heat what is in the pot.

    Parameters
    ----------
    mass_kg : float or ndarray
        What is heated, 0 to 100. [kg]
    heat_capacity_j_per_kg_k : float or ndarray
        300 to 5 000. [J/(kg K)]
    from_k, to_k : float or ndarray
        Temperatures, 250 to 420. [K]
    burner_w : float or ndarray
        Rated power in use, 1 to 50 000. [W]
    efficiency : float or ndarray
        Share of it that reaches the pot, 0.05 to 1. [1]
    loss_w : float
        What the pot loses to the room, 0 to 20 000. [W]

    Returns
    -------
    float or ndarray
        Duration; 0 where it is warm enough already. [s]

    Raises
    ------
    OutOfRange
        If a figure lies outside its range, or the fire is weaker than the loss.

    Examples
    --------
    >>> print(f"{heating_s(1.590, 3040.0, 293.15, 374.15, 3500.0, 0.40) / 60:.2f} min")
    4.66 min

    References
    ----------
    .. [1] Heat balance, ``m c ΔT / (η P - loss)``.
    """
    m = _mass_kg(mass_kg)
    c = within(
        "heat_capacity_j_per_kg_k",
        heat_capacity_j_per_kg_k,
        300.0,
        5_000.0,
        source="food, water, glass and metal",
        hint="Give J/(kg K): water is 4187.",
    )
    start = _temperature_k("from_k", from_k)
    end = _temperature_k("to_k", to_k)
    rise = end - start
    rise = (rise + abs(rise)) / 2.0  # no heat is needed where it is warm enough
    return m * c * rise / _net_w(burner_w, efficiency, loss_w)


def boil_down_s(
    mass_kg: Floats,
    solids_in: Floats,
    solids_out: Floats,
    latent_heat_j_per_kg: Floats,
    burner_w: Floats,
    efficiency: Floats,
    loss_w: float = 0.0,
) -> Floats:
    """
    Time to boil away water until the soluble solids have risen.

    Parameters
    ----------
    mass_kg : float or ndarray
        What is in the pot at the start, 0 to 100. [kg]
    solids_in, solids_out : float or ndarray
        Mass fractions before and after, 0.001 to 1, not falling. [1]
    latent_heat_j_per_kg : float or ndarray
        Of the water that leaves, 1.9e6 to 2.6e6. [J/kg]
    burner_w : float or ndarray
        Rated power in use, 1 to 50 000. [W]
    efficiency : float or ndarray
        Share of it that reaches the pot, 0.05 to 1. [1]
    loss_w : float
        What the pot loses to the room other than by steam, 0 to 20 000. [W]

    Returns
    -------
    float or ndarray
        Duration of the boil. [s]

    Raises
    ------
    OutOfRange
        If a figure lies outside its range, or the fire is weaker than the loss.

    Examples
    --------
    >>> seconds = boil_down_s(1.590, 0.452, 0.65, 2.25e6, 3500.0, 0.40)
    >>> print(f"{seconds / 60:.1f} min")
    13.0 min

    References
    ----------
    .. [1] ``m (1 - w_in / w_out) h / (η P - loss)``: constant power, and the boiling
       point taken as constant (it moves by 4 K on the way).
    """
    latent = within(
        "latent_heat_j_per_kg",
        latent_heat_j_per_kg,
        1.9e6,
        2.6e6,
        source="water between 0 and 130 °C and a margin",
        hint="Take it from water.latent_heat_j_per_kg.",
    )
    left = mass_after_boil_down_kg(mass_kg, solids_in, solids_out)
    return (mass_kg - left) * latent / _net_w(burner_w, efficiency, loss_w)


def mass_after_boil_down_kg(
    mass_kg: Floats, solids_in: Floats, solids_out: Floats
) -> Floats:
    """
    What is left in the pot once the soluble solids have risen.

    Parameters
    ----------
    mass_kg : float or ndarray
        What is in the pot at the start, 0 to 100. [kg]
    solids_in, solids_out : float or ndarray
        Mass fractions before and after, 0.001 to 1, not falling. [1]

    Returns
    -------
    float or ndarray
        Mass. [kg]

    Raises
    ------
    OutOfRange
        If a figure lies outside its range, or the solids would have to fall.

    Examples
    --------
    >>> print(f"{mass_after_boil_down_kg(1.5904, 0.452, 0.65):.3f} kg")
    1.106 kg

    References
    ----------
    .. [1] Solids neither come nor go: ``m_out = m_in w_in / w_out``.
    """
    m = _mass_kg(mass_kg)
    before = _solids("solids_in", solids_in)
    after = _solids("solids_out", solids_out)
    share = within(
        "solids_in / solids_out",
        before / after,
        0.0,
        1.0,
        source="boiling down, which never lowers the solids",
        hint="To thin it, add juice or water by measure.",
    )
    return m * share


def dissolved_volume_m3(
    liquid_m3: Floats, sugar_kg: Floats, liquid_solids: float = 0.12
) -> Floats:
    """
    Volume of the mix once the sugar is dissolved: sugar takes about half its cup.

    Parameters
    ----------
    liquid_m3 : float or ndarray
        Juice or pulp as measured, above 0 to 0.1. [m³]
    sugar_kg : float or ndarray
        Sugar that goes into it, 0 to 100. [kg]
    liquid_solids : float
        Soluble solids of the juice, a mass fraction, 0 to 0.5. [1]

    Returns
    -------
    float or ndarray
        Volume at 20 °C. [m³]

    Raises
    ------
    OutOfRange
        If a figure lies outside its range, or the mix holds more than 84 % solids.

    Examples
    --------
    Five cups of juice and seven cups of sugar at 200 g:

    >>> cup_m3 = 2.365882365e-4
    >>> print(f"{dissolved_volume_m3(5 * cup_m3, 1.4) / cup_m3:.1f} cups")
    8.7 cups

    References
    ----------
    .. [1] Masses add, volumes do not: mass of juice and sugar over the density of a
       sucrose solution with the solids of both.
    """
    volume = within(
        "liquid_m3",
        liquid_m3,
        1e-9,
        0.1,
        source=_KITCHEN,
        hint="Give cubic metres: a cup is 2.366e-4.",
    )
    sugar = within(
        "sugar_kg",
        sugar_kg,
        0.0,
        100.0,
        source=_KITCHEN,
        hint="Give kilograms: a cup of sugar is about 0.2.",
    )
    solids = within(
        "liquid_solids",
        liquid_solids,
        0.0,
        0.5,
        source="juices and pulps",
        hint="Give a mass fraction: 12 °Brix is 0.12.",
    )
    juice = volume * syrup.density_at_20_c_kg_m3(solids)
    mix = juice + sugar
    return mix / syrup.density_at_20_c_kg_m3((juice * solids + sugar) / mix)


def pot_needed_m3(dissolved_volume_m3: Floats, times: float = 4.0) -> Floats:
    """
    Pot that holds the foam of a full rolling boil.

    Parameters
    ----------
    dissolved_volume_m3 : float or ndarray
        The mix once the sugar is dissolved, 0 to 0.2. [m³]
    times : float
        How many times that volume the pot should hold, 1 to 10. [1]

    Returns
    -------
    float or ndarray
        Volume of the pot to the brim. [m³]

    Raises
    ------
    OutOfRange
        If either lies outside its range.

    Notes
    -----
    Four times is common practice, no source. Against print: extension leaflets name an
    8 to 10 quart pot for 4 to 6 cups of juice.

    Examples
    --------
    >>> print(f"{pot_needed_m3(2.06e-3) * 1000:.1f} L")
    8.2 L
    """
    volume = within(
        "dissolved_volume_m3",
        dissolved_volume_m3,
        0.0,
        0.2,
        source=_KITCHEN,
        hint="Give cubic metres: a litre is 0.001.",
    )
    factor = within(
        "times",
        times,
        1.0,
        10.0,
        source="common practice (4 times), no source",
        hint="Give how many times the volume the pot should hold.",
    )
    return volume * factor


def _mass_kg(mass_kg: Floats) -> Floats:
    return within(
        "mass_kg", mass_kg, 0.0, 100.0, source=_KITCHEN, hint="Give kilograms."
    )


def _temperature_k(name: str, temperature_k: Floats) -> Floats:
    return within(
        name,
        temperature_k,
        250.0,
        420.0,
        source=_KITCHEN,
        hint="Give kelvin: °C + 273.15.",
    )


def _solids(name: str, solids: Floats) -> Floats:
    return within(
        name,
        solids,
        0.001,
        1.0,
        source="soluble solids as a mass fraction",
        hint="Give a mass fraction: 65 °Brix is 0.65.",
    )


def _net_w(burner_w: Floats, efficiency: Floats, loss_w: float) -> Floats:
    """Power that does the work. [W]"""
    power = within(
        "burner_w",
        burner_w,
        1.0,
        50_000.0,
        source=_KITCHEN,
        hint="Give watts: 1 kW is 1000, 1 000 Btu/h is 293.",
    )
    share = within(
        "efficiency",
        efficiency,
        0.05,
        1.0,
        source="burners, as a share of their power",
        hint="Give a share: 40 % is 0.40.",
    )
    lost = within("loss_w", loss_w, 0.0, 20_000.0, source=_KITCHEN, hint="Give watts.")
    return within(
        "efficiency × burner_w - loss_w",
        share * power - lost,
        1.0,
        50_000.0,
        source="a fire that heats more than the room",
        hint="Take a stronger burner or cover the pot.",
    )
