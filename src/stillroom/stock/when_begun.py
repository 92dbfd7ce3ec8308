"""
When the process of jars that were booked by hand began: asked where it decides.

From the filling to the jars being out lie the process, the heating, the venting and the
cooling, and how long the jars stood. Where the hours are so many that the jars stood
for longer than they may, or sat in the canner, only the keeper knows which.
"""

from __future__ import annotations

import datetime as dt

from stillroom.book.acid_foods import is_known_acid, is_known_low_acid
from stillroom.book.names import canner_named
from stillroom.book.processes import METHODS
from stillroom.methods.canner_water import (
    COOL_QUARTS_MIN,
    OPEN_MIN,
    REST_MIN,
    RISE_MIN,
    VENT_MIN,
)
from stillroom.refusal import Refusal
from stillroom.stock.choosing import OUR_RECORD
from stillroom.stock.events import Made
from stillroom.stock.jars_out import filled_at, jars_out_at
from stillroom.stock.lacks import BEGUN_WITHIN_MIN

HEATING_MIN = 60
"""A full canner is hot within that: common practice, no source. [min]"""
IN_THE_CANNER_MIN = VENT_MIN + RISE_MIN + COOL_QUARTS_MIN + OPEN_MIN
"""Under pressure, beside the heating and the process, at the longest printed. [min]"""


def began_as_said(made: Made) -> Refusal | None:
    """Return why a process cannot have begun when it was said to; `None`: it can."""
    batch = made.batch
    if not batch.process_began or batch.run:
        return None
    if not (batch.filled_at and batch.out_at and batch.process_min):
        return Refusal(
            f"its process is said to have begun at {batch.process_began}, and not when "
            "its jars were filled and out, and how many minutes it had",
            instead="say all four: when they were filled, when it began, its minutes, "
            "and when they were out (at the command line: --filled, --began, "
            "--process, --out)",
            source=OUR_RECORD,
        )
    filled, out = filled_at(made, made.lot), jars_out_at(made, made.lot)
    clock = dt.time.fromisoformat(batch.process_began)
    began = dt.datetime.combine(filled.date(), clock, tzinfo=filled.tzinfo)
    if began < filled:
        began += dt.timedelta(days=1)
    if began + dt.timedelta(minutes=batch.process_min) > out:
        return Refusal(
            f"filled at {batch.filled_at} and out at {batch.out_at}, its jars cannot "
            f"have had {batch.process_min} min from {batch.process_began} on",
            instead="look at the clock times and at the minutes again",
            source=OUR_RECORD,
        )
    return None


def when_it_began(made: Made) -> Refusal | None:
    """Ask when a process began, where the jars may have stood too long before it."""
    batch = made.batch
    if batch.run or batch.process_began or not (batch.canned and batch.process_min):
        return None
    if not (batch.filled_at and batch.out_at):
        return None
    under_pressure = canner_named(batch.canner) in METHODS[1:]
    if not under_pressure and is_known_low_acid(made.lot.what):
        return None  # no hour makes a process of that
    around = HEATING_MIN + (IN_THE_CANNER_MIN if under_pressure else REST_MIN)
    took = jars_out_at(made, made.lot) - filled_at(made, made.lot)
    minutes = int(took.total_seconds() // 60)
    if minutes - batch.process_min - around <= BEGUN_WITHIN_MIN:
        return None
    return Refusal(
        f"filled at {batch.filled_at} and out at {batch.out_at} are "
        f"{minutes // 60} h {minutes % 60:02d} min, and {batch.process_min} min of "
        "process with its heating and cooling are far less: whether these jars stood "
        f"for more than {BEGUN_WITHIN_MIN // 60} h before it is not said",
        instead="say when the process began (at the command line: --began 9:40). Where "
        "nobody knows, it counts as none: book the jars without its minutes, and "
        + (
            "what is published for such jars is said"
            if is_known_acid(made.lot.what)
            else "discard them untasted"
        ),
        source="Univ. of Nebraska-Lincoln Extension (2 h); venting and cooling: "
        "Michigan State Univ. Extension leaflet 01600949; heating: common practice, no "
        "source",
    )
