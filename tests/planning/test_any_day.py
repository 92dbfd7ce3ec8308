"""Properties that hold for every day, however odd."""

from __future__ import annotations

from hypothesis import HealthCheck, assume, event, given, settings
from planning.day_strategies_small import random_days
from planning.told_why import told_why

from stillroom.planning.bounding.bounds import lower_bound_min
from stillroom.planning.goal_order import in_order
from stillroom.planning.hand.by_hand import better_start, by_hand
from stillroom.planning.how_good.goals import goals_of
from stillroom.planning.how_good.lateness import score
from stillroom.planning.judge.check import misstatements, violations
from stillroom.planning.plan import plan_day
from stillroom.planning.problem import Problem
from stillroom.planning.timetable import NoneFound, Timetable
from stillroom.planning.why_not.refuse import refuse_nonsense
from stillroom.refusal import Unreadable

SLOW = (HealthCheck.too_slow, HealthCheck.filter_too_much, HealthCheck.data_too_large)


def assume_sense(problem: Problem) -> None:
    try:
        refuse_nonsense(problem)
    except Unreadable:
        assume(False)


@settings(max_examples=150, deadline=None, suppress_health_check=SLOW)
@given(random_days())
def test_a_plan_by_hand_breaks_no_rule(problem: Problem) -> None:
    assume_sense(problem)
    plan = by_hand(problem, shuffles=2)
    event("fits" if plan else "does not fit")
    if plan is not None:
        assert violations(problem, plan) == ()
        better = better_start(problem, plan, seconds=0, tries=5)
        assert violations(problem, better) == ()
        assert score(problem, better) <= score(problem, plan)
        assert lower_bound_min(problem) <= plan.finish_min


@settings(max_examples=40, deadline=None, suppress_health_check=SLOW)
@given(random_days())
def test_a_day_has_a_plan_or_reasons(problem: Problem) -> None:
    assume_sense(problem)
    shown: list[Timetable] = []
    answer = plan_day(
        problem, seconds=0.6, on_better=lambda plan, _: shown.append(plan)
    )
    event(type(answer).__name__)
    if isinstance(answer, NoneFound):
        why = told_why(problem, answer, 0.6)
        assert why.clashes
        assert all(why.clashes)
        assert by_hand(problem, shuffles=2) is None
        return
    plan = answer.timetable
    assert violations(problem, plan) == ()
    assert misstatements(problem, answer) == ()
    sooner = [r for r in answer.remarks if " could " in r]
    assert len(answer.remarks) == len(sooner) or answer.made_by == "by hand"
    assert not any("handed" in r or "refused" in r for r in answer.remarks)
    for better in shown:
        assert violations(problem, better) == ()
    assert answer.lower_bound_min <= plan.finish_min
    if answer.by_hand is not None:
        assert lower_bound_min(problem) <= answer.by_hand.finish_min
    assert [met.goal for met in goals_of(problem, plan)] == list(
        in_order(problem.first)
    )
    jars_in = sum(b.jars for b in problem.batches if b.process is not None)
    assert sum(load.count for load in plan.loads) == jars_in
    may_ride = {p.id: p.may_ride_in for p in problem.processes}
    process_of = {b.id: b.process for b in problem.batches}
    for load in plan.loads:
        assert all(load.process in may_ride[str(process_of[b])] for b, _ in load.jars)
    for someone in problem.people:
        gone = [(0, someone.arrives_min), (someone.leaves_min, 10**6), *someone.away]
        for s in plan.steps:
            if s.person == someone.id:
                assert all(s.end_min <= a or b <= s.start_min for a, b in gone)
