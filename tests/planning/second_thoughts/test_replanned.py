"""What a replan tells first: promises, what moves, and what gives way."""

from dataclasses import replace

import pytest

from stillroom.cli.replan_text import print_replanned
from stillroom.planning.begun.as_planned import as_planned
from stillroom.planning.begun.limits_said import ENDS_IN_TIME
from stillroom.planning.begun.promised_anew import LackingJars
from stillroom.planning.how_good.lateness import weighted_lateness
from stillroom.planning.plan import plan_day
from stillroom.planning.problem import Want
from stillroom.planning.second_thoughts.leave_out import gives_way_min
from stillroom.planning.second_thoughts.moves import (
    Move,
    UnderWay,
    moved_words,
    moves_between,
)
from stillroom.planning.second_thoughts.replan import replan
from stillroom.planning.second_thoughts.replanned import PUT_OFF
from stillroom.planning.spoken_of import Minute, StepOf, says
from stillroom.planning.waits.load_names import LoadNames
from tests.planning.small_days import day, jelly

BY_80 = (Want(product="jelly", by_min=80),)


@pytest.fixture(scope="module")
def one_jelly():
    """One batch, out of the canner at 76; a boil 25 minutes longer ends it at 101."""
    problem = day(jelly())
    plan = plan_day(problem, seconds=2).timetable
    assert plan.finish_min == 76
    boil = next(s for s in plan.steps if s.step == "boil")
    late = {("jelly-1", "boil"): 25}
    happened = as_planned(problem, plan, boil.start_min + 5, late_min=late)
    return problem, plan, happened


def in_its_canner(problem, plan, *, by):
    """The only load has been lowered, and comes to its boil so much later."""
    (load,) = plan.loads
    later = replace(
        load,
        boil_min=load.boil_min + by,
        done_min=load.done_min + by,
        lift_min=load.lift_min + by,
        out_min=load.out_min + by,
        fire_free_min=load.fire_free_min + by,
    )
    happened = as_planned(problem, plan, load.lowered_min + 1)
    return replace(happened, loads=(later,))


# --- promises ------------------------------------------------------------------------


def test_a_promise_that_a_slip_breaks_is_said_in_the_first_sentence(one_jelly):
    problem, plan, happened = one_jelly
    found = replan(replace(problem, wants=BY_80), plan, happened)
    assert found.sentence.startswith(
        "Done at 9:41, 25 min later; jelly, wanted by 9:20, comes 21 min late; "
    )


def test_a_promise_that_was_broken_before_says_what_is_new_or_nothing(one_jelly):
    problem, plan, happened = one_jelly
    early = replace(problem, wants=(Want(product="jelly", by_min=10),))
    told = replan(early, plan, happened).sentence
    assert "jelly, wanted by 8:10, comes 1 h 31 min late, 25 min more than" in told
    as_it_was = replan(early, plan, as_planned(problem, plan, 5)).sentence
    assert "late" not in as_it_was


def test_a_promise_that_is_kept_is_not_spoken_of(one_jelly):
    problem, plan, happened = one_jelly
    kept = replace(problem, wants=(Want(product="jelly", by_min=101),))
    assert "wanted" not in replan(kept, plan, happened).sentence


def test_a_batch_that_an_old_plan_does_not_have_was_late_for_nobody(one_jelly):
    # taken in later: the promise is broken by the new plan alone
    problem, plan, happened = one_jelly
    late = replace(problem, wants=BY_80)
    without = replace(plan, steps=(), loads=())
    assert weighted_lateness(late, without) == 0
    told = replace(replan(late, plan, happened), old=without)
    assert "jelly, wanted by 9:20, comes 21 min late;" in told.sentence


# --- a load under way ----------------------------------------------------------------


def test_a_load_under_way_is_told_by_its_boil_and_its_lifting(one_jelly):
    problem, plan, _ = one_jelly
    found = replan(problem, plan, in_its_canner(problem, plan, by=20))
    (load,) = plan.loads
    told = [(m.under_way, m.was_min, m.is_min, m.is_by) for m in found.moves]
    assert told == [
        (UnderWay.BOIL, load.boil_min, load.boil_min + 20, None),
        (UnderWay.LIFT, load.lift_min, load.lift_min + 20, load.lifted_by),
    ]
    assert "20 min later; 2 steps move by more than 10 min, the most 20 min." in (
        found.sentence
    )
    said = [moved_words(problem, plan, move)[0] for move in found.moves]
    assert said == [
        "Load 1 in the canner comes to a full boil",
        "Lift load 1 out of the canner",
    ]


