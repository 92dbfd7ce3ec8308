"""
Recipes in and out as schema.org JSON-LD.

What is pasted or opened from a file is read: a page with ``application/ld+json`` blocks
or the JSON itself. Nothing is fetched. An imported recipe is the keeper's own until it
has been measured and classed: no process comes with a page.
"""

from __future__ import annotations

import json
import re
from collections import deque
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from html import unescape
from html.parser import HTMLParser

from stillroom.book.limits import CLASSES, Known, ingredient_named
from stillroom.book.procedures import Procedure
from stillroom.book.words import tokens
from stillroom.measures import mixed_number
from stillroom.methods.own_recipe import OwnIngredient, OwnRecipe, Question
from stillroom.methods.recipe_file import (
    LONGEST_STEP,
    MOST_INGREDIENTS,
    MOST_STEPS,
)
from stillroom.methods.recipe_lines import on_one_line, read_line
from stillroom.refusal import Unreadable

LARGEST_PAGE = 1_000_000
"""Bytes of a page or of pasted JSON."""
_DEEPEST = 20
_MOST_NODES = 20_000
_MOST_BLOCKS = 1_000
_TYPE = "application/ld+json"
_SCRIPT = re.compile(r"<script\b[^<>]{0,2000}>", re.I)
_SCRIPT_END = re.compile(r"</script", re.I)


@dataclass(frozen=True, slots=True, kw_only=True)
class Imported:
    """A recipe from a page, and what has to be asked about it."""

    own: OwnRecipe
    questions: tuple[Question, ...]
    """Lines that could not be read, each quoted in full."""


def import_recipe(text: str) -> Imported:
    """
    Read the first recipe of a page or of pasted JSON-LD.

    Parameters
    ----------
    text : str
        HTML with ``application/ld+json`` blocks, or JSON; at most 1 MB.

    Returns
    -------
    Imported
        The keeper's own recipe as it stands on the page. Kind, method and jar stay
        empty where the page does not say them beyond doubt.

    Raises
    ------
    Unreadable
        If it is too large or holds no recipe with ingredients.
    """
    size = len(text.encode("utf-8", "surrogatepass"))
    if size > LARGEST_PAGE:
        raise Unreadable(
            f"this page has {size / 1e6:.1f} MB; at most 1 MB is read. Paste only the "
            "part of the page with the recipe"
        )
    recipe = next(
        (
            node
            for block in _blocks(text)
            for node in _recipes(block)
            if _texts(node.get("recipeIngredient"))
        ),
        None,
    )
    if recipe is None:
        raise Unreadable(
            "there is no recipe in it: no JSON-LD block of the type Recipe with a "
            "recipeIngredient; save the whole page, or write the recipe by hand with "
            "stillroom recipe new FILE"
        )
    return _imported(recipe)


def export_recipe(recipe: OwnRecipe | Procedure) -> dict[str, object]:
    """
    Return a recipe as a schema.org Recipe.

    Parameters
    ----------
    recipe : OwnRecipe or Procedure
        The keeper's own, or a tested one of the book with its source.

    Examples
    --------
    >>> from stillroom.book.procedures import procedure_for
    >>> export_recipe(procedure_for("plum jelly"))["recipeIngredient"][0]
    '5 cups plum juice, strained'
    """
    if isinstance(recipe, Procedure):
        return _of_procedure(recipe)
    body: dict[str, object] = {
        "@context": "https://schema.org",
        "@type": "Recipe",
        "name": recipe.title,
        "recipeIngredient": [_as_line(i) for i in recipe.ingredients],
    }
    if recipe.kind:
        body["recipeCategory"] = recipe.kind
    if recipe.by:
        body["author"] = {"@type": "Person", "name": recipe.by}
    if recipe.steps:
        body["recipeInstructions"] = _how_to(recipe.steps)
    return body


