"""
Days of packs drawn by a seed: fruit, sauce, juice and vegetables by the jar.

The made-up days are of jellies and butters, whose batches are tested and have one size.
Here half of what is wanted at least may be divided into pots as one likes. Kitchens,
people and amounts are invented; recipes, processes and minutes are the book's.
"""

from __future__ import annotations

import datetime as dt
import random

from stillroom.methods.kitchen import Burner, Canner, CannerKind, Heat, Kitchen, Pot
from stillroom.methods.step import Skill
from stillroom.planning.day import Day, Helper, Lot, Rest, Want

CUP_M3 = 2.365882365e-4
QUART_M3 = 4 * CUP_M3
PACKS = (
    ("pears", "pears"),
    ("peaches", "peaches"),
    ("applesauce", "apples"),
    ("crushed tomatoes", "tomatoes"),
    ("tomato juice", "tomatoes"),
    ("apple juice", "apple juice"),
    ("plums packed hot", "plums"),
    ("peaches packed raw", "peaches"),
    ("green beans", "green beans"),
    ("carrots", "carrots"),
)
"""What is wanted, and what it is made of."""
JELLIES = (
    ("plum jelly", "plum juice", 5.0, 7),
    ("grape jelly", "grape juice", 5.0, 8),
    ("sour cherry jelly", "sour cherry juice", 3.5, 6),
)
ALL, COLD = frozenset(Skill), frozenset({Skill.COLD, Skill.KNIFE})


def pack_day(seed: int) -> Day:
    """Day of a seed: one to three people, one to three canners, 15 to 70 jars."""
    drawn = random.Random(f"packs {seed}")
    people = drawn.choice([1, 2, 2, 3])
    goods = drawn.sample(PACKS, drawn.choice([1, 2, 2, 3]))
    lots: list[Lot] = []
    wants: list[Want] = []
    for product, what in goods:
        jar = drawn.choice(["quart", "quart", "pint"])
        jars = drawn.randint(7, 9 + 6 * people)
        by = dt.time(14, 30) if drawn.random() < 0.2 else None
        wants.append(Want(product=product, jars=jars, jar=jar, by=by))
        lots.append(_plenty(what, len(lots)))
    for product, juice, cups, each in drawn.sample(JELLIES, drawn.choice([0, 1, 1])):
        number = drawn.choice([1, 2])
        wants.append(Want(product=product, jars=each * number, jar="half-pint"))
        volume = number * cups * CUP_M3
        lots.append(Lot(name=f"{juice} pressed", what=juice, volume_m3=volume))
    return Day(
        name=f"packs {seed}",
        date=dt.date(2026, 9, 5),
        starts=dt.time(7),
        ends=dt.time(23, 30),
        kitchen=_kitchen(drawn, people),
        people=tuple(_person(drawn, n) for n in range(people)),
        shelf=(*lots, *_stores()),
        wants=tuple(wants),
        invented=True,
    )


def _plenty(what: str, number: int) -> Lot:
    name = f"{what}, lot {number + 1}"
    if "juice" in what:
        return Lot(name=name, what=what, volume_m3=60 * QUART_M3)
    return Lot(name=name, what=what, mass_kg=120.0)


def _stores() -> tuple[Lot, ...]:
    jars = ("half-pint jars", "pint jars", "quart jars", "lids")
    return (
        Lot(name="sugar", what="sugar", mass_kg=30.0),
        Lot(name="pectin", what="regular powdered pectin", count=12),
        Lot(name="lemon juice", what="bottled lemon juice", volume_m3=8 * CUP_M3),
        *(Lot(name=jar, what=jar, count=200) for jar in jars),
    )


def _person(drawn: random.Random, number: int) -> Helper:
    rest = Rest(minutes=30, earliest=dt.time(11, 30), latest=dt.time(13, 30))
    if number == 0:
        return Helper(
            name="Tilda",
            comes=dt.time(7),
            goes=dt.time(23, 30),
            can=ALL,
            breaks=(rest,),
        )
    return Helper(
        name=("Corwin", "Pip")[number - 1],
        comes=dt.time(drawn.choice([7, 8, 9])),
        goes=dt.time(drawn.choice([16, 18, 20])),
        can=ALL if drawn.random() < 0.6 else COLD,
        breaks=(rest,),
    )


def _kitchen(drawn: random.Random, people: int) -> Kitchen:
    watts = [3500.0, 3000.0, 3000.0, 2500.0, 1800.0]
    burners = tuple(
        Burner(name=f"fire {n + 1}", power_w=w) for n, w in enumerate(watts)
    )
    sizes = drawn.choice([(12, 8), (12, 12), (16, 12), (12, 12, 8), (20, 8)])
    pots = tuple(
        Pot(name=f"pot {n + 1}, {size} qt", volume_m3=size * QUART_M3)
        for n, size in enumerate(sizes)
    )
    canners = [_canner("canner", CannerKind.BOILING_WATER, "fire 2", 7, 9)]
    if drawn.random() < 0.5:
        canners.append(_canner("second", CannerKind.BOILING_WATER, "fire 3", 7, 9))
    canners.append(
        _canner(
            "pressure canner", CannerKind.DIAL_GAUGE, "fire 4", 7, 9 + 7 * (people > 1)
        )
    )
    return Kitchen(
        name="a made-up kitchen",
        elevation_m=200.0,
        pressure_pa=None,
        heat=Heat.GAS,
        burners=burners,
        pots=pots,
        canners=tuple(canners),
        mills=1,
        counter_places=120,
    )


def _canner(name: str, kind: CannerKind, fire: str, quarts: int, pints: int) -> Canner:
    places = {"pint": pints, "quart": quarts}
    if kind is CannerKind.BOILING_WATER:
        places["half-pint"] = pints
    return Canner(name=name, kind=kind, stands_on=(fire,), places=places)
