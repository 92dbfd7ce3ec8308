"""Pans and stirrings for tests of the bound; every figure in them is made up."""

from __future__ import annotations

from dataclasses import replace

from planning.small_days import jelly, step

from stillroom.methods.step import Link, Skill
from stillroom.planning.bounding.bounds import Bound
from stillroom.planning.bounding.together import FINE, bound_together
from stillroom.planning.problem import Batch, Problem

NOTHING = Bound(0, "nothing is known")


def bound_min(problem: Problem, finest: int = FINE) -> int:
    return bound_together(problem, NOTHING, finest=finest).minute


def pan_batch(name: str = "a", **changes: object) -> Batch:
    """Watched for ten minutes, then ten that take all of the same hands."""
    fire = {"skill": Skill.PAN, "burner_w": 2000.0, "in_pot": True}
    given_: dict[str, object] = {
        "steps": (
            step("watch", 10, 2, **fire, same_hands="pan"),
            step("boil", 10, 4, **fire, same_hands="pan"),
        ),
        "links": (Link(before="watch", after="boil", at_most_min=0),),
        "process": None,
        "ready_after": "",
        "pots": (),
    }
    return jelly(name, **{**given_, **changes})


def stirring(name: str, minutes: int) -> Batch:
    fire = {"skill": Skill.PAN, "burner_w": 2000.0}
    return pan_batch(name, steps=(step("stir", minutes, 2, **fire),), links=())


def watched(minutes: int) -> Batch:
    watch, boil = pan_batch().steps
    return pan_batch("pan", steps=(replace(watch, duration_min=minutes), boil))
