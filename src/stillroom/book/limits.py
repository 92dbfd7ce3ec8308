"""
Class rules: what a jelly, a jam or a fruit butter is, and what does not belong in one.

A recipe of the keeper's own has no process of its own. It may borrow the one that is
published for its class, where everything in it is known and lies within what tested
recipes of that class span. What is not on the lists here is not inferred.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from importlib.resources.abc import Traversable

from stillroom.book.never import never_in_a_spread
from stillroom.book.not_acid import fruit_not_acid
from stillroom.book.procedures import Procedure, procedures
from stillroom.book.produce import ACID, Fruit, fruits
from stillroom.book.reader import read_rows, table
from stillroom.book.words import holds, plain, short, tokens
from stillroom.in_a_list import all_of
from stillroom.refusal import Refusal, Source

JELLY, JAM, BUTTER = "jelly", "jam", "butter"
CLASSES = (JELLY, JAM, BUTTER)
ANY = "any"
ROLES = ("sugar", "pectin", "acid", "liquid", "spice", "foam")
_KINDS_OF = {
    JELLY: ("jelly",),
    JAM: ("jam", "preserves", "conserve", "marmalade"),
    BUTTER: ("butter",),
}
LEAST_TESTED = 2
"""One tested recipe is a point; from two on they span something. Common practice."""

# Words that say how a fruit was picked or cut, and change nothing about its acid.
_DESCRIPTIONS = frozenset(
    tokens(
        "ripe fresh frozen thawed tart sweet sour red black yellow blue purple green "
        "golden dark light large small medium whole crushed chopped sliced diced "
        "mashed peeled unpeeled pitted stoned cored seeded seedless stemmed hulled "
        "washed quartered halved ground milled sieved strained pureed puree pulp "
        "cooked prepared unsweetened bottled home homemade firm juicy wild and of the "
        "finely coarsely roughly thinly level juice fruit piece well organic fine "
        "clear fleshed just under underripe cleaned rinsed trimmed drained"
    )
)

# Fewer for all else: "fruit sugar" is another sugar, "fresh lemon juice" is not.
_SMALL = frozenset(tokens("fresh bottled ground whole level fine finely of the"))


@dataclass(frozen=True, slots=True)
class ClassRule:
    """One rule of a class: a figure, its unit, and who says so."""

    kind: str
    rule: str
    value: float
    unit: str
    words: tuple[str, ...]
    source: Source


@dataclass(frozen=True, slots=True)
class Known:
    """An ingredient that the class rules know."""

    name: str
    """In the terms of the book: "sugar"; of a fruit, its name in the table."""
    role: str
    """``fruit``, ``sugar``, ``pectin``, ``acid``, ``liquid``, ``spice``, ``foam``."""
    fruits: tuple[Fruit, ...]
    """For a fruit, which; more than one in a mixed line."""
    each_kg: float | None
    """What one box or pouch holds, as printed. [kg]"""
    each: str
    """``box`` or ``pouch``."""
    source: Source


@dataclass(frozen=True, slots=True)
class Span:
    """What tested recipes of one class and method span."""

    low: float
    high: float
    lowest: str
    """Title of the recipe at the low end."""
    highest: str
    recipes: int
    source: str

    def holds(self, value: float) -> bool:
        """Tell whether a value lies within, to one part in a thousand."""
        return self.low * 0.999 <= value <= self.high * 1.001


def read_class_rules(path: Traversable) -> Mapping[tuple[str, str], ClassRule]:
    """Return the rules of a table by class and rule."""
    columns = ["kind", "rule", "value", "unit", "words", "source", "how_known"]
    found: dict[tuple[str, str], ClassRule] = {}
    for row in read_rows(path, columns):
        key = row.one_of("kind", (*CLASSES, ANY)), row.text("rule")
        if key in found:
            raise row.wrong("rule", f"{key[1]!r} stands there twice for {key[0]}")
        value = row.number("value", 0, 1000)
        found[key] = ClassRule(
            *key, value, row.text("unit"), row.words("words"), row.source
        )
    return found


def read_class_ingredients(path: Traversable) -> Mapping[str, Known]:
    """Return the ingredients of a table by every name they go by, made plain."""
    columns = ["ingredient", "words", "role", "each_g", "each", "source", "how_known"]
    found: dict[str, Known] = {}
    for row in read_rows(path, columns):
        grams = row.number_or_none("each_g", 1, 1000)
        each = row.one_of("each", ("box", "pouch")) if grams is not None else ""
        known = Known(
            row.text("ingredient"),
            row.one_of("role", ROLES),
            (),
            None if grams is None else grams / 1000,
            each,
            row.source,
        )
        for name in (known.name, *row.words("words")):
            if found.setdefault(plain(name), known) is not known:
                raise row.wrong("words", f"{name!r} is already the name of another")
    return found


@cache
def _rules() -> Mapping[tuple[str, str], ClassRule]:
    return read_class_rules(table("class_rules"))


@cache
def _known() -> Mapping[str, Known]:
    return read_class_ingredients(table("class_ingredients"))


def class_rule(kind: str, rule: str) -> ClassRule:
    """
    Return one rule of a class.

    Parameters
    ----------
    kind : str
        ``jelly``, ``jam``, ``butter`` or ``any``.
    rule : str
        As in ``class_rules.csv``.

    Examples
    --------
    >>> class_rule("butter", "solids_at_end").value
    43.0
    """
    return _rules()[kind, rule]


def fruit_parts(kind: str, fruit: str) -> ClassRule:
    """
    Return how much fruit to 55 parts of sugar the standard asks for.

    It decides what a jar may be sold as, not how it is processed.

    Examples
    --------
    >>> fruit_parts("jam", "plum").value, fruit_parts("jam", "strawberry").value
    (45.0, 47.0)
    """
    first = _rules().get((kind, "fruit_parts_first_group"))
    if first is not None and fruit in first.words:
        return first
    return _rules()[kind, "fruit_parts"]


def ingredient_named(name: str, prep: str = "") -> Known | Refusal:
    """
    Return what an ingredient is to the class rules, or why it has no place.

    Parameters
    ----------
    name : str
        As it is written: "ripe plums", "powdered pectin".
    prep : str
        What is said beside it: "pitted, crushed". It is searched as well.

    Returns
    -------
    Known or Refusal
        A refusal for what is low in acid, thickens or is not known. Nothing that is
        not on a list is taken for harmless.

    Examples
    --------
    >>> ingredient_named("ripe plums", "pitted").name
    'plum'
    >>> ingredient_named("red onion").source.startswith("Michigan")
    True
    """
    words = tokens(name)
    stripped = [word for word in words if word not in _SMALL]
    known = _known().get(plain(name)) or _known().get(" ".join(stripped))
    searched = tokens(prep) if known else [*words, "", *tokens(prep)]
    for refused in never_in_a_spread():
        for phrase in refused.phrases:
            if holds(searched, phrase):
                no = refused.refusal
                what = f"{short(name)!r} holds {refused.what}: {no.reason}"
                return Refusal(what, no.instead, no.source)
    not_acid = fruit_not_acid(searched)
    if not_acid is not None:
        return Refusal(
            f"{not_acid.note}, so {short(name)!r} may lift the jar above the acid line",
            instead="take a tested recipe with its added acid, to the letter; or keep "
            "it cold",
            source=str(not_acid.source),
        )
    return known or _fruit(name, words)


def spans_of(kind: str, method: str) -> tuple[Span | None, Span, Span | None] | Refusal:
    """
    Return what the book's tested recipes of a class and method span.

    Returns
    -------
    tuple of Span, or Refusal
        Sugar to pectin (by mass; `None` where none is added), sugar to fruit (by
        mass), and dry spice in one batch [tsp] (`None` where no recipe has any).
        A refusal where the book has fewer than two such recipes.

    Examples
    --------
    >>> sugar_to_pectin, _, _ = spans_of("jelly", "with_pectin")
    >>> 15 < sugar_to_pectin.low < sugar_to_pectin.high < 35
    True
    """
    tested = recipes_spanning(kind, method)
    if len(tested) < LEAST_TESTED:
        return Refusal(
            f"the book has {len(tested) or 'no'} tested {kind} of acid fruit made "
            f"this way ({method.replace('_', ' ')}), too few to hold a recipe against",
            instead="keep it in the refrigerator or freezer, or take a tested recipe",
            source="the book's tables of procedures",
        )
    to_fruit = _span([(_mass(p, "sugar") / _mass(p, "fruit"), p) for p in tested])
    with_pectin = [p for p in tested if _mass(p, "pectin")]
    to_pectin = [(_mass(p, "sugar") / _mass(p, "pectin"), p) for p in with_pectin]
    spiced = [(spice, p) for p in tested if (spice := _spice_tsp(p))]
    return (
        _span(to_pectin) if len(to_pectin) >= LEAST_TESTED else None,
        to_fruit,
        _span(spiced) if spiced else None,
    )


def recipes_spanning(kind: str, method: str) -> tuple[Procedure, ...]:
    """Return the tested recipes of acid fruit that span a class and a method."""
    return tuple(
        p
        for p in procedures()
        if p.kind in _KINDS_OF[kind]
        and p.method == method
        and p.keeping == "shelf"
        and not p.refuse
        and (fruit := fruits().get(p.fruit)) is not None
        and fruit.acid_class == ACID
        and _mass(p, "sugar") > 0
        and _mass(p, "fruit") > 0
    )


def _span(values: Sequence[tuple[float, Procedure]]) -> Span:
    low, lowest = min(values, key=lambda pair: pair[0])
    high, highest = max(values, key=lambda pair: pair[0])
    source = "; ".join(dict.fromkeys((lowest.source, highest.source)))
    # A general recipe stands there once for each fruit; it is one recipe all the same.
    recipes = len({p.title.split(", of ")[0] for _, p in values})
    return Span(low, high, lowest.title, highest.title, recipes, source)


def _mass(procedure: Procedure, role: str) -> float:
    """Mass of the ingredients of a role; 0 where one of them has none."""
    parts = [i for i in procedure.of_role(role) if not i.optional]
    if any(part.mass_kg is None or part.per for part in parts):
        return 0.0
    return sum(part.mass_kg or 0.0 for part in parts)


def _spice_tsp(procedure: Procedure) -> float:
    spoons = {"tsp": 1.0, "tbsp": 3.0}
    return sum(
        float(i.quantity) * spoons.get(i.unit, 0.0) for i in procedure.of_role("spice")
    )


@cache
def _acid_fruits() -> Mapping[tuple[str, ...], Fruit]:
    """Acid fruits by their words, the longest name first."""
    named = {
        tuple(tokens(phrase)): fruit
        for fruit in fruits().values()
        if fruit.acid_class == ACID
        for phrase in (fruit.name, *fruit.aliases)
    }
    return dict(sorted(named.items(), key=lambda pair: -len(pair[0])))


def _fruit(name: str, words: list[str]) -> Known | Refusal:
    """Read "ripe yellow peaches" as a fruit; every word of it must be known."""
    left, found = list(words), list[Fruit]()
    for phrase, fruit in _acid_fruits().items():
        at = next(
            (i for i in range(len(left)) if tuple(left[i : i + len(phrase)]) == phrase),
            None,
        )
        if at is not None:
            found.append(fruit)
            left[at : at + len(phrase)] = []
    unknown = [word for word in left if word not in _DESCRIPTIONS]
    if not found or unknown:
        which = f": {', '.join(unknown[:3])}" if found else ""
        return Refusal(
            f"the class rules know nothing of {short(name)!r}{which}",
            instead="leave it out, or call it by the name that the book has; what it "
            "does to the acid of the jar is not guessed",
            source="the book's tables of produce and of ingredients",
        )
    label = found[0].name if len(found) == 1 else all_of(f.name for f in found)
    source = Source("; ".join(dict.fromkeys(str(f.source) for f in found)), "looked_up")
    if len(found) == 1:
        source = found[0].source
    return Known(label, "fruit", tuple(found), None, "", source)
