"""
Acid: the pH of mixtures of weak acids, what titration finds, and what a dose does.

Charges balance: hydrogen and other cations against hydroxide and the anions of every
acid, with activity coefficients after Davies. Fruit binds a little acid beside, so that
what comes out for a puree is an `Estimate`. Only a calibrated meter counts, after the
acid has spread evenly; 4.6 is a legal line; and a published dose of acid stays.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, field

from stillroom.science._ranges import OutOfRange, within
from stillroom.science.estimate import Estimate

END_PH = 8.2
"""End point of a titration with phenolphthalein."""
_WATER_PKW = 13.995
_DAVIES = "Davies' equation, ionic strength up to 0.5 mol/L"
FOOD_OFF_PH = 0.15
"""What solids and pectin bind, in pH: from memory."""


@dataclass(frozen=True, slots=True)
class WeakAcid:
    """An acid with its dissociation constants at 25 °C and zero ionic strength."""

    pka: tuple[float, ...]
    molar_mass_g: float
    groups: int
    """Acid groups that a titration to pH 8.2 counts."""

    @property
    def equivalent_g(self) -> float:
        """Grams that one mole of base neutralises. [g/eq]"""
        return self.molar_mass_g / self.groups


# pKa: acid dissociation constants at 25 °C, an open chemistry textbook's appendix;
# malic, tartaric, lactic and oxalic from the organic acids table of a hydrochemistry
# site.
# The third of phosphoric acid, 12.32, is from memory; it does not matter below pH 9.
ACIDS: Mapping[str, WeakAcid] = {
    "acetic": WeakAcid((4.756,), 60.052, 1),
    "citric": WeakAcid((3.13, 4.76, 6.40), 192.124, 3),
    "malic": WeakAcid((3.40, 5.20), 134.087, 2),
    "tartaric": WeakAcid((2.98, 4.34), 150.087, 2),
    "lactic": WeakAcid((3.86,), 90.078, 1),
    "oxalic": WeakAcid((1.27, 4.26), 90.035, 2),
    "phosphoric": WeakAcid((2.16, 7.21, 12.32), 97.994, 2),
    "formic": WeakAcid((3.75,), 46.026, 1),
    "benzoic": WeakAcid((4.204,), 122.121, 1),
    "boric": WeakAcid((9.27,), 61.833, 0),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Sour:
    """
    What is sour in a litre of juice, puree, vinegar or brine.

    Parameters
    ----------
    acids : mapping of str to float
        Total of each acid of `ACIDS`, dissociated or not, 0 to 5. [mol/L]
    cations_mol_per_l : float
        Strong cations (potassium, sodium) less strong anions, -1 to 2: salts of the
        fruit's own acids, base that was added, or, negative, a strong acid. [mol/L]

    Raises
    ------
    OutOfRange
        If an acid is not known, or a figure lies outside its range.
    """

    acids: Mapping[str, float] = field(default_factory=dict)
    cations_mol_per_l: float = 0.0

    def __post_init__(self) -> None:
        for name, total in self.acids.items():
            if name not in ACIDS:
                raise OutOfRange(
                    f"no constants are known for {name!r} acid: give one of "
                    f"{', '.join(ACIDS)}."
                )
            within(
                f"{name} acid, mol/L",
                total,
                0.0,
                5.0,
                source="sour foods",
                hint="Give mol/L: 5 % vinegar is 0.833 of acetic.",
            )
        within(
            "cations_mol_per_l",
            self.cations_mol_per_l,
            -1.0,
            2.0,
            source="sour foods",
            hint="Give mol/L of strong cations less strong anions.",
        )

    def with_more(self, other: Sour, share: float) -> Sour:
        """
        Mix of one litre of this and ``share`` litres of the other, per litre of both.

        >>> vinegar = Sour(acids={"acetic": 0.8})
        >>> vinegar.with_more(Sour(), 1.0).acids
        {'acetic': 0.4}
        """
        whole = 1.0 + within(
            "share", share, 0.0, 100.0, source="mixtures", hint="Give L per L."
        )
        names = dict.fromkeys((*self.acids, *other.acids))
        return Sour(
            acids={
                name: (self.acids.get(name, 0.0) + share * other.acids.get(name, 0.0))
                / whole
                for name in names
            },
            cations_mol_per_l=(self.cations_mol_per_l + share * other.cations_mol_per_l)
            / whole,
        )


VINEGAR_5_PERCENT = Sour(acids={"acetic": 50.0 / 60.052})
"""Vinegar of 5 % acidity: 50 g of acetic acid in a litre, pH 2.42."""
LEMON_JUICE = Sour(acids={"citric": 0.26}, cations_mol_per_l=0.030)
"""Bottled lemon juice, about 50 g/L as citric acid, pH 2.3: from memory."""


def ph_of(sour: Sour) -> float:
    """
    Return the pH of a mixture of weak acids and their salts at 25 °C.

    Parameters
    ----------
    sour : Sour
        Acids and cations of a litre.

    Returns
    -------
    float
        pH, within 0.03 of printed tables; strong acid at 0.1 mol/L included.

    Raises
    ------
    OutOfRange
        If the ionic strength leaves the range of Davies' equation.

    Examples
    --------
    >>> print(f"{ph_of(VINEGAR_5_PERCENT):.2f}")
    2.42
    >>> print(f"{ph_of(Sour(acids={'citric': 0.01})):.2f}")
    2.62

    References
    ----------
    .. [1] Charge balance, solved by halving the interval; Davies (1962),
       log10 γ = -0.509 z² (√I/(1 + √I) - 0.3 I).
    """
    strength = 0.0
    for _ in range(60):
        low, high = -0.5, 14.0
        for _ in range(50):
            middle = 0.5 * (low + high)
            anions, _ = _anions(sour, middle, strength)
            if anions > sour.cations_mol_per_l:  # more base would be needed
                high = middle
            else:
                low = middle
        ph = 0.5 * (low + high)
        now = _strength(sour, ph, strength, sour.cations_mol_per_l)
        if abs(now - strength) < 1e-10:
            break
        strength = now
    _check_strength(strength)
    return ph


def cations_at(sour: Sour, ph: float) -> float:
    """
    Strong cations that would hold a mixture of acids at a pH.

    Parameters
    ----------
    sour : Sour
        Its acids count, its cations do not.
    ph : float
        1 to 10. [1]

    Returns
    -------
    float
        Net strong cations. [mol/L]

    Examples
    --------
    >>> sour = Sour(acids={"citric": 0.03}, cations_mol_per_l=0.04)
    >>> print(f"{cations_at(sour, ph_of(sour)):.4f} mol/L")
    0.0400 mol/L
    """
    needed, strength = _held_at(sour, _ph("ph", ph, 1.0, 10.0))
    _check_strength(strength)
    return needed


def titratable_acidity_g_per_l(sour: Sour, as_acid: str) -> float:
    """
    Acid that a titration to pH 8.2 finds, stated as one acid.

    Parameters
    ----------
    sour : Sour
        Acids and cations of a litre.
    as_acid : str
        Acid to state it as, one of `ACIDS`.

    Returns
    -------
    float
        Titratable acidity. [g/L]

    Examples
    --------
    >>> vinegar = titratable_acidity_g_per_l(VINEGAR_5_PERCENT, "acetic")
    >>> print(f"{vinegar:.0f} g/L as acetic acid")
    50 g/L as acetic acid
    """
    equivalents = _titrated(sour) - sour.cations_mol_per_l
    return equivalents * _acid(as_acid).equivalent_g


def titration_g_per_l(
    base_ml: float, base_mol_per_l: float, sample_ml: float, as_acid: str
) -> float:
    """
    Titratable acidity from the base that a sample took.

    Parameters
    ----------
    base_ml, base_mol_per_l : float
        Sodium hydroxide used, 0 to 1 000, and its strength, 0.01 to 2. [mL], [mol/L]
    sample_ml : float
        Juice that was titrated, 0.1 to 1 000. [mL]
    as_acid : str
        Acid to state it as.

    Returns
    -------
    float
        Titratable acidity. [g/L]

    Examples
    --------
    >>> print(f"{titration_g_per_l(12.0, 0.1, 15.0, 'tartaric'):.1f} g/L")
    6.0 g/L

    References
    ----------
    .. [1] mL x mol/L x equivalent weight over mL of sample.
    """
    base = _positive("base_ml", base_ml, 0.0, 1000.0)
    strength = _positive("base_mol_per_l", base_mol_per_l, 0.01, 2.0)
    sample = _positive("sample_ml", sample_ml, 0.1, 1000.0)
    return base * strength * _acid(as_acid).equivalent_g / sample


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


def acidified(puree: Sour, agent: str, dose: float) -> Sour:
    """
    A litre of puree with a dose of acid stirred in.

    Parameters
    ----------
    puree : Sour
        As `puree_of` gives it.
    agent : str
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
    if agent == "citric acid":
        more = dict(puree.acids)
        more["citric"] = more.get("citric", 0.0) + much / ACIDS["citric"].molar_mass_g
        return Sour(acids=more, cations_mol_per_l=puree.cations_mol_per_l)
    if agent == "lemon juice":
        return puree.with_more(LEMON_JUICE, much / 1000.0)
    if agent == "vinegar 5 %":
        return puree.with_more(VINEGAR_5_PERCENT, much / 1000.0)
    raise OutOfRange(
        f"no acid is known as {agent!r}: give citric acid, lemon juice or vinegar 5 %."
    )


