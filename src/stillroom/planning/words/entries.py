"""The lines of the day: steps, breaks, and what is done at a canner."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from enum import StrEnum
from functools import partial

from stillroom.capital import capital
from stillroom.jar_count import jars_said
from stillroom.methods.canner_water import OPEN_MIN, RISE_MIN, VENT_MIN
from stillroom.methods.in_halves import other_half, whole_again
from stillroom.methods.step import Step
from stillroom.planning.daytime import said_minutes
from stillroom.planning.off_the_fire import canners_off_for_others, off_first
from stillroom.planning.problem import Problem
from stillroom.planning.timetable import PlacedLoad, PlacedStep, Timetable
from stillroom.planning.words.canner_moved import loads_after_a_move
from stillroom.planning.words.hour_words import the_burner
from stillroom.planning.words.load_words import (
    HOW_TO_LIFT,
    LoadWords,
    is_again,
    water_check,
)
from stillroom.planning.words.step_words import one_piece
from stillroom.planning.words.stood_closed import stood_closed


class Ink(StrEnum):
    """The kind of hand that a block asks for; each is also said in words."""

    HANDS = "hands on"
    WATCH = "watch it"
    HELD = "do not leave it"
    REST = "rest"
    HEAT = "waiting for heat"
    NEAR = "stay in the kitchen"
    STANDS = "left as it is"
    PROCESS = "process clock"
    BUSY = "in use"


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry:
    """One line of the day as a list."""

    start_min: int
    end_min: int
    who: str
    """A person, or empty where the plan gives it to nobody's hands."""
    what: str
    detail: str
    ink: Ink
    end_sign: str = ""
    caution: str = ""
    where: str = ""
    """Pot, burner or canner."""
    batch: str = ""
    load: str = ""
    near: bool = False
    """Whoever is near sees to it: the plan gives it to nobody, and it is not left."""

    @property
    def room(self) -> str:
        """The headspace where jars are filled, a part of the process; else empty."""
        return self.end_sign if "headspace" in self.end_sign else ""

    @property
    def whose(self) -> str:
        """Who it is for, in words, where it is for no one person as well."""
        return self.who or ("whoever is near" if self.near else "nobody")


def entries_of(
    problem: Problem, timetable: Timetable, words: dict[str, LoadWords]
) -> list[Entry]:
    """
    Return all lines of a timetable, in order of the clock.

    A break that begins when all work is over is left off: nobody needs to be told. Two
    halves of one cutting are one line where the same hands do them without a pause.
    """
    entries = [_step_entry(placed, step) for placed, step in _told(problem, timetable)]
    first: dict[str, PlacedLoad] = {}
    for load in sorted(timetable.loads, key=lambda x: x.lower_min):
        first.setdefault(load.canner, load)
    from_cold = {load.id for load in first.values()}
    from_cold |= loads_after_a_move(problem, timetable)
    entries += [
        entry
        for load in timetable.loads
        for entry in _load_entries(
            load,
            words[load.process],
            from_cold=load.id in from_cold,
            stood=_stood(load, timetable),
            caution=_stood_closed(problem, timetable, load),
            again=is_again(load, timetable.loads),
        )
    ]
    entries += [
        Entry(
            start_min=rest.start_min,
            end_min=rest.end_min,
            who=rest.person,
            what="Break",
            detail="off your feet",
            ink=Ink.REST,
        )
        for rest in timetable.breaks
        if rest.start_min < timetable.finish_min
    ]
    entries += _of_others(problem, timetable)
    entries.sort(key=lambda e: (e.start_min, e.end_min, e.who, e.what))
    return entries


def _of_others(problem: Problem, timetable: Timetable) -> Iterator[Entry]:
    """Burners that are taken while there is work, and the canners to be off them."""
    off: dict[tuple[int, str], list[str]] = {}
    for minute, name, canner in canners_off_for_others(problem, timetable):
        off.setdefault((minute, name), []).append(canner)
    for burner in problem.burners:
        for start, end in burner.taken_apart:
            canners = off.get((start, burner.id))
            if start < timetable.finish_min:
                yield Entry(
                    start_min=start,
                    end_min=end,
                    who="",
                    what=f"{capital(the_burner(burner.id))} is taken",
                    detail=off_first(canners) if canners else "nothing of the plan",
                    ink=Ink.BUSY,
                    near=True,
                )


def _ink(quarters: int) -> Ink:
    return {0: Ink.HEAT, 1: Ink.WATCH, 2: Ink.WATCH, 3: Ink.HANDS}.get(
        quarters, Ink.HELD
    )


def _told(problem: Problem, timetable: Timetable) -> Iterator[tuple[PlacedStep, Step]]:
    """What was placed with its step, two halves as one where they are one piece."""
    steps = {(b.id, s.id): s for b in problem.batches for s in b.steps}
    told = {(s.batch, s.step): s for s in timetable.steps}
    for batch, name in tuple(told):
        one, other = told.get((batch, name)), told.get((batch, other_half(name)))
        if one is None or other is None:
            continue
        first, then = sorted((one, other), key=lambda half: half.start_min)
        if one_piece(first, then):
            key = (first.batch, first.step)
            steps[key] = whole_again(steps[key])
            told[key] = replace(first, end_min=then.end_min)
            del told[then.batch, then.step]
    for key, placed in told.items():
        yield placed, steps[key]


def _step_entry(placed: PlacedStep, step: Step) -> Entry:
    return Entry(
        start_min=placed.start_min,
        end_min=placed.end_min,
        who=placed.person or "",
        what=step.verb,
        detail=step.note,
        ink=_ink(placed.quarters),
        end_sign=step.end_sign,
        caution=step.caution,
        where=" on ".join(part for part in (placed.pot, placed.burner) if part),
        batch=placed.batch,
    )


