"""What turns out otherwise: who goes sooner, a broken canner, a batch left out."""

from dataclasses import replace

import pytest

from stillroom.planning.begun.as_planned import as_planned
from stillroom.planning.begun.changes import Changes, may_be_dropped, with_changes
from stillroom.planning.begun.handed_on import handed_on
from stillroom.planning.begun.slipped import as_it_slipped
from stillroom.planning.plan import plan_day
from stillroom.planning.problem import ComeUp
from stillroom.planning.second_thoughts.leave_out import offers
from stillroom.planning.second_thoughts.replan import replan
from stillroom.planning.second_thoughts.replan_changed import replan_changed
from stillroom.planning.timetable import Answer
from stillroom.refusal import Refusal
from tests.planning.small_days import Link, canner, day, jelly, person, step

SMALL = {"half_pint": 8, "pint": 8}


@pytest.fixture(scope="module")
def two_canners():
    problem = day(
        jelly("jelly-1"), jelly("jelly-2"), jelly("jelly-3"),
        people=(person("Ada"), person("Ben")),
        canners=(
            canner("north", places=SMALL),
            canner("south", places=SMALL, burners=("weak-1",)),
        ),
        big_pots=2,
    )  # fmt: skip
    answer = plan_day(problem, seconds=1, deterministic=True)
    assert isinstance(answer, Answer)
    return problem, answer.timetable


def changed(problem, plan, now, **given):
    happened = as_planned(problem, plan, now)
    found = with_changes(problem, plan, happened, Changes(**given))
    return happened, found


def test_who_goes_sooner_goes_and_others_take_over(two_canners):
    problem, plan = two_canners
    happened, day_now = changed(problem, plan, 10, leaves_min={"Ben": 45})
    found = replan_changed(day_now, happened, seconds=2.0, promised_min=plan.finish_min)
    assert found.longer_min == {}  # Ada can do it all: nobody is asked to stay
    assert [s for s in found.new.steps if s.person == "Ben" and s.end_min > 45] == []
    assert any(load.out_min > 45 for load in found.new.loads)
    for load in found.new.loads:
        assert load.lowered_by == "Ada" or load.lowered_min <= 45
        assert load.lifted_by == "Ada" or load.out_min <= 45
    assert found.later_min > 0
    assert any(m.was_by == "Ben" and m.is_by == "Ada" for m in found.moves)


def one_after_the_other(**ada):
    """Forty minutes of work and then twenty, with nobody but Ada to do them."""
    made = jelly(
        "tidy", steps=(step("long", 40, 3), step("short", 20, 3)),
        links=(Link(before="long", after="short"),), pots=(), process=None,
        ready_after="short",
    )  # fmt: skip
    problem = day(made, people=(person("Ada", **ada),))
    return problem, plan_day(problem, seconds=1).timetable


def test_who_stays_on_past_an_absence_is_away_then_all_the_same():
    # gone from 45 to 70, and to go home at 45: the short step is after that, until 90
    problem, plan = one_after_the_other(away=((45, 70),))
    happened, day_now = changed(problem, plan, 10, leaves_min={"Ada": 45})
    found = replan_changed(day_now, happened, seconds=1.0, promised_min=plan.finish_min)
    assert [(s.start_min, s.end_min) for s in found.new.steps] == [(0, 40), (70, 90)]
    assert found.longer_min == {"Ada": 45}


def test_who_goes_before_she_comes_is_not_there_sooner_for_it():
    problem, plan = one_after_the_other(arrives_min=20)
    happened, day_now = changed(problem, plan, 5, leaves_min={"Ada": 10})
    found = replan_changed(day_now, happened, seconds=1.0, promised_min=plan.finish_min)
    assert [(s.start_min, s.end_min) for s in found.new.steps] == [(20, 60), (60, 80)]
    # nothing has begun, so that nobody is asked to stay for it: it is no plan to go by
    assert found.longer_min == {}
    assert found.limits


def test_who_stays_on_is_planned_again_while_she_does():
    problem, plan = one_after_the_other()
    happened, day_now = changed(problem, plan, 10, leaves_min={"Ada": 30})
    stays = replan_changed(day_now, happened, seconds=1.0, promised_min=plan.finish_min)
    assert stays.longer_min == {"Ada": 30}  # until 60
    for now in (35, 45):  # in the long step, and in the short one
        since = as_it_slipped(day_now.problem, stays.new, now, {})
        again = replan(day_now.problem, stays.new, since, seconds=1.0)
        assert again.new == stays.new
        assert again.longer_min == {"Ada": 30}


