"""What batches may be called: a product and a number, "plum jelly 2"."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence

from stillroom.methods.recipes import recipe_named
from stillroom.planning.day import Want
from stillroom.planning.day_file.dayfile_fields import nearest
from stillroom.refusal import Refusal
from stillroom.toml_text import shown

_NAME = re.compile(r"(.+) ([1-9][0-9]{0,3})")


def products_named(product: str, jar: str) -> tuple[str, ...]:
    """
    Return what batches of a want may be called after: its name, and the book's for it.

    >>> products_named("crab apple jelly", "half-pint")
    ('crab apple jelly', 'crabapple jelly')
    """
    recipe = recipe_named(product, jar=jar)
    if isinstance(recipe, Refusal) or recipe.name == product:
        return (product,)
    return product, recipe.name


def no_batches(names: Iterable[str], wants: Sequence[Want]) -> Iterator[str]:
    """Say of each name that is no batch of what is wanted what was likely meant."""
    known = [n for want in wants for n in products_named(want.product, want.jar)]
    for name in names:
        product, number = _apart(name)
        if number and product in known:
            continue
        near = nearest(
            f"{product} {number or 1}", [f"{k} {number or 1}" for k in known]
        )
        yield (
            f"{shown(name)} is no batch of what is wanted{near} A batch is called by "
            f'its product and a number, as in the plan: "{known[-1]} 1"'
        )


def it_has(names: Iterable[str]) -> str:
    """
    Say which batches a day has, beside one that it has not.

    >>> it_has(["plum jelly 10", "plum jelly 9", "pear butter 11"])
    'it has pear butter 11, plum jelly 9, plum jelly 10'
    """

    def by_number(name: str) -> tuple[str, int]:
        product, number = _apart(name)
        return product, int(number or 0)

    return f"it has {', '.join(sorted(set(names), key=by_number)) or 'none'}"


def still_there(
    names: Iterable[str], gone: Sequence[str], left: Sequence[str]
) -> list[str]:
    """Return the names of batches without those of products that nobody wants now."""
    out = {product for product in gone if product not in left}
    return [name for name in names if _apart(name)[0] not in out]


def _apart(name: str) -> tuple[str, str]:
    found = _NAME.fullmatch(name)
    return (found[1], found[2]) if found else (name, "")
