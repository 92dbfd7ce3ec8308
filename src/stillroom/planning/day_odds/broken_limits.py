"""Limits that give way on uncertain days: how often, and by how much."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

import numpy as np

from stillroom.planning.day_odds.draws import Array
from stillroom.planning.day_odds.forward import TIGHT_MIN, Days
from stillroom.planning.judge.check_loads import LIFT_WITHIN_MIN
from stillroom.planning.problem import Problem
from stillroom.planning.timetable import Timetable
from stillroom.planning.waits.precedence import Part, Precedence, closing_steps
from stillroom.planning.words.hour_words import the_burner
from stillroom.planning.words.step_words import called

DAYS_FOR_HANDS = 500
"""Over-asked hands are counted on the first so many days."""


LEAVES_IN_TIME = "leaves in time"
"""Said behind a name."""


@dataclass(frozen=True, slots=True, kw_only=True)
class BrokenLimit:
    """One kind of limit, and how it fares."""

    kind: str
    """In words: '"Fill half-pint jars" at most 2 min after "Off the fire, skim"'."""
    times_a_day: float
    over_min: float
    """By how much on average where it is broken. [min]"""
    share_of_days: float
    """On which it is broken at least once."""


def still_at_work(broken: Iterable[BrokenLimit], share: float) -> tuple[str, ...]:
    """Who is still at work at the hour they leave by, on more than a share of days."""
    return tuple(
        one.kind.removesuffix(LEAVES_IN_TIME).strip()
        for one in broken
        if one.kind.endswith(LEAVES_IN_TIME) and one.share_of_days > share
    )


def broken_limits(
    net: Precedence,
    problem: Problem,
    plan: Timetable,
    days: Days,
    *,
    since_min: int | None = None,
) -> tuple[tuple[BrokenLimit, ...], float]:
    """
    Return limits that are broken, the most frequent first, and the over-asked minutes.

    Those are minutes a day, all people together, in which somebody is asked for more
    attention than they have to give. A limit that was kept or broken
    before ``since_min``, when the rest was planned again, is of the past and not told.
    """
    over: dict[str, list[Array]] = {}
    for kind, planned_min, minutes in _overruns(net, problem, plan, days):
        if since_min is not None and planned_min < since_min:
            continue
        over.setdefault(kind, []).append(minutes)
    found = []
    for kind, rows in over.items():
        all_rows = np.stack(rows)
        broken = all_rows > TIGHT_MIN
        if not broken.any():
            continue
        found.append(
            BrokenLimit(
                kind=kind,
                times_a_day=float(broken.sum(axis=0).mean()),
                over_min=float(all_rows[broken].mean()),
                share_of_days=float(broken.any(axis=0).mean()),
            )
        )
    found.sort(key=lambda b: -b.times_a_day)
    return tuple(found), _over_asked(net, problem, days)


def _overruns(
    net: Precedence, problem: Problem, plan: Timetable, days: Days
) -> Iterator[tuple[str, int, Array]]:
    """Kind of each limit, when it is kept by the plan, and by how much it is broken."""
    start, end, number = days.start, days.end, net.number

    def begins(node: int) -> int:
        return net.nodes[node].start_min

    for batch in problem.batches:
        for link in batch.links:
            before, after = number[batch.id, link.before], number[batch.id, link.after]
            gap = start[after] - end[before]
            names = (called(batch, link.before), called(batch, link.after))
            kind = f"{names[1]} begun before {names[0]} is over"
            yield kind, begins(after), link.at_least_min - gap
            if link.at_most_min is not None:
                kind = f"{names[1]} at most {link.at_most_min} min after {names[0]}"
                yield kind, begins(after), gap - link.at_most_min
    batch_of = {b.id: b for b in problem.batches}
    for load in plan.loads:
        lower = number[load.id, "lower"]
        for name, _ in load.jars:
            batch = batch_of[name]
            closed = np.max(
                [end[number[name, s]] for s in closing_steps(batch)], axis=0
            )
            most = batch.closed_wait_at_most_min
            kind = f"closed jars wait at most {most} min"
            yield kind, begins(lower), start[lower] - closed - most
        rested, lift = end[number[load.id, "rest"]], number[load.id, "lift"]
        kind = f"jars lifted at most {LIFT_WITHIN_MIN} min after their rest"
        yield kind, begins(lift), start[lift] - rested - LIFT_WITHIN_MIN
    for person in problem.people:
        mine = [n for n, node in enumerate(net.nodes) if node.person == person.id]
        work = [n for n in mine if net.nodes[n].is_work]
        if work:
            last = np.max([end[n] for n in work], axis=0)
            planned = max(net.nodes[n].end_min for n in work)
            yield f"{person.id} {LEAVES_IN_TIME}", planned, last - person.leaves_min
        latest = max((r.latest_start_min for r in person.breaks), default=0)
        for n in mine:
            if net.nodes[n].part is Part.BREAK:
                kind = f"the hour by which {person.id} rests"
                yield kind, begins(n), start[n] - latest
    for n, node in enumerate(net.nodes):
        if node.part is Part.TAKEN:
            kind = f"the hour from which {the_burner(node.of)} is taken"
            yield kind, begins(n), start[n] - node.start_min


def _over_asked(net: Precedence, problem: Problem, days: Days) -> float:
    """Minutes a day in which somebody is asked for more quarters than there are."""
    total = 0.0
    few = slice(0, DAYS_FOR_HANDS)
    for person in problem.people:
        mine = [
            n
            for n, node in enumerate(net.nodes)
            if node.person == person.id and node.quarters and node.part is not Part.AWAY
        ]
        if not mine:
            continue
        starts, ends = days.start[mine, few], days.end[mine, few]
        quarters = np.array([[net.nodes[n].quarters] for n in mine], dtype=float)
        whole = np.broadcast_to(quarters, starts.shape)
        times = np.concatenate([starts, ends])
        change = np.concatenate([whole, -whole])
        # what ends at a minute is over before what begins at it
        order = np.lexsort((change, np.round(times, 6)), axis=0)
        times = np.take_along_axis(times, order, axis=0)
        asked = np.cumsum(np.take_along_axis(change, order, axis=0), axis=0)
        spans = np.diff(times, axis=0)
        capacity = max(person.quarters, max(net.nodes[n].quarters for n in mine))
        total += float((spans * (asked[:-1] > capacity)).sum(axis=0).mean())
    return total
