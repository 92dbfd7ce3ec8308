"""Who comes at another hour than was meant, or goes and comes back."""

from dataclasses import replace

import pytest

from stillroom.methods.step import Skill
from stillroom.planning.begun.absences import breaks_asked
from stillroom.planning.begun.as_planned import as_planned
from stillroom.planning.begun.changes import Changes, with_changes
from stillroom.planning.begun.handed_on import handed_on
from stillroom.planning.begun.put_off import put_off, timetable_put_off
from stillroom.planning.happened import Happened
from stillroom.planning.judge.check import violations
from stillroom.planning.plan import plan_day
from stillroom.planning.problem import Break
from stillroom.planning.second_thoughts.replan_changed import replan_changed
from stillroom.planning.timetable import Answer
from stillroom.refusal import Refusal
from tests.planning.small_days import Link, day, jelly, person, step


def planned(problem):
    answer = plan_day(problem, seconds=1, deterministic=True)
    assert isinstance(answer, Answer)
    return answer.timetable


def two_steps(*people):
    """Forty minutes of work and then twenty, for whoever is there."""
    made = jelly(
        "tidy", steps=(step("long", 40, 3), step("short", 20, 3)),
        links=(Link(before="long", after="short"),), pots=(), process=None,
        ready_after="short",
    )  # fmt: skip
    problem = day(made, people=people)
    return problem, planned(problem)


def again(problem, plan, now, **given):
    happened = as_planned(problem, plan, now)
    changed = with_changes(problem, plan, happened, Changes(**given))
    assert not isinstance(changed, Refusal), changed
    return replan_changed(changed, happened, seconds=1.5, promised_min=plan.finish_min)


def spans(found, who):
    return [(s.start_min, s.end_min) for s in found.new.steps if s.person == who]


def test_who_goes_for_an_hour_ends_what_she_has_in_hand_and_then_goes():
    # alone, in the long step from 0 to 40; back at 100: the short one waits until then
    problem, plan = two_steps(person("Ada"))
    found = again(problem, plan, 10, back_min={"Ada": 100})
    assert spans(found, "Ada") == [(0, 40), (100, 120)]
    assert found.problem.people[0].away == ((40, 100),)
    assert found.later_min == 60


def test_who_is_back_before_she_has_ended_what_she_has_in_hand_was_not_gone():
    problem, plan = two_steps(person("Ada"))
    found = again(problem, plan, 10, back_min={"Ada": 30})
    assert spans(found, "Ada") == [(0, 40), (40, 60)]
    assert found.problem.people[0].away == ()


def test_what_she_was_to_do_meanwhile_another_does():
    problem, plan = two_steps(person("Ada"), person("Ben"))
    (who,) = {s.person for s in plan.steps if s.step == "long"}
    other = "Ben" if who == "Ada" else "Ada"
    found = again(problem, plan, 10, back_min={who: 100})
    assert found.later_min == 0
    assert spans(found, other) == [(40, 60)]


def test_who_is_to_come_comes_later_and_her_work_waits_for_her():
    pans = jelly("pans", steps=(step("fill", 20, 3, skill=Skill.PAN),), links=(),
                 pots=(), process=None, ready_after="fill")  # fmt: skip
    ben = person("Ben", arrives_min=30)
    child = replace(person("Kit"), skills=frozenset({Skill.COLD}))
    problem = day(pans, people=(child, ben))
    plan = planned(problem)
    assert [(s.person, s.start_min) for s in plan.steps] == [("Ben", 30)]
    later = again(problem, plan, 10, back_min={"Ben": 50})
    assert spans(later, "Ben") == [(50, 70)]
    assert (later.problem.people[1].arrives_min, later.later_min) == (50, 20)


def test_who_comes_sooner_is_there_sooner_and_what_was_promised_stays_where_it_was():
    problem, plan = two_steps(person("Ada", arrives_min=30))
    sooner = again(problem, plan, 10, back_min={"Ada": 15})
    assert sooner.problem.people[0].arrives_min == 15
    assert sooner.later_min <= 0


