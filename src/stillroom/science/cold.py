"""
Cold: how long a packet takes to freeze and to thaw, and how much a freezer can take.

The plan goes by the published load rule; the freezing time only explains why packets
are laid out in one layer.
"""

from __future__ import annotations

from enum import Enum

from stillroom.science.estimate import Estimate
from stillroom.science.ranges import Floats, within

_PLANK = "Plank's equation; home freezers from memory"


class Shape(Enum):
    """Shape of a packet, with Plank's two factors; its size is its full thickness."""

    SLAB = (1.0 / 2.0, 1.0 / 8.0)
    CYLINDER = (1.0 / 4.0, 1.0 / 16.0)
    SPHERE = (1.0 / 6.0, 1.0 / 24.0)


def plank_s(
    shape: Shape,
    size_m: Floats,
    *,
    density_kg_m3: Floats,
    latent_heat_j_per_kg: Floats,
    freezes_k: Floats,
    around_k: Floats,
    surface_w_m2_k: Floats,
    conductivity_w_per_m_k: Floats,
) -> Floats:
    """
    Time to freeze a packet right through, once it is at its freezing point.

    Parameters
    ----------
    shape : Shape
        Slab, cylinder or sphere.
    size_m : float or ndarray
        Full thickness or diameter, 0.001 to 0.5. [m]
    density_kg_m3 : float or ndarray
        300 to 1 600. [kg/m³]
    latent_heat_j_per_kg : float or ndarray
        Of the food, 1e4 to 6e5; about 334 kJ/kg times its share of water. To count the
        heat above and below freezing, give the whole of it. [J/kg]
    freezes_k, around_k : float or ndarray
        Freezing point of the food and the air about it, which must be colder. [K]
    surface_w_m2_k : float or ndarray
        1 to 5 000; still air of a home freezer 5 to 10. [W/(m² K)]
    conductivity_w_per_m_k : float or ndarray
        Of the frozen food, 0.1 to 3. [W/(m K)]

    Returns
    -------
    float or ndarray
        Duration, chilling before and after left out. [s]

    Raises
    ------
    OutOfRange
        If a figure lies outside its range.

    Examples
    --------
    >>> packet = plank_s(Shape.SLAB, 0.04, density_kg_m3=1000.0,
    ...     latent_heat_j_per_kg=0.85 * 334e3, freezes_k=271.95, around_k=255.15,
    ...     surface_w_m2_k=8.0, conductivity_w_per_m_k=1.5)
    >>> print(f"{packet / 3600:.1f} h")
    12.4 h

    References
    ----------
    .. [1] Plank (1913): ρ L/(Tf - Ta) (P a/h + R a²/k).
    """
    size = _in("size_m", size_m, 0.001, 0.5, "Give metres: 4 cm is 0.04.")
    density = _in("density_kg_m3", density_kg_m3, 300.0, 1600.0, "Water is 1000.")
    heat = _in(
        "latent_heat_j_per_kg", latent_heat_j_per_kg, 1e4, 6e5, "Water is 334e3."
    )
    freezes = _in("freezes_k", freezes_k, 250.0, 273.15, "Give kelvin: °C + 273.15.")
    around = _in("around_k", around_k, 200.0, 273.15, "Give kelvin: °C + 273.15.")
    surface = _in("surface_w_m2_k", surface_w_m2_k, 1.0, 5e3, "Still air is 5 to 10.")
    inside = _in(
        "conductivity_w_per_m_k", conductivity_w_per_m_k, 0.1, 3.0, "Ice is 2.2."
    )
    colder = _in(
        "freezes_k - around_k", freezes - around, 0.5, 100.0, "Give colder air."
    )
    at_surface, within_food = shape.value
    way: Floats = at_surface * size / surface + within_food * size**2 / inside
    return density * heat / colder * way


def heat_to_freeze_j_per_kg(
    *,
    above_j_per_kg_k: Floats,
    start_k: Floats,
    freezes_k: Floats,
    latent_heat_j_per_kg: Floats,
    below_j_per_kg_k: Floats,
    end_k: Floats,
) -> Floats:
    """
    All heat to take out of a kilogram: chilling, freezing, and cooling on.

    Parameters
    ----------
    above_j_per_kg_k, below_j_per_kg_k : float or ndarray
        Specific heat above and below freezing, 500 to 5 000. [J/(kg K)]
    start_k, freezes_k, end_k : float or ndarray
        Falling. [K]
    latent_heat_j_per_kg : float or ndarray
        Of the food, 1e4 to 6e5. [J/kg]

    Returns
    -------
    float or ndarray
        Heat. [J/kg]

    Raises
    ------
    OutOfRange
        If a figure lies outside its range, or the temperatures do not fall.

    Examples
    --------
    >>> heat = heat_to_freeze_j_per_kg(above_j_per_kg_k=3220.0, start_k=283.15,
    ...     freezes_k=271.15, latent_heat_j_per_kg=2.56e5, below_j_per_kg_k=1670.0,
    ...     end_k=255.15)
    >>> print(f"{heat / 1e5:.2f}e5 J/kg")
    3.21e5 J/kg

    References
    ----------
    .. [1] Earle, Unit Operations in Food Processing, freezing of a slab of meat.
    """
    above = _in("above_j_per_kg_k", above_j_per_kg_k, 500.0, 5e3, "Water is 4187.")
    below = _in("below_j_per_kg_k", below_j_per_kg_k, 500.0, 5e3, "Ice is 2100.")
    latent = _in(
        "latent_heat_j_per_kg", latent_heat_j_per_kg, 1e4, 6e5, "Water is 334e3."
    )
    chill = _in("start_k - freezes_k", start_k - freezes_k, 0.0, 120.0, "Start warmer.")
    cool = _in("freezes_k - end_k", freezes_k - end_k, 0.0, 80.0, "End colder.")
    return above * chill + latent + below * cool


