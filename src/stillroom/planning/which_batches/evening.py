"""What is set out, thawed and counted the evening before."""

from __future__ import annotations

import datetime as dt
import math
from collections.abc import Mapping

from stillroom.jar_count import counted, jars_said
from stillroom.measures import kitchen_volume
from stillroom.methods.jars import to_spare
from stillroom.methods.learned import Share
from stillroom.methods.method import Kept
from stillroom.planning.day import Day, Lot
from stillroom.planning.dayplan import Draw, MadeBatch
from stillroom.planning.which_batches.batches import Batched
from stillroom.planning.which_batches.choices import Fitted
from stillroom.planning.which_batches.shelf import mass_words
from stillroom.planning.which_batches.thawing import (
    last_evening,
    loose_words,
    thawing_words,
)


def _fills_jars(batch: MadeBatch, made: Batched) -> bool:
    """Whether its jars are filled on the day; a crock's come weeks later."""
    fitted = made.chosen[batch.id].fitted
    needed = fitted.method.materials(fitted.recipe, batch.jar, batch.jars)
    return any(material.name == f"{batch.jar} jars" for material in needed)


LAST_DAYS_CANNER = (
    "Was every load processed? Look once at what was last put up: each load had its "
    "time in the canner, and its seals were looked at. Sealed is not processed."
)
"""On every evening list: a load that was forgotten is found by nobody else."""


def evening_before(
    day: Day,
    made: Batched,
    wanted: Mapping[str, dt.datetime] | None = None,
    seals: Share | None = None,
) -> list[str]:
    """
    What is set out, thawed and counted the evening before.

    ``wanted`` has for each lot when the first of it goes into the pot; ``seals`` are
    her own, by which jars and lids are set out to spare.
    """
    lines: list[str] = []
    taken: dict[str, list[Draw]] = {}
    for batch in made.batches:
        for draw in batch.draws:
            taken.setdefault(draw.lot, []).append(draw)
    for lot in day.shelf:
        if lot.frozen and lot.name in taken:
            at = (wanted or {}).get(lot.name)
            lines.append(_out_of_the_freezer(lot, taken[lot.name], at, day.date))
    lines += begun_before(made)
    glass = [
        batch
        for batch in made.batches
        if batch.kept is not Kept.FREEZER and _fills_jars(batch, made)
    ]
    boxes = [batch for batch in made.batches if batch.kept is Kept.FREEZER]
    for jar in dict.fromkeys(batch.jar for batch in glass):
        number = sum(batch.jars for batch in glass if batch.jar == jar)
        lines.append(
            f"Count out {jars_said(number, jar)} and {to_spare(number, seals)} to "
            "spare; look for nicks."
        )
    for jar in dict.fromkeys(batch.jar for batch in boxes):
        number = sum(batch.jars for batch in boxes if batch.jar == jar)
        lines.append(
            f"Count out {counted(number, f'{jar} freezer box')}; make room to freeze."
        )
    if glass:
        sealed = sum(batch.jars for batch in glass if batch.process is not None)
        spare = to_spare(sealed, seals)
        lids = f"{sealed + spare} lids ({sealed} and {spare} to spare), bands"
        lines.append(
            f"{lids if sealed else 'Lids'}, ladle, funnel, towels or a board for the "
            "hot jars."
        )
        if sealed:
            lines.append(LAST_DAYS_CANNER)
    return lines


def _out_of_the_freezer(
    lot: Lot, draws: list[Draw], at: dt.datetime | None, day: dt.date
) -> str:
    """Say how much of a lot is moved to the refrigerator, and how long it thaws."""
    volume_m3 = sum(draw.volume_m3 or 0.0 for draw in draws)
    bag_m3 = lot.bag_m3
    if bag_m3 is None:
        kilos = sum(draw.mass_kg or 0.0 for draw in draws)
        pieces = sum(draw.count or 0 for draw in draws)
        much = (
            mass_words(kilos, at_least=True)
            if kilos
            else kitchen_volume(volume_m3, at_least=True)
            if volume_m3
            else str(pieces)
        )
        return (
            f"Move {much} of {lot.name} from the freezer to the refrigerator, in a "
            f"pan. {loose_words(at)}"
        )
    bags = min(lot.bags, math.ceil(volume_m3 / bag_m3 - 1e-6))
    part = volume_m3 - (bags - 1) * bag_m3
    opened = (
        f" (the last is opened for {kitchen_volume(part)})"
        if part < bag_m3 * 0.99
        else ""
    )
    sooner = ""
    if at is not None:
        evening = last_evening(bag_m3, at)
        if evening < day - dt.timedelta(days=1):
            sooner = (
                f", better on the evening of {evening:%A} {evening.day} "
                f"{evening:%B} already"
            )
    return (
        f"Move {_bags(bags, lot.bags)} of {lot.name}{opened} from the freezer to the "
        f"refrigerator, in a pan{sooner}; measure the first one when it has thawed. "
        f"{thawing_words(bag_m3, at)}"
    )


def _bags(taken: int, there: int) -> str:
    """
    Say how many bags are taken of those that there are.

    >>> _bags(4, 5), _bags(1, 5), _bags(1, 1)
    ('4 of 5 bags', '1 of 5 bags', 'the one bag')
    """
    return "the one bag" if taken == there == 1 else f"{taken} of {there} bags"


def begun_before(made: Batched) -> dict[str, tuple[str, ...]]:
    """
    What stands overnight, with how much of it there is in all batches together.

    A way of putting up that has such things says so. With each line goes what it is
    said in place of: those of its batches taken alone.
    """
    alike: dict[str, list[Fitted]] = {}
    for batch in made.batches:
        fitted = made.chosen[batch.id].fitted
        alike.setdefault(fitted.recipe.procedure.id, []).append(fitted)
    said: dict[str, tuple[str, ...]] = {}
    for several in alike.values():
        begun = getattr(several[0].method, "evening_before", None)
        if begun is None:
            continue
        recipes = [fitted.recipe for fitted in several]
        alone = tuple(line for recipe in recipes for line in begun(recipe))
        said.update(dict.fromkeys(begun(*recipes), alone))
    return said
