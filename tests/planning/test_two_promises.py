"""Two promises of one product: each is judged by the batches that serve it."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace
from typing import Any

import pytest
from kitchens import day, juice, kitchen, stores

from stillroom.cli.contracts import not_made_as_json
from stillroom.methods.kitchen import Burner
from stillroom.methods.today import air_in
from stillroom.planning.begun.changes import Changed, Changes, with_changes
from stillroom.planning.day import Want
from stillroom.planning.day_file.day_changes import changed_day_text
from stillroom.planning.day_file.dayfile import read_day
from stillroom.planning.day_file.dayfile_write import write_day
from stillroom.planning.day_odds.odds import odds_of
from stillroom.planning.dayplan import DayPlan
from stillroom.planning.happened import Happened
from stillroom.planning.how_good.lateness import batches_done_min, late_wants
from stillroom.planning.judge.check import misstatements
from stillroom.planning.plan import plan_day
from stillroom.planning.problem import Want as DueWant
from stillroom.planning.second_thoughts.replan_changed import replan_changed
from stillroom.planning.second_thoughts.take_in import WithBatches, with_batches
from stillroom.planning.sentence import how_good
from stillroom.planning.timetable import Answer
from stillroom.planning.way_changes import leave_out
from stillroom.planning.ways.way_typed import changes_typed
from stillroom.planning.which_batches.batches import make_batches
from stillroom.planning.which_batches.choices import Place
from stillroom.planning.which_batches.kitchen_problem import problem_of
from stillroom.planning.which_batches.not_made import promised_and_not_made
from stillroom.planning.which_batches.served_since import served_as_in
from stillroom.planning.which_batches.shelf import Shelf
from stillroom.planning.which_batches.spares import spares_for
from stillroom.planning.whole_day import plan_the_day
from stillroom.refusal import granted
from tests.planning.small_days import canner, jelly
from tests.planning.small_days import day as small_day

BATCH = 8
"""Half-pint jars of plum jelly that one batch is reckoned for here."""


def wanted(jars: int, by: str | None = None, **more: Any) -> Want:
    hour = None if by is None else dt.time.fromisoformat(by)
    return Want(product="plum jelly", jars=jars, jar="half-pint", by=hour, **more)


def planned(*wants: Want, **changes: Any) -> DayPlan:
    found = plan_the_day(day(*wants, **changes), seconds=0.5, explain=False)
    assert isinstance(found, DayPlan)
    return found


def asked(plan: DayPlan) -> list[tuple[str, int, int]]:
    assert plan.problem is not None
    return [(w.product, w.by_min, w.jars) for w in plan.problem.wants]


def test_one_batch_that_serves_two_promises_is_late_for_both() -> None:
    plan = planned(wanted(4, "09:00", weight=3), wanted(4, "08:30", weight=2))
    assert [b.jars for b in plan.batches] == [BATCH]
    assert asked(plan) == [
        ("plum jelly by 8:30", 30, 4),
        ("plum jelly by 9:00", 60, 4),
    ]
    assert plan.problem is not None
    assert isinstance(plan.answer, Answer)
    out = plan.answer.finish_min
    late = late_wants(plan.problem, plan.answer.timetable)
    assert [over for _, over in late] == [out - 30, out - 60]
    assert plan.answer.lateness == 2 * (out - 30) + 3 * (out - 60)
    assert misstatements(plan.problem, plan.answer) == ()
    said = how_good(plan)
    assert "late, wanted by 8:30" in said
    assert "late, wanted by 9:00" in said


def test_the_odds_answer_both() -> None:
    plan = planned(wanted(4, "08:30"), wanted(4, "15:00"))
    assert plan.problem is not None
    assert isinstance(plan.answer, Answer)
    odds = odds_of(plan.problem, plan.answer.timetable)
    assert [(p.minute, p.chance) for p in odds.promises] == [(30, 0.0), (420, 1.0)]


def test_a_later_promise_takes_what_the_earlier_leaves_and_the_next_batch() -> None:
    plan = planned(wanted(8, "15:00"), wanted(4, "11:00"), wanted(2))
    first, second = plan.batches
    assert [w.jars for w in first.serves] == [4, 8]
    assert [w.jars for w in second.serves] == [8, 2]
    assert plan.problem is not None
    early, late = plan.problem.batches
    assert early.serves == ("plum jelly by 11:00", "plum jelly by 15:00")
    assert late.serves == ("plum jelly by 15:00",)


def test_two_promises_by_one_hour_are_one_with_all_their_jars() -> None:
    plan = planned(wanted(3, "11:00", weight=1), wanted(4, "11:00", weight=5))
    assert asked(plan) == [("plum jelly by 11:00", 180, 7)]
    assert plan.problem is not None
    assert plan.problem.wants[0].weight == 5
    assert plan.problem.batches[0].also_for == ()


@pytest.mark.parametrize("name", ["plum jelly 1", "plum jelly 2"])
def test_whichever_is_left_out_by_name_the_earliest_is_served_first(name: str) -> None:
    plan = planned(wanted(4, "11:00"), wanted(8, "15:00"), without=(name,))
    assert not_made_as_json(plan) == [
        {"product": "plum jelly", "jar": "half-pint", "jars": 4, "by": "15:00"}
        | {"stands": None}
    ]
    assert how_good(plan).startswith(
        "Promised and not made: 4 half-pint jars of plum jelly by 15:00. Nothing else"
    )


def test_what_is_left_out_by_name_is_named_as_promised_and_not_made() -> None:
    plan = planned(wanted(8, "11:00"), without=("plum jelly 1",))
    assert how_good(plan) == (
        "Promised and not made: 8 half-pint jars of plum jelly by 11:00."
    )
    assert promised_and_not_made(planned(wanted(8, "11:00"))) == ()


def test_what_the_day_leaves_out_of_two_promises_is_told_of_each() -> None:
    """On a day too short for three batches the last one goes, and not its promise."""
    plan = planned(
        wanted(4, "11:00"),
        wanted(20, "11:30"),
        ends=dt.time(10, 0),
        shelf=(juice(bags=6), *stores()),
        kitchen=kitchen(
            burners=(
                Burner(name="front left", power_w=3500.0),
                Burner(name="front right", power_w=3000.0),
            )
        ),
    )
    made = sum(b.jars for b in plan.batches)
    assert 0 < made < 24
    (lost,) = promised_and_not_made(plan)
    assert (lost.jars, lost.by) == (24 - made, dt.time(11, 30))


BEFORE_THE_DAY = Happened(now_min=0, steps=(), loads=())


def dropped(plan: DayPlan, name: str, **problem: Any) -> Changed:
    assert plan.problem is not None
    assert isinstance(plan.answer, Answer)
    found = with_changes(
        replace(plan.problem, **problem),
        plan.answer.timetable,
        BEFORE_THE_DAY,
        Changes(dropped=(name,)),
    )
    assert isinstance(found, Changed)
    return found


@pytest.mark.parametrize("name", ["plum jelly 1", "plum jelly 2"])
def test_a_batch_dropped_on_the_day_breaks_what_the_others_have_no_jars_for(
    name: str,
) -> None:
    """Two batches of 8 jars, 4 wanted by eleven and 8 by three: 4 of these lack."""
    plan = planned(wanted(4, "11:00"), wanted(8, "15:00"))
    day_now = dropped(plan, name)
    (left,) = day_now.problem.batches
    assert left.serves == ("plum jelly by 11:00", "plum jelly by 15:00")
    (lost,) = day_now.not_made
    assert (lost.product, lost.jars) == ("plum jelly by 15:00", 4)
    assert [w.product for w in day_now.problem.wants] == [*left.serves]


def test_jars_that_nobody_waited_for_go_to_the_promise_of_a_dropped_batch() -> None:
    plan = planned(wanted(8, "11:00"), wanted(8))
    assert plan.problem is not None
    first, second = plan.problem.batches
    assert [first.serves, second.serves] == [("plum jelly by 11:00",), ("plum jelly",)]
    day_now = dropped(plan, first.id)
    assert day_now.not_made == ()
    assert [b.serves for b in day_now.problem.batches] == [("plum jelly by 11:00",)]
    # the promise was kept before, by the batch that is dropped
    assert day_now.was_late_min == {"plum jelly by 11:00": 0}
    found = replan_changed(
        day_now, BEFORE_THE_DAY, seconds=1.0, promised_min=day_now.plan.finish_min
    )
    assert [p.was_late_min for p in found.promises] == [0]
    assert "; plum jelly, wanted by 11:00, comes from plum jelly 2 now; " in (
        found.sentence
    )


def test_of_the_batches_that_are_left_the_one_there_first_serves_the_first_hour() -> (
    None
):
    plan = planned(wanted(8, "14:00"), wanted(16), shelf=(juice(bags=9), *stores()))
    assert plan.problem is not None
    assert isinstance(plan.answer, Answer)
    done = batches_done_min(plan.problem, plan.answer.timetable)
    promised, *others = plan.problem.batches
    day_now = dropped(plan, promised.id)
    first = min(others, key=lambda b: done[b.id])
    serves = {b.id: b.serves for b in day_now.problem.batches}
    assert serves.pop(first.id) == ("plum jelly by 14:00",)
    assert set(serves.values()) == {("plum jelly",)}


def test_jars_of_another_size_keep_no_promise_and_old_runs_stay_as_they_were() -> None:
    plan = planned(wanted(8, "11:00"), wanted(8))
    assert plan.problem is not None
    first, second = plan.problem.batches
    unlike = (
        (first, replace(second, jar="pint")),
        (replace(first, jar=""), replace(second, jar="")),  # as it was kept before
    )
    for batches in unlike:
        day_now = dropped(plan, first.id, batches=batches)
        assert [b.serves for b in day_now.problem.batches] == [("plum jelly",)]
        assert [out.jars for out in day_now.not_made] == [8]
        assert day_now.problem.wants == ()
    unknown = tuple(replace(w, jars=0) for w in plan.problem.wants)
    day_now = dropped(plan, first.id, wants=unknown)
    assert [out.jars for out in day_now.not_made] == [0]


def test_a_batch_taken_in_again_shares_the_promise_that_another_one_took() -> None:
    plan = planned(wanted(8, "11:00"), wanted(8))
    assert plan.problem is not None
    first, second = plan.problem.batches
    day_now = dropped(plan, first.id)
    spare = next(s for s in spares_for(plan, {second.id}) if s.batch.id == first.id)
    more = with_batches(day_now.problem, day_now.plan, BEFORE_THE_DAY, [spare])
    assert isinstance(more, WithBatches)
    done = batches_done_min(more.problem, more.plan)
    assert done[second.id] < done[first.id]
    serves = {b.id: b.serves for b in more.problem.batches}
    assert serves[second.id] == ("plum jelly by 11:00",)
    assert serves[first.id] == ("plum jelly",)


def test_the_day_page_of_a_run_knows_for_whom_the_jars_are_that_are_left() -> None:
    plan = planned(wanted(8, "11:00"), wanted(8))
    assert plan.problem is not None
    day_now = dropped(plan, "plum jelly 1")
    (left,) = served_as_in(day_now.problem, plan.batches[1:], plan.batches)
    assert [(w.by, w.jars) for w in left.serves] == [(dt.time(11), 8), (None, 8)]
    assert promised_and_not_made(replace(plan, batches=(left,))) == ()
    assert served_as_in(plan.problem, plan.batches, plan.batches) == plan.batches


@pytest.mark.parametrize("sooner", [0, 1])
def test_whichever_of_two_alike_is_wanted_sooner_is_made_first(sooner: int) -> None:
    """Batches alike in all but whom they serve are not put in the list's order."""
    batches = [jelly("jelly-1", product="jelly"), jelly("jelly-2", product="jelly")]
    batches[sooner] = replace(batches[sooner], also_for=("soon",))
    wants = (DueWant(product="jelly", by_min=400), DueWant(product="soon", by_min=96))
    one_batch = canner(places={"half_pint": 8, "pint": 8})
    problem = small_day(*batches, wants=wants, canners=(one_batch,))
    answer = plan_day(problem, seconds=2)
    assert isinstance(answer, Answer)
    done = batches_done_min(problem, answer.timetable)
    assert done[f"jelly-{sooner + 1}"] <= 96
    assert answer.lateness == 0


def test_a_way_out_without_a_promised_batch_keeps_the_promise_in_the_day_file() -> None:
    """With so many fewer wanted nobody would see any more that it was promised."""
    today = day(wanted(16, "18:00"))
    place = Place(kitchen=today.kitchen, air=granted(air_in(today.kitchen)))
    made = make_batches(today, place, Shelf(today.shelf))
    problem = granted(problem_of(today, made, place.air))
    gone = (leave_out(problem.batches[1]),)
    typed = list(changes_typed(today, made, problem, gone))
    assert typed == ['day.without="plum jelly 2"']
    saved = read_day(changed_day_text(write_day(today), typed[0]))
    plan = plan_the_day(saved, seconds=0.5, explain=False)
    assert isinstance(plan, DayPlan)
    assert "Promised and not made: 8 half-pint jars of plum jelly by 18:00" in (
        how_good(plan)
    )
    # what nobody was promised is so many fewer that are wanted
    unpromised = day(wanted(16))
    made = make_batches(unpromised, place, Shelf(unpromised.shelf))
    fewer = list(changes_typed(unpromised, made, problem, gone))
    assert fewer[0] == "wants.plum jelly.jars=8"
