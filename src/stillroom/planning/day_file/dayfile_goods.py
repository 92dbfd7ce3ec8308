"""What is on the shelf of a day file, and what is wanted."""

from __future__ import annotations

import datetime as dt

from stillroom.measures import LITRE_M3, Dimension, Quantity, read_quantity
from stillroom.planning.day import Lot, Purpose, Want
from stillroom.planning.day_file.dayfile_fields import Table, all_different
from stillroom.planning.day_file.dayschema import (
    JARS,
    LOT_COUNT,
    LOT_KG,
    LOT_L,
    MATTERS,
    MULTIPLE,
    PURPOSES,
    WANT_JARS,
    WEIGHT,
)
from stillroom.refusal import Unreadable
from stillroom.toml_text import shown

_FORMS = '"6 bags of 5 cups", "22 lb", "6.5 kg" or "60"'


def shelf_of(root: Table) -> tuple[Lot, ...]:
    """Read what there is; faults are noted in its tables."""
    tables = root.tables("shelf", "shelf", "lot")
    lots = tuple(_lot(table) for table in tables)
    names = [lot.name for lot in lots]
    all_different(tables, names, "lots")
    return lots


def _lot(table: Table) -> Lot:
    what = table.text("is")
    quantity = _quantity(table)
    size = float(quantity.value)
    is_volume = quantity.dimension is Dimension.VOLUME
    is_mass = quantity.dimension is Dimension.MASS
    in_bags = (is_volume or is_mass) and quantity.bag is not None
    bag = float(quantity.bag) if in_bags and quantity.bag else None
    return Lot(
        name=table.text("name", what),
        what=what,
        volume_m3=size if is_volume else None,
        mass_kg=size if is_mass else None,
        count=None if is_volume or is_mass else int(quantity.value),
        bags=quantity.bags if in_bags else 0,
        bag_m3=bag if is_volume else None,
        bag_kg=bag if is_mass else None,
        frozen=table.flag("frozen"),
        use_by=table.date("use_by"),
        ready=table.clock("ready") if table.has("ready") else None,
        paid=table.money("paid"),
        typed=quantity.typed,
    )


def _quantity(table: Table) -> Quantity:
    """Read how much there is: a volume, a mass or a count, and more than nothing."""
    stand_in = read_quantity("1")
    if not table.has("quantity"):
        return stand_in
    value = table.raw("quantity")
    if type(value) is int and 0 <= value < 10**9:
        value = str(value)
    if not isinstance(value, str):
        table.fault("quantity", f"{shown(value)} is no quantity; write {_FORMS}")
        return stand_in
    try:
        quantity = read_quantity(value)
    except Unreadable as unreadable:
        table.fault("quantity", str(unreadable))
        return stand_in
    limits = _limits(quantity)
    if limits is None:
        said = f"{shown(value)} is a {quantity.dimension}; a lot has a volume, a weight"
        table.fault("quantity", f"{said} or a count: {_FORMS}")
        return stand_in
    high, per, unit = limits
    if quantity.value == 0:
        table.fault("quantity", "there is none of it; leave the lot out")
    elif quantity.value > high * per:
        said = f"{shown(value)} is more than {high:,g} {unit}"
        table.fault("quantity", f"{said}; is it written right?")
    else:
        return quantity
    return stand_in


def _limits(quantity: Quantity) -> tuple[float, float, str] | None:
    match quantity.dimension:
        case Dimension.VOLUME:
            return LOT_L[1], float(LITRE_M3), "litres"
        case Dimension.MASS:
            return LOT_KG[1], 1.0, "kg"
        case Dimension.COUNT:
            return LOT_COUNT[1], 1.0, "pieces"
        case _:
            return None


def wants_of(root: Table, day: tuple[dt.time, dt.time] | None) -> tuple[Want, ...]:
    """Read what is wanted; ``day`` is from when to when it goes, where known."""
    return tuple(_want(table, day) for table in root.tables("wants", "wants", "want"))


def _want(table: Table, day: tuple[dt.time, dt.time] | None) -> Want:
    by = table.clock("by") if table.has("by") else None
    if by is not None and day is not None and table.sound("by"):
        starts, ends = day
        if not starts < by <= ends:
            what = f"{by:%H:%M} is not within the day"
            table.fault("by", f"{what}, {starts:%H:%M} to {ends:%H:%M}")
    return Want(
        product=table.text("product"),
        jars=table.whole("jars", WANT_JARS, 1),
        jar=table.choice("jar", JARS, JARS[0]),
        purpose=Purpose(table.choice("for", PURPOSES, PURPOSES[0])),
        matters=table.whole("matters", MATTERS, 3),
        by=by,
        weight=table.whole("weight", WEIGHT, 1),
        multiple=table.whole("multiple", MULTIPLE, 1)
        if table.has("multiple")
        else None,
    )
