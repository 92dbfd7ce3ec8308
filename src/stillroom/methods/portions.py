"""Recipe parts as things drawn from the shelf, and printed yields in her jars."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import replace

from stillroom.book.jars import jar_volume_m3
from stillroom.book.limits import ingredient_named
from stillroom.book.words import tokens
from stillroom.jar_count import plural
from stillroom.measures import (
    CUP_M3,
    LEAST_IN_A_JUG_M3,
    OUNCE_KG,
    POUND_KG,
    cups_said,
    kitchen_mass,
    kitchen_volume,
    mixed_number,
)
from stillroom.methods.method import Material, Part, Recipe, Yield
from stillroom.refusal import Refusal, Source

_PRINTED_UNITS_M3 = {
    "half-pint": float(CUP_M3),
    "pint": 2 * float(CUP_M3),
    "quart": 4 * float(CUP_M3),
    "6 oz glass": 0.75 * float(CUP_M3),
    "gallon container": 16 * float(CUP_M3),
}

HAIR = 0.005
"""
So much of one batch may lack where a measure was rounded: 1.36 kg are the 3 lb of a
recipe, and 946 mL its quart. No cup is filled closer, and no scale read: common
practice, no source. [1]
"""
_SEVERAL = ("cup", "pint", "quart", "gallon", "package", "pouch", "clove")
"""Units that are said with an s where there is more than one."""
_WEIGHTS_KG = {"lb": float(POUND_KG), "oz": float(OUNCE_KG)}
_JUGS_M3 = {
    "cup": float(CUP_M3),
    "pint": 2 * float(CUP_M3),
    "quart": 4 * float(CUP_M3),
    "gallon": 16 * float(CUP_M3),
}
_BY_THE_JUG = ("fruit", "liquid", "acid", "soak")
"""Roles of what is wet, or prepared and pressed into the measure."""


def quantity_words(part: Part) -> str:
    """
    Say the quantity of a part: "4 1/2 cups", "1 package".

    Who writes metric reads "1.06 L (4 1/2 cups)": the printed measure stays beside it.
    """
    by_the_jug = in_metric(part)
    printed = _as_printed(part)
    return f"{by_the_jug} ({printed})" if by_the_jug else printed


def by_the_cup(part: Part) -> str:
    """Say a part reckoned by the jar, to the nearest sixth or eighth of a cup."""
    by_the_jug = in_metric(part)
    printed = cups_said((part.volume_m3 or 0.0) / float(CUP_M3))
    return f"{by_the_jug} ({printed})" if by_the_jug else printed


def in_metric(part: Part) -> str:
    """
    Say the quantity of a part in litres or grams; empty where that is not how it goes.

    What is wet or prepared is measured by the jug, the rest weighed; of acid never less
    than is printed. Spoons, boxes and pieces stay what they are.
    """
    if not part.metric:
        return ""
    if part.unit in _WEIGHTS_KG:
        return kitchen_mass(part.quantity * _WEIGHTS_KG[part.unit], metric=True)
    volume_m3 = part.quantity * _JUGS_M3.get(part.unit, 0.0)
    if volume_m3 < LEAST_IN_A_JUG_M3:
        return ""
    if is_weighed(part):
        return kitchen_mass(part.mass_kg or 0.0, metric=True)
    return kitchen_volume(volume_m3, metric=True, at_least=part.role == "acid")


def weighs_beside(part: Part) -> str:
    """Say what a part weighs beside its quantity; empty where that says it."""
    if part.mass_kg is None or part.unit in ("g", "kg"):
        return ""
    if in_metric(part) and (part.unit in _WEIGHTS_KG or is_weighed(part)):
        return ""
    return kitchen_mass(part.mass_kg, metric=True)


def is_weighed(part: Part) -> bool:
    """Whether a metric kitchen weighs what is printed by the cup: sugar, salt, nuts."""
    return part.mass_kg is not None and part.role not in _BY_THE_JUG


def sum_words(parts: Iterable[Part]) -> str:
    """
    Say several parts of one kind together: all the sugar, white and brown.

    What an own recipe has in other units is said beside it.
    """
    by_unit: dict[str, list[Part]] = {}
    for part in parts:
        by_unit.setdefault(part.unit, []).append(part)
    said = (quantity_words(_together(alike)) for alike in by_unit.values())
    return " + ".join(said) or cups_said(0)


def _together(parts: Sequence[Part]) -> Part:
    masses = [part.mass_kg for part in parts if part.mass_kg is not None]
    return replace(
        parts[0],
        quantity=sum(part.quantity for part in parts),
        mass_kg=sum(masses) if len(masses) == len(parts) else None,
        volume_m3=sum(part.volume_m3 or 0.0 for part in parts) or None,
    )


def _as_printed(part: Part) -> str:
    nearest = min(abs(part.quantity * n - round(part.quantity * n)) / n for n in (8, 6))
    if part.unit == "cup" and part.volume_m3 and nearest > 0.01 * part.quantity:
        return kitchen_volume(part.volume_m3)
    several = part.quantity > 1 and part.unit in _SEVERAL
    unit = "" if part.unit == "each" else part.unit
    unit = plural(2, unit) if several else unit
    return f"{mixed_number(part.quantity)} {unit}".strip()


def said(part: Part) -> str:
    """
    Say a part with its quantity: "1/3 cup canning salt", "2 tbsp lemon juice, bottled".

    Where acid must be out of a bottle that is said at the pot too: squeezed juice may
    have less of it.
    """
    bottled = ", bottled" if must_be_bottled(part) else ""
    return f"{quantity_words(part)} {part.name}{bottled}"


def if_wanted(part: Part) -> str:
    """Say beside a part that it may be left out; empty where it may not."""
    return ", if wanted" if part.optional else ""


def weight_words(kilos: float, *, metric: bool) -> str:
    """
    Say a weight beside a step in both measures, as on the shelf and the shopping list.

    >>> weight_words(7.9379, metric=False), weight_words(7.9379, metric=True)
    ('17.5 lb (7.9 kg)', '7.94 kg (17.5 lb)')
    """
    pounds = f"{kilos / float(POUND_KG):.1f} lb"
    if metric:
        return f"{kitchen_mass(kilos, metric=True)} ({pounds})"
    return f"{pounds} ({kilos:.1f} kg)"


def volume_words(volume_m3: float, *, metric: bool, at_least: bool = False) -> str:
    """
    Say a volume; in litres, with the cups beside it where they come out even.

    So what a recipe prints is always there, and a rest is no row of spoons.

    >>> cup_m3 = 2.365882365e-4
    >>> volume_words(5 * cup_m3, metric=True), volume_words(2.3e-4, metric=True)
    ('1.18 L (5 cups)', '230 mL')
    """
    printed = kitchen_volume(volume_m3, at_least=at_least)
    said = kitchen_volume(volume_m3, metric=metric, at_least=at_least)
    return said if said == printed or "+" in printed else f"{said} ({printed})"


def drawn(recipe: Recipe) -> tuple[Part, ...]:
    """
    Parts from the shelf, the spices among them; water and ice are no shelf's.

    Pectin by the spoon is not counted in boxes: a box has no fixed number of spoons.
    """
    return tuple(
        part
        for part in recipe.parts
        if part.name not in ("water", "ice")
        and not part.optional
        and not (part.role == "pectin" and part.unit in ("tsp", "tbsp"))
    )


def uses(recipe: Recipe) -> tuple[Material, ...]:
    """What a recipe takes from the shelf, its base first."""
    parts = sorted(drawn(recipe), key=lambda part: part is not recipe.base)
    return tuple(material_of(part) for part in parts)


def material_of(part: Part) -> Material:
    """
    One part as a material: boxes are counted, juice goes by volume, the rest by mass.

    Boxes of pectin are whole: a part of one counts as one. So do cloves of garlic,
    which are no heads. Fruit goes by what is bought, where that is known: of 3 1/2 lb
    of apricots 5 cups are left, which weigh a quarter less.
    """
    pressed = part.name.endswith("juice")  # it lies on the shelf as juice
    if part.as_bought_kg is not None and not pressed:
        return Material(name=part.name, mass_kg=part.as_bought_kg, as_bought=True)
    if part.role == "pectin":
        return Material(name=part.name, count=math.ceil(_boxes(part) - 1e-9))
    juice = pressed or part.role in ("acid", "liquid")
    if part.volume_m3 is not None and juice:
        return Material(
            name=as_it_must_be(part),
            volume_m3=part.volume_m3,
            instead=tuple(other.name for other in part.instead),
        )
    if part.mass_kg is not None:
        return Material(name=part.name, mass_kg=part.mass_kg)
    if part.volume_m3 is not None:
        return Material(name=part.name, volume_m3=part.volume_m3)
    name = part.name
    if part.unit not in ("each", ""):
        name = f"{plural(part.quantity, part.unit)} of {name}"
    return Material(name=name, count=math.ceil(part.quantity - 1e-9))


def _boxes(part: Part) -> float:
    """Boxes or pouches of pectin; of a bulk bag as many as weigh the same."""
    known = ingredient_named(part.name)
    if part.unit != "cup" or isinstance(known, Refusal):
        return part.quantity
    if not part.mass_kg or not known.each_kg:
        return part.quantity
    return round(part.mass_kg / known.each_kg, 3)


def must_be_bottled(part: Part) -> bool:
    """Whether acid is printed as bottled: squeezed juice may have less of it."""
    return part.role == "acid" and "bottled" in tokens(part.prep)


def as_it_must_be(part: Part) -> str:
    """Name a part as it has to be on the shelf: "bottled lemon juice"."""
    return f"bottled {part.name}" if must_be_bottled(part) else part.name


def printed_in(recipe: Recipe, jar_m3: float) -> tuple[float, float] | None:
    """Printed yield of the recipe at its multiple, in jars of a volume."""
    procedure = recipe.procedure
    unit = _PRINTED_UNITS_M3.get(procedure.yield_unit)
    low, high = procedure.printed_yield_low, procedure.printed_yield_high
    if unit is None or low is None or high is None:
        return None
    factor = recipe.multiple * unit / jar_m3
    return (round(low * factor, 2), round(high * factor, 2))


def as_printed(
    recipe: Recipe,
    jar: str,
    printed: tuple[float, float],
    *,
    basis: str,
    least: float = 1.0,
    most: float = 1.0,
) -> Yield:
    """
    Return the printed yield as what is expected, where nothing better is known.

    It may come to ``least`` of the lower figure printed, or to ``most`` of the higher.
    """
    low, high = printed
    return Yield(
        jar=jar,
        likely=(low + high) / 2,
        low=least * low,
        high=most * high,
        printed_low=low,
        printed_high=high,
        basis=basis,
        source=Source(recipe.procedure.source, recipe.procedure.how_known),
    )


def printed_yield(
    recipe: Recipe, jar: str, *, basis: str, instead: str, least: float, most: float
) -> Yield | Refusal:
    """Return the printed yield as `as_printed` does, or say what to do without one."""
    volume = jar_volume_m3(jar)
    if isinstance(volume, Refusal):
        return volume
    printed = printed_in(recipe, volume)
    if printed is None:
        return Refusal(
            f"no yield is printed for {recipe.procedure.name}",
            instead=instead,
            source=recipe.procedure.source,
        )
    return as_printed(recipe, jar, printed, basis=basis, least=least, most=most)
