"""
Fruit and acid: what a dose of citric acid, lemon juice or vinegar does to a puree.

Fruit binds a little acid, so that what comes out is an `Estimate`. Only a calibrated
meter counts, after the acid has spread evenly; 4.6 is a legal line; and a published
dose of acid is never made smaller by anything here.
"""

from __future__ import annotations

from stillroom.science.acid import (
    ACIDS,
    LEMON_JUICE,
    VINEGAR_5_PERCENT,
    Sour,
    _acid,
    _held_at,
    _ph,
    _positive,
    _titrated,
    cations_at,
    ph_of,
)
from stillroom.science.estimate import Estimate
from stillroom.science.ranges import OutOfRange, within

FOOD_OFF_PH = 0.15
"""What solids and pectin bind, in pH: from memory."""


def puree_of(ph: float, acidity_g_per_l: float, main_acid: str) -> Sour:
    """
    One acid and its cations that stand for a fruit: from two measurements of it.

    Parameters
    ----------
    ph : float
        Measured, 2.5 to 6.5. [1]
    acidity_g_per_l : float
        Titratable acidity to pH 8.2, stated as ``main_acid``, 0.1 to 80. [g/L]
    main_acid : str
        The fruit's main acid: citric of most, malic of apple, tartaric of grape.

    Returns
    -------
    Sour
        Which has that pH and that titratable acidity.

    Raises
    ------
    OutOfRange
        If a figure lies outside its range, or the two do not go together.

    Notes
    -----
    Without both measurements there is no answer: pH alone says nothing of how much acid
    a fruit will swallow before its pH moves.

    Examples
    --------
    >>> puree = puree_of(4.40, 3.0, "citric")
    >>> print(f"{puree.acids['citric']:.5f} mol/L")
    0.02992 mol/L
    """
    measured = _ph("ph", ph, 2.5, 6.5)
    wanted = within(
        "acidity_g_per_l",
        acidity_g_per_l,
        0.1,
        80.0,
        source="fruits and their juices",
        hint="Give g/L: 0.30 g/100 mL is 3.0.",
    )
    equivalents = wanted / _acid(main_acid).equivalent_g
    low, high = 0.0, 4.0 * equivalents
    for _ in range(60):
        total = 0.5 * (low + high)
        only = Sour(acids={main_acid: total})
        found = _titrated(only) - _held_at(only, measured)[0]
        low, high = (total, high) if found < equivalents else (low, total)
    held = Sour(acids={main_acid: total})
    return Sour(acids=held.acids, cations_mol_per_l=cations_at(held, measured))


def acidified(puree: Sour, acidifier: str, dose: float) -> Sour:
    """
    A litre of puree with a dose of acid stirred in.

    Parameters
    ----------
    puree : Sour
        As `puree_of` gives it.
    acidifier : str
        ``citric acid`` [g/L], ``lemon juice`` or ``vinegar 5 %`` [mL/L].
    dose : float
        Into each litre of puree, 0 to 2 000.

    Examples
    --------
    >>> puree = puree_of(4.40, 3.0, "citric")
    >>> print(f"{ph_of(acidified(puree, 'citric acid', 1.0)):.2f}")
    4.11
    """
    much = _positive("dose", dose, 0.0, 2000.0)
    if acidifier == "citric acid":
        more = dict(puree.acids)
        more["citric"] = more.get("citric", 0.0) + much / ACIDS["citric"].molar_mass_g
        return Sour(acids=more, cations_mol_per_l=puree.cations_mol_per_l)
    if acidifier == "lemon juice":
        return puree.with_more(LEMON_JUICE, much / 1000.0)
    if acidifier == "vinegar 5 %":
        return puree.with_more(VINEGAR_5_PERCENT, much / 1000.0)
    raise OutOfRange(
        f"no acid is known as {acidifier!r}: give citric acid, lemon juice or "
        "vinegar 5 %."
    )


def estimated_ph(puree: Sour, acidifier: str, dose: float) -> Estimate:
    """
    The pH to expect once a dose of acid has spread through a puree.

    Parameters
    ----------
    puree, acidifier, dose
        As for `acidified`.

    Returns
    -------
    Estimate
        pH, give or take what solids and pectin bind. [1]

    Examples
    --------
    >>> print(estimated_ph(puree_of(4.40, 3.0, "citric"), "citric acid", 1.0))
    4.1 (4.0 to 4.3; an estimate: 1 of citric acid to a litre)
    """
    value = ph_of(acidified(puree, acidifier, dose))
    return Estimate(
        value=value,
        unit="1",
        low=value - FOOD_OFF_PH,
        high=value + FOOD_OFF_PH,
        basis=f"{dose:g} of {acidifier} to a litre",
        source="charge balance with Davies' activities; a meter reading replaces it",
    )


def estimated_dose(puree: Sour, acidifier: str, target_ph: float) -> Estimate:
    """
    Acid that a litre of puree is likely to need to reach a pH.

    Parameters
    ----------
    puree : Sour
        As `puree_of` gives it.
    acidifier : str
        ``citric acid``, ``lemon juice`` or ``vinegar 5 %``.
    target_ph : float
        2.8 to 4.6. [1]

    Returns
    -------
    Estimate
        Dose into each litre: g of citric acid, mL of the others. Zero where the puree
        is as sour already.

    Raises
    ------
    OutOfRange
        If the acidifier cannot reach that pH.

    Notes
    -----
    A published dose is never made smaller by this.

    Examples
    --------
    >>> print(estimated_dose(puree_of(4.40, 3.0, "citric"), "citric acid", 4.1))
    1.0 g/L (0.48 to 1.7; an estimate: from pH 4.40 to 4.1 with citric acid)
    """
    target = _ph("target_ph", target_ph, 2.8, 4.6)
    now = ph_of(puree)

    def needed(ph: float) -> float:
        if now <= ph:
            return 0.0
        low, high = 0.0, 60.0 if acidifier == "citric acid" else 2000.0
        if ph_of(acidified(puree, acidifier, high)) > ph:
            raise OutOfRange(
                f"{acidifier} cannot bring pH {now:.2f} down to {ph:.2f}: take a "
                "stronger acid, or another fruit."
            )
        for _ in range(40):
            middle = 0.5 * (low + high)
            sour = ph_of(acidified(puree, acidifier, middle)) <= ph
            low, high = (low, middle) if sour else (middle, high)
        return 0.5 * (low + high)

    return Estimate(
        value=needed(target),
        unit="g/L" if acidifier == "citric acid" else "mL/L",
        low=needed(target + FOOD_OFF_PH),
        high=needed(target - FOOD_OFF_PH),
        basis=f"from pH {now:.2f} to {target:g} with {acidifier}",
        source="charge balance with Davies' activities; a meter reading replaces it",
    )
