"""Why a day has no batch at all, and what to do about it."""

from __future__ import annotations

from stillroom.in_a_list import all_of
from stillroom.planning.dayplan import DayPlan
from stillroom.refusal import Refusal


def nothing_made(plan: DayPlan) -> Refusal:
    """Why no batch is made: what the day file leaves out, or what each want lacks."""
    reasons = [f"{unmet.product}: {unmet.reason}" for unmet in plan.unmet]
    instead = [unmet.instead for unmet in plan.unmet]
    if plan.named_out:
        reasons.insert(0, all_left_out(plan.named_out))
        instead.insert(
            0,
            "take a name out of the batches that are not made (`without` under "
            "[day]), or want more",
        )
    return Refusal(
        f"no batch can be made: {'; '.join(reasons)}",
        instead="; ".join(dict.fromkeys(instead)),
        source="the book, the shelf and the wants of the day file",
    )


def nothing_made_as_told(plan: DayPlan) -> Refusal:
    """The same where what each want lacks stands above it already, and is long."""
    if plan.named_out or len(plan.unmet) < 2:
        return nothing_made(plan)
    return Refusal(
        "no batch can be made: what each want lacks is said above, under Wanted and "
        "not planned",
        instead="do for one of them what is said there, and plan again",
        source="the book, the shelf and the wants of the day file",
    )


def all_left_out(names: tuple[str, ...]) -> str:
    """Say that the day file leaves out all that could be made."""
    return f"your day file leaves out every batch that there is: {all_of(names)}"