def test_an_hour_that_is_past_is_no_hour_of_coming():
    problem, plan = two_steps(person("Ada"))
    happened = as_planned(problem, plan, 10)
    no = with_changes(problem, plan, happened, Changes(back_min={"Ada": 5}))
    assert isinstance(no, Refusal)
    assert "Ada cannot come at 8:05: it is 8:10 now" in no.reason


@pytest.mark.parametrize(
    ("earliest", "latest", "kept"),
    [(45, 60, 0), (45, 95, 1), (100, 130, 1)],  # away from 40 to 90
)
def test_a_break_that_can_only_fall_while_she_is_away_is_not_asked_for(
    earliest, latest, kept
):
    rest = Break(duration_min=15, earliest_min=earliest, latest_start_min=latest)
    problem, plan = two_steps(person("Ada", breaks=(rest,)))
    found = again(problem, plan, 10, back_min={"Ada": 90})
    assert len(found.problem.people[0].breaks) == kept
    assert len(found.new.breaks) == kept
    assert all(r.start_min >= 90 for r in found.new.breaks)


def test_a_break_that_was_had_stays_had():
    rest = Break(duration_min=15, earliest_min=0, latest_start_min=0)
    problem, plan = two_steps(person("Ada", breaks=(rest,)))
    (had,) = plan.breaks
    found = again(problem, plan, had.end_min + 5, back_min={"Ada": 200})
    assert found.new.breaks == (had,)


def test_an_absence_is_not_put_off_with_what_waits_for_her():
    """Two loads, the second on its clock; back four hours later she lifts it."""
    problem = day(jelly("a"), jelly("b"), people=(person("Ada"),))
    plan = planned(problem)
    last = max(plan.loads, key=lambda load: load.boil_min)
    now = last.boil_min + 1
    happened = as_planned(problem, plan, now)
    changed = with_changes(
        problem, plan, happened, Changes(back_min={"Ada": now + 240})
    )
    start = handed_on(changed.problem, changed.plan, happened)
    new = timetable_put_off(start, happened, put_off(changed.problem, start, happened))
    (lifted,) = (load.lift_min for load in new.loads if load.id == last.id)
    assert lifted == now + 240


def test_a_load_that_waits_for_her_is_lifted_before_she_goes():
    problem = day(jelly("a"), people=(person("Ada"),))
    plan = planned(problem)
    (load,) = plan.loads
    found = again(problem, plan, load.lift_min, back_min={"Ada": load.lift_min + 240})
    assert found.new.loads[0].lift_min == load.lift_min
    assert found.problem.people[0].away == ((load.out_min, load.lift_min + 240),)


def test_the_plan_keeps_out_of_every_absence_that_follows():
    """Out of the one that was said into the one of the day, and out of that."""
    problem, plan = two_steps(person("Ada", away=((75, 90),)))
    found = again(problem, plan, 10, back_min={"Ada": 60})
    assert spans(found, "Ada") == [(0, 40), (90, 110)]
    assert violations(found.problem, found.new) == ()


def test_breaks_that_are_not_asked_for_any_more_leave_the_plan():
    rest = Break(duration_min=15, earliest_min=45, latest_start_min=60)
    problem, plan = two_steps(person("Ada", breaks=(rest,)))
    happened = as_planned(problem, plan, 10)
    changed = with_changes(problem, plan, happened, Changes(back_min={"Ada": 90}))
    assert len(breaks_asked(problem, plan, happened)) == 1
    assert breaks_asked(changed.problem, plan, happened) == ()


def start_and_put_off(problem, plan, now, **given):
    """Where the search begins, and the old order put off from there."""
    happened = as_planned(problem, plan, now)
    changed = with_changes(problem, plan, happened, Changes(**given))
    start = handed_on(changed.problem, changed.plan, happened)
    later = put_off(changed.problem, start, happened)
    return start, timetable_put_off(start, happened, later)


def test_what_was_to_come_right_as_she_goes_waits_behind_the_absence_once():
    """The short step begins at the minute at which she is gone: 40, and back at 100."""
    problem, plan = two_steps(person("Ada"))
    _, new = start_and_put_off(problem, plan, 10, back_min={"Ada": 100})
    assert [(s.start_min, s.end_min) for s in new.steps] == [(0, 40), (100, 120)]


