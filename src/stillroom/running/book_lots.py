"""What is asked when the lots that a run made are booked, and numbers that are none."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Mapping
from dataclasses import replace

from stillroom.refusal import Fault, Unreadable
from stillroom.running.as_filled import as_filled
from stillroom.running.beyond import apart, had_its_process, less_apart, lifted_out
from stillroom.running.lots_made import APART, LotMade
from stillroom.stock.commands import MakeFromRun, Making, Need

MOST_JARS = 200
"""No batch fills more in one load."""


def wrong_number(lot: LotMade, number: int, beyond: int = 0) -> str:
    """
    Say why so many jars of a lot cannot be; empty where they can.

    ``beyond`` are those that were in no canner: the ``number`` of a load that was
    processed is never above what was lifted out of it.
    """
    for jars in (number, beyond):
        if not 0 <= jars <= MOST_JARS:
            return f"{jars} jars came, and one load holds 0 to {MOST_JARS}"
    if number + beyond > 2 * lot.planned + 1:
        return (
            f"{number + beyond} is more than twice the {lot.planned} that were planned "
            "of it, and no batch gives so many: look at the number again"
        )
    most = had_its_process(lot)
    if most is not None and number > most:
        return (
            f"{number} jars came, and {lifted_out(lot)}: only those had the process. "
            "What was filled beyond them is booked apart, as never processed"
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
    beyond: Mapping[tuple[str, str], int] | None = None,
) -> MakeFromRun:
    """
    Return what is asked when these proposals are booked.

    ``mended`` holds, by (load id, batch id), the number of jars and the place where
    the keeper says otherwise. None at all means that none came of it: it is left out.
    ``gauges`` holds what the gauge of its canner read, where somebody wrote it down;
    ``beyond`` how many jars were filled beyond those of a load, and in no canner.

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
        more = (beyond or {}).get((batch.run_load, batch.run_batch), 0)
        if no := wrong_number(lot, number, more):
            wrong.append(Fault(no, key=f"jars of {lot.batch[:60]}"))
            continue
        if number and not lot.booked:
            read = (gauges or {}).get((batch.run_load, batch.run_batch))
            makings.append(
                Making(
                    thing=replace(thing, number=number, place=place),
                    batch=replace(batch, gauge_psi=read),
                    needs=_needs(lot, number, more),
                )
            )
        if more:
            makings.append(apart(lot, more))
    if wrong:
        raise Unreadable(*wrong)
    return MakeFromRun(on=on, makings=tuple(makings), at=at, token=token)


def _needs(lot: LotMade, number: int, beyond: int) -> tuple[Need, ...]:
    """What a lot takes of which so many jars came, beside others that stand apart."""
    thing = lot.making.thing
    needs = as_filled(lot.making.needs, thing.measure.part, more=number - thing.number)
    return less_apart(lot, needs, beyond) if beyond else needs


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
