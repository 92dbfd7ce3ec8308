"""Write a day as a day file that reads back to the same day."""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable, Iterable, Iterator, Mapping
from decimal import Context, Decimal
from fractions import Fraction

from stillroom.jar_count import counted
from stillroom.measures import (
    FOOT_M,
    GALLON_M3,
    LITRE_M3,
    POUND_KG,
    fahrenheit,
    read_height_m,
    read_length_m,
    read_mass_kg,
    read_power_w,
    read_pressure_pa,
    read_quantity,
    read_temperature_k,
    read_volume_m3,
)
from stillroom.methods.kitchen import Burner, Canner, Kitchen, Pot
from stillroom.methods.step import Skill
from stillroom.planning.day import Day, Helper, Lot, Want
from stillroom.refusal import Unreadable

Written = Iterator[str]
Units = tuple[tuple[str, Fraction], ...]

# Units in which a measure is tried, the handiest first; the last one fits always.
# What a kitchen is written in says how its keeper measures: the two are not mixed.
_LENGTH = {False: (("ft", FOOT_M),), True: (("m", Fraction(1)),)}
_PRESSURE = (("hPa", Fraction(100)), ("Pa", Fraction(1)))
_POWER = (("kW", Fraction(1000)), ("W", Fraction(1)))
_QUART_M3 = GALLON_M3 / 4
_VOLUME = {
    False: (("qt", _QUART_M3),),
    True: (("l", LITRE_M3), ("ml", LITRE_M3 / 1000)),
}
_JUICE = (("cups", _QUART_M3 / 4), ("l", LITRE_M3), ("ml", LITRE_M3 / 1000))
_MASS = (
    ("lb", POUND_KG),
    ("kg", Fraction(1)),
    ("g", Fraction(1, 1000)),
)


SMALLEST = 1e-12
"""Smaller sizes in SI, that no reading gives, are written as nothing."""


def write_day(day: Day) -> str:
    """
    Write a day as TOML.

    Parameters
    ----------
    day : Day
        A day as `read_day` returns it, or one made up with the same limits.

    Returns
    -------
    str
        A day file. `read_day` makes an equal `Day` of it; a lot's ``typed`` is kept
        where it still says how much there is, and written anew where it does not.
    """
    cook = day.kitchen
    volume = _VOLUME[cook.metric]
    tables = [
        _table("[day]", _day(day)),
        _table("[kitchen]", _kitchen(cook)),
        *(_table("[[kitchen.burners]]", _burner(one, volume)) for one in cook.burners),
        *(_table("[[kitchen.pots]]", _pot(one, volume)) for one in cook.pots),
        *(_table("[[kitchen.canners]]", _canner(one, volume)) for one in cook.canners),
        *(_table("[[people]]", _person(one)) for one in day.people),
        *(_table("[[shelf]]", _lot(one)) for one in day.shelf),
        *(_table("[[wants]]", _want(one)) for one in day.wants),
    ]
    return "\n".join(tables)


def _table(header: str, lines: Written) -> str:
    return "\n".join([header, *lines]) + "\n"


def _day(day: Day) -> Written:
    yield f"name = {_text(day.name)}"
    yield f"date = {day.date.isoformat()}"
    yield f"starts = {_clock(day.starts)}"
    yield f"ends = {_clock(day.ends)}"
    if day.done_by is not None:
        yield f"done_by = {_clock(day.done_by)}"
    if day.first:
        yield f"first = [{', '.join(_text(goal) for goal in day.first)}]"
    if day.without:
        yield f"without = {_text('; '.join(day.without))}"
    if day.invented:
        yield "invented = true"
    if day.as_published:
        yield "as_published = true"


