"""Recipe parts as things drawn from the shelf, and printed yields in her jars."""

from __future__ import annotations

import math

from stillroom.book.jars import jar_volume_m3
from stillroom.book.limits import ingredient_named
from stillroom.book.words import tokens
from stillroom.jar_count import plural
from stillroom.measures import CUP_M3, POUND_KG, kitchen_volume, mixed_number
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


def quantity_words(part: Part) -> str:
    """Say the quantity of a part: "4 1/2 cups", "1 package"."""
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


def weight_words(kilos: float) -> str:
    """
    Say a weight beside a step, pounds first as on the shelf and the shopping list.

    >>> weight_words(7.9379)
    '17.5 lb (7.9 kg)'
    """
    return f"{kilos / float(POUND_KG):.1f} lb ({kilos:.1f} kg)"


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
