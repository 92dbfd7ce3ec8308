"""
Whether the rest of a day that was planned again may be taken over. Pure.

It must know all that has happened, and give every jar the process it was begun with.
"""

from __future__ import annotations

from stillroom.book.canner_rules import canners_in_words
from stillroom.refusal import Refusal
from stillroom.running.commands import TakePlan
from stillroom.running.events import AnyEvent, PlanTaken, RunLoad
from stillroom.running.fold import RunState
from stillroom.running.rules import OUR_RECORD, two_of_one_name

HAPPENED_SINCE = Refusal(
    "something has happened at the stove since this plan was made",
    instead="plan again from how it stands now",
    source=OUR_RECORD,
)


def take_plan(state: RunState, command: TakePlan) -> tuple[AnyEvent, ...] | Refusal:
    """Take a new plan over, if it knows all that has happened since it was made."""
    if command.seen is not None and command.seen < state.sequence:
        return HAPPENED_SINCE
    no = two_of_one_name(command.loads, instead="plan again")
    if no is not None:
        return no
    planned = {load.id: load for load in command.loads}
    for run in (*state.on_the_fire, *state.lifted):
        again = planned.get(run.load.id)
        if again is None or not _same_load(again, run.load):
            return Refusal(
                f"the new plan does not know {run.load.name} as it is",
                instead="plan again from how it stands now; a load that has begun "
                "keeps its jars, its canner and its whole process",
                source=OUR_RECORD,
            )
    for load in command.loads:
        no = _processed_otherwise(load, state)
        if no is not None:
            return no
    return (
        PlanTaken(
            plan=command.plan,
            loads=command.loads,
            sentence=command.sentence,
            left_out=command.left_out,
            over=command.over,
            taken_in=command.taken_in,
            occurred_at=command.at,
        ),
    )


def _same_load(one: RunLoad, other: RunLoad) -> bool:
    return (one.canner, one.jars, one.process_min, one.method, one.pressure_psi) == (
        other.canner,
        other.jars,
        other.process_min,
        other.method,
        other.pressure_psi,
    )


def _processed_otherwise(load: RunLoad, state: RunState) -> Refusal | None:
    """Hold a load to what was published for its jars when the day was begun."""
    for batch, _ in load.jars:
        for known in (run.load for run in state.loads if batch in dict(run.load.jars)):
            if _process_of(load) != _process_of(known):
                return Refusal(
                    f"the new plan gives {batch} {_process_words(load)}, and by the "
                    f"plan that the day goes by it has {_process_words(known)}",
                    instead="plan again from how it stands now; a process is that "
                    "which the day was begun with, whatever its day file says since",
                    source=OUR_RECORD,
                )
    return None


def _process_of(load: RunLoad) -> tuple[int, str, float | None, str]:
    return (load.process_min, load.method, load.pressure_psi, load.jar)


def _process_words(load: RunLoad) -> str:
    at = "" if load.pressure_psi is None else f" at {load.pressure_psi:g} psi"
    canner = canners_in_words([load.method])
    return f"{load.process_min} min{at} in {load.jar} jars in {canner}"
