"""
Measure how much later the odds are for a fixed choice among things that are alike.

The pass keeps which of two pots alike, which of two fires alike and which quarters of a
person a step has in the plan; a cook takes what is free first. Here the same days are
run twice more. In the first each step takes the first of its like that is free, in the
plan's order. In the second it waits for the sooner of that and of its own thing: no
kitchen that keeps the order is sooner, so that it brings the most that can be.

Run: ``python benchmarks/lanes.py demo eighty_jars d3 --seconds 5``
"""

from __future__ import annotations

import argparse
from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from importlib import resources

import numpy as np
from made_up_days import made_up_day
from numpy.typing import NDArray

from stillroom.planning.day_file.dayfile import read_day
from stillroom.planning.day_odds.forward import Pass
from stillroom.planning.day_odds.in_time import policy_of
from stillroom.planning.day_odds.odds import minutes_of_days
from stillroom.planning.plan import plan_day
from stillroom.planning.problem import Problem
from stillroom.planning.timetable import Answer, Timetable
from stillroom.planning.waits.precedence import Arc, Precedence, Tie
from stillroom.planning.waits.precedence_net import LANES
from stillroom.planning.whole_day import plan_the_day

Minutes = NDArray[np.float64]
DAYS = 2_000
ROUNDS = 12
"""Of a pot it may be known only in the next round when it is free."""
SHIPPED = ("demo", "eighty_jars")
"""Day files; any other name is one of the made-up days."""
QUARTERS = "quarters"


@dataclass(frozen=True)
class Alike:
    """Things that are alike, and who has one of them, in the plan's order."""

    tie: Tie
    names: frozenset[str]
    held: tuple[tuple[tuple[int, ...], tuple[int, ...]], ...]
    """Nodes that begin a hold, and those that end it."""


def pots_alike(problem: Problem, plan: Timetable, net: Precedence) -> Iterator[Alike]:
    """Pots of one size, each held from a batch's first step in it to its last."""
    pot_of = {s.batch: s.pot for s in plan.steps if s.pot is not None}
    for size in {pot.size for pot in problem.pots}:
        names = frozenset(pot.id for pot in problem.pots if pot.size == size)
        held = []
        for batch in problem.batches:
            if pot_of.get(batch.id) in names:
                inside = [net.number[batch.id, s.id] for s in batch.steps if s.in_pot]
                held.append((tuple(inside), tuple(inside)))
        held.sort(key=lambda h: min(net.nodes[n].start_min for n in h[0]))
        yield Alike(Tie.POT, names, tuple(held))


def fires_alike(problem: Problem, plan: Timetable, net: Precedence) -> Iterator[Alike]:
    """Burners alike in power, in what they bear, and in the canners that cover them."""
    kinds: dict[object, list[str]] = defaultdict(list)
    for burner in problem.burners:
        over = frozenset(c.id for c in problem.canners if burner.id in c.burners)
        kinds[burner.power_w, burner.takes, over].append(burner.id)
    in_pot = {(b.id, s.id): s.in_pot for b in problem.batches for s in b.steps}
    for names in kinds.values():
        held: list[tuple[int, list[int], list[int]]] = []
        for name in names:
            holds = [
                (
                    s.start_min,
                    s.batch if in_pot[s.batch, s.step] else f"{s.batch}/{s.step}",
                    (net.number[s.batch, s.step],),
                    (net.number[s.batch, s.step],),
                )
                for s in plan.steps
                if s.burner == name
            ]
            for canner in problem.canners:
                if name not in canner.burners:
                    continue
                for load in plan.loads:
                    if load.canner == canner.id:
                        begins = "lower" if load.hot else "heat"
                        first, last = (
                            net.number[load.id, begins],
                            net.number[load.id, "lift"],
                        )
                        holds.append((load.heat_min, canner.id, (first,), (last,)))
            before = ""
            for start, holder, first_of, last_of in sorted(holds):
                if holder == before:  # it stays where it is
                    held[-1][2].extend(last_of)
                else:
                    held.append((start, list(first_of), list(last_of)))
                before = holder
        held.sort(key=lambda h: h[0])
        yield Alike(
            Tie.BURNER,
            frozenset(names),
            tuple((tuple(first), tuple(last)) for _, first, last in held),
        )


