"""
A recipe of the keeper's own: what is written in it, and what it weighs.

Every quantity becomes a mass where the book knows what a cup of it weighs. Where it
does not, or where a quantity cannot be read, the keeper is asked; nothing is guessed.
``own_class`` holds the measured recipe against the rules of its class.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from fractions import Fraction

from stillroom.book.densities import cup_weight
from stillroom.book.limits import CLASSES, Known, ingredient_named
from stillroom.book.words import short, tokens
from stillroom.measures import (
    CUP_M3,
    POUND_KG,
    TABLESPOON_M3,
    TEASPOON_M3,
    Dimension,
    Quantity,
    read_mass_kg,
    read_quantity,
)
from stillroom.refusal import Refusal, Source, Unreadable

METHODS = ("with_pectin", "liquid_pectin", "boiled_down", "butter", "cold")
KEEPER = "the keeper's own recipe"
MOST_KG = 200.0
"""More in one batch is a slip of the pen: no kitchen pot holds it. [kg]"""
LITTLE_M3 = float(2 * TABLESPOON_M3)
"""So much of a spice or an acid need not be weighed: it moves no balance. [m3]"""

_CONTAINERS = {
    "box": re.compile(r"(?i)\b(?:box(?:es)?|packages?|packets?|packs?|pkg)\b"),
    "pouch": re.compile(r"(?i)\bpouch(?:es)?\b"),
}
_SIEVED = frozenset({"pulp", "puree", "pureed", "sieved", "milled"})
_CRUSHED = frozenset({"crushed", "mashed", "ground"})


@dataclass(frozen=True, slots=True, kw_only=True)
class OwnIngredient:
    """One ingredient as the keeper wrote it."""

    name: str
    quantity: str
    """As typed: "7 1/2 cups"; empty where it is not known yet."""
    prep: str = ""
    weighs: str = ""
    """What that quantity weighs on her scale; asked for where the book cannot say."""
    line: int | None = field(default=None, compare=False)


@dataclass(frozen=True, slots=True, kw_only=True)
class OwnRecipe:
    """A recipe of the keeper's own, as she wrote it."""

    title: str
    kind: str
    """``jelly``, ``jam`` or ``butter``; empty where it is not known yet."""
    method: str
    """One of `METHODS`; empty where it is not known yet."""
    jar: str
    ingredients: tuple[OwnIngredient, ...]
    by: str = ""
    """Who wrote it."""
    headspace_in: float | None = None
    measured_ph: float | None = None
    """Her own reading; it can take a process away, never give one."""
    measured_brix: float | None = None
    """Her own reading of the finished spread. [°Brix]"""
    steps: tuple[str, ...] = ()
    """What she wrote about the making, kept as it is."""
    lines: tuple[tuple[str, int], ...] = field(default=(), compare=False)
    """Line of each key in her file, where there is one."""

    def line_of(self, key: str) -> int | None:
        """Line of a key in her file, if it is known."""
        return dict(self.lines).get(key)


@dataclass(frozen=True, slots=True)
class Question:
    """Something that must be known before the recipe can be held against a rule."""

    text: str
    key: str
    line: int | None = None

    def __str__(self) -> str:
        line = f"line {self.line}" if self.line else ""
        return f"{', '.join(part for part in (line, self.key) if part)}: {self.text}"


@dataclass(frozen=True, slots=True, kw_only=True)
class MeasuredIngredient:
    """An ingredient with what it is and what it weighs."""

    given: OwnIngredient
    known: Known | Refusal
    """What the class rules say of it."""
    quantity: Fraction
    unit: str
    """``cup``, ``tbsp``, ``tsp``, ``lb``, ``package``, ``pouch`` or ``each``."""
    mass_kg: float | None
    """`None` for a little spice. [kg]"""
    volume_m3: float | None
    source: Source | None
    """Where the mass is from."""

    @property
    def role(self) -> str:
        """Its role; "unknown" where the class rules refuse it."""
        return "unknown" if isinstance(self.known, Refusal) else self.known.role


