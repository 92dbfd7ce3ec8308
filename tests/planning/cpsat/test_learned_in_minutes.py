"""
What a search of one thread learns speaks of minutes (docs/decisions/0107).

Work is counted in the solver's deterministic time. Learning of yes and no alone, the
whole searches took 0.13 to 0.23 and 0.07 to 0.13 from seeds 1 to 6, the part 0.70 to
1.0; as it is 0.05 to 0.06, 0.02 to 0.03, and 0.27 to 0.31 from the seeds below.
"""

import time

import pytest
from ortools.sat.python import cp_model

from stillroom.planning.cpsat import objective
from stillroom.planning.cpsat.one_part import part_solver
from stillroom.planning.cpsat.reading import hints_of
from stillroom.planning.cpsat.search import Search
from stillroom.planning.cpsat.solve import day_model
from stillroom.planning.cpsat.whole import UNITS_A_SECOND, search_whole
from stillroom.planning.hand.by_hand import by_hand
from tests.planning.small_days import day, jelly


def jellies(many, people):
    """The model of a day of so many jellies in one pot, hinted at by hand."""
    batches = [jelly(f"jelly {n}", product=f"jelly {n}") for n in range(many)]
    problem = day(*batches, people=people)
    plan = by_hand(problem)
    assert plan is not None
    model = day_model(problem, plan, 0)
    model.model.minimize(objective.end_and_lateness(model))
    for var, value in hints_of(model, plan):
        model.model.add_hint(var, value)
    return model


@pytest.mark.parametrize(
    ("many", "people", "units", "ends"), [(3, 1, 0.09, 186), (5, 2, 0.045, 210)]
)
@pytest.mark.parametrize("seed", [1, 2, 3])
def test_a_small_day_is_proven_in_half_the_work(many, people, units, ends, seed):
    model = jellies(many, people)
    until = time.monotonic() + 60
    search = Search(until, 1, seed, deterministic=True, latest=until)
    goal = objective.end_and_lateness(model)
    found = search_whole(model, goal, None, search, units / UNITS_A_SECOND)
    assert (found.status, found.bound) == (cp_model.OPTIMAL, ends)


@pytest.mark.parametrize("seed", [2, 3, 4])
def test_so_is_what_a_part_sets_free(seed):
    solver = part_solver(seed)
    solver.parameters.max_deterministic_time = 0.5
    assert solver.solve(jellies(3, 1).model) == cp_model.OPTIMAL
