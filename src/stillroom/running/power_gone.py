"""
Loads on their clock since before the computer was switched on. Pure.

Where the power was gone an electric fire was out too, and nobody tapped it: the clock
went on all the same, and would call jars ready that did not boil.
"""

from __future__ import annotations

from datetime import datetime

from stillroom.running.fold import RunState
from stillroom.running.load_run import LoadRun


def may_have_been_off(
    state: RunState, at: datetime, switched_on: datetime | None, boot: str
) -> tuple[LoadRun, ...]:
    """
    Return the loads whose fire may have been out; none where it is not known.

    Parameters
    ----------
    state : RunState
        The run.
    at : datetime
        The moment, by the computer's clock.
    switched_on : datetime or None
        When the computer was switched on, by that clock; `None` where nobody knows.
    boot : str
        Name of that start of the computer; empty where it has none.
    """
    if switched_on is None:
        return ()

    def was_off(run: LoadRun) -> bool:
        since = run.boiling_since or run.venting_since
        if since is None:
            return False
        if run.boot and boot:
            return run.boot != boot
        # a clock without a battery starts where it likes, and behind the tap as well
        return since < switched_on or since > at

    return tuple(run for run in state.in_canners if was_off(run))
