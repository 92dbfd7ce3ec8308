"""
A full boil, or a load lifted out, that was said by mistake: how it is taken back. Pure.

As a step is (`said_by_mistake`), by an entry of its own. A full boil that is taken back
leaves no clock: the next one that is said starts it, and none of before comes again. A
load that is taken back into its canner goes on by the clock that it had.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime

from stillroom.refusal import Refusal
from stillroom.running.commands import TakeLoadBack
from stillroom.running.events import LoadTakenBack
from stillroom.running.fold import RunState
from stillroom.running.load_run import LoadRun
from stillroom.running.rules import OUR_RECORD, rules_for
from stillroom.running.said_by_mistake import SHOWN_FOR


@dataclass(frozen=True, slots=True, kw_only=True)
class SaidOfLoad:
    """What was last said of a load."""

    load: str
    name: str
    """As it is said in the kitchen: "load 2"."""
    was: str
    """``full-boil`` or ``lifted``."""
    words: str
    """The same as its key has it: "Full boil now"."""
    at: datetime


def loads_taken_back(state: RunState, at: datetime) -> tuple[SaidOfLoad, ...]:
    """Return what was said of loads lately and nothing stands on, newest first."""
    lately = [
        said
        for run in state.loads
        for said in _last_said(run)
        if at - said.at < SHOWN_FOR and _stands_on_it(state, run, said) is None
    ]
    return tuple(sorted(lately, key=lambda said: said.at, reverse=True))


def take_load_back(
    state: RunState, run: LoadRun, command: TakeLoadBack
) -> tuple[LoadTakenBack, ...] | Refusal:
    """
    Return what taking it back leads to, or why it stays.

    Nothing follows where it is not said, or no longer: a second tap.
    """
    stands = run.lifted_at if command.was == "lifted" else run.boiling_since
    if stands is None:
        return ()
    said = next(_last_said(run))
    if said.was != command.was:
        return Refusal(
            f"{run.load.name} was said to be out of its canner since",
            instead="take that back first",
            source=OUR_RECORD,
        )
    if command.said_at not in (None, said.at):
        return Refusal(
            f"it was said anew of {run.load.name} since this screen was drawn",
            instead="look at the board as it is now, and take it back there",
            source=OUR_RECORD,
        )
    if (no := _stands_on_it(state, run, said)) is not None:
        return no
    return (
        LoadTakenBack(
            load=run.load.id,
            was=command.was,
            late=command.late,
            occurred_at=command.at,
        ),
    )


def _last_said(run: LoadRun) -> Iterator[SaidOfLoad]:
    rules = rules_for(run.load)
    for was, words, at in (
        ("lifted", "Lifted out", run.lifted_at),
        ("full-boil", rules.reached.removesuffix(" now"), run.boiling_since),
    ):
        if at is not None:
            name = run.load.name
            yield SaidOfLoad(load=run.load.id, name=name, was=was, words=words, at=at)
            return


def _stands_on_it(state: RunState, run: LoadRun, said: SaidOfLoad) -> Refusal | None:
    """Return what was built on it since; `None` where nothing was."""
    if state.taken and state.taken[-1].occurred_at >= said.at:
        lost = rules_for(run.load).lost
        return Refusal(
            f"the rest of the day was planned again with {run.load.name} as it is",
            instead=f"if it is on no clock in truth, tap that it lost its {lost}"
            if said.was == "full-boil"
            else "book its lots as they are, and say what was wrong: Something was "
            "wrong with a load",
            source=OUR_RECORD,
        )
    if said.was == "full-boil":
        return None
    for other in state.in_canners:
        if other.load.canner == run.load.canner:
            return Refusal(
                f"{other.load.canner} holds {other.load.name} since",
                instead=f"look which of the two is in it; what was said of "
                f"{other.load.name} by mistake is taken back first",
                source=OUR_RECORD,
            )
    return None
