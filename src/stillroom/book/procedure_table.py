"""
The tables of tested recipes: what a row says, and what stops its loader.

The way of putting up that a recipe belongs to is one of `METHOD_NAMES`. Relish and
chutney are pickles by their acid; salsa, ketchup and tomato juice go with tomatoes;
whatever is only published for the pressure canner is a pressure pack.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from fractions import Fraction
from importlib.resources.abc import Traversable

from stillroom.book.produce import fruits
from stillroom.book.reader import Row, read_rows
from stillroom.measures import POUND_KG
from stillroom.refusal import Caution

WITH_PECTIN = "with_pectin"
LIQUID_PECTIN = "liquid_pectin"
BOILED_DOWN = "boiled_down"
BUTTER = "butter"
METHOD_NAMES: Mapping[str, str] = {
    WITH_PECTIN: "jelly and jam with powdered pectin",
    LIQUID_PECTIN: "jelly and jam with liquid pectin",
    BOILED_DOWN: "jelly, jam, conserve and marmalade without added pectin",
    BUTTER: "fruit butter",
    "freezer_spread": "uncooked jelly and jam, kept cold",
    "syrup": "fruit syrup",
    "hot_pack": "fruit and pie filling, packed hot",
    "raw_pack": "fruit, packed raw",
    "pickle": "fresh-pack pickle, relish and chutney: acid by vinegar",
    "brined": "fermented in salt",
    "tomato": "tomatoes, their juice, ketchup and salsa: acid added",
    "pressure_pack": "low-acid food and mixtures, in a pressure canner",
}
"""What the column ``method`` may say, and what it means."""

ROLES = (
    *("fruit", "sugar", "pectin", "acid", "liquid", "spice", "nuts", "salt"),
    *("thickener", "soak"),
)
UNITS = (
    *("cup", "tbsp", "tsp", "pint", "quart", "gallon", "lb", "oz", "package"),
    *("pouch", "bottle", "clove", "each"),
)
PER = ("", "pint", "quart", "cup of pulp")
_JARS = ("half-pint", "pint", "quart")


@dataclass(frozen=True, slots=True)
class Ingredient:
    """One ingredient of one base batch, as printed."""

    name: str
    quantity: Fraction
    unit: str
    """One of `UNITS`: ``cup``, ``lb``, ``package``, ``pouch`` ..."""
    mass_kg: float | None
    """Mass of that quantity; `None` where it is of no account or not known. [kg]"""
    mass_known: str
    """How the mass is known; empty where there is none."""
    prep: str
    role: str
    """
    One of `ROLES`. ``fruit`` is whatever is put up, vegetables too; ``soak`` is water
    or ice that is drained off again.
    """
    optional: bool
    note: str
    per: str = ""
    """Jar or cup that the quantity is printed for; empty: the whole batch."""
    how_known: str = "looked_up"
    as_bought_kg: float | None = None
    """Fruit as it is bought, stones, peel and stems on; of juice, what is pressed. [kg]

    `None` where nothing is taken off it, or no published yield says how much is.
    """
    as_bought_known: str = ""
    """``looked_up`` where the recipe prints it; ``computed`` from another yield."""


@dataclass(frozen=True, slots=True)
class Procedure:
    """A tested recipe: one base batch, its method, its limits and its printed yield."""

    id: str
    name: str
    """Product as a keeper says it: "plum jelly"."""
    title: str
    kind: str
    """``jelly``, ``jam``, ``conserve``, ``butter``, ``pickle``, ``salsa`` ..."""
    method: str
    """One of `METHOD_NAMES`."""
    fruit: str
    """Name in the table of produce; empty where it is of no one fruit."""
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
    """Jars that it is printed for; none where it is only kept cold."""
    process_product: str
    """
    Product of the rows that hold its process; ask `process_for` by ``name``. Empty
    where there is none.
    """
    base_prep: str
    order_of_adding: str
    largest_batch_cups: float | None
    """Most fruit or pulp in one batch, where a limit is printed. [cup]"""
    source: str
    how_known: str
    notes: str
    cautions: tuple[Caution, ...]
    keeping: str = "shelf"
    """``shelf``, or ``cold``: refrigerated or frozen, whatever jar it is in."""
    refuse: str = ""
    """Why `procedure_for` never answers with it; empty where it may."""

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
        "per",
        "prep",
        "role",
        "mass_g",
        "mass_known",
        "as_bought_lb",
        "as_bought_known",
        "optional",
        "note",
        "source",
        "how_known",
    ]
    found: dict[str, tuple[Ingredient, ...]] = {}
    for row in read_rows(path, columns):
        grams = row.number_or_none("mass_g", 1, 20_000)
        known = ("looked_up", "computed", "practice", "memory")
        basis = row.one_of("mass_known", known) if grams is not None else ""
        so_far = found.get(row.text("procedure"), ())
        if row.whole("order", 1, 20) != len(so_far) + 1:
            raise row.wrong("order", f"must be {len(so_far) + 1} here")
        ingredient = Ingredient(
            name=row.text("ingredient"),
            quantity=row.fraction("quantity", 0, 40),
            unit=row.one_of("unit", UNITS),
            mass_kg=_mass_kg(row, grams),
            mass_known=basis,
            prep=row.note("prep"),
            role=row.one_of("role", ROLES),
            optional=row.note("optional") == "yes",
            note=row.note("note"),
            per=_per(row),
            how_known=row.text("how_known"),
            as_bought_kg=(bought := _as_bought_kg(row)),
            as_bought_known=_as_bought_known(row, bought),
        )
        found[row.text("procedure")] = (*so_far, ingredient)
    return found


_WEIGHED_KG = {"lb": POUND_KG, "oz": POUND_KG / 16}
_ROUNDED_G = 0.1


def _as_bought_kg(row: Row) -> float | None:
    pounds = row.number_or_none("as_bought_lb", 0.25, 50)
    return None if pounds is None else pounds * float(POUND_KG)


def _as_bought_known(row: Row, bought: float | None) -> str:
    """Stop where no yield is named by which a weight that is not printed was found."""
    if bought is None:
        return ""
    known = row.one_of("as_bought_known", ("looked_up", "computed"))
    if known == "computed" and "bought: " not in row.note("note"):
        raise row.wrong("note", "must say by what yield it is reckoned: bought: …")
    return known


def _mass_kg(row: Row, grams: float | None) -> float | None:
    """
    Return what an ingredient weighs. [kg].

    What is printed in pounds weighs just that: by the rounded grams beside it the very
    4 lb of a recipe would be a hair less than 4 lb of it.
    """
    if grams is None:
        return None
    if row.text("unit") not in _WEIGHED_KG:
        return grams / 1000
    unit_kg = _WEIGHED_KG[row.text("unit")]
    mass_kg = float(row.fraction("quantity", 0, 40) * unit_kg)
    if abs(mass_kg * 1000 - grams) > _ROUNDED_G:
        raise row.wrong("mass_g", f"is {grams:g}; so much weighs {mass_kg * 1000:.1f}")
    return mass_kg


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


_COLUMNS = [
    *("id", "name", "title", "kind", "method", "fruits"),
    *("printed_yield_low", "printed_yield_high", "yield_unit"),
    *("boil_min", "boil_sign", "headspace_in", "jars", "process_table"),
    *("base_prep", "order_of_adding", "largest_batch_cups", "keeping", "refuse"),
    *("source", "how_known", "note"),
]


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
    found: list[Procedure] = []
    for row in read_rows(path, _COLUMNS):
        if row.text("id") not in ingredients:
            raise row.wrong("id", f"{row.text('id')!r} has no ingredients")
        parts = ingredients[row.text("id")]
        _check(row, parts)
        whole = _procedure(row, parts, cautions)
        of_fruits = row.words("fruits")
        found += (
            [_of_one_fruit(whole, fruit) for fruit in of_fruits]
            if len(of_fruits) > 1
            else [whole]
        )
    return tuple(found)


def _check(row: Row, parts: tuple[Ingredient, ...]) -> None:
    """Stop at a row whose columns do not go together."""
    row.one_of("how_known", ("looked_up",))
    of_fruits, jars = row.words("fruits"), row.words("jars")
    none_needed = row.one_of("method", tuple(METHOD_NAMES)) not in (WITH_PECTIN, BUTTER)
    if not set(of_fruits) <= set(fruits()) or not (of_fruits or none_needed):
        raise row.wrong("fruits", "must be names of the table of produce")
    keeping = row.one_of("keeping", ("shelf", "cold"))
    if (keeping == "cold") != (not jars):
        raise row.wrong("jars", f"do not go with keeping {keeping}")
    if (keeping == "cold") != (not row.note("process_table")):
        raise row.wrong("process_table", f"does not go with keeping {keeping}")
    if "memory" in {i.how_known for i in parts} and not row.note("refuse"):
        raise row.wrong("refuse", "is empty, and a quantity is from memory only")
    if not set(jars) <= set(_JARS):
        raise row.wrong("jars", f"allowed: {', '.join(_JARS)}")


def _procedure(
    row: Row, parts: tuple[Ingredient, ...], cautions: tuple[_CautionRow, ...]
) -> Procedure:
    """Return what a row says, of its one fruit or of several together."""
    id_, method = row.text("id"), row.text("method")
    low = row.number_or_none("printed_yield_low", 1, 40)
    return Procedure(
        id=id_,
        name=row.text("name"),
        title=row.text("title"),
        kind=row.text("kind"),
        method=method,
        fruit=next(iter(row.words("fruits")), ""),
        ingredients=parts,
        printed_yield_low=low,
        printed_yield_high=row.number_or_none("printed_yield_high", low or 1, 40),
        yield_unit=row.note("yield_unit"),
        boil_min=row.number_or_none("boil_min", 0.5, 60),
        boil_sign=row.text("boil_sign"),
        headspace_in=row.number("headspace_in", 0.125, 1.0),
        jars=row.words("jars"),
        process_product=row.note("process_table"),
        base_prep=row.text("base_prep"),
        order_of_adding=row.text("order_of_adding"),
        largest_batch_cups=row.number_or_none("largest_batch_cups", 1, 20),
        source=row.text("source"),
        how_known=row.text("how_known"),
        notes=row.note("note"),
        cautions=tuple(
            c.caution for c in cautions if c.procedure == id_ or c.method == method
        ),
        keeping=row.text("keeping"),
        refuse=row.note("refuse"),
    )


def _of_one_fruit(whole: Procedure, fruit: str) -> Procedure:
    """Return the procedure of one of its fruits, named after it."""
    return replace(
        whole,
        id=f"{whole.id}-{fruit.replace(' ', '-')}",
        name=f"{fruit} {whole.kind}",
        title=f"{whole.title}, of {fruit}",
        fruit=fruit,
        ingredients=_of_fruit(whole.ingredients, fruit),
    )


def _per(row: Row) -> str:
    per = row.note("per")
    if per not in PER:
        raise row.wrong("per", f"is {per!r}; allowed: {', '.join(PER[1:])}, or nothing")
    return per


def _of_fruit(
    ingredients: tuple[Ingredient, ...], fruit: str
) -> tuple[Ingredient, ...]:
    """Name the pulp, berries or juice of a general recipe after its fruit."""
    several_of_it = fruit.removesuffix("y") + "ies" if fruit.endswith("y") else fruit
    own = {
        "fruit pulp": f"{fruit} pulp",
        "berry juice": f"{fruit} juice",
        "berries": several_of_it,
        "raspberries": several_of_it,
    }
    return tuple(
        replace(i, name=own.get(i.name, i.name)) if i.role == "fruit" else i
        for i in ingredients
    )
