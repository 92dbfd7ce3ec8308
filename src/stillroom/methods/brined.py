"""
Fermenting in salt: sauerkraut and dill pickles, by the weight of the vegetable.

The day ends with the crock weighted down; the weeks after it are said as what comes
later. The strength of the brine is worked out for when salt and water have come to
rest, and stands beside the printed dose.
"""

from __future__ import annotations

import math
from dataclasses import replace

from stillroom.book.brines import Brine, brine_of
from stillroom.book.procedures import Procedure
from stillroom.book.processes import process_for
from stillroom.jar_count import counted
from stillroom.measures import POUND_KG, both, kelvin, mixed_number
from stillroom.methods import hand_steps as cold
from stillroom.methods import handling as hand
from stillroom.methods.method import (
    Checked,
    Filling,
    Kept,
    Later,
    Material,
    Part,
    Recipe,
    Station,
    Work,
    Yield,
)
from stillroom.methods.multiples import so_many_times
from stillroom.methods.portions import (
    printed_yield,
    quantity_words,
    uses,
    weight_words,
)
from stillroom.methods.step import Link, Skill, Step
from stillroom.refusal import COMMON_PRACTICE, Caution, Refusal
from stillroom.science.solutions import salt_share

NAME = "brined"
KEPT = Kept.COLD
PER_JAR = False
PACK = None
STANDS = "in the crock"
"""Where it stands when its steps of the day are over, in no closed jar yet."""
TROUBLES = ("soft-pickle", "mould")
"""Rows of the table of troubles that belong to it; bubbles are wanted here."""

MOST_BATCHES = 4
SHRED_MIN = (3.0, 2.5)
LAYER_MIN = (2.0, 1.5)
WEIGH_DOWN_MIN = 10
WEEK_H = 7 * 24.0
_TBSP_TO_A_CUP = 16
CROCK = Caution(
    "stoneware without lead glaze, glass or food-grade plastic; no copper, iron or "
    "galvanised metal",
    "Penn State Extension, Quick process pickles",
)
DISCARD = Caution(
    "soft, slimy, mouldy through or bad-smelling: discarded, untasted",
    "USDA Complete Guide to Home Canning (AIB 539) Guide 6; North Dakota State Univ. "
    "Extension",
)
UNDER = Caution(
    "all of it stays 1 to 2 inches under its brine till the end",
    "North Dakota State Univ. Extension, fermented vegetables",
)


def scale(procedure: Procedure, multiple: int) -> Recipe | Refusal:
    """
    Return the procedure taken so many times, salted by weight.

    Where a total and a dose by weight are both printed and differ, the stronger salt is
    taken and both are shown.
    """
    brine = brine_of(procedure.id)
    if isinstance(brine, Refusal):
        return brine
    made = so_many_times(
        procedure, multiple, most=MOST_BATCHES, source=str(brine.source)
    )
    return made if isinstance(made, Refusal) else _salted(made, brine)


def _salted(recipe: Recipe, brine: Brine) -> Recipe:
    """Take the printed dose by weight where it is the stronger of two."""
    if brine.dose_tbsp is None or brine.dose_per_lb is None:
        return recipe
    (salt,) = recipe.of_role("salt")
    pounds = (recipe.base.mass_kg or 0.0) / float(POUND_KG)
    printed = salt.quantity * _TBSP_TO_A_CUP
    by_weight = round(brine.dose_tbsp * pounds / brine.dose_per_lb, 2)
    if by_weight <= printed:
        return recipe
    dosed = replace(
        salt,
        quantity=by_weight,
        unit="tbsp",
        mass_kg=(salt.mass_kg or 0.0) * by_weight / printed,
        volume_m3=(salt.volume_m3 or 0.0) * by_weight / printed,
    )
    vegetable = recipe.base.mass_kg or 0.0
    both = Caution(
        f"two doses are printed: {quantity_words(salt)} in all "
        f"({_percent((salt.mass_kg or 0.0) / vegetable)} of the {recipe.base.name}) "
        f"and {brine.dose_tbsp:g} tbsp to {brine.dose_per_lb:g} lb "
        f"({_percent((dosed.mass_kg or 0.0) / vegetable)}); the stronger is taken",
        str(brine.source),
    )
    return replace(
        recipe,
        parts=tuple(dosed if part is salt else part for part in recipe.parts),
        cautions=(*recipe.cautions, both),
    )


