"""
The keeper's own recipe as a file: TOML, read whole or refused with every fault.

What is wrong in the form of the file is a fault, with its line and key. What is only
not known yet, an empty quantity or one that cannot be measured, is no fault: it is
asked for when the recipe is measured.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from pathlib import Path as FilePath

from stillroom.book.limits import CLASSES
from stillroom.measures import INCH_M, read_length_m
from stillroom.methods.own_recipe import METHODS, OwnIngredient, OwnRecipe, Question
from stillroom.refusal import Fault, Unreadable
from stillroom.toml_lines import Path, line_numbers
from stillroom.toml_text import (
    Form,
    Noted,
    listed,
    quoted,
    shown,
    text_of,
    values_of,
)

FORM = Form(
    name="recipe file",
    new="stillroom recipe new FILE",
    repeated="[[ingredients]]",
    quoted='quantity = "7 1/2 cups"',
)
MOST_INGREDIENTS = 40
MOST_STEPS = 40
LONGEST_LINE = 120
LONGEST_STEP = 1_000
_RECIPE_KEYS = ("title", "kind", "method", "jar")
_MORE_KEYS = ("by", "headspace", "measured_ph", "measured_brix", "steps")
_INGREDIENT_KEYS = ("is", "quantity", "prep", "weighs")

TEMPLATE = """\
# A recipe of your own. It is held against the class rules of jelly, jam and fruit
# butter: stillroom recipe check FILE says which published process it may borrow, or
# why it is stored cold. One base batch, as it goes into one pot.

[recipe]
title = "My plum jam"
kind = "jam"             # jelly (of strained juice), jam (of fruit) or butter
method = "with_pectin"   # with_pectin, liquid_pectin, boiled_down, butter or cold
jar = "half-pint"        # half-pint, pint or quart
by = ""                  # who wrote it
# headspace = "1/4 in"   # if you leave another, say so
# measured_ph = 3.4      # your own readings: shown as yours; they never give a process
# measured_brix = 66
# steps = ["Crush the plums.", "Stir in the pectin and bring it to a full boil."]

# A line for each ingredient, in the order they go in. Say how fruit is cut: a cup of
# crushed fruit weighs something else than a cup of slices. Where the book does not know
# what a cup weighs you are asked; then write: weighs = "2 lb 3 oz"

[[ingredients]]
is = "plums"
quantity = "6 cups"
prep = "pitted, crushed"

[[ingredients]]
is = "regular powdered pectin"
quantity = "1 box"

[[ingredients]]
is = "sugar"
quantity = "8 cups"

