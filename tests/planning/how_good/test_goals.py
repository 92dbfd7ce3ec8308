"""Each goal of a day, worked out from timetables small enough to count by hand."""

from __future__ import annotations

from dataclasses import replace

import pytest
from planning.small_days import butter, day, jelly, person

from stillroom.planning.goal_order import USUAL, Goal, in_order
from stillroom.planning.how_good.free_pieces import Piece, free_pieces, longest
from stillroom.planning.how_good.goals import goals_of, goals_sentence
from stillroom.planning.how_good.lateness import batches_done_min
from stillroom.planning.how_good.moments import hurried, moments
from stillroom.planning.how_good.other_hands import in_calmer_hands
from stillroom.planning.judge.check import violations
from stillroom.planning.plan import plan_day
from stillroom.planning.problem import Counter, Problem, Want
from stillroom.planning.timetable import (
    Answer,
    PlacedBreak,
    PlacedLoad,
    PlacedStep,
    Timetable,
)


def placed(batch: str, step: str, start: int, end: int, who: str | None) -> PlacedStep:
    return PlacedStep(
        batch=batch, step=step, start_min=start, end_min=end, person=who, quarters=4
    )


def load(name: str, lift: int, who: str = "p1") -> PlacedLoad:
    return PlacedLoad(
        id=name,
        canner="canner",
        process="half-pint-10",
        process_min=10,
        jars=(("jelly-1", 8),),
        hot=False,
        heat_min=lift - 61,
        lower_min=lift - 31,
        lowered_min=lift - 27,
        boil_min=lift - 15,
        done_min=lift - 5,
        lift_min=lift,
        out_min=lift + 4,
        fire_free_min=lift - 5,
        lowered_by=who,
        lifted_by=who,
    )


def table(*steps: PlacedStep, loads: tuple[PlacedLoad, ...] = ()) -> Timetable:
    return Timetable(steps=steps, loads=loads, breaks=())


def figure(problem: Problem, plan: Timetable, goal: Goal) -> dict[str, int]:
    met = next(m for m in goals_of(problem, plan) if m.goal is goal)
    return dict(met.figures)


def sentence(problem: Problem, plan: Timetable, goal: Goal) -> str:
    return next(m.sentence for m in goals_of(problem, plan) if m.goal is goal)


def test_goals_that_are_named_come_first_and_none_is_lost() -> None:
    order = in_order([Goal.FEW_RUNS, Goal.EARLY])
    assert order[:3] == (Goal.FEW_RUNS, Goal.EARLY, Goal.ON_TIME)
    assert sorted(order) == sorted(USUAL)
    assert in_order() == USUAL


def test_the_day_names_its_goals_in_her_order() -> None:
    problem = day(jelly(), first=(Goal.EARLY,))
    goals = [met.goal for met in goals_of(problem, table())]
    assert goals == list(in_order((Goal.EARLY,)))


# --- nothing late; done by the hour -----------------------------------------


@pytest.mark.parametrize(
    ("by", "late", "said"),
    [
        (104, 0, "Nothing late."),
        (92, 12, "Late: jelly is 12 min late, wanted by 9:32."),
    ],
)
def test_late_is_when_the_last_jar_is_out_after_the_hour(
    by: int, late: int, said: str
) -> None:
    # the load is lifted at 100 and out at 104
    problem = day(jelly(), wants=(Want(product="jelly", by_min=by),))
    plan = table(loads=(load("canner/1", 100),))
    assert figure(problem, plan, Goal.ON_TIME)["late_min"] == late
    assert sentence(problem, plan, Goal.ON_TIME) == said


@pytest.mark.parametrize(
    ("hour", "said"),
    [
        (None, "Done at 9:44."),
        (104, "Done at 9:44, the hour you wanted."),
        (354, "Done at 9:44, 4 h 10 min before you wanted."),
        (84, "Done at 9:44, 20 min after you wanted."),
    ],
)
def test_the_end_is_said_beside_the_hour_she_named(hour: int | None, said: str) -> None:
    # minute 0 is 8:00: minute 104 is 9:44
    problem = day(jelly(), done_by_min=hour)
    plan = table(loads=(load("canner/1", 100),))
    assert sentence(problem, plan, Goal.BY_THE_HOUR) == said
    (met,) = (m.met for m in goals_of(problem, plan) if m.goal is Goal.BY_THE_HOUR)
    assert met == (hour is None or hour >= 104)


@pytest.mark.parametrize(
    ("by", "said"),
    [(None, ""), (104, "What is promised for an hour is there by then.")],
)
def test_a_day_that_ends_after_the_hour_does_not_say_that_nothing_is_late(
    by: int | None, said: str
) -> None:
    wants = () if by is None else (Want(product="jelly", by_min=by),)
    problem = day(jelly(), wants=wants, done_by_min=84)
    plan = table(loads=(load("canner/1", 100),))
    assert sentence(problem, plan, Goal.ON_TIME) == said
    told = goals_sentence(problem, plan)
    assert "Nothing late" not in told
    assert "20 min after you wanted" in told