@dataclass(frozen=True, slots=True, kw_only=True)
class Measured:
    """A recipe in masses, and what has to be asked first."""

    ingredients: tuple[MeasuredIngredient, ...]
    """Those that could be measured."""
    questions: tuple[Question, ...]

    def of_role(self, role: str) -> tuple[MeasuredIngredient, ...]:
        """Return the measured ingredients of a role."""
        return tuple(i for i in self.ingredients if i.role == role)

    def mass_kg(self, role: str) -> float:
        """Mass of all ingredients of a role. [kg]"""
        return sum(i.mass_kg or 0.0 for i in self.of_role(role))


def measure(own: OwnRecipe) -> Measured:
    """
    Return the recipe in masses; what cannot be read or weighed is asked for.

    Parameters
    ----------
    own : OwnRecipe
        As the keeper wrote it.

    Returns
    -------
    Measured
        Masses in kg with their source, and questions with line and key.

    Examples
    --------
    >>> sugar = OwnIngredient(name="sugar", quantity="7 cups")
    >>> plums = OwnIngredient(name="plums", quantity="4 cups", prep="sliced")
    >>> own = OwnRecipe(title="", kind="jam", method="boiled_down", jar="pint",
    ...     ingredients=(sugar, plums))
    >>> found = measure(own)
    >>> print(f"{found.mass_kg('sugar'):.1f} kg; {found.questions[0]}")
    1.4 kg; ingredients[2]: how much do 4 cups of plums, sliced weigh? The book ...
    """
    asked = _asked_of_the_whole(own)
    found: list[MeasuredIngredient] = []
    for number, given in enumerate(own.ingredients, start=1):
        answer = _measured(given)
        if isinstance(answer, MeasuredIngredient):
            found.append(answer)
        else:
            asked.append(Question(answer, f"ingredients[{number}]", given.line))
    return Measured(ingredients=tuple(found), questions=tuple(asked))


def _asked_of_the_whole(own: OwnRecipe) -> list[Question]:
    asked = []
    if own.kind not in CLASSES:
        text = "is it a jelly (of strained juice), a jam (of fruit) or a fruit butter?"
        asked.append(Question(text, "kind", own.line_of("kind")))
    if own.method not in METHODS:
        text = f"how is it made? One of {', '.join(METHODS)}"
        asked.append(Question(text, "method", own.line_of("method")))
    if not own.jar:
        text = "which jars? half-pint, pint or quart"
        asked.append(Question(text, "jar", own.line_of("jar")))
    if not own.ingredients:
        asked.append(Question("what goes into it?", "ingredients"))
    return asked


def _measured(given: OwnIngredient) -> MeasuredIngredient | str:
    """Return an ingredient with its mass, or the question to ask."""
    known = ingredient_named(given.name, given.prep)
    said = short(f"{given.quantity} {given.name}".strip())
    if not given.quantity.strip():
        return f"how much {short(given.name)}?"
    try:
        quantity = read_quantity(given.quantity)
        weighed = read_mass_kg(given.weighs) if given.weighs else None
    except Unreadable as unreadable:
        return f"how much {short(given.name)}? {unreadable}"
    if quantity.value <= 0 or weighed == 0:
        return f"how much {short(given.name)}? {said!r} is nothing"
    if quantity.dimension not in (Dimension.VOLUME, Dimension.MASS, Dimension.COUNT):
        return f"how much {short(given.name)}? {said!r} is a {quantity.dimension}"
    mass: tuple[float | None, Source | None] | str
    if weighed is not None:
        mass = weighed, Source("weighed by the keeper", "keeper")
    else:
        mass = _mass(given, quantity, known)
    if isinstance(mass, str):
        return mass
    kg, source = mass
    if kg is not None and kg > MOST_KG:
        return f"how much {short(given.name)}? {said!r} is more than a pot holds"
    amount, unit = _in_kitchen_units(quantity, known, kg)
    volume = quantity.value if quantity.dimension is Dimension.VOLUME else None
    return MeasuredIngredient(
        given=given,
        known=known,
        quantity=amount,
        unit=unit,
        mass_kg=kg,
        volume_m3=None if volume is None else float(volume),
        source=source,
    )


