"""Tested recipes from named publications, each with the limits that were printed."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache

from stillroom.book.names import (
    ProductName,
    product_named,
    without_pectin_words,
)
from stillroom.book.procedure_table import (
    BOILED_DOWN,
    BUTTER,
    LIQUID_PECTIN,
    METHOD_NAMES,
    WITH_PECTIN,
    Ingredient,
    Procedure,
    read_ingredients,
    read_procedure_cautions,
    read_procedures,
)
from stillroom.book.process_table import processes
from stillroom.book.produce import fruit_named
from stillroom.book.reader import table
from stillroom.book.words import holds, plain, tokens
from stillroom.refusal import Refusal

__all__ = [
    "BOILED_DOWN",
    "BUTTER",
    "LIQUID_PECTIN",
    "METHOD_NAMES",
    "WITH_PECTIN",
    "Ingredient",
    "Procedure",
    "answered_procedures",
    "procedure_for",
    "procedures",
    "procedures_named",
    "procedures_using",
    "read_ingredients",
    "read_procedure_cautions",
    "read_procedures",
]

_OF_PECTIN = {"powdered": WITH_PECTIN, "liquid": LIQUID_PECTIN, "none": BOILED_DOWN}


@cache
def procedures() -> tuple[Procedure, ...]:
    """Return all procedures; where two share a name, the first is the preferred."""
    return read_procedures(
        table("procedures"),
        read_ingredients(table("procedure_ingredients")),
        read_procedure_cautions(table("procedure_cautions")),
    )


@cache
def answered_procedures() -> tuple[Procedure, ...]:
    """Return those that are cooked by, without those for the record only."""
    return tuple(p for p in procedures() if not p.refuse)


def procedures_named(name: str) -> tuple[Procedure, ...]:
    """
    Return the procedures for a product, the preferred one first; may be none.

    Those that are only kept for the record (`Procedure.refuse`) are left out.

    Examples
    --------
    >>> [procedure.id for procedure in procedures_named("pear butter")]
    ['butter-pear', 'butter-general-pear']
    """
    return _by_name().get(plain(name), ())


def procedure_for(name: str, *, method: str | None = None) -> Procedure | Refusal:
    """
    Return the procedure for a product.

    Parameters
    ----------
    name : str
        The product as people say it, with a word on pectin if that matters, or the id
        or whole title of one procedure where a product has several: "plum jelly", "plum
        jelly without pectin", "butter-general-pear".
    method : str, optional
        One of `METHOD_NAMES`, where only that will do.

    Returns
    -------
    Procedure or Refusal
        The preferred one, powdered pectin before liquid before none;
        `procedures_named` gives all. One that is only kept cold is found by its name,
        although `process_for` has no process for it.

    Examples
    --------
    >>> procedure_for("plum jellies").base.quantity
    Fraction(5, 1)
    >>> procedure_for("plum jelly without pectin").id
    'jelly-plum-none'
    """
    for procedure in procedures():
        said = name.strip() == procedure.id or tokens(name) == tokens(procedure.title)
        if said and method in (None, procedure.method):
            return _refused(procedure) if procedure.refuse else procedure
    wanted, pectin = without_pectin_words(name)
    found = _fitting(procedures_named(wanted), method, pectin)
    if found and found[0].keeping == "cold":
        return found[0]
    product = product_named(name)
    if isinstance(product, Refusal):
        return product
    found = _fitting(procedures_named(product.name), method, pectin)
    return found[0] if found else _none_for(name, product)


def _fitting(
    found: tuple[Procedure, ...], method: str | None, pectin: str
) -> tuple[Procedure, ...]:
    """Those of a method, and of the pectin that was named."""
    of_pectin = _OF_PECTIN.get(pectin)
    return tuple(
        p for p in found if method in (None, p.method) and of_pectin in (None, p.method)
    )


def _none_for(name: str, product: ProductName) -> Refusal:
    """Say that the book holds no such recipe, and which are nearest."""
    answered = answered_procedures()
    kept = [p for p in procedures() if p.refuse and p.name == product.name]
    if kept and not product.pectin and not procedures_named(product.name):
        return _refused(kept[0])
    asked = f"{product.name} with pectin: {product.pectin}" if product.pectin else name
    same_fruit = sorted(
        {p.name for p in answered if product.fruit and p.fruit == product.fruit}
        or {p.name for p in answered if p.kind == product.kind}
    )
    instead = ["take one from an extension leaflet"]
    if product.process_table in {process.product for process in processes()}:
        instead.append(
            f'its process alone is in the book: stillroom book "{product.name}"'
        )
    if same_fruit:
        instead.append(f"the book has {', '.join(same_fruit)}")
    return Refusal(
        f"the book holds no tested recipe for {asked}",
        instead="; ".join(instead),
        source="the book's tables of procedures",
    )


def _refused(procedure: Procedure) -> Refusal:
    """Say why a recipe of the record is not answered with."""
    return Refusal(
        f"the recipe {procedure.title!r} is kept for the record only: "
        f"{procedure.refuse}",
        instead="take another recipe for it from an extension leaflet"
        if procedure.keeping == "shelf"
        else "refrigerate or freeze it",
        source=procedure.source,
    )


def procedures_using(fruit_or_juice: str) -> tuple[Procedure, ...]:
    """
    Return all procedures made of a fruit or of its juice; none for an unknown one.

    "plum juice" gives the jellies, whose base is juice; "plums" gives all; vegetables
    are found by the name of the recipe's own base.

    Examples
    --------
    >>> [procedure.id for procedure in procedures_using("plum juice")]
    ['jelly-plum-powdered', 'jelly-plum-liquid', 'jelly-plum-none']
    """
    answered = answered_procedures()
    fruit = fruit_named(fruit_or_juice)
    if isinstance(fruit, Refusal):
        wanted = plain(fruit_or_juice)
        return tuple(
            p for p in answered if wanted and holds(tokens(p.base.name), wanted)
        )
    juice = plain(fruit_or_juice).endswith(" juice")
    return tuple(
        p
        for p in answered
        if p.fruit == fruit.name and (not juice or p.base.name.endswith("juice"))
    )


@cache
def _by_name() -> Mapping[str, tuple[Procedure, ...]]:
    found: dict[str, tuple[Procedure, ...]] = {}
    for p in procedures():
        if not p.refuse:
            found[plain(p.name)] = (*found.get(plain(p.name), ()), p)
    return found