[[ingredients]]
is = "bottled lemon juice"
quantity = "1/4 cup"
"""


def new_recipe_text() -> str:
    """Return a recipe file to fill in: commented, and valid as it stands."""
    return TEMPLATE


def read_recipe(path_or_text: FilePath | str) -> OwnRecipe:
    """
    Read a recipe file.

    Parameters
    ----------
    path_or_text : Path or str
        A file by its path, or the text of one: a `str` never names a file.

    Returns
    -------
    OwnRecipe
        As the keeper wrote it, with the line of each ingredient.

    Raises
    ------
    Unreadable
        With every fault of the form, its line and its key.
    """
    text = text_of(path_or_text, FORM)
    values = values_of(text, FORM)
    if isinstance(values, Fault):
        raise Unreadable(values)
    noted = Noted(line_numbers(text))
    recipe = _recipe(values, noted)
    if noted.faults:
        raise Unreadable(*listed(noted.faults))
    return recipe


def write_recipe(own: OwnRecipe, questions: Iterable[Question] = ()) -> str:
    """
    Return the text of a recipe file; `read_recipe` reads back the same recipe.

    Parameters
    ----------
    own : OwnRecipe
        The recipe.
    questions : iterable of Question
        What is to be asked; each is written as a comment where it belongs.
    """
    asked: dict[str, list[str]] = {}
    for question in questions:
        asked.setdefault(question.key, []).append(question.text)
    out = ["[recipe]"]
    said: list[tuple[str, str]] = [
        ("title", quoted(own.title)),
        ("kind", quoted(own.kind)),
        ("method", quoted(own.method)),
        ("jar", quoted(own.jar)),
    ]
    if own.by:
        said.append(("by", quoted(own.by)))
    if own.headspace_in is not None:
        said.append(("headspace", quoted(f"{own.headspace_in:.6f} in")))
    for key, value in (
        ("measured_ph", own.measured_ph),
        ("measured_brix", own.measured_brix),
    ):
        if value is not None:
            said.append((key, repr(float(value))))
    for key, value_text in said:
        out += [*_comments(asked.get(key, ())), f"{key} = {value_text}"]
    if own.steps:
        out += ["steps = [", *(f"  {quoted(step)}," for step in own.steps), "]"]
    out += _comments(asked.get("ingredients", ()))
    for number, ingredient in enumerate(own.ingredients, start=1):
        out += ["", "[[ingredients]]"]
        out += _comments(asked.get(f"ingredients[{number}]", ()))
        out += [
            f"is = {quoted(ingredient.name)}",
            f"quantity = {quoted(ingredient.quantity)}",
        ]
        for key, word in (("prep", ingredient.prep), ("weighs", ingredient.weighs)):
            if word:
                out.append(f"{key} = {quoted(word)}")
    return "\n".join(out) + "\n"


def _comments(texts: Iterable[str]) -> list[str]:
    return [
        "# asked: " + "".join(c if c.isprintable() else " " for c in text)
        for text in texts
    ]


def _recipe(values: Mapping[str, object], noted: Noted) -> OwnRecipe:
    """Read all tables; faults are noted on the way."""
    _known_keys(values, (), ("recipe", "ingredients"), noted)
    head = values.get("recipe", {})
    if "recipe" not in values:
        noted.note(("recipe",), "this is missing; write a table [recipe]")
    elif not isinstance(head, dict):
        noted.note(("recipe",), f"{shown(head)} stands here; write a table [recipe]")
    if not isinstance(head, dict):
        head = {}
    at: Path = ("recipe",)
    if "recipe" in values:
        _known_keys(head, at, (*_RECIPE_KEYS, *_MORE_KEYS), noted)
        for key in _RECIPE_KEYS:
            if key not in head:
                noted.note((*at, key), 'this key is missing; it may be empty: ""')
    ingredients = _ingredients(values, noted)
    return OwnRecipe(
        title=_text(head, at, "title", noted),
        kind=_choice(head, at, "kind", CLASSES, noted),
        method=_choice(head, at, "method", METHODS, noted),
        jar=_text(head, at, "jar", noted),
        by=_text(head, at, "by", noted),
        headspace_in=_headspace_in(head, at, noted),
        measured_ph=_number(head, at, "measured_ph", (0.0, 14.0), noted),
        measured_brix=_number(head, at, "measured_brix", (0.0, 100.0), noted),
        steps=_steps(head, at, noted),
        ingredients=ingredients,
        lines=tuple(
            (str(path[1]), line)
            for path, line in noted.lines.items()
            if len(path) == 2 and path[0] == "recipe"
        ),
    )


def _ingredients(
    values: Mapping[str, object], noted: Noted
) -> tuple[OwnIngredient, ...]:
    rows = values.get("ingredients")
    if rows is None:
        what = "this is missing; write a table [[ingredients]] for each ingredient"
        noted.note(("ingredients",), what)
        return ()
    if not isinstance(rows, list) or not rows:
        what = f"{shown(rows)} stands here; write [[ingredients]] for each ingredient"
        noted.note(("ingredients",), what)
        return ()
    if len(rows) > MOST_INGREDIENTS:
        what = f"{len(rows)} of them are too many; at most {MOST_INGREDIENTS}"
        noted.note(("ingredients",), what)
    found = []
    for index, row in enumerate(rows[:MOST_INGREDIENTS]):
        at: Path = ("ingredients", index)
        if not isinstance(row, dict):
            noted.note(at, f"{shown(row)} stands here; write a table [[ingredients]]")
            continue
        _known_keys(row, at, _INGREDIENT_KEYS, noted)
        for key in ("is", "quantity"):
            if key not in row:
                empty = "" if key == "is" else '; it may be empty: ""'
                noted.note((*at, key), f"this key is missing{empty}")
        name = _text(row, at, "is", noted)
        if not name and isinstance(row.get("is"), str):
            noted.note((*at, "is"), "it is empty; name the ingredient")
        found.append(
            OwnIngredient(
                name=name,
                quantity=_text(row, at, "quantity", noted),
                prep=_text(row, at, "prep", noted),
                weighs=_text(row, at, "weighs", noted),
                line=noted.lines.get(at),
            )
        )
    return tuple(found)


def _known_keys(
    table: Mapping[str, object], at: Path, known: tuple[str, ...], noted: Noted
) -> None:
    for key in table:
        if key not in known:
            what = f"this key is not known. Allowed: {', '.join(known)}"
            noted.note((*at, key[:LONGEST_LINE]), what)


def _text(table: Mapping[str, object], at: Path, key: str, noted: Noted) -> str:
    """Return a short text on one line; empty where it is not written."""
    value = table.get(key, "")
    if not isinstance(value, str):
        what = f'{shown(value)} is no text; write it in quotes: "..."'
        noted.note((*at, key), what)
        return ""
    said = " ".join(value.split())
    if not said.isprintable():
        noted.note((*at, key), f"{shown(value)} has letters that cannot be printed")
        return ""
    if len(said) > LONGEST_LINE:
        noted.note((*at, key), f"{shown(value)} is longer than {LONGEST_LINE} letters")
    return said


def _choice(
    table: Mapping[str, object],
    at: Path,
    key: str,
    allowed: tuple[str, ...],
    noted: Noted,
) -> str:
    """Return one of the allowed words, or nothing: then it is asked for."""
    said = _text(table, at, key, noted)
    if said and said not in allowed:
        what = f"{shown(said)} is not known. Allowed: {', '.join(allowed)}"
        noted.note((*at, key), what)
        return ""
    return said


def _number(
    table: Mapping[str, object],
    at: Path,
    key: str,
    limits: tuple[float, float],
    noted: Noted,
) -> float | None:
    value = table.get(key)
    if value is None:
        return None
    low, high = limits
    known = type(value) in (int, float)
    if not isinstance(value, int | float) or not known or not low <= value <= high:
        what = f"{shown(value)} is not a number from {low:g} to {high:g}"
        noted.note((*at, key), f"{what}, written without quotes")
        return None
    return float(value)


def _headspace_in(table: Mapping[str, object], at: Path, noted: Noted) -> float | None:
    text = _text(table, at, "headspace", noted)
    if not text:
        return None
    try:
        inches = round(read_length_m(text) / float(INCH_M), 6)
    except Unreadable as unreadable:
        noted.note((*at, "headspace"), str(unreadable))
        return None
    if not (math.isfinite(inches) and 0 < inches <= 3):
        noted.note(
            (*at, "headspace"), f'{shown(text)} is not within 0 to 3 in: "1/4 in"'
        )
        return None
    return inches


def _steps(table: Mapping[str, object], at: Path, noted: Noted) -> tuple[str, ...]:
    value = table.get("steps", [])
    if not isinstance(value, list) or len(value) > MOST_STEPS:
        what = f'write at most {MOST_STEPS} texts in a list: ["...", "..."]'
        noted.note((*at, "steps"), f"{shown(value)} stands here; {what}")
        return ()
    said = []
    for index, step in enumerate(value):
        line = " ".join(step.split()) if isinstance(step, str) else ""
        if not line or not line.isprintable() or len(line) > LONGEST_STEP:
            what = f"is no text of 1 to {LONGEST_STEP} letters in quotes"
            noted.note((*at, "steps", index), f"{shown(step)} {what}")
        else:
            said.append(line)
    return tuple(said)
