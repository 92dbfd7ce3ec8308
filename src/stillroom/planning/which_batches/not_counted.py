"""
What lies on the shelf and does not count for a recipe: by its measure, or by its name.

Six pounds of onions are no six cups of chopped ones, a cucumber may be no pickling
cucumber, and Bramley apples are apples where their keeper says so. "None on the shelf"
would be wrong of them: it is said how they would count. White peaches would not, in a
jar: they are lower in acid, and that is said.
"""

from __future__ import annotations

import re
from functools import cache

from stillroom.book.packs import packs
from stillroom.book.procedures import answered_procedures
from stillroom.book.produce import NEEDS_ACID, Fruit, fruit_named, fruits_by_words
from stillroom.book.words import plain, tokens
from stillroom.in_a_list import all_of, any_of
from stillroom.methods.method import Material
from stillroom.planning.which_batches.shelf import (
    Held,
    Shelf,
    amount,
    is_kind_of,
    measured,
    same_thing,
    to_fetch,
    words_for,
)
from stillroom.refusal import Refusal

_BERRY = "berry"


def not_counted(
    base: Material, shelf: Shelf, times: int = 1, *, canned: bool = True
) -> tuple[str, str] | None:
    """
    Return what is there and how it would count; `None` where nothing is.

    ``base`` is what the recipe takes once, and ``times`` how often that is wanted: one
    pint's worth is no answer to who wants six. What is canned has to be as acid as the
    fruit that its process is printed for.
    """
    needs = words_for(base, amount(base))
    in_all = to_fetch(base, times * amount(base))
    once = "" if times == 1 else f" each time, {in_all} for all that is wanted"
    if other := shelf.in_other_measures(base):
        said = all_of(f"{_as_it_was_said(h)} of {h.lot.name}" for h in other)
        weighs = base.mass_kg is not None
        verb, do = ("weighs", "weigh") if weighs else ("measures", "measure")
        so = "as it was bought" if base.as_bought else "prepared as the recipe has it"
        return (
            f"{said} on the shelf, and the recipe {verb} {needs}{once}",
            f"{do} what there is, {so}, and write what it "
            f"comes to on the shelf; what is wanted takes: {base.name}, {in_all}",
        )
    for held in shelf.held if canned else ():
        if lower := _lower_in_acid(base, held):
            return (
                f"{held.lot.what} on the shelf do not count: {lower.note}",
                "freeze them, or follow an acidified tested recipe of an extension "
                f"service with its own process; this one takes {needs} of {base.name}",
            )
    may_do = {h.lot.what: name for h in shelf.held if (name := _may_do(base, h))}
    if may_do:
        said = all_of(f'"{what}"' for what in may_do)
        names = any_of(f'"{name}"' for name in dict.fromkeys(may_do.values()))
        return (
            f"none on the shelf by that name; the recipe takes {needs}{once}",
            f"{said} on the shelf may be another kind: where it is the right one, "
            f"write {names}",
        )
    return None


def _may_do(base: Material, held: Held) -> str:
    """
    Return by what name a lot may do, where it is a plainer kind or one of the thing.

    Sweet cherries are cherries, and blackberries may be the berries of "berries,
    cherries or grapes"; elderberries are not, which are no acid fruit. Empty for none.
    """
    if may_be_meant(base, held):
        return base.name
    if held.left <= 0 or _is_another_food(held.lot.what):
        return ""
    for name in re.split(r", | or ", base.name):
        berry = tokens(name) == [_BERRY] and _is_acid_berry(held.lot.what)
        if berry or is_kind_of(held.lot.what, name):
            return name
    return ""


def _is_acid_berry(what: str) -> bool:
    fruit = fruit_named(what)
    if isinstance(fruit, Refusal):
        return False
    return fruit.name.endswith(_BERRY) and fruit.acid_class == "acid"


def _as_it_was_said(held: Held) -> str:
    """Say "3 bags" where nobody said what a bag holds, and not 3."""
    untouched = held.left == held.whole and held.lot.count is not None
    return (untouched and held.lot.typed) or measured(held, held.left)


def may_be_meant(base: Material, held: Held) -> bool:
    """Whether a lot is of the thing, and not said to be the kind that is asked for."""
    plainly = not same_thing(held.lot.what, base.name)
    return plainly and held.left > 0 and is_kind_of(base.name, held.lot.what)


def _lower_in_acid(base: Material, held: Held) -> Fruit | None:
    """The fruit of a lot, a kind of what is asked for that is not reliably acid."""
    known, what = fruits_by_words(), held.lot.what
    if not held.left or not is_kind_of(what, base.name):
        return None
    fruit, asked = known.get(plain(what)), known.get(plain(base.name))
    if fruit is None or asked is None or asked.acid_class == NEEDS_ACID:
        return None
    return fruit if fruit.acid_class == NEEDS_ACID else None


def _is_another_food(what: str) -> bool:
    """Whether the book has it for itself, and as no fruit that is reliably acid."""
    fruit = fruits_by_words().get(plain(what))
    if fruit is not None:
        return fruit.acid_class == NEEDS_ACID
    return plain(what) in _foods_of_the_book()


@cache
def _foods_of_the_book() -> frozenset[str]:
    """Every food of a pack and base of a recipe, as people say it."""
    foods = [pack.food for pack in packs()]
    bases = [procedure.base.name for procedure in answered_procedures()]
    return frozenset(map(plain, (*foods, *bases)))
