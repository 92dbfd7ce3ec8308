"""The whole invented year, into a record that holds nothing else."""

from __future__ import annotations

import contextlib
import datetime as dt
import os
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import msgspec

from stillroom.planning.day_file.dayfile import demo_day_text
from stillroom.records.days import DEMO, up_to_date
from stillroom.records.engine import Place, place_of, without_waiting
from stillroom.records.ledger import Entry, Ledger
from stillroom.refusal import Refusal, Refused
from stillroom.smallholding import after_days
from stillroom.smallholding.calendar import (
    COMES_IN,
    COOKING,
    FIRST,
    GIVEN_ON,
    LAST,
    RECALLED_ON,
    SPOILED_ON,
    Cooking,
)
from stillroom.smallholding.farm import ZONE, Farm, SetClock
from stillroom.smallholding.invented import MARK, WORDS
from stillroom.smallholding.stove_day import cook

SATURDAY = 5


@dataclass(frozen=True, slots=True, kw_only=True)
class Year:
    """What was written."""

    where: str
    days_at_the_stove: int
    events: int


def write_year(where: str | os.PathLike[str], *, seed: int = 1) -> Year:
    """
    Write the invented year into a record of its own.

    A file is made whole or not at all: it gets its name when the year is over.

    Parameters
    ----------
    where : str or path
        A file that is not there yet, or an empty database on a server.
    seed : int
        Same seed, same year.

    Raises
    ------
    Refused
        If there is a record already: nothing invented comes into it.
    """
    place = place_of(where)
    if place.file is None:
        with _empty(place) as (ledger, clock):
            return _live(ledger, clock, str(place), seed)
    if place.file.exists():
        raise Refused(_taken(str(place)))
    growing = place.file.with_name(f"{place.file.name}.growing")
    _remove(growing)
    with _empty(place_of(growing)) as (ledger, clock):
        year = _live(ledger, clock, str(place), seed)
    with growing.open("rb") as whole:
        os.fsync(whole.fileno())
    growing.replace(place.file)
    return year


@contextlib.contextmanager
def _empty(place: Place) -> Iterator[tuple[Ledger, SetClock]]:
    clock = SetClock(dt.datetime.combine(FIRST, dt.time(6), tzinfo=ZONE))
    engine = up_to_date(place)
    without_waiting(engine)  # it has no name yet, and is written anew if power fails
    try:
        ledger = Ledger(engine, place, now=clock.now)
        if ledger.streams(""):
            raise Refused(_taken(str(place)))
        yield ledger, clock
    finally:
        engine.dispose()


def _taken(where: str) -> Refusal:
    return Refusal(
        f"{where} holds a record already",
        instead="name a file that is not there yet: an invented year never comes into "
        "a record that somebody keeps",
        source="how Stillroom keeps records",
    )


def _remove(file: Path) -> None:
    for name in (file.name, f"{file.name}-wal", f"{file.name}-shm"):
        file.with_name(name).unlink(missing_ok=True)


def _live(ledger: Ledger, clock: SetClock, where: str, seed: int) -> Year:
    said = msgspec.json.encode({"words": WORDS, "seed": seed}).decode()
    mark = Entry(kind="invented", version=1, body=said, occurred_at=clock.at)
    ledger.append(MARK, [mark], after=0)
    farm = Farm(ledger, clock, seed)
    cooking = {each.day: each for each in COOKING}
    to_look_at: dict[dt.date, tuple[tuple[str, ...], Cooking]] = {}
    day = FIRST
    while day <= LAST:
        _morning(farm, day)
        if day in to_look_at:
            after_days.look_at(farm, *to_look_at[day])
        if day in cooking:
            run = cook(farm, cooking[day])
            codes = after_days.book_lots(farm, run, day)
            to_look_at[day + dt.timedelta(days=1)] = (codes, cooking[day])
        else:
            _around_the_house(farm, day)
        if day in to_look_at:
            after_days.look_at_sets(farm, *to_look_at[day])
        day += dt.timedelta(days=1)
    farm.at(LAST, 21)
    farm.days.save(demo_day_text(), DEMO)
    return Year(
        where=where,
        days_at_the_stove=len(COOKING),
        events=sum(ledger.last(stream) for stream in ledger.streams("")),
    )


def _morning(farm: Farm, day: dt.date) -> None:
    farm.at(day, 7)
    for when, sentence in COMES_IN:
        if when == day:
            farm.receive(sentence)
    after_days.eat(farm, day)


def _around_the_house(farm: Farm, day: dt.date) -> None:
    if day.weekday() == SATURDAY:
        after_days.stand_day(farm, day)
    if day == RECALLED_ON:
        after_days.recall(farm, day)
    if day == SPOILED_ON:
        after_days.throw_away_spoiled(farm, day)
    if day == GIVEN_ON:
        after_days.give(farm, day)
    if day.day == 1:
        after_days.count(farm, day)
