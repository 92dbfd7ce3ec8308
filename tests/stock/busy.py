"""A farm on which anything happens, all of it by the real rules, from one seed."""

import random

from stillroom.stock.events import Way
from tests.stock.kitchen import Farm

THINGS = ("plums", "pears", "sugar", "apple juice")
PLACES = ("cellar", "pantry", "freezer 2", "stand")


def busy(seed: int, commands: int) -> Farm:
    """Return a farm after so many commands, some of which were refused."""
    chance, farm = random.Random(seed), Farm()
    for _ in range(commands):
        lots = list(farm.stock.lots)
        lot = chance.choice(lots) if lots else ""
        place = chance.choice(PLACES)
        deed = chance.random()
        if deed < 0.2 or len(lots) < 3:
            sort = chance.choice(THINGS)
            farm.add(f"{chance.randint(5, 40)} half-pints {sort}, {place}")
        elif deed < 0.45:
            inputs = [(code, "1") for code in chance.sample(lots, chance.randint(1, 3))]
            load = chance.choice((None, 1, 2))
            farm.made(f"6 half-pints plum jelly, {place}", *inputs, load=load)
        elif deed < 0.65:
            way = chance.choice(list(Way))
            farm.take(lot, str(chance.randint(1, 3)), way, to="Bram")
        elif deed < 0.75:
            farm.move(lot, place)
        elif deed < 0.8:
            farm.count(lot, str(chance.randint(0, 9)))
        elif deed < 0.9:
            good = farm.stock.balance(lot)
            farm.check(lot, max(0, good - 1), 1 if good else 0)
        elif deed < 0.93:
            farm.recall(lot)
        elif farm.stock.sequence:
            farm.mend(chance.randint(1, farm.stock.sequence))
        farm.later(chance.choice((0, 0, 1, 14)))
    return farm
