"""
Projects with minimum and maximum time lags and scarce resources, as a kitchen's day.

An activity is as many steps at once as it needs units; a unit of a resource is a person
with a skill of its own whom a step takes whole. Lags run from start to start, as they
are printed, so that the link behind an end is shorter by the duration.
"""

from __future__ import annotations

import random
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import permutations

import pytest
from planning.small_days import day, person, step

from stillroom.methods.step import Link
from stillroom.planning.judge.check import violations
from stillroom.planning.plan import plan_day
from stillroom.planning.problem import Batch, Problem
from stillroom.planning.timetable import Answer, NoneFound


@dataclass(frozen=True)
class Project:
    """Activities 1 .. n by duration and units, with lags from start to start."""

    minutes: tuple[int, ...]
    units: tuple[tuple[int, ...], ...]
    lags: tuple[tuple[int, int, int], ...]
    capacity: tuple[int, ...]


# Instance PSP1 of test set J10 (10 activities, 5 resources, minimum and maximum lags),
# made with the generator ProGen/max: R. Kolisch, C. Schwindt and A. Sprecher, Benchmark
# instances for project scheduling problems, in Project Scheduling (J. Weglarz, ed.),
# 1999, 197-212. Optimum 26. Looked up in a public repository's tests, as instance text
# and as a row of a table of optima; the title from memory. Lags of the project's
# dummy start and end are left out: those from the start are 0, those to the end are
# the durations.
PSP1 = Project(
    minutes=(3, 10, 3, 3, 3, 5, 10, 2, 6, 1),
    units=(
        (4, 1, 0, 0, 0),
        (1, 0, 3, 0, 0),
        (4, 0, 2, 2, 3),
        (0, 0, 0, 3, 0),
        (0, 1, 2, 4, 0),
        (2, 3, 4, 0, 0),
        (0, 4, 4, 0, 4),
        (2, 0, 0, 4, 4),
        (5, 0, 0, 1, 1),
        (0, 1, 0, 0, 0),
    ),
    lags=(
        (1, 9, 9), (1, 7, 1), (1, 8, 8), (1, 10, 2), (2, 8, 24), (3, 10, 4),
        (3, 7, 8), (4, 10, 0), (4, 9, 0), (4, 5, 7), (5, 6, 0),
        (8, 1, -22), (8, 2, -34),
    ),
    capacity=(5, 5, 5, 5, 5),
)  # fmt: skip


def as_day(project: Project, horizon_min: int) -> Problem:
    steps, links, first = [], [], {}
    for n, minutes in enumerate(project.minutes, 1):
        names = [
            (f"{n}/{k}/{u}", f"runs {k}")
            for k, units in enumerate(project.units[n - 1])
            for u in range(units)
        ]
        first[n] = names[0][0]
        steps += [step(name, minutes, 4, skill=skill) for name, skill in names]
        links += [  # all at once: the other begins when this one does
            Link(before=first[n], after=other, at_least_min=-minutes,
                 at_most_min=-minutes)
            for other, _ in names[1:]
        ]  # fmt: skip
    for before, after, lag in project.lags:
        links.append(
            Link(
                before=first[before],
                after=first[after],
                at_least_min=lag - project.minutes[before - 1],
            )
        )
    batch = Batch(
        id="project",
        product="project",
        jars=0,
        process=None,
        pots=(),
        ready_after="",
        closed_wait_at_most_min=0,
        steps=tuple(steps),
        links=tuple(links),
    )
    people = tuple(
        person(f"{k}-{u}", skills=frozenset({f"runs {k}"}), leaves_min=horizon_min)
        for k, units in enumerate(project.capacity)
        for u in range(units)
    )
    return day(batch, people=people, canners=(), horizon_min=horizon_min)


def proven_finish(project: Project, horizon_min: int = 120) -> int | None:
    problem = as_day(project, horizon_min)
    answer = plan_day(problem, seconds=6.0)
    if isinstance(answer, NoneFound):
        assert answer.impossible
        return None
    assert answer.proven
    assert violations(problem, answer.timetable) == ()
    return answer.finish_min


def test_psp1_of_j10_ends_at_26() -> None:
    assert proven_finish(PSP1) == 26


# --- minimum lags: every list, served in turn ---------------------------------------


def in_turn(project: Project, turn: tuple[int, ...]) -> int:
    """
    Makespan where each activity in turn begins as early as it then can.

    With minimum lags alone, some order of all gives the best makespan there is: an
    optimal schedule, served in the order of its starts, ends no later.
    """
    starts: dict[int, int] = {}
    for n in turn:
        at = max(
            [0, *(starts[b] + lag for b, a, lag in project.lags if a == n)], default=0
        )
        while not _fits(project, starts, n, at):
            at += 1
        starts[n] = at
    return max(starts[n] + project.minutes[n - 1] for n in starts)


