"""
The vent clock of a pressure canner: 10 min of steady steam, then it is closed. Pure.

Air that is left inside keeps the canner cooler than its gauge says. So the clock of the
process is told how it is known that the canner was vented: by this clock, or by what
she answered when she was asked.
"""

from __future__ import annotations

from stillroom.refusal import Refusal
from stillroom.running.commands import (
    MarkFullBoil,
    MarkVenting,
    MarkVentingStopped,
)
from stillroom.running.common_refusals import (
    all_broke,
    clock_of,
    holds_another,
    is_out,
    is_stale,
    look_again,
)
from stillroom.running.events import BOILING_WATER, VentingBegun, VentingStopped
from stillroom.running.fold import RunState
from stillroom.running.load_run import LoadRun
from stillroom.running.rules import OUR_RECORD, rules_for

BY_CLOCK = "clock"
BY_HER_WORD = "said"


def begin_venting(
    state: RunState, run: LoadRun, command: MarkVenting
) -> tuple[VentingBegun, ...] | Refusal:
    """Start the vent clock of a load, or say why not; nothing where it runs already."""
    load, rules = run.load, rules_for(run.load)
    if load.method == BOILING_WATER:
        return Refusal(
            f"{load.canner} has no vent: it is a boiling-water canner",
            instead=f"{rules.bring}, then start its clock",
            source=str(rules.starts),
        )
    if run.lifted_at is not None:
        return is_out(run, run.lifted_at, command)
    if (no := all_broke(run)) is not None:
        return no
    if run.boiling_since is not None or run.venting_since is not None:
        if is_stale(run, command):
            return ()
        if run.boiling_since is not None:
            since = clock_of(run.boiling_since, command)
            return Refusal(
                f"the clock of {load.name} runs since {since}: its vent is closed",
                instead=f"leave it; if the {rules.lost} was lost, say so first",
                source=str(rules.restarts),
            )
        assert run.venting_since is not None
        since = clock_of(run.venting_since, command)
        return Refusal(
            f"the vent clock of {load.name} runs since {since}",
            instead="leave it; if the steam stopped, say so first, and start it anew "
            "when steam streams steadily",
            source=str(rules.vents),
        )
    if is_stale(run, command):
        return look_again(run, command)
    if (no := holds_another(state, run, command)) is not None:
        return no
    return (
        VentingBegun(
            load=load.id, boot=command.boot, late=command.late, occurred_at=command.at
        ),
    )


def stop_venting(
    run: LoadRun, command: MarkVentingStopped
) -> tuple[VentingStopped, ...] | Refusal:
    """Take the vent clock back: what streamed so far counts for none."""
    load, rules = run.load, rules_for(run.load)
    if run.lifted_at is not None:
        return is_out(run, run.lifted_at, command)
    if run.boiling_since is not None:
        return Refusal(
            f"the clock of {load.name} runs since "
            f"{clock_of(run.boiling_since, command)}",
            instead=f"if it was not vented for its 10 min, say that it lost the "
            f"{rules.lost}: let steam stream then, and start the whole time anew",
            source=str(rules.vents or OUR_RECORD),
        )
    if run.venting_since is None:
        return ()
    if is_stale(run, command):
        return look_again(run, command)
    return (VentingStopped(load=load.id, late=command.late, occurred_at=command.at),)


def how_vented(run: LoadRun, command: MarkFullBoil) -> str:
    """Say how it is known, as the clock of the process starts, that steam streamed."""
    if run.load.method == BOILING_WATER:
        return ""
    if run.vented_at is not None and run.vented_at <= command.at:
        return BY_CLOCK
    return BY_HER_WORD if command.sure else ""