def estimated_ph(puree: Sour, agent: str, dose: float) -> Estimate:
    """
    The pH to expect once a dose of acid has spread through a puree.

    Parameters
    ----------
    puree, agent, dose
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
    value = ph_of(acidified(puree, agent, dose))
    return Estimate(
        value=value,
        unit="1",
        low=value - FOOD_OFF_PH,
        high=value + FOOD_OFF_PH,
        basis=f"{dose:g} of {agent} to a litre",
        source="charge balance with Davies' activities; a meter reading replaces it",
    )


def estimated_dose(puree: Sour, agent: str, target_ph: float) -> Estimate:
    """
    Acid that a litre of puree is likely to need to reach a pH.

    Parameters
    ----------
    puree : Sour
        As `puree_of` gives it.
    agent : str
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
        If the agent cannot reach that pH.

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
        low, high = 0.0, 60.0 if agent == "citric acid" else 2000.0
        if ph_of(acidified(puree, agent, high)) > ph:
            raise OutOfRange(
                f"{agent} cannot bring pH {now:.2f} down to {ph:.2f}: take a stronger "
                "acid, or another fruit."
            )
        for _ in range(40):
            middle = 0.5 * (low + high)
            sour = ph_of(acidified(puree, agent, middle)) <= ph
            low, high = (low, middle) if sour else (middle, high)
        return 0.5 * (low + high)

    return Estimate(
        value=needed(target),
        unit="g/L" if agent == "citric acid" else "mL/L",
        low=needed(target + FOOD_OFF_PH),
        high=needed(target - FOOD_OFF_PH),
        basis=f"from pH {now:.2f} to {target:g} with {agent}",
        source="charge balance with Davies' activities; a meter reading replaces it",
    )


