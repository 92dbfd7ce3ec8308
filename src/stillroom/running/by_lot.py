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
from stillroom.planning.which_batches.shelf import same_thing
from stillroom.running.events import RunNeed
from stillroom.stock.day_shelf import code_in_name


def by_lot(
    need: RunNeed, draws: Iterable[Draw], shelf: Mapping[str, Lot]
) -> tuple[RunNeed, ...]:
    """
    Part a need by the lots that the plan draws it from; the parts add up to it.

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
    taken = [
        (draw.lot, _number(draw))
        for draw in draws
        if draw.lot in shelf and same_thing(shelf[draw.lot].what, need.name)
    ]
    whole = sum(number for _, number in taken)
    if not whole:
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


def _number(draw: Draw) -> Fraction:
    """How much is drawn, in the lot's own measure: lots of one thing share it."""
    for number in (draw.volume_m3, draw.mass_kg, draw.count):
        if number is not None:
            return Fraction(number)
    return Fraction(0)
