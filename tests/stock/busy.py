"""A farm on which anything happens, all of it by the real rules, from one seed."""

import datetime as dt
import random

from stillroom.stock.amounts import Unit
from stillroom.stock.commands import (
    Hold,
    Label,
    MakeFromRun,
    Making,
    Need,
    Process,
)
from stillroom.stock.events import Batch, Doubt, Hand, Kind, Way
from tests.stock.kitchen import MORNING, Farm, thing

THINGS = ("plums", "pears", "sugar", "apple juice")
PLACES = ("cellar", "pantry", "freezer 2", "stand")
RUNS = ("run/2026-11-25", "run/2026-11-26")
"""Of the first day and of the next."""
LOADS = (None, 1, 2)


def busy(seed: int, commands: int) -> Farm:
    """Return a farm after so many commands, some of which were refused."""
    chance, farm = random.Random(seed), Farm()
    for _ in range(commands):
        lots = list(farm.stock.lots)
        _something(farm, lots, chance)
        farm.later(chance.choice((0, 0, 1, 14)))
    return farm


def _something(farm: Farm, lots: list[str], chance: random.Random) -> None:
    lot = chance.choice(lots) if lots else ""
    place, deed = chance.choice(PLACES), chance.random()
    if deed < 0.18 or len(lots) < 3:
        sort = chance.choice(THINGS)
        farm.add(f"{chance.randint(5, 40)} half-pints {sort}, {place}")
    elif deed < 0.36:
        inputs = [(code, "1") for code in chance.sample(lots, chance.randint(1, 3))]
        load = chance.choice(LOADS)
        farm.made(f"6 half-pints plum jelly, {place}", *inputs, load=load)
    elif deed < 0.42:
        farm.do(_from_run(farm, place, chance))
    elif deed < 0.6:
        way = chance.choice(list(Way))
        farm.take(lot, str(chance.randint(1, 3)), way, to="Bram")
    elif deed < 0.7:
        farm.move(lot, place)
    elif deed < 0.76:
        farm.count(lot, str(chance.randint(0, 9)))
    elif deed < 0.84:
        good = farm.stock.balance(lot)
        farm.check(lot, max(0, good - 1), 1 if good else 0)
    elif deed < 0.88:
        farm.do(_hold(farm, lot, chance))
    elif deed < 0.9:
        hand = chance.choice(list(Hand))
        farm.do(Label(lot=lot, hand=hand, at=farm.at))
    elif deed < 0.92:
        began = farm.at - dt.timedelta(minutes=30)
        ended = began + dt.timedelta(minutes=12)
        farm.do(Process(lot=lot, began=began, ended=ended, who="Jory", at=farm.at))
    elif deed < 0.94:
        farm.recall(lot)
    elif farm.stock.sequence:
        farm.mend(chance.randint(1, farm.stock.sequence))


def _hold(farm: Farm, lot: str, chance: random.Random) -> Hold:
    doubt = chance.choice(list(Doubt))
    if chance.random() < 0.5:
        return Hold(doubt=doubt, lot=lot, at=farm.at)
    return Hold(doubt=doubt, day=farm.at.date(), load=chance.randint(1, 2), at=farm.at)


def _from_run(farm: Farm, place: str, chance: random.Random) -> MakeFromRun:
    batch, load = chance.choice(("plums 1", "plums 2")), chance.choice(("a", "b"))
    which = chance.randrange(2)
    run, on = RUNS[which], MORNING.date() + dt.timedelta(days=which)
    making = Making(
        thing=thing(
            f"6 half-pints plum jelly, {place}", as_jars=True, kind=Kind.FILLED
        ),
        batch=Batch(
            food="jelly",
            canned=True,
            process_min=10,
            due_min=10,
            due_source="invented",
            load=1 + "ab".index(load),
            run=run,
            run_batch=batch,
            run_load=load,
        ),
        needs=(Need(name="sugar", unit=Unit.PIECES, number=2),),
    )
    return MakeFromRun(on=on, makings=(making,), at=farm.at)