def test_only_what_cannot_stay_is_handed_on(two_canners):
    problem, plan = two_canners
    happened, day_now = changed(problem, plan, 10, leaves_min={"Ben": 45})
    given = handed_on(day_now.problem, day_now.plan, happened)
    for old, new in zip(plan.steps, given.steps, strict=True):
        if (old.batch, old.step) in happened.begun or old.person != "Ben":
            assert new == old
        elif new.person == "Ben":
            assert old.end_min <= 45 or any(
                s.batch == old.batch and (s.batch, s.step) in happened.begun
                for s in plan.steps
            )


def test_a_broken_canner_gets_no_load_any_more(two_canners):
    problem, plan = two_canners
    happened, day_now = changed(problem, plan, 5, broken=("south",))
    found = replan_changed(day_now, happened, seconds=2.0, promised_min=plan.finish_min)
    assert {load.canner for load in found.new.loads} == {"north"}
    jars = sum(load.count for load in found.new.loads)
    assert jars == sum(b.jars for b in problem.batches)


def test_raw_packs_handed_to_another_canner_come_up_there_as_raw_ones(two_canners):
    problem, plan = two_canners
    raw = {"half-pint-10": ComeUp(minutes=25)}
    both = tuple(
        replace(c, come_up_of=raw if c.id == "north" else {}) for c in problem.canners
    )
    problem = replace(problem, canners=both)
    happened, day_now = changed(problem, plan, 5, broken=("south",))
    given = handed_on(day_now.problem, day_now.plan, happened, loads_too=True)
    before = {load.id: load.canner for load in plan.loads}
    moved = [load for load in given.loads if load.canner != before[load.id]]
    assert moved
    for load in moved:
        assert load.boil_min - load.lowered_min == 25
        assert load.done_min - load.boil_min == load.process_min


def test_a_canner_that_holds_jars_is_emptied_first(two_canners):
    problem, plan = two_canners
    load = min(plan.loads, key=lambda load: load.boil_min)
    _, no = changed(problem, plan, load.boil_min + 2, broken=(load.canner,))
    assert isinstance(no, Refusal)
    assert no.reason == f"the {load.canner} still holds load 1"
    assert "lift them out before planning again" in no.instead


def test_a_batch_is_left_out_until_something_of_it_is_in_its_pot(two_canners):
    problem, plan = two_canners
    for batch in problem.batches:
        first = min(s.start_min for s in plan.steps if s.batch == batch.id and s.pot)
        before = as_planned(problem, plan, first)
        after = as_planned(problem, plan, first + 2)
        assert may_be_dropped(problem, before, batch.id)
        assert not may_be_dropped(problem, after, batch.id)


def test_what_was_begun_of_a_batch_that_is_left_out_stays_in_the_past(two_canners):
    problem, plan = two_canners
    last = max(
        problem.batches,
        key=lambda b: min(s.start_min for s in plan.steps if s.batch == b.id and s.pot),
    )
    pot = min(s.start_min for s in plan.steps if s.batch == last.id and s.pot)
    happened, day_now = changed(problem, plan, pot - 1, dropped=(last.id,))
    found = replan_changed(day_now, happened, seconds=1.0, promised_min=plan.finish_min)
    mine = {s for s in found.new.steps if s.batch == last.id}
    assert mine == {s for s in happened.steps if s.batch == last.id}
    assert all(name != last.id for load in found.new.loads for name, _ in load.jars)
    assert found.new.finish_min <= plan.finish_min


def test_an_offer_is_never_later_than_keeping_the_batch(two_canners):
    problem, plan = two_canners
    running = next(s for s in plan.steps if s.start_min < 20 < s.end_min)
    late = {(running.batch, running.step): 40}
    happened = as_planned(problem, plan, 20, late_min=late)
    found = replan(problem, plan, happened, seconds=1.0)
    tried = offers(problem, plan, happened, found, Changes(), seconds=15.0)
    assert tried
    for offer in tried:
        assert offer.finish_min <= found.new.finish_min
        assert offer.jars == 8
        left = [s for s in offer.found.new.steps if s.batch == offer.batch]
        assert all((s.batch, s.step) in happened.begun for s in left)


def test_a_batch_that_is_not_there_is_said(two_canners):
    problem, plan = two_canners
    _, no = changed(problem, plan, 5, dropped=("quince",))
    assert isinstance(no, Refusal)
    assert "jelly-1" in no.instead
