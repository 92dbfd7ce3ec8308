"""
So many times a pound's, a pint's or a tested batch's worth.

Freezing, drying and rendering have no chemistry that a larger batch upsets; a pickle
has, and is multiplied only as a whole.
"""

from __future__ import annotations

from dataclasses import replace

from stillroom.book.procedures import Procedure
from stillroom.methods.method import Part, Recipe
from stillroom.methods.scaling import at_multiple
from stillroom.refusal import Caution, Refusal

CUT_KG_PER_M3 = 600.0
"""Cut vegetables and berries with their gaps: common practice, no source. [kg/m3]"""
_EACH_KG = 0.2
"""A large onion or apple: common practice, no source. [kg]"""


def so_many_times(
    procedure: Procedure,
    multiple: int,
    *,
    most: int,
    source: str,
    cautions: tuple[Caution, ...] = (),
) -> Recipe | Refusal:
    """
    Return a procedure taken so many times, all of it alike.

    Parameters
    ----------
    procedure : Procedure
        One pint's, pound's or batch's worth.
    multiple : int
        1 to ``most``.
    most : int
        What one pair of hands does at once.
    source : str
        Who says so.
    cautions : tuple of Caution
        What goes along with it, beside those of the procedure.
    """
    if multiple != int(multiple) or not 1 <= multiple <= most:
        return Refusal(
            f"{multiple:g} times {procedure.name} is no whole number from 1 to {most}",
            instead=f"make it in batches of up to {most} times",
            source=source,
        )
    once = at_multiple(procedure, 1)
    if isinstance(once, Refusal):
        return once
    return Recipe(
        procedure=procedure,
        multiple=int(multiple),
        parts=tuple(_times(part, int(multiple)) for part in once.parts),
        cautions=(*procedure.cautions, *cautions),
    )


def _times(part: Part, multiple: int) -> Part:
    return replace(
        part,
        quantity=part.quantity * multiple,
        mass_kg=None if part.mass_kg is None else part.mass_kg * multiple,
        volume_m3=None if part.volume_m3 is None else part.volume_m3 * multiple,
    )


def about_kg(part: Part) -> float:
    """
    Mass of a part, guessed from its cups where none is known. For times only. [kg]

    >>> cups = Part(name="celery", quantity=4, unit="cup", mass_kg=None,
    ...             volume_m3=9.46e-4, role="fruit")
    >>> round(about_kg(cups), 2)
    0.57
    """
    if part.mass_kg is not None:
        return part.mass_kg
    if part.volume_m3 is not None:
        return part.volume_m3 * CUT_KG_PER_M3
    return part.quantity * _EACH_KG if part.unit == "each" else 0.0


def about_m3(part: Part) -> float:
    """Room that a part takes in a pot, guessed where only a mass is known. [m3]"""
    if part.volume_m3 is not None:
        return part.volume_m3
    loose = CUT_KG_PER_M3 if part.role == "fruit" else 1000.0
    return about_kg(part) / loose
