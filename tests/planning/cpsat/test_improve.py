"""Parts of a plan set free, the rest held: never worse, and never a broken rule."""

from __future__ import annotations

import time
from math import inf

import pytest
from hypothesis import event, given, settings
from ortools.sat.python import cp_model
from planning.day_strategies_small import random_days
from planning.small_days import butter, canner, day, jelly, person
from planning.test_any_day import SLOW, assume_sense

from stillroom.methods.step import Step
from stillroom.planning.cpsat import objective, solve
from stillroom.planning.cpsat.improve import Effort, improve
from stillroom.planning.cpsat.neighbourhood import Part, Parts, hold_the_rest
from stillroom.planning.cpsat.reach import Reach, hold_near
from stillroom.planning.cpsat.reading import hints_of, timetable_of
from stillroom.planning.cpsat.solve import Search, hint_fully
from stillroom.planning.cpsat.variables import DayModel
from stillroom.planning.cpsat.walking import (
    A_UNIT_IN_ALL_S,
    A_VARIABLE_S,
    ASIDE_AFTER,
    ASIDE_MIN,
    BACK_AFTER,
    LEAST_WORK,
    WORK_A_PART,
    WORK_ASIDE,
    Walker,
)
from stillroom.planning.hand.by_hand import by_hand
from stillroom.planning.how_good.calm import heated_late
from stillroom.planning.how_good.lateness import score
from stillroom.planning.judge.check import violations
from stillroom.planning.plan import plan_day
from stillroom.planning.problem import Canner, Counter, Problem
from stillroom.planning.timetable import Answer, NoneFound, Timetable


def known_plan(problem: Problem, plan: Timetable) -> tuple[DayModel, cp_model.CpSolver]:
    """The model of a day, and a solver that knows a plan of it."""
    day_model = solve.day_model(problem, plan, 0)
    day_model.model.minimize(objective.end_and_lateness(day_model))
    search = Search(time.monotonic() + 5, 1, 1)
    known = hint_fully(day_model, hints_of(day_model, plan), search)
    assert known is not None
    return day_model, known


def counted(parts: int) -> Effort:
    return Effort(until=inf, workers=1, seed=1, work_s=0.15 * parts)


def large_day() -> Problem:
    return day(
        *(jelly(f"jelly-{n}", product=f"red {n}") for n in range(5)),
        *(butter(f"butter-{n}", product=f"dark {n}") for n in range(3)),
        people=(person("keeper"), person("helper")),
        horizon_min=900,
        counter=Counter(places=99, cooling_min=1440),
    )


@settings(max_examples=15, deadline=None, suppress_health_check=SLOW)
@given(random_days())
def test_better_plans_break_no_rule(problem: Problem) -> None:
    assume_sense(problem)
    plan = by_hand(problem, shuffles=2)
    event("fits" if plan else "does not fit")
    if plan is None:
        return
    day_model, known = known_plan(problem, plan)
    goal = objective.end_and_lateness(day_model)
    found = timetable_of(day_model, improve(day_model, goal, known, counted(6)).value)
    assert violations(problem, found) == ()
    assert score(problem, found) <= score(problem, plan)
    assert violations(problem, heated_late(problem, found)) == ()


@settings(max_examples=15, deadline=None, suppress_health_check=SLOW)
@given(random_days())
def test_the_plan_itself_is_always_among_what_is_held(problem: Problem) -> None:
    # whatever part is drawn, the rest must be held as it is in the plan: the plan fits
    assume_sense(problem)
    plan = by_hand(problem, shuffles=2)
    if plan is None or plan.finish_min == 0:
        return
    day_model, known = known_plan(problem, plan)
    parts = Parts(day_model, seed=1)
    for _ in range(6):
        _, part = parts.draw(known.value, plan.finish_min)
        model = day_model.model.clone()
        hold_the_rest(model, day_model, known.value, part)
        hold_near(model, day_model, known.value, part, Reach(0, 0))
        for index, value in enumerate(known.response_proto.solution):
            model.add(model.get_int_var_from_proto_index(index) == value)
        assert cp_model.CpSolver().solve(model) == cp_model.OPTIMAL