STAYS_WARM_MIN = 240
"""About so long 20 L of it, lid on, stay as warm as the minutes of relighting ask: an
estimate. [min]"""


AIR_LEFT = (
    "steam has streamed all that time; air left inside keeps the canner cooler than "
    "its gauge says"
)
EMPTIED = "its last load got no whole process: fill it hot from the tap; lid on"
"""Where glass was cleared out of cold water, or nobody knows how warm it is."""


def _stood(load: PlacedLoad, timetable: Timetable) -> str:
    """What a canner is like that has stood with its fire off and is lit again."""
    before = [
        other
        for other in timetable.loads
        if other.canner == load.canner and other.out_min <= load.heat_min
    ]
    if not before:
        return _again(0)
    last = max(before, key=lambda other: other.out_min)
    return EMPTIED if last.is_cut_short else _again(load.heat_min - last.out_min)


def _stood_closed(problem: Problem, timetable: Timetable, load: PlacedLoad) -> str:
    """Say of jars that stand too long before a load that they are not canned so."""
    jars = stood_closed(problem, timetable, load)
    return "" if jars is None else capital(jars.words(problem.starts_at))


def _load_entries(
    load: PlacedLoad,
    words: LoadWords,
    *,
    from_cold: bool,
    stood: str,
    again: bool,
    caution: str,
) -> tuple[Entry, ...]:
    """Warming the water, lowering, the process clock, and lifting out.

    Under pressure the venting too: ten minutes that nobody may leave out. At its end
    the fire goes off at a minute of its own. A load that came to no whole process has
    none of that, but that it is over.
    """
    jars = ", ".join(f"{count} of {batch}" for batch, count in load.jars)
    entry = partial(Entry, where=load.canner, load=load.id)

    def for_who_is_near(
        told: Iterable[tuple[int, int, str, str]], ink: Ink
    ) -> Iterator[Entry]:
        for start, end, what, until in told:
            yield entry(
                start_min=start,
                end_min=end,
                who="",
                what=what,
                detail=jars,
                ink=ink,
                end_sign=until,
                near=True,
            )

    if load.is_cut_short:
        return (
            entry(
                start_min=load.lower_min,
                end_min=load.out_min,
                who="",
                what="No whole process",
                detail=f"{jars}: broken, or given up",
                ink=Ink.BUSY,
                end_sign=words.lift_after if load.out_min > load.done_min else "",
            ),
        )
    found = []
    if load.heat_min < load.lower_min:
        found.append(
            entry(
                start_min=load.heat_min,
                end_min=load.lower_min,
                who="",
                what="Light the canner, warm the water"
                if from_cold
                else "Light the canner again",
                detail=words.water if from_cold or words.water_first else stood,
                ink=Ink.HEAT,
                end_sign=words.warm_until,
            )
        )
    found.append(
        entry(
            start_min=load.lower_min,
            end_min=load.lowered_min,
            who=load.lowered_by,
            what=f"Lower {jars_said(load.count)}",
            detail=" · ".join(filter(None, (water_check(words, again=again), jars))),
            ink=Ink.HANDS,
            end_sign=words.lower_until,
            caution=caution,
        )
    )
    found += for_who_is_near(_coming_up(load, words), Ink.NEAR)
    found += [
        entry(
            start_min=load.boil_min,
            end_min=load.done_min,
            who="",
            what=f"Process {load.process_min} min{words.pressed_at}",
            detail=jars,
            ink=Ink.PROCESS,
            end_sign=words.clock,
            near=bool(words.pressed_at),
        ),
        *for_who_is_near(_over(load, words), Ink.STANDS),
        entry(
            start_min=load.lift_min,
            end_min=load.out_min,
            who=load.lifted_by,
            what=f"Lift {jars_said(load.count)} out",
            detail=HOW_TO_LIFT,
            ink=Ink.HANDS,
            end_sign=words.lift_after,
        ),
    ]
    return tuple(found)


def _coming_up(
    load: PlacedLoad, words: LoadWords
) -> Iterator[tuple[int, int, str, str]]:
    """
    From the last jar in to the clock, under pressure: start, end, what, until when.

    What the plan gives it beyond venting and the rise is the way up to steam. Where a
    day under way leaves less than those two, it is one line: no vent is made shorter.
    """
    if not words.vent:
        return
    closes = load.boil_min - RISE_MIN
    steams = closes - VENT_MIN
    if steams < load.lowered_min:
        yield load.lowered_min, load.boil_min, words.comes_up, words.clock
        return
    if steams > load.lowered_min:
        yield load.lowered_min, steams, "Heat, vent open", "steam streams steadily"
    yield steams, closes, words.vent, AIR_LEFT
    yield closes, load.boil_min, words.close, words.clock


def _over(load: PlacedLoad, words: LoadWords) -> Iterator[tuple[int, int, str, str]]:
    """From the fire off to the first jar out: start, end, what, until when."""
    opens = load.lift_min - (OPEN_MIN if words.open else 0)
    if opens <= load.done_min:
        opens = load.lift_min
    stands = opens - load.done_min
    if stands > 0:
        yield load.done_min, opens, words.off.format(minutes=stands), words.cooled
    if opens < load.lift_min:
        yield opens, load.lift_min, words.open, words.opened


def _again(stood_min: int) -> str:
    """
    Say what a canner is like that is lit again.

    >>> _again(40), _again(570)[:44]
    ('its water is warm still; lid on', 'it has stood 9 h 30 min and may be cold: lig')
    """
    if stood_min <= STAYS_WARM_MIN:
        return "its water is warm still; lid on"
    return (
        f"it has stood {said_minutes(stood_min)} and may be cold: light it sooner, or "
        "fill it hot from the tap; lid on"
    )
