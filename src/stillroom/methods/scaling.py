"""A whole multiple of a tested batch, and what published guidance says of it."""

from __future__ import annotations

from stillroom.book.procedures import Ingredient, Procedure
from stillroom.measures import CUP_M3, TABLESPOON_M3, TEASPOON_M3
from stillroom.methods.method import Part, Recipe
from stillroom.refusal import Caution, Refusal

DO_NOT_DOUBLE = (
    "Oregon State Univ. Extension SP 50-746 (4 to 6 cups of juice a batch); "
    "USDA Complete Guide, Guide 7 (6 to 8 cups at most)"
)
_VOLUMES = {
    "cup": float(CUP_M3),
    "tbsp": float(TABLESPOON_M3),
    "tsp": float(TEASPOON_M3),
    "pint": 2 * float(CUP_M3),
    "quart": 4 * float(CUP_M3),
}
MOST = 12


def at_multiple(procedure: Procedure, multiple: int) -> Recipe | Refusal:
    """
    Return a procedure at a whole multiple, with the caution that belongs to it.

    A part of a batch is refused: half a box of pectin is no tested recipe.
    """
    if multiple != int(multiple) or not 1 <= multiple <= MOST:
        return Refusal(
            f"a multiple of {multiple:g} is no whole number of tested batches "
            f"(1 to {MOST})",
            instead="make whole batches, each in its own pot",
            source=DO_NOT_DOUBLE,
        )
    cautions = list(procedure.cautions)
    if multiple > 1:
        cautions.append(
            Caution(
                f"published guidance says to make one batch at a time and never to "
                f"double; {multiple} times in one pot is the keeper's own choice, and "
                "soft sets come from large batches",
                DO_NOT_DOUBLE,
            )
        )
    return Recipe(
        procedure=procedure,
        multiple=int(multiple),
        parts=tuple(_part(i, int(multiple)) for i in procedure.ingredients),
        cautions=tuple(cautions),
    )


def _part(ingredient: Ingredient, multiple: int) -> Part:
    quantity = float(ingredient.quantity) * multiple
    cup = _VOLUMES.get(ingredient.unit)
    volume = quantity * cup if cup is not None else None
    mass = ingredient.mass_kg * multiple if ingredient.mass_kg is not None else None
    bought = ingredient.as_bought_kg
    return Part(
        name=ingredient.name,
        quantity=quantity,
        unit=ingredient.unit,
        mass_kg=mass,
        volume_m3=volume,
        role=ingredient.role,
        prep=ingredient.prep,
        optional=ingredient.optional,
        as_bought_kg=None if bought is None else bought * multiple,
        as_bought_about=ingredient.as_bought_known == "computed",
    )
