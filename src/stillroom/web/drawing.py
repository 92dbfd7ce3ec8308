"""
The day sheet as geometry: columns, what stands beside what, and how tall a minute is.

The page draws it with classes alone (``at-95 for-12``), since no style may stand in a
page; `minutes_css` gives those classes their meaning, the same for every day.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass, replace
from functools import cache

from stillroom.planning.daytime import since_midnight_min
from stillroom.planning.words.entries import Ink
from stillroom.planning.words.lanes import Block, Lane, LaneKind
from stillroom.planning.words.sheet import Sheet

LINE_PX = 24
"""Height of one line of text in a block, its rules included. [px]"""
NEXT_LINE_PX = 18
LETTERS_A_LINE = 34
"""Letters that a line holds in the column of one of three people on a desk."""
LEAST_PX = 4
READABLE_PX = 8
"""Beyond this height of a minute no second line is made room for."""
HELD_PX = 16
"""The same for what cannot be left: all that is to be done there is read there."""
NARROW = 0.36
"""Share of the width that what is only watched has beside other work."""
MOST_PX = 24
"""At this height of a minute a single one holds a line."""
LONG_ENOUGH_MIN = 5
MOST_FREE_MIN = 30
"""Below the last block of a column. [min]"""
LONGEST_MIN = 36 * 60


@dataclass(frozen=True, slots=True)
class Run:
    """
    Blocks that are drawn as one: they follow each other in one hand and one ink.

    "Sugar in", "boil hard 1 min" and "skim" are five minutes at one pot. Drawn apart, a
    single minute would have to be as tall as a line of text, and the day ten metres.
    """

    blocks: tuple[Block, ...]

    @property
    def start_min(self) -> int:
        """Start of the first."""
        return self.blocks[0].start_min

    @property
    def end_min(self) -> int:
        """End of the last."""
        return self.blocks[-1].end_min

    @property
    def details(self) -> str:
        """Their details, each once; of jars that are filled the headspace first."""
        return ", ".join(dict.fromkeys(filter(None, map(_told, self.blocks))))


def _told(block: Block) -> str:
    """Its detail, behind its headspace; a batch that stands for none stands above."""
    if not block.room:
        return block.detail
    detail = "" if block.detail == block.batch else block.detail
    return " · ".join(filter(None, (block.room, detail)))


@dataclass(frozen=True, slots=True)
class Placed:
    """A run with its place: which part of its column's width, counted from 0."""

    run: Run
    at_min: int
    """Minutes below the top of the sheet."""
    for_min: int
    part: int
    parts: int
    narrow: int | None = None
    """Of two parts the one that is only watched: the other gets more of the width."""
    free_min: int = 0
    """Minutes below it in which nothing stands."""
    hangs_min: int = 0
    """Minutes by which its words reach below it, where they are too many for it."""

    @property
    def share(self) -> float:
        """Part of the column's width that it has."""
        if self.narrow is None:
            return 1 / self.parts
        return NARROW if self.part == self.narrow else 1 - NARROW

    @property
    def words_px(self) -> int:
        """Height of what it must say: each step, and of which batch. [px]"""
        letters = sum(len(block.title) + 3 for block in self.run.blocks)
        letters += len(self.run.blocks[0].batch)
        lines = max(1, math.ceil(letters / (LETTERS_A_LINE * self.share)))
        return LINE_PX + (lines - 1) * NEXT_LINE_PX


@dataclass(frozen=True, slots=True)
class Column:
    """A lane as it is drawn."""

    lane: Lane
    placed: tuple[Placed, ...]
    chosen: bool
    """Shown where there is room for one person alone."""


@dataclass(frozen=True, slots=True)
class Mark:
    """A line across the sheet with its clock time."""

    at_min: int
    text: str
    full_hour: bool


@dataclass(frozen=True, slots=True)
class Drawing:
    """The sheet, ready to be drawn."""

    columns: tuple[Column, ...]
    marks: tuple[Mark, ...]
    minutes: int
    """From the top of the sheet to its foot."""
    minute_px: int

    def of_kind(self, kind: str) -> tuple[Column, ...]:
        """Columns of the persons, the fires, or the canners."""
        return tuple(c for c in self.columns if c.lane.kind == kind)


def draw(sheet: Sheet, *, who: str = "") -> Drawing:
    """
    Return the drawing of a sheet.

    Parameters
    ----------
    sheet : Sheet
        Lanes of blocks.
    who : str
        Person whose column a narrow screen shows; the first where nobody is so called.
    """
    people = [lane.name for lane in sheet.lanes if lane.kind == LaneKind.PERSON]
    chosen = who if who in people else (people[0] if people else "")
    top, foot = _half_hours(sheet)
    columns = []
    for lane in sheet.lanes:
        placed = side_by_side(_runs_of(lane), top)
        columns.append(
            Column(
                lane,
                placed,
                chosen=lane.name == chosen and lane.kind == LaneKind.PERSON,
            )
        )
    offset = since_midnight_min(sheet.starts_at)
    marks = tuple(
        Mark(at - top, _marked(sheet, at, top), (offset + at) % 60 == 0)
        for at in range(top, foot + 1, 30)
    )
    px = minute_px(columns)
    return Drawing(tuple(_hung(c, px) for c in columns), marks, foot - top, px)


def _marked(sheet: Sheet, at: int, top: int) -> str:
    """The hour of a mark; a night is named by the first of its marks alone."""
    hour, _, night = sheet.clock(at).partition(" ")
    named = at > top and sheet.clock(at - 30).endswith(night)
    return hour if named or not night else f"{hour} {night}"