def test_what_is_past_of_a_load_under_way_is_not_told(one_jelly):
    problem, plan, _ = one_jelly
    happened = in_its_canner(problem, plan, by=20)
    boils = happened.loads[0].boil_min
    found = replan(problem, plan, replace(happened, now_min=boils + 1))
    assert [m.under_way for m in found.moves] == [UnderWay.LIFT]
    assert "; 1 step moves by 20 min." in found.sentence


def test_a_load_that_moves_as_a_whole_is_counted_once(one_jelly):
    problem, plan, happened = one_jelly
    assert not happened.loads
    found = replan(problem, plan, happened)
    (load,) = plan.loads
    of_it = [m for m in found.moves if m.what == load.id]
    assert [(m.under_way, m.by_min) for m in of_it] == [(None, 25)]


def test_a_load_under_way_alone_makes_no_new_plan_and_is_counted_in_one(one_jelly):
    problem, plan, _ = one_jelly
    found = replan(problem, plan, in_its_canner(problem, plan, by=20))
    assert not replace(found, open_steps=0).is_new_plan
    wash = Move(what="a", was_min=50, is_min=80, was_by="Ada", is_by="Ada")
    told = replace(found, moves=(wash, *found.moves), open_steps=1)
    assert "a new plan: 3 of 3 steps move, by up to 30 min" in told.sentence


def test_a_load_that_other_hands_lift_is_told(one_jelly):
    problem, plan, _ = one_jelly
    happened = in_its_canner(problem, plan, by=0)
    (load,) = plan.loads
    new = replace(plan, loads=(replace(load, lifted_by="Ben"),))
    (told,) = moves_between(happened, plan, new)
    assert (told.under_way, told.is_by, told.by_min) == (UnderWay.LIFT, "Ben", 0)


def test_under_pressure_a_load_comes_up_to_pressure(one_jelly):
    problem, plan, _ = one_jelly
    processes = tuple(replace(p, pressure_psi=11.0) for p in problem.processes)
    names = LoadNames(replace(problem, processes=processes), plan)
    (load,) = plan.loads
    assert names.comes_up(load.id) == "load 1 in the canner comes up to pressure"


# --- what gives way ------------------------------------------------------------------

TWO_LIMITS = (
    (says("closed jars of jelly-1 wait"), 284),
    (says("Ada rests in time"), 499),
)


def test_ending_past_the_day_is_said_first_and_then_the_largest_limit(one_jelly):
    problem, plan, happened = one_jelly
    short = replace(problem, horizon_min=95)
    found = replan(short, plan, happened)
    told = replace(found, broken=TWO_LIMITS)
    assert told.sentence.startswith(
        "Done at 9:41, 25 min later, 6 min past the end of the day; "
    )
    assert told.sentence.endswith(
        " 2 limits give way, this one the most, by 8 h 19 min: Ada rests in time."
    )
    assert told.limits == ((ENDS_IN_TIME, 6), *reversed(TWO_LIMITS))
    one = replace(found, broken=TWO_LIMITS[:1])
    assert " This limit gives way by 4 h 44 min: closed jars of" in one.sentence
    assert one.limits == ((ENDS_IN_TIME, 6), TWO_LIMITS[0])


def test_the_end_of_the_day_alone_is_said_once(one_jelly):
    problem, plan, happened = one_jelly
    short = replace(problem, horizon_min=95)
    found = replan(short, plan, happened)
    assert "6 min past the end of the day" in found.sentence
    assert "gives way" not in found.sentence
    assert found.limits == ((ENDS_IN_TIME, 6),)
    assert found.gives_way == (("the day ends in time", 6),)
    in_time = replace(found, problem=problem)
    assert in_time.limits == ()
    assert "past the end" not in in_time.sentence


def test_the_old_order_put_off_past_the_day_says_that_as_well(one_jelly, monkeypatch):
    problem, plan, happened = one_jelly
    # as where the search finds nothing in its time
    monkeypatch.setattr(
        "stillroom.planning.second_thoughts.replan.solve_rest", lambda *_, **__: None
    )
    put_off = replan(replace(problem, horizon_min=95), plan, happened)
    assert put_off.made_by == PUT_OFF
    assert put_off.gives_way[0] == ("the day ends in time", 6)
    assert gives_way_min(put_off) == 6
    assert "6 min past the end of the day" in put_off.sentence


