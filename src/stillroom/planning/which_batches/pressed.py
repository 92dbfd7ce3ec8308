"""Fruit on the shelf for a recipe that is measured by its juice: pressed first.

A weight of grapes is no weight of grape juice: how much gives a batch goes by the
printed yield of juice, and where none is printed nothing is said.
"""

from __future__ import annotations

from dataclasses import dataclass

from stillroom.book.procedures import Procedure, procedures_named
from stillroom.book.produce import fruit_named
from stillroom.book.words import many, tokens
from stillroom.methods.by_name import method_named
from stillroom.methods.getting_juice import printed_yield
from stillroom.methods.method import Material
from stillroom.methods.portions import HAIR
from stillroom.planning.which_batches.shelf import (
    LotLeft,
    Shelf,
    amount,
    mass_words,
    words_for,
)
from stillroom.refusal import Refusal

JUICE = "juice"


def is_to_press(base: Material, held: LotLeft) -> bool:
    """Whether a recipe is measured by juice, and the lot is the fruit itself."""
    return _is_juice(base.name) and not _is_juice(held.lot.what)


def fruit_for(procedure: Procedure, base: Material, fruit: str) -> float | None:
    """
    Return the fruit that gives the juice of one batch. [kg]

    `None` where no yield is printed, and where the recipe is for another juice than
    one's own: bottled, or a concentrate.
    """
    given = printed_yield(fruit, procedure)
    if isinstance(given, Refusal) or base.volume_m3 is None or is_bought(procedure):
        return None
    return base.volume_m3 / given.juice_m3_per_kg


@dataclass(frozen=True, slots=True)
class ToPress:
    """The fruit whose juice makes one batch, and who says so."""

    fruit: Material
    words: str
    """What of it gives what, by which printed yield."""


def to_press(
    procedure: Procedure, base: Material, *, metric: bool
) -> ToPress | Refusal | None:
    """
    Return the weight of fruit that makes one batch where that is measured by juice.

    `None` where it is measured by the fruit. A refusal where no yield of that juice is
    printed: what a weight of its fruit gives is then for the press to say.
    """
    if not _is_juice(base.name) or base.volume_m3 is None:
        return None
    fruit = fruit_named(base.name)
    name = base.name.removesuffix(f" {JUICE}")
    if not isinstance(fruit, Refusal):
        name = many(fruit.name)
    juice = words_for(base, base.volume_m3, metric=metric)
    given = printed_yield(base.name, procedure)
    needed = fruit_for(procedure, base, base.name)
    if needed is None or isinstance(given, Refusal):
        return Refusal(
            f"{procedure.title} is measured by {base.name}, and how much of that a "
            f"weight of {name} gives is not printed here"
            if not is_bought(procedure)
            else f"{procedure.title} is made of {base.name} that is bought, and that "
            "is measured by the cup",
            instead=f"give the cups of juice: {juice} make one batch"
            + _of_ones_own(procedure, name),
            source=procedure.source,
        )
    pounds = mass_words(needed, metric=metric, at_least=True)
    return ToPress(
        Material(name=name, mass_kg=needed),
        f"by the printed yield {pounds} give the {juice} of one batch "
        f"({given.as_printed}; {given.source})",
    )


def _of_ones_own(procedure: Procedure, fruit: str) -> str:
    """Say which recipe fruit is pressed for where this one is of bought juice."""
    if not is_bought(procedure):
        return ""
    others = (p for p in procedures_named(procedure.name) if not is_bought(p))
    other = next((p for p in others if _is_juice(p.base.name) and not p.refuse), None)
    if other is None:
        return ""
    return f'; for {fruit} of your own ask for "{other.id}" ({other.title})'


def is_bought(procedure: Procedure) -> bool:
    """Whether a recipe is for juice from the shop, which pressed fruit is not."""
    base = procedure.base
    return "bottled" in tokens(base.prep) or tokens(base.name)[-1:] != [JUICE]


def press_it_first(procedure: Procedure, base: Material, shelf: Shelf) -> str:
    """
    Say what to do where juice is wanted and its fruit lies on the shelf.

    Empty where there is no such fruit, or it is asked for by itself.
    """
    if not _is_juice(base.name) or is_bought(procedure):
        return ""
    for held in shelf.held:
        if not _is_fruit_of(base, held):
            continue
        if not is_to_press(base, held) or held.left <= 0:
            continue
        needed = fruit_for(procedure, base, held.lot.what)
        gives = ""
        if needed is not None:
            give = words_for(base, amount(base), metric=shelf.metric)
            pounds = mass_words(needed, metric=shelf.metric, at_least=True)
            gives = f": by the printed yield {pounds} give {give}"
        return (
            f"press {held.lot.name} for it the day before{gives}; write it on the "
            f'shelf as "{base.name}", with `ready` if it drips until then'
        )
    return ""


def another_to_press(procedure: Procedure, shelf: Shelf) -> str:
    """
    Say which other recipe of the same product is made of fruit that lies here.

    The first that comes to hand may be for bottled juice, which nobody presses. Empty
    where there is none of which one tested batch is there.
    """
    for other in procedures_named(procedure.name):
        base = base_of(other)
        if base is None:
            continue
        press = press_it_first(other, base, shelf)
        if press and _is_enough(base, other, shelf):
            return f'want "{other.id}" in its place ({other.title}), and {press}'
    return ""


def _is_enough(base: Material, procedure: Procedure, shelf: Shelf) -> bool:
    there = 0.0
    for held in shelf.held:
        needed = fruit_for(procedure, base, held.lot.what)
        if needed and is_to_press(base, held) and held.lot.mass_kg is not None:
            there += held.left / needed if _is_fruit_of(base, held) else 0.0
    return there >= 1 - HAIR


def _is_fruit_of(base: Material, held: LotLeft) -> bool:
    fruit, there = fruit_named(base.name), fruit_named(held.lot.what)
    if isinstance(fruit, Refusal) or isinstance(there, Refusal):
        return False
    return fruit.name == there.name


def base_of(procedure: Procedure) -> Material | None:
    """Return what one tested batch is measured by; `None` where there is none."""
    method = method_named(procedure.method)
    recipe = method if isinstance(method, Refusal) else method.scale(procedure, 1)
    if isinstance(method, Refusal) or isinstance(recipe, Refusal):
        return None
    return method.materials(recipe, "half-pint", 0)[0]


def _is_juice(name: str) -> bool:
    return JUICE in tokens(name)
