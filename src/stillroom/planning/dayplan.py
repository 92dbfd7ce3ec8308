"""The whole answer for a day: batches, loads, timetable, and what is missing."""

from __future__ import annotations

import datetime as dt
from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass

from stillroom.book.procedures import Procedure
from stillroom.book.process_cautions import is_said
from stillroom.book.processes import Process
from stillroom.book.words import tokens
from stillroom.capital import capital
from stillroom.methods.by_name import method_named
from stillroom.methods.learned import AS_PUBLISHED, Learned
from stillroom.methods.method import Checked, Kept, Later, Part, Yield
from stillroom.methods.today import AirToday
from stillroom.planning.day import Day, Purpose, Want
from stillroom.planning.problem import Batch, Problem
from stillroom.planning.problem import Process as LoadProcess
from stillroom.planning.problem import Want as DueWant
from stillroom.planning.timetable import Answer, NoPlan, PlanIf
from stillroom.refusal import Caution, Refusal

SAID_ALREADY = 0.6
"""Whose words are in a caution of the recipe to this share is said by it already. Every
pair of the book that this leaves out is named in a test, to be read by eye."""
TOO_SHORT = 5
"""Of fewer words one may turn the meaning: those are told, but not twice alike. That
it is five is a choice of ours. [words]"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Draw:
    """What one batch takes from one lot of the shelf."""

    lot: str
    text: str
    """In kitchen measures: "1 bag, 5 cups"."""
    mass_kg: float | None = None
    volume_m3: float | None = None
    count: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class MadeBatch:
    """One batch of the day: what goes in, what is expected, and its process."""

    id: str
    product: str
    procedure: Procedure
    multiple: int
    parts: tuple[Part, ...]
    draws: tuple[Draw, ...]
    pot: str
    """The pot it was checked in; the timetable names the one it gets."""
    pots: tuple[str, ...]
    """Every pot that holds it."""
    jar: str
    jars: int
    """Jars that the plan counts on."""
    expected: Yield
    process: Process | None
    """`None` where nothing goes through a canner; see ``kept``."""
    kept: Kept
    checked: Checked
    purpose: Purpose
    cautions: tuple[Caution, ...]
    serves: tuple[Want, ...]
    """Wants that its jars are for, the earliest due first; at least one."""

    @property
    def all_cautions(self) -> tuple[Caution, ...]:
        """Cautions of the batch and of its process, each said once, in its words."""
        of_process = self.process.cautions if self.process else ()
        return (
            *self.cautions,
            *(
                caution
                for caution in of_process
                if not says_already(self.cautions, caution.text)
            ),
        )

    @property
    def is_by_the_jar(self) -> bool:
        """Whether its recipe is for one jar, and a pot holds what several take."""
        method = method_named(self.procedure.method)
        return not isinstance(method, Refusal) and method.PER_JAR

    @property
    def stands(self) -> str:
        """Where it stands at the end of its day: "in the dryer"; "" in its jars."""
        return getattr(method_named(self.procedure.method), "STANDS", "")

    @property
    def times(self) -> str:
        """How much of its recipe is in the pot: "2 times the tested batch"."""
        if self.is_by_the_jar:
            return "a recipe by the jar"
        if self.multiple == 1:
            return "one tested batch"
        return f"{self.multiple} times the tested batch"

    @property
    def keeping(self) -> str:
        """What keeps it, in a few words: "10 min process", "kept in the freezer"."""
        if self.process is None:
            return (
                f"kept in the {self.kept}" if self.kept is not Kept.DRY else "kept dry"
            )
        return f"{self.process.total_min} min process"


@dataclass(frozen=True, slots=True, kw_only=True)
class After:
    """Something to do once the day is over, and for which batches."""

    batches: tuple[str, ...]
    later: Later


@dataclass(frozen=True, slots=True, kw_only=True)
class Task:
    """Something that is done before or after the day, at its hour, by somebody."""

    when: dt.datetime
    until: dt.datetime | None
    """The latest hour; `None` where there is none."""
    who: str
    minutes: int
    what: str
    batches: tuple[str, ...]
    source: str
    """Who says so; empty where it is only made ready."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Purchase:
    """Something that the day needs more of than the shelf has."""

    name: str
    need: str
    have: str
    buy: str
    """In kitchen measures, rounded up to what can be bought where that is known."""
    why: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Unmet:
    """Jars that were wanted and are not planned, and why."""

    product: str
    jar: str
    wanted: int
    planned: int
    reason: str
    instead: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Promised:
    """A want with an hour, and what it is a want of as the book calls it."""

    want: Want
    product: str


