"""What was promised by an hour and is not made, whatever the reason."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass

from stillroom.in_a_list import all_of
from stillroom.jar_count import jars_said
from stillroom.planning.day import Want
from stillroom.planning.dayplan import DayPlan
from stillroom.planning.jars_promised import jars_had


@dataclass(frozen=True, slots=True, kw_only=True)
class NotMade:
    """Jars that were promised by an hour and are not in the plan."""

    product: str
    jar: str
    jars: int
    by: dt.time


def promised_and_not_made(plan: DayPlan) -> tuple[NotMade, ...]:
    """
    Return them, the earliest due first, for whatever reason: told of what *is* made.

    It may have no room, or cannot be met, or was left out by her own hand, in the day
    file or since the day began.
    """
    asked: dict[Want, int] = {}
    for promise in plan.promised:
        asked[promise.want] = asked.get(promise.want, 0) + promise.want.jars
    had = jars_had(asked, [(batch.jars, batch.serves) for batch in plan.batches])
    called = {promise.want: promise.product for promise in plan.promised}
    return tuple(
        NotMade(
            product=called[want],
            jar=want.jar,
            jars=jars - had[want],
            by=want.by,
        )
        for want, jars in asked.items()
        if want.by is not None and jars > had[want]
    )


def not_made_sentence(plan: DayPlan) -> str:
    """Name what was promised and is not made; empty for nothing."""
    said = [
        f"{jars_said(one.jars, one.jar)} of {one.product} by {one.by:%-H:%M}"
        for one in promised_and_not_made(plan)
    ]
    return f"Promised and not made: {all_of(said)}." if said else ""
