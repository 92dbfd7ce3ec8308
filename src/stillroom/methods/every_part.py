"""
What each step takes: no part of a recipe is missing from the words on the sheet.

A method names the parts that it weighs by. What is left (spice, salt, peel, nuts) is
added here to the step that the printed order puts it in.
"""

from __future__ import annotations

from dataclasses import replace

from stillroom.methods.method import Part, Recipe, Work
from stillroom.methods.portions import if_wanted, said
from stillroom.methods.salted import is_salted_first, stands_in_its_brine
from stillroom.methods.step import Step

# Where a part of a role goes in: the first of these steps that the batch has.
_INTO = {
    "liquid": ("soften", "brine", "stir_brine", "cook", "to_boil", "cook_down"),
    "acid": ("soften", "brine", "stir_brine", "cook", "to_boil", "stir_in"),
    "salt": ("brine", "stir_brine", "weigh_salt", "cook", "to_boil", "cook_down"),
    "sugar": ("brine", "cook", "measure_pulp", "to_boil", "cook_down"),
    "spice": ("brine", "cook", "cook_down", "to_boil", "pack"),
    "pectin": ("pectin_in", "to_boil", "stir_in"),
    "thickener": ("cook", "to_boil"),
}
_AT_THE_END = ("test", "hard_boil", "thicken", "cook")
_IN_THE_JAR = ("pack_raw", "fill", "pack")


def naming_every_part(recipe: Recipe, work: Work) -> Work:
    """
    Return the work with every part of the recipe named in one of its steps.

    Fruit is named by the steps that cut or measure it, and what a soak takes by the
    evening before.
    """
    steps = list(work.steps)
    for part in recipe.parts:
        named = any(_names(step, part, recipe) for step in steps)
        if part.role in ("fruit", "soak") or named:
            continue
        if part.role == "salt" and is_salted_first(recipe):
            continue  # it stands in it since the evening before
        if stands_in_its_brine(recipe):
            continue  # all of it went in the day before, and a second time is wrong
        at = next(
            (
                index
                for wanted in _steps_for(recipe, part)
                for index, step in enumerate(steps)
                if step.id == wanted
            ),
            None,
        )
        if at is not None:
            words = said(part)
            if part.prep and not words.endswith(part.prep):
                words += f", {part.prep}"
            words += if_wanted(part)
            note = steps[at].note
            steps[at] = replace(steps[at], note=f"{note} · {words}" if note else words)
    return replace(work, steps=tuple(steps))


def _names(step: Step, part: Part, recipe: Recipe) -> bool:
    """
    Whether a step says how much of a part it takes.

    The printed order does not, nor a verb, but that of a step that measures.
    """
    words = step.note.replace(recipe.procedure.order_of_adding, "")
    if step.id.startswith(("measure", "weigh")):
        words += step.verb
    return part.name in words


def _steps_for(recipe: Recipe, part: Part) -> tuple[str, ...]:
    """Steps that a part may go into, the likeliest first, by the printed order."""
    if part.role == "nuts":
        return _AT_THE_END
    first, *_ = clauses = recipe.procedure.order_of_adding.split(";")
    if first.startswith("all but") and _told_in(first, part):
        return ("cook", *_INTO.get(part.role, ()))
    for clause in clauses:
        if clause.strip().endswith("in the jar") and _told_in(clause, part):
            return _IN_THE_JAR
    return _INTO.get(part.role, ("to_boil", "cook"))


def _told_in(clause: str, part: Part) -> bool:
    """Tell whether a clause of the order speaks of the part by one of its words."""
    return any(word in clause for word in part.name.split() if len(word) > 3)