def _mass(
    given: OwnIngredient, quantity: Quantity, known: Known | Refusal
) -> tuple[float | None, Source | None] | str:
    """Mass of a quantity and its source, or the question to ask. [kg]"""
    if quantity.dimension is Dimension.MASS:
        return float(quantity.value), Source("as the recipe has it", "keeper")
    if isinstance(known, Refusal):  # it gets no process, so its mass decides nothing
        return None, None
    if quantity.dimension is Dimension.COUNT:
        return _mass_of_count(given, quantity, known)
    little = float(quantity.value) <= LITTLE_M3
    if known.role in ("spice", "foam"):
        return None, None
    for name in _cup_names(given, known):
        weight = cup_weight(name)
        if not isinstance(weight, Refusal):
            kg = float(quantity.value) * weight.density_kg_m3
            return kg, weight.source
    if known.role == "acid" and little:
        return None, None
    what = ", ".join(part for part in (given.name, given.prep) if part)
    return (
        f"how much do {short(given.quantity)} of {short(what)} weigh? The book does "
        'not know what a cup of it weighs; write weighs = "2 lb 3 oz"'
    )


def _mass_of_count(
    given: OwnIngredient, quantity: Quantity, known: Known
) -> tuple[float | None, Source | None] | str:
    """Mass of boxes of pectin, as printed; other things are asked for."""
    if known.role == "spice":
        return None, None
    if known.each_kg is not None:
        if _CONTAINERS[known.each].search(given.quantity):
            return float(quantity.value) * known.each_kg, known.source
        example = f"2 {known.each}es of {'3 oz' if known.each == 'pouch' else '50 g'}"
        return f'how much {short(given.name)}? Write "1 {known.each}" or "{example}"'
    return (
        f"how much do {short(given.quantity)} {short(given.name)} weigh? They are not "
        'all of a size; write weighs = "2 lb 3 oz"'
    )


def _cup_names(given: OwnIngredient, known: Known) -> tuple[str, ...]:
    """Names under which the book may know what a cup of it weighs."""
    if known.role != "fruit":
        return (given.name, known.name)
    words = set(tokens(f"{given.name} {given.prep}"))
    fruit = known.fruits[0].name
    if "juice" in words:
        return (f"{fruit} juice",)
    if words & _SIEVED:
        return ("sieved pulp",)
    if words & _CRUSHED:
        return ("crushed fruit",)
    if {"sliced", "peeled"} <= words:
        return (f"{fruit}, sliced and peeled",)
    if {"chopped", "diced"} & words:
        return (f"{fruit}, chopped",)
    return (f"{fruit}, whole",) if "whole" in words else ()


def _in_kitchen_units(
    quantity: Quantity, known: Known | Refusal, mass_kg: float | None
) -> tuple[Fraction, str]:
    """Quantity in the units that procedures are written in."""
    each_kg = None if isinstance(known, Refusal) else known.each_kg
    counted = quantity.bags or quantity.dimension is Dimension.COUNT
    if not isinstance(known, Refusal) and each_kg is not None and counted:
        unit = "pouch" if known.each == "pouch" else "package"
        return Fraction(quantity.bags or quantity.value), unit
    if not isinstance(known, Refusal) and mass_kg and each_kg is not None:
        boxes = Fraction(mass_kg / each_kg).limit_denominator(48)
        return boxes, "pouch" if known.each == "pouch" else "package"
    if quantity.dimension is Dimension.MASS:
        return quantity.value / POUND_KG, "lb"
    if quantity.dimension is Dimension.COUNT:
        return quantity.value, "each"
    for unit, size, least in (
        ("cup", CUP_M3, Fraction(1, 4)),
        ("tbsp", TABLESPOON_M3, Fraction(1)),
    ):
        if quantity.value >= least * size:
            return quantity.value / size, unit
    return quantity.value / TEASPOON_M3, "tsp"
