"""
The old order kept, each thing put off as far as what has happened asks.

Nobody and nothing changes but the clock. Where a longest wait would break, what comes
before it is put off too, as far as it has not begun: jars are heated later, and a pan
is lit later, rather than stand.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace

from stillroom.planning.happened import Happened, Key
from stillroom.planning.hot_jars import LIFT_WITHIN_MIN
from stillroom.planning.problem import Problem
from stillroom.planning.timetable import PlacedBreak, PlacedStep, Timetable
from stillroom.planning.waits.precedence import (
    Arc,
    Part,
    Precedence,
    Tie,
    closing_steps,
    precedence_of,
)

Absences = tuple[tuple[int, int], ...]
ROUNDS = 150
CHASES = 12
"""So often one limit may be put off again before it is let go."""


@dataclass(frozen=True, slots=True)
class PutOff:
    """Starts under the old order."""

    start: dict[Key, int]
    """(batch, step) and (load, phase) to its start. [min]"""
    breaks: dict[PlacedBreak, int]
    """Breaks of the old plan to their starts. [min]"""
    unkept: frozenset[Key] = frozenset()
    """
    (batch, step) after which a longest wait cannot be kept in the old order, because it
    hangs on something that has begun.
    """


def put_off(
    problem: Problem,
    old: Timetable,
    happened: Happened,
    *,
    past: bool = False,
    not_before: Mapping[Key, int] | None = None,
) -> PutOff:
    """
    Return when everything begins if nothing changes but the clock.

    Nothing begins earlier than planned, and nothing before now that has not begun;
    with ``past`` it may have begun before now without anybody's word, and without a
    thought for limits that were to break. ``not_before`` are (batch, step) or (load,
    phase) that do not begin before a minute of their own.
    """
    first = happened.now_min
    if past:  # a plan made before its day's hour may have used those minutes
        first = min([0, *(s.start_min for s in old.steps)])
    net = precedence_of(problem, old, hold_what_spoils=False, as_it_went=True)
    true = _true_times(net, happened)
    waits: dict[int, list[tuple[int, int]]] = {}
    for arc in (*net.arcs, *net.inner):
        waits.setdefault(arc.after, []).append((arc.before, arc.lag_min))
    apart = _absences(net, problem)
    for n, hours in _not_ours(net, problem, old, happened):
        apart[n] = tuple(sorted((*apart.get(n, ()), *hours)))
    held = _not_before_coming(net, problem, true)
    lit = {} if past else _lit(old, happened)
    for key, at in {**lit, **(not_before or {})}.items():
        if key in net.number:  # the water of a load may be hot from the one before
            held[net.number[key]] = max(at, held.get(net.number[key], 0))
    overtaken = _around_what_is_true(net, true, waits)
    if not past:
        for n, minute in overtaken.items():
            held[n] = max(held.get(n, 0), minute)
    limits = [w for w in _longest_waits(net, problem, old) if w[0] not in true]
    if past:
        limits = []
    floor = dict(held)
    raised: dict[tuple[int, int, int], int] = {}
    unkept: set[int] = set()
    start, end = _pass(net, first, true, waits, floor, held, apart)
    for _ in range(ROUNDS):
        late = [w for w in limits if start[w[1]] - end[w[0]] > w[2]]
        if not late:
            break
        for limit in late:
            before, after, most = limit
            raised[limit] = raised.get(limit, 0) + 1
            if raised[limit] > CHASES:  # it drives itself along: let it go
                limits.remove(limit)
                unkept.add(before)
                floor = dict(held)
                continue
            minute = start[after] - most - net.nodes[before].planned_min
            floor[before] = max(floor.get(before, 0), minute)
        start, end = _pass(net, first, true, waits, floor, held, apart)
    else:
        unkept |= {w[0] for w in limits if start[w[1]] - end[w[0]] > w[2]}
    rests = {
        (r.person, r.start_min): r for r in old.breaks
    }  # a break is known by whose it is and when it was
    return PutOff(
        start={key: start[n] for key, n in net.number.items()},
        breaks={
            rests[node.of, node.start_min]: start[n]
            for n, node in enumerate(net.nodes)
            if node.part is Part.BREAK and (node.of, node.start_min) in rests
        },
        unkept=frozenset((net.nodes[n].of, net.nodes[n].step) for n in unkept),
    )


def _lit(old: Timetable, happened: Happened) -> dict[Key, int]:
    """When the canner of each load to come was lit; from now on if nobody said."""
    if happened.lit is None:
        return {}
    begun = {load.id for load in happened.loads}
    return {
        (load.id, "heat"): happened.lit.get(load.id, happened.now_min)
        for load in old.loads
        if load.id not in begun
    }


def timetable_put_off(old: Timetable, happened: Happened, later: PutOff) -> Timetable:
    """Return the whole day under the old order; it may break what it has to."""
    begun = happened.begun
    steps: list[PlacedStep] = []
    for s in old.steps:
        if (s.batch, s.step) in begun:
            steps.append(begun[s.batch, s.step])
            continue
        start = later.start[s.batch, s.step]
        length = s.end_min - s.start_min
        steps.append(replace(s, start_min=start, end_min=start + length))
    known = {load.id: load for load in happened.loads}
    loads = []
    for load in old.loads:
        if load.id in known:
            load = known[load.id]
            lift = later.start[load.id, "lift"]
        else:
            by = later.start[load.id, "lower"] - load.lower_min
            lift = later.start[load.id, "lift"]
            load = replace(
                load,
                heat_min=load.heat_min + by,
                lower_min=load.lower_min + by,
                lowered_min=load.lowered_min + by,
                boil_min=load.boil_min + by,
                done_min=load.done_min + by,
                fire_free_min=load.fire_free_min + by,
            )
        out = lift + load.out_min - load.lift_min
        loads.append(replace(load, lift_min=lift, out_min=out))
    breaks = tuple(
        replace(
            r,
            start_min=later.breaks.get(r, r.start_min),
            end_min=later.breaks.get(r, r.start_min) + r.end_min - r.start_min,
        )
        for r in old.breaks
    )
    return Timetable(steps=tuple(steps), loads=tuple(loads), breaks=breaks)


def _pass(
    net: Precedence,
    first: int,
    true: dict[int, tuple[int, int]],
    waits: dict[int, list[tuple[int, int]]],
    floor: dict[int, int],
    held: dict[int, int],
    apart: Mapping[int, Absences],
) -> tuple[dict[int, int], dict[int, int]]:
    """One pass forward, over whole minutes."""
    start: dict[int, int] = {}
    end: dict[int, int] = {}
    low = min(0, first)
    for group in net.order:
        members = net.members[group]
        untouched = not any(n in true for n in members)
        begins = low
        for n in members if untouched else ():
            outside = [w for w in waits.get(n, []) if net.group_of[w[0]] != group]
            asked = [end[b] + lag - net.offset[n] for b, lag in outside]
            begins = max([begins, floor.get(n, low) - net.offset[n], *asked])
            if net.nodes[n].part is not Part.HEAT:
                begins = max(begins, first - net.offset[n])
        if untouched:
            begins = _clear_of_all(net, members, begins, apart)
        for n in members:
            node = net.nodes[n]
            if n in true:
                start[n], end[n] = true[n]
                continue
            asked = [end[b] + lag for b, lag in waits.get(n, []) if b in end]
            own = [node.start_min, begins + net.offset[n], held.get(n, low)]
            at = max([*own, *asked])
            if node.part is not Part.HEAT:  # water may have begun to warm before now
                at = max(at, first)
            at = _clear_of(apart.get(n, ()), at, node.planned_min)
            start[n], end[n] = at, at + node.planned_min
    return start, end


def _absences(net: Precedence, problem: Problem) -> dict[int, Absences]:
    """Return while when what is in somebody's hands cannot be: she is away then."""
    gone = {p.id: p.absences for p in problem.people if p.absences}
    return {
        n: gone[node.person]
        for n, node in enumerate(net.nodes)
        if node.person in gone and node.part is not Part.AWAY
    }


