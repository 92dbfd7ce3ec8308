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

import heapq
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from enum import StrEnum
from itertools import pairwise

from stillroom.planning.network import UNTIED, network_of
from stillroom.planning.problem import Batch, Canner, Problem
from stillroom.planning.timetable import PlacedLoad, PlacedStep, Timetable

LANES = 4


class Part(StrEnum):
    """What a node is a part of the day as."""

    STEP = "step"
    BREAK = "break"
    AWAY = "away"
    HEAT = "heat"
    LOWER = "lower"
    COME_UP = "come up"
    PROCESS = "process"
    REST = "rest"
    LIFT = "lift"


class Tie(StrEnum):
    """Why one node waits for another."""

    LINK = "link"
    JARS = "jars"
    PERSON = "person"
    POT = "pot"
    MILL = "mill"
    BURNER = "burner"
    CANNER = "canner"


@dataclass(frozen=True, slots=True, kw_only=True)
class Node:
    """One thing that takes time."""

    part: Part
    of: str
    """Batch, load, or person."""
    step: str
    """Step id; else the same as ``part``."""
    start_min: int
    end_min: int
    person: str | None = None
    quarters: int = 0

    @property
    def planned_min(self) -> int:
        """How long it is planned to take. [min]"""
        return self.end_min - self.start_min

    @property
    def is_work(self) -> bool:
        """Whether the day is over only after it."""
        return self.part not in (Part.BREAK, Part.AWAY)


@dataclass(frozen=True, slots=True, kw_only=True)
class Arc:
    """``after`` starts at least ``lag_min`` after ``before`` ends."""

    before: int
    after: int
    lag_min: int
    tie: Tie
    what: str
    """The resource by its name, or why a link holds."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Floor:
    """A node does not start before a minute of the clock."""

    node: int
    minute: int
    what: str
    """Why, in words that a clock time ends."""


@dataclass(slots=True)
class Precedence:
    """The network of a plan. Nodes are numbered; so are groups."""

    nodes: list[Node] = field(default_factory=list)
    group_of: list[int] = field(default_factory=list)
    offset: list[int] = field(default_factory=list)
    """Planned start of a node after the start of its group. [min]"""
    members: list[list[int]] = field(default_factory=list)
    """Nodes of each group, by offset."""
    arcs: list[Arc] = field(default_factory=list)
    """Arcs between groups that the day is run by."""
    inner: list[Arc] = field(default_factory=list)
    """Arcs within groups: the next one follows at once."""
    dropped: list[Arc] = field(default_factory=list)
    """Orders that would make a group wait for itself; where they fail is counted."""
    floors: list[Floor] = field(default_factory=list)
    order: list[int] = field(default_factory=list)
    """Groups, each after all that it waits for."""
    number: dict[tuple[str, str], int] = field(default_factory=dict)
    """(batch, step) or (load, part) to its node."""

    def group_start_min(self, group: int) -> int:
        """Planned start of a group. [min]"""
        return self.nodes[self.members[group][0]].start_min


def precedence_of(
    problem: Problem, plan: Timetable, *, hold_what_spoils: bool = True
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
        a canner that warms), is not begun before its planned minute; all else starts as
        soon as it can.

    Raises
    ------
    ValueError
        If the plan gives somebody more than four quarters, or a circle of links.
    """
    net = Precedence()
    _add_steps(net, problem, plan)
    _add_loads(net, problem, plan)
    _add_rests(net, problem, plan)
    building = _Building(net)
    _tie_links(building, problem)
    _tie_loads(building, problem, plan)
    _tie_people(building, problem)
    _tie_pots(building, problem, plan)
    _tie_mills(building, problem, plan)
    _tie_burners(building, problem, plan)
    _add_floors(net, problem, hold_what_spoils)
    building.settle()
    return net


# --- nodes and groups --------------------------------------------------------------


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
        if node.part not in (Part.BREAK, Part.AWAY):
            net.number[node.of, node.step] = number
        numbers.append(number)
    return numbers


def _add_steps(net: Precedence, problem: Problem, plan: Timetable) -> None:
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


def _add_loads(net: Precedence, problem: Problem, plan: Timetable) -> None:
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
        quarters=3 if who is not None else 0,
    )


def _add_rests(net: Precedence, problem: Problem, plan: Timetable) -> None:
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
        for gone, back in _apart(person.away):
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


def _apart(spans: Iterable[tuple[int, int]]) -> list[tuple[int, int]]:
    """Absences that touch or overlap, as one."""
    apart: list[tuple[int, int]] = []
    for start, end in sorted(spans):
        if apart and start <= apart[-1][1]:
            apart[-1] = (apart[-1][0], max(apart[-1][1], end))
        else:
            apart.append((start, end))
    return apart


# --- arcs ----------------------------------------------------------------------------