def _fits(project: Project, starts: dict[int, int], n: int, at: int) -> bool:
    for minute in range(at, at + project.minutes[n - 1]):
        for k, most in enumerate(project.capacity):
            used = sum(
                project.units[m - 1][k]
                for m, start in starts.items()
                if start <= minute < start + project.minutes[m - 1]
            )
            if used + project.units[n - 1][k] > most:
                return False
    return True


def orders(project: Project) -> Iterator[tuple[int, ...]]:
    for turn in permutations(range(1, len(project.minutes) + 1)):
        place = {n: i for i, n in enumerate(turn)}
        if all(place[b] < place[a] for b, a, _ in project.lags):
            yield turn


@pytest.mark.parametrize("seed", range(8))
def test_a_project_with_minimum_lags_ends_with_the_best_of_all_orders(
    seed: int,
) -> None:
    drawn = random.Random(seed)
    minutes = tuple(drawn.randint(1, 6) for _ in range(6))
    units = tuple((drawn.randint(1, 3), drawn.choice([0, 0, 1, 2])) for _ in range(6))
    lags = tuple(
        (b, a, drawn.randint(0, minutes[b - 1] + 2))
        for b in range(1, 7)
        for a in range(b + 1, 7)
        if drawn.random() < 0.25
    )
    project = Project(minutes, units, lags, capacity=(3, 2))
    best = min(in_turn(project, turn) for turn in orders(project))
    assert proven_finish(project, 60) == best


def test_a_maximum_lag_that_no_plan_keeps_is_no_plan() -> None:
    # two activities of 3 on one unit, to begin within a minute of each other
    one = Project((3, 3), ((1,), (1,)), ((1, 2, 0), (2, 1, -1)), capacity=(1,))
    assert proven_finish(one, 30) is None
    enough = Project((3, 3), ((1,), (1,)), ((1, 2, 0), (2, 1, -3)), capacity=(1,))
    assert proven_finish(enough, 30) == 6


# --- two-sided lags: every start of every step --------------------------------------

LATEST = 16
"""A best plan of these few short steps begins none later. [min]"""


def two_sided(seed: int) -> Batch:
    """Four steps of one pair of hands; some wait at least so long, and at most."""
    drawn = random.Random(seed)
    steps = [step(f"s{n}", drawn.randint(1, 4), 4) for n in range(4)]
    links = []
    for a in range(1, 4):  # behind one step each: no two links contradict each other
        least = drawn.randint(1, 3)
        links.append(
            Link(
                before=f"s{drawn.randrange(a)}",
                after=f"s{a}",
                at_least_min=least,
                at_most_min=least + drawn.randint(1, 3),
            )
        )
    return Batch(
        id="two-sided", product="two-sided", jars=0, process=None, pots=(),
        ready_after="", closed_wait_at_most_min=0, steps=tuple(steps),
        links=tuple(links),
    )  # fmt: skip


def best_of_all_starts(batch: Batch, people: int) -> int | None:
    takes = {s.id: s.duration_min for s in batch.steps}

    def finishes(starts: dict[str, int]) -> Iterator[int]:
        if len(starts) == len(takes):
            yield max(at + takes[name] for name, at in starts.items())
            return
        name = f"s{len(starts)}"
        for at in range(LATEST + 1):
            tried = {**starts, name: at}
            lags = (
                (link, tried[link.after] - tried[link.before] - takes[link.before])
                for link in batch.links
                if link.before in tried and link.after in tried
            )
            if any(
                not x.at_least_min <= lag <= (x.at_most_min or 0) for x, lag in lags
            ):
                continue
            busy = (
                sum(b <= minute < b + takes[n] for n, b in tried.items())
                for minute in range(at, at + takes[name])
            )
            if all(count <= people for count in busy):
                yield from finishes(tried)

    return min(finishes({}), default=None)


@pytest.mark.parametrize("seed", [*range(12), 66, 84])  # the last two: best at a most
def test_lags_of_two_sides_end_with_the_best_of_all_starts(seed: int) -> None:
    batch = two_sided(seed)
    for people in (1, 2):
        problem = day(batch, people=people, canners=(), horizon_min=60)
        answer = plan_day(problem, seconds=3.0)
        best = best_of_all_starts(batch, people)
        assert best is None or best <= LATEST + 1
        assert (answer.finish_min if isinstance(answer, Answer) else None) == best
        if isinstance(answer, Answer):
            assert answer.proven
            assert violations(problem, answer.timetable) == ()