def _kitchen(kitchen: Kitchen) -> Written:
    yield f"name = {_text(kitchen.name)}"
    if kitchen.elevation_m is not None:
        elevation = _height(kitchen.elevation_m, _LENGTH[kitchen.metric])
        yield f"elevation = {_text(elevation)}"
    if kitchen.pressure_pa is not None:
        barometer = _measure(kitchen.pressure_pa, _PRESSURE, read_pressure_pa)
        yield f"barometer = {_text(barometer)}"
        yield 'barometer_is = "station"'
    for key, reading_k in (
        ("thermometer_boils", kitchen.boils_reading_k),
        ("thermometer_ice", kitchen.ice_reading_k),
    ):
        if reading_k is not None:
            yield f"{key} = {_text(_temperature(reading_k))}"
    yield f"stove = {_text(kitchen.heat)}"
    yield f"counter = {kitchen.counter_places}"
    hours, minutes = divmod(kitchen.cooling_min, 60)
    cooling = f"{kitchen.cooling_min} min" if minutes else f"{hours} h"
    yield f"cooling = {_text(cooling)}"
    yield f"mills = {kitchen.mills}"
    if kitchen.sieves:
        yield f"sieves = {kitchen.sieves}"


def _burner(burner: Burner, volume: Units) -> Written:
    yield f"name = {_text(burner.name)}"
    yield f"power = {_text(_measure(burner.power_w, _POWER, read_power_w))}"
    if burner.largest_pot_m3 is not None:
        largest = _measure(burner.largest_pot_m3, volume, read_volume_m3)
        yield f"largest_pot = {_text(largest)}"
    if burner.taken:
        yield f"taken = {_spans(burner.taken)}"


def _pot(pot: Pot, volume: Units) -> Written:
    yield f"name = {_text(pot.name)}"
    yield f"volume = {_text(_measure(pot.volume_m3, volume, read_volume_m3))}"
    yield f"material = {_text(pot.material)}"


def _canner(canner: Canner, volume: Units) -> Written:
    yield f"name = {_text(canner.name)}"
    yield f"kind = {_text(canner.kind)}"
    yield f"stands_on = [{', '.join(_text(name) for name in canner.stands_on)}]"
    yield f"holds = {_counts(canner.places)}"
    if canner.layers:
        yield f"layers = {_counts(canner.layers)}"
    if canner.volume_m3 is not None:
        yield f"volume = {_text(_measure(canner.volume_m3, volume, read_volume_m3))}"


def _person(person: Helper) -> Written:
    yield f"name = {_text(person.name)}"
    yield f"comes = {_clock(person.comes)}"
    yield f"goes = {_clock(person.goes)}"
    can = [_text(skill) for skill in Skill if skill in person.can]
    yield f"can = [{', '.join(can)}]"
    if person.quarters != 4:
        yield f"quarters = {person.quarters}"
    if person.breaks:
        rests = [
            f"{{ minutes = {rest.minutes}, earliest = {_clock(rest.earliest)},"
            f" latest = {_clock(rest.latest)} }}"
            for rest in person.breaks
        ]
        yield f"breaks = [{', '.join(rests)}]"
    if person.away:
        yield f"away = {_spans(person.away)}"


def _lot(lot: Lot) -> Written:
    yield f"name = {_text(lot.name)}"
    yield f"is = {_text(lot.what)}"
    yield f"quantity = {_text(_quantity(lot))}"
    if lot.frozen:
        yield "frozen = true"
    if lot.ready is not None:
        yield f"ready = {_clock(lot.ready)}"
    if lot.use_by is not None:
        yield f"use_by = {lot.use_by.isoformat()}"
    if lot.paid is not None:
        yield f"paid = {lot.paid!r}"


def _want(want: Want) -> Written:
    yield f"product = {_text(want.product)}"
    yield f"jars = {want.jars}"
    yield f"jar = {_text(want.jar)}"
    yield f"for = {_text(want.purpose)}"
    if want.matters != 3:
        yield f"matters = {want.matters}"
    if want.by is not None:
        yield f"by = {_clock(want.by)}"
    if want.weight != 1:
        yield f"weight = {want.weight}"
    if want.multiple is not None:
        yield f"multiple = {want.multiple}"