def freezer_load_kg(
    volume_m3: Floats, rule_kg_m3: tuple[float, float]
) -> tuple[Floats, Floats]:
    """
    Unfrozen food that a freezer takes in 24 h by a published rule.

    Parameters
    ----------
    volume_m3 : float or ndarray
        Inside volume of the freezer, 0.01 to 5. [m³]
    rule_kg_m3 : tuple of float
        The careful and the utmost load of a freezer, as printed: see
        ``book.freezing_packs.freezer_load_rule_kg_m3``. [kg/m³]

    Returns
    -------
    tuple of float or ndarray
        The careful and the utmost load. [kg]

    Raises
    ------
    OutOfRange
        If the volume lies outside its range.

    Examples
    --------
    >>> careful, utmost = freezer_load_kg(0.2832, (32.0, 48.0))
    >>> print(f"{careful:.1f} to {utmost:.1f} kg in 10 cubic feet")
    9.1 to 13.6 kg in 10 cubic feet
    """
    volume = _in("volume_m3", volume_m3, 0.01, 5.0, "Give m³: 10 cubic feet is 0.283.")
    careful, utmost = rule_kg_m3
    return volume * careful, volume * utmost


def estimated_freezing(
    shape: Shape,
    size_m: float,
    *,
    water_share: float,
    start_k: float = 293.15,
    around_k: float = 255.15,
) -> Estimate:
    """
    Hours that a packet of fruit takes in a home freezer.

    Parameters
    ----------
    shape : Shape
        Of the packet.
    size_m : float
        Full thickness or diameter, 0.001 to 0.5. [m]
    water_share : float
        Of the food, 0.3 to 0.95. [1]
    start_k, around_k : float
        Food as it goes in; freezer. [K]

    Returns
    -------
    Estimate
        Duration, surface coefficient 5 to 12 W/(m² K). [h]

    Examples
    --------
    >>> print(estimated_freezing(Shape.SLAB, 0.04, water_share=0.85))
    17 h (12 to 27; an estimate: fruit with 85 % water, one layer, air on both sides)

    References
    ----------
    .. [1] `plank_s` with the heat of `heat_to_freeze_j_per_kg`.
    """
    wet = _in("water_share", water_share, 0.3, 0.95, "85 % water is 0.85.")
    heat = heat_to_freeze_j_per_kg(
        above_j_per_kg_k=3800.0,
        start_k=start_k,
        freezes_k=271.95,
        latent_heat_j_per_kg=334e3 * wet,
        below_j_per_kg_k=1900.0,
        end_k=around_k + 3.0,
    )
    hours = [
        plank_s(
            shape,
            size_m,
            density_kg_m3=1000.0,
            latent_heat_j_per_kg=heat,
            freezes_k=271.95,
            around_k=around_k,
            surface_w_m2_k=surface,
            conductivity_w_per_m_k=1.5,
        )
        / 3600.0
        for surface in (12.0, 8.0, 5.0)
    ]
    return Estimate(
        value=hours[1],
        unit="h",
        low=hours[0],
        high=hours[2],
        basis=f"fruit with {100 * wet:.0f} % water, one layer, air on both sides",
        source=_PLANK,
    )


def estimated_thawing(
    shape: Shape, size_m: float, *, water_share: float, around_k: float, in_water: bool
) -> Estimate:
    """
    Hours that a frozen bag takes to thaw, right through.

    Parameters
    ----------
    shape : Shape
        Of the bag.
    size_m : float
        Full thickness or diameter, 0.001 to 0.5. [m]
    water_share : float
        Of the food, 0.3 to 0.95. [1]
    around_k : float
        Refrigerator or cold water, 274.15 to 298.15. [K]
    in_water : bool
        In cold water rather than in air.

    Returns
    -------
    Estimate
        Duration. [h]

    Notes
    -----
    Plank's equation turned round, with the thawed food's conductivity, since heat now
    has to come through what has thawed. It counts the latent heat only, from -1.2 °C.
    A bag of juice that can flow is quicker: the lower end takes twice the conductivity.

    Examples
    --------
    >>> bag = estimated_thawing(Shape.SLAB, 0.05, water_share=0.88, around_k=277.15,
    ...     in_water=False)
    >>> print(bag)
    58 h (37 to 88; an estimate: 88 % water in air at 4 °C)
    """
    wet = _in("water_share", water_share, 0.3, 0.95, "85 % water is 0.85.")
    around = _in("around_k", around_k, 274.15, 298.15, "Give kelvin: °C + 273.15.")
    size = _in("size_m", size_m, 0.001, 0.5, "Give metres: 4 cm is 0.04.")
    at_surface, within_food = shape.value
    heat = 1000.0 * 334e3 * wet / (around - 271.95)
    films = (300.0, 150.0, 80.0) if in_water else (12.0, 8.0, 5.0)
    hours = [
        heat * (at_surface * size / film + within_food * size**2 / inside) / 3600.0
        for film, inside in zip(films, (1.1, 0.55, 0.5), strict=True)
    ]
    return Estimate(
        value=hours[1],
        unit="h",
        low=hours[0],
        high=hours[2],
        basis=f"{100 * wet:.0f} % water in {'water' if in_water else 'air'} "
        f"at {around - 273.15:.0f} °C",
        source=_PLANK,
    )


def _in(name: str, value: Floats, low: float, high: float, hint: str) -> Floats:
    return within(name, value, low, high, source="kitchen freezing", hint=hint)