# --- one moment at a time ------------------------------------------------------


def test_steps_that_follow_each_other_in_one_batch_are_one_moment() -> None:
    # full_boil, hard_boil and skim without a gap, filled two minutes later: one
    # stretch of 100 to 118; the lid is not critical
    problem = day(jelly())
    plan = table(
        placed("jelly-1", "full_boil", 100, 107, "p1"),
        placed("jelly-1", "hard_boil", 107, 108, "p1"),
        placed("jelly-1", "skim", 108, 111, "p1"),
        placed("jelly-1", "fill", 113, 118, "p1"),
        placed("jelly-1", "lid", 118, 122, "p1"),
    )
    (only,) = moments(problem, plan)
    assert (only.start_min, only.end_min, only.of) == (100, 118, "jelly-1")
    assert hurried(problem, plan) == ()


@pytest.mark.parametrize(
    ("lift", "who", "pairs", "at_once"),
    [
        (121, "p1", 0, 0),  # three minutes after the fill ends at 118: a breath
        (120, "p1", 1, 0),  # two minutes after: too near
        (116, "p1", 1, 1),  # while she fills
        (116, "p2", 0, 0),  # someone else lifts
    ],
)
def test_two_moments_count_in_one_persons_hands_only(
    lift: int, who: str, pairs: int, at_once: int
) -> None:
    problem = day(jelly(), people=(person("p1"), person("p2")))
    plan = table(
        placed("jelly-1", "fill", 113, 118, "p1"),
        loads=(load("canner/1", lift, who),),
    )
    got = figure(problem, plan, Goal.ONE_MOMENT)
    assert got == {"at_once": at_once, "too_near": pairs}


# --- few runs ---------------------------------------------------------------------


def test_runs_and_washes_are_counted() -> None:
    problem = day(jelly(), butter())
    plan = table(
        replace(placed("jelly-1", "fill", 0, 5, "p1"), pot="big-1"),
        replace(placed("jelly-1", "wash_pot", 5, 9, "p1"), pot="big-1"),
        replace(placed("butter-1", "mill", 0, 5, "p1"), pot="big-1", mill=1),
        loads=(load("canner/1", 100), replace(load("canner/2", 200), hot=True)),
    )
    # two batches in pots, one of them through the mill as well: three washes
    assert sentence(problem, plan, Goal.FEW_RUNS) == "2 canner runs, 3 washes."
    assert figure(problem, plan, Goal.FEW_RUNS)["heated_from_cold"] == 1


# --- free time in one piece ------------------------------------------------------


def test_free_time_is_what_no_work_and_no_absence_takes() -> None:
    # there from 10 to 200, but all work ends at 150; busy 30-50 and 100-110, away
    # 70-80, a rest of 20 at 120: pieces 10-30, 50-70, 80-100 and 110-150
    helper = person("p2", arrives_min=10, leaves_min=200, away=((70, 80),))
    problem = day(jelly(), people=(person("p1"), helper))
    plan = Timetable(
        steps=(
            placed("jelly-1", "wash_jars", 30, 50, "p2"),
            placed("jelly-1", "lid", 100, 110, "p2"),
            placed("jelly-1", "wash_pot", 140, 150, "p1"),
        ),
        loads=(),
        breaks=(PlacedBreak(person="p2", start_min=120, end_min=140),),
    )
    pieces = free_pieces(plan, helper)
    assert pieces == (
        Piece(10, 30, 20),
        Piece(50, 70, 20),
        Piece(80, 100, 20),
        Piece(110, 150, 20),  # the rest does not cut it in two, and is not free time
    )
    assert longest(pieces) == pieces[-1]
    assert figure(problem, plan, Goal.CALM) == {"free_min": 80, "in_one_piece_min": 20}
    assert sentence(problem, plan, Goal.CALM) == "p2 is free from 9:50 in one piece."


@pytest.mark.parametrize(
    ("since", "said"),
    [
        (136, "p2 has no quarter of an hour free in one piece."),
        (135, "p2 is free from 10:15 in one piece."),
    ],
)
def test_less_than_a_quarter_of_an_hour_is_no_free_time(since: int, said: str) -> None:
    problem = day(jelly(), people=(person("p1"), person("p2")))
    plan = table(
        placed("jelly-1", "lid", 0, since, "p2"),
        placed("jelly-1", "wash_pot", 140, 150, "p1"),
    )
    assert sentence(problem, plan, Goal.CALM) == said


def test_whoever_has_no_work_at_all_is_said_to_have_none() -> None:
    # p2 is there from the first minute to the last; "free" would say too little
    problem = day(jelly(), people=(person("p1"), person("p2")))
    plan = table(placed("jelly-1", "wash_pot", 140, 150, "p1"))
    assert sentence(problem, plan, Goal.CALM) == "p2 has nothing to do in this plan."
    assert figure(problem, plan, Goal.CALM)["in_one_piece_min"] == 150
    lifts = replace(plan, loads=(load("canner/1", 100, "p2"),))
    assert "p2 is free from" in sentence(problem, lifts, Goal.CALM)


