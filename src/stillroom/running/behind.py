"""
Who is behind the plan, by what was tapped: pure.

Only of who says steps done; of who taps nothing it is not known.
"""

from __future__ import annotations

from datetime import datetime

from stillroom.planning.dayplan import DayPlan
from stillroom.running.behind_us import behind_us
from stillroom.running.events import KeptPlan
from stillroom.running.fold import RunState
from stillroom.running.hands import gone_by
from stillroom.running.so_far import LATELY, minute_of, not_said_on_the_fire

TOLD_MIN = 10
"""Less than this is no slip: a step more or less makes it up. [min]"""


def behind(
    plan: DayPlan | None, state: RunState, at: datetime
) -> tuple[str, int] | None:
    """
    Return who is most behind the plan, and by how many minutes; `None` where nobody is.

    That is since the first step of hers that is not done should have been: many a hand
    says *Done* alone, and a step under way is late by nothing. What only warms on a
    fire is not under way until somebody says so.
    """
    by = gone_by(plan, state)
    if by is None or state.begun_at is None:
        return None
    problem, timetable = by
    now = minute_of(at, state.begun_at.astimezone(at.tzinfo), problem)
    over = behind_us(problem, state)
    of = {(s.batch, s.step): s.person for s in timetable.steps}
    says = {of.get((b, s)) for b, s, when in state.done_at if at - when < LATELY}
    first: dict[str, int] = {}
    for placed in sorted(timetable.steps, key=lambda s: s.end_min):
        key = (placed.batch, placed.step)
        if placed.person and placed.person in says and key not in over:
            first.setdefault(placed.person, now - placed.end_min)
    kept = KeptPlan(of="", problem=problem, timetable=timetable)
    warms = not_said_on_the_fire(state, kept, at, now) - over
    for placed in timetable.steps:  # it has all of its minutes to come
        if placed.person in first and (placed.batch, placed.step) in warms:
            late = now - placed.start_min
            first[placed.person] = max(first[placed.person], late)
    who, most = max(first.items(), key=lambda one: one[1], default=("", 0))
    return (who, most) if most >= TOLD_MIN else None
