"""
Whether what is in a jar is printed as acid or as low-acid, by its name.

What decides is the class of the tables that hold its process, and the fruit that it is
of. What the book cannot place is neither: nothing is taken to be acid by guess.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from functools import cache, lru_cache

from stillroom.book.low_acid_dishes import DISHES
from stillroom.book.names import (
    JAM_TABLE,
    JELLY_TABLE,
    ProductName,
    bare,
    product_named,
    product_names,
)
from stillroom.book.never import (
    Never,
    is_of_meat,
    never_in_a_spread,
    never_products,
)
from stillroom.book.not_acid import foods_not_acid, fruit_not_acid
from stillroom.book.of_which_fruit import is_of_any_fruit, of_any_fruit
from stillroom.book.process_cautions import acid_of_its_recipe
from stillroom.book.processes import LOW_ACID, Process, processes
from stillroom.book.produce import ACID, fruit_named, fruits_by_words
from stillroom.book.reader import read_rows, table
from stillroom.book.spelling import as_spelled
from stillroom.book.words import holds, tokens
from stillroom.refusal import Refusal

_IN_VINEGAR = frozenset(
    {"pickle", "pickled", "relish", "chutney", "vinegar", "sauerkraut", "kraut"}
    | {"mustard", "ketchup", "kimchi"}
)
"""Words of what keeps by vinegar or by its own acid; as `tokens` has them."""
_OF_SUGAR = frozenset({"fruit in honey", "reduced sugar or honey", "freezer spread"})
"""Refusals of spreads that say nothing of acid."""
_LAST_OF_LOW_ACID = frozenset(
    {"green", "cake", "pudding", "bread", "muffin", "brownie", "heart"}
)
"""Last words of such food; bread flour is dry, and black heart cherries are fruit."""
_WET_DISHES = frozenset({"soup", "stew"})
"""What no kraut or pickle in it makes acid."""
_OF_PLAIN_BUTTER = frozenset(
    {"canned", "home", "homemade", "bottled", "salted", "unsalted", "sweet", "cream"}
    | {"dairy", "cow", "goat", "real", "plain", "farm", "fresh", "cultured"}
    | {"honey", "maple", "herb", "compound", "whipped", "browned", "brown"}
)
"""Words before butter that make no fruit butter of it."""
_OF_PROPORTIONS = frozenset(
    {"a low-acid vegetable without a table", "peppers in other proportions", "tomato"}
    | {"a pickle or relish without a recipe", "tomatoes with peppers"}
)
"""Refusals of vegetables that keep in vinegar all the same, in tested proportions."""
_SPREADS = frozenset({"jam", "jelly", "marmalade", "preserve"})
"""What fruit alone becomes with sugar; as `tokens` has them."""


@lru_cache(maxsize=1024)  # what the book does not know it looks for all over
def is_known_acid(what: str) -> bool:
    """
    Whether it is a product of the book that is acid by its table and by its fruit.

    So is a jam or jelly of several fruits that are each printed as reliably acid, and
    of nothing else. Tomatoes are not: what makes them acid is the dose in each jar, of
    which a name says nothing; nor is jam alone, which may be of figs.

    >>> is_known_acid("plum jelly"), is_known_acid("figs"), is_known_acid("corn")
    (True, False, False)
    >>> is_known_acid("choice salsa"), is_known_acid("crushed tomatoes")
    (True, False)
    >>> is_known_acid("strawberry-rhubarb jam"), is_known_acid("plum and fig jam")
    (True, False)
    >>> is_known_acid("jam"), may_be_low_acid("jam")
    (False, False)
    """
    product = product_named(what)
    if isinstance(product, Refusal):
        return _is_spread_of_acid_fruits(tokens(what))
    if _is_low_acid_product(product) or _has_its_acid_by_the_jar(product):
        return False
    if is_of_any_fruit(product):
        return False
    return not product.fruit or _is_acid_fruit(product.fruit)


@lru_cache(maxsize=1024)
def is_known_low_acid(what: str) -> bool:
    """
    Whether the book prints it for a pressure canner alone, or refuses it in any jar.

    A name that may mean several products is low-acid where all of them are. What is
    refused and is of a fruit that is reliably acid is left out: a jam with less sugar
    has no process, and is no low-acid food by that.

    >>> is_known_low_acid("green beans"), is_known_low_acid("pumpkin butter")
    (True, True)
    >>> is_known_low_acid("spaghetti sauce without meat")
    True
    >>> is_known_low_acid("beans"), is_known_low_acid("tomatoes")
    (True, False)
    >>> is_known_low_acid("low sugar plum jam"), is_known_low_acid("bean stew")
    (False, False)
    """
    product = product_named(what)
    if not isinstance(product, Refusal):
        return _is_low_acid_product(product)
    if meant := may_mean(what):
        return all(is_known_low_acid(name) for name in meant)
    words = tokens(what)
    refused = any(
        holds(words, phrase) for never in never_products() for phrase in never.phrases
    )
    return refused and not any(
        holds(words, name) and fruit.acid_class == ACID
        for name, fruit in fruits_by_words().items()
    )


@lru_cache(maxsize=1024)
def may_be_low_acid(what: str) -> bool:
    """
    Whether something in a jar may be low-acid, by its name, where its recipe is lost.

    It is not known to be acid, and is a product of the book or names a vegetable, meat,
    fish or a fruit that is not reliably acid. What keeps by its vinegar or its sugar is
    left out, but for what the book refuses so.

    >>> may_be_low_acid("green beans"), may_be_low_acid("bean stew")
    (True, True)
    >>> may_be_low_acid("grandmother's soup"), may_be_low_acid("turnip greens")
    (True, True)
    >>> may_be_low_acid("mixed veggies"), may_be_low_acid("pickled rutabaga")
    (True, False)
    >>> may_be_low_acid("canned butter"), may_be_low_acid("quince butter")
    (True, False)
    >>> may_be_low_acid("tomatoes"), may_be_low_acid("fig jam")
    (True, True)
    >>> may_be_low_acid("plum jelly"), may_be_low_acid("pickled onions")
    (False, False)
    >>> may_be_low_acid("pickled peppers"), may_be_low_acid("green tomato chutney")
    (False, False)
    >>> may_be_low_acid("pickled eggs"), may_be_low_acid("maple syrup")
    (True, False)
    >>> may_be_low_acid("pork and sauerkraut"), may_be_low_acid("sauerkraut")
    (True, False)
    >>> may_be_low_acid("grean beans"), may_be_low_acid("rasberry jam")
    (True, False)
    """
    return _may_be(what) or bool(low_acid_but_for_a_slip(what))


def low_acid_but_for_a_slip(what: str) -> str:
    """
    Return the words of low-acid food that a name nearly has; empty where it has none.

    >>> low_acid_but_for_a_slip("greenbeans"), low_acid_but_for_a_slip("green beans")
    ('green bean', '')
    """
    spelled = as_spelled(what, _words_of_food())
    if _may_be(what) or spelled == " ".join(tokens(what)):
        return ""
    return spelled if _may_be(spelled) else ""


def _may_be(what: str) -> bool:
    """Whether it may be low-acid by its name as it is spelled."""
    if is_known_acid(what):
        return False
    product = product_named(what)
    if not isinstance(product, Refusal):
        return not is_of_any_fruit(product)
    if not all(is_known_acid(name) for name in may_mean(what)):
        return True
    words = tokens(what)
    in_vinegar = bool(_IN_VINEGAR & set(words)) and not (
        is_of_meat(what) or {"pig", *_WET_DISHES} & set(words)
    )
    says_nothing = _OF_SUGAR | _OF_PROPORTIONS if in_vinegar else _OF_SUGAR
    if _holds_any(words, (n for n in never_products() if n.what not in says_nothing)):
        return not _is_spread_of_acid_fruits(words)
    if in_vinegar:
        return False
    if _is_plain_butter(words) or _LAST_OF_LOW_ACID & set(words[-1:]):
        return True
    if any(holds(words, dish) for dish in DISHES):
        return True
    return _holds_any(words, foods_not_acid()) or fruit_not_acid(words) is not None


def goes_by_table_of(what: str) -> str:
    """
    Return the product whose table holds what is due of it at least; empty if unknown.

    A spread of several acid fruits has no recipe here: no less than of any jam or jelly
    is due of it.

    >>> goes_by_table_of("dilly beans"), goes_by_table_of("peach and plum jam")
    ('dilled beans', 'jam (any cooked fruit jam, tested recipe)')
    >>> goes_by_table_of("bean stew")
    ''
    """
    product = product_named(what)
    if not isinstance(product, Refusal):
        return product.name
    words = tokens(what)
    if not _is_spread_of_acid_fruits(words):
        return ""
    return JELLY_TABLE if words[-1] == "jelly" else JAM_TABLE


def least_minutes(what: str) -> int | None:
    """
    Return the shortest process that is printed of a product in boiling water. [min].

    It is that of the lowest kitchens, the smallest jars and the quicker pack: what had
    less was too short wherever it was. `None` where the book has no such product.

    >>> least_minutes("plum jelly"), least_minutes("peaches"), least_minutes("figs")
    (5, 20, 45)
    >>> least_minutes("peach and plum jam"), least_minutes("bean stew")
    (5, None)
    """
    product = product_named(goes_by_table_of(what))
    if isinstance(product, Refusal):
        return None
    boiled = (r.minutes for r in _rows(product) if r.method == "boiling-water")
    return min(boiled, default=None)


@lru_cache(maxsize=1024)
def acid_printed(what: str) -> str:
    """
    Return what is printed of the acid that is put in, without which no minutes count.

    It is measured into each jar, or into the pot of a jam of fruit that is not acid.
    Empty where neither is. Of a name that may mean several products it is that of all
    of them.

    >>> acid_printed("figs").startswith("Acid goes into each jar: 1 tbsp of bottled")
    True
    >>> "1/2 cup of bottled lemon juice to 4 cups of fig" in acid_printed("fig jam")
    True
    >>> acid_printed("tomatoes") == acid_printed("crushed tomatoes")
    True
    >>> acid_printed("plum jelly"), acid_printed("pickled beets")
    ('', '')
    """
    said: dict[str, None] = {}
    for name in (what, *_may_mean().get(bare(what), ())):
        product = product_named(name)
        if isinstance(product, Refusal):
            continue
        rows = _rows(product)
        for row in rows:
            if row.acid is not None and row.acid.doses:
                said[row.acid.caution.text] = None
        if any(row.product_class in ("jelly", "jam") for row in rows):
            said |= {caution.text: None for caution in acid_of_its_recipe(product)}
    return " ".join(said)


@lru_cache(maxsize=1024)
def acid_of_its_own(what: str) -> str:
    """
    Return what is printed of the acid of a recipe, without which no minutes count.

    >>> "bottled lemon or lime juice" in acid_of_its_own("choice salsa")
    True
    >>> acid_of_its_own("figs"), acid_of_its_own("green beans")
    ('', '')
    """
    product = product_named(what)
    rows = () if isinstance(product, Refusal) else _rows(product)
    texts = (r.acid.caution.text for r in rows if r.acid and not r.acid.doses)
    return " ".join(dict.fromkeys(texts))


def may_mean(what: str) -> tuple[str, ...]:
    """
    Return the products that a name may mean; none where it means one, or is not known.

    >>> may_mean("corn"), may_mean("plum jelly")
    (('whole-kernel corn', 'cream-style corn'), ())
    >>> "plum jam" in may_mean("jam")
    True
    """
    return _may_mean().get(bare(what), ()) or of_any_fruit(bare(what))


@cache
def _may_mean() -> Mapping[str, tuple[str, ...]]:
    """Names that may mean several products, made plain, and which those are."""
    columns = ["said", "reason", "ask_for", "source", "how_known"]
    return {
        bare(said): row.words("ask_for")
        for row in read_rows(table("which_one"), columns)
        for said in row.words("said")
    }


@cache
def _words_of_food() -> frozenset[str]:
    """Return every word of the foods that are known here by name."""
    never = (*never_products(), *never_in_a_spread())
    names = (
        *product_names(),
        *fruits_by_words(),
        *_may_mean(),
        *DISHES,
        *(phrase for row in never for phrase in row.phrases),
    )
    others = _IN_VINEGAR | _SPREADS | _LAST_OF_LOW_ACID | _OF_PLAIN_BUTTER
    return others.union(*(tokens(name) for name in names))


def _holds_any(words: list[str], rows: Iterable[Never]) -> bool:
    return any(holds(words, phrase) for never in rows for phrase in never.phrases)


def _is_plain_butter(words: list[str]) -> bool:
    """Whether they name butter of milk, whoever put it into jars."""
    return words[-1:] == ["butter"] and _OF_PLAIN_BUTTER.issuperset(words[:-1])


def _is_low_acid_product(product: ProductName) -> bool:
    """Whether its tables are of a low-acid class, or of pressure canners alone."""
    rows = _rows(product)
    if any(row.product_class in LOW_ACID for row in rows):
        return True
    return not any(row.method == "boiling-water" for row in rows)


def _has_its_acid_by_the_jar(product: ProductName) -> bool:
    """Whether acid is measured into each jar: without it the food is not acid."""
    return any(row.acid is not None and row.acid.doses for row in _rows(product))


def _rows(product: ProductName) -> tuple[Process, ...]:
    tables = {product.process_table, product.also_table} - {""}
    return tuple(row for row in processes() if row.published_as in tables)


def _is_spread_of_acid_fruits(words: list[str]) -> bool:
    """Whether they name fruits that are each reliably acid, and what they became."""
    if len(words) < 2 or words[-1] not in _SPREADS:
        return False
    named = {tuple(tokens(name)): fruit for name, fruit in fruits_by_words().items()}
    rest = words[:-1]
    while rest:
        # the longest name first: an apple pear is neither apple nor pear
        sizes = range(len(rest), 0, -1)
        size = next((n for n in sizes if tuple(rest[:n]) in named), 0)
        if not size or named[tuple(rest[:size])].acid_class != ACID:
            return False
        rest = rest[size:]
        if rest[1:] and rest[0] == "and":
            rest = rest[1:]
    return True


def _is_acid_fruit(name: str) -> bool:
    fruit = fruit_named(name)
    return not isinstance(fruit, Refusal) and fruit.acid_class == ACID
