"""A day written out once for the many plans that are made of it by turns."""

from __future__ import annotations

from dataclasses import dataclass

from stillroom.planning.network import Network, network_of
from stillroom.planning.problem import Problem
from stillroom.planning.rinses import contents_of
from stillroom.planning.sequence.making import least_skilled_first, made_of
from stillroom.planning.sequence.parts import Made


@dataclass(frozen=True, slots=True)
class Compiled:
    """A day written out."""

    problem: Problem
    made: tuple[Made, ...]
    """One for each batch."""
    networks: tuple[Network, ...]
    tools: int
    """Pots and mills; mills come after the pots."""
    alike: tuple[str, ...]
    """Of each pot and mill what it is like: the size of a pot."""
    covers: tuple[tuple[int, ...], ...]
    """Burners of each canner."""
    covered_by: tuple[tuple[int, ...], ...]
    """Canners of each burner."""
    lifters: tuple[int, ...]
    rides: tuple[frozenset[int], ...]
    """For each process, those of the loads its jars may ride in."""
    late: tuple[tuple[int, int, tuple[int, ...]], ...]
    """(by, weight, batches) of each want."""


def compiled(problem: Problem) -> Compiled | None:
    """
    Write a day out; `None` where a batch must be split over several loads.

    That is left to the solver: here a batch rides in one load.
    """
    most = {
        p.id: max((c.places.get(p.jar, 0) for c in problem.canners), default=0)
        for p in problem.processes
    }
    if any(b.process is not None and b.jars > most[b.process] for b in problem.batches):
        return None
    seen: dict[tuple[object, ...], Made] = {}
    made = []
    for b in problem.batches:
        key = (b.jars, b.process, b.pots, b.ready_after, b.closed_wait_at_most_min)
        whole = (*key, b.steps, b.links, b.windows, contents_of(b))
        if whole not in seen:
            seen[whole] = made_of(problem, b)
        made.append(seen[whole])
    burner = {b.id: n for n, b in enumerate(problem.burners)}
    covers = tuple(tuple(burner[x] for x in c.burners) for c in problem.canners)
    place = {p.id: n for n, p in enumerate(problem.processes)}
    return Compiled(
        problem=problem,
        made=tuple(made),
        networks=tuple(network_of(b) for b in problem.batches),
        tools=len(problem.pots) + problem.mills,
        alike=(*(p.size for p in problem.pots), *["\0mill"] * problem.mills),
        covers=covers,
        covered_by=tuple(
            tuple(c for c, under in enumerate(covers) if b in under)
            for b in range(len(problem.burners))
        ),
        lifters=tuple(
            n
            for n in least_skilled_first(problem)
            if "lift" in problem.people[n].skills
        ),
        rides=tuple(
            frozenset(place[x] for x in p.may_ride_in if x in place)
            for p in problem.processes
        ),
        late=tuple(
            (
                w.by_min,
                w.weight,
                tuple(
                    n for n, b in enumerate(problem.batches) if w.product in b.serves
                ),
            )
            for w in problem.wants
        ),
    )
