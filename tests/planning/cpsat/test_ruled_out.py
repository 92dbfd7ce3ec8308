"""
No end is ruled out that some plan has, and in the end all others are.

The reference is a search that ends with a proof of its own (`plan_day` on tiny days),
which `test_brute_force` holds against every plan of such days.
"""

import threading
import time
from dataclasses import replace
from itertools import pairwise

import pytest
from ortools.sat.python import cp_model

from stillroom.methods.step import Link
from stillroom.planning.bounding.beside import RULED_OUT, BoundBeside
from stillroom.planning.bounding.bounds import Bound, lower_bound_min
from stillroom.planning.cpsat.constraints import twins
from stillroom.planning.cpsat.ruled_out import (
    RuledOut,
    _next_step,
    loads_by,
    order_twins,
    whole_model,
)
from stillroom.planning.daytime import clock_time
from stillroom.planning.hand.by_hand import by_hand
from stillroom.planning.plan import plan_day
from stillroom.planning.problem import Batch, Burner, Window
from stillroom.planning.timetable import Answer
from tests.planning.brute_days import canner_day, tiny_day
from tests.planning.cpsat.test_improve import large_day
from tests.planning.small_days import butter, canner, day, jelly, step

NOTHING = Bound(0, "nothing is known")


def nobody(_):
    """Hears of later minutes."""


def ruled_out(problem, at_most, *, known=0, work_s=30.0, told=nobody):
    latest = time.monotonic() + 600
    return RuledOut(problem, 1).up_from(known, at_most, work_s, latest, told)


def with_a_twin(problem):
    """Its first batch twice, in place of two that differ."""
    first = problem.batches[0]
    other = problem.batches[1].id
    return replace(problem, batches=(first, replace(first, id=other)))


@pytest.mark.parametrize("make", [tiny_day, canner_day])
@pytest.mark.parametrize("twice", [False, True])
@pytest.mark.parametrize("seed", range(12))
def test_just_what_ends_before_the_best_plan_is_ruled_out(make, twice, seed):
    problem = with_a_twin(make(seed)) if twice else make(seed)
    answer = plan_day(problem, seconds=5.0)
    if not isinstance(answer, Answer):
        return  # none of its plans fits
    assert answer.proven
    assert ruled_out(problem, answer.finish_min + 3) == answer.finish_min


@pytest.mark.parametrize(
    "problem",
    [
        day(jelly("a"), jelly("b")),
        day(butter("a"), butter("b"), people=1),
        day(
            *(jelly(f"j{n}", pots=()) for n in range(3)),
            canners=(
                canner("quick", burners=("strong-1",), come_up_min=2),
                canner("slow", burners=("middle-1",), come_up_min=40),
            ),
        ),
    ],
)
def test_days_with_pots_fires_and_canners(problem):
    answer = plan_day(problem, seconds=5.0)
    assert isinstance(answer, Answer)
    told = []
    found = ruled_out(problem, answer.finish_min + 20, told=told.append)
    assert found <= answer.finish_min
    assert told == sorted(set(told))
    assert found == told[-1]
    if answer.proven:
        assert found == answer.finish_min


def test_it_goes_past_the_sums_on_a_large_day():
    problem = large_day()
    plan = by_hand(problem)
    plain = Bound(lower_bound_min(problem), "the plain floors")
    found = []
    for further in (None, RuledOut(problem, 1)):
        beside = BoundBeside(problem, plain, plan.finish_min, 0.0, further)
        beside.start_counted(8.0, latest=time.monotonic() + 600)
        found.append(beside.stop(now=False))
    sums, found = found
    assert plain.minute <= sums.minute < found.minute <= plan.finish_min
    assert RULED_OUT not in sums.why
    assert found.why.startswith(f"{RULED_OUT}, and before ")
    beside.best = beside._by_sums = plain
    more = beside.go_on(Later(), plan.finish_min, 1.0, None)
    until = clock_time(problem.starts_at, plain.minute)
    assert more.why == (f"{RULED_OUT}, and before {until} this: the plain floors")
    beside.best = beside._by_sums = Bound(plain.minute, "")
    assert beside.go_on(Later(), plan.finish_min, 1.0, None).why == RULED_OUT
    answer = plan_day(problem, seconds=3.0)
    assert isinstance(answer, Answer)
    assert found.minute <= answer.finish_min


