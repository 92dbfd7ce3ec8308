"""What is asked when the lots that a run made are booked, and numbers that are none."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Mapping
from dataclasses import replace

from stillroom.refusal import Fault, Unreadable
from stillroom.running.as_filled import as_filled
from stillroom.running.lots_made import APART, LotMade
from stillroom.stock.commands import MakeFromRun, Making

MOST_JARS = 200
"""No batch fills more in one load."""


def wrong_number(lot: LotMade, number: int) -> str:
    """Say why so many jars of a lot cannot be; empty where they can."""
    if not 0 <= number <= MOST_JARS:
        return f"{number} jars came, and one load holds 0 to {MOST_JARS}"
    if number > 2 * lot.planned + 1:
        return (
            f"{number} is more than twice the {lot.planned} that were planned "
            "of it, and no batch gives so many: look at the number again. If "
            "they were filled, book those of the plan, and count the lot then"
        )
    return ""


def booking(
    lots: Iterable[LotMade],
    *,
    on: dt.date,
    at: dt.datetime,
    token: str,
    mended: Mapping[tuple[str, str], tuple[int, str]] | None = None,
    gauges: Mapping[tuple[str, str], float | None] | None = None,
) -> MakeFromRun:
    """
    Return what is asked when these proposals are booked.

    ``mended`` holds, by (load id, batch id), the number of jars and the place where
    the keeper says otherwise. None at all means that none came of it: it is left out.
    ``gauges`` holds what the gauge of its canner read, where somebody wrote it down.

    Raises
    ------
    Unreadable
        If numbers of jars are below none or absurd, with every one of them.
    """
    makings, wrong = [], []
    for lot in lots:
        thing, batch = lot.making.thing, lot.making.batch
        number, place = (mended or {}).get(
            (batch.run_load, batch.run_batch), (thing.number, thing.place)
        )
        if no := wrong_number(lot, number):
            wrong.append(Fault(no, key=f"jars of {lot.batch[:60]}"))
            continue
        if number and not lot.booked:
            more, jar = number - thing.number, thing.measure.part
            needs = as_filled(lot.making.needs, jar, more=more)
            thing = replace(thing, number=number, place=place)
            read = (gauges or {}).get((batch.run_load, batch.run_batch))
            batch = replace(batch, gauge_psi=read)
            makings.append(Making(thing=thing, batch=batch, needs=needs))
    if wrong:
        raise Unreadable(*wrong)
    return MakeFromRun(on=on, makings=tuple(makings), at=at, token=token)


def unprocessed(lot: LotMade) -> LotMade:
    """Return a proposal as it is booked where its canner was never run."""
    batch = replace(
        lot.making.batch,
        process_min=None,
        process_began="",
        stood_min=None,
        out_at="",
        out_on="",
        times_lost=0,
    )
    thing = replace(lot.making.thing, place=APART)
    return replace(
        lot, making=replace(lot.making, thing=thing, batch=batch), ready=True
    )
