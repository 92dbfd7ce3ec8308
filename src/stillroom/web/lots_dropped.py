"""
What somebody typed of the day's lots, where another hand had booked them meanwhile.

Each lot is booked once, and the first hand's numbers hold. The second hand is told so,
with her own beside them: nothing that was typed is dropped without a word.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from stillroom.jar_count import counted
from stillroom.running.lots_made import LotMade
from stillroom.stock.events import Made
from stillroom.stock.fold import Stock

Key = tuple[str, str]
"""(load, batch)"""
Typed = Mapping[Key, tuple[str, str, str, str]]
"""The number of jars, their place, their gauge, and jars in no canner, as typed."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Dropped:
    """A lot that was booked already, and what was typed of it since."""

    lot: LotMade
    booked: str
    """"9 pints, pantry, at 10:02"."""
    yours: str
    """"6 pints, pantry"."""


def dropped_lines(
    stock: Stock,
    run: str,
    mended: Mapping[Key, tuple[int, str]],
    gauges: Mapping[Key, float | None],
) -> tuple[Key, ...]:
    """Return the lines of a form that are booked otherwise than it says."""
    return tuple(
        (load, batch)
        for (load, batch), (number, place) in mended.items()
        if (code := stock.from_run(run, batch, load)) is not None
        and (made := stock.made(code)) is not None
        and _is_otherwise(made, number, place, gauges.get((load, batch)))
    )


def _is_otherwise(made: Made, number: int, place: str, gauge: float | None) -> bool:
    other_gauge = gauge is not None and gauge != made.batch.gauge_psi
    same = (made.number, made.place.casefold()) == (number, place.casefold())
    return other_gauge or not same


def told(
    stock: Stock, lots: Iterable[LotMade], typed: Typed, zone: dt.tzinfo | None
) -> Iterator[Dropped]:
    """Return what is to be said of lines that came too late, in the order of lots."""
    for lot in lots:
        batch = lot.making.batch
        line = typed.get((batch.run_load, batch.run_batch))
        made = stock.made(lot.booked) if lot.booked else None
        if line is None or made is None:
            continue
        number, place, gauge, _ = line  # those in no canner are booked all the same
        jar = lot.making.thing.measure.part
        jars = counted(int(number), jar) if number.isdecimal() else f"{number} {jar}"
        at = made.occurred_at.astimezone(zone)
        yield Dropped(
            lot=lot,
            booked=f"{counted(made.number, jar)}, {made.place}"
            + _gauge(made.batch.gauge_psi)
            + f", at {at:%-H:%M}",
            yours=f"{jars}, {place}" + (f", gauge {gauge}" if gauge else ""),
        )


def _gauge(psi: float | None) -> str:
    return "" if psi is None else f", gauge {psi:g} psi"