def _percent(share: float) -> str:
    return f"{100 * share:.1f} %"


def materials(recipe: Recipe, jar: str, jars: int) -> tuple[Material, ...]:
    """Return vegetable, salt, vinegar, spices; jars and lids come when it is done."""
    del jar, jars
    return uses(recipe)


def salt_kg(recipe: Recipe) -> float:
    """All the salt. [kg]"""
    return sum(part.mass_kg or 0.0 for part in recipe.of_role("salt"))


def _poured_kg(recipe: Recipe) -> float:
    """Water and vinegar that are poured on. [kg]"""
    return sum(part.mass_kg or 0.0 for part in recipe.of_role("liquid", "acid"))


def dose_of_vegetable(recipe: Recipe) -> float:
    """Salt as a share of the vegetable's weight: the way a dose is printed. [1]"""
    return salt_kg(recipe) / (recipe.base.mass_kg or 1.0)


def brine_as_poured(recipe: Recipe) -> float | None:
    """Strength of the brine that is poured on, by weight; `None` where none is. [1]"""
    water = _poured_kg(recipe)
    return float(salt_share(salt_kg(recipe), water)) if water else None


def brine_at_rest(recipe: Recipe, brine: Brine) -> float:
    """
    Strength of the brine once the vegetable's own water shares the salt. [1]

    Salt over salt, water and the water of the vegetable, all by weight.
    """
    own = (recipe.base.mass_kg or 0.0) * brine.vegetable_water
    return float(salt_share(salt_kg(recipe), _poured_kg(recipe) + own))


def checks(recipe: Recipe, station: Station) -> Checked | Refusal:
    """Return the brine's strength and the weeks that it takes; no fire is needed."""
    brine = brine_of(recipe.procedure.id)
    if isinstance(brine, Refusal):
        return brine
    poured = brine_as_poured(recipe)
    outlook = (
        f"makes a brine of {_percent(brine_at_rest(recipe, brine))} w/w at rest, by "
        f"the water of "
        f"the {recipe.base.name}"
        + (f", {_percent(poured)} as poured" if poured else "")
        + f"; salt {_percent(dose_of_vegetable(recipe))} of its weight; {brine.warm}, "
        f"{brine.cool}"
    )
    return cold.no_fire_needed(
        recipe,
        station,
        outlook,
        CROCK,
        UNDER,
        Caution(
            f"above {both(kelvin(brine.too_warm_f), 0)} it goes soft", str(brine.source)
        ),
        DISCARD,
    )


def expected_yield(recipe: Recipe, jar: str) -> Yield | Refusal:
    """Return the printed yield, in the jars it will go into when it is done."""
    return printed_yield(
        recipe,
        jar,
        instead="count what the first crock fills",
        least=0.85,
        most=1.05,
        basis="the printed yield, trim and scum take up to 15 % "
        f"({COMMON_PRACTICE}); counted when it is done",
    )


def steps(recipe: Recipe, station: Station, filling: Filling) -> Work | Refusal:
    """Return the steps of the day: cut, salt, pack, weigh down."""
    brine = brine_of(recipe.procedure.id)
    if isinstance(brine, Refusal):
        return brine
    made = [_wash_crock(recipe), _cut(recipe), _weigh_salt(recipe)]
    links = [
        Link(before="weigh_salt", after="pack"),
        Link(before="wash_crock", after="pack"),
        Link(before="cut", after="pack", at_most_min=60, why="cut cabbage dries"),
    ]
    if _poured_kg(recipe):
        made.append(_stir_brine(recipe))
        links += [
            Link(before="weigh_salt", after="stir_brine"),
            Link(before="stir_brine", after="weigh_down"),
        ]
    made += [_pack(recipe), _weigh_down(recipe, brine)]
    links.append(Link(before="pack", after="weigh_down", at_most_min=30))
    return Work(
        steps=tuple(made),
        links=tuple(links),
        ready_after="weigh_down",
        closed_wait_at_most_min=0,
        later=_later(recipe, brine, station, filling),
    )


