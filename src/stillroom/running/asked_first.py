"""What is asked before the clock of a load starts: a wrong tap is told by it. Pure."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime

from stillroom.methods.canner_water import VENT_MIN
from stillroom.running.events import BOILING_WATER
from stillroom.running.filled import is_said_filled
from stillroom.running.fold import RunState
from stillroom.running.load_run import LoadRun, Phase
from stillroom.running.rules import rules_for
from stillroom.running.stood import STOOD_SOURCE, stood_too_long
from stillroom.stock.words import said_day

_HOLDS = (
    Phase.VENTING,
    Phase.VENTED,
    Phase.BOILING,
    Phase.RESTING,
    Phase.READY,
)


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

    One yes answers all of it: that a canner was vented is asked along with the rest.

    ``beside`` has the other days that are under way, by their day, "2026-09-12". They
    have loads of the same names, and may go by the same canners.
    """
    first, vent = _of_the_load(state, run, at, beside or {}), _of_the_vent(run, at)
    if first is None or vent is None:
        return first or vent
    return AskedFirst(
        asks=f"{first.asks} {vent.asks}",
        why=f"{first.why}. As to the steam: {vent.why}",
        yes=f"{first.yes}: it was vented",
    )


def _of_the_load(
    state: RunState, run: LoadRun, at: datetime, beside: Mapping[str, RunState]
) -> AskedFirst | None:
    """Ask whether it is this load, and whether its jars may be processed still."""
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
    if (found := _held_by_another(run, at, beside)) is not None:
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


def _of_the_vent(run: LoadRun, at: datetime) -> AskedFirst | None:
    """Ask whether steam has streamed, where no vent clock has run out by then."""
    load, rules = run.load, rules_for(run.load)
    if load.method == BOILING_WATER or run.boiling_since is not None:
        return None
    if run.vented_at is not None and run.vented_at <= at:
        return None
    asks = f"Has steam streamed from {load.canner} for {VENT_MIN} min?"
    if run.vented_at is not None:
        ends = run.vented_at.astimezone(at.tzinfo)
        known = f"the vent clock of {load.name} runs until {ends:%-H:%M:%S}"
    elif run.times_lost:
        asks = (
            f"Was there pressure left in {load.canner} all the time, or has steam "
            f"streamed from it for {VENT_MIN} min again?"
        )
        known = f"no vent clock of {load.name} has run since its pressure was lost"
    else:
        known = f"no vent clock of {load.name} has run"
    return AskedFirst(
        asks=asks,
        why=f"{known}; air that is left inside keeps a canner cooler than its gauge "
        f"says ({rules.vents})",
        yes=f"Yes: start the clock of {load.name}",
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
