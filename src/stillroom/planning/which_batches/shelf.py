"""The shelf as the planner draws on it: what keeps least goes first."""

from __future__ import annotations

import datetime as dt
import math
import re
from collections.abc import Iterable
from dataclasses import dataclass
from functools import cache, lru_cache

from stillroom.book.densities import density_kg_m3
from stillroom.book.limits import ingredient_named
from stillroom.book.words import tokens
from stillroom.measures import kitchen_mass, kitchen_volume
from stillroom.methods.method import Material
from stillroom.planning.day import Lot
from stillroom.planning.dayplan import Draw
from stillroom.refusal import Refusal

_PLAIN_WORDS = frozenset(
    {"white", "fresh", "frozen", "ripe", "new", "canning", "crystal", "package", "box"}
    | {"regular", "mouth", "wide", "of", "the", "a"}
)
"""Words that do not make another thing of it."""
_SQUEEZED = frozenset({"fresh", "freshly", "squeezed", "pressed"})
_PLAIN_OF = {
    "sugar": frozenset({"granulated", "cane", "beet"}),
    "juice": frozenset({"unsweetened", "strained", "bottled"}) | _SQUEEZED,
    "honey": frozenset({"strained"}),
}
"""Words that do not make another thing of these: sugar beets are no sugar."""
_LOWER_IN_ACID = {"white": frozenset({"peach", "nectarine"})}
"""A word that does of these: the book has no process for white-fleshed ones."""
_FORMS = frozenset(
    {"juice", "cider", "vinegar", "sugar", "syrup", "sauce", "butter", "oil", "fat"}
    | {"puree", "pulp", "paste", "peel", "zest", "seed", "leaf", "green", "flour"}
)
"""What a thing is turned into: juice oranges are no orange juice."""
_GROUND = frozenset({"ground", "powdered", "powder"})
_SOLD_GROUND = frozenset(
    {"cinnamon", "clove", "nutmeg", "mace", "turmeric", "cayenne", "cardamom"}
)
"""Spices that a recipe means ground where it does not say whole, sticks or seed."""
SYNONYMS = (
    ("green beans", "snap beans", "string beans"),
    ("sour cherries", "tart cherries", "pie cherries"),
    ("peaches", "yellow peaches", "yellow-fleshed peaches"),
    ("nectarines", "yellow nectarines", "yellow-fleshed nectarines"),
    ("red currants", "redcurrants"),
    ("black currants", "blackcurrants"),
    ("Asian pears", "nashi"),
    ("chickpeas", "chick peas", "garbanzo beans"),
)
"""
Names of the trade for one thing, the first as it is read here. A test holds them to the
book, which has each of them as one food; not the other way: it has wax beans in the
table of green ones, and they are another thing on a shelf.
"""
_SALT_FOR = frozenset({"pickling", "and"})
"""What salt without iodine is sold for: "canning and pickling salt"."""
PECTIN = "pectin"
VINEGAR, _STRENGTH = "vinegar", frozenset({"5", "acidity", "percent"})
_VINEGARS = frozenset({"cider", "apple", "distilled"})
"""Kinds that serve wherever a recipe asks for vinegar of 5 %."""
_NEVER = dt.date.max
_CRUMB = 1e-9
"""Less than this is nothing: a microgram, a microlitre."""
HAIR = 0.005
"""
So much of one batch may lack where a measure was rounded: 1.36 kg are the 3 lb of a
recipe, and 946 mL its quart. No cup is filled closer, and no scale read. [1]
"""
_HAIR_OF_ALL = 0.001
"""As `HAIR`, of what many batches take together. [1]"""


