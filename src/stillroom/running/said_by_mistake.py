"""
A step that was said begun or done by mistake: what may be taken back, and how. Pure.

Wet hands tap the wrong card. What has been built on a tap since holds it: a later step
of the batch, a clock of its jars, or a plan of the rest. What was said of a load is
taken back by `load_said_by_mistake`.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime, timedelta

from stillroom.planning.begun.warming import HEAT
from stillroom.planning.dayplan import DayPlan
from stillroom.planning.rinses import as_worked
from stillroom.refusal import Refusal
from stillroom.running.commands import TakeStepBack
from stillroom.running.events import StepTakenBack
from stillroom.running.fold import RunState
from stillroom.running.hands import gone_by
from stillroom.running.rules import OUR_RECORD
from stillroom.running.stood import stood_too_long

SHOWN_FOR = timedelta(minutes=15)
"""So long after a tap its key is on the board. Our own figure."""
MOST_SHOWN = 3


@dataclass(frozen=True, slots=True, kw_only=True)
class Said:
    """What was last said of a step of a batch."""

    batch: str
    step: str
    was: str
    """``begun`` or ``done``."""
    at: datetime
    verb: str = ""
    """As the plan says it."""


def may_be_taken_back(
    plan: DayPlan | None, state: RunState, at: datetime
) -> tuple[Said, ...]:
    """
    Return what was said in the last minutes and nothing stands on, newest first.

    Of jars that stand closed for too long it is shown as long as they do: that they are
    closed may have been said too early, and then they are good.
    """
    by = gone_by(plan, state)
    if by is None:
        return ()
    late = {
        stood.batch
        for run in state.loads
        if (stood := stood_too_long(state, run, at)) is not None
    }
    worked = as_worked(*by)  # a rinse is called so, as on its key
    verbs = {(b.id, s.id): s.verb for b in worked.batches for s in b.steps}
    verbs |= {
        (run.load.id, HEAT): f"Light the canner for {run.load.name}"
        for run in state.loads
    }
    lately = [
        Said(batch=said.batch, step=said.step, was=said.was, at=said.at, verb=verb)
        for said in _last_of_each_batch(state)
        if (at - said.at < SHOWN_FOR or said.batch in late)
        and (verb := verbs.get((said.batch, said.step)))
        and _stands_on_it(state, said) is None
    ]
    return tuple(sorted(lately, key=lambda said: said.at, reverse=True)[:MOST_SHOWN])


def take_step_back(
    state: RunState, command: TakeStepBack
) -> tuple[StepTakenBack, ...] | Refusal:
    """
    Return what taking it back leads to, or why it stays.

    Nothing follows where it is not said, or no longer: a second tap.
    """
    asked = (command.batch, command.step)
    said = next((s for s in _last_of_each_batch(state) if s.batch == asked[0]), None)
    known = state.steps_done if command.was == "done" else state.steps_begun
    if said is None or asked not in known:
        return ()
    if (said.step, said.was) != (command.step, command.was):
        return Refusal(
            f"a step of {command.batch} was said {said.was} since",
            instead="take that back first",
            source=OUR_RECORD,
        )
    if command.said_at not in (None, said.at):
        return Refusal(
            f"the step was said {said.was} anew since this screen was drawn",
            instead="look at the board as it is now, and take it back there",
            source=OUR_RECORD,
        )
    if (no := _stands_on_it(state, said)) is not None:
        return no
    return (
        StepTakenBack(
            batch=command.batch,
            step=command.step,
            was=command.was,
            late=command.late,
            occurred_at=command.at,
        ),
    )


def _last_of_each_batch(state: RunState) -> Iterator[Said]:
    """What a hand said last of each batch; done goes behind begun of one moment."""
    last: dict[str, Said] = {}
    for was, told in (("begun", state.begun_steps), ("done", state.done_at)):
        for batch, step, at in told:
            if batch not in last or at >= last[batch].at:
                last[batch] = Said(batch=batch, step=step, was=was, at=at)
    yield from last.values()


def _stands_on_it(state: RunState, said: Said) -> Refusal | None:
    """Return what was built on it since; `None` where nothing was."""
    if state.taken and state.taken[-1].occurred_at >= said.at:
        return Refusal(
            "the rest of the day was planned again with it",
            instead="say the step done when it is, and plan the rest again",
            source=OUR_RECORD,
        )
    for run in state.in_canners + state.lifted:
        aboard = any(batch == said.batch for batch, _ in run.load.jars)
        since = run.boiling_since or run.venting_since
        if aboard and (since is None or since >= said.at):
            return Refusal(
                f"{run.load.name}, with jars of {said.batch}, was on its clock since",
                instead="go on: the clock goes by when it was started, and not by this",
                source=OUR_RECORD,
            )
    return None
