"""The rest of a changed day planned again, and told beside the plan as it was."""

from __future__ import annotations

from dataclasses import replace

from stillroom.planning.begun.changes import Changed
from stillroom.planning.begun.handed_on import handed_on
from stillroom.planning.happened import Happened
from stillroom.planning.second_thoughts.moves import moves_between, open_steps
from stillroom.planning.second_thoughts.replan import SECONDS, replan
from stillroom.planning.second_thoughts.replanned import Replanned
from stillroom.planning.timetable import Timetable


def replan_changed(
    changed: Changed,
    happened: Happened,
    *,
    seconds: float = SECONDS,
    promised_min: int,
    begin: Timetable | None = None,
) -> Replanned:
    """
    Plan the rest of a day again after changes.

    Where nothing is found in the time, it is tried once more with the loads of a broken
    canner in another one. Who goes is gone, also where nothing is found.

    Parameters
    ----------
    changed : Changed
        The day as it is now, and its plan so far.
    happened : Happened
        What has begun.
    seconds : float
        For each try. [s]
    promised_min : int
        The end that was said before. [min]
    begin : Timetable, optional
        A plan to begin from; else the old one, with what cannot stay in other hands.
    """
    start = begin
    if start is None:
        start = handed_on(changed.problem, changed.plan, happened)
    found = replan(
        changed.problem,
        start,
        happened,
        seconds=seconds,
        promised_min=promised_min,
        firm=changed.goes,
    )
    if found.found_none and found.broken and begin is None:
        elsewhere = handed_on(changed.problem, changed.plan, happened, loads_too=True)
        if elsewhere.loads != start.loads:
            start = elsewhere
            found = replan(
                changed.problem,
                start,
                happened,
                seconds=seconds,
                promised_min=promised_min,
                firm=changed.goes,
            )
    found = replace(
        found,
        not_made=changed.not_made,
        taken_over=changed.taken_over,
        missed_before_min=changed.was_late_min,
        ends_first=changed.ends_first,
    )
    if start == changed.plan:
        return found
    return replace(
        found,
        old=changed.plan,
        moves=moves_between(happened, changed.plan, found.new),
        open_steps=open_steps(happened, changed.plan),
    )