def same_thing(one: str, other: str) -> bool:
    """
    Whether two names mean one thing on the shelf.

    >>> same_thing("regular powdered pectin", "powdered pectin, regular")
    True
    >>> same_thing("plum juice", "sour cherry juice")
    False
    >>> same_thing("lime juice", "lemon or lime juice")
    True

    Beans that snap are green ones; wax beans are others.

    >>> [same_thing(said, "green beans") for said in ("snap beans", "wax beans")]
    [True, False]

    A spice is meant ground where a recipe names it alone; whole it is another thing.

    >>> same_thing("ground cinnamon", "cinnamon")
    True
    >>> [same_thing("ground cloves", other) for other in ("cloves", "whole cloves")]
    [True, False]

    Vinegar of 5 % is cider vinegar too; of which no strength is said may be weaker.

    >>> [same_thing(said, "vinegar 5%") for said in ("Cider vinegar, 5 %", VINEGAR)]
    [True, False]

    Peaches are yellow-fleshed ones: white ones are lower in acid.

    >>> [same_thing(f"{c} peaches", "peaches") for c in ("yellow", "white", "frozen")]
    [True, False, True]

    Where juice has to be bottled, of an acidity that somebody vouches for, what was
    squeezed at home is none; lemon juice of which nothing is said is either.

    >>> fresh = "fresh lemon juice"
    >>> [same_thing(fresh, said) for said in ("lemon juice", "bottled lemon juice")]
    [True, False]

    Powdered pectin has more names than one; "pectin" alone may be liquid or set by
    calcium, and is none of them.

    >>> [same_thing(said, "powdered pectin") for said in ("pectin powder", PECTIN)]
    [True, False]
    """
    if any(_is_squeezed(a) and _is_bottled(b) for a, b in ((one, other), (other, one))):
        return False
    heads = {_head(one), _head(other)}
    if len(heads) > 1 and heads & _FORMS:
        return False
    return any(a == b for a in _meanings(one) for b in _meanings(other))


def is_kind_of(name: str, plain: str) -> bool:
    """
    Whether a name is a plainer one with more said of it.

    >>> is_kind_of("pickling cucumbers", "cucumbers"), is_kind_of("cucumbers", "salt")
    (True, False)
    >>> is_kind_of("plum juice", "plums")  # its last word says what it is
    False
    """
    return _words(plain) < _words(name) and tokens(plain)[-1:] == tokens(name)[-1:]


def _is_bottled(name: str) -> bool:
    return "bottled" in tokens(name)


def _is_squeezed(name: str) -> bool:
    return not _SQUEEZED.isdisjoint(tokens(name))


@lru_cache(maxsize=4096)
def _head(name: str) -> str:
    """What it is: juice of "Apple juice, sweet", and of "juice of plums"."""
    said = tokens(re.split("[,(]", name)[0])
    if "of" in said[1:] and said[said.index("of") - 1] in _FORMS:
        return said[said.index("of") - 1]
    named = [w for w in said if not w.isdigit() and w not in _STRENGTH]
    return named[-1] if named else ""


def _meanings(name: str) -> list[frozenset[str]]:
    """A name that leaves a choice, "lemon or lime juice", means each of them."""
    if PECTIN in tokens(name):
        known = ingredient_named(name)
        return [_words(name if isinstance(known, Refusal) else known.name)]
    if " or " not in name:
        words = _words(name)
        if VINEGAR in words and words & _STRENGTH and words & _VINEGARS:
            return [words - _VINEGARS - {"acidity", "percent"}, words - _STRENGTH]
        return [words - {"acidity", "percent"} if VINEGAR in words else words]
    choices = [part.strip() for part in re.split(r",| or ", name) if part.strip(" ,")]
    if not choices:  # ", or ," names nothing
        return [_words(name)]
    shared = choices[-1].split()[-1]
    return [_words(c) for choice in choices for c in (choice, f"{choice} {shared}")]


@cache
def _synonyms() -> dict[tuple[str, ...], tuple[str, ...]]:
    return {
        tuple(tokens(other)): tuple(tokens(first))
        for first, *others in SYNONYMS
        for other in others
    }


@lru_cache(maxsize=4096)  # the same few names of a shelf, for every need of a day
def _as_read(said: tuple[str, ...]) -> tuple[str, ...]:
    """Put the one name of a thing in place of its others, where they stand as such."""
    for other, first in _synonyms().items():
        for at in range(len(said) - len(other) + 1):
            if said[at : at + len(other)] == other:
                return _as_read((*said[:at], *first, *said[at + len(other) :]))
    return said


def _words(name: str) -> frozenset[str]:
    words = frozenset(_as_read(tuple(tokens(name))))
    plain = _PLAIN_WORDS | _PLAIN_OF.get(_head(name), frozenset())
    for word, foods in _LOWER_IN_ACID.items():
        plain -= {word} if words & foods else set()
    words = (words - plain) or words
    if "salt" in words:
        words -= _SALT_FOR
    spice = words - _GROUND
    return spice if spice and spice <= _SOLD_GROUND else words


@dataclass(slots=True)
class Held:
    """A lot and what the day has left of it, in the lot's own measure."""

    lot: Lot
    left: float

    @property
    def whole(self) -> float:
        """What the lot holds at first."""
        lot = self.lot
        if lot.volume_m3 is not None:
            return lot.volume_m3
        return lot.mass_kg if lot.mass_kg is not None else float(lot.count or 0)


