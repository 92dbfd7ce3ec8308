"""The fire, measured by a pot of water; and what it does to a pot that boils."""

from __future__ import annotations

from stillroom.science import syrup, water
from stillroom.science.ranges import Floats, within

DRY_SUGAR_J_PER_KG_K = 1_250.0
"""Heat capacity of dry sugar: from memory, good to a tenth."""
SOLUTION_J_PER_KG = 16_000.0
"""Heat that a kilogram of sugar takes up as it dissolves: from memory."""


def measured_efficiency(
    water_kg: Floats, from_k: Floats, to_k: Floats, duration_s: Floats, burner_w: Floats
) -> Floats:
    """
    Share of a burner's power that reaches the pot, from one test with water.

    Parameters
    ----------
    water_kg : float or ndarray
        In the pot that will be used, lid as it will be, 0.1 to 50. [kg]
    from_k, to_k : float or ndarray
        Where the clock was started and stopped, 273.15 to 373.2. [K]
    duration_s : float or ndarray
        10 to 20 000. [s]
    burner_w : float or ndarray
        Rated power in use, 100 to 50 000. [W]

    Returns
    -------
    float or ndarray
        Efficiency: better than any printed one for this pot and burner. [1]

    Raises
    ------
    OutOfRange
        If a figure lies outside its range, or more heat arrived than was burnt.

    Examples
    --------
    >>> print(f"{measured_efficiency(0.946, 288.7, 372.0, 510.0, 2051.5):.2f}")
    0.32

    References
    ----------
    .. [1] m c ΔT / (P t), the pot's own heat left out.
    """
    mass = _in("water_kg", water_kg, 0.1, 50.0, "Give kilograms: a litre is 1.")
    start = _in("from_k", from_k, 273.15, 373.2, "Give kelvin: °C + 273.15.")
    end = _in("to_k", to_k, 273.15, 373.2, "Stop the clock short of the boil.")
    time = _in("duration_s", duration_s, 10.0, 20_000.0, "Give seconds.")
    power = _in("burner_w", burner_w, 100.0, 50_000.0, "1 000 Btu/h is 293 W.")
    heat = mass * water.heat_capacity_j_per_kg_k(0.5 * (start + end)) * (end - start)
    return _in(
        "efficiency", heat / (power * time), 0.05, 1.0, "Check mass, time and power."
    )


def evaporation_kg_per_s(
    burner_w: Floats, efficiency: Floats, temperature_k: Floats, loss_w: float = 0.0
) -> Floats:
    """
    Water that a boiling pot gives off.

    Parameters
    ----------
    burner_w : float or ndarray
        Rated power in use, 1 to 50 000. [W]
    efficiency : float or ndarray
        Share of it that reaches the pot, 0.05 to 1. [1]
    temperature_k : float or ndarray
        Of the boil, 353.15 to 403.15. [K]
    loss_w : float
        What the pot loses beside its steam, 0 to 20 000. [W]

    Returns
    -------
    float or ndarray
        Rate; 0 where the fire only just keeps it hot. [kg/s]

    Raises
    ------
    OutOfRange
        If a figure lies outside its range.

    Examples
    --------
    >>> print(f"{3600 * evaporation_kg_per_s(1000.0, 1.0, 377.15):.2f} kg/h")
    1.60 kg/h

    References
    ----------
    .. [1] Heat balance, (η P - loss)/h.
    """
    power = _in("burner_w", burner_w, 1.0, 50_000.0, "1 000 Btu/h is 293 W.")
    share = _in("efficiency", efficiency, 0.05, 1.0, "40 % is 0.40.")
    boil = _in("temperature_k", temperature_k, 353.15, 403.15, "°C + 273.15.")
    lost = _in("loss_w", loss_w, 0.0, 20_000.0, "Give watts.")
    net = share * power - lost
    return 0.5 * (net + abs(net)) / water.latent_heat_j_per_kg(boil)


