"""When what stood overnight may be gone on with: its printed hours are over then."""

from __future__ import annotations

import datetime as dt
import math

from stillroom.methods.method import Work
from stillroom.methods.salted import begun_in_the_morning, hours_before
from stillroom.planning.day import Day
from stillroom.planning.dayplan import MadeBatch
from stillroom.planning.problem import Window
from stillroom.planning.which_batches.around import begins_before
from stillroom.planning.which_batches.batches import Batched

_GOES_ON = ("drain", "from_cold")
"""The step that takes it up again."""


def when_it_has_stood(
    day: Day, batch: MadeBatch, work: Work, made: Batched
) -> tuple[Window, ...]:
    """
    Return from when on a batch that is begun before the day may be gone on with.

    It is begun at seven the evening before, or when the day before is over; in the
    morning where a night is too short. What is begun at one time is cut one after
    another, and all of it is thought to be cut before the first begins to stand.
    """
    recipe = made.chosen[batch.id].fitted.recipe
    early = begun_in_the_morning(recipe)
    together = [
        chosen.fitted.recipe
        for chosen in made.chosen.values()
        if hours_before(chosen.fitted.recipe)
        and begun_in_the_morning(chosen.fitted.recipe) == early
    ]
    if not hours_before(recipe):
        return ()
    hours = hours_before(recipe, *(r for r in together if r is not recipe))
    begun = begins_before(day, in_the_morning=early)
    starts = dt.datetime.combine(day.date, day.starts)
    over = begun + dt.timedelta(hours=hours) - starts
    earliest = max(0, math.ceil(over.total_seconds() / 60))
    why = f"{batch.product}: its vegetables have stood as long as is printed"
    return tuple(
        Window(step=step.id, earliest_min=earliest, why=why)
        for step in work.steps
        if step.id in _GOES_ON and earliest
    )