def test_work_goes_to_other_hands_so_that_a_helper_is_free_on_end() -> None:
    # p1 and p2 each wash one pot late; given to p1 alone, p2 is free from 20
    problem = day(jelly(), people=(person("p1"), person("p2")))
    plan = table(
        placed("jelly-1", "wash_jars", 0, 20, "p2"),
        placed("jelly-1", "lid", 50, 54, "p1"),
        placed("jelly-1", "measure_sugar", 60, 64, "p2"),
        placed("jelly-1", "wash_pot", 90, 96, "p1"),
    )
    steps = tuple(replace(s, quarters=3) for s in plan.steps)
    short = tuple(
        s for s in problem.batches[0].steps if s.id in {p.step for p in steps}
    )
    problem = replace(
        problem, batches=(replace(problem.batches[0], steps=short, links=()),)
    )
    plan = replace(plan, steps=steps)
    assert in_calmer_hands(problem, plan, is_over=lambda: True) == plan
    after = in_calmer_hands(problem, plan)
    assert {s.step: s.person for s in after.steps}["measure_sugar"] == "p1"
    (best,) = (longest(free_pieces(after, p)) for p in problem.people if p.id == "p2")
    assert best == Piece(0, 96, 96)


def test_a_planned_day_in_other_hands_breaks_no_rule_and_ends_as_it_did() -> None:
    problem = day(
        *(jelly(f"jelly-{n}") for n in range(3)),
        butter(),
        people=(person("p1"), person("p2")),
        big_pots=2,
        done_by_min=700,
    )
    answer = plan_day(problem, seconds=2.0)
    assert isinstance(answer, Answer)
    after = in_calmer_hands(problem, answer.timetable)
    assert violations(problem, after) == ()
    assert after.finish_min <= answer.finish_min
    assert len(hurried(problem, after)) <= len(hurried(problem, answer.timetable))
    assert "canner run" in goals_sentence(problem, answer.timetable)


def test_no_load_is_lifted_sooner_than_there_is_room_for_it() -> None:
    # lifted at 118 while she fills from 117 on. The process ends at 103, so that it may
    # be lifted from 108 on: out by 114, three minutes before the fill. But with five
    # jars of yesterday on ten places until 119 there is no room for its eight before
    fill = tuple(s for s in jelly().steps if s.id == "fill")
    problem = day(
        jelly(steps=fill, links=(), ready_after="fill"),
        people=(person("p1"),),
        counter=Counter(places=10, cooling_min=1440, taken=((5, 119),)),
    )
    lifted = replace(load("canner/1", 118), done_min=103, boil_min=93)
    plan = table(placed("jelly-1", "fill", 117, 122, "p1"), loads=(lifted,))
    assert in_calmer_hands(problem, plan) == plan
    empty = replace(problem, counter=Counter(places=10, cooling_min=1440))
    assert in_calmer_hands(empty, plan).loads[0].out_min <= 114


def test_two_moments_that_touch_are_not_at_once_and_are_told_by_the_second() -> None:
    """Filling until 9:50, and the lift at 9:50."""
    problem = day(jelly())
    plan = table(
        placed("jelly-1", "fill", 100, 110, "p1"), loads=(load("canner/1", 110),)
    )
    said = sentence(problem, plan, Goal.ONE_MOMENT)
    assert said == (
        "Nobody has two hurried moments at once; less than 3 min lie between two: "
        "p1 at 9:50."
    )
    assert figure(problem, plan, Goal.ONE_MOMENT) == {"at_once": 0, "too_near": 1}


@pytest.mark.parametrize(("by_min", "hopeless"), [(66, True), (67, False)])
def test_a_promise_that_no_plan_keeps_is_said_so_and_no_other(
    by_min: int, hopeless: bool
) -> None:
    """One jelly takes 67 min, whoever helps."""
    problem = day(jelly(), wants=(Want(product="jelly", by_min=by_min),))
    said = sentence(problem, table(loads=(load("canner/1", 110),)), Goal.ON_TIME)
    assert said.startswith("Late: jelly is ")
    assert ("no plan has it before 9:07" in said) == hopeless


def test_goods_are_there_once_they_are_closed_whatever_is_tidied_after() -> None:
    boxes = jelly(process=None, ready_after="lid")
    plan = table(
        placed("jelly-1", "lid", 70, 80, "p1"),
        placed("jelly-1", "wash_pot", 80, 90, "p1"),
    )
    assert batches_done_min(day(boxes), plan) == {"jelly-1": 80}
    assert batches_done_min(day(replace(boxes, ready_after="")), plan) == {
        "jelly-1": 90
    }


def test_jars_of_two_loads_are_there_with_the_last_of_them() -> None:
    both = (load("canner/2", 110), load("canner/1", 60))
    for loads in (both, both[::-1]):
        assert batches_done_min(day(jelly()), table(loads=loads)) == {"jelly-1": 114}
