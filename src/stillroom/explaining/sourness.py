"""What acid does to the pH of a puree, with the published dose beside it."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy import float64
from numpy.typing import NDArray

from stillroom.book.acid import AcidDose, acid_rules
from stillroom.explaining.asking import Given
from stillroom.explaining.explanation import (
    Explanation,
    Figure,
    Mark,
    Picture,
    Table,
    estimated,
    line,
)
from stillroom.measures import mixed_number
from stillroom.refusal import Caution, Refusal
from stillroom.science import acid
from stillroom.science.estimate import Estimate
from stillroom.science.puree import acidified, estimated_dose, estimated_ph, puree_of
from stillroom.science.ranges import OutOfRange

ASKS = (
    *("puree_ph", "acidity", "main_acid", "acidifier", "target"),
    *("base_ml", "base_strength", "sample_ml"),
)
NEVER_LESS = Caution(
    "where a dose is published it goes into every jar, whatever is reckoned or "
    "measured; more is allowed, less never",
    "USDA Complete Guide, Guide 3",
)
ACID_BELOW_PH = 4.6


@dataclass(frozen=True, slots=True, kw_only=True)
class _Puree:
    """A puree as it was asked about, and what a dose does to it."""

    ph: float
    acidity: float
    """As its main acid. [g/L]"""
    main: str
    sour: acid.Sour
    acidifier: str
    target: float
    dose: Estimate
    """To the litre."""

    @property
    def dosed(self) -> str:
        """Unit of the dose, without its litre."""
        return self.dose.unit.split("/")[0]


def explain(given: Given) -> Explanation | Refusal:
    """Say how far a dose brings the pH down, and how sour the puree is."""
    it = _asked(given)
    if isinstance(it, Refusal):
        return it
    doses = np.linspace(0.0, _drawn_to(it.dose), 30)
    curve = [estimated_ph(it.sour, it.acidifier, float(dose)) for dose in doses]
    in_quart = acid_rules()["tomato"].in_jar("quart")
    return Explanation(
        topic="acid",
        title="What acid does to the pH",
        sentence=f"From pH {it.ph:g} to {it.target:g} a litre takes about "
        f"{_said(it.dose.value)} {it.dosed} of {it.acidifier} "
        f"({_said(it.dose.low)} to {_said(it.dose.high)}): an estimate, never a dose "
        "to can by.",
        more=_more(in_quart),
        figures=_figures(it),
        picture=_picture(it, doses, curve),
        table=Table(
            caption="pH by dose",
            heads=(f"{it.acidifier}, {it.dose.unit}", "pH", "spread"),
            rows=tuple(
                (
                    _said(float(dose)),
                    f"{ph.value:.2f}",
                    f"{ph.low:.2f} to {ph.high:.2f}",
                )
                for dose, ph in list(zip(doses, curve, strict=True))[::5]
            ),
        ),
        cautions=(NEVER_LESS,),
        source=f"{it.dose.source}; doses: {in_quart[0].source}",
        estimate=True,
    )


def _asked(given: Given) -> _Puree | Refusal:
    main, acidifier = given["main_acid"], given["acidifier"]
    ph, target, acidity = given["puree_ph"], given["target"], _acidity(given)
    try:
        sour = puree_of(ph, acidity, main)
        dose = estimated_dose(sour, acidifier, target)
    except OutOfRange:
        return Refusal(
            f"pH {ph:g} with {acidity:g} g/L of {main} acid is not brought to "
            f"{target:g} by {acidifier} in any way that can be reckoned",
            instead="measure pH and acidity once more, or take another acid",
            source="charge balance with Davies' activities",
        )
    return _Puree(
        ph=ph,
        acidity=acidity,
        main=main,
        sour=sour,
        acidifier=acidifier,
        target=target,
        dose=dose,
    )


def _acidity(given: Given) -> float:
    """Titrated where that was done, else as it was given. [g/L]"""
    if not given.has("base_ml"):
        return float(given["acidity"])
    base = given["base_ml"], given["base_strength"]
    return float(acid.titration_g_per_l(*base, given["sample_ml"], given["main_acid"]))


def _drawn_to(dose: Estimate) -> float:
    return max(2.0 * dose.value, 4.0 if dose.unit == "g/L" else 60.0)


def _more(in_quart: tuple[AcidDose, ...]) -> tuple[str, ...]:
    doses = (f"{mixed_number(one.quantity)} {one.unit} {one.acid}" for one in in_quart)
    return (
        "pH says how sour it is now, acidity how much acid is behind it. A fruit "
        "with much acid holds its pH, so the same spoon moves it less.",
        "Published doses for tomatoes, whatever their pH, in each quart: "
        f"{', or '.join(doses)}.",
        "Sour food may be put up in boiling water only below pH 4.6, and only by a "
        "published process that counts the dose; a meter does not replace either.",
    )


def _figures(it: _Puree) -> tuple[Figure, ...]:
    held = float(acid.cations_at(it.sour, it.ph))
    after = acid.titratable_acidity_g_per_l(
        acidified(it.sour, it.acidifier, it.dose.value), it.main
    )
    return (
        estimated(f"{it.acidifier.capitalize()} to a litre", it.dose, it.dosed),
        Figure(label=f"Acidity now, as {it.main} acid", value=it.acidity, unit="g/L"),
        Figure(label="Acidity after that dose", value=float(after), unit="g/L"),
        Figure(label="Salts that hold the pH up", value=1000 * held, unit="mmol/L"),
        Figure(
            label="pH of bottled lemon juice, reckoned",
            value=acid.ph_of(acid.LEMON_JUICE),
            unit="pH",
        ),
        Figure(
            label="pH of 5 % vinegar, reckoned",
            value=acid.ph_of(acid.VINEGAR_5_PERCENT),
            unit="pH",
        ),
    )


def _picture(it: _Puree, doses: NDArray[float64], curve: list[Estimate]) -> Picture:
    return Picture(
        title=f"pH by {it.acidifier} in a litre",
        desc=f"The pH falls from {it.ph:g}, steeply at first, then more slowly; the "
        f"band is what solids and pectin may do. pH {ACID_BELOW_PH} is the "
        "published line between acid and low-acid food.",
        x_label=f"{it.acidifier}, {it.dose.unit}",
        y_label="pH",
        lines=(
            line(
                "pH, an estimate",
                doses,
                [one.value for one in curve],
                [one.low for one in curve],
                [one.high for one in curve],
            ),
        ),
        marks=(
            Mark(text="4.6: acid food lies below", at=ACID_BELOW_PH, upright=False),
            Mark(text="pH asked for", at=it.target, upright=False, published=False),
        ),
    )


def _said(dose: float) -> str:
    return f"{dose:.0f}" if dose >= 20 else f"{dose:.1f}"
