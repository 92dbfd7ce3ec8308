"""A batch that was left out is taken into a day that has begun, the past fixed."""

from __future__ import annotations

from dataclasses import replace

import pytest
from planning.small_days import butter, jelly
from planning.small_days import day as small_day

from stillroom.planning.begun.as_planned import as_planned
from stillroom.planning.begun.changes import Changes
from stillroom.planning.plan import plan_day
from stillroom.planning.problem import Want
from stillroom.planning.second_thoughts.replanned import PUT_OFF, Replanned
from stillroom.planning.second_thoughts.take_in import (
    has_room,
    rooms,
    take_in,
    with_batches,
)
from stillroom.planning.timetable import Answer
from stillroom.planning.ways.held_plan import as_far_as_it_holds, only
from stillroom.planning.which_batches.spares import Spare
from stillroom.refusal import Refusal
from tests.planning.judged_again import judged


@pytest.fixture(scope="module")
def full():
    problem = small_day(jelly("jelly-1"), jelly("jelly-2"), butter(), people=2)
    answer = plan_day(problem, seconds=2, deterministic=True)
    assert isinstance(answer, Answer)
    return problem, answer.timetable


def spare_of(problem, name, thaws_min=0):
    batch = next(b for b in problem.batches if b.id == name)
    processes = tuple(p for p in problem.processes if p.id == batch.process)
    return Spare(
        made=None,
        batch=batch,
        processes=processes,
        wants=(),
        thaws_min=thaws_min,
    )


def taken(full, now, *, thaws_min=0, ends=None):
    problem, plan = full
    fewer = only(problem, ["jelly-1", "butter-1"])
    if ends is not None:
        people = tuple(replace(p, leaves_min=ends) for p in fewer.people)
        fewer = replace(fewer, horizon_min=ends, people=people)
    held = as_far_as_it_holds(fewer, plan)
    assert held is not None
    happened = as_planned(fewer, held, now)
    spare = spare_of(problem, "jelly-2", thaws_min)
    found = take_in(
        fewer,
        held,
        happened,
        [spare],
        Changes(),
        seconds=3.0,
        promised_min=held.finish_min,
    )
    return fewer, held, happened, found


@pytest.mark.parametrize("now", [0, 15, 40])
def test_the_judge_passes_it_and_the_past_is_as_it_was(full, now):
    _, held, _, found = taken(full, now)
    assert isinstance(found, Replanned)
    assert has_room(found)
    assert judged(found) == ()
    mine = [s for s in found.new.steps if s.batch == "jelly-2"]
    assert {s.step for s in mine} == {
        s.id for b in found.problem.batches if b.id == "jelly-2" for s in b.steps
    }
    assert min(s.start_min for s in mine) >= now
    jars = sum(n for load in found.new.loads for b, n in load.jars if b == "jelly-2")
    assert jars == 8
    # what had begun is where it was
    begun = {(s.batch, s.step) for s in held.steps if s.start_min < now}
    before = {(s.batch, s.step): s for s in held.steps}
    after = {(s.batch, s.step): s for s in found.new.steps}
    for key in begun:
        assert after[key].start_min == before[key].start_min
        assert after[key].person == before[key].person
    # jars of one batch are not parted over two loads for nothing
    for name in ("jelly-1", "butter-1"):
        counts = [
            sorted(n for load in plan.loads for b, n in load.jars if b == name)
            for plan in (held, found.new)
        ]
        assert counts[0] == counts[1]
    # and it is told beside the plan that there was
    assert found.old == held
    assert all("jelly-2" not in move.what for move in found.moves)


def test_frozen_juice_is_in_no_pot_before_it_has_thawed(full):
    _, _, _, found = taken(full, 10, thaws_min=45)
    in_pot = {
        s.id
        for b in found.problem.batches
        if b.id == "jelly-2"
        for s in b.steps
        if s.in_pot
    }
    mine = [s for s in found.new.steps if s.batch == "jelly-2" and s.step in in_pot]
    assert min(s.start_min for s in mine) >= 10 + 45


def test_it_thaws_from_this_minute_on_and_its_promise_is_one_of_the_day(full):
    problem, plan = full
    fewer = only(problem, ["jelly-1", "butter-1"])
    held = as_far_as_it_holds(fewer, plan)
    want = Want(product="jelly-2 for the fair", by_min=300)
    spare = replace(spare_of(problem, "jelly-2", thaws_min=45), wants=(want,))
    found = with_batches(fewer, held, as_planned(fewer, held, 10), [spare])
    (batch,) = [b for b in found.problem.batches if b.id == "jelly-2"]
    (window,) = batch.windows
    assert (window.step, window.earliest_min) == ("boil", 10 + 45)
    assert want in found.problem.wants


def test_the_old_order_put_off_is_no_room(full):
    *_, found = taken(full, 15)
    assert has_room(found)
    assert not has_room(replace(found, made_by=PUT_OFF))


def test_where_there_is_no_room_that_is_what_gives_way(full):
    problem, plan = full
    fewer = only(problem, ["jelly-1", "butter-1"])
    ends = as_far_as_it_holds(fewer, plan).finish_min
    _, _, _, found = taken(full, 140, ends=ends)
    assert isinstance(found, Replanned)
    assert not has_room(found)


def test_only_what_has_room_is_offered(full):
    problem, plan = full
    for ends, offered in ((problem.horizon_min, ["jelly-2"]), (None, [])):
        fewer = only(problem, ["jelly-1", "butter-1"])
        held = as_far_as_it_holds(fewer, plan)
        now = 15
        if ends is None:
            ends, now = held.finish_min, 140
        people = tuple(replace(p, leaves_min=ends) for p in fewer.people)
        fewer = replace(fewer, horizon_min=ends, people=people)
        happened = as_planned(fewer, held, now)
        without = take_in(
            fewer, held, happened, [], Changes(), seconds=1.0,
            promised_min=held.finish_min,
        )  # fmt: skip
        spares = [spare_of(problem, "jelly-2")]
        found = rooms(fewer, held, happened, spares, Changes(), without, seconds=3.0)
        assert [room.batch for room in found] == offered


def test_what_is_there_already_is_refused(full):
    problem, plan = full
    happened = as_planned(problem, plan, 10)
    no = with_batches(problem, plan, happened, [spare_of(problem, "jelly-2")])
    assert isinstance(no, Refusal)
    assert "in the plan already" in no.reason
