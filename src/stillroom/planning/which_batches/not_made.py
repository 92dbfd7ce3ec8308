"""What was promised by an hour and is not made: no room, or no recipe, fruit or jar."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass

from stillroom.in_a_list import all_of
from stillroom.jar_count import jars_said
from stillroom.planning.day import Want
from stillroom.planning.dayplan import DayPlan


@dataclass(frozen=True, slots=True, kw_only=True)
class NotMade:
    """Jars that were promised by an hour and are not in the plan."""

    product: str
    jar: str
    jars: int
    by: dt.time


def promised_and_not_made(plan: DayPlan) -> tuple[NotMade, ...]:
    """
    Return them, what is left out first, then what cannot be met.

    Whole batches may hold more jars than were promised: no more than those can lack.
    """
    lost: dict[Want, int] = {}
    made: dict[Want, int] = {}
    called: dict[Want, str] = {}
    for out in plan.left_out:
        if out.want is not None:
            lost[out.want] = lost.get(out.want, 0) + out.jars
            made[out.want] = out.made
            called[out.want] = out.product
    for unmet in plan.unmet:
        if unmet.want is not None:
            short = unmet.wanted - unmet.planned
            lost[unmet.want] = lost.get(unmet.want, 0) + short
    return tuple(
        NotMade(
            product=called.get(want, want.product),
            jar=want.jar,
            jars=min(jars, want.jars - made.get(want, 0)),
            by=want.by,
        )
        for want, jars in lost.items()
        if want.by is not None and want.jars > made.get(want, 0)
    )


def not_made_sentence(plan: DayPlan) -> str:
    """Name what was promised and is not made; empty for nothing."""
    said = [
        f"{jars_said(one.jars, one.jar)} of {one.product} by {one.by:%-H:%M}"
        for one in promised_and_not_made(plan)
    ]
    return f"Promised and not made: {all_of(said)}." if said else ""
