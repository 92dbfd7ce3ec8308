"""
A lot that was booked as never processed while the stove has its process. Pure.

Two hands may each be right at their hour: one booked it before the canner ran. What the
record says of the jars is then the stricter of the two, and both are named.
"""

from __future__ import annotations

import datetime as dt

from stillroom.refusal import Refusal
from stillroom.running.fold import RunState
from stillroom.running.load_run import LoadRun
from stillroom.running.rules import OUR_RECORD, rules_for
from stillroom.stock.fold import Stock


def booked_otherwise(
    state: RunState, stock: Stock, code: str, zone: dt.tzinfo | None
) -> str:
    """
    Say how a booked lot and its load at the stove differ; empty where they agree.

    A process that somebody typed in since is her word on it, and is not asked again.
    """
    made = stock.made(code)
    if made is None or made.batch.process_min or stock.processed(code) is not None:
        return ""
    run = state.load(made.batch.run_load) if made.batch.run_load else None
    if run is None or run.boiling_since is None:
        return ""
    since = f"{run.boiling_since.astimezone(zone):%-H:%M}"
    had = f"{run.load.process_min} min from {since}"
    if run.lifted_at is None:
        had = f"its clock running since {since}"
    else:
        had += f", out {run.lifted_at.astimezone(zone):%-H:%M}"
    return (
        f"it was booked as never processed, and at the stove {run.load.name} has {had}"
    )


def runs_still(run: LoadRun, at: dt.datetime) -> Refusal | None:
    """Return why jars on their clock are not booked as never processed; `None` else."""
    if run.boiling_since is None:
        return None
    since = run.boiling_since.astimezone(at.tzinfo)
    lost = rules_for(run.load).lost
    if run.lifted_at is not None:
        return Refusal(
            f"{run.load.name} was lifted out at the stove after its process, "
            f"{run.load.process_min} min from {since:%-H:%M}",
            instead="open the lots of the day again and book it as it stands there; if "
            "its process was wrong, say so: Something was wrong with a load",
            source=OUR_RECORD,
        )
    return Refusal(
        f"the clock of {run.load.name} runs since {since:%-H:%M}",
        instead="book it when it is lifted out; if its canner never boiled, say at the "
        f"stove that it lost its {lost}, and then book it so",
        source=OUR_RECORD,
    )
