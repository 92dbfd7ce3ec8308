"""Tested recipes from named publications, each with the limits that were printed."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from importlib.resources.abc import Traversable

from stillroom.book.names import product_named
from stillroom.book.produce import fruit_named, fruits
from stillroom.book.reader import read_rows, table
from stillroom.book.words import plain
from stillroom.refusal import Caution, Refusal

WITH_PECTIN = "with_pectin"
BUTTER = "butter"
ROLES = ("fruit", "sugar", "pectin", "acid", "liquid", "spice", "nuts")
UNITS = ("cup", "tbsp", "tsp", "pint", "lb", "package", "each")
_JARS = ("half-pint", "pint", "quart")


@dataclass(frozen=True, slots=True)
class Ingredient:
    """One ingredient of one base batch, as printed."""

    name: str
    quantity: Fraction
    unit: str
    """``cup``, ``tbsp``, ``tsp``, ``pint``, ``lb``, ``package`` or ``each``."""
    mass_kg: float | None
    """Mass of that quantity; `None` where it is of no account or not known. [kg]"""
    mass_known: str
    """How the mass is known; empty where there is none."""
    prep: str
    role: str
    """``fruit``, ``sugar``, ``pectin``, ``acid``, ``liquid``, ``spice``, ``nuts``."""
    optional: bool
    note: str


@dataclass(frozen=True, slots=True)
class Procedure:
    """A tested recipe: one base batch, its method, its limits and its printed yield."""

    id: str
    name: str
    """Product as a keeper says it: "plum jelly"."""
    title: str
    kind: str
    """``jelly``, ``jam``, ``preserves``, ``conserve``, ``marmalade`` or ``butter``."""
    method: str
    """``with_pectin`` or ``butter``."""
    fruit: str
    """Name in the table of produce."""
    ingredients: tuple[Ingredient, ...]
    """In the order they go in."""
    printed_yield_low: float | None
    printed_yield_high: float | None
    """In ``yield_unit``; `None` where no yield is printed."""
    yield_unit: str
    boil_min: float | None
    """The timed boil; `None` where an end sign decides. [min]"""
    boil_sign: str
    headspace_in: float
    jars: tuple[str, ...]
    process_product: str
    """Product of the rows that hold its process; ask `process_for` by ``name``."""
    base_prep: str
    order_of_adding: str
    largest_batch_cups: float | None
    """Most fruit or pulp in one batch, where a limit is printed. [cup]"""
    source: str
    how_known: str
    notes: str
    cautions: tuple[Caution, ...]

    @property
    def base(self) -> Ingredient:
        """The fruit or juice that the batch is measured by."""
        return next(i for i in self.ingredients if i.role == "fruit")

    def of_role(self, role: str) -> tuple[Ingredient, ...]:
        """Return the ingredients of one role: ``sugar``."""
        return tuple(i for i in self.ingredients if i.role == role)


@dataclass(frozen=True, slots=True)
class _CautionRow:
    method: str
    procedure: str
    caution: Caution


def read_ingredients(path: Traversable) -> Mapping[str, tuple[Ingredient, ...]]:
    """Return the ingredients of a table by procedure, in order."""
    columns = [
        "procedure",
        "order",
        "ingredient",
        "quantity",
        "unit",
        "prep",
        "role",
        "mass_g",
        "mass_known",
        "optional",
        "note",
        "source",
        "how_known",
    ]
    found: dict[str, tuple[Ingredient, ...]] = {}
    for row in read_rows(path, columns):
        grams = row.number_or_none("mass_g", 1, 10_000)
        known = ("looked_up", "computed", "practice", "memory")
        basis = row.one_of("mass_known", known) if grams is not None else ""
        so_far = found.get(row.text("procedure"), ())
        if row.whole("order", 1, 20) != len(so_far) + 1:
            raise row.wrong("order", f"must be {len(so_far) + 1} here")
        ingredient = Ingredient(
            name=row.text("ingredient"),
            quantity=row.fraction("quantity", 0, 20),
            unit=row.one_of("unit", UNITS),
            mass_kg=None if grams is None else grams / 1000,
            mass_known=basis,
            prep=row.note("prep"),
            role=row.one_of("role", ROLES),
            optional=row.note("optional") == "yes",
            note=row.note("note"),
        )
        found[row.text("procedure")] = (*so_far, ingredient)
    return found


def read_procedure_cautions(path: Traversable) -> tuple[_CautionRow, ...]:
    """Return the cautions of a table, each for a method or for one procedure."""
    columns = ["method", "procedure", "text", "source", "how_known"]
    found = []
    for row in read_rows(path, columns):
        if bool(row.note("method")) == bool(row.note("procedure")):
            raise row.wrong("method", "or procedure must be given, not both")
        caution = Caution(row.text("text"), row.text("source"))
        found.append(_CautionRow(row.note("method"), row.note("procedure"), caution))
    return tuple(found)


def read_procedures(
    path: Traversable,
    ingredients: Mapping[str, tuple[Ingredient, ...]],
    cautions: tuple[_CautionRow, ...],
) -> tuple[Procedure, ...]:
    """
    Return the procedures of a table; one for several fruits becomes one for each.

    Raises
    ------
    Unreadable
        At the first row that is not looked up, lacks its ingredients or names a fruit
        that the table of produce does not. The message names file and line.
    """
    columns = [
        "id",
        "name",
        "title",
        "kind",
        "method",
        "fruits",
        "printed_yield_low",
        "printed_yield_high",
        "yield_unit",
        "boil_min",
        "boil_sign",
        "headspace_in",
        "jars",
        "process_table",
        "base_prep",
        "order_of_adding",
        "largest_batch_cups",
        "source",
        "how_known",
        "note",
    ]
    found: list[Procedure] = []
    for row in read_rows(path, columns):
        row.one_of("how_known", ("looked_up",))
        id_ = row.text("id")
        if id_ not in ingredients:
            raise row.wrong("id", f"{id_!r} has no ingredients")
        of_fruits = row.words("fruits")
        if not of_fruits or not set(of_fruits) <= set(fruits()):
            raise row.wrong("fruits", "must be names of the table of produce")
        if not set(row.words("jars")) <= set(_JARS):
            raise row.wrong("jars", f"allowed: {', '.join(_JARS)}")
        low = row.number_or_none("printed_yield_low", 1, 40)
        method = row.one_of("method", (WITH_PECTIN, BUTTER))
        name, title = row.text("name"), row.text("title")
        several = len(of_fruits) > 1
        for fruit in of_fruits:
            found.append(
                Procedure(
                    id=f"{id_}-{fruit.replace(' ', '-')}" if several else id_,
                    name=f"{fruit} {row.text('kind')}" if several else name,
                    title=f"{title}, of {fruit}" if several else title,
                    kind=row.text("kind"),
                    method=method,
                    fruit=fruit,
                    ingredients=_of_fruit(ingredients[id_], fruit, several),
                    printed_yield_low=low,
                    printed_yield_high=row.number_or_none(
                        "printed_yield_high", low or 1, 40
                    ),
                    yield_unit=row.note("yield_unit"),
                    boil_min=row.number_or_none("boil_min", 0.5, 60),
                    boil_sign=row.text("boil_sign"),
                    headspace_in=row.number("headspace_in", 0.125, 1.0),
                    jars=row.words("jars"),
                    process_product=row.text("process_table"),
                    base_prep=row.text("base_prep"),
                    order_of_adding=row.text("order_of_adding"),
                    largest_batch_cups=row.number_or_none("largest_batch_cups", 1, 20),
                    source=row.text("source"),
                    how_known=row.text("how_known"),
                    notes=row.note("note"),
                    cautions=tuple(
                        c.caution
                        for c in cautions
                        if c.procedure == id_ or c.method == method
                    ),
                )
            )
    return tuple(found)


@cache
def procedures() -> tuple[Procedure, ...]:
    """Return all procedures; where two share a name, the first is the preferred."""
    return read_procedures(
        table("procedures"),
        read_ingredients(table("procedure_ingredients")),
        read_procedure_cautions(table("procedure_cautions")),
    )


def procedures_named(name: str) -> tuple[Procedure, ...]:
    """
    Return the procedures for a product, the preferred one first; may be none.

    Examples
    --------
    >>> [procedure.id for procedure in procedures_named("pear butter")]
    ['butter-pear', 'butter-general-pear']
    """
    return tuple(p for p in procedures() if plain(p.name) == plain(name))


def procedure_for(name: str, *, method: str | None = None) -> Procedure | Refusal:
    """
    Return the procedure for a product.

    Parameters
    ----------
    name : str
        The product as people say it, or the id of one procedure where a product has
        two: "pear butter", "butter-general-pear".
    method : str, optional
        ``with_pectin`` or ``butter``, where only that will do.

    Returns
    -------
    Procedure or Refusal
        The preferred one; `procedures_named` gives all.

    Examples
    --------
    >>> procedure_for("plum jellies").base.quantity
    Fraction(5, 1)
    """
    for procedure in procedures():
        if name.strip() == procedure.id and method in (None, procedure.method):
            return procedure
    product = product_named(name)
    if isinstance(product, Refusal):
        return product
    found = [
        procedure
        for procedure in procedures_named(product.name)
        if method in (None, procedure.method)
    ]
    if product.pectin in ("liquid", "none"):
        found = [procedure for procedure in found if procedure.method != WITH_PECTIN]
    if found:
        return found[0]
    asked = f"{product.name} with pectin: {product.pectin}" if product.pectin else name
    same_fruit = sorted(
        {p.name for p in procedures() if p.fruit == product.fruit}
        or {p.name for p in procedures() if p.kind == product.kind}
    )
    return Refusal(
        f"the book holds no tested recipe for {asked}",
        instead="take one from an extension leaflet; the book has "
        f"{', '.join(same_fruit)}"
        if same_fruit
        else "take one from an extension leaflet",
        source="the book's tables of procedures",
    )


def procedures_using(fruit_or_juice: str) -> tuple[Procedure, ...]:
    """
    Return all procedures made of a fruit or of its juice; none for an unknown fruit.

    "plum juice" gives the jellies, whose base is juice; "plums" gives all.

    Examples
    --------
    >>> [procedure.name for procedure in procedures_using("plum juice")]
    ['plum jelly']
    """
    fruit = fruit_named(fruit_or_juice)
    if isinstance(fruit, Refusal):
        return ()
    juice = plain(fruit_or_juice).endswith(" juice")
    return tuple(
        p
        for p in procedures()
        if p.fruit == fruit.name and (not juice or p.base.name.endswith("juice"))
    )


def _of_fruit(
    ingredients: tuple[Ingredient, ...], fruit: str, several: bool
) -> tuple[Ingredient, ...]:
    """Name the pulp of a general recipe after its fruit."""
    if not several:
        return ingredients
    return tuple(
        Ingredient(
            f"{fruit} pulp" if i.role == "fruit" else i.name,
            i.quantity,
            i.unit,
            i.mass_kg,
            i.mass_known,
            i.prep,
            i.role,
            i.optional,
            i.note,
        )
        for i in ingredients
    )