@dataclass(frozen=True, slots=True, kw_only=True)
class LeftOut:
    """Batches of one product that the shelf allows and the day has no room for."""

    batches: tuple[str, ...]
    product: str
    jar: str
    jars: int
    why: str
    """Why this one sooner than another."""
    fruit: str
    """What becomes of its fruit or juice."""
    spoils: bool
    """Its fruit will not keep for another day."""
    proven: bool = False
    """No plan has it beside what is kept: proven, and not only not found."""
    each: tuple[tuple[str, int], ...] = ()
    """(batch, jars) of each of them."""
    cannot: bool = False
    """It cannot be made at all as the day stands, room or not."""
    short_day: bool = False
    """Only since a step of it is longer than the day."""

    @property
    def room(self) -> str:
        """Whether there is no room for it, or none was found."""
        it = "it" if len(self.batches) == 1 else "them"
        if self.cannot:
            who = "it" if len(self.batches) == 1 else "they"
            if self.short_day:
                return f"{who} cannot be made in so short a day"
            return f"{who} cannot be made as the day stands, however long the day is"
        if self.proven:
            return f"proven: no plan has room for {it} beside what is kept"
        return f"no room was found for {it}; that there is none is not proven"

    @property
    def sentence(self) -> str:
        """Which, why these, what becomes of the fruit, and whether there is room."""
        return (
            f"{', '.join(self.batches)} ({self.jars} {self.jar}): {self.why}. "
            f"Instead: {self.fruit}. {capital(self.room)}."
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Spare:
    """A batch that was left out, as it would be planned if it is taken in after all."""

    made: MadeBatch
    batch: Batch
    processes: tuple[LoadProcess, ...]
    wants: tuple[DueWant, ...]
    thaws_min: int = 0
    """Its juice or fruit stays frozen: so long it thaws in cold water at most. [min]"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Divided:
    """How the jars of a pack were divided into pots, beside the plain rule."""

    product: str
    jar: str
    plain: tuple[int, ...]
    """Jars' worths in each pot by the plain rule."""
    other: tuple[int, ...] | None
    """The best other division that was searched; `None` where none was worth it."""
    taken: bool
    """Whether the other one is planned."""
    why: str
    """What the other division is: "more, smaller pots"."""
    plain_ends_min: int | None
    """What came of each in the same time; `None` where it found no plan. [min]"""
    other_ends_min: int | None
    plain_loads: int
    other_loads: int
    searched: bool
    """Both were searched, each for as long; else both were planned by hand."""
    ways: int
    """Divisions that were looked at, the plain rule among them."""
    one_is: str = ""
    """What each batch is counted in where that is no jar's worth: "lb"."""
    in_pots: bool = True
    """Whether it is put into pots at all."""
    canned: bool = True
    """Whether its jars go through a canner; the loads are told only then."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Leftover:
    """What a lot still holds when the day is done, and what it may become."""

    lot: str
    text: str
    choices: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class DayPlan:
    """Everything that a day file leads to."""

    day: Day
    air: AirToday
    batches: tuple[MadeBatch, ...]
    problem: Problem | None
    """`None` where there is no batch to plan."""
    answer: Answer | NoPlan | None
    shopping: tuple[Purchase, ...]
    unmet: tuple[Unmet, ...]
    leftovers: tuple[Leftover, ...]
    evening_before: tuple[str, ...]
    afterwards: tuple[After, ...]
    """What is to be done after the day, the soonest first."""
    cautions: tuple[Caution, ...]
    left_out: tuple[LeftOut, ...] = ()
    """Batches that have no room; the plan is one of all the others."""
    evening_tasks: tuple[Task, ...] = ()
    """What is done the evening before, with who and when."""
    after_tasks: tuple[Task, ...] = ()
    """What is done after the day, with who and when."""
    too_much: NoPlan | None = None
    """Why not all of them fit; `None` where they do, or where nothing fits at all."""
    learned: Learned = AS_PUBLISHED
    """What past days taught, as far as the plan uses it."""
    spare: tuple[Spare, ...] = ()
    """The batches that were left out and could be worked."""
    divided: tuple[Divided, ...] = ()
    """Of each product whose jars may be divided in more than one way."""
    however_divided: bool = True
    """What is proven of the end holds however the packs are divided into pots."""
    on_strongest_fires: bool = True
    """No fire is stronger than those that the batches were reckoned for."""

    def left_out_as(self, said: str) -> LeftOut | None:
        """What is left out under the name of a batch, of a step of it, or a product."""
        name = said.strip().casefold()
        for out in self.left_out:
            names = [one.casefold() for one in out.batches]
            if name.partition("/")[0].strip() in names or name == out.product:
                return out
        return None

    @property
    def before_is_called(self) -> str:
        """What stands over the things of the evening before: some have a morning."""
        early = any(task.when.hour < 12 for task in self.evening_tasks)
        return "The day before" if early else "The evening before"

    kitchen_if: PlanIf | None = None
    """Where no batch can be made: a plan of the day with one thing more in it."""
    promised: tuple[Promised, ...] = ()
    """What is wanted by an hour, the earliest due first."""
    named_out: tuple[str, ...] = ()
    """Batches that shelf and wants allow and the day file leaves out by their names."""

    @property
    def bound_of(self) -> str:
        """What the bound on the end is of: "this kitchen", or "these batches" alone."""
        of_all = self.however_divided and not self.left_out and self.on_strongest_fires
        return "this kitchen" if of_all else "these batches"

    @property
    def jars_by_kind(self) -> Counter[tuple[str, str]]:
        """Jars of each product and size, however they are divided into pots."""
        return jars_by_kind(self.batches)

    def batch(self, batch_id: str) -> MadeBatch:
        """Return the batch of that id."""
        return next(batch for batch in self.batches if batch.id == batch_id)


def says_already(of_recipe: Iterable[Caution], text: str) -> bool:
    """Whether the cautions of a recipe say what one of its process says."""
    own = tuple(of_recipe)
    if any(caution.text == text for caution in own):
        return True
    return len(tokens(text)) >= TOO_SHORT and is_said(text, own, most=SAID_ALREADY)


def jars_by_kind(batches: Iterable[MadeBatch]) -> Counter[tuple[str, str]]:
    """Jars of each product and size."""
    jars: Counter[tuple[str, str]] = Counter()
    for batch in batches:
        jars[batch.product, batch.jar] += batch.jars
    return jars
