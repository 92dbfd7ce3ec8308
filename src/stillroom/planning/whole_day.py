"""From a day file to the whole answer: one straight line through the house."""

from __future__ import annotations

from stillroom.book.procedures import Procedure
from stillroom.methods.method import Later
from stillroom.methods.today import AirToday, air_in
from stillroom.planning.batches import Batched, make_batches
from stillroom.planning.choices import Place
from stillroom.planning.day import Day
from stillroom.planning.dayplan import After, DayPlan
from stillroom.planning.kitchen_problem import minute, nobody_can, problem_of
from stillroom.planning.leftovers import evening_before, leftovers
from stillroom.planning.plan import plan_day
from stillroom.planning.problem import Problem
from stillroom.planning.shelf import Shelf
from stillroom.planning.timetable import Answer, NoPlan
from stillroom.refusal import COMMON_PRACTICE, Caution, Refusal

SEAL_CHECK = Later(
    after_h=12.0,
    text="Check every seal: bands off, press, tap, look across. Date what has sealed.",
    source="Michigan State Univ. Extension leaflet 01600951: after 12 to 24 h",
)
WAITING_JARS = Caution(
    "closed jars stand hot for up to 20 minutes while a load fills: jelly that stands "
    "begins to set and may float fruit",
    COMMON_PRACTICE,
)


def plan_the_day(
    day: Day,
    *,
    seconds: float = 5.0,
    workers: int = 2,
    deterministic: bool = False,
    own: tuple[Procedure, ...] = (),
) -> DayPlan | Refusal:
    """
    Return batches, loads, timetable, and what is missing.

    ``seconds`` is the time given to the solver; the by-hand plan is there long before.
    A refusal comes only where nothing at all can be said, such as for want of an
    elevation. ``own`` are recipes of the keeper's, wanted by their titles.

    Raises
    ------
    Unreadable
        Where the day cannot be worked by anybody in it: no one who lifts hot jars, say.
    """
    air = air_in(day.kitchen)
    if isinstance(air, Refusal):
        return air
    shelf = Shelf(day.shelf)
    made = make_batches(day, Place(kitchen=day.kitchen, air=air, own=own), shelf)
    problem: Problem | None = None
    answer: Answer | NoPlan | None = None
    if made.batches:
        stated = problem_of(day, made, air)
        if isinstance(stated, Refusal):
            return stated
        problem = stated
        if (missing := nobody_can(problem)) is not None:
            return missing
        answer = plan_day(
            problem, seconds=seconds, workers=workers, deterministic=deterministic
        )
    return DayPlan(
        day=day,
        air=air,
        batches=tuple(made.batches),
        problem=problem,
        answer=answer,
        shopping=tuple(made.shopping),
        unmet=tuple(made.unmet),
        leftovers=tuple(leftovers(made, shelf)),
        evening_before=tuple(evening_before(day, made)),
        afterwards=_afterwards(made),
        cautions=_cautions(day, air, made, answer),
    )


def _afterwards(made: Batched) -> tuple[After, ...]:
    """What the batches ask for after the day, alike ones together."""
    found: dict[Later, list[str]] = {}
    for batch, work in made.works.items():
        for later in work.later:
            found.setdefault(later, []).append(batch)
    if any(batch.process for batch in made.batches):
        canned = [batch.id for batch in made.batches if batch.process]
        found.setdefault(SEAL_CHECK, []).extend(canned)
    return tuple(
        After(batches=tuple(batches), later=later)
        for later, batches in sorted(found.items(), key=lambda item: item[0].after_h)
    )


def _cautions(
    day: Day, air: AirToday, made: Batched, answer: Answer | NoPlan | None
) -> tuple[Caution, ...]:
    """Cautions of the day and of its batches, each said once."""
    said: dict[str, Caution] = {c.text: c for c in air.cautions}
    if (
        day.done_by is not None
        and isinstance(answer, Answer)
        and answer.finish_min > (due := minute(day.done_by, day.starts))
    ):
        late = Caution(
            f"the plan ends {answer.finish_min - due} min after {day.done_by:%H:%M}, "
            "the hour you named",
            "computed",
        )
        said[late.text] = late
    for lot in day.shelf:
        drawn = any(d.lot == lot.name for b in made.batches for d in b.draws)
        if lot.use_by is not None and lot.use_by < day.date and drawn:
            past = Caution(
                f"{lot.name} was to be used by {lot.use_by:%-d %B %Y}: look and smell, "
                "and discard what is doubtful",
                "the date on the shelf",
            )
            said[past.text] = past
    if isinstance(answer, Answer) and any(
        batch.procedure.kind in ("jelly", "jam") for batch in made.batches
    ):
        said[WAITING_JARS.text] = WAITING_JARS
    for group in made.groups:
        for small in group.chosen.fitted.too_small:
            said[small.reason] = Caution(small.reason, small.source)
    for batch in made.batches:
        for caution in batch.all_cautions:
            said.setdefault(caution.text, caution)
    return tuple(said.values())
