"""
Which lot of the stock a batch's needs come from, as the day sheet says it. Pure.

Two batches of one jelly may be drawn from two lots of one juice. Who follows the sheet
takes what is named there; a recall of one of the lots then finds the right jars.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace
from fractions import Fraction

from stillroom.planning.day import Lot
from stillroom.planning.dayplan import Draw
from stillroom.planning.which_batches.names_on_shelf import same_thing
from stillroom.running.events import RunNeed
from stillroom.stock.amounts import Unit
from stillroom.stock.day_shelf import code_in_name
from stillroom.stock.drawing import per_unit


def by_lot(
    need: RunNeed, draws: Iterable[Draw], shelf: Mapping[str, Lot]
) -> tuple[RunNeed, ...]:
    """
    Part a need by the lots that the plan draws it from; the parts add up to it.

    The lot is kept, and not its place: where one lot stands at two, any may be drawn.

    Parameters
    ----------
    need : RunNeed
        So much of one thing.
    draws : iterable of Draw
        What the batch takes from the lots of the day's shelf.
    shelf : mapping of str to Lot
        Lots of the day by their names there.

    Returns
    -------
    tuple of RunNeed
        The need itself, of no lot, where the plan names no lot of the stock for it.
    """
    mine = [
        draw
        for draw in draws
        if draw.lot in shelf and same_thing(shelf[draw.lot].what, need.name)
    ]
    taken = [(draw.lot, _in_unit(draw, need)) for draw in mine]
    whole = sum(number for _, number in taken)
    if not whole or any(not number for _, number in taken):
        return (need,)
    parts, upto, before = [], Fraction(0), 0
    for name, number in taken:
        upto += number
        now = round(need.number * upto / whole)
        if now > before:
            part = replace(need, number=now - before, lot=code_in_name(name))
            parts.append(part)
        before = now
    return tuple(parts)


def _in_unit(draw: Draw, need: RunNeed) -> Fraction:
    """
    How much is drawn, in the unit of the need; 0 where no density tells.

    Sugar by the cup and sugar by the pound are two lots of one thing.
    """
    for number, unit, each in (
        (draw.volume_m3, Unit.UL, 10**9),
        (draw.mass_kg, Unit.MG, 10**6),
        (draw.count, Unit.PIECES, 1),
    ):
        if number is not None:
            served = per_unit(need.name, unit, Unit(need.unit))
            return Fraction(number) * each * Fraction(served or 0)
    return Fraction(0)