def _quantity(lot: Lot) -> str:
    """Say how much there is: as typed, while that still holds."""
    if _still_says(lot.typed, lot):
        return lot.typed
    bag = ""
    if lot.bag_m3 is not None:
        bag = _measure(lot.bag_m3, _JUICE, read_volume_m3)
    elif lot.bag_kg is not None:
        bag = _measure(lot.bag_kg, _MASS, read_mass_kg)
    if lot.bags and bag:
        return f"{counted(lot.bags, 'bag')} of {bag}"
    if lot.volume_m3 is not None:
        return _measure(lot.volume_m3, _JUICE, read_volume_m3)
    if lot.mass_kg is not None:
        return _measure(lot.mass_kg, _MASS, read_mass_kg)
    return str(lot.count)


def _still_says(typed: str, lot: Lot) -> bool:
    try:
        quantity = read_quantity(typed)
    except Unreadable:
        return False
    there = {"volume": lot.volume_m3, "mass": lot.mass_kg, "count": lot.count}
    if there.get(quantity.dimension) != float(quantity.value):
        return False
    in_bags = quantity.bag is not None and lot.count is None
    return lot.bags == (quantity.bags if in_bags else 0)


def _measure(
    value: float,
    units: Units,
    read: Callable[[str], float],
) -> str:
    """
    Write ``value`` with as few digits as read back to the same float.

    What is nearer to nothing than a measure can say becomes nothing.
    """
    if abs(value) < SMALLEST:
        return f"0 {units[0][0]}"
    spellings = _spellings(Fraction(value), units)
    return next(text for text in spellings if read(text) == value)


def _height(metres: float, units: Units) -> str:
    """Write a height; its point parts no thousands, as it might with three digits."""
    text = _measure(metres, units, read_length_m)
    try:
        read_height_m(text)
    except Unreadable:
        number, _, unit = text.partition(" ")
        return f"{number}0 {unit}"
    return text


def _temperature(kelvin: float) -> str:
    """Write a temperature in °F with as few digits as read back to the same float."""
    for places in range(1, 12):
        text = f"{round(fahrenheit(kelvin), places)} F"
        if read_temperature_k(text) == kelvin:
            return text
    return f"{kelvin!r} K"


def _spellings(value: Fraction, units: Units) -> Iterator[str]:
    """Try round numbers in every unit, then ever more digits in the last one."""
    for unit, size in units:
        for places in range(4):
            number = round(value / size, places)
            yield f"{_plain(Decimal(number.numerator) / number.denominator)} {unit}"
    unit, size = units[-1]
    exact = value / size
    for digits in range(5, 21):  # 17 tell any two floats apart, scaling may cost more
        context = Context(prec=digits)
        written = context.divide(Decimal(exact.numerator), Decimal(exact.denominator))
        yield f"{_plain(written)} {unit}"


def _plain(number: Decimal) -> str:
    """Write a number without an exponent and without idle zeros."""
    text = f"{number:f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def _counts(counts: Mapping[str, int]) -> str:
    pairs = [f"{_text(jar)} = {count}" for jar, count in counts.items()]
    return f"{{ {', '.join(pairs)} }}"


def _spans(spans: Iterable[tuple[dt.time, dt.time]]) -> str:
    pairs = [f"[{_clock(start)}, {_clock(end)}]" for start, end in spans]
    return f"[{', '.join(pairs)}]"


def _clock(clock: dt.time) -> str:
    return f'"{clock:%H:%M}"'


def _text(text: str) -> str:
    """Write a TOML basic string; whatever cannot be printed is escaped."""
    said = "".join(_ESCAPED.get(letter, letter) for letter in text)
    return (
        '"' + "".join(c if c.isprintable() else f"\\U{ord(c):08x}" for c in said) + '"'
    )


_ESCAPED = {'"': '\\"', "\\": "\\\\", "\n": "\\n", "\t": "\\t"}