class Free:
    """The days of a plan with a free choice among things that are alike."""

    def __init__(
        self, net: Precedence, alike: Sequence[Alike], *, or_its_own: bool
    ) -> None:
        self.net, self.alike, self.or_its_own = net, alike, or_its_own
        self.place = {group: n for n, group in enumerate(net.order)}
        self.arcs: dict[int, list[Arc]] = defaultdict(list)
        for arc in net.arcs:
            self.arcs[net.group_of[arc.after]].append(arc)
        self.inner: dict[int, list[Arc]] = defaultdict(list)
        for arc in net.inner:
            self.inner[arc.after].append(arc)
        groups = range(len(net.members))
        self.floor = [min(0.0, float(net.group_start_min(g))) for g in groups]
        for floor in net.floors:
            group = net.group_of[floor.node]
            minute = float(floor.minute - net.offset[floor.node])
            self.floor[group] = max(self.floor[group], minute)
        self.before: dict[int, list[int]] = {}
        """Who had quarters of the same person before, a number for each quarter."""
        whose: dict[str, list[int]] = defaultdict(list)
        for n, node in enumerate(net.nodes):
            if node.person is not None and node.quarters:
                whose[node.person].append(n)
        for mine in whose.values():
            mine.sort(key=lambda n: (net.nodes[n].start_min, net.nodes[n].end_min))
            given: list[int] = []
            for n in mine:
                self.before[n] = list(given)
                given += [n] * net.nodes[n].quarters

    def finishes(self, minutes: Minutes) -> Minutes:
        """When each day is over. [min]"""
        start, end = np.zeros_like(minutes), np.zeros_like(minutes)
        self._round(minutes, start, end, None)
        for _ in range(ROUNDS):
            was = start.copy()
            self._round(minutes, start, end, end.copy())
            if np.array_equal(was, start):
                break
        work = [n for n, node in enumerate(self.net.nodes) if node.is_work]
        return np.asarray(end[work].max(axis=0))

    def _round(
        self, minutes: Minutes, start: Minutes, end: Minutes, known: Minutes | None
    ) -> None:
        """Play the days through, in place; without ``known`` each in its own lane."""
        net = self.net
        for group in net.order:
            begins = np.full(minutes.shape[1], self.floor[group])
            lanes: dict[tuple[int, str], Minutes] = {}
            for arc in self.arcs[group]:
                over = end[arc.before] + arc.lag_min - net.offset[arc.after]
                of = None if known is None else self._choice_of(arc)
                if of is None:
                    begins = np.maximum(begins, over)
                else:
                    lanes[of] = np.maximum(lanes.get(of, over), over)
            for (node, of_what), own in lanes.items():
                assert known is not None
                first = self._first_free(node, of_what, end, known)
                free = first - net.offset[node]
                if self.or_its_own:
                    free = np.minimum(own, free)
                begins = np.maximum(begins, free)
            for n in net.members[group]:
                start[n] = begins + net.offset[n]
                if self.inner[n]:
                    start[n] = np.max(
                        [end[a.before] + a.lag_min for a in self.inner[n]], axis=0
                    )
                end[n] = start[n] + minutes[n]

    def _choice_of(self, arc: Arc) -> tuple[int, str] | None:
        """(node, what of), where another of its like would do."""
        if arc.tie is Tie.PERSON:
            return arc.after, QUARTERS
        for alike in self.alike:
            if arc.tie is alike.tie and arc.what in alike.names and not arc.lag_min:
                return arc.after, min(alike.names)
        return None

    def _first_free(
        self, node: int, of_what: str, end: Minutes, known: Minutes
    ) -> Minutes:
        """When so much is free that a node can begin, in the plan's order."""
        never = np.full(end.shape[1], -np.inf)
        if of_what == QUARTERS:
            here = self.place[self.net.group_of[node]]
            rows = [
                end[n] if self.place[self.net.group_of[n]] < here else never
                for n in self.before[node]
            ]
            spare = LANES - self.net.nodes[node].quarters
        else:
            alike = next(a for a in self.alike if of_what == min(a.names))
            # a canner that stands on two fires takes both
            mine = [k for k, (first, _) in enumerate(alike.held) if node in first]
            rows = [
                np.max([known[n] for n in last], axis=0)
                for _, last in alike.held[: mine[0]]
            ]
            spare = len(alike.names) - len(mine)
        if len(rows) <= spare:
            return never
        return np.asarray(np.sort(rows, axis=0)[len(rows) - spare - 1])


def planned(name: str, seconds: float) -> tuple[Problem, Timetable] | None:
    """A day and its plan."""
    if name in SHIPPED:
        data = resources.files("stillroom.planning") / "data" / f"{name}.toml"
        plan = plan_the_day(read_day(data.read_text("utf-8")), seconds=seconds)
        problem, answer = getattr(plan, "problem", None), getattr(plan, "answer", None)
    else:
        problem = made_up_day(name)
        answer = plan_day(problem, seconds=seconds)
    if problem is None or not isinstance(answer, Answer):
        return None
    return problem, answer.timetable


def told(lanes: Minutes, free: Minutes) -> Mapping[str, float]:
    """What a free choice brings: minutes, and hundredths of a chance."""
    hours = np.arange(int(lanes.max()) + 1).reshape(-1, 1)
    gain = (free <= hours).mean(axis=1) - (lanes <= hours).mean(axis=1)
    return {
        "median": float(np.median(lanes)),
        "free": float(np.median(free)),
        "mean": float((lanes - free).mean()),
        "95 %": float(np.quantile(lanes - free, 0.95)),
        "in 100": 100 * float(gain.max()),
    }


def main() -> None:
    """Read the options and print a line for each day."""
    asked = argparse.ArgumentParser(description=__doc__.strip().splitlines()[0])
    asked.add_argument("days", nargs="*", default=list(SHIPPED))
    asked.add_argument("--seconds", type=float, default=5.0, help="for each plan")
    given = asked.parse_args()
    for name in given.days:
        found = planned(name, given.seconds)
        if found is None:
            print(f"{name:12} no plan")
            continue
        problem, plan = found
        net = policy_of(problem, plan)
        minutes = minutes_of_days(net, problem, plan, days=DAYS).astype(np.float64)
        lanes = np.asarray(Pass(net).forward(minutes).finish, dtype=np.float64)
        alike = [*pots_alike(problem, plan, net), *fires_alike(problem, plan, net)]
        for what, or_its_own in (("free", False), ("at most", True)):
            free = Free(net, alike, or_its_own=or_its_own).finishes(minutes)
            row = (f"{of} {n:.2f}" for of, n in told(lanes, free).items())
            print(f"{name:12}{what:8}", *row, flush=True)


if __name__ == "__main__":
    main()