def _titrated(sour: Sour) -> float:
    """
    Cations that hold the acids at the end point of a titration. [mol/L]

    A strong sample is thinned first, as at the bench, so that Davies' equation holds.
    """
    thinner = max(1.0, sum(sour.acids.values()) / 0.05)
    thin = Sour(acids={name: total / thinner for name, total in sour.acids.items()})
    return thinner * cations_at(thin, END_PH)


def _held_at(sour: Sour, ph: float) -> tuple[float, float]:
    """Cations that hold the acids at a pH, and the ionic strength. [mol/L]"""
    strength = needed = 0.0
    for _ in range(60):
        needed, _ = _anions(sour, ph, strength)
        now = _strength(sour, ph, strength, needed)
        if abs(now - strength) < 1e-12:
            break
        strength = now
    return needed, strength


def _anions(sour: Sour, ph: float, strength: float) -> tuple[float, float]:
    """Charge of anions less hydrogen, and the sum of c z² of all of them. [mol/L]"""
    bend = _bend(strength)
    hydrogen = 10.0 ** (bend - ph)  # concentration: activity over its coefficient
    hydroxide = 10.0 ** (bend + ph - _WATER_PKW)
    charge, squares = hydroxide - hydrogen, hydroxide + hydrogen
    for name, total in sour.acids.items():
        shares, share = [1.0], 1.0
        for step, pka in enumerate(ACIDS[name].pka, start=1):
            share *= 10.0 ** (ph - pka + bend * (2 * step - 1))
            shares.append(share)
        whole = sum(shares)
        for step, share in enumerate(shares):
            charge += total * step * share / whole
            squares += total * step**2 * share / whole
    return charge, squares


def _strength(sour: Sour, ph: float, strength: float, cations: float) -> float:
    now = 0.5 * (_anions(sour, ph, strength)[1] + abs(cations))
    # Beyond the range the parabola of Davies would run away before it is refused.
    return min(now, 1.0)


def _bend(strength: float) -> float:
    """Davies: minus log10 of the activity coefficient of a single charge."""
    root = math.sqrt(strength)
    return 0.509 * (root / (1.0 + root) - 0.3 * strength)


def _check_strength(strength: float) -> None:
    within(
        "ionic strength, mol/L",
        strength,
        0.0,
        0.5,
        source=_DAVIES,
        hint="Thin it in thought: such a mixture has no pH that this equation knows.",
    )


def _acid(name: str) -> WeakAcid:
    if name not in ACIDS or not ACIDS[name].groups:
        raise OutOfRange(
            f"acidity cannot be stated as {name!r}: give citric, malic, tartaric, "
            "acetic or lactic."
        )
    return ACIDS[name]


def _ph(name: str, ph: float, low: float, high: float) -> float:
    return within(
        name, ph, low, high, source="foods", hint="Give the pH of the cooled sample."
    )


def _positive(name: str, value: float, low: float, high: float) -> float:
    return within(
        name,
        value,
        low,
        high,
        source="kitchens and their test kits",
        hint="Give the figure in the unit that its name ends in.",
    )
