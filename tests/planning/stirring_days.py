"""Days on which slow cooking comes before each stirring; every figure is made up."""

from __future__ import annotations

from dataclasses import replace

from hypothesis import strategies as st
from planning.pan_days import pan_batch
from planning.small_days import day, person, step

from stillroom.methods.step import Link, Skill
from stillroom.planning.problem import Batch, Problem

COLD = frozenset({Skill.COLD, Skill.LIFT, Skill.KNIFE})


def cooked_and_stirred(name: str, cooked: int, stirred: int) -> Batch:
    """One quarter, then two, in the same hands; labour before and after."""
    hands = {"same_hands": "stir", "skill": Skill.COLD}
    steps = (
        step("cut", 3, 3, skill=Skill.COLD),
        step("cook", cooked, 1, **hands),
        step("stir", stirred, 2, **hands),
        step("fill", 2, 4, skill=Skill.COLD),
    )
    links = (
        Link(before="cut", after="cook"),
        Link(before="cook", after="stir", at_most_min=0),
        Link(before="stir", after="fill", at_most_min=3),
    )
    return pan_batch(name, steps=steps, links=links)


def watched_and_boiled(name: str, watched: int, boiled: int) -> Batch:
    watch, boil = pan_batch().steps
    steps = (
        replace(watch, duration_min=watched),
        replace(boil, duration_min=boiled),
        step("clean", 2, 3, skill=Skill.COLD),
    )
    links = (*pan_batch().links, Link(before="boil", after="clean"))
    return pan_batch(name, steps=steps, links=links)


@st.composite
def random_stirring_days(draw: st.DrawFn) -> Problem:
    """Stirrings after long cooking, and pans; one or two people, one with no pans."""
    stirred = draw(st.lists(st.integers(1, 6), min_size=1, max_size=4))
    watched = draw(st.lists(st.integers(1, 6), max_size=3))
    least = max([*stirred, *watched])
    batches = [
        cooked_and_stirred(f"s{n}", least + draw(st.integers(0, 4)), minutes)
        for n, minutes in enumerate(stirred)
    ]
    batches += [
        watched_and_boiled(f"w{n}", minutes, draw(st.integers(1, 4)))
        for n, minutes in enumerate(watched)
    ]
    people = [person("p0")]
    if draw(st.booleans()):
        arrives = draw(st.integers(0, 10))
        people.append(person("p1", skills=COLD, arrives_min=arrives))
    return day(*batches, people=tuple(people), canners=(), horizon_min=240)
