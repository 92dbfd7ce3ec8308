"""
The published rules that a process clock goes by, each with who says so.

Boiling water and pressure differ in all of them: what starts the clock, what loses it,
and what comes between the end of the time and the lid. Each load has its own clock.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from stillroom.methods.canner_water import VENT_MIN
from stillroom.refusal import Refusal, Source
from stillroom.running.events import BOILING_WATER, RunLoad

REST_MIN = 5
"""In boiling water, fire off and lid off, before jars are lifted out. [min]"""

AT_A_FULL_BOIL = Source(
    "USDA Complete Guide to Home Canning (AIB 539), Guide 1", "looked_up"
)
"""The clock starts at a full boil with the lid on, not before."""

BOIL_LOST = Source(
    "USDA Complete Guide to Home Canning (AIB 539), Guide 1 (known from memory)",
    "memory",
)
"""A lost boil is brought back, and the whole time starts again."""

REST_SOURCE = Source("Oklahoma State Univ. Extension, Mixed berry jam", "looked_up")

AT_PRESSURE = Source("Michigan State Univ. Extension leaflet 01600949", "looked_up")
"""The clock starts when the pressure is reached, or when the weight moves."""

VENT_STEAM = Source(
    "Michigan State Univ. Extension leaflet 01600949; Pacific Northwest Extension "
    "PNW 421",
    "looked_up",
)
"""Steam streams for 10 min before the vent is closed; the 10 min are `VENT_MIN`."""

PRESSURE_LOST = Source(
    "Michigan State Univ. Extension leaflet 01600949 (this clause known from memory)",
    "memory",
)
"""Lost pressure is brought back, and the whole time starts again."""

COOL_BY_ITSELF = Source(
    "Michigan State Univ. Extension leaflet 01600949; Pacific Northwest Extension "
    "PNW 421",
    "looked_up",
)
"""A pressure canner is never forced to cool."""

OPEN_THE_VENT = Source(
    "Michigan State Univ. Extension leaflet 01600949; Pacific Northwest Extension "
    "PNW 421 (the 10 min known from memory; which side of the lid first: common "
    "practice)",
    "memory",
)
"""The vent is opened when no pressure is left, and stands open before the lid moves."""

CUT_SHORT = Source("Univ. of Nebraska Extension (known from memory)", "memory")
"""Jars whose process went wrong: again within two hours, discarded after that."""

OUR_RECORD = "how Stillroom keeps a run"


@dataclass(frozen=True, slots=True, kw_only=True)
class ClockRules:
    """How the clock of one load is started, lost and ended, in words."""

    bring: str
    """What to do to start it: "bring the canner to a full boil with its lid on"."""
    at: str
    """Where the time counts: "at a full boil, lid on"."""
    reached: str
    """Key that starts it."""
    lost: str
    """What can be lost: "boil"."""
    runs: str
    """What a load does meanwhile: "boils"."""
    heed: str
    """What to watch or listen to."""
    again: str
    """How it is brought back."""
    rest: str
    """What to do when the time is over, and jars must stay in."""
    lid: str
    """What comes between the rest and the lid; empty where the lid is off by then."""
    close: str
    """What is done when the vent clock has run out; empty where there is no vent."""
    if_so: str
    """What must hold before jars are lifted; empty where nothing else does."""
    starts: Source
    restarts: Source
    rests: Source
    vents: Source | None
    """Who says how long steam streams first; `None` where there is no vent."""
    opens: Source | None
    """Who says what comes before the lid; `None` where nothing does."""


_BOILING = ClockRules(
    bring="bring the canner to a full boil with its lid on",
    at="at a full boil",
    reached="Full boil now",
    lost="boil",
    runs="boils",
    heed="Listen to the boil.",
    again="bring it back with the lid on",
    rest="fire off, lid off",
    lid="",
    if_so="",
    close="",
    starts=AT_A_FULL_BOIL,
    restarts=BOIL_LOST,
    rests=REST_SOURCE,
    vents=None,
    opens=None,
)


def rules_for(load: RunLoad) -> ClockRules:
    """Return the rules of a load's own canner."""
    if load.method == BOILING_WATER:
        return _BOILING
    pressure = (
        f"{load.pressure_psi:g} psi" if load.pressure_psi else "its published pressure"
    )
    close = f"close the vent, bring it to {pressure}"
    return ClockRules(
        bring=f"let steam vent for {VENT_MIN} min, {close}",
        at=f"at {pressure}",
        reached="At pressure now",
        lost="pressure",
        runs="is under pressure",
        heed="Watch the gauge or the weight.",
        # a vent is closed on 10 min of steam the second time too, by the same leaflets
        again=f"bring it back to {pressure} (if none was left or the vent was opened, "
        f"let steam vent for {VENT_MIN} min first)",
        rest="fire off, lid shut, let it cool by itself and never with water",
        lid="when no pressure is left, open the vent and wait 10 min more; then lift "
        "the lid, its far side first: steam is under it",
        close=close,
        if_so="if no pressure is left and the vent has been open for 10 min",
        starts=AT_PRESSURE,
        restarts=PRESSURE_LOST,
        rests=COOL_BY_ITSELF,
        vents=VENT_STEAM,
        opens=OPEN_THE_VENT,
    )


def two_of_one_name(loads: Iterable[RunLoad], *, instead: str) -> Refusal | None:
    """Refuse loads of which two would have one clock; `None` where each has its own."""
    ids = [load.id for load in loads]
    twice = next((name for name in ids if ids.count(name) > 1), None)
    if twice is None:
        return None
    return Refusal(
        f"two loads are called {twice!r}, and their clocks would be mixed up",
        instead=instead,
        source=OUR_RECORD,
    )