def test_in_the_old_order_put_off_nobody_works_before_they_come():
    problem, plan = two_steps(person("Ada", arrives_min=30))
    _, new = start_and_put_off(problem, plan, 10, back_min={"Ada": 70})
    assert [(s.start_min, s.end_min) for s in new.steps] == [(70, 110), (110, 130)]


@pytest.mark.parametrize(
    ("bens_hours", "hands_it_on"),
    [({}, True), ({"away": ((45, 50),)}, False), ({"leaves_min": 55}, False)],
)
def test_the_search_begins_with_her_work_in_hands_that_are_there_for_all_of_it(
    bens_hours, hands_it_on
):
    """Ada has the step from 40 to 60, and is not back before 100."""
    problem, plan = two_steps(person("Ada"), person("Ben", **bens_hours))
    plan = replace(plan, steps=tuple(replace(s, person="Ada") for s in plan.steps))
    start, _ = start_and_put_off(problem, plan, 10, back_min={"Ada": 100})
    whose = {s.step: s.person for s in start.steps}
    assert whose == {"long": "Ada", "short": "Ben" if hands_it_on else "Ada"}


@pytest.mark.parametrize(
    ("ended", "spans_then"),
    [
        (50, [(50, 70), (90, 100)]),  # the short one fits before she goes at 75
        (55, [(55, 75), (90, 100)]),
        (60, [(90, 110), (110, 120)]),  # it does not: both wait, in their order
        (80, [(90, 110), (110, 120)]),  # she is gone already when the long one ends
    ],
)
def test_an_absence_of_the_day_stays_where_it_is_whatever_slips(ended, spans_then):
    made = jelly(
        "tidy", steps=(step("long", 40, 3), step("short", 20, 3), step("last", 10, 3)),
        links=(
            Link(before="long", after="short"), Link(before="short", after="last"),
        ), pots=(), process=None, ready_after="last",
    )  # fmt: skip
    problem = day(made, people=(person("Ada", away=((75, 90),)),))
    old = planned(problem)
    in_order = sorted(old.steps, key=lambda s: s.start_min)
    plan = replace(
        old,
        steps=tuple(
            replace(s, start_min=at, end_min=at + s.end_min - s.start_min)
            for s, at in zip(in_order, (0, 40, 90), strict=True)
        ),
    )
    so_long = replace(in_order[0], start_min=0, end_min=ended)
    happened = Happened(now_min=min(ended, 74), steps=(so_long,), loads=())
    new = timetable_put_off(plan, happened, put_off(problem, plan, happened))
    then = sorted((s.start_min, s.end_min) for s in new.steps if s.step != "long")
    assert then == spans_then


@pytest.mark.parametrize(
    ("now", "begun", "spans_then"),
    [
        # what goes on at once waits whole, though only its end would fall into it
        (52, (), [(90, 110), (110, 120)]),
        # begun before, its second half waits all the same: she is not there
        (56, ((40, 70),), [(40, 70), (90, 100)]),
    ],
)
def test_what_goes_on_at_once_is_clear_of_the_absence_as_one(now, begun, spans_then):
    made = jelly(
        "tidy", steps=(step("boil", 20, 3), step("fill", 10, 3)),
        links=(Link(before="boil", after="fill", at_most_min=0),),
        pots=(), process=None, ready_after="fill",
    )  # fmt: skip
    problem = day(made, people=(person("Ada", away=((75, 90),)),))
    old = planned(problem)
    first, second = sorted(old.steps, key=lambda s: s.start_min)
    plan = replace(
        old,
        steps=(
            replace(first, start_min=40, end_min=60),
            replace(second, start_min=60, end_min=70),
        ),
    )
    steps = tuple(replace(first, start_min=at, end_min=end) for at, end in begun)
    happened = Happened(now_min=now, steps=steps, loads=())
    new = timetable_put_off(plan, happened, put_off(problem, plan, happened))
    assert sorted((s.start_min, s.end_min) for s in new.steps) == spans_then