def test_with_nothing_free_no_one_changes_work() -> None:
    problem = large_day()
    plan = by_hand(problem)
    assert plan is not None
    day_model, known = known_plan(problem, plan)
    model = day_model.model.clone()
    hold_the_rest(model, day_model, known.value, Part())
    solver = cp_model.CpSolver()
    assert solver.solve(model) == cp_model.OPTIMAL
    held = timetable_of(day_model, solver.value)
    before = {
        (s.batch, s.step): s.person for s in timetable_of(day_model, known.value).steps
    }
    assert {(s.batch, s.step): s.person for s in held.steps} == before
    assert held.finish_min <= plan.finish_min


def test_what_is_held_begins_about_when_it_did() -> None:
    problem = large_day()
    plan = by_hand(problem)
    assert plan is not None
    day_model, known = known_plan(problem, plan)
    free = problem.batches[-1].id
    part = Part(batches=frozenset({free}))
    model = day_model.model.clone()
    hold_near(model, day_model, known.value, part, Reach(7, 3))
    held = [v for b, starts in day_model.starts.items() if b != free for v in starts]
    held += [
        s.lower
        for s in day_model.all_slots()
        if known.value(s.present) and not known.value(s.aboard[free])
    ]
    solver = cp_model.CpSolver()
    solver.parameters.max_time_in_seconds = 10
    # nothing else is held, so that every minute that it allows is there to be had
    for sense, most in ((1, 3), (-1, 7)):
        moved = [sense * (v - known.value(v)) for v in held]
        model.maximize(sum(moved))
        assert solver.solve(model) in (cp_model.OPTIMAL, cp_model.FEASIBLE)
        by = [sense * (solver.value(v) - known.value(v)) for v in held]
        assert max(by) == most


