"""What comes in, and what is made of it: pure."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace

from stillroom.refusal import Refusal
from stillroom.stock.choosing import OUR_RECORD, one_of, parts_of
from stillroom.stock.clock_offsets import with_offsets
from stillroom.stock.commands import Incoming, Make, Receive
from stillroom.stock.decision import Decision, of_one_request, set_aside_is_ours
from stillroom.stock.events import SET_ASIDE, Kind, Lot, Made, Part, Received, Way
from stillroom.stock.fold import Stock
from stillroom.stock.how_cold import not_if_unsure
from stillroom.stock.leaving import may_leave
from stillroom.stock.lotcode import MOST_LOADS, lot_code
from stillroom.stock.times_said import impossible_times
from stillroom.stock.when_begun import began_as_said, when_it_began


def receive(stock: Stock, command: Receive) -> Decision:
    """Take things in, one lot each."""
    day = command.at.date()
    number = stock.next_number(day)
    for thing in command.things:
        if thing.place.casefold() == SET_ASIDE:
            return set_aside_is_ours()
        if (no := not_if_unsure(thing.place)) is not None:
            return no
    received = [
        Received(
            lot=lot_of(thing, lot_code(day, number + i)),
            place=one_of(stock.known_places(), thing.place),
            number=thing.number,
            occurred_at=command.at,
            late=command.late,
        )
        for i, thing in enumerate(command.things)
    ]
    return of_one_request(received, command.token)


def _how_much(thing: Incoming) -> str:
    return thing.measure.of(thing.number, thing.what)


def make(stock: Stock, command: Make) -> Decision:
    """Book a lot that was made, and draw what went into it."""
    if command.on > command.at.date():
        return Refusal(
            f"{command.on} lies in the future",
            instead="book a lot on the day on which it was made, or later",
            source=OUR_RECORD,
        )
    if command.thing.place.casefold() == SET_ASIDE:
        return set_aside_is_ours()
    if (no := not_if_unsure(command.thing.place)) is not None:
        return no
    load = command.batch.load
    if command.thing.kept_dry and (load is not None or command.batch.process_min):
        return Refusal(
            f"{command.thing.what} was said to be kept dry, and to have been in a "
            "canner",
            instead="say one of the two: what stands dry in its jars has no process; "
            "what was soaked or cooked is not kept dry",
            source=OUR_RECORD,
        )
    if command.batch.process_min and command.thing.kind is not Kind.FILLED:
        return Refusal(
            f"{_how_much(command.thing)} was said to have had a process, and nothing "
            "says in how many jars of which size",
            instead=f'write such as "7 quart jars {command.thing.what}"; what stands '
            "loose has no process",
            source=OUR_RECORD,
        )
    if (no := no_such_load(load)) is not None:
        return no
    put_up_at = filled_as_said(command)
    inputs: list[Part] = []
    drawn: dict[tuple[str, str], int] = {}
    for lot, quantity in command.inputs:
        parts = parts_of(stock, lot, quantity, drawn=drawn)
        if isinstance(parts, Refusal):
            return parts
        for part in parts:
            no = may_leave(stock, part, Way.DRAWN, at=command.at, put_up_at=put_up_at)
            if no is not None:
                return no
            key = (part.lot, part.place)
            drawn[key] = drawn.get(key, 0) + part.number
        inputs += parts
    code = lot_code(command.on, stock.next_number(command.on), load)
    made = Made(
        lot=replace(lot_of(command.thing, code), day=command.on.isoformat()),
        place=one_of(stock.known_places(), command.thing.place),
        number=command.thing.number,
        inputs=tuple(inputs),
        batch=with_offsets(command.batch, command.on, command.at.tzinfo),
        occurred_at=command.at,
        token=command.token,
        late=command.late,
    )
    no = impossible_times(made, command.at) or began_as_said(made)
    return no or when_it_began(made) or (made,)


def filled_as_said(command: Make) -> dt.datetime:
    """Return when jars were filled; where that was not said, when they are booked."""
    if not command.batch.filled_at:
        return command.at
    clock = dt.time.fromisoformat(command.batch.filled_at)
    return dt.datetime.combine(command.on, clock, tzinfo=command.at.tzinfo)


def lot_of(thing: Incoming, code: str) -> Lot:
    """Return the lot that a thing becomes under a code."""
    return Lot(
        code=code,
        what=thing.what,
        kind=thing.kind,
        measure=thing.measure,
        day=thing.day,
        supplier=thing.supplier,
        paid=thing.paid,
        best_before=thing.best_before,
        note=thing.note,
        kept_dry=thing.kept_dry,
    )


def no_such_load(load: int | None) -> Refusal | None:
    """Return why a number is no load of a day; `None` where it is, or none is given."""
    if load is None or 1 <= load <= MOST_LOADS:
        return None
    return Refusal(
        f"load {load} does not fit into a lot code",
        instead=f"give the load of the day, 1 to {MOST_LOADS}",
        source=OUR_RECORD,
    )
