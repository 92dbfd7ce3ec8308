"""What an answer states, and how the planner behaves while it searches."""

from __future__ import annotations

import time

import pytest
from planning.small_days import butter, day, full_day, jelly, person

from stillroom.planning import searched, start
from stillroom.planning.answering import BrokenPlan, judge
from stillroom.planning.cpsat.names import Span, named
from stillroom.planning.hand.by_hand import better_start, by_hand
from stillroom.planning.how_good.lateness import score
from stillroom.planning.judge.check import violations
from stillroom.planning.plan import plan_day
from stillroom.planning.problem import Counter, Problem
from stillroom.planning.start import Start
from stillroom.planning.timetable import Answer, Timetable


def answer_of(problem: Problem, **how: object) -> Answer:
    answer = plan_day(problem, **how)  # type: ignore[arg-type]
    assert isinstance(answer, Answer), answer
    return answer


def busy_day() -> Problem:
    return day(
        *(jelly(f"jelly-{n}") for n in range(3)),
        butter("butter-1"),
        butter("butter-2"),
        people=(person("keeper"), person("helper")),
        horizon_min=700,
    )


def test_plans_are_shown_as_they_get_better() -> None:
    problem = busy_day()
    shown: list[tuple[Timetable, int]] = []
    answer = answer_of(
        problem, seconds=3.0, on_better=lambda plan, bound: shown.append((plan, bound))
    )
    scores = [score(problem, plan) for plan, _ in shown]
    assert scores == sorted(set(scores), reverse=True)
    assert shown[0][0] == answer.by_hand
    assert answer.by_hand is not None
    assert answer.finish_min < answer.by_hand.finish_min
    assert all(bound <= worth for (_, bound), worth in zip(shown, scores, strict=True))
    assert [value for _, value, _ in answer.trace] == sorted(
        (value for _, value, _ in answer.trace), reverse=True
    )


def test_the_time_holds_for_everything() -> None:
    """The core's time, which a busy machine does not change: two workers, 1 s each."""
    began = time.process_time()
    answer = answer_of(busy_day(), seconds=1.0)
    assert time.process_time() - began < 10.0
    assert answer.first_plan_s <= answer.solve_s


def test_what_breaks_while_plans_are_shown_is_not_swallowed() -> None:
    calls = 0

    def breaks(plan: Timetable, bound: int) -> None:
        nonlocal calls
        calls += 1
        if calls == 2:
            raise RuntimeError("the screen is gone")

    with pytest.raises(RuntimeError, match="the screen is gone"):
        plan_day(busy_day(), seconds=10.0, on_better=breaks)


def test_with_nothing_better_found_the_plan_by_hand_is_the_answer(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(
        searched,
        "find_timetable",
        lambda problem, start, *_, **__: searched.SearchResult(
            timetable=start, bound=1
        ),
    )
    monkeypatch.setattr(
        start, "start_of", lambda problem, first, **_: Start(first, by_hand=True)
    )
    answer = answer_of(full_day(), seconds=1.0)
    assert answer.made_by == "by hand"
    assert answer.timetable == answer.by_hand
    assert not answer.proven
    assert answer.remarks == ("the search found nothing better than a plan by hand",)


def test_a_broken_plan_of_our_own_is_an_error() -> None:
    problem = full_day()
    plan = answer_of(problem, seconds=0.5).timetable
    late = Timetable(steps=plan.steps, loads=plan.loads, breaks=())
    with pytest.raises(BrokenPlan, match="0 breaks planned"):
        judge(problem, late)


def test_deterministic_means_the_same_plan() -> None:
    problem = busy_day()
    first = answer_of(problem, seconds=0.5, deterministic=True)
    again = answer_of(problem, seconds=0.5, deterministic=True)
    assert first.timetable == again.timetable


def test_fewer_loads_and_fewer_hurried_moments_at_the_same_finish() -> None:
    # one helper more and two pots: both jellies could be filled at once, and go into
    # two loads; neither is needed for the best finish
    answer = answer_of(day(jelly("a"), jelly("b"), people=3, big_pots=2), seconds=8.0)
    assert answer.proven
    assert len(answer.timetable.loads) == 1


def test_a_day_with_nothing_in_it() -> None:
    answer = answer_of(day())
    assert (answer.finish_min, answer.lower_bound_min) == (0, 0)
    assert answer.proven


def test_names_are_never_shared() -> None:
    spans = [Span("a", 0, 5), Span("b", 3, 9), Span("c", 5, 7), Span("d", 9, 11)]
    given = named(spans, ("x", "y"))
    assert given["a"] == given["c"]
    assert given["b"] != given["a"]


def test_more_spans_than_names_is_an_error() -> None:
    with pytest.raises(ValueError, match="all of x are held"):
        named([Span("a", 0, 5), Span("b", 3, 9)], ("x",))


def test_other_orders_make_a_better_start() -> None:
    problem = day(
        *(jelly(f"jelly-{n}", product="red") for n in range(5)),
        *(butter(f"butter-{n}") for n in range(3)),
        people=2,
        horizon_min=960,
        counter=Counter(places=99, cooling_min=1440),
    )
    plan = by_hand(problem)
    assert plan is not None
    better = better_start(problem, plan, seconds=0.0, tries=80)
    assert violations(problem, better) == ()
    assert score(problem, better) < score(problem, plan)
