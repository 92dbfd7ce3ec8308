"""
Days drawn by a seed: up to 240 jars, one to four people, one to three canners.

Batches are those of the made-up days, their minutes up to a quarter shorter or longer;
people, burners, pots and wants are drawn too. A name says it all: ``j80p2c1-7`` is the
day of 80 jars, 2 people, 1 canner that seed 7 draws. Everything in them is invented.
"""

from __future__ import annotations

import random
import re
from dataclasses import replace
from functools import cache

from made_up_days import day_names, made_up_day

from stillroom.methods.step import Spread, Step
from stillroom.planning.problem import (
    Batch,
    Break,
    Burner,
    Canner,
    Counter,
    Person,
    Pot,
    Problem,
    Want,
)

NAME = re.compile(r"j(\d+)p(\d)c(\d)-(\d+)")
MOST_JARS, MOST_PEOPLE, MOST_CANNERS = 240, 4, 3
DAY_MIN, LONG_DAY_MIN = 960, 1440
JARS_A_PERSON = 40
"""And twenty more are the most that are drawn."""
MANY_JARS = 160
"""More than so many are put up in a long day, round the clock."""
SLOWEST, QUICKEST = 1.25, 0.8
HELPS = frozenset({"cold", "knife", "lift"})
COOKS = HELPS | {"pan"}
STRONG = ("front-right", "front-left", "outdoors")
"""Burners that canners stand on, in this order."""


def drawn_name(seed: int, *, people: int | None = None, jars: int | None = None) -> str:
    """Name of a day of the size that a seed draws, or of so many people and jars."""
    drawn = random.Random(f"size {seed}")
    few = 1 if jars is None else -(-(jars - 20) // JARS_A_PERSON)
    many = people or drawn.randint(max(1, few), MOST_PEOPLE)
    drawn_jars = drawn.randrange(20, 20 + JARS_A_PERSON * many, 10) + 10
    jars = jars or drawn_jars
    canners = drawn.randint(1, 1 if many == 1 else min(MOST_CANNERS, many))
    return f"j{jars}p{many}c{canners}-{seed}"


def drawn_day(name: str) -> Problem:
    """
    Day of a name.

    Raises
    ------
    KeyError
        If the name is none, or asks for more than is drawn.
    """
    said = NAME.fullmatch(name)
    if said is None:
        raise KeyError(f"{name}: say j<jars>p<people>c<canners>-<seed>, j80p2c1-7")
    jars, people, canners, _ = map(int, said.groups())
    if not (
        1 <= jars <= MOST_JARS
        and 1 <= people <= MOST_PEOPLE
        and 1 <= canners <= MOST_CANNERS
    ):
        raise KeyError(
            f"{name}: up to {MOST_JARS} jars, {MOST_PEOPLE} people, "
            f"{MOST_CANNERS} canners are drawn"
        )
    drawn = random.Random(name)
    batches = _batches(drawn, jars)
    base = made_up_day("d6")
    horizon = DAY_MIN if jars <= MANY_JARS else LONG_DAY_MIN
    return replace(
        base,
        people=tuple(_person(drawn, n, horizon) for n in range(people)),
        burners=_burners(people, canners),
        pots=_pots(drawn, jars),
        canners=tuple(_canner(base.canners[0], n) for n in range(canners)),
        counter=Counter(places=jars + 16, cooling_min=1440),
        batches=batches,
        wants=_wants(drawn, batches),
        horizon_min=horizon,
    )


@cache
def _kinds() -> tuple[Batch, ...]:
    """One batch of each product of the made-up days."""
    found: dict[str, Batch] = {}
    for name in day_names():
        for batch in made_up_day(name).batches:
            found.setdefault(batch.product, batch)
    return tuple(found[product] for product in sorted(found))


def _batches(drawn: random.Random, jars: int) -> tuple[Batch, ...]:
    kinds = drawn.sample(_kinds(), min(len(_kinds()), drawn.randint(2, 5)))
    kinds = [_at_her_pace(drawn, kind) for kind in kinds]
    made: list[Batch] = []
    left = jars
    while left > 0:
        kind = drawn.choice(kinds)
        count = min(left, drawn.choice([7, 8, 8, 8, 9]))
        if 0 < left - count < 4:  # no batch of a jar or two
            count = min(9, left)
        number = 1 + sum(b.product == kind.product for b in made)
        made.append(replace(kind, id=f"{kind.product}-{number}", jars=count))
        left -= count
    order = [kind.product for kind in kinds]
    return tuple(sorted(made, key=lambda b: order.index(b.product)))


def _at_her_pace(drawn: random.Random, batch: Batch) -> Batch:
    """Return a batch whose steps are as much slower or quicker, as one draws it."""
    return replace(batch, steps=tuple(_paced(drawn, s) for s in batch.steps))


def _paced(drawn: random.Random, step: Step) -> Step:
    pace = drawn.uniform(QUICKEST, SLOWEST)
    minutes = max(1, round(pace * step.duration_min))
    spread = step.spread
    if spread is not None:
        spread = Spread(
            min(minutes, max(1, round(pace * spread.low))),
            minutes,
            max(minutes, round(pace * spread.high)),
        )
    return replace(step, duration_min=minutes, spread=spread)


def _person(drawn: random.Random, number: int, horizon: int) -> Person:
    if number == 0:
        rest = Break(duration_min=30, earliest_min=270, latest_start_min=390)
        return Person(
            id="keeper",
            skills=COOKS,
            arrives_min=0,
            leaves_min=horizon,
            breaks=(rest,),
        )
    comes = drawn.choice([0, 30, 60, 90, 120])
    rest = Break(duration_min=30, earliest_min=270, latest_start_min=450)
    return Person(
        id=f"helper-{number}",
        skills=COOKS if drawn.random() < 0.4 else HELPS,
        arrives_min=comes,
        leaves_min=min(horizon, drawn.choice([660, 720, 780, 960]) + horizon - DAY_MIN),
        breaks=(rest,),
    )


def _burners(people: int, canners: int) -> tuple[Burner, ...]:
    """Five on the stove; a sixth where three cook, one outdoors for a third canner."""
    burners = [
        Burner(id="back-left", power_w=1000.0),
        Burner(id="back-right", power_w=2000.0),
        Burner(id="front-left", power_w=3000.0),
        Burner(id="front-right", power_w=3000.0),
        Burner(id="middle", power_w=2000.0),
    ]
    if people >= 3:
        burners.append(Burner(id="beside the stove", power_w=2000.0))
    if canners >= 3:
        burners.append(Burner(id="outdoors", power_w=3000.0))
    return tuple(burners)


def _pots(drawn: random.Random, jars: int) -> tuple[Pot, ...]:
    big = 2 if jars <= 100 else drawn.randint(2, 4)
    return (
        *(Pot(id=f"big-{n + 1}", size="big") for n in range(big)),
        Pot(id="small-1", size="small"),
        Pot(id="small-2", size="small"),
    )


def _canner(like: Canner, number: int) -> Canner:
    return replace(like, id=f"canner-{number + 1}", burners=(STRONG[number],))


def _wants(drawn: random.Random, batches: tuple[Batch, ...]) -> tuple[Want, ...]:
    made = sorted({b.product for b in batches})
    wanted = drawn.sample(made, min(len(made), drawn.randint(0, 2)))
    return tuple(
        Want(
            product=product,
            by_min=drawn.randrange(360, 720, 30),
            weight=drawn.choice([1, 2]),
        )
        for product in wanted
    )
