"""What ties the nodes of a plan: links, loads, people, pots, mills, burners."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from stillroom.planning.network import UNTIED, network_of
from stillroom.planning.problem import Batch, Canner, Problem
from stillroom.planning.timetable import PlacedLoad, Timetable
from stillroom.planning.waits.precedence_building import Building
from stillroom.planning.waits.precedence_net import LANES, Part, Tie


def tie_all(
    building: Building, problem: Problem, plan: Timetable, *, as_it_went: bool = False
) -> None:
    """Tie the nodes by all that a plan says of them."""
    _tie_links(building, problem)
    _tie_loads(building, problem, plan)
    _tie_people(building, problem, as_it_went=as_it_went)
    _tie_pots(building, problem, plan)
    _tie_mills(building, problem, plan)
    _tie_burners(building, problem, plan)
    _tie_moved_pots(building, problem, plan)


def _tie_links(building: Building, problem: Problem) -> None:
    number = building.net.number
    for batch in problem.batches:
        for link in batch.links:
            before, after = number[batch.id, link.before], number[batch.id, link.after]
            building.tie(before, after, link.at_least_min, Tie.LINK, link.why)


def _tie_loads(building: Building, problem: Problem, plan: Timetable) -> None:
    """Closed jars go in, rested ones come out, and the canner takes the next load."""
    number = building.net.number
    batch_of = {b.id: b for b in problem.batches}
    for load in plan.loads:
        lower, lift = number[load.id, "lower"], number[load.id, "lift"]
        if not load.hot:
            building.tie(number[load.id, "heat"], lower, 0, Tie.CANNER, load.canner)
        building.tie(number[load.id, "rest"], lift, 0, Tie.LINK, "")
        for name, _ in load.jars:
            for step in closing_steps(batch_of[name]):
                building.tie(number[name, step], lower, 0, Tie.JARS, name)
    for canner in problem.canners:
        for before, load in _after_one_another(canner, plan):
            begins = number[load.id, "lower" if load.hot else "heat"]
            out = number[before.id, "lift"]
            building.tie(out, begins, 0, Tie.CANNER, canner.id)


def closing_steps(batch: Batch) -> list[str]:
    """Steps after which the jars of a batch are closed."""
    return [s.id for s in batch.steps if batch.ready_after in ("", s.id)]


def _after_one_another(
    canner: Canner, plan: Timetable
) -> list[tuple[PlacedLoad, PlacedLoad]]:
    mine = [load for load in plan.loads if load.canner == canner.id]
    mine.sort(key=lambda load: load.lower_min)
    return list(pairwise(mine))


def _tie_people(building: Building, problem: Problem, *, as_it_went: bool) -> None:
    """Four lanes a person; the lane that was busy last is taken first: fewer arcs."""
    nodes = building.net.nodes
    for person in problem.people:
        work = [
            n
            for n, node in enumerate(nodes)
            if node.person == person.id and node.quarters
        ]
        work.sort(key=lambda n: (nodes[n].start_min, nodes[n].end_min))
        free_from = [0] * LANES
        last: list[list[int]] = [[] for _ in range(LANES)]
        for n in work:
            node = nodes[n]
            free = [k for k in range(LANES) if free_from[k] <= node.start_min]
            if len(free) < node.quarters and as_it_went:
                free = sorted(range(LANES), key=lambda k: free_from[k])
                free = free[: node.quarters]
            if len(free) < node.quarters:
                raise ValueError(
                    f"{person.id} is given more than four quarters at minute "
                    f"{node.start_min}"
                )
            free.sort(key=lambda k: -free_from[k])
            for k in free[: node.quarters]:
                kept = [
                    p
                    for p in last[k]
                    if not building.tie(p, n, 0, Tie.PERSON, person.id)
                ]
                # where an order may be dropped, whoever comes next waits for both
                last[k], free_from[k] = [*kept, n], max(free_from[k], node.end_min)


def _tie_pots(building: Building, problem: Problem, plan: Timetable) -> None:
    """A pot is free when all that was done in it, the wash included, is done."""
    pot_of = {s.batch: s.pot for s in plan.steps if s.pot is not None}
    spans: dict[str, list[tuple[Batch, list[str]]]] = {}
    for batch in problem.batches:
        pot = pot_of.get(batch.id)
        if pot is not None:
            inside = [s.id for s in batch.steps if s.in_pot]
            spans.setdefault(pot, []).append((batch, inside))
    for pot, held in spans.items():
        _tie_in_turn(building, held, Tie.POT, pot)


def _tie_mills(building: Building, problem: Problem, plan: Timetable) -> None:
    mill_of = {s.batch: s.mill for s in plan.steps if s.mill is not None}
    spans: dict[int, list[tuple[Batch, list[str]]]] = {}
    for batch in problem.batches:
        mill = mill_of.get(batch.id)
        if mill is not None:
            on_it = [s.id for s in batch.steps if s.on_mill]
            spans.setdefault(mill, []).append((batch, on_it))
    for held in spans.values():
        _tie_in_turn(building, held, Tie.MILL, "the mill")


def _tie_in_turn(
    building: Building, held: list[tuple[Batch, list[str]]], tie: Tie, what: str
) -> None:
    """One batch after another on one thing."""
    net = building.net

    def begins(one: tuple[Batch, list[str]]) -> int:
        batch, steps = one
        return min(net.nodes[net.number[batch.id, s]].start_min for s in steps)

    held = sorted(held, key=begins)
    for (batch, steps), (other, others) in pairwise(held):
        for before in _last_of(batch, steps):
            for after in _first_of(other, others):
                a, b = net.number[batch.id, before], net.number[other.id, after]
                building.tie(a, b, 0, tie, what)


def _last_of(batch: Batch, steps: Sequence[str]) -> list[str]:
    """Steps of a set that no other of the set surely follows."""
    network, place = network_of(batch), {s.id: i for i, s in enumerate(batch.steps)}
    found = []
    for step in steps:
        i = place[step]
        length = batch.steps[i].duration_min
        if not any(
            place[o] != i and network.lag[i][place[o]] >= max(1, length) for o in steps
        ):
            found.append(step)
    return found


def _first_of(batch: Batch, steps: Sequence[str]) -> list[str]:
    """Steps of a set that no other of the set surely precedes."""
    network, place = network_of(batch), {s.id: i for i, s in enumerate(batch.steps)}
    return [
        step
        for step in steps
        if not any(
            o != step
            and network.lag[place[o]][place[step]] not in (UNTIED, 0)
            and network.lag[place[o]][place[step]] > 0
            for o in steps
        )
    ]


def _tie_burners(building: Building, problem: Problem, plan: Timetable) -> None:
    """Each burner in turn: a pot's fires, jars in hot water, a canner."""
    net = building.net
    in_pot = {(b.id, s.id): s.in_pot for b in problem.batches for s in b.steps}
    for burner in problem.burners:
        holds: list[tuple[int, str, list[int], list[int]]] = []
        for s in plan.steps:
            if s.burner == burner.id:
                n = net.number[s.batch, s.step]
                pot = in_pot[s.batch, s.step]
                holder = s.batch if pot else f"{s.batch}/{s.step}"
                holds.append((s.start_min, holder, [n], [n]))
        for canner in problem.canners:
            if burner.id not in canner.burners:
                continue
            for load in plan.loads:
                if load.canner == canner.id:
                    start = net.number[load.id, "lower" if load.hot else "heat"]
                    end = net.number[load.id, "lift"]
                    holder = f"canner {canner.id}"
                    holds.append((load.heat_min, holder, [start], [end]))
        for n, node in enumerate(net.nodes):
            if node.part is Part.TAKEN and node.of == burner.id:
                holds.append((node.start_min, "somebody else", [n], [n]))
        holds.sort(key=lambda h: h[0])
        held: tuple[str, list[int]] | None = None
        for _, holder, starts, ends in holds:
            if held is not None and held[0] == holder:
                held = (holder, [*held[1], *ends])
                continue
            if held is not None:
                for before in held[1]:
                    for after in starts:
                        building.tie(before, after, 0, Tie.BURNER, burner.id)
            held = (holder, list(ends))


def _tie_moved_pots(building: Building, problem: Problem, plan: Timetable) -> None:
    """A pot that goes on another fire is off the one before for a minute."""
    number = building.net.number
    for batch in problem.batches:
        in_pot = {s.id for s in batch.steps if s.in_pot}
        fires = [
            s
            for s in plan.steps
            if s.batch == batch.id and s.step in in_pot and s.burner is not None
        ]
        fires.sort(key=lambda s: (s.start_min, s.end_min))
        for before, after in pairwise(fires):
            if before.burner != after.burner and before.end_min < after.start_min:
                a, b = number[batch.id, before.step], number[batch.id, after.step]
                building.tie(a, b, 1, Tie.BURNER, str(after.burner))
