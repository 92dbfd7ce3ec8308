"""
All of a large day asked for plans that end so much sooner (docs/decisions/0108).

Work is counted. ``large_day`` has five jellies and three butters for two people: by
hand it ends at 465, by turns of two workers with a second of work each well before.
"""

import time
from dataclasses import replace

import pytest
from ortools.sat.python import cp_model

import stillroom.planning.cpsat.aimed as aimed
import stillroom.planning.cpsat.large_day as large
import stillroom.planning.cpsat.solve as solve
from stillroom.planning.bounding.bounds import lower_bound_min
from stillroom.planning.cpsat import objective
from stillroom.planning.cpsat.aimed import (
    keep_twins_in_order,
    search_aimed,
    whole_day_solver,
)
from stillroom.planning.cpsat.constraints import twins
from stillroom.planning.cpsat.reading import timetable_of
from stillroom.planning.cpsat.search import Search
from stillroom.planning.hand.by_hand import by_hand
from stillroom.planning.how_good.lateness import score
from stillroom.planning.judge.check import violations
from stillroom.planning.problem import Want
from tests.planning.cpsat.test_improve import known_plan, large_day
from tests.planning.small_days import butter, day, jelly


def begun(problem):
    """Its plan by hand, the model, a solver that knows that plan, and the goal."""
    plan = by_hand(problem)
    assert plan is not None
    model, known = known_plan(problem, plan)
    return plan, model, known, objective.end_and_lateness(model)


def search(*, counted=True, workers=2, seed=1):
    until = time.monotonic() + 60
    return Search(until, workers, seed, deterministic=counted, latest=until)


def nobody(_):
    """Hears of better plans."""


@pytest.mark.parametrize("counted", [True, False])
def test_a_far_better_plan_is_found_from_nothing_and_breaks_no_rule(counted):
    problem = large_day()
    plan, model, known, goal = begun(problem)
    told = []
    found = search_aimed(
        model,
        goal,
        known,
        lower_bound_min(problem),
        search(counted=counted),
        2.0,
        lambda solver: told.append(solver.value(goal)),
    )
    better = timetable_of(model, found.value)
    assert violations(problem, better) == ()
    assert score(problem, better) == found.value(goal) == told[-1]
    assert told == sorted(told, reverse=True)
    assert told[-1] <= 0.9 * score(problem, plan)


def test_counted_work_gives_the_same_plan_again():
    _, model, known, goal = begun(large_day())
    first, again = (
        search_aimed(model, goal, known, 0, search(seed=5), 1.0, nobody)
        for _ in range(2)
    )
    assert list(first.response_proto.solution) == list(again.response_proto.solution)


@pytest.mark.parametrize("workers", [1, 2])
def test_where_nothing_better_exists_the_plan_stands_and_the_search_ends(workers):
    problem = day(jelly("a"), jelly("b"))
    _, model, known, goal = begun(problem)
    least = search_aimed(model, goal, known, 0, search(workers=workers), 30.0, nobody)
    began = time.process_time()
    same = search_aimed(model, goal, least, 0, search(workers=workers), 1e6, nobody)
    assert same is least
    assert time.process_time() - began < 60  # and not a million seconds


def test_nothing_is_asked_for_below_the_floor(monkeypatch):
    _, model, known, goal = begun(large_day())
    asked = []
    ask = aimed._Worker._ask

    def heard(worker, best, aim, work_s, until):
        asked.append((aim, best.value(goal)))
        return ask(worker, best, aim, work_s, until)

    monkeypatch.setattr(aimed._Worker, "_ask", heard)
    floor = known.value(goal) - 20
    search_aimed(model, goal, known, floor, search(), 0.6, nobody)
    assert asked
    assert all(floor <= aim < worth for aim, worth in asked)
    # half of the way to what is proven, and no further
    assert asked[0][0] == known.value(goal) - 10
    asked.clear()
    at_it = search_aimed(model, goal, known, known.value(goal), search(), 9.0, nobody)
    assert at_it is known
    assert not asked