def _of_procedure(procedure: Procedure) -> dict[str, object]:
    lines = []
    for ingredient in procedure.ingredients:
        unit = "" if ingredient.unit == "each" else ingredient.unit
        several = ingredient.quantity > 1 and unit not in (
            "",
            "tbsp",
            "tsp",
            "lb",
            "oz",
        )
        plural = "es" if unit == "pouch" else "s"
        said = f"{mixed_number(ingredient.quantity)} {unit}{plural if several else ''}"
        per = f" for each {ingredient.per}" if ingredient.per else ""
        optional = "optional" if ingredient.optional else ""
        after = ", ".join(word for word in (ingredient.prep, optional) if word)
        line = f"{said.strip()} {ingredient.name}{per}"
        lines.append(f"{line}, {after}" if after else line)
    steps = [procedure.base_prep, procedure.order_of_adding, procedure.boil_sign]
    body: dict[str, object] = {
        "@context": "https://schema.org",
        "@type": "Recipe",
        "name": procedure.title,
        "recipeCategory": procedure.kind,
        "recipeIngredient": lines,
        "recipeInstructions": _how_to(tuple(step for step in steps if step)),
        "isBasedOn": procedure.source,
    }
    if procedure.printed_yield_low is not None:
        low, high = procedure.printed_yield_low, procedure.printed_yield_high
        many = f"{low:g}" if low == high else f"{low:g} to {high:g}"
        body["recipeYield"] = f"{many} {procedure.yield_unit}"
    return body


def _how_to(steps: tuple[str, ...]) -> list[dict[str, str]]:
    return [{"@type": "HowToStep", "text": step} for step in steps]


def _as_line(ingredient: OwnIngredient) -> str:
    """Write an ingredient as a line that `read_line` reads back."""
    said = f"{ingredient.quantity} {ingredient.name}".strip()
    return f"{said}, {ingredient.prep}" if ingredient.prep else said


class _Tag(HTMLParser):
    """Reads the attributes of one tag."""

    type = ""

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """Take its type, without what may follow: "; charset=utf-8"."""
        self.type = (dict(attrs).get("type") or "").split(";")[0].strip().lower()


def _scripts(page: str) -> Iterator[str]:
    """
    Return the JSON-LD blocks of a page.

    The tags are found by pattern and only they are parsed: a parser that is fed a whole
    page takes minutes for a megabyte of comments that are never closed.
    """
    at = 0
    for _ in range(_MOST_BLOCKS):
        found = _SCRIPT.search(page, at)
        if found is None:
            return
        at = found.end()
        tag = _Tag()
        tag.feed(found[0])
        if tag.type != _TYPE:
            continue
        end = _SCRIPT_END.search(page, at)
        stop = end.start() if end is not None else len(page)
        yield page[at:stop]
        at = stop


def _blocks(text: str) -> Iterator[object]:
    """Return the JSON values of a text; what is broken is skipped."""
    stripped = text.removeprefix("\ufeff").strip()
    pasted = stripped[:1] in ("{", "[")
    for candidate in [stripped] if pasted else _scripts(text):
        bare = candidate.strip().removeprefix("<!--").removesuffix("-->")
        bare = bare.strip().removeprefix("//<![CDATA[").removesuffix("//]]>")
        try:
            yield json.loads(bare, strict=False)
        except (ValueError, RecursionError):
            continue


def _recipes(value: object) -> Iterator[Mapping[str, object]]:
    """Walk lists, ``@graph`` and what a page holds, down to each Recipe."""
    waiting: deque[tuple[object, int]] = deque([(value, 0)])
    seen = 0
    while waiting and seen < _MOST_NODES:
        node, depth = waiting.popleft()
        seen += 1
        if depth > _DEEPEST:
            continue
        if isinstance(node, list):
            waiting.extend((item, depth + 1) for item in node[:_MOST_NODES])
        elif isinstance(node, dict):
            kinds = node.get("@type")
            named = kinds if isinstance(kinds, list) else [kinds]
            if any(_is_recipe(kind) for kind in named):
                yield node
            for key in ("@graph", "mainEntity", "mainEntityOfPage", "itemListElement"):
                waiting.append((node.get(key), depth + 1))