def _not_ours(
    net: Precedence, problem: Problem, old: Timetable, happened: Happened
) -> Iterator[tuple[int, Absences]]:
    """Yield while when what is on a burner cannot be: it is somebody else's then."""
    taken = {b.id: b.taken_apart for b in problem.burners if b.taken_apart}
    on = {(s.batch, s.step): (str(s.burner),) for s in old.steps}
    covers = {c.id: c.burners for c in problem.canners}
    begun = {load.id for load in happened.loads}  # nobody carries it full of jars
    on_loads = {x.id: covers[x.canner] for x in old.loads if x.id not in begun}
    for n, node in enumerate(net.nodes):
        fires = on.get((node.of, node.step), on_loads.get(node.of, ()))
        hours = [span for fire in fires for span in taken.get(fire, ())]
        if hours and node.is_work:
            yield n, tuple(sorted(hours))


def _clear_of(apart: Absences, at: int, length: int) -> int:
    """Return the first minute from ``at`` on at which so long is clear of absences."""
    for gone, back in apart:  # in order
        if gone < at + length and at < back:
            at = back
    return at


def _clear_of_all(
    net: Precedence, members: list[int], begins: int, apart: Mapping[int, Absences]
) -> int:
    """Return when what goes together begins, each of it clear of absences."""
    begins = max([begins, *(net.nodes[n].start_min - net.offset[n] for n in members)])
    while True:
        put = max(
            _clear_of(
                apart.get(n, ()), begins + net.offset[n], net.nodes[n].planned_min
            )
            - net.offset[n]
            for n in members
        )
        if put == begins:
            return begins
        begins = put


