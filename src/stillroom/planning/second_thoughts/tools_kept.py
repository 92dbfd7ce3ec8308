"""Pots, fires and mills of the rest of a day by name: kept where they can be."""

from __future__ import annotations

from collections.abc import Hashable, Sequence
from dataclasses import dataclass, replace

from stillroom.planning.begun.residual import Residual
from stillroom.planning.cpsat.variables import burner_classes
from stillroom.planning.problem import Problem
from stillroom.planning.rinses import Tool, next_in, wash_of
from stillroom.planning.timetable import PlacedStep, Timetable


@dataclass(frozen=True, slots=True)
class _Span:
    key: Hashable
    start: int
    end: int
    held: str | None
    """The thing that it stands on now, which it keeps."""
    liked: str | None
    """What it had in the old plan."""


def with_tools_kept(
    residual: Residual, rest: Timetable, old: Timetable, now: int
) -> Timetable:
    """
    Give pots, burners and mills their old names again, wherever they are free.

    What has begun keeps its own. Things of one kind are alike to the rules, and no
    more are held at once than there are, so that a free one is always left.
    """
    pot = _pots(residual, rest, old, now)
    mill = _mills(residual, rest, old, now)
    burner = _burners(residual, rest, old, now)
    steps = tuple(
        replace(
            s,
            pot=pot.get(s.batch, s.pot) if s.pot is not None else None,
            mill=mill.get(s.batch, s.mill) if s.mill is not None else None,
            burner=burner.get((s.batch, s.step), s.burner),
        )
        for s in rest.steps
    )
    return replace(rest, steps=steps)


def _named(spans: Sequence[_Span], names: Sequence[str]) -> dict[Hashable, str]:
    """A free name for each span in the order of their starts."""
    free_from = dict.fromkeys(names, -1)
    given: dict[Hashable, str] = {}
    for span in sorted(spans, key=lambda s: (s.start, s.held is None, s.end)):
        if span.held is not None:
            name = span.held
        else:
            free = [n for n in names if free_from[n] <= span.start]
            if span.liked in free:
                name = str(span.liked)
            else:
                name = max(free, key=lambda n: (free_from[n], -names.index(n)))
        given[span.key] = name
        free_from[name] = max(free_from.get(name, -1), span.end)
    return given


def _in_turn(
    spans: Sequence[_Span], then: dict[str, str], names: Sequence[str]
) -> dict[str, str]:
    """Names by batch; batches between which there is only a rinse share one."""
    of = {str(span.key): span for span in spans}
    given: dict[str, str] = {}
    lines: dict[str, list[str]] = {}
    follows = {then[batch] for batch in of if batch in then}
    for first in of:
        if first in follows:
            continue
        lines[first] = [first]
        while (last := lines[first][-1]) in then:
            lines[first].append(then[last])
    whole = [
        replace(of[first], end=max(of[name].end for name in line))
        for first, line in lines.items()
    ]
    for key, name in _named(whole, names).items():
        given.update(dict.fromkeys(lines[str(key)], name))
    return given


def _then(residual: Residual, rest: Timetable, tool: Tool) -> dict[str, str]:
    """Batch to the one that has its pot or mill after a rinse."""
    rinsed = {(s.batch, s.step) for s in rest.steps if s.rinsed}
    found = {}
    batch_of = {b.id: b for b in residual.problem.batches}
    for before, after in next_in(residual.problem, rest, tool):
        wash = wash_of(batch_of[before], tool)
        if wash is not None and (before, wash.id) in rinsed:
            found[before] = after
    return found


def _pots(
    residual: Residual, rest: Timetable, old: Timetable, now: int
) -> dict[str, str]:
    size_of = {p.id: p.size for p in residual.problem.pots}
    was = {s.batch: s.pot for s in old.steps if s.pot is not None}
    spans: dict[str, list[_Span]] = {}
    for batch in residual.problem.batches:
        mine = [s for s in rest.steps if s.batch == batch.id and s.pot is not None]
        if not mine:
            continue
        held = residual.pot.get(batch.id)
        start = now if held else min(s.start_min for s in mine)
        for waits in residual.rinsed:
            if waits.tool is Tool.POT and waits.batch == batch.id:
                held, start = waits.name, max(now, waits.since_min)
        end = max(s.end_min for s in mine)
        size = size_of[held or str(mine[0].pot)]
        spans.setdefault(size, []).append(
            _Span(batch.id, start, end, held, was.get(batch.id))
        )
    found: dict[str, str] = {}
    then = _then(residual, rest, Tool.POT)
    for size, held_spans in spans.items():
        names = [p.id for p in residual.problem.pots if p.size == size]
        found.update(_in_turn(held_spans, then, names))
    return found


def _mills(
    residual: Residual, rest: Timetable, old: Timetable, now: int
) -> dict[str, int]:
    was = {s.batch: s.mill for s in old.steps if s.mill is not None}
    spans = []
    for batch in residual.problem.batches:
        mine = [s for s in rest.steps if s.batch == batch.id and s.mill is not None]
        if not mine:
            continue
        mill = residual.mill.get(batch.id)
        held = str(mill) if mill else None
        start = now if held else min(s.start_min for s in mine)
        for waits in residual.rinsed:
            if waits.tool is Tool.MILL and waits.batch == batch.id:
                held, start = waits.name, max(now, waits.since_min)
        liked = str(was[batch.id]) if batch.id in was else None
        end = max(s.end_min for s in mine)
        spans.append(_Span(batch.id, start, end, held, liked))
    names = [str(n + 1) for n in range(residual.problem.mills)]
    given = _in_turn(spans, _then(residual, rest, Tool.MILL), names)
    return {batch: int(name) for batch, name in given.items()}


def _burners(
    residual: Residual, rest: Timetable, old: Timetable, now: int
) -> dict[tuple[str, str], str]:
    """Fires of one pot that touch are one burner's."""
    problem: Problem = residual.problem
    in_pot = {(b.id, s.id): s.in_pot for b in problem.batches for s in b.steps}
    was = {(s.batch, s.step): s.burner for s in old.steps}
    found: dict[tuple[str, str], str] = {}
    for alike in burner_classes(problem):
        fires = [s for s in rest.steps if s.burner in alike.burners]
        merged: list[list[PlacedStep]] = []
        for s in sorted(fires, key=lambda s: (s.start_min, s.end_min)):
            for blocks in merged:
                if (
                    in_pot[s.batch, s.step]
                    and in_pot[blocks[0].batch, blocks[0].step]
                    and blocks[0].batch == s.batch
                    and max(b.end_min for b in blocks) >= s.start_min
                ):
                    blocks.append(s)
                    break
            else:
                merged.append([s])
        spans = []
        for n, blocks in enumerate(merged):
            held = next(
                (
                    residual.burner[b.batch, b.step]
                    for b in blocks
                    if (b.batch, b.step) in residual.burner
                ),
                None,
            )
            first = min(blocks, key=lambda b: b.start_min)
            if in_pot[first.batch, first.step] and first.start_min == now:
                held = held or residual.on_fire.get(first.batch)
            liked = was.get((blocks[0].batch, blocks[0].step))
            start = min(b.start_min for b in blocks)
            end = max(b.end_min for b in blocks)
            spans.append(_Span(n, start, end, held, liked))
        for key, name in _named(spans, alike.burners).items():
            assert isinstance(key, int)
            found.update({(b.batch, b.step): name for b in merged[key]})
    return found
