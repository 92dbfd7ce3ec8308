"""Days so tiny that every plan of them can be tried; every figure in them is drawn."""

from __future__ import annotations

import random
from dataclasses import replace

from planning.small_days import HALF_PINT, day, person, step
from planning.small_days import canner as a_canner

from stillroom.methods.step import Link
from stillroom.planning.problem import Batch, Break, Burner, ComeUp, Pot, Problem

HORIZON_MIN = 16
QUICK = replace(HALF_PINT, minutes=1)
"""A process of a minute: no such thing, but every plan can be tried."""


def tiny_day(seed: int) -> Problem:
    """Two batches of two steps in a small kitchen; every figure is drawn."""
    drawn = random.Random(seed)
    batches = []
    for name in "ab":
        steps = tuple(
            step(
                f"s{n}",
                drawn.randint(1, 4),
                drawn.choice([0, 1, 2, 3, 3, 4]),
                burner_w=drawn.choice([0.0, 0.0, 1000.0]),
                in_pot=drawn.random() < 0.6,
                same_hands=drawn.choice(["", "pan"]),
            )
            for n in range(2)
        )
        least = drawn.choice([0, 0, 2])
        most = drawn.choice([None, least, least + 1])
        link = Link(before="s0", after="s1", at_least_min=least, at_most_min=most)
        batches.append(
            Batch(
                id=name,
                product=name,
                jars=0,
                process=None,
                pots=drawn.choice([(), ("big",), ("big", "small")]),
                ready_after="",
                closed_wait_at_most_min=0,
                steps=steps,
                links=(link,) if drawn.random() < 0.8 else (),
            )
        )
    people = [person("p1", leaves_min=HORIZON_MIN)]
    if drawn.random() < 0.4:
        people.append(person("p2", arrives_min=drawn.randint(0, 4)))
    if drawn.random() < 0.4:
        rest = Break(duration_min=2, earliest_min=1, latest_start_min=3)
        people[0] = replace(people[0], breaks=(rest,))
    return day(
        *batches,
        people=tuple(people),
        canners=(),
        burners=(Burner(id="only", power_w=1000.0),),
        pots=(Pot(id="big-1", size="big"), Pot(id="small-1", size="small")),
        horizon_min=HORIZON_MIN,
    )


def with_burners_taken(problem: Problem, seed: int) -> Problem:
    """The same day with each burner taken for some minutes; they are drawn."""
    drawn = random.Random(2000 + seed)

    def span() -> tuple[int, int]:
        start = drawn.randint(0, problem.horizon_min // 2)
        return start, start + drawn.randint(1, 5)

    burners = tuple(
        replace(b, taken=tuple(span() for _ in range(drawn.randint(1, 2))))
        for b in problem.burners
    )
    return replace(problem, burners=burners)


def canner_day(seed: int) -> Problem:
    """Two batches of one step, and a canner that may be full or cold."""
    drawn = random.Random(1000 + seed)
    batches = tuple(
        Batch(
            id=name,
            product=name,
            jars=2,
            process=QUICK.id,
            pots=(),
            ready_after="s",
            closed_wait_at_most_min=drawn.randint(0, 5),
            steps=(step("s", drawn.randint(1, 5), drawn.choice([0, 3, 3])),),
            links=(),
        )
        for name in "ab"
    )
    one = a_canner(
        burners=("only",),
        places={"half_pint": drawn.choice([2, 3, 4])},
        first_heat_min=drawn.randint(0, 4),
        reheat_min=drawn.randint(1, 3),
        stays_hot_min=drawn.randint(0, 3),
        load_min=1,
        come_up_min=1,
        rest_min=1,
        unload_min=1,
    )
    return day(
        *batches,
        people=tuple(person(f"p{n}") for n in range(drawn.choice([1, 1, 1, 2]))),
        canners=(one,),
        burners=(Burner(id="only", power_w=1000.0),),
        pots=(),
        processes=(QUICK,),
        horizon_min=26,
    )


def raw_day(seed: int) -> Problem:
    """The same, its jars packed raw: they come up in minutes of their own."""
    problem = canner_day(seed)
    raw = {QUICK.id: ComeUp(minutes=random.Random(2000 + seed).randint(0, 4))}
    return replace(
        problem, canners=tuple(replace(c, come_up_of=raw) for c in problem.canners)
    )
