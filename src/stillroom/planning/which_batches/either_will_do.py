"""Which of several things a batch takes, where any one of them will do."""

from __future__ import annotations

from dataclasses import replace

from stillroom.methods.method import Part, Recipe
from stillroom.methods.portions import HAIR, material_of
from stillroom.planning.which_batches.shelf import Shelf, amount


def of_what_is_there(recipe: Recipe, shelf: Shelf) -> Recipe:
    """
    Return a recipe with what the shelf has, where its process leaves the choice.

    Tomatoes take bottled lemon juice or citric acid in each jar. One of them goes into
    a whole batch: the first that there is enough of, else what lies there by another
    measure and may be enough, else what the book names first.
    """
    return replace(recipe, parts=tuple(_there(part, shelf) for part in recipe.parts))


def _there(part: Part, shelf: Shelf) -> Part:
    choices = (replace(part, instead=()), *part.instead)
    enough = (choice for choice in choices if _is_enough(choice, shelf))
    maybe = (c for c in choices if shelf.in_other_measures(material_of(c)))
    taken = next(enough, None) or next(maybe, None) or choices[0]
    return replace(taken, instead=tuple(other for other in choices if other != taken))


def _is_enough(part: Part, shelf: Shelf) -> bool:
    need = material_of(part)
    return shelf.on_hand(need) >= amount(need) * (1 - HAIR)
