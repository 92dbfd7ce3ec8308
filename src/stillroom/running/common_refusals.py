"""
Refusals that taps of every kind have in common: what changed, or is out by now. Pure.

A tap is of the screen on which it was made. What happened since is said, and nothing is
booked that another hand has just made untrue.
"""

from __future__ import annotations

from datetime import datetime, timedelta

from stillroom.refusal import COMMON_PRACTICE, Refusal
from stillroom.running.commands import Command
from stillroom.running.fold import RunState
from stillroom.running.load_run import LoadRun
from stillroom.running.rules import OUR_RECORD

TYPE_IN = (
    "look at the load as it is now; a process that took place is typed in on the page "
    "of the day after, with its start and its end"
)
"""For a tap that came late, and can no longer be booked as it was tapped."""


def is_stale(run: LoadRun, command: Command) -> bool:
    """Say whether the load changed since the hand saw it."""
    return command.seen is not None and command.seen < run.changed


def look_again(run: LoadRun, command: Command) -> Refusal:
    """Say that another hand was there first."""
    # What was tapped long ago would be tapped again at the wrong time.
    again = "look at it as it is now, then tap again if it still holds"
    return Refusal(
        f"{run.load.name} has changed since this screen was drawn",
        instead=TYPE_IN if command.late else again,
        source=OUR_RECORD,
    )


def is_out(run: LoadRun, at: datetime, command: Command) -> Refusal:
    """Say that a load is out of its canner."""
    return Refusal(
        f"{run.load.name} was lifted out at {clock_of(at, command)}",
        instead="choose the load that is in the canner now",
        source=OUR_RECORD,
    )


def clock_went_back(last: datetime, command: Command) -> Refusal:
    """Say that the computer shows an earlier time than the last entry bears."""
    return Refusal(
        "this computer's clock was set back: it shows "
        f"{clock_of(command.at, command)}, and the last entry of the run is of "
        f"{clock_of(last, command)}",
        instead="set the clock right, since the process clocks go by it; until then "
        "time the whole process with a kitchen timer",
        source=OUR_RECORD,
    )


def clock_of(moment: datetime, command: Command) -> str:
    """Clock time where the command was given, to the second."""
    return f"{moment.astimezone(command.at.tzinfo):%H:%M:%S}"


def span_of(span: timedelta) -> str:
    """Minutes and seconds of it."""
    minutes, seconds = divmod(int(span.total_seconds()), 60)
    return f"{minutes} min {seconds:02d} s"


def all_broke(run: LoadRun) -> Refusal | None:
    """Say that no jar is left to be processed; `None` where one is."""
    if not run.all_broke:
        return None
    return Refusal(
        f"every jar of {run.load.name} is booked as broken",
        instead="clear the glass out when it is cold, and say so",
        source=OUR_RECORD,
    )


def holds_another(state: RunState, run: LoadRun, command: Command) -> Refusal | None:
    """Say which load the canner of another one holds, or held then; `None` if none."""
    canner = run.load.canner
    for other in state.loads:
        if other.load.id == run.load.id or other.load.canner != canner:
            continue
        aboard = other.load.name
        if other.boiling_since is None:
            if other.lifted_at is None and other.venting_since is not None:
                return Refusal(
                    f"the vent clock of {aboard} runs at {canner}",
                    instead=f"if it was tapped by mistake, tap that the steam of "
                    f"{aboard} stopped first",
                    source=COMMON_PRACTICE,
                )
            continue
        if other.lifted_at is None:
            return Refusal(
                f"{canner} still holds {aboard}",
                instead=f"lift {aboard} out first, and say so",
                source=COMMON_PRACTICE,
            )
        if other.lifted_at > command.at:  # by a tap that came late
            return Refusal(
                f"{canner} held {aboard} until {clock_of(other.lifted_at, command)}",
                instead=TYPE_IN,
                source=COMMON_PRACTICE,
            )
    return None