def _not_before_coming(
    net: Precedence, problem: Problem, true: Mapping[int, tuple[int, int]]
) -> dict[int, int]:
    """Nothing that has not begun is in anybody's hands before they come."""
    comes = {p.id: p.arrives_min for p in problem.people if p.arrives_min > 0}
    return {
        n: comes[node.person]
        for n, node in enumerate(net.nodes)
        if node.person in comes and n not in true and node.part is not Part.AWAY
    }


def _around_what_is_true(
    net: Precedence,
    true: Mapping[int, tuple[int, int]],
    waits: dict[int, list[tuple[int, int]]],
) -> dict[int, int]:
    """
    Keep hands, pots and fires in turn where something has gone before its turn.

    What comes after it and after what it has overtaken waits for both. Returned is what
    was overtaken, and when it is over that did so: it has to wait until then.
    """
    overtaken: dict[int, int] = {}
    by_group: dict[int, list[Arc]] = {}
    for arc in net.arcs:
        if arc.tie not in (Tie.LINK, Tie.JARS):
            by_group.setdefault(net.group_of[arc.after], []).append(arc)
    passed: dict[tuple[int, str], set[int]] = {}
    for group in net.order:
        for arc in by_group.get(group, ()):
            before = {arc.before}
            if arc.before in true:
                before = passed.get((arc.before, arc.what), set())
            if arc.after not in true:
                waits.setdefault(arc.after, []).extend((b, 0) for b in before)
                continue
            passed.setdefault((arc.after, arc.what), set()).update(before)
            if net.nodes[arc.after].part in (Part.AWAY, Part.TAKEN):
                continue  # there may be time before it
            for b in before:
                overtaken[b] = max(overtaken.get(b, 0), true[arc.after][1])
    return overtaken


def _longest_waits(
    net: Precedence, problem: Problem, old: Timetable
) -> Iterator[tuple[int, int, int]]:
    """What may wait at most so long after what: (before, after, minutes)."""
    number = net.number
    for batch in problem.batches:
        for link in batch.links:
            before, after = number[batch.id, link.before], number[batch.id, link.after]
            if link.at_most_min is not None:
                yield before, after, link.at_most_min
    batch_of = {b.id: b for b in problem.batches}
    canner_of = {c.id: c for c in problem.canners}
    last: dict[str, str] = {}
    for load in sorted(old.loads, key=lambda load: load.lower_min):
        lower, lift = number[load.id, "lower"], number[load.id, "lift"]
        if load.hot and load.canner in last:
            stays = canner_of[load.canner].stays_hot_min
            yield number[last[load.canner], "lift"], lower, stays
        elif (load.id, "heat") in number:
            yield number[load.id, "heat"], lower, 0
        last[load.canner] = load.id
        yield number[load.id, "rest"], lift, LIFT_WITHIN_MIN
        for name, _ in load.jars:
            for step in closing_steps(batch_of[name]):
                yield number[name, step], lower, batch_of[name].closed_wait_at_most_min


def _true_times(net: Precedence, happened: Happened) -> dict[int, tuple[int, int]]:
    true = {
        net.number[s.batch, s.step]: (s.start_min, s.end_min) for s in happened.steps
    }
    for load in happened.loads:
        rest = net.nodes[net.number[load.id, "rest"]].planned_min
        phases = {
            "heat": (load.heat_min, load.lower_min),
            "lower": (load.lower_min, load.lowered_min),
            "come up": (load.lowered_min, load.boil_min),
            "process": (load.boil_min, load.done_min),
            "rest": (load.done_min, load.done_min + rest),
        }
        if load.lift_min < happened.now_min:  # else somebody has still to come to it
            phases["lift"] = (load.lift_min, load.out_min)
        for part, times in phases.items():
            if (load.id, part) in net.number:
                true[net.number[load.id, part]] = times
    taken = {(r.person, r.start_min): r for r in happened.breaks}
    for n, node in enumerate(net.nodes):
        rested = taken.get((node.of, node.start_min))
        if node.part is Part.BREAK and rested is not None:
            true[n] = (rested.start_min, rested.end_min)
        if node.part in (Part.AWAY, Part.TAKEN):  # by the clock, whatever slips
            true[n] = (node.start_min, node.start_min + node.planned_min)
    return true
