"""Jars that nobody lifted out for a night, and what is done with them. Pure."""

from __future__ import annotations

from datetime import datetime, timedelta

from stillroom.book.trouble import troubles
from stillroom.running.load_run import LoadRun
from stillroom.stock.how_long_ago import moment_words

A_NIGHT = timedelta(hours=8)
"""So long after the rest of a load its jars stayed overnight. Our own figure."""
_ROW = "left-in-canner"


def left_in(run: LoadRun, at: datetime) -> str:
    """
    Say since when jars could be out, and what is done if they were in it till then.

    Empty where a night has not gone by before they were said to be out, or before now.
    Who lifts jars in time and forgets to tap it is told too, and knows better.
    """
    since, out = run.may_lift_at, run.lifted_at or at
    if since is None or out - since < A_NIGHT:
        return ""
    row = next(row for row in troubles() if row.id == _ROW)
    then = f"{row.then[:1].lower()}{row.then[1:]}"
    return (
        f"its jars could come out since {moment_words(since, at)}. If they stayed in "
        f"the canner overnight, {then} ({row.source})"
    )
