"""
Loads on their clock since before the computer was switched on. Pure.

Where the power was gone an electric fire was out too, and nobody tapped it: the clock
went on all the same, and would call jars ready that did not boil.
"""

from __future__ import annotations

from datetime import datetime

from stillroom.running.fold import LoadRun, RunState


def may_have_been_off(
    state: RunState, switched_on: datetime | None
) -> tuple[LoadRun, ...]:
    """Return the loads whose fire may have been out; none where it is not known."""
    if switched_on is None:
        return ()
    return tuple(
        run
        for run in state.on_the_fire
        if run.boiling_since is not None and run.boiling_since < switched_on
    )
