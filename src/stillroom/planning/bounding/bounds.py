"""
What no plan can beat: lower bounds on the finish, without any search.

Each is a sum that anyone can follow: the longest batch, the pots, the canner, and the
hours of hands. In days of twenty jars and more, hands are what is short.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import ceil

from stillroom.in_a_list import all_of, any_of
from stillroom.planning.hot_jars import LABOUR_QUARTERS
from stillroom.planning.network import Network, network_of
from stillroom.planning.problem import Batch, Canner, Person, Problem, Process
from stillroom.planning.rinses import least_asked

WHOLE_HANDS = {0: 0, 1: 0, 2: 1, 3: 2, 4: 2}
"""
Quarters as halves of a person: no one does two jobs of three quarters at once.

Whatever fits beside each other in four quarters fits in two of these halves (a dual
feasible function), so that their sum is a fair bound too, and mostly the better one.
"""


@dataclass(frozen=True, slots=True)
class Bound:
    """A minute before which no plan ends, and why."""

    minute: int
    why: str


def lower_bounds(problem: Problem) -> tuple[Bound, ...]:
    """
    All bounds on the finish of a day, the latest first.

    The bound by hands is beyond the day's end where there is more work than hands.
    """
    problem = least_asked(problem)
    bounds = [
        *_longest_batch(problem),
        *_pots(problem),
        *_canners(problem),
        *_hours_of_hands(problem),
    ]
    return tuple(sorted(bounds, key=lambda b: -b.minute)) or (
        Bound(0, "nothing to do"),
    )


def lower_bound_min(problem: Problem) -> int:
    """The best of the bounds on the finish. [min]"""
    return lower_bounds(problem)[0].minute


# --- loads --------------------------------------------------------------------


def canners_for(problem: Problem, jar: str) -> list[Canner]:
    """Canners with places for a jar size."""
    return [c for c in problem.canners if c.places.get(jar, 0) > 0]


def least_cycle_min(canner: Canner, process: Process) -> int:
    """From lowering to out, at the quickest. [min]"""
    to_boil = canner.load_min + canner.minutes_up(process.id)
    return to_boil + process.minutes + canner.rest_min + canner.unload_min


def least_load_min(problem: Problem, canner: Canner) -> int:
    """The quickest load that a canner can have on this day, lowering to out. [min]"""
    used = {b.process for b in problem.batches if b.process is not None}
    kinds = [
        p
        for p in problem.processes
        if canner.places.get(p.jar, 0) > 0
        and any(p.id in q.may_ride_in for q in problem.processes if q.id in used)
    ]
    return min((least_cycle_min(canner, p) for p in kinds), default=0)


def least_loads(problem: Problem) -> int:
    """Fewest loads that could hold all jars, waits left aside."""
    return sum(loads for _, loads in families(problem))


def families(problem: Problem) -> Iterator[tuple[set[str], int]]:
    """Processes whose jars may come together, and the loads that their jars need."""
    process_of = {p.id: p for p in problem.processes}
    used = {b.process for b in problem.batches if b.process is not None}
    families: list[set[str]] = []
    for name in sorted(used):
        mine = {name} | set(process_of[name].may_ride_in)
        for other in [f for f in families if f & mine]:
            mine |= other
            families.remove(other)
        families.append(mine)
    for family in families:
        jars = sum(b.jars for b in problem.batches if b.process in family)
        places = max(
            (
                c.places.get(process_of[name].jar, 0)
                for c in problem.canners
                for name in family
                if name in process_of
            ),
            default=0,
        )
        yield family, ceil(jars / places) if places else 0


def closed_min(batch: Batch) -> int:
    """Earliest minute at which the jars of a batch are closed. [min]"""
    network = network_of(batch)
    return max(
        (
            network.earliest[i] + s.duration_min
            for i, s in enumerate(batch.steps)
            if batch.ready_after in ("", s.id)
        ),
        default=0,
    )


def after_closing_min(problem: Problem, batch: Batch) -> int:
    """Least time from closing the jars to having them out. [min]"""
    if batch.process is None:
        return 0
    process_of = {p.id: p for p in problem.processes}
    cycles = [
        least_cycle_min(canner, process_of[name])
        for name in process_of[batch.process].may_ride_in
        if name in process_of
        for canner in canners_for(problem, process_of[name].jar)
    ]
    return min(cycles, default=0)


def out_alone_min(problem: Problem, product: str) -> int:
    """Minute before which no plan has all goods of a product, each batch by itself."""
    return max(
        (
            closed_min(batch) + after_closing_min(problem, batch)
            for batch in problem.batches
            if product in batch.serves
        ),
        default=0,
    )


# --- the bounds ------------------------------------------------------------------


def _longest_batch(problem: Problem) -> Iterator[Bound]:
    for batch in problem.batches:
        network = network_of(batch)
        steps = max(
            (e + t for e, t in zip(network.earliest, network.tail, strict=True)),
            default=0,
        )
        jars = closed_min(batch) + after_closing_min(problem, batch)
        yield Bound(max(steps, jars), f"{batch.id} alone takes that long")


def _pots(problem: Problem) -> Iterator[Bound]:
    for sizes in dict.fromkeys(b.pots for b in problem.batches if b.pots):
        pots = sum(1 for p in problem.pots if p.size in sizes)
        only_here = [b for b in problem.batches if b.pots and set(b.pots) <= set(sizes)]
        spans = [s for b in only_here if (s := _pot_span(b)) is not None]
        if not spans or not pots:
            continue
        head = min(head for head, _ in spans)
        held = sum(span for _, span in spans)
        minute = head + ceil(held / pots)
        yield Bound(minute, f"pots of size {any_of(sizes)} are held that long")


def _pot_span(batch: Batch) -> tuple[int, int] | None:
    """Earliest start and least length of the pot's use."""
    network = network_of(batch)
    inside = [i for i, s in enumerate(batch.steps) if s.in_pot]
    if not inside:
        return None
    length = max(
        network.lag[i][j] + batch.steps[j].duration_min for i in inside for j in inside
    )
    head = min(network.earliest[i] for i in inside)
    return head, length


