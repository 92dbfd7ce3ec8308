"""Two plans side by side: each person's column as it was and as it is, from now on."""

from __future__ import annotations

from dataclasses import dataclass, replace

from stillroom.planning.daytime import clock_time
from stillroom.planning.second_thoughts.moves import Move, moved_words
from stillroom.planning.second_thoughts.replanned import Replanned
from stillroom.planning.words.lanes import Lane, LaneKind
from stillroom.planning.words.sheet import Sheet, day_sheet
from stillroom.web.drawing import Drawing, draw

WAS, IS = "was", "is"


@dataclass(frozen=True, slots=True, kw_only=True)
class MovedLine:
    """One line of what moves, in words."""

    was: str
    now: str
    by_min: int
    what: str
    of: str
    hands: str


def side_by_side(found: Replanned, who: str) -> tuple[Drawing, tuple[str, ...]]:
    """
    Return the drawing of both plans from now on, and the people in it.

    ``who`` is the person whose two columns a narrow screen shows.
    """
    old = day_sheet(found.problem, found.old)
    new = day_sheet(found.problem, found.new)
    now = found.happened.now_min
    lanes = []
    for was, is_ in zip(old.lanes, _like(old, new), strict=True):
        if was.kind == LaneKind.FIRE:
            continue
        lanes += [_named(was, WAS, now), _named(is_, IS, now)]
    people = tuple(lane.name for lane in old.lanes if lane.kind == LaneKind.PERSON)
    chosen = who if who in people else (people[0] if people else "")
    sheet = Sheet(
        starts_at=new.starts_at,
        lanes=tuple(lanes),
        entries=(),
        first_min=now,
        last_min=max(old.last_min, new.last_min),
    )
    drawing = draw(sheet)
    columns = tuple(
        replace(c, chosen=c.lane.name.rpartition(", ")[0] == chosen)
        for c in drawing.columns
    )
    return replace(drawing, columns=columns), people


def _like(old: Sheet, new: Sheet) -> list[Lane]:
    """Lanes of the new sheet in the order of the old one; empty where there is none."""
    found = {(lane.name, lane.kind): lane for lane in new.lanes}
    return [
        found.get((lane.name, lane.kind), replace(lane, blocks=()))
        for lane in old.lanes
    ]


def _named(lane: Lane, word: str, now: int) -> Lane:
    blocks = tuple(
        replace(b, start_min=max(b.start_min, now))
        for b in lane.blocks
        if b.end_min > now
    )
    return replace(lane, name=f"{lane.name}, {word}", blocks=blocks)


def moved_lines(found: Replanned) -> tuple[MovedLine, ...]:
    """Return what moves, in the words of the sheet."""
    return tuple(_line(found, move) for move in found.moves)


def _line(found: Replanned, move: Move) -> MovedLine:
    starts_at = found.problem.starts_at
    what, of = moved_words(found.problem, found.old, move)
    hands = move.is_by or ""
    if move.was_by != move.is_by and move.was_by:
        hands = f"{move.is_by or 'nobody'}, not {move.was_by}"
    return MovedLine(
        was=clock_time(starts_at, move.was_min),
        now=clock_time(starts_at, move.is_min),
        by_min=move.by_min,
        what=what,
        of=of,
        hands=hands,
    )
