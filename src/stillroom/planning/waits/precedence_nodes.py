"""
Steps, loads and rests of a plan as nodes of its network, gathered into groups.

Steps without a wait between them are one group, and so are lowering, come-up, process
and rest of a load.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from stillroom.planning.hot_jars import LABOUR_QUARTERS
from stillroom.planning.network import network_of
from stillroom.planning.problem import Problem
from stillroom.planning.timetable import PlacedLoad, PlacedStep, Timetable
from stillroom.planning.waits.precedence_net import (
    LANES,
    Arc,
    Node,
    Part,
    Precedence,
    Tie,
)


def _add_group(net: Precedence, nodes: Sequence[Node]) -> list[int]:
    """Add nodes that move together; the first one starts first."""
    numbers = []
    group, first = len(net.members), min(n.start_min for n in nodes)
    net.members.append([])
    for node in sorted(nodes, key=lambda n: (n.start_min, n.end_min)):
        number = len(net.nodes)
        net.nodes.append(node)
        net.group_of.append(group)
        net.offset.append(node.start_min - first)
        net.members[group].append(number)
        if node.is_work:
            net.number[node.of, node.step] = number
        numbers.append(number)
    return numbers


def add_steps(net: Precedence, problem: Problem, plan: Timetable) -> None:
    """Add the steps of all batches, and the links inside their groups."""
    placed = {(s.batch, s.step): s for s in plan.steps}
    for batch in problem.batches:
        network = network_of(batch)
        for chain in network.chains:
            mine = [placed[batch.id, batch.steps[i].id] for i, _ in chain.members]
            _add_group(net, [_node(s) for s in mine])
        for link in batch.links:
            before = net.number[batch.id, link.before]
            after = net.number[batch.id, link.after]
            if net.group_of[before] == net.group_of[after]:
                net.inner.append(
                    Arc(
                        before=before,
                        after=after,
                        lag_min=link.at_least_min,
                        tie=Tie.LINK,
                        what=link.why,
                    )
                )


def _node(s: PlacedStep) -> Node:
    return Node(
        part=Part.STEP,
        of=s.batch,
        step=s.step,
        start_min=s.start_min,
        end_min=s.end_min,
        person=s.person,
        quarters=s.quarters if s.person is not None else 0,
    )


def add_loads(net: Precedence, problem: Problem, plan: Timetable) -> None:
    """Add the phases of all loads."""
    canner_of = {c.id: c for c in problem.canners}
    for load in plan.loads:
        rested = load.done_min + canner_of[load.canner].rest_min
        if not load.hot:
            _add_group(net, [_phase(load, Part.HEAT, load.heat_min, load.lower_min)])
        at_once = _add_group(
            net,
            [
                _phase(load, Part.LOWER, load.lower_min, load.lowered_min),
                _phase(load, Part.COME_UP, load.lowered_min, load.boil_min),
                _phase(load, Part.PROCESS, load.boil_min, load.done_min),
                _phase(load, Part.REST, load.done_min, rested),
            ],
        )
        for before, after in pairwise(at_once):
            net.inner.append(
                Arc(before=before, after=after, lag_min=0, tie=Tie.LINK, what="")
            )
        _add_group(net, [_phase(load, Part.LIFT, load.lift_min, load.out_min)])


def _phase(load: PlacedLoad, part: Part, start: int, end: int) -> Node:
    who = {Part.LOWER: load.lowered_by, Part.LIFT: load.lifted_by}.get(part)
    return Node(
        part=part,
        of=load.id,
        step=str(part),
        start_min=start,
        end_min=end,
        person=who,
        quarters=LABOUR_QUARTERS if who is not None else 0,
    )


def add_rests(net: Precedence, problem: Problem, plan: Timetable) -> None:
    """Add breaks and fixed absences."""
    for rest in plan.breaks:
        _add_group(
            net,
            [
                Node(
                    part=Part.BREAK,
                    of=rest.person,
                    step=str(Part.BREAK),
                    start_min=rest.start_min,
                    end_min=rest.end_min,
                    person=rest.person,
                    quarters=LANES,
                )
            ],
        )
    for person in problem.people:
        for gone, back in person.absences:
            _add_group(
                net,
                [
                    Node(
                        part=Part.AWAY,
                        of=person.id,
                        step=str(Part.AWAY),
                        start_min=gone,
                        end_min=back,
                        person=person.id,
                        quarters=LANES,
                    )
                ],
            )


def add_taken(net: Precedence, problem: Problem) -> None:
    """Add the hours at which burners are somebody else's."""
    for burner in problem.burners:
        for start, end in burner.taken_apart:
            taken = Node(
                part=Part.TAKEN,
                of=burner.id,
                step=str(Part.TAKEN),
                start_min=start,
                end_min=end,
            )
            _add_group(net, [taken])
