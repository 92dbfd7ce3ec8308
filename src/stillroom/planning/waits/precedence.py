"""
What waits for what in a plan: its steps, loads and breaks as a network.

A plan says who does what, in which pot, on which fire, in which load, and in what
order. Kept as a policy, that order is a network of nodes and arcs: a node starts as
soon as all that it waits for is over. People have four lanes, one a quarter; pots,
burners, mills and canners have one each.

Steps without a wait between them move together, as one *group*: what any of them waits
for is moved to the first of them, by the planned offset, because nobody lets a pan boil
over to finish the washing-up.
"""

from __future__ import annotations

from stillroom.planning.problem import Problem
from stillroom.planning.timetable import Timetable
from stillroom.planning.waits.held_back import ON_PURPOSE, held_back
from stillroom.planning.waits.precedence_building import Building
from stillroom.planning.waits.precedence_net import (
    Arc,
    Floor,
    Node,
    Part,
    Precedence,
    Tie,
)
from stillroom.planning.waits.precedence_nodes import (
    add_loads,
    add_rests,
    add_steps,
    add_taken,
)
from stillroom.planning.waits.precedence_ties import closing_steps, tie_all
from stillroom.planning.words.hour_words import the_burner

__all__ = [
    "Arc",
    "Floor",
    "Node",
    "Part",
    "Precedence",
    "Tie",
    "closing_steps",
    "precedence_of",
]


def precedence_of(
    problem: Problem,
    plan: Timetable,
    *,
    hold_what_spoils: bool = True,
    as_it_went: bool = False,
) -> Precedence:
    """
    Return the network of a plan.

    Parameters
    ----------
    problem : Problem
        The day.
    plan : Timetable
        A plan that breaks no rule of it.
    hold_what_spoils : bool
        What has a longest wait after it, and needs nobody meanwhile (jars in hot water,
        a canner that warms), is not begun before its planned minute; what has one and
        takes hands is not begun before that wait can be kept (see `held_back`); all
        else starts as soon as it can.
    as_it_went : bool
        The plan holds a past as it went, in which somebody may have done too much at
        once.

    Raises
    ------
    ValueError
        If the plan gives somebody more than four quarters, or a circle of links.
    """
    net = Precedence()
    add_steps(net, problem, plan)
    add_loads(net, problem, plan)
    add_rests(net, problem, plan)
    add_taken(net, problem)
    building = Building(net)
    tie_all(building, problem, plan, as_it_went=as_it_went)
    _add_floors(net, problem, hold_what_spoils)
    building.settle()
    return net


def _add_floors(net: Precedence, problem: Problem, hold: bool) -> None:
    """Arrivals, windows of breaks, absences; and what is begun late on purpose."""
    person_of = {p.id: p for p in problem.people}
    taken: dict[str, list[int]] = {}
    for n, node in enumerate(net.nodes):
        if node.part is Part.TAKEN:
            what = f"{the_burner(node.of)} is taken from"
            net.floors.append(Floor(node=n, minute=node.start_min, what=what))
        if node.person is None:
            continue
        person = person_of[node.person]
        floor, what = person.arrives_min, f"{person.id} arrives at"
        if node.part is Part.AWAY:
            floor, what = node.start_min, f"{person.id} is away from"
        elif node.part is Part.BREAK:
            rest = next(
                (
                    k
                    for k, r in enumerate(person.breaks)
                    if k not in taken.get(person.id, [])
                    and r.duration_min == node.planned_min
                    and r.earliest_min <= node.start_min <= r.latest_start_min
                ),
                None,
            )
            if rest is not None:
                taken.setdefault(person.id, []).append(rest)
                floor = max(floor, person.breaks[rest].earliest_min)
                what = "the break begins no earlier than"
        if floor > 0:
            net.floors.append(Floor(node=n, minute=floor, what=what))
    for batch in problem.batches:
        for window in batch.windows:
            if window.earliest_min > 0:
                n = net.number[batch.id, window.step]
                what = f"{window.why or 'it is ready'} at"
                net.floors.append(Floor(node=n, minute=window.earliest_min, what=what))
    if not hold:
        return
    for n in _what_spoils(net, problem):
        net.floors.append(Floor(node=n, minute=net.nodes[n].start_min, what=ON_PURPOSE))
    for batch in problem.batches:
        net.floors += held_back(net, batch)


def _what_spoils(net: Precedence, problem: Problem) -> list[int]:
    """Nodes that need nobody and after which there is a longest wait."""
    found = [n for n, node in enumerate(net.nodes) if node.part is Part.HEAT]
    for batch in problem.batches:
        steps = {s.id: s for s in batch.steps}
        for link in batch.links:
            before = net.number[batch.id, link.before]
            after = net.number[batch.id, link.after]
            step = steps[link.before]
            if (
                link.at_most_min is not None
                and net.group_of[before] != net.group_of[after]
                and step.attention_quarters == 0
                and not step.in_pot
            ):
                found.append(before)
    return found