@pytest.mark.parametrize("asked_s", [0.3, 0.9, 1.7])
def test_no_more_work_is_done_than_was_asked_for(monkeypatch, asked_s):
    _, model, known, goal = begun(large_day())
    given = []

    def uses_all(worker, best, aim, work_s, until):
        given.append(work_s)
        return 0, best, work_s  # not decided

    monkeypatch.setattr(aimed._Worker, "_ask", uses_all)
    search_aimed(model, goal, known, 0, search(workers=1), asked_s, nobody)
    assert asked_s - aimed.LEAST_TRY_S <= sum(given) <= asked_s + 1e-9
    assert given[0] == min(asked_s, aimed.A_TRY_S)


def test_what_is_found_is_made_as_small_as_it_can_be_in_the_same_turn(monkeypatch):
    """And where that is proven nobody asks again."""
    _, model, known, goal = begun(day(butter("a"), butter("b"), jelly("c")))
    answers = []
    ask = aimed._Worker._ask

    def heard(worker, best, aim, work_s, until):
        status, solver, took_s = ask(worker, best, aim, work_s, until)
        answers.append((status, aim, solver.value(goal)))
        return status, solver, took_s

    monkeypatch.setattr(aimed._Worker, "_ask", heard)
    found = search_aimed(model, goal, known, 0, search(workers=1), 30.0, nobody)
    ((status, aim, least),) = answers
    assert status == cp_model.OPTIMAL
    assert found.value(goal) == least < aim


def test_after_a_step_that_was_found_a_smaller_one_is_asked_for(monkeypatch):
    _, model, known, goal = begun(large_day())
    steps = []

    def found(worker, best, aim, work_s, until):
        steps.append(best.value(goal) - aim)
        return cp_model.FEASIBLE, best, work_s

    monkeypatch.setattr(aimed._Worker, "_ask", found)
    search_aimed(model, goal, known, 0, search(workers=1), 9.0, nobody)
    assert steps[0] > 2 * steps[1] > 0


def test_a_step_in_vain_is_followed_by_a_smaller_one(monkeypatch):
    _, model, known, goal = begun(large_day())
    aims = []

    def never(worker, best, aim, work_s, until):
        aims.append(aim)
        return 0, best, work_s

    monkeypatch.setattr(aimed._Worker, "_ask", never)
    search_aimed(model, goal, known, 0, search(workers=1), 30.0, nobody)
    assert aims[0] < aims[1] < aims[2] < known.value(goal)
    assert known.value(goal) - aims[-1] < 0.2 * (known.value(goal) - aims[0])


def test_a_turn_in_vain_is_followed_by_a_longer_one(monkeypatch):
    _, model, known, goal = begun(large_day())
    turns = []

    def in_vain(worker, best, work_s, until):
        turns.append(work_s)
        worker.done_s = work_s
        return best

    monkeypatch.setattr(aimed._Worker, "turn", in_vain)
    search_aimed(model, goal, known, 0, search(workers=1), 9.0, nobody)
    assert turns[:4] == pytest.approx([1.0, 1.5, 2.25, 3.375])
    assert sum(turns) == pytest.approx(9.0)


def test_of_twins_the_first_does_first_what_may_trade_places():
    batches = [butter("b 1", product="b"), butter("b 2", product="b")]
    _, model, _, _ = begun(day(*batches))
    assert twins(model.problem.batches)
    network = model.networks["b 1"]
    cuts = next(c for c, line in enumerate(network.chains) if not pots_in(model, line))
    for ordered in (False, True):
        copy = model.model.clone()
        copy.clear_objective()
        copy.add(model.starts["b 2"][cuts] + 1 <= model.starts["b 1"][cuts])
        if ordered:
            keep_twins_in_order(copy, model)
        found = whole_day_solver(1).solve(copy)
        assert (found == cp_model.INFEASIBLE) == ordered


def pots_in(model, chain):
    steps = model.problem.batches[0].steps
    return any(steps[i].in_pot for i, _ in chain.members)


