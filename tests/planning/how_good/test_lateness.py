"""When goods are there, and by how much a promise is missed; plans written by hand."""

from __future__ import annotations

from planning.small_days import day, step, work
from planning.written_out import at, closed, load

from stillroom.planning.how_good.lateness import (
    batches_done_min,
    late_wants,
    score,
    weighted_lateness,
)
from stillroom.planning.problem import Want
from stillroom.planning.timetable import Timetable

FILL, WASH = step("fill", 10, 0), step("wash", 20, 0)


def test_goods_of_no_canner_are_there_after_the_step_that_closes_them() -> None:
    made = work("a", FILL, WASH, ready_after="fill")
    plan = Timetable(
        steps=(at("a", "fill", 0, 10), at("a", "wash", 10, 30)), loads=(), breaks=()
    )
    assert batches_done_min(day(made), plan) == {"a": 10}
    assert batches_done_min(day(work("a", FILL, WASH)), plan) == {"a": 30}


def test_jars_are_there_when_the_last_of_them_is_out_whatever_is_washed_then() -> None:
    """Out at 65 and at 100; the pot is washed until 130, and no jar waits for it."""
    jars = closed("a", steps=(FILL, WASH))
    plan = Timetable(
        steps=(at("a", "fill", 20, 30), at("a", "wash", 110, 130)),
        loads=(load(30), load(65, id="L2")),
        breaks=(),
    )
    assert batches_done_min(day(jars), plan) == {"a": 100}


def test_a_promise_is_missed_by_its_last_batch_and_counts_by_its_weight() -> None:
    """a and b are one product, there at 10 and 40: by 30 it is missed by ten."""
    wants = (
        Want(product="jam", by_min=30, weight=3),
        Want(product="butter", by_min=45, weight=2),
        Want(product="none of it", by_min=0),
    )
    batches = (
        work("a", FILL, product="jam"),
        work("b", FILL, product="jam"),
        work("c", FILL, product="butter"),
    )
    problem = day(*batches, wants=wants)
    ends = {"a": 10, "b": 40, "c": 50}
    steps = tuple(at(name, "fill", end - 10, end) for name, end in ends.items())
    plan = Timetable(steps=steps, loads=(), breaks=())
    assert [over for _, over in late_wants(problem, plan)] == [10, 5, 0]
    assert weighted_lateness(problem, plan) == 3 * 10 + 2 * 5
    assert score(problem, plan) == 50 + 2 * 40  # a late minute counts as two of the end
    first = Timetable(steps=steps[:1], loads=(), breaks=())
    assert [over for _, over in late_wants(problem, first)] == [0, 0, 0]
