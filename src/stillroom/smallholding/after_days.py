"""Lots booked in the evening, looked at the day after; then eaten, sold, counted."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace

from stillroom.running.handle import state_of
from stillroom.running.lots_made import LotMade, lots_made
from stillroom.smallholding.calendar import (
    BUYERS,
    GIVEN_TO,
    RECALLED,
    RECALLED_WHY,
    SPOILED,
    SPOILED_WHY,
    Cooking,
    Odd,
)
from stillroom.smallholding.farm import FRIDGE, NOTE, PANTRY, STAND, ZONE, Farm
from stillroom.stock.amounts import Unit
from stillroom.stock.commands import (
    Check,
    Count,
    Label,
    MakeFromRun,
    Making,
    Move,
    Recall,
    Take,
)
from stillroom.stock.events import SET_ASIDE, Hand, Made, Seen, Way
from stillroom.stock.lacks import process_given_min
from stillroom.stock.making import SETS
from stillroom.stock.tracing import made_of_it

YIELD, YIELD_SPREAD = 0.96, 0.05
"""Times the plan's jars, and its spread. Invented."""
UNSEALED = 0.05
"""Share of jars that do not seal. Invented."""
EATEN_A_DAY = 0.3
MISSED = 0.06
"""Share of counted lots of which a jar was taken and not written down. Invented."""


def book_lots(farm: Farm, run: str, day: dt.date) -> tuple[str, ...]:
    """Book what a run made, with the jars as they were counted on the table."""
    farm.at(day, 20, 15)
    with farm.kept.reading() as stock:
        made = lots_made(state_of(run, ledger=farm.ledger), run, stock, ZONE)
    counted = _as_counted(farm, made)
    command = MakeFromRun(on=day, makings=counted, at=farm.now)
    _, events = farm.ask(command)
    return tuple(event.lot.code for event in events if isinstance(event, Made))


def _as_counted(farm: Farm, made: tuple[LotMade, ...]) -> tuple[Making, ...]:
    """The jars of each batch as they came out; the last of its loads is short."""
    lasts = {lot.batch: index for index, lot in enumerate(made)}
    planned: dict[str, int] = {}
    for lot in made:
        planned[lot.batch] = planned.get(lot.batch, 0) + lot.making.thing.number
    makings: list[Making] = []
    for index, lot in enumerate(made):
        thing = replace(lot.making.thing, note=NOTE)
        if lasts[lot.batch] == index:
            factor = farm.random.gauss(YIELD, YIELD_SPREAD)
            short = planned[lot.batch] - round(planned[lot.batch] * factor)
            # no more were in the canner than were lifted out of it
            thing = replace(thing, number=max(1, thing.number - max(0, short)))
        makings.append(replace(lot.making, thing=thing))
    return tuple(makings)


def look_at(farm: Farm, codes: tuple[str, ...], cooking: Cooking) -> None:
    """
    The next morning, within 24 h: the seals; labels where nothing is open.

    What sets is looked at in the evening, a day after the last of it came out.
    """
    farm.at(cooking.day + dt.timedelta(days=1), 8)
    for code in codes:
        with farm.kept.reading() as stock:
            made = stock.made(code)
            given = process_given_min(stock, code)
            (place, number), *_ = stock.places(code).items()
        assert made is not None
        if not given:
            farm.ask(Move(lot=code, quantity="", to=FRIDGE, at=farm.now))
            continue
        failed = sum(farm.random.random() < UNSEALED for _ in range(number))
        farm.ask(
            Check(
                lot=code,
                good=number - failed,
                failed=failed,
                place=place,
                note=NOTE,
                at=farm.now,
            )
        )
        if failed:
            farm.ask(
                Move(
                    lot=code,
                    quantity=f"{failed}",
                    to=FRIDGE,
                    place=SET_ASIDE,
                    at=farm.now,
                )
            )
        if made.batch.food not in SETS:
            farm.ask(Label(lot=code, hand=Hand.WRITTEN, at=farm.now))


def look_at_sets(farm: Farm, codes: tuple[str, ...], cooking: Cooking) -> None:
    """The evening of the next day: what sets has set, or is soft; then its label."""
    farm.at(cooking.day + dt.timedelta(days=1), 20, 30)
    for code in codes:
        with farm.kept.reading() as stock:
            made, given = stock.made(code), process_given_min(stock, code)
        assert made is not None
        if not given or made.batch.food not in SETS:
            continue
        soft = cooking.odd is Odd.SOFT and code == codes[0]
        seen = Seen.SOFT if soft else Seen.SET
        farm.ask(Check(lot=code, seen=seen, note=NOTE, at=farm.now))
        farm.ask(Label(lot=code, hand=Hand.WRITTEN, at=farm.now))


