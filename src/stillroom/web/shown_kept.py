"""The plan that was shown when a day was taken over, kept with the saved day."""

from __future__ import annotations

import msgspec

from stillroom.planning.ways.held_plan import KnownPlan


def written(known: KnownPlan) -> str:
    """Write a plan as it is kept."""
    return msgspec.json.encode(known).decode()


def read_shown(text: str) -> tuple[KnownPlan, ...]:
    """
    Read a plan that was kept; none where nothing was.

    What cannot be read is a search that begins anew, and no fault of the day: whether
    the plan still holds is judged before it is used.
    """
    if not text:
        return ()
    try:
        return (msgspec.json.decode(text, type=KnownPlan),)
    except msgspec.MsgspecError:
        return ()