class Later:
    """Stands for a proof of one minute more."""

    cut = False

    def stop(self):
        """It is over at once."""

    def up_from(self, known, at_most, seconds, latest, on_better):
        """Prove one minute more."""
        on_better(known + 1)
        return known + 1


def test_without_a_plan_nothing_goes_further():
    problem = day(jelly("a"), jelly("b"))
    beside = BoundBeside(problem, NOTHING, None, 0.0, RuledOut(problem, 1))
    assert beside.further is None


def test_counted_work_gives_the_same_again_and_the_clock_is_noted():
    problem = large_day()
    first, again = (ruled_out(problem, 400, work_s=1.0) for _ in range(2))
    assert first == again > 0
    late = RuledOut(problem, 1)
    late.up_from(0, 400, 1.0, time.monotonic() - 1.0, nobody)
    assert late.cut
    by_the_clock = RuledOut(problem, 1)
    assert by_the_clock.up_from(0, 400, 0.5, None, nobody) <= 400
    assert not by_the_clock.cut


def test_it_ends_when_it_is_told_to():
    proof = RuledOut(large_day(), 1)
    thread = threading.Thread(
        target=proof.up_from, args=(150, 400, 3000.0, time.monotonic() + 3000, nobody)
    )
    thread.start()
    time.sleep(0.5)
    proof.stop()
    thread.join(timeout=60)
    assert not thread.is_alive()
    assert proof.up_from(150, 400, 1.0, time.monotonic() + 60, nobody) == 150


def test_who_breaks_off_while_the_proof_is_waited_for_ends_it():
    problem = large_day()
    beside = BoundBeside(problem, NOTHING, 465, time.monotonic(), RuledOut(problem, 1))
    beside.start_counted(3000.0, latest=time.monotonic() + 3000)
    thread, real = beside._thread, beside._thread.join

    def broken_off(_timeout):
        raise KeyboardInterrupt

    thread.join = broken_off
    with pytest.raises(KeyboardInterrupt):
        beside.stop(now=False)
    real(timeout=60)
    assert not thread.is_alive()


def test_canners_have_room_for_each_load_that_ends_by_then():
    # heated by 40, or a jar closed by 43 (ten minutes of work after the boil); a load
    # takes as long as its process of ten minutes and what stands around it
    one = canner("one")
    problem = day(jelly("a"), jelly("b"), canners=(one,))
    cycle = one.load_min + one.come_up_min + 10 + one.rest_min + one.unload_min
    model = whole_model(problem, 0, 400)
    assert len(model.slots["one"]) == loads_by(problem, 400)["one"]
    starts = [n for n in range(400) if loads_by(problem, n)["one"] == 1]
    assert len(starts) == cycle
    assert loads_by(problem, starts[0] - 1) == {"one": 0}
    assert loads_by(problem, starts[-1] + 1) == {"one": 2}
    assert starts[0] >= one.first_heat_min + cycle
    assert loads_by(problem, 100_000)["one"] == sum(b.jars for b in problem.batches)


def twins_of(*, pots, same_hands):
    """Two batches that stand in a pot twice, with work beside it."""
    first = replace(
        tiny_day(0).batches[0],
        id="a",
        pots=pots,
        links=(),
        steps=(
            step("s0", 2, 3, in_pot=True, same_hands=same_hands),
            step("s1", 2, 3, same_hands=same_hands),
            step("s2", 2, 3, in_pot=True),
        ),
    )
    return replace(tiny_day(0), batches=(first, replace(first, id="b")))