def back_to_boil_s(
    *,
    mix_kg: Floats,
    mix_solids: Floats,
    sugar_kg: Floats,
    boils_k: Floats,
    burner_w: Floats,
    efficiency: Floats,
    boiled_k: float | None = None,
    pot_kg: float = 0.0,
    pot_heat_j_per_kg_k: float = 500.0,
    sugar_k: float = 293.15,
    loss_w: float = 0.0,
) -> Floats:
    """
    Time back to the boil after sugar has gone into a boiling mix.

    Parameters
    ----------
    mix_kg : float or ndarray
        What boils, without that sugar, 0.01 to 100. [kg]
    mix_solids : float or ndarray
        Its soluble solids, 0 to 0.6. [1]
    sugar_kg : float or ndarray
        Dry sugar, 0 to 100. [kg]
    boils_k : float or ndarray
        Where the whole will boil, 353.15 to 385. [K]
    burner_w, efficiency, loss_w : float or ndarray
        Rated power, share that reaches the pot, loss to the room. [W], [1], [W]
    boiled_k : float, optional
        Where the mix boiled before; as hot as the whole will be, otherwise. [K]
    pot_kg, pot_heat_j_per_kg_k : float
        The pot itself, 0 to 30, and its metal: steel 500. [kg], [J/(kg K)]
    sugar_k : float
        Sugar as it goes in, 250 to 373; warmed sugar boils sooner. [K]

    Returns
    -------
    float or ndarray
        Duration. [s]

    Raises
    ------
    OutOfRange
        If a figure lies outside its range, or the fire is too weak.

    Examples
    --------
    >>> wait = back_to_boil_s(mix_kg=1.2, mix_solids=0.12, sugar_kg=1.4,
    ...     boils_k=376.0, boiled_k=373.4, burner_w=3500.0, efficiency=0.40, pot_kg=2.0)
    >>> print(f"{wait / 60:.1f} min")
    2.2 min

    References
    ----------
    .. [1] Heat balance: sugar warmed and dissolved, mix and pot brought from the old
       boiling point to the new one. How far the pot cools in between does not matter.
    """
    mix = _in("mix_kg", mix_kg, 0.01, 100.0, "Give kilograms.")
    solids = _in("mix_solids", mix_solids, 0.0, 0.6, "12 °Brix is 0.12.")
    sugar = _in("sugar_kg", sugar_kg, 0.0, 100.0, "Give kilograms.")
    boils = _in("boils_k", boils_k, 353.15, 385.0, "Give kelvin: °C + 273.15.")
    pot = _in("pot_kg", pot_kg, 0.0, 30.0, "Give kilograms.")
    metal = _in("pot_heat_j_per_kg_k", pot_heat_j_per_kg_k, 100.0, 1500.0, "Steel 500.")
    cold = _in("sugar_k", sugar_k, 250.0, 373.15, "Give kelvin: °C + 273.15.")
    rise = boils - boils
    if boiled_k is not None:
        before = _in("boiled_k", boiled_k, 353.15, 385.0, "Give kelvin: °C + 273.15.")
        rise = _in("boils_k - boiled_k", boils - before, 0.0, 12.0, "Sugar raises it.")
    hot_j_per_k = mix * syrup.heat_capacity_j_per_kg_k(solids, boils) + pot * metal
    heat = (
        sugar * (DRY_SUGAR_J_PER_KG_K * (boils - cold) + SOLUTION_J_PER_KG)
        + hot_j_per_k * rise
    )
    power = _in("burner_w", burner_w, 1.0, 50_000.0, "1 000 Btu/h is 293 W.")
    share = _in("efficiency", efficiency, 0.05, 1.0, "40 % is 0.40.")
    lost = _in("loss_w", loss_w, 0.0, 20_000.0, "Give watts.")
    net = _in(
        "efficiency × burner_w - loss_w",
        share * power - lost,
        1.0,
        50_000.0,
        "Take a stronger burner or cover the pot.",
    )
    return heat / net


def _in(name: str, value: Floats, low: float, high: float, hint: str) -> Floats:
    return within(
        name, value, low, high, source="what a domestic stove can do", hint=hint
    )
