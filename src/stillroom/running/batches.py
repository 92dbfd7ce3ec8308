"""The batches that a plan hands to a run: what the lots of the day will say."""

from __future__ import annotations

from collections.abc import Iterable

from stillroom.measures import FOOT_M
from stillroom.methods.by_name import method_named
from stillroom.methods.method import Kept, Material, Recipe
from stillroom.planning.day import Day
from stillroom.planning.dayplan import DayPlan, MadeBatch
from stillroom.planning.problem import Batch, Problem
from stillroom.planning.timetable import Answer, PlacedStep, Timetable
from stillroom.refusal import Refusal
from stillroom.running.by_lot import by_lot
from stillroom.running.events import RunBatch, RunNeed

_TIMED_BOIL = "hard_boil"
_PLACES = {
    Kept.SHELF: "pantry",
    Kept.DRY: "pantry",
    Kept.COLD: "refrigerator",
    Kept.FREEZER: "freezer",
}


def batches_of(plan: DayPlan) -> tuple[RunBatch, ...]:
    """
    Return the batches of a plan in its order, each with what it takes.

    Hands and pots are those of the timetable; quantities are exact, in milligrams,
    microlitres or pieces.
    """
    timetable = plan.answer.timetable if isinstance(plan.answer, Answer) else None
    return batches_in(plan.day, plan.problem, timetable, plan.batches)


def batches_in(
    day: Day,
    problem: Problem | None,
    timetable: Timetable | None,
    made: Iterable[MadeBatch],
) -> tuple[RunBatch, ...]:
    """Return batches of a day as a timetable places them."""
    return tuple(_batch(day, problem, timetable, batch) for batch in made)


def _batch(
    day: Day, problem: Problem | None, timetable: Timetable | None, made: MadeBatch
) -> RunBatch:
    procedure, elevation_m = made.procedure, day.kitchen.elevation_m
    steps_placed = () if timetable is None else timetable.steps
    placed = [step for step in steps_placed if step.batch == made.id]
    stated = next(
        (b for b in (problem.batches if problem else ()) if b.id == made.id), None
    )
    steps = {step.id for step in stated.steps} if stated else set()
    timed = procedure.boil_min is not None and _TIMED_BOIL in steps
    seconds = round(60 * procedure.boil_min) if timed and procedure.boil_min else None
    return RunBatch(
        id=made.id,
        product=made.product,
        food=procedure.kind,
        recipe=procedure.title or procedure.name,
        source=procedure.source,
        multiple=made.multiple,
        jar=made.jar,
        jars=made.jars,
        place=_PLACES[made.kept],
        needs=_needs(day, made),
        canned=made.process is not None,
        elevation_ft=None
        if elevation_m is None
        else round(elevation_m / float(FOOT_M)),
        who=_each_once(step.person for step in placed if step.person),
        pot=_pot(placed, made, stated),
        boil_step=_TIMED_BOIL if timed else "",
        boil_min=None if seconds is None or seconds % 60 else seconds // 60,
        boil_s=seconds if seconds is not None and seconds % 60 else None,
        closes=stated.ready_after if stated else "",
        purpose=made.purpose.value,
        stands=getattr(method_named(procedure.method), "STANDS", ""),
    )


def _pot(placed: Iterable[PlacedStep], made: MadeBatch, stated: Batch | None) -> str:
    """Pot that it was made in; empty where nothing of it goes into one."""
    if stated is not None and not any(step.in_pot for step in stated.steps):
        return ""
    return next((step.pot for step in placed if step.pot), made.pot) or ""


def _needs(day: Day, made: MadeBatch) -> tuple[RunNeed, ...]:
    method = method_named(made.procedure.method)
    if isinstance(method, Refusal):
        return ()
    recipe = Recipe(procedure=made.procedure, multiple=made.multiple, parts=made.parts)
    found = method.materials(recipe, made.jar, made.jars)
    needs = [need for material in found if (need := _need(material)) is not None]
    shelf = {lot.name: lot for lot in day.shelf}
    return tuple(part for need in needs for part in by_lot(need, made.draws, shelf))


def _need(material: Material) -> RunNeed | None:
    if material.volume_m3 is not None:
        unit, number = "ul", round(material.volume_m3 * 1e9)
    elif material.mass_kg is not None:
        unit, number = "mg", round(material.mass_kg * 1e6)
    else:
        unit, number = "pieces", material.count or 0
    if number <= 0:
        return None
    return RunNeed(name=material.name, unit=unit, number=number)


def _each_once(words: Iterable[str]) -> str:
    return ", ".join(dict.fromkeys(words))
