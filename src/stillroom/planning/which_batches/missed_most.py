"""
In which order the batches of a day would be missed, and what becomes of their fruit.

First what will not keep, then what matters most to the keeper, then what sells, then
what should be used sooner; at last the order in which the day lists them.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Collection, Mapping, Sequence
from dataclasses import replace

from stillroom.in_a_list import all_of
from stillroom.planning.day import Day, Lot, Purpose
from stillroom.planning.dayplan import LeftOut, MadeBatch
from stillroom.planning.which_batches.batches import Batched
from stillroom.planning.which_batches.names_on_shelf import same_thing

SPOILS_WITHIN_D = 2
"""What is to be used within so many days will not wait for another day. [d]"""
SOON_D = 7

_HOW_MUCH = {
    1: "it matters least to you (1 of 5)",
    2: "it matters less to you than others (2 of 5)",
    3: "it matters to you as most things do (3 of 5)",
    4: "it matters to you (4 of 5)",
    5: "it matters most to you (5 of 5)",
}


def most_missed_first(day: Day, made: Batched) -> list[str]:
    """Ids of the batches of a day, those that would be missed most first."""
    lots = {batch.id: _base_lots(day, made, batch) for batch in made.batches}
    return _most_missed_first(day, made.batches, lots)


def missed_most_first(day: Day, batches: Sequence[MadeBatch]) -> list[str]:
    """The same of batches of a plan, by all lots that they draw on."""
    lots = {}
    for batch in batches:
        drawn = {draw.lot for draw in batch.draws if draw.count is None}
        lots[batch.id] = [lot for lot in day.shelf if lot.name in drawn]
    return _most_missed_first(day, batches, lots)


def _most_missed_first(
    day: Day, batches: Sequence[MadeBatch], lots: Mapping[str, list[Lot]]
) -> list[str]:
    listed = {batch.id: n for n, batch in enumerate(batches)}

    def key(batch: MadeBatch) -> tuple[int, int, bool, dt.date, int]:
        want = batch.serves[0]
        return (
            _haste(day, lots[batch.id]),
            -want.matters,
            want.purpose is not Purpose.STAND,
            min((_use_by(lot) for lot in lots[batch.id]), default=_NEVER),
            listed[batch.id],
        )

    return [batch.id for batch in sorted(batches, key=key)]


def a_jar_min(day: Day, made: Batched) -> dict[str, int]:
    """
    What a jar of each batch weighs that is not made, in the order of what is missed.

    A jar of what keeps, matters as most things do and is for the pantry weighs ten
    minutes of somebody's time; see decision 0051. [min]
    """
    found = {}
    for batch in made.batches:
        want = batch.serves[0]
        haste = _haste(day, _base_lots(day, made, batch))
        sells = want.purpose is Purpose.STAND
        found[batch.id] = weight_min(haste, want.matters, sells)
    return found


def weight_min(haste: int, matters: int, sells: bool) -> int:
    """
    What a jar weighs that is not made. [min]

    ``haste`` is 0 where its fruit will not keep, 1 where it will not for a week, 2
    where it keeps.

    Examples
    --------
    >>> weight_min(2, 3, False), weight_min(0, 3, False)
    (10, 40)
    """
    return 4 + 2 * matters + sells + _IN_HASTE_MIN[haste]


_IN_HASTE_MIN = {0: 30, 1: 10, 2: 0}
"""So much more a jar weighs whose fruit will not keep, or not for a week: more than
all that it may matter and sell. [min]"""
_NEVER = dt.date.max


def _use_by(lot: Lot) -> dt.date:
    return lot.use_by or _NEVER


def _base_lots(day: Day, made: Batched, batch: MadeBatch) -> list[Lot]:
    """Lots that the fruit or juice of a batch is drawn from."""
    base = made.chosen[batch.id].fitted.base.name
    drawn = {draw.lot for draw in batch.draws}
    return [
        lot for lot in day.shelf if lot.name in drawn and same_thing(lot.what, base)
    ]


def _haste(day: Day, lots: list[Lot]) -> int:
    """0: it will not keep for another day; 1: within a week; 2: it keeps."""
    days = min(
        (
            (lot.use_by - day.date).days
            for lot in lots
            if lot.use_by is not None and not lot.frozen
        ),
        default=SOON_D + 1,
    )
    return 0 if days <= SPOILS_WITHIN_D else 1 if days <= SOON_D else 2


def left_out_of(
    day: Day,
    made: Batched,
    left_out: Collection[str],
    cannot: Mapping[str, tuple[str, ...]] | None = None,
    proven: Collection[str] = (),
    short_day: Collection[str] = (),
) -> list[LeftOut]:
    """
    What is left out, by product: why it sooner than another, and what of its fruit.

    They come in the order in which they are missed, what is missed most first.
    ``cannot`` are reasons why a batch cannot be made at all, room or not, and
    ``short_day`` those batches of it for which the day is only too short; ``proven``
    are batches that no plan has beside what is kept.
    """
    said: dict[tuple[object, ...], LeftOut] = {}
    of = {batch.id: batch for batch in made.batches}
    for batch in (of[name] for name in most_missed_first(day, made)):
        if batch.id not in left_out:
            continue
        one = _left_out(day, made, batch)
        if cannot and batch.id in cannot:
            one = replace(
                one,
                why="; ".join(cannot[batch.id]),
                proven=True,
                cannot=True,
                short_day=batch.id in short_day,
            )
        elif batch.id in proven:
            one = replace(one, proven=True)
        key = (one.product, one.jar, one.why, one.fruit, one.proven)
        if key in said:
            one = replace(
                one,
                batches=(*said[key].batches, batch.id),
                jars=said[key].jars + batch.jars,
                each=(*said[key].each, *one.each),
            )
        said[key] = one
    return list(said.values())


def _left_out(day: Day, made: Batched, batch: MadeBatch) -> LeftOut:
    lots = _base_lots(day, made, batch)
    want = batch.serves[0]
    hours = all_of(f"{each.by:%-H:%M}" for each in batch.serves if each.by)
    why = (
        _keeps(day, lots),
        _HOW_MUCH[want.matters],
        "it is for the stand"
        if want.purpose is Purpose.STAND
        else "it is for the pantry, not for the stand",
        *((f"it is promised by {hours}",) if hours else ()),
    )
    return LeftOut(
        batches=(batch.id,),
        product=batch.product,
        jar=batch.jar,
        jars=batch.jars,
        why=", ".join(why),
        fruit="; ".join(_becomes(day, lot) for lot in lots),
        spoils=_haste(day, lots) == 0,
        each=((batch.id, batch.jars),),
    )


def _keeps(day: Day, lots: list[Lot]) -> str:
    haste = _haste(day, lots)
    names = all_of(lot.name for lot in lots)
    if lots and all(lot.frozen for lot in lots):
        return f"{names} can stay frozen"
    if haste == 0:
        return f"{names} cannot wait, and still there is no room"
    soonest = min((_use_by(lot) for lot in lots), default=_NEVER)
    if soonest == _NEVER:
        return f"{names}: no date to be used by is known"
    return f"{names} can wait until {soonest:%-d %B}"


def _becomes(day: Day, lot: Lot) -> str:
    """What to do with the fruit of a batch that is not made."""
    if lot.frozen:
        return f"leave {lot.name} in the freezer"
    haste = _haste(day, [lot])
    by = "" if lot.use_by is None else f" and use by {lot.use_by:%-d %B}"
    if lot.volume_m3 is not None:
        if haste == 2:
            return f"keep {lot.name} in the refrigerator{by}"
        return f"freeze {lot.name} today, measured and dated"
    if haste == 0:
        return f"freeze {lot.name} today, or chill{by}"
    return f"keep {lot.name} cold{by}, or freeze"
