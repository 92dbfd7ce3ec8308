"""Simulated days go by the plan: on one as planned no longest wait gives way."""

from dataclasses import replace

import numpy as np

from stillroom.methods.step import Link
from stillroom.planning.day_odds.broken_limits import broken_limits
from stillroom.planning.day_odds.forward import Pass, planned_minutes
from stillroom.planning.day_odds.in_time import policy_of
from stillroom.planning.day_odds.odds import odds_of
from stillroom.planning.judge.check import violations
from stillroom.planning.plan import plan_day
from stillroom.planning.problem import Window
from stillroom.planning.timetable import Answer, PlacedStep, Timetable
from stillroom.planning.waits.precedence import precedence_of
from tests.planning.day_odds.test_odds import unsure
from tests.planning.small_days import day, jelly, person, step, work
from tests.planning.written_out import at, closed, load


def placed(batch, name, start, end, who, quarters):
    return PlacedStep(
        batch=batch,
        step=name,
        start_min=start,
        end_min=end,
        person=who,
        quarters=quarters,
    )


def two_at_work():
    """Ada stirs until 100 and heats then; Bo drains for it, which may wait 15 min."""
    stirring = work("butter", step("stir", 100, 4))
    pickles = work(
        "pickles",
        step("drain", 5, 3),
        step("heat", 20, 4),
        links=(Link(before="drain", after="heat", at_most_min=15),),
    )
    problem = day(
        unsure(stirring), unsure(pickles), people=(person("Ada"), person("Bo"))
    )
    plan = Timetable(
        steps=(
            placed("butter", "stir", 0, 100, "Ada", 4),
            placed("pickles", "drain", 90, 95, "Bo", 3),
            placed("pickles", "heat", 100, 120, "Ada", 4),
        ),
        loads=(),
        breaks=(),
    )
    return problem, plan


def on_a_day_as_planned(problem, plan, network):
    net = network(problem, plan)
    days = Pass(net).forward(planned_minutes(net))
    broken, _ = broken_limits(net, problem, plan, days)
    begun = days.start[:, 0]
    assert (begun <= np.array([n.start_min for n in net.nodes]) + 1e-9).all()
    return begun[net.number["pickles", "drain"]], [b.kind for b in broken]


def test_what_may_wait_only_so_long_is_not_begun_as_soon_as_hands_are_free():
    """Drained at the day's first minute it would wait 95 min; it is planned at 90."""
    problem, plan = two_at_work()
    assert not violations(problem, plan)
    kind = '"heat" at most 15 min after "drain"'
    assert on_a_day_as_planned(problem, plan, precedence_of) == (0.0, [kind])
    assert on_a_day_as_planned(problem, plan, policy_of) == (90.0, [])


def test_a_wait_gives_way_on_some_days_and_not_on_every_one():
    problem, plan = two_at_work()
    (broken,) = odds_of(problem, plan, days=500).broken
    assert 0.1 < broken.share_of_days < 0.7


def test_closed_jars_do_not_wait_for_a_canner_that_is_planned_for_later():
    """One canner, three batches: whatever the plan, it is kept on a day as planned."""
    problem = day(*(jelly(f"jelly-{n}", jars=8) for n in "abc"))
    answer = plan_day(problem, seconds=1)
    assert isinstance(answer, Answer)
    for plan in (answer.timetable, answer.by_hand):
        net = policy_of(problem, plan)
        days = Pass(net).forward(planned_minutes(net))
        assert broken_limits(net, problem, plan, days)[0] == ()


def test_a_load_is_not_lowered_so_soon_that_nobody_is_there_to_lift_it():
    """
    The next load could go into the hot water at 65, and would be rested at 96.

    Ada, who lifts it, stirs from 90, when the kettle is ready, until 114. The plan
    lowers at 85 and lifts at 116, as soon as the jars are rested.
    """
    held = Window(step="stir", earliest_min=90)
    butter = replace(work("butter", step("stir", 24, 4)), windows=(held,))
    waits = {"closed_wait_at_most_min": 120}
    problem = day(
        closed("a", **waits), closed("b", **waits), butter, people=(person("Ada"),)
    )
    hers = {"lowered_by": "Ada", "lifted_by": "Ada"}
    first = load(30, fire_free_min=85, **hers)
    again = load(85, id="L2", jars=(("b", 5),), hot=True, heat_min=85, **hers)
    plan = Timetable(
        steps=(
            at("a", "lid", 25, 30),
            at("b", "lid", 25, 30),
            placed("butter", "stir", 90, 114, "Ada", 4),
        ),
        loads=(first, again),
        breaks=(),
    )
    assert not violations(problem, plan)

    def as_planned(network):
        net = network(problem, plan)
        days = Pass(net).forward(planned_minutes(net))
        broken, _ = broken_limits(net, problem, plan, days)
        lifted = days.start[net.number["L2", "lift"], 0]
        return lifted, [(b.kind, b.over_min) for b in broken]

    kind = "jars lifted at most 10 min after their rest"
    assert as_planned(precedence_of) == (114.0, [(kind, 8.0)])
    assert as_planned(policy_of) == (116.0, [])
