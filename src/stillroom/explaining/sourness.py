"""What acid does to the pH of a puree, with the published dose beside it."""

from __future__ import annotations

import numpy as np

from stillroom.book.acid import acid_rules
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
from stillroom.science import acid, puree
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


def explain(given: Given) -> Explanation | Refusal:
    """Say how far a dose brings the pH down, and how sour the puree is."""
    main, acidifier = given["main_acid"], given["acidifier"]
    if given.has("base_ml"):
        acidity = float(
            acid.titration_g_per_l(
                given["base_ml"], given["base_strength"], given["sample_ml"], main
            )
        )
    else:
        acidity = float(given["acidity"])
    ph, target = given["puree_ph"], given["target"]
    try:
        sour = puree.puree_of(ph, acidity, main)
        dose = puree.estimated_dose(sour, acidifier, target)
    except OutOfRange:
        return Refusal(
            f"pH {ph:g} with {acidity:g} g/L of {main} acid is not brought to "
            f"{target:g} by {acidifier} in any way that can be reckoned",
            instead="measure pH and acidity once more, or take another acid",
            source="charge balance with Davies' activities",
        )
    unit = dose.unit
    reach = max(2.0 * dose.value, 4.0 if unit == "g/L" else 60.0)
    doses = np.linspace(0.0, reach, 30)
    curve = [puree.estimated_ph(sour, acidifier, float(one)) for one in doses]
    in_quart = acid_rules()["tomato"].in_jar("quart")
    held = float(acid.cations_at(sour, ph))
    after = acid.titratable_acidity_g_per_l(
        puree.acidified(sour, acidifier, dose.value), main
    )
    return Explanation(
        topic="acid",
        title="What acid does to the pH",
        sentence=f"From pH {ph:g} to {target:g} a litre takes about "
        f"{_said(dose.value)} {unit.split('/')[0]} of {acidifier} "
        f"({_said(dose.low)} to {_said(dose.high)}): an estimate, never a dose to can "
        "by.",
        more=(
            "pH says how sour it is now, acidity how much acid is behind it. A fruit "
            "with much acid holds its pH, so the same spoon moves it less.",
            "Published doses for tomatoes, whatever their pH, in each quart: "
            + ", or ".join(
                f"{mixed_number(one.quantity)} {one.unit} {one.acid}"
                for one in in_quart
            )
            + ".",
            "Sour food may be put up in boiling water only below pH 4.6, and only by a "
            "published process that counts the dose; a meter does not replace either.",
        ),
        figures=(
            estimated(f"{acidifier.capitalize()} to a litre", dose, unit.split("/")[0]),
            Figure(label=f"Acidity now, as {main} acid", value=acidity, unit="g/L"),
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
        ),
        picture=Picture(
            title=f"pH by {acidifier} in a litre",
            desc=f"The pH falls from {ph:g}, steeply at first, then more slowly; the "
            f"band is what solids and pectin may do. pH {ACID_BELOW_PH} is the "
            "published line between acid and low-acid food.",
            x_label=f"{acidifier}, {unit}",
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
                Mark(text="pH asked for", at=target, upright=False, published=False),
            ),
        ),
        table=Table(
            caption="pH by dose",
            heads=(f"{acidifier}, {unit}", "pH", "spread"),
            rows=tuple(
                (
                    _said(float(one)),
                    f"{ph_.value:.2f}",
                    f"{ph_.low:.2f} to {ph_.high:.2f}",
                )
                for one, ph_ in list(zip(doses, curve, strict=True))[::5]
            ),
        ),
        cautions=(NEVER_LESS,),
        source=f"{dose.source}; doses: {in_quart[0].source}",
        estimate=True,
    )


def _said(dose: float) -> str:
    return f"{dose:.0f}" if dose >= 20 else f"{dose:.1f}"
