"""
Problems with a published or closed answer, through the same model as a kitchen's day.

A machine is a person with a skill of its own whom each step takes whole; a job is a
batch whose steps follow each other. A batch-processing machine is a canner.
"""

from __future__ import annotations

import random
from itertools import pairwise

import pytest
from planning.small_days import ALL_SKILLS, canner, day, person, step

from stillroom.methods.step import Link
from stillroom.planning.plan import plan_day
from stillroom.planning.problem import Batch, Counter, Person, Problem, Process
from stillroom.planning.timetable import Answer

# H. Fisher and G. L. Thompson, Probabilistic learning combinations of local job-shop
# scheduling rules, in Industrial Scheduling (Muth and Thompson, eds.), 1963: 6 jobs on
# 6 machines, optimum 55. Each pair is (machine, minutes).
FT06 = """
2,1 0,3 1,6 3,7 5,3 4,6
1,8 2,5 4,10 5,10 0,10 3,4
2,5 3,4 5,8 0,9 1,1 4,7
1,5 0,5 2,5 3,3 4,8 5,9
2,9 1,3 4,5 5,4 0,3 3,1
1,3 3,3 5,9 0,10 4,4 2,1
"""
# S. Lawrence, Resource constrained project scheduling: an experimental investigation of
# heuristic scheduling techniques (supplement), 1984: 10 jobs on 5 machines,
# optimum 666.
LA01 = """
1,21 0,53 4,95 3,55 2,34
0,21 3,52 4,16 2,26 1,71
3,39 4,98 1,42 2,31 0,12
1,77 0,55 4,79 2,66 3,77
0,83 3,34 2,64 1,19 4,37
1,54 2,43 4,79 0,92 3,62
3,69 4,77 1,87 2,87 0,93
2,38 0,60 1,41 3,24 4,83
3,17 1,49 4,25 0,44 2,98
4,77 3,79 2,43 1,75 0,96
"""


def job_shop(table: str, horizon_min: int) -> Problem:
    jobs = [
        [tuple(map(int, pair.split(","))) for pair in line.split()]
        for line in table.strip().splitlines()
    ]
    return shop(jobs, horizon_min)


def shop(jobs: list[list[tuple[int, ...]]], horizon_min: int) -> Problem:
    machines = sorted({machine for job in jobs for machine, _ in job})
    people = tuple(
        Person(
            id=f"machine {m}",
            skills=frozenset({f"runs {m}"}),
            arrives_min=0,
            leaves_min=horizon_min,
        )
        for m in machines
    )
    batches = []
    for n, job in enumerate(jobs):
        steps = tuple(
            step(str(k), minutes, 4, skill=f"runs {machine}")
            for k, (machine, minutes) in enumerate(job)
        )
        links = tuple(Link(before=a.id, after=b.id) for a, b in pairwise(steps))
        batches.append(
            Batch(
                id=f"job {n}",
                product=f"job {n}",
                jars=0,
                process=None,
                pots=(),
                ready_after="",
                closed_wait_at_most_min=0,
                steps=steps,
                links=links,
            )
        )
    return day(*batches, people=people, canners=(), horizon_min=horizon_min)


def proven_finish(problem: Problem) -> int:
    answer = plan_day(problem, seconds=20.0)
    assert isinstance(answer, Answer), answer
    assert answer.proven
    return answer.finish_min


def test_ft06_ends_at_55() -> None:
    assert proven_finish(job_shop(FT06, 120)) == 55


def test_la01_ends_at_666() -> None:
    assert proven_finish(job_shop(LA01, 1500)) == 666


def johnson_min(jobs: list[tuple[int, int]]) -> int:
    """Makespan of S. M. Johnson's rule for two machines in a row (1954)."""
    early = sorted((j for j in jobs if j[0] <= j[1]), key=lambda j: j[0])
    late = sorted((j for j in jobs if j[0] > j[1]), key=lambda j: -j[1])
    first = second = 0
    for a, b in early + late:
        first += a
        second = max(second, first) + b
    return second


@pytest.mark.parametrize("seed", range(12))
def test_two_machines_in_a_row_follow_johnsons_rule(seed: int) -> None:
    drawn = random.Random(seed)
    jobs = [
        (drawn.randint(1, 20), drawn.randint(1, 20)) for _ in range(drawn.randint(3, 8))
    ]
    flow = [[(0, a), (1, b)] for a, b in jobs]
    assert proven_finish(shop(flow, 400)) == johnson_min(jobs)


def batch_machine_min(releases: list[int], places: int, cycle: int) -> int:
    """
    Makespan of a machine that takes ``places`` jobs of equal length at once.

    Sorted by release, the first load takes what is left over and all others are full.
    """
    waiting = sorted(releases)
    left_over = len(waiting) % places or places
    loads = [waiting[:left_over]]
    loads += [waiting[i : i + places] for i in range(left_over, len(waiting), places)]
    end = 0
    for load in loads:
        end = max(end, load[-1]) + cycle
    return end


@pytest.mark.parametrize("seed", range(8))
def test_a_canner_is_a_batch_processing_machine(seed: int) -> None:
    drawn = random.Random(seed)
    places = drawn.randint(2, 4)
    releases = [drawn.randint(1, 90) for _ in range(drawn.randint(3, 8))]
    minutes = drawn.randint(5, 25)
    batches = [
        Batch(
            id=f"jar {n}",
            product=f"jar {n}",
            jars=1,
            process="p",
            pots=(),
            ready_after="comes",
            closed_wait_at_most_min=400,
            steps=(step("comes", release, 0),),
            links=(),
        )
        for n, release in enumerate(releases)
    ]
    plain = canner(
        burners=(),
        places={"jar": places},
        first_heat_min=0,
        reheat_min=0,
        stays_hot_min=400,
        load_min=1,
        come_up_min=1,
        rest_min=0,
        unload_min=1,
    )
    process = Process(id="p", jar="jar", minutes=minutes, may_ride_in=("p",))
    problem = day(
        *batches,
        people=(person("a", skills=ALL_SKILLS),),
        canners=(plain,),
        processes=(process,),
        counter=Counter(places=99, cooling_min=1440),
        horizon_min=600,
    )
    expected = batch_machine_min(releases, places, 1 + 1 + minutes + 1)
    assert proven_finish(problem) == expected
