"""
The brine of a fresh-pack pickle: what is boiled in it first, and what comes in late.

Of corn relish all but mustard, turmeric and corn is boiled from the first: the pot is
as full and as slow then as with its peppers in it.
"""

from __future__ import annotations

from collections.abc import Iterator

from stillroom.book.words import tokens
from stillroom.capital import capital
from stillroom.in_a_list import all_of
from stillroom.methods.method import Part, Recipe
from stillroom.methods.multiples import about_kg
from stillroom.methods.portions import said
from stillroom.methods.salted import is_salted_first, rest_of_salt
from stillroom.science import kettle

_BACK = "Vegetables into it, back to the boil"
_REST = "the rest of the salt"
_ALL_BUT = "all but "
_BRINE = ("acid", "liquid", "sugar", "salt")


def brine_m3(recipe: Recipe) -> float:
    """Volume of vinegar, water and dissolved sugar. [m3]"""
    wet = sum(part.volume_m3 or 0.0 for part in recipe.of_role("acid", "liquid"))
    sugar = sum(part.mass_kg or 0.0 for part in recipe.of_role("sugar"))
    return float(kettle.dissolved_volume_m3(wet, sugar))


def brine_kg(recipe: Recipe) -> float:
    """Mass of vinegar, water, sugar and salt. [kg]"""
    return sum(part.mass_kg or 0.0 for part in recipe.of_role(*_BRINE))


def first_kg(recipe: Recipe) -> float:
    """Mass of what comes to the boil first, vegetables of the first boil too. [kg]"""
    return brine_kg(recipe) + sum(map(about_kg, _boiled_from_the_first(recipe)))


def dissolved_share(recipe: Recipe, kilos: float) -> float:
    """Share of sugar and salt in so much of it. [1]"""
    dissolved = recipe.of_role("sugar", "salt")
    return min(0.6, sum(p.mass_kg or 0.0 for p in dissolved) / kilos)


def comes_late(recipe: Recipe) -> str:
    """What alone goes in late, where the rest is boiled from the first; else empty."""
    first = recipe.procedure.order_of_adding.split(" simmered;")[0]
    return first.removeprefix(_ALL_BUT) if first.startswith(_ALL_BUT) else ""


def _boiled_from_the_first(recipe: Recipe) -> tuple[Part, ...]:
    """Vegetables that are boiled in the brine before what comes late goes in."""
    late = tokens(comes_late(recipe))
    return tuple(
        part
        for part in recipe.of_role("fruit")
        if late and not set(tokens(part.name)) & set(late)
    )


def comes_first(recipe: Recipe) -> str:
    """Say what is brought to the boil first: "vinegar, sugar and spices"."""
    late = comes_late(recipe)
    return f"{_ALL_BUT}{late}" if late else _brine_words(recipe)


def _brine_words(recipe: Recipe) -> str:
    """What is in the brine; salt that vegetables stood in, or of the jar, is not."""
    order = recipe.procedure.order_of_adding
    elsewhere = is_salted_first(recipe) and _REST not in order
    elsewhere = elsewhere or "salt in the jar" in order
    salt = [] if elsewhere or not recipe.of_role("salt") else ["salt"]
    water = ["water"] if recipe.of_role("liquid") else []
    sugar = ["sugar"] if recipe.of_role("sugar") else []
    spiced = any(_is_in_the_brine(recipe, part) for part in recipe.of_role("spice"))
    spices = ["spices"] if spiced else []
    return all_of(["vinegar", *water, *salt, *sugar, *spices])


def _is_in_the_brine(recipe: Recipe, spice: Part) -> bool:
    """Whether a spice is boiled in the brine, and not put into the jar."""
    order = recipe.procedure.order_of_adding
    jar = next((c for c in order.split(";") if c.strip().endswith("in the jar")), "")
    per = dict(zip(recipe.parts, recipe.procedure.ingredients, strict=True))
    by_the_jar = per[spice].per in ("pint", "quart")
    return not by_the_jar and not set(tokens(jar)) & set(tokens(spice.name))


def into_the_brine(recipe: Recipe) -> Iterator[str]:
    """Its parts with their quantities; salt and spices come by their printed order."""
    for part in recipe.of_role("acid", "liquid", "sugar"):
        yield said(part)
    for part in _boiled_from_the_first(recipe):
        yield f"{said(part)}, {part.prep}"
    rest = rest_of_salt(recipe)
    if rest is not None:
        whole = all_of(said(part) for part in recipe.of_role("salt"))
        yield f"{said(rest)}, the rest of the {whole}"


def into_it_late(recipe: Recipe) -> Iterator[str]:
    """The vegetables that come late, with their quantities; of most none does."""
    first = _boiled_from_the_first(recipe)
    for part in recipe.of_role("fruit") if first else ():
        if part not in first:
            yield said(part)


def into_the_pot(recipe: Recipe, *, together: bool) -> str:
    """Say what goes into the boiling brine, or that all comes to the boil at once."""
    if together:
        return "Everything together, to the boil"
    late = comes_late(recipe)
    return f"{capital(late)} in, back to the boil" if late else _BACK
