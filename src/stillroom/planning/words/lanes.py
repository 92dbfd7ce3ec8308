"""The lanes of the day: people, fires and canners, each with its blocks."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from stillroom.jar_count import jars_said
from stillroom.planning.problem import Problem
from stillroom.planning.timetable import Timetable
from stillroom.planning.words.entries import Entry, Ink
from stillroom.planning.words.load_words import LoadWords


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
    room: str = ""
    """The headspace, which a card has no other line for."""
    end_sign: str = ""
    caution: str = ""
    where: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Lane:
    """A person, a fire or a canner, with its blocks in order."""

    name: str
    kind: LaneKind
    blocks: tuple[Block, ...]


def lanes_of(
    problem: Problem,
    timetable: Timetable,
    entries: list[Entry],
    words: dict[str, LoadWords],
) -> tuple[Lane, ...]:
    """Return a lane for everybody, and one for each fire and canner that is used."""
    return (
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
                room=e.room,
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
    blocks += [
        Block(
            start_min=start,
            end_min=end,
            title="taken",
            detail="somebody else's",
            ink=Ink.BUSY,
        )
        for burner in problem.burners
        if burner.id == name
        for start, end in burner.taken_apart
        if start < timetable.finish_min
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
            (
                load.heat_min,
                load.lower_min,
                "Warm the water",
                said.water_first or "lid on",
                Ink.HEAT,
            ),
            (
                load.lower_min,
                load.lowered_min,
                f"{jars_said(load.count)} in",
                load.process,
                Ink.BUSY,
            ),
            (
                load.lowered_min,
                load.boil_min,
                said.comes_up,
                "",
                Ink.NEAR if said.vent else Ink.HEAT,
            ),
            (
                load.boil_min,
                load.done_min,
                "No whole process"
                if load.is_cut_short
                else f"{load.process_min} min process",
                load.id,
                Ink.PROCESS,
            ),
            (load.done_min, load.lift_min, said.rest, "", Ink.STANDS),
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
