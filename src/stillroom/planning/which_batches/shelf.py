"""The shelf as the planner draws on it: what keeps least goes first."""

from __future__ import annotations

import datetime as dt
import math
from collections.abc import Iterable
from dataclasses import dataclass

from stillroom.book.densities import density_kg_m3
from stillroom.book.limits import ingredient_named
from stillroom.measures import kitchen_mass, kitchen_volume
from stillroom.methods.method import Material
from stillroom.methods.portions import HAIR, volume_words
from stillroom.planning.day import Day, Lot
from stillroom.planning.dayplan import Draw
from stillroom.planning.which_batches.names_on_shelf import (
    PECTIN,
    VINEGAR,
    asks_for_bottled,
    same_thing,
    words_of,
)
from stillroom.refusal import Refusal

_NEVER = dt.date.max
_CRUMB = 1e-9
"""Less than this is nothing: a microgram, a microlitre."""
_HAIR_OF_ALL = 0.001
"""As `HAIR`, of what many batches take together. [1]"""


@dataclass(slots=True)
class LotLeft:
    """A lot and what the day has left of it, in the lot's own measure."""

    lot: Lot
    left: float
    metric: bool = False
    """Said in litres and kilograms first (docs/decisions/0111)."""

    @property
    def whole(self) -> float:
        """What the lot holds at first."""
        lot = self.lot
        if lot.volume_m3 is not None:
            return lot.volume_m3
        return lot.mass_kg if lot.mass_kg is not None else float(lot.count or 0)


class Shelf:
    """All lots of the day, drawn down batch by batch."""

    def __init__(self, lots: Iterable[Lot], *, metric: bool = False) -> None:
        self.metric = metric
        self.held = [LotLeft(lot, 0.0, metric) for lot in lots]
        for held in self.held:
            held.left = held.whole
        self.held.sort(key=lambda h: h.lot.use_by or _NEVER)  # stable: as listed

    def of(self, name: str) -> list[LotLeft]:
        """Lots of a thing, first to spoil first; what is frozen was never bottled."""
        bottled = asks_for_bottled(name)
        return [
            held
            for held in self.held
            if same_thing(held.lot.what, name) and not (bottled and held.lot.frozen)
        ]

    def use_by(self, name: str) -> dt.date:
        """Day by which the first of a thing must be used; far off if none is set."""
        dates = [h.lot.use_by or _NEVER for h in self.of(name) if h.left > _CRUMB]
        return min(dates, default=_NEVER)

    def on_hand(self, material: Material) -> float:
        """How much of a material is left, in the material's own measure."""
        return sum(in_measure_of(material, held) for held in self.of(material.name))

    def in_other_measures(self, material: Material) -> list[LotLeft]:
        """What is left of a thing that cannot be told in the material's measure."""
        return [
            held
            for held in self.of(material.name)
            if held.left > _CRUMB
            and (material.said or not in_measure_of(material, held))
        ]

    def unclear(self, material: Material) -> list[LotLeft]:
        """Lots that may be the thing or another: "pectin" says not which."""
        asked = words_of(material.name)
        if VINEGAR in asked and "5" in asked:
            return [
                held
                for held in self.held
                if held.left > _CRUMB
                and VINEGAR in (said := words_of(held.lot.what))
                and not any(word.isdigit() for word in said)
            ]
        if PECTIN not in asked:
            return []
        return [
            held
            for held in self.held
            if held.left > _CRUMB and words_of(held.lot.what) == {PECTIN}
        ]

    def draw(self, material: Material, times: float = 1.0) -> tuple[list[Draw], float]:
        """Take a material; also return what was not there, in its own measure."""
        wanted = missing = amount(material) * times
        crumb = _CRUMB if material.count is not None else wanted * HAIR
        draws: list[Draw] = []
        for held in self.of(material.name):
            here = in_measure_of(material, held)
            taken = min(here, missing)
            if taken <= _CRUMB:
                continue
            share = held.left * (taken / here)
            held.left -= share
            missing -= taken
            draws.append(draw_of(held, share))
        return draws, (0.0 if missing <= max(crumb, _CRUMB) else missing)


def full_shelf(day: Day) -> Shelf:
    """Return the whole shelf of a day, told as its kitchen measures."""
    return Shelf(day.shelf, metric=day.kitchen.metric)


