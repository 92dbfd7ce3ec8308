"""All that the book holds on one thing: the page that a keeper turns to."""

from __future__ import annotations

from dataclasses import dataclass

from stillroom.book.food_facts import FoodFacts, facts_of
from stillroom.book.jelly_juice import JellyJuice, juice_table
from stillroom.book.keeping import Fact, freezing_of, storage_of
from stillroom.book.names import (
    ProductName,
    product_named,
    product_names,
    without_pectin_words,
)
from stillroom.book.procedures import Procedure, procedures, procedures_named
from stillroom.book.process_cautions import product_cautions
from stillroom.book.process_table import Process, processes
from stillroom.book.uncanned import (
    names_without_canner,
    no_process_without_canner,
    procedure_without_canner,
)
from stillroom.book.words import plain
from stillroom.book.yearly import YearlyAmount, yearly_amounts_of
from stillroom.refusal import Caution, Refusal


@dataclass(frozen=True, slots=True)
class About:
    """What is published on one product or food."""

    name: str
    product: ProductName | Refusal
    """The product whose process is shown, or why there is none."""
    processes: tuple[Process, ...]
    """Every published row, as printed; `process_for` is the one that answers."""
    procedures: tuple[Procedure, ...]
    """Every recipe, those for the record only (`Procedure.refuse`) at the end."""
    facts: FoodFacts | None
    jelly_juice: JellyJuice | None
    storage: tuple[Fact, ...]
    freezing: tuple[Fact, ...]
    yearly: tuple[YearlyAmount, ...]
    cautions: tuple[Caution, ...]


@dataclass(frozen=True, slots=True)
class Listed:
    """One product in the list of all."""

    name: str
    kind: str
    rows: int
    """Published rows that hold its process."""
    recipes: int


def list_products() -> tuple[Listed, ...]:
    """Return every product that the book answers for, by kind and name."""
    found = []
    for name in product_names():
        product = product_named(name)
        if isinstance(product, ProductName):
            rows = len(rows_of(product))
            recipes = len(procedures_named(name))
            found.append(Listed(name, product.kind, rows, recipes))
    for name in names_without_canner():
        procedure = procedure_without_canner(name)
        if isinstance(procedure, Procedure):
            found.append(Listed(name, procedure.kind, 0, 1))
    return tuple(sorted(found, key=lambda one: (one.kind, one.name)))


def rows_of(product: ProductName) -> tuple[Process, ...]:
    """Return the published rows of a product, those of its jars only."""
    tables = {product.process_table, product.also_table}
    return tuple(
        row
        for row in processes()
        if row.published_as in tables and (not product.jars or row.jar in product.jars)
    )


def about(name: str) -> About | Refusal:
    """
    Return all that is published on a product or a food.

    A food without a process is shown with the reason why it has none.

    Examples
    --------
    >>> plums = about("plums")
    >>> len(plums.processes), plums.facts.pectin_group
    (40, 'I')
    """
    product = product_named(name)
    known = product.name if isinstance(product, ProductName) else name
    of = product.fruit if isinstance(product, ProductName) else ""
    wanted = plain(without_pectin_words(known)[0])
    recipes = [p for p in procedures() if plain(p.name) == wanted]
    without = procedure_without_canner(name)
    if isinstance(without, Procedure):
        known, recipes = without.name, [*recipes, without]
        product = no_process_without_canner(name) or product
    facts = facts_of(of or known)
    juice = juice_table(of or known)
    storage, freezing = storage_of(known), freezing_of(known)
    yearly = yearly_amounts_of(known)
    page = About(
        name=known,
        product=product,
        processes=rows_of(product) if isinstance(product, ProductName) else (),
        procedures=tuple(sorted(recipes, key=lambda p: bool(p.refuse))),
        facts=None if isinstance(facts, Refusal) else facts,
        jelly_juice=None if isinstance(juice, Refusal) else juice,
        storage=() if isinstance(storage, Refusal) else storage,
        freezing=() if isinstance(freezing, Refusal) else freezing,
        yearly=() if isinstance(yearly, Refusal) else yearly,
        cautions=_cautions(product),
    )
    nothing = not (page.procedures or page.facts or page.storage or page.freezing)
    return product if isinstance(product, Refusal) and nothing else page


def _cautions(product: ProductName | Refusal) -> tuple[Caution, ...]:
    """What is always said of it: its acid first."""
    if isinstance(product, Refusal):
        return ()
    acids = [row.acid.caution for row in rows_of(product) if row.acid is not None]
    said = [
        *dict.fromkeys(acids),
        *product_cautions().get(product.process_table, ()),
    ]
    return tuple(said)
