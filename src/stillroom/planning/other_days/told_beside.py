"""What is said beside a changed day, each where it is so and was not so before."""

from __future__ import annotations

from stillroom.in_a_list import all_of
from stillroom.planning.day_file.day_changes import in_path
from stillroom.planning.daytime import clock_time, said_minutes
from stillroom.planning.gathered import rests_after
from stillroom.planning.other_days.better_day import is_better
from stillroom.planning.other_days.what_if import Outcome


def on_one_fire(one: Outcome, base: Outcome) -> str:
    """
    Say which canner that was added stands on another's fire; empty for none.

    A copy stands where the one that it is copied from does: the two take turns there.
    """
    if one.plan is None or base.plan is None:
        return ""
    before = {canner.name for canner in base.plan.day.kitchen.canners}
    said = []
    for canner in one.plan.day.kitchen.canners:
        if canner.name in before:
            continue
        others = [
            other.name
            for other in one.plan.day.kitchen.canners
            if other is not canner and set(other.stands_on) & set(canner.stands_on)
        ]
        if others:
            fire = all_of(canner.stands_on)
            said.append(
                f"{canner.name} stands on {fire}, as {all_of(others)} does, so that "
                "they take turns there; on a fire of its own it may bring more "
                f"(kitchen.canners.{in_path(canner.name)}.stands_on)"
            )
    return "; ".join(said)


def holds_too_words(one: Outcome, base: Outcome) -> str:
    """Say where a changed day is better, and not by its change; else empty."""
    if one.holds_as_it_is and base.finish_min is not None and is_better(one, base):
        return "its plan breaks no rule of the day as it is"
    return ""


def rests_later_words(one: Outcome, base: Outcome) -> str:
    """Say which break comes after somebody has gone, and did not before; else empty."""
    if one.plan is None or base.plan is None:
        return ""
    before = {caution.text for caution in rests_after(base.plan.day)}
    said = [c.text for c in rests_after(one.plan.day) if c.text not in before]
    return "; ".join(said)


def past_her_hour(one: Outcome, base: Outcome) -> str:
    """
    Say by how much a day ends after the hour that its file names; empty where it does
    not, or where the day as it is says just so.
    """
    if one.hour_min is None or one.finish_min is None:
        return ""
    over = one.ends_clock_min - one.hour_min
    same = (one.hour_min, one.finish_min) == (base.hour_min, base.finish_min)
    if over <= 0 or same:
        return ""
    hour = clock_time("00:00", one.hour_min)
    return f"it ends {said_minutes(over)} after {hour}, by which it is to be done"


def to_buy_words(one: Outcome, base: Outcome) -> str:
    """
    Say what is to be bought for a changed day and was not, or another amount of it.

    What lacks on the shelf is bought, so that the day itself may be just the same.
    """
    if one.plan is None or base.plan is None:
        return ""
    before = {(bought.name, bought.buy) for bought in base.plan.shopping}
    more = [
        f"{bought.buy} {bought.name}" if bought.buy != "some" else bought.name
        for bought in one.plan.shopping
        if (bought.name, bought.buy) not in before
    ]
    return f"to be bought for it: {all_of(more)}" if more else ""


def told_beside(one: Outcome, base: Outcome) -> tuple[str, ...]:
    """Return what is said beside a changed day, each where it is so."""
    said = (
        holds_too_words(one, base),
        on_one_fire(one, base),
        rests_later_words(one, base),
        past_her_hour(one, base),
        to_buy_words(one, base),
    )
    return tuple(words for words in said if words)