def eat(farm: Farm, day: dt.date) -> None:
    """A jar at breakfast on some days: what stands in the cold first."""
    if farm.random.random() > EATEN_A_DAY:
        return
    farm.at(day, 7, 40)
    with farm.kept.reading() as stock:
        cold = [
            code
            for code, lot in stock.lots.items()
            if lot.kind.value == "jars filled"
            and stock.places(code).get(FRIDGE)
            and stock.recall(code) is None
        ]
    if cold:
        farm.ask(_take(farm, cold[0], 1, Way.EATEN, FRIDGE))
    elif shelf := farm.sound_lots(PANTRY):
        code, _ = farm.random.choice(shelf)
        farm.ask(_take(farm, code, 1, Way.EATEN, PANTRY))


def stand_day(farm: Farm, day: dt.date) -> None:
    """A Saturday: some jars are carried to the stand, and some are sold there."""
    farm.at(day, 8, 30)
    shelf = farm.sound_lots(PANTRY)
    for code, number in farm.random.sample(shelf, min(3, len(shelf))):
        carried = min(number, farm.random.randint(1, 3))
        farm.ask(
            Move(lot=code, quantity=f"{carried}", to=STAND, place=PANTRY, at=farm.now)
        )
    farm.at(day, 15)
    for code, number in farm.sound_lots(STAND):
        sold = min(number, farm.random.randint(0, 2))
        if sold:
            to = farm.random.choice(BUYERS)
            farm.ask(_take(farm, code, sold, Way.SOLD, STAND, to=to))


def give(farm: Farm, day: dt.date) -> None:
    """Gifts before the holidays."""
    farm.at(day, 16)
    for to in GIVEN_TO:
        shelf = farm.sound_lots(PANTRY)
        if shelf:
            code, _ = farm.random.choice(shelf)
            farm.ask(_take(farm, code, 1, Way.GIVEN, PANTRY, to=to))


def count(farm: Farm, day: dt.date) -> None:
    """On the first of a month: some of the pantry, and what is left of the sugar."""
    farm.at(day, 18)
    for code, number in farm.sound_lots(PANTRY)[:6]:
        there = number - (farm.random.random() < MISSED)
        why = "" if there == number else "eaten, and not written down"
        farm.ask(
            Count(lot=code, quantity=f"{there}", place=PANTRY, why=why, at=farm.now)
        )


def recall(farm: Farm, day: dt.date) -> None:
    """A supplier calls something back: all that was made of it is thrown away."""
    farm.at(day, 11)
    with farm.kept.reading() as stock:
        code = next(c for c, lot in stock.lots.items() if lot.what == RECALLED)
    farm.ask(Recall(lot=code, why=RECALLED_WHY, at=farm.now))
    with farm.kept.reading() as stock:
        left = [
            (each, place, number)
            for each in (code, *made_of_it(stock, code))
            for place, number in stock.places(each).items()
        ]
        units = {each: stock.lots[each].measure.unit for each, _, _ in left}
    for each, place, number in left:
        _throw_away(farm, each, place, number, units[each], RECALLED_WHY)


def throw_away_spoiled(farm: Farm, day: dt.date) -> None:
    """What was not used in time."""
    farm.at(day, 9)
    with farm.kept.reading() as stock:
        left = [
            (code, place, number, lot.measure.unit)
            for code, lot in stock.lots.items()
            if lot.what == SPOILED
            for place, number in stock.places(code).items()
        ]
    for code, place, number, unit in left:
        _throw_away(farm, code, place, number, unit, SPOILED_WHY)


_TO_THE_LAST_BIT = {Unit.UL: (1000, "ml"), Unit.MG: (1000, "g"), Unit.PIECES: (1, "")}


def _throw_away(
    farm: Farm, code: str, place: str, number: int, unit: Unit, why: str
) -> None:
    per, word = _TO_THE_LAST_BIT[unit]
    quantity = f"{number / per:.3f} {word}" if per > 1 else f"{number}"
    farm.ask(
        Take(
            lot=code,
            quantity=quantity,
            way=Way.SPOILED,
            place=place,
            why=why,
            at=farm.now,
        )
    )


def _take(
    farm: Farm, code: str, number: int, way: Way, place: str, *, to: str = ""
) -> Take:
    return Take(
        lot=code, quantity=f"{number}", way=way, place=place, to=to, at=farm.now
    )
