"""Lots booked from a run at the stove: each batch of each load once; pure."""

from __future__ import annotations

from dataclasses import replace

from stillroom.refusal import Refusal
from stillroom.stock.choosing import OUR_RECORD, one_of
from stillroom.stock.clock_offsets import with_offsets
from stillroom.stock.coming import lot_of, no_such_load
from stillroom.stock.commands import MakeFromRun, Making
from stillroom.stock.decision import Decision, of_one_request, set_aside_is_ours
from stillroom.stock.drawing import Drawing, needed_words
from stillroom.stock.events import SET_ASIDE, Kind, Made, Part
from stillroom.stock.fold import Stock
from stillroom.stock.how_cold import not_if_unsure
from stillroom.stock.lotcode import lot_code, printed


def make_from_run(stock: Stock, command: MakeFromRun) -> Decision:
    """
    Book the lots that a run made.

    What was booked before is left out, whoever booked it: a second tap, a lost answer
    or another device books nothing twice. What the stock does not have of an input is
    kept in words, so that the lot does not claim more than the record knows.
    """
    if command.on > command.at.date():
        return Refusal(
            f"{command.on} lies in the future",
            instead="book the lots of a run on its day, or later",
            source=OUR_RECORD,
        )
    drawing = Drawing(stock)
    numbers: dict[str, int] = {}
    booked: list[Made] = []
    for making in command.makings:
        batch = making.batch
        if stock.from_run(batch.run, batch.run_batch, batch.run_load) is not None:
            continue
        if any(_same(made, making) for made in booked):
            continue
        if (no := no_place(making.thing.place)) is not None:
            return no
        if (no := no_such_load(batch.load)) is not None:
            return no
        number = numbers.get(batch.run_batch) or stock.number_of_batch(
            batch.run, batch.run_batch
        )
        if not number:
            number = stock.next_number(command.on) + len(booked)
        codes = {made.lot.code for made in booked}
        if _is_taken(stock, command, number, batch.load, codes):
            number = stock.next_number(command.on) + len(booked)
        numbers[batch.run_batch] = number
        booked.append(_made(stock, command, making, number, drawing))
    return of_one_request(booked, command.token)


def no_place(place: str) -> Refusal | None:
    """Say that jars cannot be put where they are said to stand; `None` if they can."""
    if place.casefold() == SET_ASIDE:
        return set_aside_is_ours()
    return not_if_unsure(place)


def _lids(stock: Stock, parts: tuple[Part, ...]) -> str:
    codes = [p.lot for p in parts if stock.lots[p.lot].kind is Kind.LIDS]
    return ", ".join(map(printed, codes))


def _is_taken(
    stock: Stock, command: MakeFromRun, number: int, load: int | None, codes: set[str]
) -> bool:
    """
    Whether the code would be that of another lot.

    Of one that was booked, and mended since; or, by ``codes``, of jars of the same
    batch that were in no canner either, and are booked with it.
    """
    code = lot_code(command.on, number, load)
    return code in codes or stock.has_lot(code)


def _same(made: Made, making: Making) -> bool:
    one, other = made.batch, making.batch
    return (one.run, one.run_batch, one.run_load) == (
        *(other.run, other.run_batch, other.run_load),
    )


def _made(
    stock: Stock,
    command: MakeFromRun,
    making: Making,
    number: int,
    drawing: Drawing,
) -> Made:
    parts, lacking = drawing.draw(making.needs)
    batch = making.batch
    if batch.utc_offset_min is None:
        batch = with_offsets(batch, command.on, command.at.tzinfo)
    batch = replace(
        batch,
        number=number,
        unbooked="; ".join(map(needed_words, lacking)),
        lids=making.batch.lids or _lids(stock, parts),
    )
    code = lot_code(command.on, number, batch.load)
    return Made(
        lot=replace(lot_of(making.thing, code), day=command.on.isoformat()),
        place=one_of(stock.known_places(), making.thing.place),
        number=making.thing.number,
        inputs=parts,
        batch=batch,
        occurred_at=command.at,
        late=command.late,
    )
