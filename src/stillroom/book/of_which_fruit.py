"""
Jam, jelly and puree of no named fruit: whether their minutes hold, the fruit decides.

One table is printed for all cooked fruit jams, one for all jellies, and one for purees.
Their minutes are for fruit that is acid by itself or by its recipe. Who has looked at
that (a recipe of one's own, a jelly that is remade) asks by the name of the table.
"""

from __future__ import annotations

from functools import cache

from stillroom.book.names import (
    JAM_TABLE,
    JELLY_TABLE,
    PUREE_TABLE,
    ProductName,
    product_named,
    product_names,
)
from stillroom.book.not_acid import fruit_not_acid_words
from stillroom.book.words import plain
from stillroom.refusal import Refusal

_TABLES = {"jam": JAM_TABLE, "jelly": JELLY_TABLE, "fruit puree": PUREE_TABLE}


def by_its_table(name: str) -> str:
    """
    Return the name of the printed table for jam, jelly or fruit puree alone.

    Any other name comes back as it is.

    >>> by_its_table("jelly"), by_its_table("plum jelly")
    ('jelly (any cooked fruit jelly, tested recipe)', 'plum jelly')
    """
    return _TABLES.get(name, name)


def is_of_any_fruit(product: ProductName) -> bool:
    """Whether a product is jam, jelly or puree alone, which may be of any fruit."""
    return product.name in _TABLES


def which_fruit(said: str, product: ProductName) -> Refusal | None:
    """
    Ask which fruit a jam, jelly or puree is of; `None` where that was said.

    >>> asked = which_fruit("fruit jam", product_named("fruit jam"))
    >>> asked.reason.startswith("jam may be of any fruit, and its minutes are for acid")
    True
    >>> which_fruit("plum jam", product_named("plum jam")) is None
    True
    >>> which_fruit("purees", product_named("fruit purees")).instead[:32]
    'name its fruit, such as plum pur'
    """
    if not is_of_any_fruit(product) or plain(said) == plain(product.process_table):
        return None
    kind = product.name
    if kind == "fruit puree":
        return Refusal(
            f"{kind} may be of any fruit, and its minutes are for acid fruit: they "
            "are not for tomatoes, and "
            f"{fruit_not_acid_words()} are not reliably acid",
            instead="name its fruit, such as plum puree or apricot puree. A mixture, "
            "and what nobody knows the fruit of, is frozen or refrigerated",
            source=f"{product.source}; the book's table of produce",
        )
    return Refusal(
        f"{kind} may be of any fruit, and its minutes are for acid fruit in a tested "
        f"recipe: {fruit_not_acid_words()} are not reliably acid",
        instead=f"name its fruit, such as plum {kind} or berry {kind}; a recipe of "
        "your own, of several fruits too, is held against tested ones (stillroom "
        "recipe). Where nobody knows its fruit: refrigerate or freeze it",
        source=f"{product.source}; the book's table of produce",
    )


@cache
def of_any_fruit(kind: str) -> tuple[str, ...]:
    """
    Return the products that jam, jelly or puree alone may mean; none of another name.

    >>> {"plum jam", "fig jam"} <= set(of_any_fruit("fruit jam")), of_any_fruit("corn")
    (True, ())
    """
    general = product_named(kind)
    if not isinstance(general, ProductName) or not is_of_any_fruit(general):
        return ()
    products = (product_named(name) for name in product_names())
    return tuple(
        product.name
        for product in products
        if isinstance(product, ProductName)
        and product.kind == general.kind
        and product.fruit
    )
