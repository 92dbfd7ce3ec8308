"""
What lies on the shelf and does not count for a recipe: by its measure, or by its name.

Six pounds of onions are no six cups of chopped ones, and a cucumber may be no pickling
cucumber. "None on the shelf" would be wrong of both: it is said how they would count.
"""

from __future__ import annotations

import re

from stillroom.book.produce import fruit_named
from stillroom.book.words import tokens
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


def not_counted(base: Material, shelf: Shelf, times: int = 1) -> tuple[str, str] | None:
    """
    Return what is there and how it would count; `None` where nothing is.

    ``base`` is what the recipe takes once, and ``times`` how often that is wanted: one
    pint's worth is no answer to who wants six.
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
    may_do = {h.lot.what: name for h in shelf.held if (name := _may_do(base, h))}
    if may_do:
        said = all_of(f'"{what}"' for what in may_do)
        names = any_of(f'"{name}"' for name in dict.fromkeys(may_do.values()))
        return (
            f"none on the shelf by that name; one whole batch needs {needs}",
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
    for name in re.split(r", | or ", base.name) if held.left > 0 else ():
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