def test_where_nothing_moves_no_plan_is_missed(one_jelly, monkeypatch, capsys):
    problem, plan, happened = one_jelly
    monkeypatch.setattr(
        "stillroom.planning.second_thoughts.replan.solve_rest", lambda *_, **__: None
    )
    as_it_was = replan(problem, plan, as_planned(problem, plan, 5))
    assert (as_it_was.made_by, as_it_was.moves) == (PUT_OFF, ())
    print_replanned(as_it_was)
    assert "No plan was found" not in capsys.readouterr().out
    print_replanned(replan(problem, plan, happened))
    assert "No plan was found" in capsys.readouterr().out


def test_limits_that_are_no_matter_of_minutes_say_one_of_them(one_jelly):
    problem, plan, happened = one_jelly
    found = replan(problem, plan, happened)
    told = replace(
        found, broken=((says("load x is empty"), 0), (says("load y is empty"), 0))
    )
    assert told.sentence.endswith(
        " 2 limits give way, this one among them: load x is empty."
    )


def test_an_hour_and_more_is_said_in_hours(one_jelly):
    problem, plan, happened = one_jelly
    found = replan(problem, plan, happened)
    told = replace(found, longer_min={"Ada": 564}, promised_min=11)
    assert told.sentence.startswith("Done at 9:41, 1 h 30 min later; ")
    assert told.sentence.endswith(" Ada stays 9 h 24 min longer.")
    far = Move(what="a", was_min=0, is_min=540, was_by="Ada", is_by="Ada")
    assert "1 step moves by 9 h." in replace(found, moves=(far,), open_steps=9).sentence
    assert "up to 9 h" in replace(found, moves=(far,), open_steps=1).sentence


# --- leaving a batch out --------------------------------------------------------------


def test_a_batch_is_left_out_only_of_a_day_that_is_worse_and_has_one_to_leave():
    problem = day(jelly("jelly-1"), jelly("jelly-2"), wants=BY_80)
    plan = plan_day(problem, seconds=1).timetable
    found = replan(problem, plan, as_planned(problem, plan, 1))
    assert found.is_too_much  # a promise is late, and was so before
    assert not found.may_leave_out
    for worse in (
        replace(found, new=plan.moved(10)),
        replace(found, broken=((says("closed jars wait"), 3),)),
        replace(found, longer_min={"p1": 5}),
    ):
        assert worse.may_leave_out
        alone = replace(problem, batches=problem.batches[:1])
        assert not replace(worse, problem=alone).may_leave_out
        # at the end of the day all is in its jars, and nothing can be left out
        over = as_planned(problem, plan, plan.finish_min)
        assert not replace(worse, happened=over).may_leave_out
    roomy = replace(problem, wants=())
    assert not replace(found, new=plan.moved(10), problem=roomy).may_leave_out


def test_a_promise_that_comes_sooner_than_it_did_is_said_too(one_jelly):
    problem, plan, _ = one_jelly
    late = replace(problem, wants=(Want(product="jelly", by_min=70),))
    found = replan(late, plan, as_planned(late, plan, 1))
    assert found.promises[0].was_late_min == 6
    told = replace(found, old=plan.moved(4)).sentence
    assert "; jelly, wanted by 9:10, comes 6 min late, 4 min less than before; " in told
    told = replace(found, old=plan.moved(4), new=plan.moved(-6)).sentence
    assert "; jelly is there by 9:10; " in told
    assert "jelly" not in found.sentence
    # of goods of which some are not made it is not said that they are there
    out = (LackingJars(product="jelly", jars=2, by_min=70),)
    less = replace(found, old=plan.moved(4), new=plan.moved(-6), not_made=out)
    assert "jelly is there" not in less.sentence
    assert "; 2 jars of jelly, wanted by 9:10, are not made; " in less.sentence


def test_what_gives_way_is_said_in_hours_of_the_clock_and_by_what_is_done(one_jelly):
    problem, plan, happened = one_jelly
    found = replan(problem, plan, happened)
    heat = says(StepOf("jelly-1", "heat_jars"), " of jelly-1")
    fill, skim = StepOf("jelly-1", "fill"), StepOf("jelly-1", "skim")
    raw = (
        (says(heat, " falls while p1 is away, ", Minute(60), " to ", Minute(75)), 0),
        (
            says(
                fill, " of jelly-1 starts 9 min after ", skim, "; at most 5 (it gels)"
            ),
            4,
        ),
        (says("61 jars cool on the counter at ", Minute(80), "; it has 60"), 0),
    )
    said = [what for what, _ in replace(found, broken=raw).gives_way]
    assert sorted(said) == [
        '"fill" of jelly-1 starts 9 min after "skim"; at most 5 (it gels)',
        '"heat_jars" of jelly-1 falls while p1 is away, 9:00 to 9:15',
        "61 jars cool on the counter at 9:20; it has 60",
    ]
