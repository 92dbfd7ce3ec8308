"""
What is put up without a canner, as procedures like any tested recipe.

The tables of freezing, drying and rendering hold one row a food. Each row becomes a
procedure for one pint's or one pound's worth, which may be taken so many times.
"""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction

from stillroom.book.calcium_pectin import asks_for_calcium_pectin, no_tested_recipe
from stillroom.book.densities import cup_weight
from stillroom.book.drying import Drying, drying_for, dryings
from stillroom.book.freezing_packs import (
    FreezingPack,
    freezer_headspace_in,
    freezing_pack_for,
    freezing_packs,
)
from stillroom.book.procedure_table import Ingredient, Procedure
from stillroom.book.rendering import YIELD_SOURCE, Rendering, rendering_for, renderings
from stillroom.book.words import plain
from stillroom.measures import CUP_M3, POUND_KG, minutes_said
from stillroom.refusal import COMMON_PRACTICE, Caution, Refusal

FREEZE = "freeze"
DRY = "dry"
RENDER_FAT = "render_fat"
CALCIUM_PECTIN = "calcium_pectin"
WAYS_WITHOUT_A_CANNER: Mapping[str, str] = {
    FREEZE: "freezing",
    DRY: "drying",
    RENDER_FAT: "rendering, and keep it cold",
    CALCIUM_PECTIN: "jelly and jam with pectin that sets by calcium",
}
"""Names of methods beside those of the table of recipes, and what they mean."""

BOXES = ("pint", "quart")
"""Sizes that a freezer headspace is printed for."""
_SYRUP_CUP = Fraction(1, 3)
"""Sugar, and water, for a pint of berries: what the berries leave room for."""
_WATER_CUP_PER_LB = Fraction(1, 12)
"""1/4 cup for 3 lb of fat, so that it does not scorch before it melts."""
_LID_OFF = Caution(
    "frozen, not processed: thaw it cold, and use it at once",
    COMMON_PRACTICE,
)
_NEVER_SHELF = Caution(
    "never sealed for the shelf: no process for rendered fat is published in this book",
    "the book's table of processes",
)


def procedure_without_canner(name: str) -> Procedure | Refusal | None:
    """
    Return how a product that needs no canner is put up.

    Parameters
    ----------
    name : str
        "frozen green beans", "dried apples", "lard".

    Returns
    -------
    Procedure or Refusal or None
        `None` where the name asks for nothing of the kind.

    Examples
    --------
    >>> procedure_without_canner("frozen green beans").id
    'freeze-green-beans'
    >>> procedure_without_canner("plum jelly") is None
    True
    """
    if asks_for_calcium_pectin(name):
        return no_tested_recipe(name)
    first, *rest = plain(name).split() or [""]
    if first in ("frozen", "freeze") and rest:
        pack = freezing_pack_for(name)
        return pack if isinstance(pack, Refusal) else freezing_procedure(pack)
    if first == "dried":
        drying = drying_for(name)
        return None if isinstance(drying, Refusal) else drying_procedure(drying)
    fat = rendering_for(name)
    return None if isinstance(fat, Refusal) else rendering_procedure(fat)


def no_process_without_canner(name: str) -> Refusal | None:
    """
    Return why goods that are frozen, dried or rendered have no process.

    Examples
    --------
    >>> no_process_without_canner("lard").reason
    'no process in a canner is published for lard'
    >>> no_process_without_canner("plum jelly") is None
    True
    """
    procedure = procedure_without_canner(name)
    if procedure is None or isinstance(procedure, Refusal):
        return procedure
    return Refusal(
        f"no process in a canner is published for {procedure.name}",
        instead=f"put it up by {WAYS_WITHOUT_A_CANNER[procedure.method]}; "
        f'`stillroom book "{procedure.name}"` says how',
        source=procedure.source,
    )


def names_without_canner() -> tuple[str, ...]:
    """
    Return the names of all products that need no canner, those refused too.

    Examples
    --------
    >>> "lard" in names_without_canner()
    True
    """
    return (
        *(pack.name for pack in freezing_packs()),
        *(drying.name for drying in dryings()),
        *(fat.name for fat in renderings()),
    )


def freezing_procedure(pack: FreezingPack) -> Procedure | Refusal:
    """Return a freezing pack as a procedure for one pint."""
    headspace = freezer_headspace_in(pack.pack, "pint")
    if isinstance(headspace, Refusal):
        return headspace
    if pack.fill_kg_per_pint is None or pack.fill_source is None:
        return Refusal(
            f"how much of {pack.food} fills a pint is not in the book",
            instead="weigh what fills one box; blanch and pack it by hand meanwhile",
            source=str(pack.source),
        )
    food = Ingredient(
        name=pack.food,
        quantity=_pounds(pack.fill_kg_per_pint),
        unit="lb",
        mass_kg=pack.fill_kg_per_pint,
        mass_known=pack.fill_source.how_known,
        prep=pack.prep,
        role="fruit",
        optional=False,
        note=str(pack.fill_source),
        per="pint",
    )
    return Procedure(
        id=f"{FREEZE}-{pack.id}",
        name=pack.name,
        title=f"{pack.name.capitalize()}, {pack.pack} pack",
        kind="frozen",
        method=FREEZE,
        fruit="",
        ingredients=(food, *_sweetened(pack)),
        printed_yield_low=1.0,
        printed_yield_high=1.0,
        yield_unit="pint",
        boil_min=pack.blanch_high_min if pack.blanched else None,
        boil_sign=_blanched_until(pack),
        headspace_in=headspace,
        jars=BOXES,
        process_product="",
        base_prep=pack.prep,
        order_of_adding=_freezing_order(pack),
        largest_batch_cups=None,
        source=str(pack.source),
        how_known=pack.source.how_known,
        notes=pack.note,
        cautions=(_LID_OFF,),
        keeping="cold",
    )


