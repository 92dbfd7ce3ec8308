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
    stands: str = ""
    """Where it is at that hour, if it is being made: "in the dryer"."""


def promised_and_not_made(plan: DayPlan) -> tuple[NotMade, ...]:
    """
    Return them, the earliest due first, for whatever reason: told of what *is* made.

    It may have no room, or cannot be met, or was left out by her own hand, in the day
    file or since the day began; or it still dries or ferments when the day is over.
    """
    asked: dict[Want, int] = {}
    for promise in plan.promised:
        asked[promise.want] = asked.get(promise.want, 0) + promise.want.jars
    filled = [
        (0 if batch.stands else batch.jars, batch.serves) for batch in plan.batches
    ]
    had = jars_had(asked, filled)
    stands = {want: b.stands for b in plan.batches if b.stands for want in b.serves}
    called = {promise.want: promise.product for promise in plan.promised}
    return tuple(
        NotMade(
            product=called[want],
            jar=want.jar,
            jars=jars - had[want],
            by=want.by,
            stands=stands.get(want, ""),
        )
        for want, jars in asked.items()
        if want.by is not None and jars > had[want]
    )


def not_made_sentence(plan: DayPlan) -> str:
    """Name what was promised and is in no jar at its hour; empty for nothing."""
    found = promised_and_not_made(plan)
    not_made = [_by_its_hour(one) for one in found if not one.stands]
    stand = [f"{_by_its_hour(one)} ({one.stands} then)" for one in found if one.stands]
    said = []
    if not_made:
        said.append(f"Promised and not made: {all_of(not_made)}.")
    if stand:
        said.append(f"Promised and in no jar by then: {all_of(stand)}.")
    return " ".join(said)


def _by_its_hour(one: NotMade) -> str:
    return f"{jars_said(one.jars, one.jar)} of {one.product} by {one.by:%-H:%M}"
