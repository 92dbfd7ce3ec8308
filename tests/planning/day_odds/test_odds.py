"""The simulated days: against planned minutes, events in turn, and closed forms."""

import math
from dataclasses import replace
from itertools import pairwise
from statistics import NormalDist

import numpy as np
import pytest

from benchmarks.event_by_event import run_one_day
from stillroom.methods.step import Link, Spread
from stillroom.planning.day_odds.draws import Draws, log_widths
from stillroom.planning.day_odds.forward import Pass, planned_minutes
from stillroom.planning.day_odds.in_time import policy_of
from stillroom.planning.day_odds.odds import (
    minutes_of_days,
    odds_of,
    spare_jars,
)
from stillroom.planning.day_odds.odds_words import rests_on, step_words
from stillroom.planning.hand.by_hand import by_hand
from stillroom.planning.judge.check import violations
from stillroom.planning.plan import plan_day
from stillroom.planning.timetable import Answer, PlacedStep, Timetable
from stillroom.planning.waits.precedence import Tie, precedence_of
from tests.planning.small_days import Break, butter, day, jelly, person, step


def unsure(batch, widest=2.0):
    """The same batch, each step perhaps half or twice as long."""
    steps = tuple(
        replace(
            s,
            spread=Spread(
                max(1, round(s.duration_min / widest)),
                s.duration_min,
                round(s.duration_min * widest),
            ),
        )
        for s in batch.steps
    )
    return replace(batch, steps=steps)


@pytest.fixture(scope="module")
def planned():
    problem = day(
        unsure(jelly("jelly-1")), unsure(jelly("jelly-2")), unsure(butter()), people=2
    )
    answer = plan_day(problem, seconds=3)
    assert isinstance(answer, Answer)
    return problem, answer


def test_at_planned_minutes_the_pass_gives_back_the_plan(planned):
    problem, answer = planned
    assert answer.proven  # else the pass could find the minutes that the plan left
    for plan in (answer.timetable, answer.by_hand):
        net = precedence_of(problem, plan)
        days = Pass(net).forward(planned_minutes(net))
        assert days.finish[0] == plan.finish_min
        # nothing begins later than planned: each arc holds in the plan itself
        starts = [node.start_min for node in net.nodes]
        assert all(days.start[:, 0] <= np.array(starts) + 1e-9)


def test_a_day_of_which_all_was_left_out_is_over_at_once():
    odds = odds_of(day(), Timetable(steps=(), loads=(), breaks=()), days=20)
    assert (odds.planned_min, odds.sure_min, odds.chance_as_planned) == (0, 0, 1.0)
    assert odds.matters == ()


def test_the_pass_is_the_same_as_one_event_after_another(planned):
    problem, answer = planned
    for plan in (answer.timetable, answer.by_hand):
        net = precedence_of(problem, plan)
        minutes = minutes_of_days(net, problem, plan, days=60, seed=4)
        days = Pass(net).forward(minutes)
        for k in range(60):
            start, finish = run_one_day(net, minutes[:, k].tolist())
            assert finish == days.finish[k]  # whole ticks: not nearly the same
            assert days.start[:, k].tolist() == start


def days_of(problem, plan, *, days, seed=1):
    """Starts, ends and finishes of so many days."""
    net = policy_of(problem, plan)
    return Pass(net).forward(minutes_of_days(net, problem, plan, days=days, seed=seed))


def test_the_same_seed_is_the_same_days_and_another_is_not(planned):
    problem, answer = planned
    first = days_of(problem, answer.timetable, days=50, seed=3).finish
    assert np.array_equal(
        first, days_of(problem, answer.timetable, days=50, seed=3).finish
    )
    assert not np.array_equal(
        first, days_of(problem, answer.timetable, days=50, seed=5).finish
    )


# --- closed forms ------------------------------------------------------------------


def chain_day(minutes, spread):
    """One batch of steps in a row that need nobody, and nothing else."""
    steps = tuple(step(f"s{n}", m, 0, spread=spread(m)) for n, m in enumerate(minutes))
    links = tuple(Link(before=a.id, after=b.id) for a, b in pairwise(steps))
    batch = jelly(
        steps=steps, links=links, process=None, pots=(), ready_after="", jars=0
    )
    problem = day(batch)
    at, placed = 0, []
    for s in steps:
        placed.append(
            PlacedStep(
                batch=batch.id,
                step=s.id,
                start_min=at,
                end_min=at + s.duration_min,
                person=None,
                quarters=0,
            )
        )
        at += s.duration_min
    return problem, Timetable(steps=tuple(placed), loads=(), breaks=())


def moments(minutes, s):
    """Mean and variance of a log-normal duration with this median and width."""
    mean = minutes * math.exp(s * s / 2)
    return mean, mean * mean * (math.exp(s * s) - 1)


