"""
Products as people say them: "plum jellies", "Crab apple butter", "sour cherry jam".

A name that is not known is refused and the nearest two are offered: a wrong product
would be a wrong process.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from difflib import SequenceMatcher
from functools import cache, lru_cache
from importlib.resources.abc import Traversable

from stillroom.book.never import is_of_meat, never_products, never_ways
from stillroom.book.not_acid import fruit_not_acid
from stillroom.book.produce import NEEDS_ACID, fruits, fruits_by_words
from stillroom.book.reader import read_rows, table
from stillroom.book.sugar_words import (
    is_the_same_food,
    without_sugar_words,
)
from stillroom.book.words import holds, plain, short, tokens
from stillroom.in_a_list import any_of
from stillroom.refusal import Refusal, Source

JELLY_TABLE = "jelly (any cooked fruit jelly, tested recipe)"
JAM_TABLE = "jam (any cooked fruit jam, tested recipe)"
PUREE_TABLE = (
    "fruit puree (any acid fruit; not banana, fig, Asian pear, tomato, melon, papaya, "
    "ripe mango, coconut)"
)
UNSTERILISED_TABLE = "jelly or jam, jars NOT pre-sterilised"

# What any acid fruit can be made into, and the table that was printed for all of them.
_OF_ANY_ACID_FRUIT = {"jelly": JELLY_TABLE, "jam": JAM_TABLE, "puree": PUREE_TABLE}

# Longest first: "no added pectin" must not leave an "added" behind.
_PECTIN = (
    ("with regular powdered pectin", "powdered"),
    ("regular powdered pectin", "powdered"),
    ("with powdered pectin", "powdered"),
    ("powdered pectin", "powdered"),
    ("with liquid pectin", "liquid"),
    ("liquid pectin", "liquid"),
    ("without added pectin", "none"),
    ("no added pectin", "none"),
    ("without pectin", "none"),
    ("no pectin", "none"),
)
_SMALL_WORDS = frozenset(
    {"the", "a", "an", "of", "homemade", "home", "made", "cooked", "canned", "put"}
    | {"up", "jar"}
)
# Words for a kind of product say less of what is meant than the name of a fruit.
_KINDS = frozenset(
    {"jelly", "jam", "butter", "preserve", "conserve", "marmalade", "juice", "sauce"}
    | {"puree", "syrup", "fruit", "pickle", "pickled", "relish", "chutney", "salsa"}
    | {"soup", "filling", "pie", "whole", "sliced", "packed", "raw"}
)


_SPREADS = frozenset({"jelly", "jam", "preserve", "conserve", "marmalade"})
_SAYS_NOTHING = frozenset(
    {"with", "without", "and", "or", "in", "on", "the", "of", "for", "by", "no", "to"}
    | {"sweet", "sour", "hot", "yellow", "green", "red", "white", "black", "blue"}
    | {"dried", "dry", "fresh", "small", "large"}
)
"""Words that food of any kind has: yellow plums are not like yellow beans."""

ALIKE = 0.75
"""Of 1: a name that shares no word is offered where its letters are so much alike."""


@dataclass(frozen=True, slots=True)
class ProductName:
    """A product of the book, by the name it goes by here."""

    name: str
    """As a keeper says it: "plum jelly"."""
    kind: str
    """``jelly``, ``jam``, ``butter``, ``preserves``, ``juice``, ``sauce`` ..."""
    fruit: str
    """Name in the table of produce; empty where any fruit is meant."""
    process_table: str
    """Product of the rows that hold its process."""
    pectin: str
    """``powdered``, ``liquid``, ``none``; empty where it was not said."""
    source: Source
    """Who says that this process table is the one."""
    also_table: str = ""
    """A second product of rows that hold for it: berries packed raw."""
    jars: tuple[str, ...] = ()
    """The only jars that its recipe names; none where the table alone decides."""


def read_product_names(path: Traversable) -> Mapping[str, ProductName]:
    """Return the products of a table by every name they go by, made plain."""
    columns = [
        "name",
        "kind",
        "fruit",
        "process_table",
        "also_table",
        "jars",
        "aliases",
        "source",
        "how_known",
    ]
    names: dict[str, ProductName] = {}
    for row in read_rows(path, columns):
        product = ProductName(
            row.text("name"),
            row.text("kind"),
            row.note("fruit"),
            row.text("process_table"),
            "",
            row.source,
            row.note("also_table"),
            row.words("jars"),
        )
        for alias in (product.name, *row.words("aliases")):
            if names.get(bare(alias), product) is not product:
                raise row.wrong("aliases", f"{alias!r} is already the name of another")
            names[bare(alias)] = product
    return names


def read_which_one(path: Traversable) -> Mapping[str, Refusal]:
    """Return what to ask for instead of a name that may mean several products."""
    columns = ["said", "reason", "ask_for", "source", "how_known"]
    found: dict[str, Refusal] = {}
    for row in read_rows(path, columns):
        ask_for = row.words("ask_for")
        unknown = [name for name in ask_for if bare(name) not in _known()]
        if unknown or not ask_for:
            raise row.wrong("ask_for", f"knows no product {'; '.join(unknown)!r}")
        refusal = Refusal(
            row.text("reason"),
            f"ask for {any_of(ask_for)}, {_if_meant(ask_for)}",
            row.text("source"),
        )
        for said in row.words("said"):
            if bare(said) in found or bare(said) in _special():
                raise row.wrong("said", f"{said!r} is already a name")
            found[bare(said)] = refusal
    return found


def bare(text: str) -> str:
    """
    Return ``text`` made plain, without words that name no product.

    Examples
    --------
    >>> bare("Home-canned Pears")
    'pear'
    """
    return " ".join(word for word in tokens(text) if word not in _SMALL_WORDS)


@cache
def _special() -> Mapping[str, ProductName]:
    return read_product_names(table("product_names"))


@cache
def _which_one() -> Mapping[str, Refusal]:
    return read_which_one(table("which_one"))


@cache
def _known() -> Mapping[str, str]:
    """Every product that is answered, plain to pretty: near misses are of these."""
    general = {
        bare(f"{fruit.name} {kind}"): f"{fruit.name} {kind}"
        for fruit in fruits().values()
        if fruit.acid_class != NEEDS_ACID
        for kind in _OF_ANY_ACID_FRUIT
    }
    return general | {name: product.name for name, product in _special().items()}


@cache
def product_names() -> tuple[str, ...]:
    """Return every product that is answered, by its name here, in order."""
    return tuple(sorted(set(_known().values()), key=plain))


@cache
def _by_printed_name() -> Mapping[str, ProductName]:
    """Products by the names of their published tables, the one of no fruit first."""
    products = list(_special().values())
    return {plain(p.process_table): p for p in reversed(products)} | {
        plain(p.process_table): p for p in reversed(products) if not p.fruit
    }


def product_named(text: str) -> ProductName | Refusal:
    """
    Return the product that is meant by ``text``, or why there is none.

    Parameters
    ----------
    text : str
        As people say it; "powdered pectin", "liquid pectin" and "no added pectin" are
        understood, and left out of the name.

    Returns
    -------
    ProductName or Refusal
        The refusal of an unknown name offers the two nearest; it never picks one.

    Examples
    --------
    >>> product_named("Plum Jelly, powdered pectin").name
    'plum jelly'
    >>> product_named("plumb jelly").instead.partition(";")[0]
    'ask for plum jelly or apple jelly, if one of them is meant'
    """
    if (printed := _by_printed_name().get(plain(text))) is not None:
        return printed
    without, pectin = without_pectin_words(text)
    phrase = bare(without)
    exact = _special().get(phrase)  # a name in full comes before any word in it
    found = exact or _which_one().get(phrase) or _whatever_its_sugar(without)
    found = found or _refusal_for(tokens(without)) or _of_a_fruit(phrase)
    found = found or _unknown(text, phrase)
    return replace(found, pectin=pectin) if isinstance(found, ProductName) else found


def canner_named(text: str) -> str | Refusal:
    """
    Return ``boiling-water``, ``dial-gauge`` or ``weighted-gauge``, or a refusal.

    Ways that are known to be unsafe are refused with the reason.

    Examples
    --------
    >>> canner_named("water bath")
    'boiling-water'
    """
    canners = {
        "boiling-water": ("boiling water canner", "water bath", "water bath canner"),
        "dial-gauge": ("dial", "dial gauge canner", "dial gauge pressure canner"),
        "weighted-gauge": (
            "weighted",
            "weighted gauge canner",
            "weighted gauge pressure canner",
        ),
    }
    wanted = plain(text)
    for name, aliases in canners.items():
        if wanted in {plain(name), *(plain(alias) for alias in aliases)}:
            return name
    for unsafe in never_ways():
        if any(holds(tokens(text), phrase) for phrase in unsafe.phrases):
            return unsafe.refusal
    if tokens(text) in (["pressure", "canner"], ["pressure"]):
        return Refusal(
            "a pressure canner has a dial gauge or a weighted one, with rows of "
            "their own",
            instead="use dial-gauge or weighted-gauge",
            source="USDA Complete Guide to Home Canning (AIB 539)",
        )
    return Refusal(
        f"{short(text)!r} is not a canner that a published process here names",
        instead=f"use one of {', '.join(canners)}",
        source="USDA Complete Guide to Home Canning (AIB 539)",
    )


def without_pectin_words(text: str) -> tuple[str, str]:
    """
    Split the word on pectin from the words on the product.

    Examples
    --------
    >>> without_pectin_words("Plum jelly, liquid pectin")
    ('plum jelly', 'liquid')
    """
    padded = f" {plain(text)} "
    for words, pectin in _PECTIN:
        if f" {plain(words)} " in padded:
            return padded.replace(f" {plain(words)} ", " ").strip(), pectin
    return padded.strip(), ""


# Of these it is asked which one is meant, with sugar or without.
_ASKED_ALL_THE_SAME = frozenset({"tomato", "strawberry", "juice", "fruit"})


def _whatever_its_sugar(text: str) -> ProductName | Refusal | None:
    """Read "peaches in light syrup" and "applesauce, no sugar" as the plain food."""
    rest, what = without_sugar_words(text)
    phrase = bare(rest)
    if not what or not phrase:
        return None
    if phrase in _which_one() and phrase.split()[-1] in _ASKED_ALL_THE_SAME:
        return _which_one()[phrase]
    of_fruit = _of_a_fruit(phrase) if phrase.endswith(" puree") else None
    found = _special().get(phrase) or of_fruit
    if not isinstance(found, ProductName):
        return None
    same = is_the_same_food(what, kind=found.kind, name=found.name, fruit=found.fruit)
    return found if same else None


def _if_meant(names: Sequence[str]) -> str:
    return f"if {'that' if len(names) == 1 else 'one of them'} is meant"


def _refusal_for(words: list[str]) -> Refusal | None:
    """Refuse what no table covers, whatever else the name says."""
    for refused in never_products():
        if any(holds(words, phrase) for phrase in refused.phrases):
            return refused.refusal
    fruit = fruit_not_acid(words)
    if fruit is None:
        return None
    return Refusal(
        f"{fruit.note}, and no process for it is published in this book",
        instead="freeze it, or follow an acidified tested recipe of an extension "
        "service with its own process",
        source=str(fruit.source),
    )


def _of_a_fruit(phrase: str) -> ProductName | Refusal | None:
    """Read "plum jelly" as a jelly of an acid fruit; `None` where it is not one."""
    of, _, kind = phrase.rpartition(" ")
    fruit = fruits_by_words().get(of)
    if kind == "butter" and not of:
        return _refusal_for(["dairy", "butter"])
    if kind == "butter":
        butters = sorted({p.name for p in _special().values() if p.kind == kind})
        return Refusal(
            f"no published process is known for {phrase!r}",
            instead=f"the butters with one are {', '.join(butters)}; keep others in "
            "the freezer or the refrigerator",
            source="Michigan State Univ. Extension leaflet 01600550, Making fruit "
            "butters; USDA Complete Guide to Home Canning (AIB 539) Guide 2",
        )
    if fruit is None or kind not in _OF_ANY_ACID_FRUIT:
        return None
    general = _special()["fruit puree" if kind == "puree" else kind]
    return ProductName(
        f"{fruit.name} {kind}",
        kind,
        fruit.name,
        _OF_ANY_ACID_FRUIT[kind],
        "",
        general.source,
    )


def _else_cold(phrase: str) -> str:
    """Say where a spread is kept that has no process: one of two fruits has none."""
    if _SPREADS.isdisjoint(phrase.split()) or is_of_meat(phrase):
        return ""
    return "; any other spread is kept in the freezer, a jar in use in the refrigerator"


@lru_cache(maxsize=256)  # the same few things of a shelf are asked for again and again
def _unknown(text: str, phrase: str) -> Refusal:
    wanted = set(phrase.split()) - _SAYS_NOTHING

    def nearness(known: str) -> tuple[int, float]:
        """Count shared words first, kinds for half, then likeness of spelling."""
        likeness = SequenceMatcher(None, phrase[:100], known).ratio()
        shared = wanted & set(known.split())
        return sum(1 if word in _KINDS else 2 for word in shared), likeness

    def is_far_fetched(known: str) -> bool:
        """Whether it would send her to a food that she never thought of: ham to jam."""
        shared, likeness = nearness(known)
        if is_of_meat(phrase):
            return shared < 2 or not is_of_meat(known)
        return not shared and (likeness < ALIKE or phrase[:1] != known[:1])

    near = sorted(_known(), key=nearness, reverse=True)
    near = [name for name in near if not is_far_fetched(name)]
    first_two = list(dict.fromkeys(_known()[name] for name in near))[:2]
    return Refusal(
        f"the book knows no product called {short(text)!r}"
        if phrase
        else "no product is named",
        instead=f"ask for {any_of(first_two)}, {_if_meant(first_two)}"
        + _else_cold(phrase)
        if first_two
        else "ask the book what it knows (stillroom book), and choose from there",
        source="the book's tables of products and of produce",
    )