def test_no_plan_is_asked_for_that_is_later_on_a_want(monkeypatch):
    problem = large_day()
    plan = by_hand(problem)
    ready = next(x for x in plan.loads if dict(x.jars).get("jelly-0"))
    problem = replace(problem, wants=(Want(product="red 0", by_min=ready.out_min),))
    _, model, known, goal = begun(problem)
    (_, late), *_ = model.late
    assert known.value(late) == 0
    models = []

    class Kept:
        parameters = whole_day_solver(1).parameters

        def solve(self, asked, _callback):
            models.append(asked)
            return 0

        response_proto = known.response_proto

    monkeypatch.setattr(aimed, "whole_day_solver", lambda _: Kept())
    search_aimed(model, goal, known, 0, search(workers=1), 0.6, nobody)
    models[0].add(late >= 1)
    assert whole_day_solver(1).solve(models[0]) == cp_model.INFEASIBLE


def test_what_fails_in_a_worker_is_raised(monkeypatch):
    _, model, known, goal = begun(large_day())

    def fails(*_):
        raise RuntimeError("the solver is gone")

    monkeypatch.setattr(aimed._Worker, "_ask", fails)
    with pytest.raises(RuntimeError, match="is gone"):
        search_aimed(model, goal, known, 0, search(), 1.0, nobody)


def late_day():
    """One jelly is wanted an hour after the day begins, which no plan by hand meets."""
    wanted = Want(product="red 4", by_min=60, weight=9)
    return replace(large_day(), wants=(wanted,))


def test_of_a_late_plan_one_worker_asks_first_for_one_that_is_late_on_nothing(
    monkeypatch,
):
    plan, model, known, goal = begun(late_day())
    late = score(model.problem, plan) - plan.finish_min
    assert late > 0.15 * score(model.problem, plan)  # a tenth would be less
    asked = []

    def never(worker, best, aim, work_s, until):
        asked.append((worker.seed, known.value(goal) - aim))
        return 0, best, work_s

    monkeypatch.setattr(aimed._Worker, "_ask", never)
    search_aimed(model, goal, known, 0, search(), 1.0, nobody)
    (_, by_first), (_, by_other) = sorted(asked)
    assert by_first == late
    assert by_other < late / 2  # a worker less bold has luck more often


@pytest.mark.parametrize(("late", "looks"), [(True, 2), (False, 1)])
def test_a_plan_that_is_late_still_is_aimed_at_once_more_with_other_luck(
    monkeypatch, late, looks
):
    problem = late_day() if late else large_day()
    given = []

    def no_better(day, goal, known, floor, how, seconds, told):
        given.append((how.seed, seconds))
        return known

    def for_parts(day, goal, known, effort, **_):
        given.append(("parts", effort.work_s))
        return known

    monkeypatch.setattr(large, "improve", for_parts)
    monkeypatch.setattr(large, "search_aimed", no_better)
    plan = by_hand(problem)
    solve.find_timetable(problem, plan, replace(search(), seconds=10.0))
    aims = given[: [who for who, _ in given].index("parts")]
    assert len({seed for seed, _ in aims}) == len(aims) == looks
    for_both = 10.0 - solve.kept_back(10.0)
    assert sum(s for _, s in aims) + given[len(aims)][1] == pytest.approx(for_both)


def test_where_there_is_too_little_time_for_so_large_a_day_it_is_not(monkeypatch):
    seeds = []

    def no_better(day, goal, known, floor, how, seconds, told):
        seeds.append(how.seed)
        return known

    monkeypatch.setattr(large, "search_aimed", no_better)
    monkeypatch.setattr(large, "improve", lambda _day, _goal, known, *_, **__: known)
    monkeypatch.setattr(large, "AGAIN_A_VARIABLE_S", 1.0)
    problem = late_day()
    solve.find_timetable(problem, by_hand(problem), replace(search(), seconds=10.0))
    assert seeds == [1]
