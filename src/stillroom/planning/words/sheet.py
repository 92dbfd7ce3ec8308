"""
The day sheet: lanes of blocks, and the same as a list in order of the clock.

Screen, terminal and paper all draw from this one description, so that they cannot
differ.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from stillroom.jar_count import jars_said
from stillroom.methods.step import Step
from stillroom.planning.daytime import clock_time, from_to, said_minutes
from stillroom.planning.problem import Problem
from stillroom.planning.rinses import as_worked
from stillroom.planning.timetable import PlacedLoad, PlacedStep, Timetable
from stillroom.planning.words.canner_moved import loads_after_a_move
from stillroom.planning.words.load_words import HOW_TO_LIFT, LoadWords, load_words


class Ink(StrEnum):
    """The kind of hand that a block asks for; each is also said in words."""

    HANDS = "hands on"
    WATCH = "watch it"
    HELD = "do not leave it"
    REST = "rest"
    HEAT = "waiting for heat"
    PROCESS = "process clock"
    BUSY = "in use"


class LaneKind(StrEnum):
    """What a lane stands for."""

    PERSON = "person"
    FIRE = "fire"
    CANNER = "canner"


@dataclass(frozen=True, slots=True, kw_only=True)
class Block:
    """One thing in one lane, from minute to minute."""

    start_min: int
    end_min: int
    title: str
    detail: str
    ink: Ink
    batch: str = ""
    load: str = ""
    step: str = ""
    end_sign: str = ""
    caution: str = ""
    where: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Lane:
    """A person, a fire or a canner, with its blocks in order."""

    name: str
    kind: LaneKind
    blocks: tuple[Block, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry:
    """One line of the day as a list."""

    start_min: int
    end_min: int
    who: str
    """A person, a canner, or empty where nobody is needed."""
    what: str
    detail: str
    ink: Ink
    end_sign: str = ""
    caution: str = ""
    where: str = ""
    """Pot, burner or canner."""
    batch: str = ""
    load: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheet:
    """The drawn day."""

    starts_at: str
    lanes: tuple[Lane, ...]
    entries: tuple[Entry, ...]
    first_min: int
    last_min: int

    def clock(self, minute: int) -> str:
        """Clock time of a minute of the day: "7:30"."""
        return clock(self.starts_at, minute)

    def from_to(self, since: int, until: int) -> str:
        """Two clock times of it: "7:30–7:45"."""
        return from_to(self.starts_at, since, until)


def clock(starts_at: str, minute: int) -> str:
    """
    Clock time of a minute after the start; a day later is said.

    >>> clock("07:30", 95)
    '9:05'
    >>> clock("22:00", 150)
    '0:30 (next day)'
    """
    return clock_time(starts_at, minute)


def day_sheet(problem: Problem, timetable: Timetable) -> Sheet:
    """
    Return the sheet of a timetable.

    A break that begins when all work is over is left off: nobody needs to be told.
    """
    problem = as_worked(problem, timetable)
    steps = {(b.id, s.id): s for b in problem.batches for s in b.steps}
    entries = [_step_entry(placed, steps) for placed in timetable.steps]
    words = {p.id: load_words(p.pressure_psi, p.minutes) for p in problem.processes}
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
            stood_min=_stood_min(load, timetable),
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
    entries.sort(key=lambda e: (e.start_min, e.end_min, e.who, e.what))
    lanes = (
        *(_person_lane(person.id, entries) for person in problem.people),
        *(
            lane
            for burner in problem.burners
            if (lane := _fire_lane(burner.id, problem, timetable)).blocks
        ),
        *(
            lane
            for canner in problem.canners
            if (lane := _canner_lane(canner.id, timetable, words)).blocks
        ),
    )
    return Sheet(
        starts_at=problem.starts_at,
        lanes=lanes,
        entries=tuple(entries),
        first_min=min((e.start_min for e in entries), default=0),
        last_min=timetable.finish_min,
    )


def _ink(quarters: int) -> Ink:
    return {0: Ink.HEAT, 1: Ink.WATCH, 2: Ink.WATCH, 3: Ink.HANDS}.get(
        quarters, Ink.HELD
    )


def _step_entry(placed: PlacedStep, steps: dict[tuple[str, str], Step]) -> Entry:
    step = steps[placed.batch, placed.step]
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


def _stood_min(load: PlacedLoad, timetable: Timetable) -> int:
    """How long a canner has stood with its fire off before it is lit again. [min]"""
    outs = [
        other.out_min
        for other in timetable.loads
        if other.canner == load.canner and other.out_min <= load.heat_min
    ]
    return load.heat_min - max(outs, default=load.heat_min)


def _load_entries(
    load: PlacedLoad, words: LoadWords, *, from_cold: bool, stood_min: int
) -> tuple[Entry, ...]:
    """Warming the water, lowering, the process clock, and lifting out.

    Under pressure the venting too: ten minutes that nobody may leave out.
    """
    jars = ", ".join(f"{count} of {batch}" for batch, count in load.jars)
    warming = (
        (
            Entry(
                start_min=load.heat_min,
                end_min=load.lower_min,
                who="",
                what="Light the canner, warm the water"
                if from_cold
                else "Light the canner again",
                detail=words.water if from_cold else _again(stood_min),
                ink=Ink.HEAT,
                end_sign=words.warm_until,
                where=load.canner,
                load=load.id,
            ),
        )
        if load.heat_min < load.lower_min
        else ()
    )
    venting = (
        (
            Entry(
                start_min=load.lowered_min,
                end_min=load.boil_min,
                who="",
                what=words.comes_up,
                detail=jars,
                ink=Ink.HEAT,
                end_sign=words.clock,
                where=load.canner,
                load=load.id,
            ),
        )
        if words.pressed_at
        else ()
    )
    return (
        *warming,
        Entry(
            start_min=load.lower_min,
            end_min=load.lowered_min,
            who=load.lowered_by,
            what=f"Lower {jars_said(load.count)}",
            detail=jars,
            ink=Ink.HANDS,
            end_sign=words.lower_until,
            where=load.canner,
            load=load.id,
        ),
        *venting,
        Entry(
            start_min=load.boil_min,
            end_min=load.done_min,
            who="",
            what=f"Process {load.process_min} min{words.pressed_at}",
            detail=jars,
            ink=Ink.PROCESS,
            end_sign=words.clock,
            where=load.canner,
            load=load.id,
        ),
        Entry(
            start_min=load.lift_min,
            end_min=load.out_min,
            who=load.lifted_by,
            what=f"Lift {jars_said(load.count)} out",
            detail=HOW_TO_LIFT,
            ink=Ink.HANDS,
            end_sign=words.lift_after,
            where=load.canner,
            load=load.id,
        ),
    )


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


def _person_lane(name: str, entries: list[Entry]) -> Lane:
    return Lane(
        name=name,
        kind=LaneKind.PERSON,
        blocks=tuple(
            Block(
                start_min=e.start_min,
                end_min=e.end_min,
                title=e.what,
                detail=e.detail or e.batch,
                ink=e.ink,
                batch=e.batch,
                load=e.load,
                end_sign=e.end_sign,
                caution=e.caution,
                where=e.where,
            )
            for e in entries
            if e.who == name
        ),
    )


def _fire_lane(name: str, problem: Problem, timetable: Timetable) -> Lane:
    blocks = [
        Block(
            start_min=s.start_min,
            end_min=s.end_min,
            title=s.pot or "jars in hot water",
            detail=s.batch,
            ink=Ink.BUSY,
            batch=s.batch,
            step=s.step,
        )
        for s in timetable.steps
        if s.burner == name
    ]
    covers = {c.id for c in problem.canners if name in c.burners}
    blocks += [
        Block(
            start_min=load.heat_min,
            end_min=load.stands_until_min,
            title=load.canner,
            detail=load.id,
            ink=Ink.BUSY,
            load=load.id,
        )
        for load in timetable.loads
        if load.canner in covers
    ]
    return Lane(name=name, kind=LaneKind.FIRE, blocks=_joined(blocks))


def _joined(blocks: list[Block]) -> tuple[Block, ...]:
    """Blocks of one pot or canner that follow without a gap, as one."""
    joined: list[Block] = []
    for block in sorted(blocks, key=lambda b: (b.start_min, b.end_min)):
        last = joined[-1] if joined else None
        if (
            last is not None
            and last.end_min >= block.start_min
            and last.title == block.title
            and (last.batch == block.batch)
        ):
            joined[-1] = Block(
                start_min=last.start_min,
                end_min=max(last.end_min, block.end_min),
                title=last.title,
                detail=last.detail,
                ink=last.ink,
                batch=last.batch,
                load=last.load,
            )
        else:
            joined.append(block)
    return tuple(joined)


def _canner_lane(name: str, timetable: Timetable, words: dict[str, LoadWords]) -> Lane:
    blocks: list[Block] = []
    for load in timetable.loads:
        if load.canner != name:
            continue
        said = words[load.process]
        parts = [
            (load.heat_min, load.lower_min, "Warm the water", "lid on", Ink.HEAT),
            (
                load.lower_min,
                load.lowered_min,
                f"{jars_said(load.count)} in",
                load.process,
                Ink.BUSY,
            ),
            (load.lowered_min, load.boil_min, said.comes_up, "", Ink.HEAT),
            (
                load.boil_min,
                load.done_min,
                f"{load.process_min} min process",
                load.id,
                Ink.PROCESS,
            ),
            (load.done_min, load.lift_min, said.rest, "", Ink.HEAT),
            (load.lift_min, load.out_min, "Jars out", "", Ink.BUSY),
        ]
        blocks += [
            Block(
                start_min=start,
                end_min=end,
                title=title,
                detail=detail,
                ink=ink,
                load=load.id,
            )
            for start, end, title, detail, ink in parts
            if end > start
        ]
    return Lane(
        name=name,
        kind=LaneKind.CANNER,
        blocks=tuple(sorted(blocks, key=lambda b: b.start_min)),
    )
