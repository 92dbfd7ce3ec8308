"""
What goes with the batches and the plan of a day, gathered into the whole answer.

What is done the evening before and afterwards, what is bought, what is left over, and
the cautions, each said once.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass, replace

from stillroom.in_a_list import all_of
from stillroom.methods.learned import AS_PUBLISHED, Learned
from stillroom.methods.method import Later
from stillroom.methods.today import AirToday
from stillroom.planning.day import Day
from stillroom.planning.day_file.batch_names import it_has
from stillroom.planning.dayplan import (
    After,
    DayPlan,
    LeftOut,
    Promised,
    Spare,
    Task,
)
from stillroom.planning.daytime import said_minutes
from stillroom.planning.how_good.by_the_hour import by_the_hour
from stillroom.planning.problem import Problem
from stillroom.planning.timetable import Answer, NoPlan, Timetable
from stillroom.planning.which_batches.around import after_tasks, evening_tasks
from stillroom.planning.which_batches.batches import Batched, first_served, keep_only
from stillroom.planning.which_batches.choices import Place, stronger_than
from stillroom.planning.which_batches.evening import (
    begun_before,
    evening_before,
    who_says_so,
)
from stillroom.planning.which_batches.idle_canners import idle_canners
from stillroom.planning.which_batches.kitchen_problem import steps_taking
from stillroom.planning.which_batches.leftovers import leftovers
from stillroom.planning.which_batches.missed_most import left_out_of
from stillroom.planning.which_batches.shelf import Shelf, full_shelf
from stillroom.planning.which_batches.sizes import Sized
from stillroom.planning.which_batches.spares import spares_of
from stillroom.planning.why_not.unworkable import for_a_short_day, without_these
from stillroom.refusal import COMMON_PRACTICE, Caution

SEAL_CHECK = Later(
    after_h=12.0,
    text="Check every seal: bands off, press, tap, look across. Date what has sealed.",
    source="Michigan State Univ. Extension leaflet 01600951: after 12 to 24 h",
    until_h=24.0,
)
CANNER_RUN = Later(
    after_h=1.0,
    text="Was every load processed? Before the kitchen is left, tick each load: it had "
    "its clock, and its jars are out. Sealed is not processed.",
    source="Univ. of Nebraska-Lincoln Extension: a lid that goes down by itself is no "
    "process",
)
WAITING_JARS = Caution(
    "closed jars stand hot for up to 20 minutes while a load fills: jelly that stands "
    "begins to set and may float fruit",
    COMMON_PRACTICE,
)

NOBODYS_MINUTES = Caution(
    "the plan gives nobody minutes for filling a canner and lighting it, for emptying "
    "it, for jars into and out of hot water, and for looking whether it boils: whoever "
    "is near has a few to spare for each",
    COMMON_PRACTICE,
)


@dataclass(slots=True)
class Gathered:
    """What planning a day came to."""

    day: Day
    air: AirToday
    made: Batched
    shelf: Shelf
    problem: Problem | None = None
    answer: Answer | NoPlan | None = None
    left_out: tuple[LeftOut, ...] = ()
    too_much: NoPlan | None = None
    learned: Learned = AS_PUBLISHED
    sized: Sized | None = None
    spare: tuple[Spare, ...] = ()
    named_out: tuple[str, ...] = ()


def fewer(
    found: Gathered,
    problem: Problem,
    cannot: Mapping[str, tuple[str, ...]],
    why_not: NoPlan | None = None,
    proven: Collection[str] = (),
) -> Gathered:
    """The day without some batches: their fruit is on the shelf again."""
    shelf = full_shelf(found.day)
    kept = [batch.id for batch in problem.batches]
    out = [batch.id for batch in found.made.batches if batch.id not in kept]
    assert found.problem is not None
    short = for_a_short_day(found.problem, cannot)
    left_out = left_out_of(found.day, found.made, out, cannot, proven, short)
    spare = spares_of(found.day, found.made, found.problem, out, cannot)
    return replace(
        found,
        made=keep_only(found.made, kept, shelf),
        shelf=shelf,
        problem=problem,
        answer=None,
        left_out=(*found.left_out, *left_out),
        too_much=why_not or without_these(found.problem, cannot),
        spare=(*found.spare, *spare),
    )


def whole(found: Gathered) -> DayPlan:
    """Everything that a day leads to."""
    made, day = found.made, found.day
    place = Place(kitchen=day.kitchen, air=found.air, learned=found.learned)
    before: tuple[str, ...] = ()
    after: tuple[After, ...] = ()
    tasks: tuple[Task, ...] = ()
    # nothing is thawed for a day that has no plan, and no seal of it is looked at
    if found.problem is not None and isinstance(found.answer, Answer):
        before, after = _evening(found, found.answer.timetable), _afterwards(made)
        tasks = after_tasks(day, found.problem, found.answer.timetable, after)
    return DayPlan(
        day=day,
        air=found.air,
        batches=tuple(made.batches),
        problem=found.problem,
        answer=found.answer,
        shopping=tuple(made.shopping),
        unmet=tuple(made.unmet),
        leftovers=tuple(leftovers(made, found.shelf, place, found.day.date)),
        evening_before=before,
        afterwards=after,
        evening_tasks=evening_tasks(day, before, who_says_so(made)),
        after_tasks=tasks,
        cautions=_cautions(found, told=before),
        left_out=found.left_out,
        too_much=found.too_much,
        learned=found.learned,
        spare=found.spare,
        promised=_promised(found),
        divided=() if found.sized is None else found.sized.told,
        named_out=found.named_out,
        on_strongest_fires=not any(_on_weaker_fires(found)),
    )


def _on_weaker_fires(found: Gathered) -> Iterator[Caution]:
    """Batches reckoned for a free fire, where one under a canner is stronger."""
    made = found.made
    for batch in made.batches:
        station = made.chosen[batch.id].fitted.station
        stronger = stronger_than(station, found.day.kitchen)
        cooked = any(step.burner_w for step in made.works[batch.id].steps)
        if stronger is not None and cooked:
            here = station.burner
            yield Caution(
                f"minutes on the fire are reckoned for {here.name} "
                f"({here.power_w / 1000:g} kW), which no canner stands on; "
                f"{stronger.name} ({stronger.power_w / 1000:g} kW) is stronger, and "
                "what is cooked there while its canner is off may be done sooner",
                "computed here",
            )


def _promised(found: Gathered) -> tuple[Promised, ...]:
    """What is wanted by an hour, in the order in which it is served."""
    called = {
        want: group.chosen.product
        for group in found.made.groups
        for want in group.wants
    }
    return tuple(
        Promised(want=want, product=called.get(want, want.product))
        for want in sorted(found.day.wants, key=first_served)
        if want.by is not None
    )


def _evening(found: Gathered, timetable: Timetable) -> tuple[str, ...]:
    """What is done the evening before, with when each frozen lot is wanted."""
    begins = dt.datetime.combine(found.day.date, found.day.starts)
    wanted: dict[str, dt.datetime] = {}
    for batch in found.made.batches:
        work = found.made.works[batch.id]
        for lot in found.day.shelf:
            if all(draw.lot != lot.name for draw in batch.draws):
                continue
            taking = steps_taking(lot.what, work)
            for s in timetable.steps:
                if s.batch == batch.id and s.step in taking:
                    at = begins + dt.timedelta(minutes=s.start_min)
                    wanted[lot.name] = min(at, wanted.get(lot.name, at))
    return tuple(evening_before(found.day, found.made, wanted, found.learned.seals))


def _afterwards(made: Batched) -> tuple[After, ...]:
    """What the batches ask for after the day, alike ones together."""
    found: dict[Later, list[str]] = {}
    for batch, work in made.works.items():
        for later in work.later:
            found.setdefault(later, []).append(batch)
    if any(batch.process for batch in made.batches):
        canned = [batch.id for batch in made.batches if batch.process]
        found.setdefault(CANNER_RUN, []).extend(canned)
        found.setdefault(SEAL_CHECK, []).extend(canned)
    return tuple(
        After(batches=tuple(batches), later=later)
        for later, batches in sorted(found.items(), key=lambda item: item[0].after_h)
    )


def rests_after(day: Day) -> Iterator[Caution]:
    """Breaks that somebody has only after she goes."""
    for person in day.people:
        for rest in person.rests_after(day.ends):
            yield Caution(
                f"{person.name} has the break of {said_minutes(rest.minutes)} after "
                f"{person.goes:%-H:%M}, when {person.name} goes: it is not in the plan",
                "the day file",
            )


def _left_out_by_name(found: Gathered) -> Iterator[Caution]:
    """What the day file leaves out, and what it names that is no batch of the day."""
    out = found.named_out
    there = [*out, *(batch.id for batch in found.made.batches)]
    there += [name for left in found.left_out for name in left.batches]
    if out:
        yield Caution(f"your day file leaves out {all_of(out)}", "the day file")
    for name in found.day.without:
        if name not in out:
            yield Caution(
                f"your day file leaves out {name}, and this day has no such batch: "
                f"{it_has(there)}",
                "the day file",
            )


def _not_that_day(made: Batched) -> Iterator[Caution]:
    """What is promised by an hour of a day at whose end it still dries or ferments."""
    for batch in made.batches:
        hours = sorted({want.by for want in batch.serves if want.by is not None})
        if batch.stands and hours:
            yield Caution(
                f"{batch.product} is promised by "
                f"{all_of(f'{by:%-H:%M}' for by in hours)}, and stands "
                f"{batch.stands} then: none of it is in a jar that day, and the plan "
                "counts only what hands do for it; promise it for a day after it is "
                "finished",
                COMMON_PRACTICE,
            )


def _cautions(found: Gathered, *, told: Collection[str]) -> tuple[Caution, ...]:
    """
    Cautions of the day and of its batches, each said once.

    What stands overnight is none where it is ``told`` for the evening before.
    """
    day, made, answer = found.day, found.made, found.answer
    said: dict[str, Caution] = {c.text: c for c in found.air.cautions}
    if isinstance(answer, Answer) and found.problem is not None:
        for of_the_hour in by_the_hour(day, found.problem, answer.timetable):
            said[of_the_hour.text] = of_the_hour
    for of_the_day in (
        *_not_that_day(made),
        *_left_out_by_name(found),
        *rests_after(day),
    ):
        said[of_the_day.text] = of_the_day
    for lot in day.shelf:
        drawn = any(d.lot == lot.name for b in made.batches for d in b.draws)
        if drawn and (past := lot.past_use(day.date)):
            said[past] = Caution(past, "the date on the shelf")
    if isinstance(answer, Answer) and any(
        batch.procedure.kind in ("jelly", "jam") for batch in made.batches
    ):
        said[WAITING_JARS.text] = WAITING_JARS
    if isinstance(answer, Answer) and answer.timetable.loads:
        said[NOBODYS_MINUTES.text] = NOBODYS_MINUTES
        loads = len(answer.timetable.loads)
        for idle in idle_canners(day.kitchen, found.air, made, loads):
            said[idle.text] = idle
    said.update({fire.text: fire for fire in _on_weaker_fires(found)})
    kept = {(batch.product, batch.jar) for batch in made.batches}
    for group in made.groups:
        fitted = group.chosen.fitted
        for small in (
            fitted.too_small if (group.chosen.product, fitted.jar) in kept else ()
        ):
            said[small.reason] = Caution(small.reason, small.source)
    together = {
        alone: in_all for in_all, lines in begun_before(made).items() for alone in lines
    }
    for batch in made.batches:
        for caution in batch.all_cautions:
            # one batch's pounds and salt are not the day's: said once, for all of them
            text = together.get(caution.text, caution.text)
            if text not in told:
                said.setdefault(text, Caution(text, caution.source))
    return tuple(said.values())
