"""
Where a recipe is found: a tested procedure, a pack by the jar, or a remake.

The book's own procedures come first. A food that is only put up as it is, in its jar,
has a pack: published pounds a quart, minutes in the pot and acid.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from stillroom.book.of_which_fruit import by_its_table
from stillroom.book.packs import pack_for, pack_procedure
from stillroom.book.pickle_steps import boil_of
from stillroom.book.procedures import Procedure, procedure_for
from stillroom.book.uncanned import procedure_without_canner
from stillroom.book.words import tokens
from stillroom.methods import pickle, remade
from stillroom.methods.remade import remade_procedure
from stillroom.refusal import Refusal


def recipe_named(
    name: str, *, jar: str, own: Sequence[Procedure] = ()
) -> Procedure | Refusal:
    """
    Return the recipe of a product for a jar size, or why there is none.

    Recipes of the keeper's ``own`` come first, by their whole title.

    Examples
    --------
    >>> recipe_named("plum jelly", jar="half-pint").method
    'with_pectin'
    >>> recipe_named("remade jelly", jar="half-pint").method
    'remade'
    >>> recipe_named("peaches packed raw", jar="pint").id
    'pack-peaches-raw-pint'
    """
    words = tokens(name)
    for recipe in own:
        if tokens(recipe.title) == words:
            return recipe
    if words[:2] == ["remade", "jelly"]:
        return remade_procedure(_pectin(words))
    uncanned = procedure_without_canner(name)
    if uncanned is not None:
        return uncanned
    tested = procedure_for(name)
    if not isinstance(tested, Refusal) and _cooked_as_a_relish(tested):
        return replace(tested, method=pickle.NAME)
    pack = pack_for(name)
    if isinstance(pack, Refusal):
        return tested
    # Printed by the load of 7 quarts, it is the same recipe, but only in sevens.
    if isinstance(tested, Refusal) or tested.method == pack.method:
        return pack_procedure(pack, jar=jar)
    return tested


def process_name(procedure: Procedure) -> str:
    """
    Return the name by which a recipe's process is asked for.

    A remade jelly is processed as any jelly, and a recipe of several acid fruits as any
    of its kind; all else goes by its own name, so that every caution of its own comes
    along.
    """
    name = "jelly" if procedure.method == remade.NAME else procedure.name
    return by_its_table(name)


def own_pack(procedure: Procedure) -> str | None:
    """
    Return the pack that a recipe itself chooses, where its method leaves it open.

    Examples
    --------
    >>> own_pack(recipe_named("dilled beans", jar="pint"))
    'raw'
    """
    boil = boil_of(procedure.id)
    return None if isinstance(boil, Refusal) else boil.packs[0]


def _cooked_as_a_relish(procedure: Procedure) -> bool:
    """A salsa stands with the tomatoes by its acid, but is made as a relish is."""
    return not isinstance(boil_of(procedure.id), Refusal)


def _pectin(words: list[str]) -> str:
    if "liquid" in words:
        return "liquid"
    return "none" if "without" in words or "no" in words else "powdered"
