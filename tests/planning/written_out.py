"""Timetables written out by hand, for the judge: nothing of the planner is asked."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from planning.judged_again import replan_said
from planning.small_days import step as a_step

from stillroom.methods.step import Step
from stillroom.planning.happened import Happened
from stillroom.planning.judge.check import violations
from stillroom.planning.problem import (
    Batch,
    Problem,
)
from stillroom.planning.timetable import (
    PlacedBreak,
    PlacedLoad,
    PlacedStep,
    Timetable,
)


def batch(name: str, *steps: Step, **changes: object) -> Batch:
    """Steps without a link, a pot, a jar."""
    given: dict[str, object] = {
        "id": name,
        "product": name,
        "jars": 0,
        "process": None,
        "pots": (),
        "ready_after": "",
        "closed_wait_at_most_min": 20,
        "steps": steps,
        "links": (),
    }
    return Batch(**{**given, **changes})


def at(
    batch: str, step: str, start: int, end: int, who: str | None = None, **more: object
) -> PlacedStep:
    """A step that somebody labours at, or one without hands."""
    given: dict[str, object] = {"quarters": 0 if who is None else 3}
    return PlacedStep(
        batch=batch,
        step=step,
        start_min=start,
        end_min=end,
        person=who,
        **{**given, **more},  # type: ignore[arg-type]
    )


def load(lower: int = 30, **changes: object) -> PlacedLoad:
    """
    A load of the small canner as it should be: ten minutes' process, cold water.

    30 of heating, 4 of lowering, 12 to the boil, 10, a rest of 5, 4 of lifting: 35 from
    the first jar down to the last one out. Five half-pints of batch "a".
    """
    done = lower + 4 + 12 + 10
    given: dict[str, object] = {
        "id": "L1",
        "canner": "canner",
        "process": "half-pint-10",
        "process_min": 10,
        "jars": (("a", 5),),
        "hot": False,
        "heat_min": lower - 30,
        "lower_min": lower,
        "lowered_min": lower + 4,
        "boil_min": lower + 16,
        "done_min": done,
        "lift_min": done + 5,
        "out_min": done + 9,
        "fire_free_min": done,
        "lowered_by": "p1",
        "lifted_by": "p1",
    }
    return PlacedLoad(**{**given, **changes})  # type: ignore[arg-type]


def said(
    problem: Problem,
    steps: Sequence[PlacedStep] = (),
    loads: Sequence[PlacedLoad] = (),
    breaks: Sequence[PlacedBreak] = (),
) -> tuple[str, ...]:
    """What the judge says."""
    plan = Timetable(steps=tuple(steps), loads=tuple(loads), breaks=tuple(breaks))
    return violations(problem, plan)


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """Steps, loads and rests: what has begun, or what is to come."""

    steps: Sequence[PlacedStep] = ()
    loads: Sequence[PlacedLoad] = ()
    breaks: Sequence[PlacedBreak] = ()


NOTHING = Part()


def said_again(
    problem: Problem,
    now: int,
    begun: Part = NOTHING,
    later: Part = NOTHING,
    **given: object,
) -> tuple[str, ...]:
    """What the judge says of a day planned again: the past as it was, and the rest."""
    happened = Happened(
        now_min=now,
        steps=tuple(begun.steps),
        loads=tuple(begun.loads),
        breaks=tuple(begun.breaks),
    )
    new = Timetable(
        steps=(*begun.steps, *later.steps),
        loads=(*begun.loads, *later.loads),
        breaks=(*begun.breaks, *later.breaks),
    )
    return replan_said(problem, happened, new, **given)  # type: ignore[arg-type]


def labour(minutes: int = 10, quarters: int = 3, **more: object) -> Step:
    return a_step("do", minutes, quarters, **more)


def fire(name: str, watts: float, minutes: int = 10, **more: object) -> Batch:
    return batch(name, a_step("burn", minutes, 0, burner_w=watts, **more))


def closed(name: str = "a", jars: int = 5, **changes: object) -> Batch:
    """Jars of ten minutes' process that are closed after a step without hands."""
    given: dict[str, object] = {"jars": jars, "process": "half-pint-10"}
    return batch(name, a_step("lid", 5, 0), **{**given, **changes})


LID = at("a", "lid", 25, 30)
