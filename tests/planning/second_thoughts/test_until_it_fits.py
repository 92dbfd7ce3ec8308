"""Who says when she goes is gone then, and what does not fit so is left out."""

from __future__ import annotations

import pytest

from stillroom.methods.step import Link, Skill
from stillroom.planning.begun.as_planned import as_planned
from stillroom.planning.begun.changes import Changes, with_changes
from stillroom.planning.begun.slipped import as_it_slipped
from stillroom.planning.plan import plan_day
from stillroom.planning.second_thoughts.replanned import Replanned
from stillroom.planning.second_thoughts.until_it_fits import (
    Fitted,
    harm_min,
    until_it_fits,
)
from stillroom.planning.timetable import Answer
from tests.planning.small_days import day, jelly, person, step

NOW, GOES = 20, 60


def fruit_first(name: str):
    """A jelly whose fruit is cut for half an hour before."""
    plain = jelly(name)
    cut = step("cut", 30, 4, skill=Skill.KNIFE)
    return jelly(
        name,
        steps=(cut, *plain.steps),
        links=(Link(before="cut", after="boil", at_most_min=60), *plain.links),
    )


@pytest.fixture(scope="module")
def four():
    """Four batches by two people, who are just done with them before the day ends."""
    problem = day(
        *(fruit_first(f"jelly-{n}") for n in (1, 2, 3, 4)),
        people=(person("Ada", leaves_min=260), person("Ben", leaves_min=260)),
        big_pots=2,
        horizon_min=260,
    )  # fmt: skip
    answer = plan_day(problem, seconds=3, deterministic=True)
    assert isinstance(answer, Answer)
    return problem, answer.timetable


def without_ben(problem, plan, missed=(), now=NOW) -> Fitted:
    found = until_it_fits(
        problem,
        plan,
        as_planned(problem, plan, now),
        Changes(leaves_min={"Ben": GOES}),
        missed=missed,
        seconds=4.0,
    )
    assert isinstance(found, Fitted)
    return found


def works_after(found: Replanned, who: str, minute: int) -> list[str]:
    late = [s.step for s in found.new.steps if s.person == who and s.end_min > minute]
    for load in found.new.loads:
        if load.lowered_by == who and load.lowered_min > minute:
            late.append(f"lower {load.id}")
        if load.lifted_by == who and load.out_min > minute:
            late.append(f"lift {load.id}")
    return late


def test_who_says_when_she_goes_is_gone_and_the_rest_fits(four):
    problem, plan = four
    out = without_ben(problem, plan)
    assert out.left_out
    found = out.found
    held = found.ends_first.get("Ben")
    assert works_after(found, "Ben", GOES if held is None else held.end_min) == []
    # nobody is kept at work in his place, and no food stands
    assert found.longer_min == {}
    assert found.new.finish_min <= problem.horizon_min
    assert found.standing == ()
    assert harm_min(found) == 0
    made = {name for load in found.new.loads for name, _ in load.jars}
    assert made == {b.id for b in problem.batches} - {*out.left_out}


def test_what_is_left_out_is_said_first_with_who_goes(four):
    problem, plan = four
    out = without_ben(problem, plan)
    which = " and ".join(f"{one.batch} (8 jars)" for one in out.found.left_out)
    assert {one.batch for one in out.found.left_out} == {*out.left_out}
    assert out.found.sentence.startswith(
        f"Ben goes at 9:00, and not all fits then. Left out: {which}. Done at "
    )


def test_what_is_wanted_most_is_kept(four):
    problem, plan = four
    happened = as_planned(problem, plan, NOW)
    untouched = [
        b.id
        for b in problem.batches
        if all((b.id, s.id) not in happened.begun for s in b.steps)
    ]
    for most in untouched:
        others = [b.id for b in problem.batches if b.id != most]
        assert most not in without_ben(problem, plan, missed=[most, *others]).left_out


def test_nothing_is_left_out_where_all_fits(four):
    problem, plan = four
    found = until_it_fits(
        problem,
        plan,
        as_planned(problem, plan, NOW),
        Changes(leaves_min={"Ben": plan.finish_min}),
        seconds=2.0,
    )
    assert isinstance(found, Fitted)
    assert found.left_out == ()
    assert found.found.left_out == ()


def test_what_is_cut_already_is_named_with_what_becomes_of_it(four):
    problem, plan = four
    boils = {s.batch: s.start_min for s in plan.steps if s.step == "boil"}
    first = min(boils.values())
    cut = [s for s in plan.steps if s.step == "cut" and s.end_min <= first]
    waiting = [s.batch for s in cut if boils[s.batch] > first]
    assert waiting
    now = first
    others = [b.id for b in problem.batches if b.id not in waiting]
    out = until_it_fits(
        problem,
        plan,
        as_planned(problem, plan, now),
        # he goes at once, and the knife waits with him: nothing but the pot is left
        Changes(leaves_min={"Ben": now, "Ada": now + 40}),
        missed=others,
        seconds=3.0,
    )
    assert isinstance(out, Fitted)
    named = [one for one in out.found.left_out if one.batch in waiting]
    assert named
    for one in named:
        assert '"cut"' in one.becomes
        assert "refrigerator within 2 h" in one.becomes


def test_who_has_said_so_before_is_not_asked_to_stay_either(four):
    problem, plan = four
    happened = as_planned(problem, plan, NOW)
    first = with_changes(problem, plan, happened, Changes(leaves_min={"Ben": GOES}))
    assert first.goes == {"Ben"}
    later = with_changes(first.problem, plan, happened, Changes())
    assert later.goes == {"Ben"}


def test_a_slip_alone_leaves_nothing_out(four):
    problem, plan = four
    slipped = as_it_slipped(problem, plan, NOW, {})
    found = until_it_fits(problem, plan, slipped, Changes(), seconds=1.0)
    assert isinstance(found, Fitted)
    assert found.left_out == ()
