"""What is asked before the clock of a load starts: a wrong tap is told by it. Pure."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime

from stillroom.running.filled import is_said_filled
from stillroom.running.fold import LoadRun, Phase, RunState
from stillroom.running.rules import rules_for
from stillroom.running.stood import STOOD_SOURCE, stood_too_long
from stillroom.stock.words import said_day

_HOLDS = (Phase.BOILING, Phase.RESTING, Phase.READY)


@dataclass(frozen=True, slots=True, kw_only=True)
class AskedFirst:
    """A question, why it is asked, and the words of who is sure."""

    asks: str
    why: str
    """As one sentence goes on; without its full stop."""
    yes: str


def asked_first(
    state: RunState,
    run: LoadRun,
    at: datetime,
    beside: Mapping[str, RunState] | None = None,
) -> AskedFirst | None:
    """
    Return what is asked before a clock starts at a moment; `None` where nothing.

    ``beside`` has the other days that are under way, by their day, "2026-09-12". They
    have loads of the same names, and may go by the same canners.
    """
    load = run.load
    if (stood := stood_too_long(state, run, at)) is not None:
        return AskedFirst(
            asks=f"Were jars of {load.name} closed that long ago?",
            why=f"{load.name}: {stood.words} ({STOOD_SOURCE}). If it was tapped too "
            "early that they are closed, take that back at the stove, below its "
            "clocks, and say it anew when they are; as it stands, no process makes "
            "them pantry stock",
            yes=f"Start the clock of {load.name} all the same",
        )
    if (found := _held_by_another(run, at, beside or {})) is not None:
        day, other = found
        its = f"{other.load.name} of {said_day(day)}"
        if other.phase(at) is Phase.BOILING:
            there = f"the clock of {its} runs in {load.canner}"
        else:
            there = f"{its} was not said to be out of {load.canner}"
        return AskedFirst(
            asks=f"Is it this {load.name} that is {rules_for(load).at}?",
            why=f"{there}; of this day it is {load.contents}",
            yes=f"Yes, start the clock of this {load.name}",
        )
    if run.has_begun or is_said_filled(state, run):
        return None
    return AskedFirst(
        asks=f"Is it {load.name} that is {rules_for(load).at}?",
        why=f"it was not said that any jar of {load.name} is filled: {load.contents}, "
        f"{load.canner}",
        yes=f"Yes, start the clock of {load.name}",
    )


def _held_by_another(
    run: LoadRun, at: datetime, beside: Mapping[str, RunState]
) -> tuple[str, LoadRun] | None:
    """
    Return the load of another day that is in the same canner, if any.

    Until it is said to be out: a pressure canner stays closed when its time is up.
    """
    return next(
        (
            (day, other)
            for day, state in beside.items()
            for other in state.loads
            if other.load.canner == run.load.canner and other.phase(at) in _HOLDS
        ),
        None,
    )
