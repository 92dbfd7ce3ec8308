"""Clock times of a lot that cannot be: said shorter than its process, or to come."""

from __future__ import annotations

import datetime as dt

from stillroom.refusal import Refusal
from stillroom.stock.choosing import OUR_RECORD
from stillroom.stock.events import Made
from stillroom.stock.jars_out import filled_at, jars_out_at

LONGEST_NIGHT = dt.timedelta(hours=12)
"""Filled in the evening and out on the next day: longer is a slip (no source)."""


def impossible_times(made: Made, at: dt.datetime) -> Refusal | None:
    """
    Return why the clock times of a lot cannot be as they were said, if they cannot.

    What was not said is held to nothing, except that a process takes its minutes.
    """
    batch = made.batch
    filled, out = filled_at(made, made.lot), jars_out_at(made, made.lot)
    if batch.filled_at and not batch.out_at:
        out = filled + dt.timedelta(minutes=batch.process_min or 0)
    took = out - filled
    minutes = took // dt.timedelta(minutes=1)
    both = bool(batch.filled_at and batch.out_at)
    if both and batch.filled_at > batch.out_at and took > LONGEST_NIGHT:
        return Refusal(
            f"filled at {batch.filled_at} and out at {batch.out_at}, its jars would be "
            f"out on the next day, {minutes // 60} h {minutes % 60:02d} min later; "
            f"over midnight at most {LONGEST_NIGHT // dt.timedelta(hours=1)} h are "
            "taken",
            instead="look at both clock times again; leave out the one that is not "
            "known",
            source=OUR_RECORD,
        )
    if both and batch.process_min and minutes < batch.process_min:
        return Refusal(
            f"from filled at {batch.filled_at} to out at {batch.out_at} are {minutes} "
            f"min, and its process alone was {batch.process_min} min",
            instead="look at both clock times and at the minutes again: jars are out "
            f"{batch.process_min} min after they were filled, or later; leave out the "
            "time that is not known",
            source=OUR_RECORD,
        )
    if (batch.out_at or batch.filled_at) and out > at:
        said = "would be out of the canner" if batch.canned else "would be ready"
        return Refusal(
            f"its jars {said} at {out:%H:%M} on {out:%Y-%m-%d}, in the future: it is "
            f"{at:%H:%M} on {at:%Y-%m-%d}",
            instead="book a lot when its jars are out; if they were filled on the day "
            "before, say that day (at the command line: --on yesterday)",
            source=OUR_RECORD,
        )
    return None
