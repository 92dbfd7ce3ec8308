"""The balance of soluble solids: what goes into the pot is what the jars hold."""

from __future__ import annotations

from stillroom.book.produce import soluble_solids
from stillroom.methods.method import Part, Recipe
from stillroom.refusal import Refusal
from stillroom.science import syrup

ROOM_K = 293.15
JAM_SOLIDS = 0.65
"""Soluble solids of a finished jelly or jam: 21 CFR 150.140 and 150.160."""

_SOLIDS_OF_ROLE = {"sugar": 1.0, "pectin": 1.0, "acid": 0.08}
"""Juices of lemon and orange and vinegar hold little; 8 % is near lemon juice."""
UNKNOWN_SOLIDS = 0.12
"""Of a fruit without a figure: among the 10 to 15 % that the factors of 21 CFR 150 give
most fruits; an estimate, and the basis of a yield says when it was taken. [1]"""
LIQUID_PECTIN_SOLIDS = 0.1
"""A pouch is mostly water: an estimate, it moves a batch by a tenth of a jar. [1]"""


def part_solids(part: Part, fruit: str) -> float:
    """Soluble solids of one part, a mass fraction; 0 for water and spice."""
    if part.role == "fruit":
        found = soluble_solids(fruit)
        return UNKNOWN_SOLIDS if isinstance(found, Refusal) else found.likely
    if part.role == "pectin" and "liquid" in part.name:
        return LIQUID_PECTIN_SOLIDS
    return _SOLIDS_OF_ROLE.get(part.role, 0.0)


def mix_solids(recipe: Recipe) -> tuple[float, float]:
    """Mass of everything in the pot, and its soluble solids. [kg], [1]"""
    fruit = recipe.procedure.fruit
    total = sum(part.mass_kg or 0.0 for part in recipe.parts)
    solids = sum(
        (part.mass_kg or 0.0) * part_solids(part, fruit) for part in recipe.parts
    )
    return total, solids / total


def guessed(recipe: Recipe) -> bool:
    """Whether the fruit's solids are the estimate for fruits without a figure."""
    return isinstance(soluble_solids(recipe.procedure.fruit), Refusal)


def not_reckoned(recipe: Recipe) -> tuple[str, ...]:
    """
    Name the parts whose solids are not known: no published mass, or a concentrate.

    Where there are any the balance says too little, and the printed yield stands.
    """
    return tuple(
        part.name
        for part in recipe.parts
        if part.role in ("fruit", "sugar", "liquid", "acid", "nuts", "thickener")
        and not part.optional
        and (part.mass_kg is None or "concentrate" in part.name)
    )


def jars_at(total_kg: float, solids: float, end_solids: float, jar_m3: float) -> float:
    """
    Jars filled when a mix has been boiled to ``end_solids``.

    The volume is that of the cold jelly, as in the derived column of the reference
    yields.

    >>> round(jars_at(1.0904, 0.660, 0.66, 2.365882e-4), 1)
    3.5
    """
    left_kg = total_kg * solids / end_solids
    return left_kg / float(syrup.density_kg_m3(end_solids, ROOM_K)) / jar_m3
