"""Simulated days begin nothing far too soon, and keep what had happened by then."""

import numpy as np
import pytest

from stillroom.methods.step import Link
from stillroom.planning.day_odds.forward import Pass, planned_minutes
from stillroom.planning.day_odds.odds import minutes_of_days, odds_of
from stillroom.planning.plan import plan_day
from stillroom.planning.problem import Window
from stillroom.planning.timetable import Answer, Timetable
from stillroom.planning.waits.held_back import held_back
from stillroom.planning.waits.precedence import precedence_of
from tests.planning.day_odds.test_odds import unsure
from tests.planning.small_days import day, jelly, person, step, work
from tests.planning.written_out import at

DRIPS_UNTIL = 120


def syrup(*, drips: int = DRIPS_UNTIL):
    """Syrup that may wait 15 min for fruit that is not there before a minute."""
    return work(
        "pears",
        step("syrup", 5, 1),
        step("cut", 20, 3),
        step("cook", 10, 2),
        links=(
            Link(before="syrup", after="cook", at_most_min=15),
            Link(before="cut", after="cook"),
        ),
        windows=(Window(step="cut", earliest_min=drips),) if drips else (),
    )


def planned(problem):
    answer = plan_day(problem, seconds=1)
    assert isinstance(answer, Answer)
    return answer.timetable


def starts(problem, plan, batch, name):
    net = precedence_of(problem, plan)
    minutes = minutes_of_days(net, problem, plan, days=200, seed=3)
    return Pass(net).forward(minutes).start[net.number[batch, name]]


def test_syrup_is_not_boiled_hours_before_its_fruit_is_there():
    problem = day(unsure(syrup()))
    plan = planned(problem)
    # the fruit is cut from 120 to 140 at the soonest; 15 and 5 minutes before that
    assert (starts(problem, plan, "pears", "syrup") >= DRIPS_UNTIL + 20 - 15 - 5).all()
    kind = '"cook" at most 15 min after "syrup"'
    (broken,) = [b for b in odds_of(problem, plan, days=500).broken if b.kind == kind]
    assert broken.over_min < 30


def test_where_nothing_is_waited_for_nothing_is_held():
    problem = day(unsure(syrup(drips=0)))
    plan = planned(problem)
    net = precedence_of(problem, plan)
    assert net.floors == []


def test_what_is_held_is_still_as_planned_on_a_day_as_planned():
    problem = day(syrup(), jelly())
    plan = planned(problem)
    net = precedence_of(problem, plan)
    begun = Pass(net).forward(planned_minutes(net)).start[:, 0]
    assert (begun <= np.array([n.start_min for n in net.nodes]) + 1e-9).all()


@pytest.mark.parametrize("since", [60, 70])
def test_the_rest_of_a_day_does_not_begin_in_the_past(since):
    """All went an hour later than it could; what is to come cannot catch that up."""
    links = (Link(before="a", after="b"),)
    problem = day(work("work", step("a", 20, 3), step("b", 30, 3), links=links))
    plan = planned(problem).moved(60)
    assert odds_of(problem, plan, days=20).at_plan_min == plan.finish_min - 60
    rest = odds_of(problem, plan, days=20, since_min=since)
    assert rest.at_plan_min == plan.finish_min
    assert rest.sure_min == plan.finish_min


def test_of_two_hours_before_which_nothing_is_cut_the_later_counts():
    """
    There at 30 and dripped at 60: cooked from 60 on, so syrup of 10 could begin at 45.

    It is held to 48, and stands for two of the five minutes that it may.
    """
    made = work(
        "pears",
        step("syrup", 10, 0),
        step("cook", 10, 3),
        links=(Link(before="syrup", after="cook", at_most_min=5),),
        windows=(Window(step="cook", earliest_min=60),),
    )
    problem = day(made, people=(person("p1", arrives_min=30),))
    steps = at("pears", "syrup", 50, 60), at("pears", "cook", 60, 70, "p1")
    plan = Timetable(steps=steps, loads=(), breaks=())
    net = precedence_of(problem, plan, hold_what_spoils=False)
    (syrup_,) = held_back(net, made)
    assert (net.nodes[syrup_.node].step, syrup_.minute) == ("syrup", 48)


@pytest.mark.parametrize(
    ("before", "after", "held"),
    [
        ({}, {}, [("heat", 40)]),
        ({"in_pot": True}, {}, []),
        ({}, {"in_pot": True}, [("heat", 40)]),
    ],
)
def test_what_stands_by_itself_is_begun_at_its_planned_minute(before, after, held):
    """Jars are hot ten minutes after 40 and filled within 5, not forty minutes late."""
    made = work(
        "it",
        step("heat", 10, 0, **before),
        step("fill", 10, 3, **after),
        links=(Link(before="heat", after="fill", at_most_min=5),),
    )
    steps = at("it", "heat", 40, 50), at("it", "fill", 50, 60, "p1")
    plan = Timetable(steps=steps, loads=(), breaks=())
    net = precedence_of(day(made), plan)
    found = [(net.nodes[f.node].step, f.minute) for f in net.floors]
    assert found == held
    loose = precedence_of(day(made), plan, hold_what_spoils=False)
    assert loose.floors == []


def test_what_is_in_somebodys_hands_may_begin_sooner():
    made = work(
        "it",
        step("cut", 10, 3),
        step("soak", 10, 0),
        links=(Link(before="cut", after="soak", at_most_min=5),),
    )
    steps = at("it", "cut", 40, 50, "p1"), at("it", "soak", 50, 60)
    plan = Timetable(steps=steps, loads=(), breaks=())
    assert precedence_of(day(made), plan).floors == []