def test_a_chain_of_many_steps_is_a_sum_of_normals():
    """Independent durations in a row: mean and variance add, the sum is near normal."""
    minutes = [40] * 30
    problem, plan = chain_day(minutes, lambda m: Spread(30, 40, round(40 * 40 / 30)))
    s = log_widths(Spread(30, 40, 53))
    mean, variance = moments(40, (s[0] + s[1]) / 2)
    odds = odds_of(problem, plan, days=20_000, rho=0.0)
    total, sd = 30 * mean, math.sqrt(30 * variance)
    assert odds.mean_min == pytest.approx(total, rel=0.005)
    assert odds.sd_min == pytest.approx(sd, rel=0.03)
    normal = NormalDist(total, sd)
    for share, minute in ((0.5, odds.even_min), (0.8, odds.likely_min)):
        assert normal.cdf(minute) == pytest.approx(share, abs=0.03)
    assert normal.cdf(odds.sure_min) == pytest.approx(0.95, abs=0.02)


def test_pert_on_a_chain_every_step_is_on_the_path_and_saves_its_minutes():
    problem, plan = chain_day([30, 60, 45], lambda m: Spread(m // 2, m, 2 * m))
    odds = odds_of(problem, plan, days=5000, rho=0.0)
    assert odds.at_plan_min == odds.planned_min == 135
    assert [m.on_path for m in odds.matters] == [1.0, 1.0, 1.0]
    assert odds.matters[0].step == "s1"  # the longest has the widest spread
    # all steps take ten minutes and more on all but a few days
    assert all(m.earlier_min == pytest.approx(10.0, abs=0.1) for m in odds.matters)


def test_two_branches_wait_for_the_later_one():
    """P(max <= t) is the product of the two chances where the branches share no day."""
    a, b = (
        step("a", 60, 0, spread=Spread(30, 60, 120)),
        step("b", 60, 0, spread=Spread(30, 60, 120)),
    )
    batch = jelly(steps=(a, b), links=(), process=None, pots=(), ready_after="", jars=0)
    placed = tuple(
        PlacedStep(
            batch=batch.id, step=s.id, start_min=0, end_min=60, person=None, quarters=0
        )
        for s in (a, b)
    )
    plan = Timetable(steps=placed, loads=(), breaks=())
    apart = odds_of(day(batch), plan, days=40_000, rho=0.0)
    assert apart.chance_as_planned == pytest.approx(0.25, abs=0.01)
    together = odds_of(day(batch), plan, days=40_000, rho=1.0)
    assert together.chance_as_planned == pytest.approx(0.5, abs=0.01)


@pytest.mark.parametrize("spread", [Spread(10, 20, 40), Spread(15, 20, 60)])
def test_a_spread_says_what_one_day_in_twenty_is(spread):
    drawn = Draws([20], [spread], days=100_000, rho=0.3).all_rows()[0]
    assert np.mean(drawn < spread.low) == pytest.approx(0.05, abs=0.003)
    assert np.mean(drawn > spread.high) == pytest.approx(0.05, abs=0.003)
    assert np.median(drawn) == pytest.approx(20.0, rel=0.01)


def test_a_slow_day_is_slow_for_all():
    spreads = [Spread(20, 40, 80)] * 2
    for rho in (0.0, 0.3, 1.0):
        drawn = np.log(Draws([40, 40], spreads, days=50_000, rho=rho).all_rows())
        assert np.corrcoef(drawn)[0, 1] == pytest.approx(rho, abs=0.02)


def test_a_fixed_duration_stays(planned):
    assert np.all(Draws([10, 5], [None, None], days=9).all_rows() == [[10.0], [5.0]])


# --- the policy ----------------------------------------------------------------------


def test_process_and_rest_take_their_published_minutes_on_every_day(planned):
    problem, answer = planned
    net = precedence_of(problem, answer.timetable)
    minutes = minutes_of_days(net, problem, answer.timetable, days=200)
    for load in answer.timetable.loads:
        assert np.all(minutes[net.number[load.id, "process"]] == load.process_min)
        assert np.all(minutes[net.number[load.id, "rest"]] == 5)


def test_no_wait_steps_never_part(planned):
    """Nobody lets a pan boil over: skim follows the hard boil at once on all days."""
    problem, answer = planned
    net = precedence_of(problem, answer.timetable)
    days = days_of(problem, answer.timetable, days=500)
    for batch in ("jelly-1", "jelly-2"):
        before, after = net.number[batch, "hard_boil"], net.number[batch, "skim"]
        assert np.allclose(days.start[after], days.end[before])


def test_a_person_a_pot_and_a_canner_serve_one_after_the_other(planned):
    problem, answer = planned
    net = precedence_of(problem, answer.timetable)
    assert {arc.tie for arc in net.arcs} >= {
        Tie.LINK, Tie.JARS, Tie.PERSON, Tie.POT, Tie.CANNER,
    }  # fmt: skip
    days = days_of(problem, answer.timetable, days=300)
    loads = sorted(answer.timetable.loads, key=lambda load: load.lower_min)
    for first, second in pairwise(loads):
        out, again = net.number[first.id, "lift"], net.number[second.id, "lower"]
        assert np.all(days.end[out] <= days.start[again] + 1e-9)


def test_breaks_do_not_count_as_work(planned):
    late = Break(duration_min=30, earliest_min=400, latest_start_min=440)
    problem = day(jelly(), people=(person("Ada", breaks=(late,)),))
    answer = plan_day(problem, seconds=1)
    assert isinstance(answer, Answer)
    odds = odds_of(problem, answer.timetable, days=10)
    assert odds.at_plan_min == answer.finish_min < 400


def test_the_figures_agree_with_one_another(planned):
    problem, answer = planned
    assert violations(problem, answer.timetable) == ()
    odds = odds_of(problem, answer.timetable, days=2000)
    assert odds.even_min <= odds.likely_min <= odds.sure_min
    chances = [d.chance for d in odds.done_by]
    assert chances == sorted(chances)
    assert chances[-1] == 1.0
    assert 0.0 < odds.chance_as_planned < 0.5  # a plan at medians is an optimist
    ranks = [m.on_path * m.sd_min for m in odds.matters]
    assert ranks == sorted(ranks, reverse=True)


def test_a_slower_step_never_makes_the_day_earlier(planned):
    problem, answer = planned
    net = precedence_of(problem, answer.timetable)
    ready = Pass(net)
    minutes = minutes_of_days(net, problem, answer.timetable, days=100)
    before = ready.forward(minutes).finish
    for n in range(0, len(net.nodes), 5):
        slower = minutes.copy()
        slower[n] += 10.0
        assert np.all(ready.forward(slower).finish >= before - 1e-9)


def test_spare_jars_cover_nineteen_days_in_twenty():
    """Binomial with one in 24.5 (mean of 1/20 and 1/30): 80 jars, 95 % point."""
    p = (1 / 20 + 1 / 30) / 2
    spare = spare_jars(80, days=50_000).spare
    below = sum(math.comb(80, k) * p**k * (1 - p) ** (80 - k) for k in range(spare + 1))
    assert below >= 0.94
    assert spare_jars(0).spare == 0


def test_what_has_no_seal_needs_no_spare_lid():
    """Eight jars are canned; what stands in a crock or a freezer box is not."""
    crock = jelly("kraut", process=None, jars=12, ready_after="")
    for batches, canned in (((jelly(), crock), 8), ((crock,), 0)):
        problem = day(*batches)
        plan = by_hand(problem, shuffles=2)
        assert plan is not None
        spare = odds_of(problem, plan, days=20).spare
        assert spare.jars == canned
        assert (spare.spare > 0) is (canned > 0)


@pytest.mark.parametrize(
    ("asked", "words"),
    [({"days": 0}, "days = 0"), ({"rho": 1.5}, "rho = 1.5"), ({"rho": -0.1}, "rho")],
)
def test_what_cannot_be_drawn_is_refused(planned, asked, words):
    problem, answer = planned
    with pytest.raises(ValueError, match=words):
        odds_of(problem, answer.timetable, **{"days": 10, **asked})


def test_a_step_that_decides_is_named_as_it_is_done(planned):
    problem, answer = planned
    assert step_words(problem, answer.timetable, "jelly-1", "boil") == "boil (jelly-1)"
    loads = sorted(answer.timetable.loads, key=lambda load: load.boil_min)
    for number, load in enumerate(loads, 1):
        said = step_words(problem, answer.timetable, load.id, "come up")
        assert said == f"Bring load {number} in the {load.canner} to a full boil"


def test_what_minutes_rest_on_is_said_of_steps_and_of_canners(planned):
    problem, answer = planned
    plan = answer.timetable
    (batch, *_rest) = problem.batches
    own = replace(batch.steps[3], basis="learned from 7 runs of yours")
    known = replace(batch, steps=(*batch.steps[:3], own, *batch.steps[4:]))
    slow = replace(problem.canners[0], come_up_spread=Spread(9, 12, 20))
    problem = replace(problem, batches=(known,), canners=(slow,))
    assert rests_on(problem, plan, known.id, own.id) == "learned from 7 runs of yours"
    assert rests_on(problem, plan, plan.loads[0].id, "come up").endswith("9 to 20 min")
