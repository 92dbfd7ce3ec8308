"""Published ways of filling jars with one food, hot or raw, by the jar."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from fractions import Fraction
from functools import cache

from stillroom.book.acid import AcidDose
from stillroom.book.densities import density_kg_m3
from stillroom.book.jars import jar_volume_m3, jars, may_fill, not_printed_for
from stillroom.book.names import ProductName, product_named
from stillroom.book.pack_table import (
    HOT_PACK,
    JUICE,
    PACK_METHODS,
    PRESSURE_PACK,
    PUREE,
    RAW_PACK,
    TOMATO,
    Cooking,
    Liquid,
    Measure,
    Pack,
    read_packs,
    rows_of,
)
from stillroom.book.procedure_table import Ingredient, Procedure
from stillroom.book.process_cautions import product_cautions
from stillroom.book.reader import table
from stillroom.book.words import holds, many, tokens
from stillroom.in_a_list import all_of, any_of
from stillroom.measures.words import CUP_M3, POUND_KG, TABLESPOON_M3, TEASPOON_M3
from stillroom.refusal import COMMON_PRACTICE, Caution, Refusal

__all__ = [
    "HOT_PACK",
    "JUICE",
    "PACK_METHODS",
    "PRESSURE_PACK",
    "PUREE",
    "RAW_PACK",
    "TOMATO",
    "Cooking",
    "Liquid",
    "Measure",
    "Pack",
    "acid_instead",
    "pack_for",
    "pack_of",
    "pack_procedure",
    "packs",
    "packs_named",
    "quarts_in",
    "read_packs",
    "rows_of",
]

CUPS_IN_QUART = 4
SALT_TSP = Fraction(1)
"""As one likes; printed with every tomato and vegetable pack. [tsp]"""
INTO_EACH_JAR = "into each jar"
_SPOONS = {"tbsp": TABLESPOON_M3, "tsp": TEASPOON_M3}


@cache
def packs() -> tuple[Pack, ...]:
    """Return every pack of the book; of one product, the preferred comes first."""
    return read_packs(table("packs"))


def packs_named(product: str) -> tuple[Pack, ...] | Refusal:
    """
    Return all packs of a product, the preferred one first; may be none.

    Examples
    --------
    >>> [pack.id for pack in packs_named("sour cherries")]
    ['cherries-hot', 'cherries-raw']
    """
    name = product_named(product)
    if isinstance(name, Refusal):
        return name
    by_name = [pack for pack in packs() if pack.product.name == name.name]
    tables = {name.process_table, name.also_table} - {""}
    by_table = [
        pack
        for pack in packs()
        if pack.product.process_table in tables and pack not in by_name
    ]
    return tuple(_for_food(pack, name, product) for pack in (*by_name, *by_table))


def pack_for(product: str, *, pack: str | None = None) -> Pack | Refusal:
    """
    Return the published way of filling jars with a food.

    Parameters
    ----------
    product : str
        As people say it: "pears", "green beans", "plum puree", "peaches packed raw".
    pack : str, optional
        "hot" or "raw"; where neither it nor the name says so, the preferred: hot where
        there is one.

    Returns
    -------
    Pack or Refusal
        Quantities for one quart, or why there is no such pack and what there is.

    Examples
    --------
    >>> pack_for("pears").planned_lb
    Fraction(5, 2)
    >>> print(pack_for("pears", pack="raw").instead)
    pack it hot, or freeze it
    """
    food, said = _without_pack_words(product)
    wanted = said if pack is None else pack.strip().lower().removesuffix(" pack")
    found = packs_named(food)
    if isinstance(found, Refusal):
        return found
    of_pack = [one for one in found if wanted in (None, one.pack)]
    if of_pack:
        return of_pack[0]
    if found:
        others = any_of(dict.fromkeys(one.pack for one in found))
        return Refusal(
            f"no {wanted} pack of {found[0].product.name} is in this book",
            instead=f"pack it {others}, or freeze it",
            source=found[0].source,
        )
    return Refusal(
        f"how much goes into a jar of {product.strip()} is not in this book",
        instead="follow an extension leaflet by hand, or freeze it; packs are known "
        f"for {all_of(dict.fromkeys(one.product.name for one in packs()))}",
        source="the book's table of packs",
    )


def pack_of(procedure: Procedure) -> Pack | None:
    """Return the pack that a procedure was made from by `pack_procedure`."""
    for pack in packs():
        sizes = (size.name for size in jars() if may_fill(size.name, pack.jars))
        if procedure.id in {_id(pack, size) for size in sizes}:
            product = replace(
                pack.product,
                name=procedure.name,
                fruit=procedure.fruit,
                kind=procedure.kind,
            )
            return replace(pack, food=procedure.base.name, product=product)
    return None


def pack_procedure(pack: Pack, *, jar: str = "quart") -> Procedure | Refusal:
    """
    Return a pack as a procedure for one jar, so that it can be scaled and planned.

    Parameters
    ----------
    pack : Pack
        As `pack_for` gives it.
    jar : str
        One of its jars, or a half-pint in place of a pint; every quantity goes by the
        volume, so a pint is half a quart. Only acid never goes below a pint's dose.

    Returns
    -------
    Procedure or Refusal
        Its id begins with ``pack-``; it yields one jar.

    Examples
    --------
    >>> procedure = pack_procedure(pack_for("pears"))
    >>> procedure.base.quantity, procedure.base.unit, procedure.yield_unit
    (Fraction(5, 2), 'lb', 'quart')
    """
    if not may_fill(jar, pack.jars):
        return not_printed_for(jar, pack.product.name, pack.jars, source=pack.source)
    share = quarts_in(jar)
    cooking = pack.cooking
    return Procedure(
        id=_id(pack, jar),
        name=pack.product.name,
        title=f"{pack.product.name.capitalize()}, packed {pack.pack}",
        kind=pack.product.kind,
        method=pack.method,
        fruit=pack.product.fruit,
        ingredients=_ingredients(pack, jar, share),
        printed_yield_low=1.0,
        printed_yield_high=1.0,
        yield_unit=jar,
        boil_min=float(cooking.most_min) or None,
        boil_sign=_sign(pack),
        headspace_in=pack.headspace_in,
        jars=pack.jars,
        process_product=pack.product.process_table,
        base_prep=pack.prep,
        order_of_adding=_order(pack),
        largest_batch_cups=None,
        source=pack.source,
        how_known=pack.how_known,
        notes=pack.note,
        cautions=_cautions(pack),
    )


def acid_instead(pack: Pack, jar: str) -> tuple[Ingredient, ...]:
    """
    Return the other acids of a jar, each of which will do in place of the first.

    Examples
    --------
    >>> [acid.name for acid in acid_instead(pack_for("figs"), "pint")]
    ['citric acid']
    >>> [acid_instead(pack_for(f), "pint") for f in ("Asian pears", "pears")]
    [(), ()]
    """
    if pack.acid is None:
        return ()
    return tuple(_dose(dose) for dose in pack.acid.in_jar(jar)[1:])


def _without_pack_words(product: str) -> tuple[str, str | None]:
    """
    Split how it is packed from what it is.

    A name that a published table has as a whole stays whole.

    >>> _without_pack_words("peaches, packed raw"), _without_pack_words("hot-pack figs")
    (('peach', 'raw'), ('fig', 'hot'))
    >>> _without_pack_words("tomatoes packed raw without liquid")
    ('tomatoes packed raw without liquid', None)
    """
    words = tokens(product)
    for pack in ("raw", "hot"):
        for phrase in ([pack, "packed"], [pack, "pack"]):
            if words[:2] == phrase and len(words) > 2:
                return " ".join(words[2:]), pack
        if words[-2:] == ["packed", pack] and len(words) > 2:
            return " ".join(words[:-2]), pack
    return product, None


def _for_food(pack: Pack, name: ProductName, asked: str) -> Pack:
    """A general pack for the product that was asked for, and the food it is made of."""
    words = tokens(asked)
    said = [food for food in pack.foods if holds(words, food)]
    food = max(said, key=len) if said else pack.foods[0]
    if pack.method == PUREE and name.fruit:
        food = pack.food if pack.product.fruit == name.fruit else many(name.fruit)
    named = replace(pack.product, name=name.name, fruit=name.fruit, kind=name.kind)
    return replace(pack, food=food, product=named)


def _id(pack: Pack, jar: str) -> str:
    return f"pack-{pack.id}" if jar == "quart" else f"pack-{pack.id}-{jar}"


def quarts_in(jar: str) -> Fraction:
    """
    Quarts in a jar of the book, exact: the sizes are whole cups.

    >>> quarts_in("half-pint"), quarts_in("half-gallon")
    (Fraction(1, 4), Fraction(2, 1))
    """
    volume = jar_volume_m3(jar)
    assert not isinstance(volume, Refusal)
    cups = round(volume / float(CUP_M3), 3)
    return Fraction(cups).limit_denominator(8) / CUPS_IN_QUART


def _ingredients(pack: Pack, jar: str, share: Fraction) -> tuple[Ingredient, ...]:
    """The food, its liquid and sugar, acid and salt, for one jar."""
    liquid = pack.liquid
    found = [_base(pack, jar, share)]
    if liquid.water_cups:
        juice = liquid.name if liquid.name.endswith("juice") else "water"
        how = liquid.name.removesuffix(juice).strip()  # "boiling"; a syrup by its name
        found.append(_measured(juice, liquid.water_cups * share, "cup", "liquid", how))
        found[-1] = replace(found[-1], how_known=liquid.source.how_known)
    if liquid.sugar_cups:
        into = liquid.name if "syrup" in liquid.name else ""
        found.append(
            replace(
                _measured("sugar", liquid.sugar_cups * share, "cup", "sugar", into),
                optional=liquid.sugar_optional,
                how_known=liquid.source.how_known,
            )
        )
    if pack.acid is not None:
        found.append(_acid(pack.acid.in_jar(jar)))
    if pack.salt:
        salt = _measured("salt", SALT_TSP * share, "tsp", "salt", "")
        found.append(replace(salt, optional=True, note="as one likes, for taste"))
    return tuple(found)


def _base(pack: Pack, jar: str, share: Fraction) -> Ingredient:
    planned = pack.planned_lb_in(jar)
    if planned is None:
        return _measured(pack.food, CUPS_IN_QUART * share, "cup", "fruit", "")
    quantity = planned * share
    return Ingredient(
        name=pack.food,
        quantity=quantity,
        unit="lb",
        mass_kg=float(quantity * POUND_KG),
        mass_known="computed",
        prep="",
        role="fruit",
        optional=False,
        note=pack.note,
        how_known=pack.how_known,
    )


def _acid(doses: Iterable[AcidDose]) -> Ingredient:
    """The first dose of a jar; the note names the others that will do in its place."""
    first, *others = doses
    said = any_of(f"{dose.quantity} {dose.unit} {dose.acid}" for dose in others)
    return replace(_dose(first), note=f"or {said}" if said else "")


def _dose(dose: AcidDose) -> Ingredient:
    return _measured(dose.acid, dose.quantity, dose.unit, "acid", INTO_EACH_JAR)


def _measured(
    name: str, quantity: Fraction, unit: str, role: str, prep: str
) -> Ingredient:
    """Something that is measured by cup or spoon, with its mass where that is known."""
    volume = quantity * (CUP_M3 if unit == "cup" else _SPOONS[unit])
    density = density_kg_m3(name)
    return Ingredient(
        name=name,
        quantity=quantity,
        unit=unit,
        mass_kg=None if density is None else float(volume) * density,
        mass_known="" if density is None else "computed",
        prep=prep,
        role=role,
        optional=False,
        note="",
    )


def _sign(pack: Pack) -> str:
    """What the pot is watched for."""
    cooking = pack.cooking
    if cooking.verb in ("boil", "simmer"):
        how = "a gentle boil" if cooking.verb == "boil" else "a simmer"
        return f"{cooking.most_min} min at {how}"
    if cooking.verb == "soften":
        return "soft enough for the mill"
    if cooking.verb:
        return "it boils"
    own = not pack.liquid.water_cups
    return f"{pack.liquid.name} covers it" if own else "the covering liquid boils"


def _order(pack: Pack) -> str:
    """What goes where, in order."""
    liquid = pack.liquid.name or "nothing added"
    first = "acid in the jar; " if pack.acid else ""
    if pack.pack == "raw" and not pack.liquid.water_cups:
        return f"{first}packed raw, pressed down until {liquid} covers it"
    if pack.pack == "raw":
        return f"{first}packed raw; boiling {liquid.removeprefix('boiling ')} over it"
    return f"{pack.cooking.verb or 'blanched'}; {first}packed hot; {liquid}"


def _cautions(pack: Pack) -> tuple[Caution, ...]:
    """What is said of the product, of its acid, and of figures with no source."""
    said = [
        c for row in rows_of(pack) for c in product_cautions().get(row.published_as, ())
    ]
    found = list(dict.fromkeys(said))
    if pack.acid is not None:
        found.append(pack.acid.caution)
    if pack.how_known == "practice":
        found.append(Caution(f"{pack.food}: {pack.note}", COMMON_PRACTICE))
    return tuple(found)
