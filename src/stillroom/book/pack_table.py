"""
The table of packs: what a row says, and what stops its loader.

A pack is a published way of filling jars with one food: so much of it a quart, so much
liquid, so many minutes in the pot, so much headspace, and acid where the process needs
it. Headspace, jars and acid must be those of the published process rows.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from importlib.resources.abc import Traversable

from stillroom.book.acid import AcidRule, acid_rules
from stillroom.book.names import ProductName, product_named
from stillroom.book.process_table import Process, processes
from stillroom.book.reader import Row, read_rows
from stillroom.refusal import Refusal, Source

HOT_PACK = "hot_pack"
RAW_PACK = "raw_pack"
JUICE = "juice"
PUREE = "puree"
TOMATO = "tomato"
PRESSURE_PACK = "pressure_pack"
PACK_METHODS = (HOT_PACK, RAW_PACK, JUICE, PUREE, TOMATO, PRESSURE_PACK)
"""What the column ``method`` may say; whatever is packed raw is a raw pack."""

HANDS = ("pour", "scrub", "husk", "pick", "cut", "skin", "peel", "shell")
"""What hands do to it first; how long, the way of putting up knows."""
COOKS = ("", "boil", "simmer", "soften", "to the boil")
QUARTS_IN_LOAD = 7


@dataclass(frozen=True, slots=True)
class Liquid:
    """What covers the food, for one quart."""

    name: str
    """``light syrup``, ``boiling water`` ...; empty where nothing is added."""
    water_cups: Fraction
    """Water, or juice where the liquid is juice. [cup]"""
    sugar_cups: Fraction
    sugar_optional: bool
    fresh: bool
    """Heated by itself, not what the food was cooked in."""
    source: Source


@dataclass(frozen=True, slots=True)
class Cooking:
    """What is done in the pot before the jars are filled."""

    blanch_min: Fraction
    """In boiling water that is drained off; 0 for none. [min]"""
    verb: str
    """One of `COOKS`; empty where the food goes into the jar as it is."""
    least_min: int
    most_min: int
    """As printed; the longer of the two is planned, and nothing is shortened. [min]"""
    how_known: str
    stand_min: int
    stand_most_min: int
    """Covered, off the fire. [min]"""


@dataclass(frozen=True, slots=True)
class Measure:
    """A bushel, lug or crate, and what it is printed to fill."""

    name: str
    mass_lb: float
    quarts_low: float
    quarts_high: float


@dataclass(frozen=True, slots=True)
class Pack:
    """A published way of filling jars with one food; quantities are for one quart."""

    id: str
    food: str
    """What lies on the shelf: "pears"."""
    foods: tuple[str, ...]
    """Foods that the row holds for, the commonest first."""
    product: ProductName
    pack: str
    """``hot`` or ``raw``."""
    method: str
    """One of `PACK_METHODS`."""
    lb_per_quart: Fraction | None
    """As printed; `None` where juice is filled by volume. [lb]"""
    lb_per_load: Fraction | None
    """For 7 quarts, as printed. [lb]"""
    lb_per_nine_pints: Fraction | None
    measure: Measure | None
    hands: str
    """One of `HANDS`."""
    prep: str
    liquid: Liquid
    cooking: Cooking
    trim: str
    """What is cut or skinned after the heat; may be empty."""
    trim_after: str
    """``blanch`` or ``cook``; empty where nothing is."""
    acidify: str
    """Name of the rule of acid; empty where none is added."""
    salt: bool
    """A teaspoon a quart, as one likes."""
    headspace_in: float
    jars: tuple[str, ...]
    at_pot: str
    """What to mind at the pot and the jar; may be empty."""
    source: str
    how_known: str
    note: str

    @property
    def acid(self) -> AcidRule | None:
        """The acid that goes into each jar; `None` where none does."""
        return acid_rules()[self.acidify] if self.acidify else None

    @property
    def planned_lb(self) -> Fraction | None:
        """
        Weight that is planned for a quart. [lb]

        The larger of the printed average and a seventh of the printed load, which
        differ a little, so that fruit is not counted short.
        """
        if self.lb_per_quart is None:
            return None
        load = self.lb_per_load or Fraction(0)
        return max(self.lb_per_quart, load / QUARTS_IN_LOAD)

    def planned_lb_in(self, jar: str) -> Fraction | None:
        """
        Weight that is planned for a quart in jars of a size. [lb]

        In pints what is printed for nine of them, the one figure in print for pints: 11
        lb of pears and 7 of rhubarb, where the quart's give 11 1/4 and 6 3/4. A
        half-pint is filled as a pint is: no figure is printed for it.
        """
        if jar not in ("pint", "half-pint") or self.lb_per_nine_pints is None:
            return self.planned_lb
        return 2 * self.lb_per_nine_pints / 9

    @property
    def milled(self) -> bool:
        """Cooked soft and put through the mill: purée, and the juice of tomatoes."""
        return self.method == PUREE or (self.method == TOMATO and not self.liquid.name)

    @property
    def low_acid(self) -> bool:
        """Only a pressure canner is published for it."""
        return all(row.pressure_psi is not None for row in rows_of(self))


def rows_of(pack: Pack) -> tuple[Process, ...]:
    """Published process rows of a pack, whatever the canner."""
    return _rows(pack.product, pack.pack)


def _rows(product: ProductName, pack: str) -> tuple[Process, ...]:
    tables = {product.process_table, product.also_table} - {""}
    return tuple(
        row for row in processes() if row.published_as in tables and row.pack == pack
    )


_COLUMNS = [
    *("id", "foods", "product", "pack", "method"),
    *("lb_per_quart", "lb_per_7_quarts", "lb_per_9_pints"),
    *("measure", "measure_lb", "quarts_low", "quarts_high"),
    *("hands", "prep", "blanch_min", "liquid", "water_cups", "sugar_cups"),
    *("sugar_optional", "fresh_liquid", "liquid_source", "liquid_how_known"),
    *("cook", "cook_min", "cook_max_min", "cook_how_known"),
    *("stand_min", "stand_max_min", "trim", "trim_after"),
    *(
        "acidify",
        "salt",
        "headspace_in",
        "jars",
        "at_pot",
        "source",
        "how_known",
        "note",
    ),
]


def read_packs(path: Traversable) -> tuple[Pack, ...]:
    """
    Return the packs of a table, in order.

    Raises
    ------
    Unreadable
        At the first row whose jars, headspace or acid are not those of the published
        process, whose quantity line contradicts itself, or whose minutes are known from
        memory only. The message names file and line.
    """
    found: list[Pack] = []
    for row in read_rows(path, _COLUMNS):
        pack = _pack(row)
        if pack.id in {other.id for other in found}:
            raise row.wrong("id", f"{pack.id!r} stands there twice")
        _like_its_process(row, pack)
        found.append(pack)
    return tuple(found)


def _pack(row: Row) -> Pack:
    row.one_of("how_known", ("looked_up", "practice"))
    product = product_named(row.text("product"))
    if isinstance(product, Refusal):
        raise row.wrong("product", f"is not in the book: {product.reason}")
    foods = row.words("foods")
    if not foods:
        raise row.wrong("foods", "is empty; every row needs it")
    weights = [_pounds(row, name) for name in _COLUMNS[5:8]]
    if weights[0] and weights[1] and not 0.8 < weights[0] * 7 / weights[1] < 1.15:
        raise row.wrong("lb_per_7_quarts", "and lb_per_quart are too far apart")
    method = row.one_of("method", PACK_METHODS)
    if (weights[0] is None) != (method == JUICE):
        raise row.wrong("lb_per_quart", f"does not go with {method}")
    pack = row.one_of("pack", ("hot", "raw"))
    if (pack == "raw") != (method == RAW_PACK):
        raise row.wrong("method", f"is {method}, and the pack is {pack}")
    trim, trim_after = row.note("trim"), row.note("trim_after")
    if bool(trim) != (trim_after in ("blanch", "cook")):
        raise row.wrong("trim_after", f"is {trim_after!r}; allowed: blanch, cook")
    return Pack(
        id=row.text("id"),
        food=foods[0],
        foods=foods,
        product=product,
        pack=pack,
        method=method,
        lb_per_quart=weights[0],
        lb_per_load=weights[1],
        lb_per_nine_pints=weights[2],
        measure=_measure(row),
        hands=row.one_of("hands", HANDS),
        prep=row.text("prep"),
        liquid=_liquid(row),
        cooking=_cooking(row, pack),
        trim=trim,
        trim_after=trim_after,
        acidify=row.note("acidify"),
        salt=row.one_of("salt", ("yes", "no")) == "yes",
        headspace_in=row.number("headspace_in", 0.25, 1.25),
        jars=row.words("jars"),
        at_pot=row.note("at_pot"),
        source=row.text("source"),
        how_known=row.text("how_known"),
        note=row.note("note"),
    )


def _pounds(row: Row, column: str) -> Fraction | None:
    return row.fraction(column, 0, 40) if row.note(column) else None


def _cups(row: Row, column: str) -> Fraction:
    return Fraction(0) if row.text(column) == "0" else row.fraction(column, 0, 4)


def _measure(row: Row) -> Measure | None:
    if not row.note("measure"):
        return None
    low = row.number("quarts_low", 1, 40)
    return Measure(
        row.note("measure"),
        row.number("measure_lb", 5, 80),
        low,
        row.number("quarts_high", low, 40),
    )


def _liquid(row: Row) -> Liquid:
    name, source = row.note("liquid"), row.note("liquid_source")
    if bool(name) != bool(source):
        raise row.wrong("liquid_source", f"does not go with {name or 'no liquid'}")
    known = row.one_of("liquid_how_known", ("looked_up", "practice"))
    return Liquid(
        name,
        _cups(row, "water_cups"),
        _cups(row, "sugar_cups"),
        row.one_of("sugar_optional", ("yes", "no")) == "yes",
        row.one_of("fresh_liquid", ("yes", "no")) == "yes" or row.note("pack") == "raw",
        Source(source, known),
    )


def _cooking(row: Row, pack: str) -> Cooking:
    verb = row.note("cook")
    if verb not in COOKS:
        raise row.wrong("cook", f"is {verb!r}; allowed: {', '.join(COOKS[1:])}")
    least = row.whole("cook_min", 0, 60)
    most = row.whole("cook_max_min", least, 60)
    stand = row.whole("stand_min", 0, 60)
    blanch = (
        Fraction(0)
        if row.text("blanch_min") == "0"
        else row.fraction("blanch_min", 0, 5)
    )
    if pack == "raw" and (verb or blanch):
        raise row.wrong("cook", "does not go with a raw pack")
    if pack == "hot" and not (verb or blanch):
        raise row.wrong("cook", "is empty, and the pack is hot")
    if bool(most) != (verb in ("boil", "simmer", "soften")):
        raise row.wrong("cook_max_min", f"does not go with {verb or 'no cooking'}")
    return Cooking(
        blanch,
        verb,
        least,
        most,
        row.one_of("cook_how_known", ("looked_up", "practice")),
        stand,
        row.whole("stand_max_min", stand, 60),
    )


def _like_its_process(row: Row, pack: Pack) -> None:
    """Stop at a pack whose jars, headspace or acid its process does not have."""
    rows = rows_of(pack)
    if not rows:
        raise row.wrong("pack", f"is {pack.pack}, and no such process is published")
    for jar in pack.jars:
        of_jar = [process for process in rows if process.jar == jar]
        if not of_jar:
            raise row.wrong("jars", f"name {jar}, and no such process is published")
        if {p.headspace_in for p in of_jar} != {pack.headspace_in}:
            raise row.wrong("headspace_in", f"is not that of the process in {jar} jars")
    if {process.acidify for process in rows} != {pack.acidify}:
        raise row.wrong("acidify", "is not the acid of the published process")
    if pack.acid is not None and not all(pack.acid.in_jar(j) for j in pack.jars):
        raise row.wrong("acidify", "has no dose for each of the jars")
    if (pack.method == PRESSURE_PACK) != (pack.pack == "hot" and pack.low_acid):
        raise row.wrong("method", "does not go with the canners of the process")
