"""What is said beside a load on the day sheet, for boiling water and for pressure."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

from stillroom.methods.canner_water import OPEN_MIN, REST_MIN, VENT_MIN
from stillroom.planning.problem import Problem
from stillroom.planning.timetable import PlacedLoad

HOW_TO_LIFT = "straight up, onto wood or a towel, an inch apart"


@dataclass(frozen=True, slots=True, kw_only=True)
class LoadWords:
    """The end signs of one canner run, in the order of the clock."""

    water: str
    """What is in it when it is lit."""
    warm_until: str
    water_first: str
    """What is looked at before jars go in, for every load; empty in boiling water, that
    stands over the lids when they are in."""
    cool_first: str = ""
    """The same for jars packed raw: how warm it may be at most."""
    lower_until: str
    comes_up: str
    """What happens between the lid going on and the clock starting."""
    vent: str
    """The line of the vent; empty where there is none."""
    close: str
    """The line between the vent and the clock; empty where there is no vent."""
    starts: str
    """What starts the clock, in two words: "full boil", "11 psi"."""
    pressed_at: str
    """Behind the minutes: " at 11 psi"; empty in boiling water."""
    clock: str
    rest: str
    over: str
    """What is done when the process time is over."""
    off: str
    """The same as a line of its own, with what is not done until it has stood; in
    braces the minutes of the plan, where those are what it needs."""
    cooled: str
    """The sign that it has stood for long enough."""
    open: str
    """The line of the vent that is opened at last; empty where there is none."""
    opened: str
    """And what comes after it."""
    lift_after: str


BOILING_WATER = LoadWords(
    water="hot tap water to begin with, lid on",
    warm_until="180 °F (82 °C) for hot packs, 140 °F (60 °C) for raw packs",
    water_first="",
    lower_until="1 to 2 inches (2.5 to 5 cm) of water over the lids, lid on",
    comes_up="Back to a full boil",
    vent="",
    close="",
    starts="full boil",
    pressed_at="",
    clock="the clock starts at a full boil with the lid on; if the boil is lost, bring "
    "it back and start the whole time again",
    rest="Rest, lid off",
    over="fire off, lid off",
    off=f"Fire off, lid off: jars stay in, {REST_MIN} min at least",
    cooled="then the jars are lifted",
    open="",
    opened="",
    lift_after="fire off and lid off for five minutes first",
)


_STEAM_WATER = "2 to 3 inches (5 to 8 cm) of hot water"
"""In a pressure canner before every load, since each boils some away (Michigan State
Univ. Extension leaflet 01600949)."""
DEEP_FROM_MIN = 30
"""A longer process asks for 2 inches of water over the lids (USDA Guide 1)."""
_DEEP = "2 inches (5 cm) of water over the lids, lid on"
_RAW = "140 °F (60 °C)"
"""Water for jars packed raw (USDA Complete Guide, Guide 1; Penn State Extension, Quick
process pickles)."""


def load_words(
    pressure_psi: float | None, process_min: int = 0, *, raw: bool = False
) -> LoadWords:
    """
    Return the words for a load at a published pressure, or in boiling water.

    With ``raw`` some of its jars are packed raw.

    >>> [load_words(None, minutes).lower_until[:8] for minutes in (30, 35)]
    ['1 to 2 i', '2 inches']
    >>> load_words(11.0).vent, load_words(11.0).close
    ('Vent: 10 min of steady steam', 'Close the vent; at 11 psi the clock starts')
    """
    if pressure_psi is None:
        words = BOILING_WATER
        if process_min > DEEP_FROM_MIN:
            words = replace(words, lower_until=_DEEP)
        if raw:
            words = replace(words, warm_until=f"{_RAW}: raw packs", cool_first=_RAW)
        return words
    at = f"{pressure_psi:g} psi"
    return LoadWords(
        water=_STEAM_WATER,
        warm_until=_STEAM_WATER,
        water_first=_STEAM_WATER,
        lower_until="lid locked, vent open",
        comes_up=f"Vent {VENT_MIN} min, then up to {at}",
        vent=f"Vent: {VENT_MIN} min of steady steam",
        close=f"Close the vent; at {at} the clock starts",
        starts=at,
        pressed_at=f" at {at}",
        clock=f"the clock starts at {at}; if the pressure falls, bring it back and "
        "start the whole time again",
        rest="Cools by itself, lid shut",
        over="fire off, lid shut, nothing cooled with water",
        off="Fire off: do not touch, {minutes} min",
        cooled="no pressure is left, by itself; never cooled with water",
        open=f"No pressure left: open the vent, wait {OPEN_MIN} min",
        opened="then the lid is unlocked and lifted, its far side first",
        lift_after="no pressure left and the vent open; never cooled with water",
    )


def water_check(words: LoadWords, *, again: bool) -> str:
    """
    Say what is done about the water before jars go in; mostly empty in boiling water.

    >>> water_check(load_words(15.0), again=True)
    'first 2 to 3 inches (5 to 8 cm) of hot water in it again'
    >>> water_check(load_words(None, raw=True), again=False)
    'raw packs: water at 140 °F (60 °C), not hotter, or glass cracks'
    """
    if words.cool_first:
        cooled = " (hot water out, cold in)" if again else ""
        at = f"{words.cool_first}{cooled}, not hotter"
        return f"raw packs: water at {at}, or glass cracks"
    if not words.water_first:
        return ""
    return f"first {words.water_first} in it{' again' if again else ''}"


def is_again(load: PlacedLoad, loads: Iterable[PlacedLoad]) -> bool:
    """Whether another load was in its canner before."""
    return any(o.canner == load.canner and o.lower_min < load.lower_min for o in loads)


def words_of(problem: Problem, load: PlacedLoad) -> LoadWords:
    """Return the words of a placed load."""
    process = next(p for p in problem.processes if p.id == load.process)
    return load_words(process.pressure_psi, process.minutes, raw=process.raw)