def _wash_crock(recipe: Recipe) -> Step:
    gallons = math.ceil((recipe.base.mass_kg or 0.0) / float(POUND_KG) / 5 - 1e-9)
    return cold.by_hand(
        "wash_crock",
        "Wash the crock, its plate and weight",
        "scalded, no crack in the glaze",
        hand.for_count((4.0, 1.0), gallons),
        note=f"about {counted(gallons, 'gallon')} of room: 5 lb to a gallon, "
        f"{COMMON_PRACTICE}",
    )


def _cut(recipe: Recipe) -> Step:
    kilos = recipe.base.mass_kg or 0.0
    return cold.by_hand(
        "cut",
        f"Trim and prepare the {recipe.base.name}",
        recipe.procedure.base_prep,
        hand.for_count(SHRED_MIN, kilos),
        skill=Skill.KNIFE,
        note=f"{weight_words(kilos, metric=recipe.metric)} after trimming",
    )


def _weigh_salt(recipe: Recipe) -> Step:
    said = " · ".join(_salt_words(part) for part in recipe.of_role("salt"))
    return cold.by_hand(
        "weigh_salt",
        "Weigh the salt",
        "canning salt, without iodine",
        3,
        note=said,
    )


def _salt_words(part: Part) -> str:
    grams = 1000 * (part.mass_kg or 0.0)
    return f"{mixed_number(part.quantity)} {part.unit} {part.name} ({grams:.0f} g)"


def _stir_brine(recipe: Recipe) -> Step:
    return cold.by_hand(
        "stir_brine",
        "Stir salt and vinegar into the water",
        "clear, no grain at the bottom",
        5,
        note=" · ".join(
            f"{quantity_words(part)} {part.name}"
            for part in recipe.of_role("liquid", "acid")
        ),
    )


def _pack(recipe: Recipe) -> Step:
    return cold.by_hand(
        "pack",
        f"Pack the crock: {recipe.procedure.order_of_adding}",
        "pressed down"
        if _poured_kg(recipe)
        else "its own juice covers it when pressed",
        hand.for_count(LAYER_MIN, recipe.base.mass_kg or 0.0),
        note="leave a hand's breadth below the rim",
        put_up=True,
    )


def _weigh_down(recipe: Recipe, brine: Brine) -> Step:
    more = brine.top_up_tbsp_per_quart
    return cold.by_hand(
        "weigh_down",
        "Plate and weight on, cover with a cloth",
        "brine stands 1 to 2 inches over it",
        WEIGH_DOWN_MIN,
        note=f"too little juice: boiled and cooled brine, {mixed_number(more)} tbsp "
        "salt to a quart of water"
        if more
        else f"all the brine over the {recipe.base.name}",
    )


def _later(
    recipe: Recipe, brine: Brine, station: Station, filling: Filling
) -> tuple[Later, ...]:
    name = recipe.procedure.name
    verb = "are" if name.endswith("s") else "is"
    done = f"{brine.warm}, or {brine.cool}"
    return (
        Later(
            after_h=3 * 24.0,
            text=f"Look at the {name} {brine.look} a week: skim off scum, keep it "
            f"under its brine, below {both(kelvin(brine.too_warm_f), 0)}.",
            source=str(brine.source),
        ),
        Later(
            after_h=brine.warm.low_weeks * WEEK_H,
            text=f"{verb.capitalize()} the {name} done? {done}; done when no more "
            "bubbles rise.",
            source=str(brine.source),
        ),
        Later(
            after_h=brine.cool.high_weeks * WEEK_H,
            text=f"The {name} {verb} done at the latest: "
            + _afterwards(recipe, brine, station, filling),
            source=str(brine.source),
        ),
    )


def _afterwards(
    recipe: Recipe, brine: Brine, station: Station, filling: Filling
) -> str:
    """Keep it cold, or can it by its own published rows."""
    keeps = (
        f"refrigerate it in its own brine, {brine.keeps_months[0]} to "
        f"{brine.keeps_months[1]} months"
        if brine.keeps_months
        else "refrigerate it in its own brine"
    )
    rows = [
        f"{process.pack} pack {process.total_min} min"
        for pack in ("hot", "raw")
        if not isinstance(
            process := process_for(
                recipe.procedure.name,
                jar=filling.jar,
                elevation_ft=station.air.elevation_ft,
                pack=pack,
            ),
            Refusal,
        )
    ]
    if not rows:
        return f"{keeps}; no process for it was looked up, so it is not canned"
    return f"{keeps}; or can it in {filling.jar} jars: {', '.join(rows)} here"