def _hung(column: Column, px: int) -> Column:
    """Let words reach below a person's short block, as far as nothing stands there."""
    if column.lane.kind != LaneKind.PERSON:
        return column
    placed = tuple(
        replace(p, hangs_min=min(p.free_min, -(-p.words_px // px) - p.for_min))
        if p.words_px > p.for_min * px
        else p
        for p in column.placed
    )
    return replace(column, placed=placed)


def _runs_of(lane: Lane) -> tuple[Run, ...]:
    """Only a person's own steps are joined: a canner's differ in kind."""
    if lane.kind == LaneKind.PERSON:
        return runs(lane.blocks)
    return tuple(Run((block,)) for block in lane.blocks)


def runs(blocks: Iterable[Block]) -> tuple[Run, ...]:
    """
    Join short blocks to the one before: same batch and ink, without a gap.

    Blocks of `LONG_ENOUGH_MIN` and more stand alone, except next to a shorter one.
    """
    joined: list[Run] = []
    for block in sorted(blocks, key=lambda b: (b.start_min, b.end_min)):
        before = next(
            (
                at
                for at, run in enumerate(joined)
                if run.end_min == block.start_min and _goes_with(run, block)
            ),
            None,
        )
        if before is None:
            joined.append(Run((block,)))
        else:
            joined[before] = Run((*joined[before].blocks, block))
    return tuple(joined)


def _goes_with(run: Run, block: Block) -> bool:
    last = run.blocks[-1]
    of_one = (last.batch, last.load) == (block.batch, block.load)
    short = (
        min(last.end_min - last.start_min, block.end_min - block.start_min)
        < LONG_ENOUGH_MIN
    )
    return of_one and last.ink == block.ink and short


def side_by_side(all_runs: Iterable[Run], top_min: int = 0) -> tuple[Placed, ...]:
    """
    Place the runs of one column so that none covers another.

    Runs that overlap, also by way of a third, share the width; each takes the first
    part that is free when it starts.
    """
    placed: list[Placed] = []
    group: list[tuple[Run, int]] = []
    ends: list[int] = []  # when each part of the group's width is free again

    def close_group() -> None:
        watched = [
            all(run.blocks[0].ink == Ink.WATCH for run, at in group if at == part)
            for part in range(len(ends))
        ]
        # Where both are only watched, or neither, they share alike.
        narrow = watched.index(True) if len(ends) == 2 and sum(watched) == 1 else None
        placed.extend(
            Placed(
                run,
                run.start_min - top_min,
                run.end_min - run.start_min,
                part,
                len(ends),
                narrow,
            )
            for run, part in group
        )
        group.clear()
        ends.clear()

    for run in sorted(all_runs, key=lambda r: (r.start_min, -r.end_min)):
        if group and all(end <= run.start_min for end in ends):
            close_group()
        part = next(
            (i for i, end in enumerate(ends) if end <= run.start_min), len(ends)
        )
        if part == len(ends):
            ends.append(run.end_min)
        else:
            ends[part] = run.end_min
        group.append((run, part))
    close_group()
    return tuple(replace(p, free_min=_free_below(p, placed)) for p in placed)


def _free_below(one: Placed, placed: Iterable[Placed]) -> int:
    """Return for how long nothing stands below, at its width or any part of it."""
    end = one.at_min + one.for_min
    below = [
        other.at_min - end
        for other in placed
        if other.at_min >= end
        and (
            (other.parts, other.narrow) != (one.parts, one.narrow)
            or other.part == one.part
        )
    ]
    return min(below, default=MOST_FREE_MIN)


def minute_px(columns: Iterable[Column]) -> int:
    """
    Height of a minute at which every run holds its words. [px]

    A line at least, however short; a second and third line where the words ask for
    them, but not at any price: the list has all words in full.
    """
    least = LEAST_PX
    for column in columns:
        if column.lane.kind == LaneKind.FIRE:  # its words run down the column
            continue
        for placed in column.placed:
            if placed.for_min <= 0:
                continue
            one_line = -(-LINE_PX // placed.for_min)
            letters = sum(len(block.title) + 3 for block in placed.run.blocks)
            lines = -(-letters * placed.parts // LETTERS_A_LINE)
            all_lines = -(-(LINE_PX + (lines - 1) * NEXT_LINE_PX) // placed.for_min)
            least = max(least, one_line, min(all_lines, READABLE_PX))
            if placed.run.blocks[0].ink == Ink.HELD:
                room = placed.for_min + placed.free_min
                least = max(least, min(-(-placed.words_px // room), HELD_PX))
    return min(MOST_PX, least)


@cache
def minutes_css() -> str:
    """Classes for minutes, widths and heights of a minute, the same for every day."""
    rules = [f".at-{m}{{--at:{m}}}" for m in range(LONGEST_MIN + 1)]
    rules += [f".for-{m}{{--for:{m}}}" for m in range(LONGEST_MIN + 1)]
    rules += [f".minute-{px}{{--minute-px:{px}}}" for px in range(1, MOST_PX + 1)]
    rules += [f".hangs-{m}{{--hangs:{m}}}" for m in range(MOST_FREE_MIN + 1)]
    rules += [f".part-{i}{{--part:{i}}}.parts-{i}{{--parts:{i}}}" for i in range(9)]
    return "\n".join(rules) + "\n"


def _half_hours(sheet: Sheet) -> tuple[int, int]:
    """Half hours of the clock that frame the sheet, in minutes of the day's plan."""
    offset = since_midnight_min(sheet.starts_at)
    first = min(
        (block.start_min for lane in sheet.lanes for block in lane.blocks),
        default=sheet.first_min,
    )
    last = max(
        (block.end_min for lane in sheet.lanes for block in lane.blocks),
        default=sheet.last_min,
    )
    top = (first + offset) // 30 * 30 - offset
    foot = -(-(last + offset) // 30) * 30 - offset
    return top, foot