def _canners(problem: Problem) -> Iterator[Bound]:
    process_of = {p.id: p for p in problem.processes}
    with_jars = [b for b in problem.batches if b.process is not None]
    if not with_jars or not problem.canners:
        return
    first = min(closed_min(b) for b in with_jars)
    first = max(first, min(c.first_heat_min for c in problem.canners))
    work = 0
    for family, loads in families(problem):
        cycles = [
            least_cycle_min(canner, process_of[name])
            for name in family
            if name in process_of
            for canner in canners_for(problem, process_of[name].jar)
        ]
        work += loads * min(cycles, default=0)
    minute = first + ceil(work / len(problem.canners))
    yield Bound(minute, "the canner's loads take that long one after another")


# --- hands -----------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Work:
    """Something that takes hands: for how long, how much, who could, from when."""

    minutes: int
    quarters: int
    able: frozenset[str]
    earliest: int


def all_work(problem: Problem) -> list[Work]:
    """Everything that takes hands, with the fewest loads."""
    work = [w for batch in problem.batches for w in _batch_work(problem, batch)]
    lifters = frozenset(p.id for p in lifters_of(problem))
    if problem.canners:
        handling = min(c.load_min + c.unload_min for c in problem.canners)
        first = min((closed_min(b) for b in problem.batches if b.process), default=0)
        loads = least_loads(problem)
        work += [Work(handling, LABOUR_QUARTERS, lifters, first)] * loads
    return work


def _batch_work(problem: Problem, batch: Batch) -> Iterator[Work]:
    network: Network = network_of(batch)
    for i, step in enumerate(batch.steps):
        if step.attention_quarters:
            able = able_people(problem, batch, i)
            yield Work(
                step.duration_min, step.attention_quarters, able, network.earliest[i]
            )


def able_people(problem: Problem, batch: Batch, index: int) -> frozenset[str]:
    """
    Who may do a step: whoever has the skills of all steps in the same hands.

    And the quarters: who minds a baby does nothing that takes all of a person.
    """
    group = [batch.steps[index]]
    if word := batch.steps[index].same_hands:
        group = [
            s for s in batch.steps if s.same_hands == word and s.attention_quarters
        ]
    skills = {s.skill for s in group}
    most = max((s.attention_quarters for s in group), default=0)
    return frozenset(
        p.id for p in problem.people if skills <= p.skills and most <= p.quarters
    )


def lifters_of(problem: Problem) -> list[Person]:
    """Who may lower and lift out a load."""
    return [
        p
        for p in problem.people
        if "lift" in p.skills and p.quarters >= LABOUR_QUARTERS
    ]


def hands_by(person: Person, since: int, until: int) -> int:
    """Minutes that a person can give at most between two minutes of the day."""
    start, end = max(since, person.arrives_min), min(until, person.leaves_min)
    there = max(0, end - start)
    blocked = [False] * there
    for gone, back in person.away:
        for minute in range(max(gone, start), min(back, end)):
            blocked[minute - start] = True
    there -= sum(blocked)
    for rest in person.breaks:  # the part that cannot lie outside, wherever it is put
        latest_in = until - rest.latest_start_min
        earliest_in = rest.earliest_min + rest.duration_min - since
        there -= max(0, min(rest.duration_min, latest_in, earliest_in))
    return max(0, there)


def _hours_of_hands(problem: Problem) -> Iterator[Bound]:
    work = all_work(problem)
    everyone = frozenset(p.id for p in problem.people)
    for group in dict.fromkeys((*(w.able for w in work), everyone)):
        mine = [w for w in work if w.able <= group]
        if not mine or not group:
            continue
        people = [p for p in problem.people if p.id in group]
        names = all_of(sorted(group))
        since = min(w.earliest for w in mine)
        for capacity, measure in ((4, None), (2, WHOLE_HANDS)):
            needed = sum(
                w.minutes * (measure[w.quarters] if measure else w.quarters)
                for w in mine
            )
            minute = _when_given(people, since, needed, capacity, problem.horizon_min)
            yield Bound(minute, f"there is work for the hands of {names} until then")


def _when_given(
    people: list[Person], since: int, needed: int, capacity: int, horizon: int
) -> int:
    """First minute by which people can have given ``needed``; past the day if never."""

    def given(until: int) -> int:
        return capacity * sum(hands_by(p, since, until) for p in people)

    if given(horizon) < needed:
        return horizon + 1
    low, high = since, horizon
    while low < high:
        middle = (low + high) // 2
        if given(middle) >= needed:
            high = middle
        else:
            low = middle + 1
    return low
