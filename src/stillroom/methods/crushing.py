"""Fruit made ready for the pan: crushed, or cut as its recipe prints it."""

from __future__ import annotations

from stillroom.book.words import tokens
from stillroom.in_a_list import all_of
from stillroom.methods import handling as hand
from stillroom.methods.method import Part, Recipe
from stillroom.methods.portions import if_wanted, said, weight_words
from stillroom.methods.step import Skill, Step

_CUT = frozenset({"chopped", "cut", "sliced", "slice", "strip"})
"""Words of a recipe for fruit that a knife is taken to, and no masher."""


def crush(recipe: Recipe) -> Step:
    """Wash the fruit, and crush or cut it as is printed."""
    fruit = recipe.of_role("fruit")
    minutes = hand.for_count(hand.CRUSH_FRUIT_MIN, sum(p.mass_kg or 0 for p in fruit))
    return Step(
        id="crush",
        verb=_made_ready(fruit),
        end_sign="measured level in the cup"
        if any(part.volume_m3 for part in fruit)
        else "ready for the pot",
        duration_min=minutes,
        spread=hand.spread_of(minutes),
        basis=hand.BASIS,
        attention_quarters=3,
        skill=Skill.KNIFE,
        note=" · ".join(map(_fruit_words, fruit)),
    )


def _made_ready(fruit: tuple[Part, ...]) -> str:
    """
    Say what hands do to it: crushed fruit by itself, all else by its names.

    Fruit of which nothing is printed is crushed; out of a can, nothing is washed.
    """
    done = {word for part in fruit for word in tokens(part.prep)}
    names = all_of(part.name for part in fruit)
    if "thawed" in done:
        return f"Measure the {names}"
    if not done & _CUT:
        return "Wash and crush the fruit"
    wash = "Drain" if "drained" in done else "Wash"
    cut = [part.name for part in fruit if _CUT & set(tokens(part.prep))]
    if len(cut) < len(fruit):
        return f"{wash} the {names}, and cut the {all_of(cut)}"
    return f"{wash} and cut the {names}"


def _fruit_words(part: Part) -> str:
    """Say what is to be in the cups, and of how much that is bought."""
    words = said(part) + (part.prep and f", {part.prep}") + if_wanted(part)
    bought = part.as_bought_kg
    if bought is None:
        return words
    about = "about " if part.as_bought_about else ""
    return f"{words}, of {about}{weight_words(bought, metric=part.metric)}"
