"""The old order kept, each thing put off as far as what has happened asks."""

from __future__ import annotations

from stillroom.planning.happened import Happened
from stillroom.planning.precedence import Part, Precedence, precedence_of
from stillroom.planning.problem import Problem
from stillroom.planning.timetable import Timetable

Key = tuple[str, str]


def put_off(problem: Problem, old: Timetable, happened: Happened) -> dict[Key, int]:
    """
    Start of everything if nothing changes but the clock.

    Nothing begins earlier than planned, nothing before now that has not begun, and
    longest waits may break: what a person does who shifts the rest of the sheet down.

    Returns
    -------
    dict
        (batch, step) and (load, phase) to its start. [min]
    """
    net = precedence_of(problem, old, hold_what_spoils=False)
    true = _true_times(net, happened)
    waits: dict[int, list[tuple[int, int]]] = {}
    for arc in (*net.arcs, *net.inner):
        waits.setdefault(arc.after, []).append((arc.before, arc.lag_min))
    start: dict[int, int] = {}
    end: dict[int, int] = {}
    for group in net.order:
        members = net.members[group]
        untouched = not any(n in true for n in members)
        begins = 0
        for n in members if untouched else ():
            outside = [w for w in waits.get(n, []) if net.group_of[w[0]] != group]
            asked = [end[b] + lag - net.offset[n] for b, lag in outside]
            begins = max([begins, *asked])
        for n in members:
            node = net.nodes[n]
            if n in true:
                start[n], end[n] = true[n]
                continue
            asked = [end[b] + lag for b, lag in waits.get(n, []) if b in end]
            at = max([node.start_min, begins + net.offset[n], *asked])
            if node.part is not Part.HEAT:  # water may have begun to warm before now
                at = max(at, happened.now_min)
            start[n], end[n] = at, at + node.planned_min
    return {key: start[n] for key, n in net.number.items()}


def _true_times(net: Precedence, happened: Happened) -> dict[int, tuple[int, int]]:
    true = {
        net.number[s.batch, s.step]: (s.start_min, s.end_min) for s in happened.steps
    }
    for load in happened.loads:
        rest = net.nodes[net.number[load.id, "rest"]].planned_min
        rested = load.done_min + rest
        lift = max(load.lift_min, rested)
        if load.out_min > happened.now_min:
            lift = max(lift, min(happened.now_min, max(load.lift_min, rested)))
        for part, times in {
            "heat": (load.heat_min, load.lower_min),
            "lower": (load.lower_min, load.lowered_min),
            "come up": (load.lowered_min, load.boil_min),
            "process": (load.boil_min, load.done_min),
            "rest": (load.done_min, rested),
            "lift": (lift, lift + load.out_min - load.lift_min),
        }.items():
            if (load.id, part) in net.number:
                true[net.number[load.id, part]] = times
    for n, node in enumerate(net.nodes):
        if node.part is Part.BREAK:
            for rest_taken in happened.breaks:
                if (
                    rest_taken.person == node.of
                    and rest_taken.start_min == node.start_min
                ):
                    true[n] = (rest_taken.start_min, rest_taken.end_min)
    return true