def walking(
    monkeypatch: pytest.MonkeyPatch, minutes: list[int]
) -> tuple[Walker, list[tuple[int, int, bool]]]:
    """A worker whose parts come to plans of so many minutes; 0 for none."""
    problem = day(jelly("a"), jelly("b"))
    plan = by_hand(problem)
    assert plan is not None
    day_model, known = known_plan(problem, plan)
    goal = day_model.model.new_int_var(0, 10**6, "of the test")
    asked: list[tuple[int, int, bool]] = []
    comes = iter(minutes)

    class Plan:
        """Knows what it is worth, and for all else what the plan by hand knows."""

        def __init__(self, worth: int) -> None:
            self.worth = worth

        def value(self, of: object) -> int:
            return 10 * self.worth if of is goal else known.value(of)  # type: ignore[arg-type]

    def part_of(
        of: object,
        smaller: object,
        stands: Plan,
        part: Part,
        at_most: int,
        *,
        anew: bool,
        **_: object,
    ) -> tuple[int, object]:
        asked.append((stands.worth, at_most // 10, anew))
        comes_to = next(comes)
        status = cp_model.FEASIBLE if comes_to else cp_model.INFEASIBLE
        return int(status), Plan(comes_to)

    monkeypatch.setattr("stillroom.planning.cpsat.walking.search_part", part_of)
    monkeypatch.setattr("stillroom.planning.cpsat.walking.work_of", lambda *_: 1.0)
    walker = Walker(day_model, goal, seed=1, unit=10, until=None)
    best = Plan(100)
    came = walker.turn(best, 1000, len(minutes), lambda _: False)  # type: ignore[arg-type]
    assert came.tried == len(minutes)
    walker_came = came.worth // 10
    assert walker_came == min([100, *(m for m in minutes if m)])
    return walker, asked


def test_no_step_aside_is_tried_while_plans_get_better(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    _, asked = walking(monkeypatch, [100 - n for n in range(1, 50)])
    assert not any(anew for _, _, anew in asked)


def test_a_step_aside_leads_on_and_after_parts_in_vain_back_to_the_best(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    # nothing until steps aside are tried; the first of those ends two minutes later
    nothing = [0] * 200
    _, asked = walking(monkeypatch, nothing)
    first = next(n for n, (_, _, anew) in enumerate(asked) if anew)
    assert first >= ASIDE_AFTER
    assert asked[first][1] == 100 + ASIDE_MIN
    _, asked = walking(monkeypatch, [*nothing[:first], 102, *nothing[first + 1 :]])
    stands = [worth for worth, _, _ in asked]
    assert stands[first + 1] == 102
    back = stands.index(100, first + 1)
    assert back == BACK_AFTER
    assert all(worth == 102 for worth in stands[first + 1 : back])
    # from there parts are asked for less than where it stands, steps no later than
    # so much after the best
    for worth, at_most, anew in asked[first + 1 : back]:
        assert at_most == 103 if anew else at_most < worth


def in_two_rounds(
    monkeypatch: pytest.MonkeyPatch, gains: dict[int, int]
) -> dict[int, tuple[int, Part]]:
    """
    By seed, from what plan two workers began a part, and with which, in two rounds.

    A part takes a round. ``gains`` has the minutes that one gains, by its seed: 2001
    is the first of the first worker, 3001 that of the other one.
    """
    problem = day(jelly("a"), jelly("b"))
    plan = by_hand(problem)
    assert plan is not None
    day_model, known = known_plan(problem, plan)
    goal = objective.end_and_lateness(day_model)
    first = known.value(goal)
    asked: dict[int, tuple[int, Part]] = {}

    class Better:
        def __init__(self, by: int) -> None:
            self.by = by

        def value(self, of: object) -> int:
            if of is goal:
                return first - self.by
            return known.value(of)  # type: ignore[arg-type]

    def part_of(
        of: object, smaller: object, stands: object, part: Part, *_: object, **k: int
    ) -> tuple[int, object]:
        worth = stands.value(goal)  # type: ignore[attr-defined]
        asked[k["seed"]] = (first - worth, part)
        gain = gains.get(k["seed"])
        if gain is None:
            return int(cp_model.INFEASIBLE), known
        return int(cp_model.FEASIBLE), Better(gain)

    monkeypatch.setattr("stillroom.planning.cpsat.walking.search_part", part_of)
    monkeypatch.setattr("stillroom.planning.cpsat.walking.work_of", lambda *_: 1.0)
    effort = Effort(until=inf, workers=2, seed=1, work_s=2.0)
    best = improve(day_model, goal, known, effort, unit=1)
    assert best.value(goal) == first - max(gains.values())
    return asked


def test_the_other_ones_part_is_tried_again_on_top_of_the_better_plan(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    asked = in_two_rounds(monkeypatch, {2001: 9, 3001: 5})
    assert asked[3002][0] == 9
    assert asked[3002][1] is asked[3001][1]
    assert asked[2002][0] == 9
    assert asked[2002][1] is not asked[2001][1]


def test_who_went_aside_goes_on_from_a_better_plan_of_the_other_one(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr("stillroom.planning.cpsat.walking.ASIDE_AFTER", 0)
    monkeypatch.setattr("stillroom.planning.cpsat.walking.SHARE_ASIDE", 1.0)
    asked = in_two_rounds(monkeypatch, {2001: 9, 3001: -2})
    assert asked[3002][0] == 9


@pytest.mark.parametrize(("gain_at", "ends_after"), [(None, 60), (10, 70), (200, 400)])
def test_as_many_parts_in_vain_as_were_needed_are_enough(
    monkeypatch: pytest.MonkeyPatch, gain_at: int | None, ends_after: int
) -> None:
    # each part counts one second of work, so that a round is one part; the tenth finds
    # something, and sixty more do not: the search is over, with work left to be done.
    # Where it was found only after two hundred, two hundred more are tried. What was
    # not searched to its end before is no reason to end.
    monkeypatch.setattr("stillroom.planning.cpsat.walking.SHARE_ASIDE", 0.0)
    monkeypatch.setattr("stillroom.planning.cpsat.walking.work_of", lambda *_: 1.0)
    problem = day(jelly("a"), jelly("b"))
    plan = by_hand(problem)
    assert plan is not None
    day_model, known = known_plan(problem, plan)
    goal = objective.end_and_lateness(day_model)
    tried = 0

    class Better:
        response_proto = known.response_proto

        def value(self, of: object) -> int:
            if of is goal:
                return known.value(goal) - 1
            return known.value(of)  # type: ignore[arg-type]

    def part_of(*_: object, **__: object) -> tuple[int, object]:
        nonlocal tried
        tried += 1
        if tried == gain_at:
            return int(cp_model.FEASIBLE), Better()
        if gain_at is not None and tried < gain_at:
            return int(cp_model.UNKNOWN), known
        return int(cp_model.INFEASIBLE), known

    monkeypatch.setattr("stillroom.planning.cpsat.walking.search_part", part_of)
    effort = Effort(until=inf, workers=1, seed=1, work_s=1000.0)
    improve(day_model, goal, known, effort, unit=1)
    assert tried == ends_after
    assert effort.left_s == 1000.0 - ends_after


def test_parts_make_a_plan_by_hand_better() -> None:
    problem = large_day()
    plan = by_hand(problem)
    assert plan is not None
    day_model, known = known_plan(problem, plan)
    goal = objective.end_and_lateness(day_model)
    told: list[int] = []
    better = improve(
        day_model,
        goal,
        known,
        counted(12),
        on_better=lambda s: told.append(s.value(goal)),
    )
    assert better.value(goal) < plan.finish_min
    assert told == sorted(set(told), reverse=True)
    assert told[-1] == better.value(goal)


def test_less_is_asked_of_a_part_where_nothing_was_found(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    problem = day(jelly("a"), jelly("b"))
    plan = by_hand(problem)
    assert plan is not None
    day_model, known = known_plan(problem, plan)
    goal = 100 * objective.end_and_lateness(day_model)
    asked: list[int] = []

    def finds_nothing(
        of: object,
        smaller: object,
        best: cp_model.CpSolver,
        part: Part,
        at_most: int,
        *,
        anew: bool,
        **_: object,
    ) -> tuple[int, cp_model.CpSolver]:
        if not anew:
            asked.append(best.value(goal) - at_most)
        return int(cp_model.UNKNOWN), best

    monkeypatch.setattr("stillroom.planning.cpsat.walking.search_part", finds_nothing)
    monkeypatch.setattr("stillroom.planning.cpsat.walking.work_of", lambda *_: 0.15)
    improve(day_model, goal, known, counted(40), unit=100)
    assert max(asked[:8]) > 400
    assert 100 <= max(asked[-8:]) <= 200


@pytest.mark.parametrize("asked_s", [0.4, 0.5, 0.8, 1.3])
def test_the_last_part_gets_no_more_work_than_is_left(
    monkeypatch: pytest.MonkeyPatch, asked_s: float
) -> None:
    problem = large_day()
    plan = by_hand(problem)
    assert plan is not None
    day_model, known = known_plan(problem, plan)
    goal = 100 * objective.end_and_lateness(day_model)
    given: list[float] = []

    def uses_all(*_: object, work: float, **__: object) -> tuple[int, object]:
        given.append(work)
        return int(cp_model.UNKNOWN), known

    variables = len(day_model.model.proto.variables)

    def took(*_: object) -> float:
        return A_VARIABLE_S * variables + A_UNIT_IN_ALL_S * given[-1]

    monkeypatch.setattr("stillroom.planning.cpsat.walking.search_part", uses_all)
    monkeypatch.setattr("stillroom.planning.cpsat.walking.work_of", took)
    walker = Walker(day_model, goal, 1, 100, until=None)
    came = walker.turn(known, known.value(goal), asked_s, lambda _: False, asked_s)
    a_part = A_VARIABLE_S * variables + A_UNIT_IN_ALL_S * LEAST_WORK
    assert asked_s - a_part <= came.work_s <= asked_s
    assert came.tried == len(given)
    assert given[-1] < given[0] == WORK_A_PART
    # with more to come after this round the last part is one like the others
    given.clear()
    walker = Walker(day_model, goal, 1, 100, until=None)
    walker.turn(known, known.value(goal), asked_s, lambda _: False, asked_s + 9)
    assert set(given) <= {WORK_A_PART, WORK_ASIDE}


def test_no_part_is_tried_below_the_floor() -> None:
    problem = day(jelly("a"), jelly("b"))
    plan = by_hand(problem)
    assert plan is not None
    day_model, known = known_plan(problem, plan)
    goal = objective.end_and_lateness(day_model)
    same = improve(day_model, goal, known, counted(9), floor=plan.finish_min)
    assert same is known


def test_what_fails_in_a_worker_is_raised() -> None:
    problem = large_day()
    plan = by_hand(problem)
    assert plan is not None
    day_model, known = known_plan(problem, plan)

    def fails(_: cp_model.CpSolver) -> None:
        raise RuntimeError("the screen is gone")

    effort = Effort(until=time.monotonic() + 20, workers=2, seed=1)
    goal = objective.end_and_lateness(day_model)
    with pytest.raises(RuntimeError, match="the screen is gone"):
        improve(day_model, goal, known, effort, on_better=fails)


def test_a_large_day_is_planned_twice_alike_where_work_is_counted() -> None:
    first = plan_day(large_day(), seconds=1.0, deterministic=True)
    again = plan_day(large_day(), seconds=1.0, deterministic=True)
    assert isinstance(first, Answer)
    assert isinstance(again, Answer)
    assert first.timetable == again.timetable


def test_jars_are_heated_just_before_they_are_filled() -> None:
    # wash at 0 to 5, heat 15; by hand or not, filling comes at the end of a boil that
    # starts later: heating without a fire of its own moves up to the filling
    cold = [
        s if s.id != "heat_jars" else type(s)(id=s.id, verb="Heat", duration_min=15)
        for s in jelly("a").steps
    ]
    problem = day(jelly("a", steps=tuple(cold)), horizon_min=300)
    answer = plan_day(problem, seconds=1.0)
    assert isinstance(answer, Answer)
    at = {s.step: s for s in answer.timetable.steps}
    assert at["heat_jars"].end_min == at["fill"].start_min
    assert violations(problem, answer.timetable) == ()


def test_a_model_on_which_the_search_for_symmetry_fails_is_searched_without() -> None:
    # nine jars that may not wait, two like canners of four places on one burner: three
    # loads would have to begin at once. OR-Tools 9.15 raises IndexError on its model.
    def small(name: str) -> Canner:
        return canner(
            name,
            places={"half_pint": 4, "pint": 3},
            first_heat_min=0,
            reheat_min=0,
            stays_hot_min=0,
            load_min=1,
            come_up_min=1,
            rest_min=0,
            unload_min=1,
        )

    lid = Step(id="lid", verb="Lid", duration_min=1, attention_quarters=1)
    batch = jelly(
        "a",
        jars=9,
        steps=(lid,),
        links=(),
        pots=(),
        closed_wait_at_most_min=0,
    )
    problem = day(batch, people=2, canners=(small("c0"), small("c1")), horizon_min=150)
    assert isinstance(plan_day(problem, seconds=1.0), NoneFound)
