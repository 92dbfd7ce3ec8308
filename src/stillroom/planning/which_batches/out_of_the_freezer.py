"""What is frozen: what of it is moved the evening before, and what stays there."""

from __future__ import annotations

import datetime as dt
import math
from collections.abc import Iterator, Mapping

from stillroom.planning.day import Day, Lot
from stillroom.planning.which_batches.batches import Batched
from stillroom.planning.which_batches.shelf import LotLeft, much_of
from stillroom.planning.which_batches.thawing import (
    frozen_piece_m3,
    last_evening,
    thawing_words,
)

_LITTLE_M3, _LITTLE_KG = 1e-6, 1e-3
"""Less of an opened bag than this is nothing."""


def out_of_the_freezer(
    day: Day, made: Batched, wanted: Mapping[str, dt.datetime]
) -> Iterator[str]:
    """
    Yield what is moved from the freezer, a line for each frozen lot that is drawn on.

    ``wanted`` has for each lot when the first of it goes into the pot.
    """
    taken: dict[str, float] = {}
    for batch in made.batches:
        for draw in batch.draws:
            much = draw.volume_m3 or draw.mass_kg or draw.count or 0.0
            taken[draw.lot] = taken.get(draw.lot, 0.0) + much
    for lot in day.shelf:
        much = taken.get(lot.name, 0.0)
        if not lot.frozen or not much:
            continue
        at = wanted.get(lot.name)
        piece = frozen_piece_m3(lot)
        first = ""
        if lot.bag_m3:
            first = "; measure the first one when it has thawed"
        out = _out_of(lot, much, day.kitchen.metric)
        yield (
            f"Move {out} from the freezer to the refrigerator, in a "
            f"pan{_sooner(day.date, piece, at)}{first}. {thawing_words(piece, at)}"
        )


def still_frozen(held: LotLeft) -> str:
    """Say what becomes of that which the day leaves of a frozen lot."""
    lot, left = held.lot, held.left
    bag = lot.bag_m3 or lot.bag_kg
    if not bag:
        return "it stays frozen"
    whole = math.floor(left / bag + 1e-6)
    opened = left - whole * bag
    parts = []
    if whole:
        parts.append(
            f"{whole} whole {'bag stays' if whole == 1 else 'bags stay'} frozen"
        )
    if opened > (_LITTLE_M3 if lot.bag_m3 else _LITTLE_KG):
        rest = much_of(lot, opened, metric=held.metric)
        parts.append(
            f"the rest of an opened bag, {rest}, goes back to the freezer, "
            f"{'measured' if lot.bag_m3 else 'weighed'} and dated"
        )
    return "; ".join(parts)


def _out_of(lot: Lot, much: float, metric: bool) -> str:
    """Say how much is moved: whole bags, and what the last one is opened for."""
    bag = lot.bag_m3 or lot.bag_kg
    if not bag:
        said = f"{much:g}"
        if lot.count is None:
            said = much_of(lot, much, metric=metric)
        return f"{said} of {lot.name}"
    bags = min(lot.bags, math.ceil(much / bag - 1e-6))
    part = much - (bags - 1) * bag
    last = "" if bags == 1 else "the last "
    opened = ""
    if part < bag * 0.99:
        opened = f" ({last}is opened for {much_of(lot, part, metric=metric)})"
    return f"{_bags(bags, lot.bags)} of {lot.name}{opened}"


def _sooner(date: dt.date, piece: float | None, at: dt.datetime | None) -> str:
    """Where the evening before is too late by the longest estimate: which is not."""
    if piece is None or at is None:
        return ""
    evening = last_evening(piece, at)
    if evening >= date - dt.timedelta(days=1):
        return ""
    said = f"{evening:%A} {evening.day} {evening:%B}"
    return f", better on the evening of {said} already"


def _bags(taken: int, there: int) -> str:
    """
    Say how many bags are taken of those that there are.

    >>> _bags(4, 5), _bags(1, 5), _bags(1, 1)
    ('4 of 5 bags', '1 of 5 bags', 'the one bag')
    """
    return "the one bag" if taken == there == 1 else f"{taken} of {there} bags"