@pytest.mark.parametrize(
    ("pots", "same_hands", "ordered"),
    [
        (("big",), "", True),
        (("big", "small"), "", False),  # what is in which pot goes together
        (("big",), "pan", False),  # and so does what one pair of hands does
    ],
)
def test_twins_are_in_order_only_where_no_plan_is_lost(pots, same_hands, ordered):
    problem = twins_of(pots=pots, same_hands=same_hands)
    assert twins(problem.batches)
    model = whole_model(problem, 0, 16)
    asked = model.model.clone()
    asked.add(model.starts["b"][1] + 1 <= model.starts["a"][1])
    assert (cp_model.CpSolver().solve(asked) == cp_model.INFEASIBLE) == ordered
    before = len(model.model.proto.constraints)
    order_twins(model)
    assert (len(model.model.proto.constraints) > before) == ordered


def in_turn(name, *steps, ready_after="", linked=True, pots=("big",)):
    """A batch of no jars whose steps follow one another."""
    links = [Link(before=a.id, after=b.id) for a, b in pairwise(steps)]
    return Batch(
        id=name,
        product="x",
        jars=0,
        process=None,
        pots=pots,
        ready_after=ready_after,
        closed_wait_at_most_min=0,
        steps=steps,
        links=tuple(links) if linked else (),
    )


@pytest.mark.parametrize("linked", [True, False])
def test_fires_that_touch_may_not_trade_places_alone(linked):
    # strong, weak, strong fire, and two minutes in which the weak one is taken: the
    # best plan has one of two twins begin first and the other end first
    twin = in_turn(
        "a",
        step("s0", 1, 0, burner_w=2000.0, in_pot=True),
        step("s1", 2, 0, burner_w=1000.0, in_pot=True),
        step("s2", 1, 0, burner_w=2000.0, in_pot=True),
        linked=linked,
    )
    other = replace(
        in_turn("c", step("s", 2, 0, burner_w=1000.0), pots=()),
        windows=(Window(step="s", earliest_min=4, latest_min=4),),
    )
    problem = day(
        twin,
        replace(twin, id="b"),
        other,
        big_pots=2,
        canners=(),
        burners=(Burner(id="weak", power_w=1000.0), Burner(id="strong", power_w=2e3)),
        horizon_min=30,
    )
    answer = plan_day(problem, seconds=3.0)
    assert isinstance(answer, Answer)
    assert answer.proven
    assert ruled_out(problem, 30) == answer.finish_min


@pytest.mark.parametrize("ready_after", ["", "cook", "wash"])
def test_a_wash_that_may_be_a_rinse_ends_in_another_order(ready_after):
    twin = in_turn(
        "a",
        step("start", 2, 4, in_pot=True),
        step("cook", 4, 0, in_pot=True),
        step("wash", 8, 0, in_pot=True, rinse_min=2),
        ready_after=ready_after,
    )
    last = in_turn("c", step("cook", 1, 4, in_pot=True))
    problem = day(
        twin, replace(twin, id="b"), last, big_pots=2, canners=(), horizon_min=40
    )
    answer = plan_day(problem, seconds=3.0)
    assert isinstance(answer, Answer)
    assert answer.proven
    assert ruled_out(problem, 40) == answer.finish_min == 14


def test_a_batch_may_ride_in_as_many_loads_as_there_are():
    problem = canner_day(3)
    few = replace(
        problem,
        batches=tuple(
            replace(b, jars=3, closed_wait_at_most_min=60) for b in problem.batches
        ),
        horizon_min=60,
    )
    wide = whole_model(few, 0, 60)
    aboard = [s.aboard["a"] for s in wide.all_slots()]
    wide.model.add(sum(aboard) >= 3)
    assert cp_model.CpSolver().solve(wide.model) in (
        cp_model.OPTIMAL,
        cp_model.FEASIBLE,
    )


def test_the_next_question_is_larger_where_the_last_was_easy():
    assert _next_step(0.01, 0.05, 10.0) == 0.02
    assert _next_step(0.01, 1.0, 10.0) == 0.01
    assert _next_step(0.01, 3.0, 10.0) == 0.005
    assert _next_step(0.01, 100.0, 0.1) == 0.005
    assert _next_step(0.005, 100.0, 0.1) == 0.004
    assert _next_step(0.02, 0.01, 1000.0) == 0.03