def _is_recipe(kind: object) -> bool:
    return isinstance(kind, str) and kind.rpartition("/")[2].rpartition(":")[2] == (
        "Recipe"
    )


def _imported(node: Mapping[str, object]) -> Imported:
    title = on_one_line(next(iter(_texts(node.get("name"))), ""))
    by = on_one_line(_name_of(node.get("author")))
    lines = _texts(node.get("recipeIngredient"))
    read = [read_line(line) for line in lines[:MOST_INGREDIENTS]]
    questions = [
        Question(
            f"how much of what? This line could not be read for certain: {line.typed}",
            f"ingredients[{number}]",
        )
        for number, line in enumerate(read, start=1)
        if not line.read
    ]
    if len(lines) > MOST_INGREDIENTS:
        text = f"{len(lines) - MOST_INGREDIENTS} lines more were left out; is it one?"
        questions.append(Question(text, "ingredients"))
    ingredients = tuple(line.ingredient for line in read)
    kind = _kind(title, node)
    method = _method(kind, ingredients)
    for key, value, text in (
        ("kind", kind, "is it a jelly (of strained juice), a jam or a fruit butter?"),
        ("method", method, "how is it made?"),
        ("jar", "", "which jars? The page does not say it in a form that can be read"),
    ):
        if not value:
            questions.append(Question(text, key))
    own = OwnRecipe(
        title=title,
        kind=kind,
        method=method,
        jar="",
        by=by,
        ingredients=ingredients,
        steps=_steps(node.get("recipeInstructions")),
    )
    return Imported(own=own, questions=tuple(questions))


def _kind(title: str, node: Mapping[str, object]) -> str:
    """Return the class that the title names, if it is just one."""
    words = set(tokens(title))
    for category in _texts(node.get("recipeCategory")):
        words |= set(tokens(category)) if not words & set(CLASSES) else set()
    named = words & set(CLASSES)
    return named.pop() if len(named) == 1 else ""


def _method(kind: str, ingredients: tuple[OwnIngredient, ...]) -> str:
    """Return the method that its pectin calls for; nothing where that is not plain."""
    each = {
        known.each
        for i in ingredients
        if isinstance(known := ingredient_named(i.name, i.prep), Known)
        and known.role == "pectin"
    }
    if each == {"box"}:
        return "with_pectin"
    if each == {"pouch"}:
        return "liquid_pectin"
    return "butter" if kind == "butter" and not each else ""


def _steps(value: object) -> tuple[str, ...]:
    """Return the instructions as lines, whatever form they have."""
    said: list[str] = []
    waiting: list[tuple[object, int]] = [(value, 0)]
    seen = 0
    while waiting and len(said) < MOST_STEPS and seen < _MOST_NODES:
        node, depth = waiting.pop(0)
        seen += 1
        if depth > _DEEPEST:
            continue
        if isinstance(node, str):
            if line := on_one_line(unescape(node[: 20 * LONGEST_STEP]), LONGEST_STEP):
                said.append(line)
        elif isinstance(node, list):
            waiting = [*((item, depth + 1) for item in node[:MOST_STEPS]), *waiting]
        elif isinstance(node, dict):
            below = node.get("itemListElement") or node.get("text") or node.get("name")
            waiting.insert(0, (below, depth + 1))
    return tuple(said)


def _texts(value: object) -> list[str]:
    """Return the texts of a value that may be one or a list of them."""
    values = value if isinstance(value, list) else [value]
    return [unescape(text) for text in values if isinstance(text, str) and text.strip()]


def _name_of(value: object) -> str:
    """Return the name of a person, written as a text, an object or a list of them."""
    for one in value if isinstance(value, list) else [value]:
        name = one.get("name") if isinstance(one, dict) else one
        if isinstance(name, str) and name.strip():
            return unescape(name)
    return ""