@dataclass(slots=True)
class _Building:
    """Arcs as they come: those against the plan's order of groups wait for the end."""

    net: Precedence
    against: list[Arc] = field(default_factory=list)

    def with_the_order(self, before: int, after: int) -> bool:
        """Whether the group of ``before`` starts first in the plan."""
        net = self.net
        a, b = net.group_of[before], net.group_of[after]
        return (net.group_start_min(a), self._length(a), a) < (
            net.group_start_min(b),
            self._length(b),
            b,
        )

    def _length(self, group: int) -> int:
        # of two that start at once, what takes no time comes first
        nodes = self.net.nodes
        return int(any(nodes[i].planned_min for i in self.net.members[group]))

    def tie(self, before: int, after: int, lag: int, tie: Tie, what: str) -> bool:
        """Tie two nodes; `False` where it is against the order, and may be dropped."""
        if self.net.group_of[before] == self.net.group_of[after]:
            return True
        arc = Arc(before=before, after=after, lag_min=lag, tie=tie, what=what)
        if self.with_the_order(before, after):
            self.net.arcs.append(arc)
            return True
        self.against.append(arc)
        return False

    def settle(self) -> None:
        """Add what makes no circle, and put the groups in order."""
        follows: list[set[int]] = [set() for _ in self.net.members]
        group_of = self.net.group_of
        for arc in self.net.arcs:
            follows[group_of[arc.before]].add(group_of[arc.after])
        # what a batch's links ask comes before what is only an order of work
        self.against.sort(key=lambda a: a.tie not in (Tie.LINK, Tie.JARS))
        for arc in self.against:
            a, b = group_of[arc.before], group_of[arc.after]
            if _reaches(follows, b, a):
                self.net.dropped.append(arc)
            else:
                follows[a].add(b)
                self.net.arcs.append(arc)
        self.net.order = self._sorted(follows)

    def _sorted(self, follows: list[set[int]]) -> list[int]:
        waits = [0] * len(follows)
        for after in follows:
            for group in after:
                waits[group] += 1
        open_ = [
            (self.net.group_start_min(g), g) for g, n in enumerate(waits) if n == 0
        ]
        heapq.heapify(open_)
        order: list[int] = []
        while open_:
            _, group = heapq.heappop(open_)
            order.append(group)
            for other in follows[group]:
                waits[other] -= 1
                if waits[other] == 0:
                    heapq.heappush(open_, (self.net.group_start_min(other), other))
        if len(order) != len(follows):
            raise ValueError("the plan's order goes in a circle")
        return order


def _reaches(follows: list[set[int]], start: int, goal: int) -> bool:
    seen, open_ = {start}, [start]
    while open_:
        here = open_.pop()
        if here == goal:
            return True
        for other in follows[here] - seen:
            seen.add(other)
            open_.append(other)
    return False


def _tie_links(building: _Building, problem: Problem) -> None:
    number = building.net.number
    for batch in problem.batches:
        for link in batch.links:
            before, after = number[batch.id, link.before], number[batch.id, link.after]
            building.tie(before, after, link.at_least_min, Tie.LINK, link.why)


def _tie_loads(building: _Building, problem: Problem, plan: Timetable) -> None:
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


def _tie_people(building: _Building, problem: Problem) -> None:
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
                last[k], free_from[k] = [*kept, n], node.end_min


def _tie_pots(building: _Building, problem: Problem, plan: Timetable) -> None:
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


def _tie_mills(building: _Building, problem: Problem, plan: Timetable) -> None:
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
    building: _Building, held: list[tuple[Batch, list[str]]], tie: Tie, what: str
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


def _tie_burners(building: _Building, problem: Problem, plan: Timetable) -> None:
    """Each burner in turn: a pot's fires, jars in hot water, a burning canner."""
    net = building.net
    in_pot = {(b.id, s.id): s.in_pot for b in problem.batches for s in b.steps}
    runs = _canner_runs(problem, plan)
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
            for run in runs[canner.id]:
                first, last = run[0], run[-1]
                start = net.number[first.id, "lower" if first.hot else "heat"]
                end = net.number[last.id, "process"]
                holds.append((first.heat_min, f"canner {first.id}", [start], [end]))
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


def _canner_runs(
    problem: Problem, plan: Timetable
) -> dict[str, list[list[PlacedLoad]]]:
    """Loads of each canner between which the fire stays on."""
    runs: dict[str, list[list[PlacedLoad]]] = {}
    for canner in problem.canners:
        mine = [load for load in plan.loads if load.canner == canner.id]
        lines: list[list[PlacedLoad]] = []
        for load in sorted(mine, key=lambda load: load.lower_min):
            if load.hot and lines:
                lines[-1].append(load)
            else:
                lines.append([load])
        runs[canner.id] = lines
    return runs


# --- floors ---------------------------------------------------------------------------


def _add_floors(net: Precedence, problem: Problem, hold: bool) -> None:
    """Arrivals, windows of breaks, absences; and what is begun late on purpose."""
    person_of = {p.id: p for p in problem.people}
    taken: dict[str, list[int]] = {}
    for n, node in enumerate(net.nodes):
        if node.person is None:
            continue
        person = person_of[node.person]
        floor, what = person.arrives_min, f"{person.id} arrives at"
        if node.part is Part.AWAY:
            floor, what = node.start_min, f"{person.id} goes at"
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
    if not hold:
        return
    for n in _what_spoils(net, problem):
        net.floors.append(
            Floor(
                node=n, minute=net.nodes[n].start_min, what="begun late on purpose, at"
            )
        )


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