class Shelf:
    """All lots of the day, drawn down batch by batch."""

    def __init__(self, lots: Iterable[Lot]) -> None:
        self.held = [Held(lot, 0.0) for lot in lots]
        for held in self.held:
            held.left = held.whole
        self.held.sort(key=lambda h: h.lot.use_by or _NEVER)  # stable: as listed

    def of(self, name: str) -> list[Held]:
        """Lots of a thing, first to spoil first."""
        return [held for held in self.held if same_thing(held.lot.what, name)]

    def use_by(self, name: str) -> dt.date:
        """Day by which the first of a thing must be used; far off if none is set."""
        dates = [h.lot.use_by or _NEVER for h in self.of(name) if h.left > _CRUMB]
        return min(dates, default=_NEVER)

    def on_hand(self, material: Material) -> float:
        """How much of a material is left, in the material's own measure."""
        return sum(in_measure_of(material, held) for held in self.of(material.name))

    def in_other_measures(self, material: Material) -> list[Held]:
        """What is left of a thing that cannot be told in the material's measure."""
        return [
            held
            for held in self.of(material.name)
            if held.left > _CRUMB
            and (material.said or not in_measure_of(material, held))
        ]

    def unclear(self, material: Material) -> list[Held]:
        """Lots that may be the thing or another: "pectin" says not which."""
        asked = _words(material.name)
        if VINEGAR in asked and "5" in asked:
            return [
                held
                for held in self.held
                if held.left > _CRUMB
                and VINEGAR in (said := _words(held.lot.what))
                and not any(word.isdigit() for word in said)
            ]
        if PECTIN not in asked:
            return []
        return [
            held
            for held in self.held
            if held.left > _CRUMB and _words(held.lot.what) == {PECTIN}
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
            draws.append(draw_of(held.lot, share))
        return draws, (0.0 if missing <= max(crumb, _CRUMB) else missing)


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


def in_measure_of(material: Material, held: Held) -> float:
    """What is left of a lot, in the measure that the material is asked in."""
    lot, left = held.lot, held.left
    if material.count is not None:
        return left if lot.count is not None else 0.0
    if lot.count is not None:
        return 0.0
    if (material.volume_m3 is None) == (lot.volume_m3 is None):
        return left
    density = density_kg_m3(material.name)
    if density is None:
        return 0.0
    return left * density if lot.volume_m3 is not None else left / density


def draw_of(lot: Lot, share: float) -> Draw:
    """What is taken from a lot, in its own measure and in words."""
    if lot.count is not None:
        number = math.ceil(share - 1e-9)
        return Draw(lot=lot.name, text=f"{number}", count=number)
    by_volume = lot.volume_m3 is not None
    text = kitchen_volume(share) if by_volume else mass_words(share)
    if bag := lot.bag_m3 or lot.bag_kg:
        bags = round(share / bag, 2)
        text = f"{text} ({bags:g} {'bag' if bags == 1 else 'bags'})"
    if by_volume:
        return Draw(lot=lot.name, text=text, volume_m3=share)
    return Draw(lot=lot.name, text=text, mass_kg=share)


def measured(held: Held, quantity: float) -> str:
    """Say a quantity of a lot in its own measure."""
    if held.lot.count is not None:
        return f"{math.ceil(quantity - 1e-9)}"
    by_volume = held.lot.volume_m3 is not None
    return kitchen_volume(quantity) if by_volume else mass_words(quantity)


def words_for(material: Material, quantity: float) -> str:
    """
    Say a quantity of a material in kitchen measures.

    >>> words_for(Material(name="lids", count=1), 41.0)
    '41'
    """
    if material.count is not None:
        return f"{math.ceil(quantity - 1e-9)}"
    if material.volume_m3 is not None:
        return kitchen_volume(quantity)
    return mass_words(quantity)


def to_fetch(material: Material, quantity: float) -> str:
    """
    Say a quantity so that who fetches just that has enough: 4 lb are not 4.01.

    >>> to_fetch(Material(name="plums", mass_kg=1.0), 1.79)
    '4 lb (1.79 kg)'
    """
    if material.count is not None:
        return words_for(material, quantity)
    if material.volume_m3 is not None:
        return kitchen_volume(quantity, at_least=True)
    return mass_words(quantity, at_least=True)


def mass_words(mass_kg: float, *, at_least: bool = False) -> str:
    """
    Say a mass in both measures; with ``at_least``, what is to be fetched.

    >>> mass_words(7.0)
    '15 lb 7 oz (7.0 kg)'
    """
    pounds = kitchen_mass(mass_kg, at_least=at_least)
    return f"{pounds} ({kitchen_mass(mass_kg, metric=True, at_least=at_least)})"
