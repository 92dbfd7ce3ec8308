"""
Jars that were filled beyond those that were lifted out of a canner load. Pure.

Only what was lowered, did not break and was lifted out had the process of its load.
What was filled beyond that was in no canner, as far as the stove knows: it is booked
as a lot of its own, that had no process, and the load's own lot keeps its number.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from stillroom.jar_count import jars_said
from stillroom.running.as_filled import LIDS
from stillroom.running.lots_made import APART, LotMade
from stillroom.stock.commands import Making, Need


def had_its_process(lot: LotMade) -> int | None:
    """Return the most jars of a lot that had its load's process; `None`: no canner."""
    if not lot.making.batch.process_min:
        return None
    return lot.making.thing.number


def lifted_out(lot: LotMade) -> str:
    """
    Say how many jars came out of a load: "8 pints were lifted out of load 1".

    With what broke of it, so that whoever counts finds the number again.
    """
    thing, broke = lot.making.thing, lot.making.batch.broken
    out = jars_said(thing.number, thing.measure.part)
    be = "was" if thing.number == 1 else "were"
    less = f", and {broke} broke" if broke else ""
    return f"{out} {be} lifted out of {lot.load}{less}"


def apart(lot: LotMade, number: int) -> Making:
    """Return what is asked where so many jars of a batch were in no canner."""
    batch = replace(
        lot.making.batch,
        load=None,
        canner="",
        process_min=None,
        process_began="",
        due_psi=None,
        stood_min=None,
        out_at="",
        out_on="",
        times_lost=0,
        broken=0,
        run_load=f"{lot.making.batch.run_load} beyond",
    )
    thing = replace(lot.making.thing, number=number, place=APART)
    return Making(thing=thing, batch=batch, needs=_part(lot, number))


def less_apart(lot: LotMade, needs: Iterable[Need], number: int) -> tuple[Need, ...]:
    """Return what a load's own lot takes beside ``number`` jars that stand apart."""
    other = {(need.name, need.unit, need.lot): need for need in _part(lot, number)}
    vessels = _vessels(lot)
    left = []
    for need in needs:
        less = other.get((need.name, need.unit, need.lot))
        if less is not None and need.name not in vessels:
            need = replace(need, number=need.number - less.number)
        left.append(need)
    return tuple(need for need in left if need.number > 0)


def _part(lot: LotMade, number: int) -> tuple[Need, ...]:
    """
    What jars apart take: jar and lid each, and their part of what was in the pot.

    A recall of what was in the pot so finds them too.
    """
    vessels, whole = _vessels(lot), lot.making.thing.number + number
    parts: dict[tuple[str, str], Need] = {}
    for need in lot.making.needs:
        if need.name in vessels:  # of one lot: which of two it was, nobody said
            parts[need.name, ""] = replace(need, number=number)
        elif not lot.booked:  # else all of it is in that lot by now
            share = need.number * number // whole
            parts[need.name, need.lot] = replace(need, number=share)
    return tuple(need for need in parts.values() if need.number > 0)


def _vessels(lot: LotMade) -> frozenset[str]:
    return frozenset({f"{lot.making.thing.measure.part} jars", LIDS})