def whole_times(there: float, needed: float) -> int:
    """
    How often a need is there, but for a hair.

    >>> [whole_times(there, 1.36078) for there in (1.35, 1.36, 2.72)]
    [0, 1, 2]
    """
    times = there / needed
    return math.floor(times + max(HAIR, _HAIR_OF_ALL * times))


def amount(material: Material) -> float:
    """A material's quantity: cubic metres, kilograms or pieces."""
    for value in (material.volume_m3, material.mass_kg):
        if value is not None:
            return value
    return float(material.count or 0)


def in_measure_of(material: Material, held: LotLeft) -> float:
    """What is left of a lot, in the measure that the material is asked in."""
    lot, left = held.lot, held.left
    if material.count is not None:
        return left if lot.count is not None else _boxes_in(material, held)
    if lot.count is not None:
        return 0.0
    if (material.volume_m3 is None) == (lot.volume_m3 is None):
        return left
    density = density_kg_m3(material.name)
    if density is None:
        return 0.0
    return left * density if lot.volume_m3 is not None else left / density


def _boxes_in(material: Material, held: LotLeft) -> float:
    """How many boxes a bag of pectin comes to, by the printed weight of one."""
    known = ingredient_named(material.name)
    if isinstance(known, Refusal) or not known.each_kg or held.lot.mass_kg is None:
        return 0.0
    return held.left / known.each_kg


def draw_of(held: LotLeft, share: float) -> Draw:
    """What is taken from a lot, in its own measure and in words."""
    lot = held.lot
    if lot.count is not None:
        number = math.ceil(share - 1e-9)
        return Draw(lot=lot.name, text=f"{number}", count=number)
    by_volume = lot.volume_m3 is not None
    text = much_of(lot, share, metric=held.metric)
    if bag := lot.bag_m3 or lot.bag_kg:
        bags = round(share / bag, 2)
        text = f"{text} ({bags:g} {'bag' if bags == 1 else 'bags'})"
    if by_volume:
        return Draw(lot=lot.name, text=text, volume_m3=share)
    return Draw(lot=lot.name, text=text, mass_kg=share)


def measured(held: LotLeft, quantity: float) -> str:
    """Say a quantity of a lot in its own measure."""
    if held.lot.count is not None:
        return f"{math.ceil(quantity - 1e-9)}"
    return much_of(held.lot, quantity, metric=held.metric)


def much_of(lot: Lot, quantity: float, *, metric: bool) -> str:
    """Say so much of a lot that is not counted."""
    if lot.volume_m3 is not None:
        return kitchen_volume(quantity, metric=metric)
    return mass_words(quantity, metric=metric)


def words_for(
    material: Material, quantity: float, *, metric: bool, at_least: bool = False
) -> str:
    """
    Say a quantity of a material in kitchen measures.

    >>> words_for(Material(name="lids", count=1), 41.0, metric=False)
    '41'
    """
    if material.count is not None:
        return f"{math.ceil(quantity - 1e-9)}"
    if material.volume_m3 is not None:
        return volume_words(quantity, metric=metric, at_least=at_least)
    return mass_words(quantity, metric=metric, at_least=at_least)


def to_fetch(material: Material, quantity: float, *, metric: bool) -> str:
    """
    Say a quantity so that who fetches just that has enough: 4 lb are not 4.01.

    >>> to_fetch(Material(name="plums", mass_kg=1.0), 1.79, metric=False)
    '4 lb (1.79 kg)'
    """
    return words_for(material, quantity, metric=metric, at_least=True)


def mass_words(mass_kg: float, *, metric: bool, at_least: bool = False) -> str:
    """
    Say a mass in both measures; with ``at_least``, what is to be fetched.

    >>> mass_words(7.0, metric=False), mass_words(7.0, metric=True)
    ('15 lb 7 oz (7.0 kg)', '7.0 kg (15 lb 7 oz)')
    """
    pounds = kitchen_mass(mass_kg, at_least=at_least)
    kilos = kitchen_mass(mass_kg, metric=True, at_least=at_least)
    return f"{kilos} ({pounds})" if metric else f"{pounds} ({kilos})"
