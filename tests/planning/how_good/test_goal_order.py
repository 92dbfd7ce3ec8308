"""The order of goals decides between plans; each day is small enough to prove."""

from __future__ import annotations

from dataclasses import replace

import pytest
from planning.small_days import canner, day, jelly, person

from stillroom.planning.daytime import said_minutes
from stillroom.planning.goal_order import Goal
from stillroom.planning.how_good.goals import goals_of
from stillroom.planning.how_good.moments import hurried
from stillroom.planning.how_good.what_sooner_costs import what_sooner_costs
from stillroom.planning.plan import plan_day
from stillroom.planning.problem import Problem
from stillroom.planning.timetable import Answer


def answer_of(problem: Problem, seconds: float = 4.0) -> Answer:
    answer = plan_day(problem, seconds=seconds, deterministic=True)
    assert isinstance(answer, Answer)
    return answer


def two_batches(**changes: object) -> Problem:
    """Two batches in one pot: one load ends a little later than two do."""
    return day(
        jelly("jelly-1", closed_wait_at_most_min=60),
        jelly("jelly-2", closed_wait_at_most_min=60),
        people=2,
        canners=(canner("canner"), canner("second", burners=("middle-1",))),
        **changes,
    )


def test_one_load_where_it_costs_no_minute() -> None:
    # filled one after the other in one pot, both fit one load of 16: it is lowered
    # when the second is closed, and a load of its own for the first ends no sooner
    answer = answer_of(two_batches())
    assert len(answer.timetable.loads) == 1


def crowded(**changes: object) -> Problem:
    """Two batches of eight jars, two people, one canner of sixteen places."""
    return day(
        jelly("jelly-1", jars=8, closed_wait_at_most_min=90),
        jelly("jelly-2", jars=8, closed_wait_at_most_min=90),
        people=(person("p1"), person("p2")),
        **changes,
    )


@pytest.mark.parametrize("first", [(), (Goal.EARLY,), (Goal.FEW_RUNS,)])
def test_every_order_gives_a_plan_that_states_all_goals(
    first: tuple[Goal, ...],
) -> None:
    problem = crowded(first=first, done_by_min=300)
    answer = answer_of(problem)
    assert len(goals_of(problem, answer.timetable)) == len(Goal)


def test_runs_come_before_ending_early_where_an_hour_is_far_off() -> None:
    # one run of all sixteen jars begins when the second batch is closed, and the wide
    # canner then takes 20 min longer to the boil than the quick one with the last four:
    # two runs end sooner, one run ends within the half hour that the far hour gives
    early = answer_of(
        two_loads_end_sooner(first=(Goal.EARLY,), done_by_min=470)
    ).timetable
    unhurried = answer_of(two_loads_end_sooner(done_by_min=470))
    usual = unhurried.timetable
    none = answer_of(two_loads_end_sooner()).timetable
    assert len(early.loads) == len(none.loads) == 2
    assert early.finish_min == none.finish_min
    assert len(usual.loads) == 1
    later = usual.finish_min - early.finish_min
    assert 0 < later <= 30
    assert unhurried.remarks == (
        f"it could end {later} min sooner, with 1 canner run more",
    )
    assert not unhurried.proven


def test_what_ending_sooner_asks_for_is_said_of_what_she_holds_dearer() -> None:
    usual = two_loads_end_sooner(done_by_min=470)
    plan = answer_of(usual).timetable
    sooner = answer_of(replace(usual, first=(Goal.EARLY,))).timetable
    assert what_sooner_costs(usual, plan, sooner) == "1 canner run more"
    assert what_sooner_costs(usual, sooner, plan) == ""
    # whoever wants an early end above all gives up nothing for it
    early = replace(usual, first=(Goal.EARLY,))
    assert what_sooner_costs(early, plan, sooner) == ""
    # beside a plan that rinses one pot, and with a load more: each its own number
    steps = tuple(
        replace(s, rinsed=s.batch == "jelly-1" and s.mill is None) for s in plan.steps
    )
    rinsed = replace(plan, steps=steps)
    more = replace(sooner, loads=(*sooner.loads, sooner.loads[0]))
    assert what_sooner_costs(usual, rinsed, more) == "2 canner runs and 1 wash more"


def test_free_time_is_named_where_she_holds_it_dearer_than_an_early_end() -> None:
    calm = two_loads_end_sooner(first=(Goal.CALM,))
    plan = answer_of(calm).timetable
    free = goals_of(calm, plan)[0].figures["in_one_piece_min"]
    # the same plan with all work in the hands of the one who had been free the longest
    helper = calm.people[1].id
    busy = replace(plan, steps=tuple(replace(s, person=helper) for s in plan.steps))
    left = goals_of(calm, busy)[0].figures["in_one_piece_min"]
    assert left < free
    said = f"{said_minutes(free - left)} less free in one piece"
    assert what_sooner_costs(calm, plan, busy).endswith(said)
    assert "free" not in what_sooner_costs(replace(calm, first=()), plan, busy)


def test_the_plan_by_hand_is_not_taken_for_better_because_it_ends_sooner() -> None:
    # one batch each, by hand in two runs: the search has one run and ends later
    problem = two_loads_end_sooner(first=(Goal.FEW_RUNS,))
    answer = answer_of(problem)
    assert answer.by_hand is not None
    assert answer.made_by == "solver"
    assert len(answer.timetable.loads) == 1


def two_loads_end_sooner(**changes: object) -> Problem:
    """
    Twelve jars and four, one pot, and a wide canner that comes to the boil slowly.

    The small batch, closed last, is out of the quick canner (of four places) 20 min
    before it would be out of the wide one, which all sixteen jars fit.
    """
    return day(
        jelly("jelly-1", jars=12, closed_wait_at_most_min=120),
        jelly("jelly-2", jars=4, closed_wait_at_most_min=120),
        people=2,
        canners=(
            canner("wide", come_up_min=32),
            canner("quick", burners=("middle-1",), places={"half_pint": 4}),
        ),
        **changes,
    )


def test_fewest_runs_first_whatever_the_hour() -> None:
    table = answer_of(two_loads_end_sooner(first=(Goal.FEW_RUNS,))).timetable
    assert len(table.loads) == 1


def test_no_moment_follows_another_too_soon_where_there_is_room() -> None:
    problem = crowded(done_by_min=400, big_pots=2)
    assert hurried(problem, answer_of(problem).timetable) == ()