def _blanched_until(pack: FreezingPack) -> str:
    """Say how long it is blanched and from when, or that it is not."""
    if not pack.blanched:
        return "packed and closed; it is not blanched"
    if " min" in pack.blanch_sign:  # by its size, each with minutes of its own
        return f"blanched {pack.blanch_sign}"
    minutes = minutes_said(pack.blanch_high_min)
    return f"blanched {minutes} {pack.blanch_sign}".strip()


def _freezing_order(pack: FreezingPack) -> str:
    """Blanched, cooled and drained where it must be, then packed."""
    first = "blanched, cooled as long, drained; " if pack.blanched else ""
    packed = {"dry": "packed dry", "sugar": "turned in sugar, packed", "syrup": ""}
    return first + (packed[pack.pack] or "packed, cold syrup over it")


def _sweetened(pack: FreezingPack) -> tuple[Ingredient, ...]:
    """Sugar or syrup for one pint."""
    if pack.sugar_cups_per_quart is not None:
        cups = Fraction(pack.sugar_cups_per_quart).limit_denominator(16) / 2
        return (_measured("sugar", cups, "sugar", "for a pint: half a quart's"),)
    if pack.syrup:
        note = "computed: what the berries leave room for in a pint"
        return (
            _measured("sugar", _SYRUP_CUP, "sugar", note),
            _measured("water", _SYRUP_CUP, "liquid", note),
        )
    return ()


def _measured(name: str, cups: Fraction, role: str, note: str) -> Ingredient:
    weight = cup_weight(name)
    return Ingredient(
        name=name,
        quantity=cups,
        unit="cup",
        mass_kg=None
        if isinstance(weight, Refusal)
        else float(cups) * weight.kg_per_cup,
        mass_known="computed",
        prep="",
        role=role,
        optional=False,
        note=note,
        per="",
    )


def drying_procedure(drying: Drying) -> Procedure:
    """Return a drying as a procedure for one pound of the food as it is bought."""
    return Procedure(
        id=f"{DRY}-{drying.id}",
        name=drying.name,
        title=drying.name.capitalize(),
        kind="dried",
        method=DRY,
        fruit="",
        ingredients=(_pound_of(drying.food, drying.prep, "as bought"),),
        printed_yield_low=None,
        printed_yield_high=None,
        yield_unit="",
        boil_min=None,  # its blanching stands in the order, and ends nothing
        boil_sign=f"{drying.dry_sign}; {_hours(drying)} are printed",
        headspace_in=0.25,
        jars=("half-pint", "pint", "quart"),
        process_product="",
        base_prep=drying.prep,
        order_of_adding="; ".join(
            part
            for part in (drying.treat or "not blanched", "dried in one layer")
            if part
        ),
        largest_batch_cups=None,
        source=str(drying.source),
        how_known=drying.source.how_known,
        notes=drying.note,
        cautions=(),
        keeping="cold",
    )


def _hours(drying: Drying) -> str:
    low, high = drying.hours_low, drying.hours_high
    return f"{low:g} h" if low == high else f"{low:g} to {high:g} h"


def rendering_procedure(fat: Rendering) -> Procedure:
    """Return the rendering of a fat as a procedure for one pound of raw fat."""
    water = Ingredient(
        name="water",
        quantity=_WATER_CUP_PER_LB,
        unit="cup",
        mass_kg=float(_WATER_CUP_PER_LB * CUP_M3) * 1000,
        mass_known="practice",
        prep="",
        role="liquid",
        optional=False,
        note=f"1/4 cup for 3 lb: {COMMON_PRACTICE}",
        how_known="practice",
    )
    return Procedure(
        id=f"{RENDER_FAT}-{fat.id}",
        name=fat.name,
        title=f"{fat.name.capitalize()}, rendered",
        kind="fat",
        method=RENDER_FAT,
        fruit="",
        ingredients=(_pound_of(fat.raw, "in 1-inch cubes, or ground", "raw"), water),
        printed_yield_low=None,
        printed_yield_high=None,
        yield_unit="",
        boil_min=None,
        boil_sign="cracklings brown and light, and no more bubbles of steam",
        headspace_in=0.5,
        jars=("half-pint", "pint", "quart"),
        process_product="",
        base_prep="in 1-inch cubes, or ground",
        order_of_adding="water at the bottom, then the fat; melted, stirred, strained",
        largest_batch_cups=None,
        source=f"{fat.source}; {YIELD_SOURCE}",
        how_known=fat.source.how_known,
        notes="",
        cautions=(_NEVER_SHELF,),
        keeping="cold",
    )


def _pound_of(name: str, prep: str, note: str) -> Ingredient:
    return Ingredient(
        name=name,
        quantity=Fraction(1),
        unit="lb",
        mass_kg=float(POUND_KG),
        mass_known="computed",
        prep=prep,
        role="fruit",
        optional=False,
        note=note,
        how_known="practice",
    )


def _pounds(mass_kg: float) -> Fraction:
    return Fraction(mass_kg / float(POUND_KG)).limit_denominator(1000)
