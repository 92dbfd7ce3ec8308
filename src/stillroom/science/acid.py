"""
Acid: the pH of mixtures of weak acids, and what a titration finds.

Charges balance: hydrogen and other cations against hydroxide and the anions of every
acid, with activity coefficients after Davies.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, field

from stillroom.science.ranges import OutOfRange, within

END_PH = 8.2
"""End point of a titration with phenolphthalein."""
_WATER_PKW = 13.995
_DAVIES = "Davies' equation, ionic strength up to 0.5 mol/L"


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
