"""When what stood overnight may be gone on with: its printed hours are over then."""

from __future__ import annotations

import datetime as dt
import math

from stillroom.methods.method import Work
from stillroom.methods.salted import begun_in_the_morning, hours_before
from stillroom.planning.day import Day
from stillroom.planning.dayplan import MadeBatch
from stillroom.planning.problem import Window
from stillroom.planning.which_batches.around import EVENING, WAKES
from stillroom.planning.which_batches.batches import Batched

_GOES_ON = ("drain", "from_cold")
"""The step that takes it up again."""


def when_it_has_stood(
    day: Day, batch: MadeBatch, work: Work, made: Batched
) -> tuple[Window, ...]:
    """
    Return from when on a batch that is begun before the day may be gone on with.

    It is begun at seven the evening before, or in the morning where a night is too
    short, and cut with the others of its recipe.
    """
    recipe = made.chosen[batch.id].fitted.recipe
    all_of_it = (chosen.fitted.recipe for chosen in made.chosen.values())
    together = [r for r in all_of_it if r.procedure.id == recipe.procedure.id]
    hours = hours_before(*together)
    if not hours:
        return ()
    begun = dt.datetime.combine(
        day.date - dt.timedelta(days=1),
        WAKES if begun_in_the_morning(recipe) else EVENING,
    )
    starts = dt.datetime.combine(day.date, day.starts)
    over = begun + dt.timedelta(hours=hours) - starts
    earliest = max(0, math.ceil(over.total_seconds() / 60))
    why = f"{batch.product}: its vegetables have stood as long as is printed"
    return tuple(
        Window(step=step.id, earliest_min=earliest, why=why)
        for step in work.steps
        if step.id in _GOES_ON and earliest
    )
