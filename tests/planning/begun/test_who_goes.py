"""Who says when she goes: what she ends first, and what others take over."""

from __future__ import annotations

from dataclasses import replace

from stillroom.methods.step import Skill
from stillroom.planning.begun.as_planned import as_planned
from stillroom.planning.begun.changes import Changed, Changes, with_changes
from stillroom.planning.begun.who_goes import TAKEN_OVER
from stillroom.planning.plan import plan_day
from stillroom.planning.second_thoughts.replan_changed import replan_changed
from stillroom.planning.timetable import Answer
from tests.planning.small_days import day, jelly, person

ALL_BUT_LIFT = frozenset({Skill.COLD, Skill.KNIFE, Skill.PAN})


def planned(*people):
    problem = day(jelly("jelly-1"), people=people)
    answer = plan_day(problem, seconds=1, deterministic=True)
    assert isinstance(answer, Answer)
    return problem, answer.timetable


def goes_at(problem, plan, now, minute, who="Ben") -> tuple[object, Changed]:
    happened = as_planned(problem, plan, now)
    found = with_changes(problem, plan, happened, Changes(leaves_min={who: minute}))
    assert isinstance(found, Changed)
    return happened, found


def begun_by(plan, who, now):
    return next(s for s in plan.steps if s.person == who and s.step == "boil")


def by_ben(problem, plan):
    """The same plan with the pan in Ben's hands."""
    steps = tuple(
        replace(s, person="Ben") if s.step not in ("wash_jars", "lid") else s
        for s in plan.steps
    )
    return problem, replace(plan, steps=steps)


def test_what_is_in_hand_is_ended_first_and_told():
    problem, plan = by_ben(*planned(person("Ada"), person("Ben")))
    boil = begun_by(plan, "Ben", 0)
    now = boil.start_min + 2
    happened, found = goes_at(problem, plan, now, now)
    assert found.ends_first["Ben"].end_min == boil.end_min
    ben = next(p for p in found.problem.people if p.id == "Ben")
    assert ben.leaves_min == boil.end_min
    told = replan_changed(found, happened, seconds=1.0, promised_min=plan.finish_min)
    assert '"boil" of jelly-1 is in hand before' in told.sentence
    assert "If somebody else takes that over, Ben can go sooner." in told.sentence


def test_the_rest_of_a_pan_goes_to_other_hands():
    problem, plan = by_ben(*planned(person("Ada"), person("Ben")))
    boil = begun_by(plan, "Ben", 0)
    happened, found = goes_at(problem, plan, boil.start_min + 2, boil.end_min)
    words = {s.id: s.same_hands for b in found.problem.batches for s in b.steps}
    assert words["boil"] == "pan"
    assert words["full_boil"] == words["skim"] == "pan" + TAKEN_OVER
    told = replan_changed(found, happened, seconds=1.0, promised_min=plan.finish_min)
    hands = {s.step: s.person for s in told.new.steps}
    assert hands["boil"] == "Ben"
    assert hands["full_boil"] == hands["skim"] == "Ada"
    assert told.longer_min == {}


def test_a_pan_that_she_ends_before_she_goes_stays_hers():
    problem, plan = by_ben(*planned(person("Ada"), person("Ben")))
    boil = begun_by(plan, "Ben", 0)
    _, found = goes_at(problem, plan, boil.start_min + 2, plan.finish_min + 60)
    words = {s.id: s.same_hands for b in found.problem.batches for s in b.steps}
    assert words["full_boil"] == "pan"


def test_only_who_alone_can_end_what_has_begun_may_be_asked_to_stay():
    people = person("Ada", skills=ALL_BUT_LIFT), person("Ben")
    problem, plan = planned(*people)
    boil = next(s for s in plan.steps if s.step == "boil")
    happened, found = goes_at(problem, plan, boil.start_min + 2, boil.end_min)
    assert found.goes == frozenset()  # nobody else lifts hot jars
    told = replan_changed(found, happened, seconds=1.0, promised_min=plan.finish_min)
    assert told.longer_min["Ben"] > 0
    # before anything has begun nobody is asked: the batch can be left out
    _, before = goes_at(problem, plan, 0, 10)
    assert before.goes == {"Ben"}
