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

from stillroom.book.names import ProductName, product_named
from stillroom.book.procedures import answered_procedures, procedures_named
from stillroom.book.produce import ACID, NEEDS_ACID, Fruit, fruits_by_words
from stillroom.book.words import plain, tokens
from stillroom.in_a_list import all_of, any_of
from stillroom.methods.method import Material
from stillroom.planning.which_batches.names_on_shelf import (
    is_kind_of,
    same_thing,
    words_of,
)
from stillroom.planning.which_batches.shelf import (
    LotLeft,
    Shelf,
    amount,
    measured,
    to_fetch,
    words_for,
)

_BERRY = "berry"
_OTHERWISE = frozenset(
    {"dried", "dry", "canned", "mashed", "cooked", "pickled", "candied", "killed"}
    | {"snap", "snow", "sugar"}
)
"""Words of what is no kind of a food to put up: dried apples, sugar snap peas."""


def not_counted(
    base: Material, shelf: Shelf, times: int = 1, *, canned: bool = True
) -> tuple[str, str] | None:
    """
    Return what is there and how it would count; `None` where nothing is.

    ``base`` is what the recipe takes once, and ``times`` how often that is wanted: one
    pint's worth is no answer to who wants six. What is canned has to be as acid as the
    fruit that its process is printed for.
    """
    needs = words_for(base, amount(base), metric=shelf.metric)
    in_all = to_fetch(base, times * amount(base), metric=shelf.metric)
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
                f'"{held.lot.what}" on the shelf does not count: {lower.note} '
                f"({lower.source.text})",
                "freeze it, or follow an acidified tested recipe of an extension "
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


def _may_do(base: Material, held: LotLeft) -> str:
    """
    Return by what name a lot may do, where it is a plainer kind or one of the thing.

    Sweet cherries are cherries, and blackberries may be the berries of "berries,
    cherries or grapes"; elderberries are not, which are no acid fruit. Empty for none.
    """
    if may_be_meant(base, held):
        return base.name
    what = held.lot.what
    if held.left > 0 and _is_pickled_as(what, base.name):
        return base.name
    if held.left <= 0 or _is_another_food(what, base.name):
        return ""
    for name in re.split(r", | or ", base.name):
        is_berry = tokens(name) == [_BERRY]
        if _is_acid_berry(what) if is_berry else is_kind_of(what, name):
            return name
    return ""


def _is_pickled_as(what: str, base: str) -> bool:
    """Whether a thing, pickled, is the book's recipe of another: jalapeños."""
    product = product_named(f"pickled {what}")
    if not isinstance(product, ProductName):
        return False
    return any(recipe.base.name == base for recipe in procedures_named(product.name))


def _is_acid_berry(what: str) -> bool:
    fruit = _acid_fruit(what)
    return fruit is not None and fruit.name.endswith(_BERRY)


def _acid_fruit(what: str) -> Fruit | None:
    """The fruit of the book that a name means, where that is reliably acid."""
    fruits = fruits_by_words().items()
    return next(
        (
            f
            for of, f in fruits
            if f.acid_class == ACID and words_of(of) == words_of(what)
        ),
        None,
    )


def _as_it_was_said(held: LotLeft) -> str:
    """Say "3 bags" where nobody said what a bag holds, and not 3."""
    untouched = held.left == held.whole and held.lot.count is not None
    return (untouched and held.lot.typed) or measured(held, held.left)


def may_be_meant(base: Material, held: LotLeft) -> bool:
    """Whether a lot is of the thing, and not said to be the kind that is asked for."""
    plainly = not same_thing(held.lot.what, base.name)
    return plainly and held.left > 0 and is_kind_of(base.name, held.lot.what)


def _lower_in_acid(base: Material, held: LotLeft) -> Fruit | None:
    """The fruit of a lot, a kind of what is asked for that is not reliably acid."""
    what = held.lot.what
    if not held.left or not is_kind_of(what, base.name) or _needs_acid(base.name):
        return None
    return _needs_acid(what)


def _needs_acid(name: str) -> Fruit | None:
    """A fruit that a name is of, whatever else it says, if it is not reliably acid."""
    said = words_of(name)
    fruits = fruits_by_words().items()
    return next(
        (f for of, f in fruits if f.acid_class == NEEDS_ACID and words_of(of) <= said),
        None,
    )


def _is_another_food(what: str, base: str) -> bool:
    """Whether the book has it for itself, or it is kept already, or lower in acid."""
    if words_of(what) & _OTHERWISE - words_of(base):
        return True
    if _needs_acid(what) != _needs_acid(base):
        return True
    if _acid_fruit(what) is not None:  # its kinds may do for one another
        return False
    one, other = product_named(what), product_named(base)
    if isinstance(one, ProductName):
        return not isinstance(other, ProductName) or one.name != other.name
    return plain(what) in _bases_of_the_book()


@cache
def _bases_of_the_book() -> frozenset[str]:
    """What recipes are made of, as people say it."""
    bases = (procedure.base.name for procedure in answered_procedures())
    return frozenset(map(plain, bases))
