"""What sort of thing a lot is, by its name and how it is counted."""

from __future__ import annotations

import re
from functools import cache

from stillroom.book.drying import dryings
from stillroom.book.freezing_packs import freezing_packs
from stillroom.book.packs import packs
from stillroom.book.procedures import procedures
from stillroom.book.produce import fruits
from stillroom.book.words import plain
from stillroom.stock.amounts import Measure
from stillroom.stock.due import is_jar
from stillroom.stock.events import Kind
from stillroom.stock.household import are_canning_lids, is_of_the_house, last_of
from stillroom.stock.making import product_kind
from stillroom.stock.not_food import is_caustic

_SIZES = r"(?:half[\s-]?pint|half[\s-]?gallon|pint|quart)"
_STRENGTH = re.compile(r"\s+[0-9.]+\s*(?:%|percent).*$")
"""Behind vinegar: "vinegar 5% acidity"."""


def without_size(what: str) -> str:
    """
    Return what something is called without the size of a jar behind it.

    >>> without_size("jam jars half pint")
    'jam jars'
    """
    return re.sub(rf"(?i)[\s,-]+{_SIZES}s?$", "", what)


def kind_of(what: str, measure: Measure, *, bought: bool) -> Kind:
    """
    Return what sort of thing it is likely to be; the keeper may say otherwise.

    >>> from stillroom.stock.amounts import Unit
    >>> kind_of("regular lids", Measure(unit=Unit.PIECES), bought=True)
    <Kind.LIDS: 'lids'>
    """
    words = _STRENGTH.sub("", without_size(what).lower()).split()
    if are_canning_lids(without_size(what)):
        return Kind.LIDS
    if last_of(without_size(what)) == "jar":
        return Kind.JARS
    if is_jar(measure.part) or measure.part == "jar":
        return Kind.FILLED
    if is_caustic(what) or is_of_the_house(what):
        return Kind.BOUGHT
    if plain(what) in produce_names() or plain(what) in other_raw_food():
        return Kind.RAW
    if bought or words[-1] in ("sugar", "pectin", "vinegar", "salt"):
        return Kind.BOUGHT
    if product_kind(what) in ("jelly", "jam", "butter", "sauce", "puree"):
        return Kind.HALF_MADE
    return Kind.RAW


@cache
def other_raw_food() -> frozenset[str]:
    """
    Return every vegetable that the book packs, freezes, dries or has a recipe of.

    What is dry already ("dried beans") keeps as sugar does, and is none of it; nor is
    juice or the like, which may be bought in bottles.

    >>> {"tomato", "green bean", "pickling cucumber"} <= other_raw_food()
    True
    >>> any(name in other_raw_food() for name in ("apple juice", "dried bean"))
    False
    """
    names = (
        *(food for pack in packs() for food in pack.foods),
        *(pack.food for pack in freezing_packs()),
        *(row.food for row in dryings()),
        *(recipe.base.name for recipe in procedures()),
    )
    return frozenset(
        plain(name)
        for name in names
        if not re.search(r"(?i)^(dry|dried) | (juice|pulp|puree|fat)$", name)
    )


@cache
def produce_names() -> frozenset[str]:
    """Return every name of fruit that the book knows."""
    return frozenset(
        plain(word)
        for fruit in fruits().values()
        for word in (fruit.name, *fruit.aliases)
    )
