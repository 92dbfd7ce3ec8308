"""
Freezing: how long each food is blanched, how it is packed, what a freezer takes.

A time of blanching keeps colour and flavour in the freezer; it is no process, and jars
that got it are not for the shelf.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from importlib.resources.abc import Traversable

from stillroom.book.keeping import freezing_headspace
from stillroom.book.reader import Row, read_rows, table
from stillroom.book.words import plain
from stillroom.measures import FOOT_M, POUND_KG
from stillroom.refusal import Refusal, Source

PACKS = ("dry", "sugar", "syrup")
_HEADSPACE_OF = {"dry": "dry pack", "sugar": "liquid pack", "syrup": "liquid pack"}
"""Sugar draws juice, so a sugar pack is filled like a liquid one."""
_COLUMNS = (
    *("id", "name", "aliases", "food", "kind", "pack", "prep"),
    *("blanch_low_min", "blanch_high_min", "blanch_sign", "cool_times"),
    *("lb_per_pint", "fill_source", "fill_known", "sugar_cups_per_quart", "syrup"),
    *("months_low", "months_high", "months_source", "months_known", "note"),
    *("source", "how_known"),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class FreezingPack:
    """One food, cut and packed in one way."""

    id: str
    name: str
    """As a keeper asks for it: "frozen green beans"."""
    aliases: tuple[str, ...]
    food: str
    kind: str
    """``vegetable`` or ``fruit``."""
    pack: str
    """One of `PACKS`."""
    prep: str
    blanch_low_min: float
    blanch_high_min: float
    """Printed minutes in boiling water; 0 where it is not blanched. [min]"""
    blanch_sign: str
    cool_times: float
    """Cooled so many times as long as it was blanched. [1]"""
    fill_kg_per_pint: float | None
    """Prepared food that fills a pint; `None` where no figure was seen. [kg]"""
    fill_source: Source | None
    sugar_cups_per_quart: float | None
    syrup: str
    """Sugar to water in cups, "1:1"; empty where there is none."""
    months: tuple[int, int]
    """How long it is best in the freezer. [month]"""
    months_source: Source
    note: str
    source: Source

    @property
    def blanched(self) -> bool:
        """It goes into boiling water first."""
        return self.blanch_high_min > 0


def read_freezing_packs(path: Traversable) -> tuple[FreezingPack, ...]:
    """
    Return the rows of a table of freezing packs.

    Raises
    ------
    Unreadable
        At the first row without source, or whose figures are out of range.
    """
    found: list[FreezingPack] = []
    for row in read_rows(path, _COLUMNS):
        if any(row.text("id") == earlier.id for earlier in found):
            raise row.wrong("id", "stands there twice")
        pack = row.one_of("pack", PACKS)
        low = row.number("blanch_low_min", 0, 15)
        sugar = row.number_or_none("sugar_cups_per_quart", 0.1, 2)
        if (pack == "sugar") != (sugar is not None):
            raise row.wrong("sugar_cups_per_quart", f"does not go with pack {pack}")
        if (pack == "syrup") != bool(row.note("syrup")):
            raise row.wrong("syrup", f"does not go with pack {pack}")
        months_low = row.whole("months_low", 1, 24)
        found.append(
            FreezingPack(
                id=row.text("id"),
                name=row.text("name"),
                aliases=row.words("aliases"),
                food=row.text("food"),
                kind=row.one_of("kind", ("vegetable", "fruit")),
                pack=pack,
                prep=row.text("prep"),
                blanch_low_min=low,
                blanch_high_min=row.number("blanch_high_min", low, 15),
                blanch_sign=row.note("blanch_sign"),
                cool_times=row.number("cool_times", 1, 3),
                fill_kg_per_pint=_fill(row),
                fill_source=_fill_source(row),
                sugar_cups_per_quart=sugar,
                syrup=row.note("syrup"),
                months=(months_low, row.whole("months_high", months_low, 24)),
                months_source=Source(
                    row.text("months_source"),
                    row.one_of("months_known", ("looked_up", "memory")),
                ),
                note=row.note("note"),
                source=row.source,
            )
        )
    return tuple(found)


def _fill(row: Row) -> float | None:
    pounds = row.number_or_none("lb_per_pint", 0.2, 2)
    return None if pounds is None else pounds * float(POUND_KG)


def _fill_source(row: Row) -> Source | None:
    if not row.note("lb_per_pint"):
        return None
    known = row.one_of("fill_known", ("looked_up", "computed", "practice"))
    return Source(row.text("fill_source"), known)


@cache
def freezing_packs() -> tuple[FreezingPack, ...]:
    """Return all freezing packs of the book, those from memory too."""
    return read_freezing_packs(table("freezing_packs"))


def freezing_pack_for(name: str) -> FreezingPack | Refusal:
    """
    Return how a food is frozen: "frozen green beans", "onions", "freeze peas".

    Rows that are known from memory only never answer.

    Examples
    --------
    >>> freezing_pack_for("frozen whole onions").blanch_high_min
    7.0
    """
    words = plain(name).split()
    if words[:1] in (["frozen"], ["freeze"]):
        words = words[1:]
    asked = " ".join(words)
    for pack in freezing_packs():
        own = plain(pack.name).removeprefix("frozen ")
        others = {plain(alias).removeprefix("frozen ") for alias in pack.aliases}
        if asked == own or asked in others:
            return _answer(pack)
    foods = sorted({pack.food for pack in freezing_packs()})
    return Refusal(
        f"no freezing of {name!r} is in the book",
        instead="follow an extension leaflet for how it is frozen, and whether it is "
        "blanched; the book has " + ", ".join(foods),
        source="the book's table of freezing packs",
    )


def _answer(pack: FreezingPack) -> FreezingPack | Refusal:
    if pack.source.how_known != "memory":
        return pack
    return Refusal(
        f"the blanching of {pack.food} is known here from memory only, and such a row "
        "never answers",
        instead="take the minutes from an extension leaflet",
        source=f"{pack.source} (from memory)",
    )


@cache
def freezing_rules() -> Mapping[str, tuple[float, Source]]:
    """Return the figures that hold for all freezing, by the name of the rule."""
    columns = ["rule", "value", "unit", "text", "source", "how_known"]
    return {
        row.text("rule"): (row.number("value", -30, 10_000), row.source)
        for row in read_rows(table("freezing_rules"), columns)
    }


def freezer_load_rule_kg_m3() -> tuple[float, float]:
    """
    Return the food that a freezer freezes in 24 h, careful and utmost. [kg/m3].

    Examples
    --------
    >>> careful, utmost = freezer_load_rule_kg_m3()
    >>> print(f"{careful:.2f} to {utmost:.2f}")
    32.04 to 48.06
    """
    pound_to_cubic_foot = float(POUND_KG / FOOT_M**3)
    rules = freezing_rules()
    low, high = rules["load low"][0], rules["load high"][0]
    return low * pound_to_cubic_foot, high * pound_to_cubic_foot


def blanching_min(pack: FreezingPack, elevation_ft: float) -> float:
    """
    Longest printed minutes in boiling water at an elevation; 0 where there are none.

    Examples
    --------
    >>> beans = freezing_pack_for("green beans")
    >>> blanching_min(beans, 2150), blanching_min(beans, 5000)
    (3.0, 4.0)
    """
    if not pack.blanched:
        return 0.0
    rules = freezing_rules()
    high = elevation_ft >= rules["elevation"][0]
    return pack.blanch_high_min + (rules["more at elevation"][0] if high else 0.0)


def freezer_headspace_in(pack: str, jar: str, *, top: str = "wide") -> float | Refusal:
    """
    Room that is left above food that will be frozen. [in]

    Parameters
    ----------
    pack : str
        One of `PACKS`, or ``juice``.
    jar : str
        ``pint`` or ``quart``, box or jar.
    top : str
        ``wide`` or ``narrow``.

    Examples
    --------
    >>> freezer_headspace_in("syrup", "quart")
    1.0
    """
    found = freezing_headspace(_HEADSPACE_OF.get(pack, pack), jar, top=top)
    return found if isinstance(found, Refusal) else found.headspace_in
