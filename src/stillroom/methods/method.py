"""
What every way of putting up answers: five functions, and the values they pass on.

A method is a module with ``scale``, ``materials``, ``checks``, ``expected_yield`` and
``steps``. It takes a published procedure and what the kitchen has, and gives back plain
values; it knows no plan, no clock and no database.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import StrEnum
from typing import Protocol

from stillroom.book.procedures import Procedure
from stillroom.book.processes import Process
from stillroom.methods.kitchen import Burner, Heat, Pot
from stillroom.methods.step import Link, Step
from stillroom.methods.today import AirToday
from stillroom.refusal import Caution, Refusal, Source


class Kept(StrEnum):
    """Where the finished goods keep; only the shelf asks for a published process."""

    SHELF = "pantry shelf"
    COLD = "refrigerator"
    FREEZER = "freezer"
    DRY = "dry and dark"


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """One ingredient of a batch, at the batch's multiple."""

    name: str
    quantity: float
    unit: str
    mass_kg: float | None
    """`None` where no published mass is known. [kg]"""
    volume_m3: float | None
    """As measured in the kitchen, before anything is mixed. [m3]"""
    role: str
    """``fruit`` (juice too), ``liquid``, ``sugar``, ``pectin``, ``acid``, ``spice``,
    ``nuts``."""
    prep: str = ""
    per: str = ""
    """The jar to each of which the quantity goes; empty where it is for the batch."""
    optional: bool = False
    as_bought_kg: float | None = None
    """What is bought for it, stones and peel on, where it is known. [kg]"""
    as_bought_about: bool = False
    """Whether that is reckoned by a yield, and not printed in the recipe itself."""
    instead: tuple[Part, ...] = ()
    """Each will do in its place, in its own quantity, as its process is published."""
    metric: bool = False
    """Said in litres and grams, the printed measure beside it (docs/decisions/0111)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Recipe:
    """A procedure at one multiple: what goes into one pot."""

    procedure: Procedure
    multiple: int
    parts: tuple[Part, ...]
    cautions: tuple[Caution, ...] = ()

    def of_role(self, *roles: str) -> tuple[Part, ...]:
        """Parts of the given roles, in the order of use."""
        return tuple(part for part in self.parts if part.role in roles)

    @property
    def base(self) -> Part:
        """The fruit or juice that the recipe is measured by: the most of it by mass."""
        fruit = self.of_role("fruit")
        return max(fruit, key=lambda part: part.mass_kg or 0.0)

    @property
    def from_juice(self) -> bool:
        """It begins with strained juice, so no fruit is cut."""
        return self.base.name.endswith("juice")

    @property
    def metric(self) -> bool:
        """Its quantities are said in litres and grams."""
        return any(part.metric for part in self.parts)

    def said_metric(self, metric: bool) -> Recipe:
        """Return the same recipe, its quantities said in litres and grams or not."""
        parts = (replace(part, metric=metric) for part in self.parts)
        return replace(self, parts=tuple(parts))


@dataclass(frozen=True, slots=True, kw_only=True)
class Material:
    """
    Something that is used up.

    Exactly one of its three quantities is known, or what is printed instead is said.
    """

    name: str
    mass_kg: float | None = None
    volume_m3: float | None = None
    count: int | None = None
    said: str = ""
    """"1 tsp to each gallon of water": no amount for a jar or a batch is printed."""
    as_bought: bool = False
    """Fruit that is weighed before it is stoned, peeled or cored."""
    instead: tuple[str, ...] = ()
    """What will do in its place, by name."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Station:
    """Where one batch is made: its pot, its fire, and today's air."""

    pot: Pot
    burner: Burner
    heat: Heat
    efficiency: float
    """Share of the rated power that reaches the pot. [1]"""
    air: AirToday
    sieve: bool = False
    """There is a sieve and no mill: soft fruit is put through by hand."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Checked:
    """What the physical checks found on the way to a yes."""

    dissolved_m3: float
    """Volume of the mix once the sugar is dissolved. [m3]"""
    pot_needed_m3: float
    pot_given_m3: float
    back_to_boil_min: float | None
    """From the sugar going in to the next full boil; `None` where none is needed."""
    outlook: str
    """One line: when it boils again, when it sets or is done, and what threatens it."""
    cautions: tuple[Caution, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Yield:
    """How many jars it fills: an estimate beside the printed figure."""

    jar: str
    likely: float
    low: float
    high: float
    printed_low: float | None
    printed_high: float | None
    basis: str
    """How the figures were reached, in words."""
    source: Source
    book_likely: float | None = None
    """The book's figure where ``likely`` was learned; else `None`."""

    @property
    def printed(self) -> str:
        """The printed yield in these jars, "7 to 8", or "not printed"."""
        if self.printed_low is None or self.printed_high is None:
            return "not printed"
        if self.printed_low == self.printed_high:
            return f"{self.printed_low:g}"
        return f"{self.printed_low:g} to {self.printed_high:g}"


@dataclass(frozen=True, slots=True, kw_only=True)
class Filling:
    """The jars or boxes of one batch, and the process that they get."""

    jar: str
    jars: int
    process: Process | None
    """`None` where nothing goes through a canner."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Later:
    """Something to do after the day: look at the set, bottle what has dripped."""

    after_h: float
    """From the end of the batch. [h]"""
    text: str
    source: str
    until_h: float | None = None
    """At the latest so long after the end of the batch. [h]"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Work:
    """The steps of one batch and what ties them."""

    steps: tuple[Step, ...]
    links: tuple[Link, ...]
    ready_after: str
    """Step at whose end the jars are closed."""
    closed_wait_at_most_min: int
    """How long they wait for the canner at most: common practice, no source. [min]"""
    later: tuple[Later, ...] = ()


class Method(Protocol):
    """A way of putting up."""

    NAME: str
    KEPT: Kept
    PER_JAR: bool
    """The recipe is for one jar's worth, and any whole number of them is a batch."""
    PACK: str | None
    """``hot`` or ``raw``; `None` where published rows know one pack only."""

    def scale(self, procedure: Procedure, multiple: int) -> Recipe | Refusal:
        """Return the procedure at a whole multiple of its tested batch."""
        ...

    def materials(self, recipe: Recipe, jar: str, jars: int) -> tuple[Material, ...]:
        """Return what it uses up: the base first, then the rest, jars and lids."""
        ...

    def checks(self, recipe: Recipe, station: Station) -> Checked | Refusal:
        """Return what pot and fire make of the batch, or why they cannot hold it."""
        ...

    def expected_yield(self, recipe: Recipe, jar: str) -> Yield | Refusal:
        """Return how many jars it fills, and how that was reached."""
        ...

    def steps(
        self, recipe: Recipe, station: Station, filling: Filling
    ) -> Work | Refusal:
        """Return the steps of one batch and the links that tie them."""
        ...
