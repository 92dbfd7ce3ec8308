"""A break, or the feed at ten, at another hour of a day that has begun."""

from __future__ import annotations

from dataclasses import replace

import pytest

from stillroom.planning.begun.as_planned import as_planned
from stillroom.planning.begun.changes import Changes, with_changes
from stillroom.planning.begun.moved_rests import ToCome, to_come
from stillroom.planning.judge.check import violations
from stillroom.planning.problem import Break
from stillroom.planning.second_thoughts.replan_changed import replan_changed
from stillroom.refusal import Refusal
from tests.planning.second_thoughts.test_absences import spans, two_steps
from tests.planning.small_days import person

FEED = (50, 70)
REST = Break(duration_min=15, earliest_min=100, latest_start_min=200)


def moved(problem, plan, now, moves, **more):
    happened = as_planned(problem, plan, now)
    changes = Changes(moved_min=moves, **more)
    changed = with_changes(problem, plan, happened, changes)
    if isinstance(changed, Refusal):
        return changed
    found = replan_changed(changed, happened, seconds=1.5, promised_min=plan.finish_min)
    assert violations(found.problem, found.new) == ()
    return found


def test_an_absence_to_come_is_at_its_new_hour_and_work_goes_round_it():
    """Long 0 to 40, away 50 to 70, short 70 to 90: with the feed at 60, 40 to 60."""
    problem, plan = two_steps(person("Ada", away=(FEED,)))
    assert plan.finish_min == 90
    found = moved(problem, plan, 10, {("Ada", 50): 60})
    assert found.problem.people[0].away == ((60, 80),)
    assert spans(found, "Ada") == [(0, 40), (40, 60)]
    assert found.later_min == -30


def test_what_is_in_hand_then_is_ended_first():
    problem, plan = two_steps(person("Ada", away=(FEED,)))
    found = moved(problem, plan, 10, {("Ada", 50): 30})
    assert found.problem.people[0].away == ((40, 60),)
    assert spans(found, "Ada") == [(0, 40), (60, 80)]


def test_a_break_to_come_begins_at_its_new_hour():
    problem, plan = two_steps(person("Ada", breaks=(REST,)))
    (rest,) = plan.breaks
    found = moved(problem, plan, 10, {("Ada", rest.start_min): 40})
    assert [(r.start_min, r.end_min) for r in found.new.breaks] == [(40, 55)]
    assert spans(found, "Ada") == [(0, 40), (55, 75)]
    (now,) = found.problem.people[0].breaks
    assert (now.earliest_min, now.latest_start_min, now.duration_min) == (40, 40, 15)


def test_of_two_breaks_of_one_length_the_one_that_is_named_is_moved():
    later = replace(REST, earliest_min=300, latest_start_min=320)
    problem, plan = two_steps(person("Ada", breaks=(REST, later)))
    first, second = sorted(plan.breaks, key=lambda r: r.start_min)
    found = moved(problem, plan, 10, {("Ada", second.start_min): 400})
    starts = sorted(r.start_min for r in found.new.breaks)
    assert starts == [first.start_min, 400]
    assert found.problem.people[0].breaks[0] == REST


def test_two_are_moved_at_once_and_what_is_moved_stays_moved():
    problem, plan = two_steps(person("Ada", away=(FEED,), breaks=(REST,)))
    (rest,) = plan.breaks
    moves = {("Ada", 50): 200, ("Ada", rest.start_min): 300}
    found = moved(problem, plan, 10, moves)
    assert found.problem.people[0].away == ((200, 220),)
    assert [r.start_min for r in found.new.breaks] == [300]
    happened = as_planned(problem, plan, 10)
    same = with_changes(found.problem, found.new, happened, Changes(moved_min=moves))
    assert not isinstance(same, Refusal)
    assert same.problem == found.problem
    assert same.plan == found.new


def test_what_has_begun_or_is_another_hour_is_not_to_come():
    problem, plan = two_steps(person("Ada", away=(FEED,), breaks=(REST,)))
    (rest,) = plan.breaks
    feed = ToCome(person="Ada", start_min=50, end_min=70, is_break=False)
    meal = ToCome(
        person="Ada", start_min=rest.start_min, end_min=rest.end_min, is_break=True
    )
    for now, there in (
        (10, (feed, meal)),
        (50, (meal,)),
        (rest.start_min, ()),
    ):
        assert to_come(problem, plan, as_planned(problem, plan, now)) == there
    unchanged = moved(problem, plan, 10, {("Ada", 51): 300})
    assert unchanged.problem.people == problem.people


@pytest.mark.parametrize(
    ("at", "why"),
    [
        (5, "Ada's 20 min cannot begin at 8:05: it is 8:10 now"),
        (185, "Ada's 20 min cannot begin at 11:05: Ada is there 8:00 to 11:20"),
    ],
)
def test_an_hour_that_is_past_or_after_she_has_left_is_refused(at, why):
    problem, plan = two_steps(person("Ada", away=(FEED,), leaves_min=200))
    no = moved(problem, plan, 10, {("Ada", 50): at})
    assert isinstance(no, Refusal)
    assert no.reason == why
    assert not isinstance(moved(problem, plan, 10, {("Ada", 50): 180}), Refusal)


# --- two of one person ----------------------------------------------------------------


def two_to_come():
    """Away 8:50 to 9:10, and a rest of 15 min between 9:40 and 11:20."""
    return two_steps(person("Ada", away=(FEED,), breaks=(REST,)))


@pytest.mark.parametrize(
    ("feed", "rest", "refused"),
    [(300, 300, True), (300, 319, True), (300, 320, False), (300, 285, False),
     (300, 286, True)],
)  # fmt: skip
def test_two_of_one_person_are_not_put_on_one_hour(feed, rest, refused):
    problem, plan = two_to_come()
    (meal,) = plan.breaks
    moves = {("Ada", 50): feed, ("Ada", meal.start_min): rest}
    found = moved(problem, plan, 10, moves)
    assert isinstance(found, Refusal) is refused


def test_what_came_and_what_to_do_instead_is_said():
    problem, plan = two_to_come()
    (meal,) = plan.breaks
    no = moved(problem, plan, 10, {("Ada", 50): 300, ("Ada", meal.start_min): 310})
    assert isinstance(no, Refusal)
    assert no.reason == (
        "Ada cannot have both at once: the break 13:10 to 13:25, as it is moved, and "
        "the absence 13:00 to 13:20, as it is moved too"
    )
    assert no.instead == (
        "begin the break at 13:20 or later, when the other is over; or leave one of "
        "them where it was"
    )


def test_a_break_is_not_put_into_an_absence_that_stays():
    problem, plan = two_to_come()
    (meal,) = plan.breaks
    no = moved(problem, plan, 10, {("Ada", meal.start_min): 60})
    assert isinstance(no, Refusal)
    assert "and the absence 8:50 to 9:10" in no.reason
    assert no.reason.endswith("9:10")
    assert no.instead.startswith("begin the break at 9:10 or later")
    assert no.instead.endswith("put that absence at another hour as well")


def test_an_absence_is_put_onto_a_break_that_can_be_had_at_another_hour():
    """Not onto one that somebody has given its hour."""
    problem, plan = two_to_come()
    (meal,) = plan.breaks
    onto_it = {("Ada", 50): meal.start_min}
    found = moved(problem, plan, 10, onto_it)
    assert not isinstance(found, Refusal)
    at_its_hour = replace(
        REST, earliest_min=meal.start_min, latest_start_min=meal.start_min
    )
    (ada,) = problem.people
    given = replace(problem, people=(replace(ada, breaks=(at_its_hour,)),))
    assert isinstance(moved(given, plan, 10, onto_it), Refusal)


def test_nothing_is_put_into_a_rest_that_runs():
    problem, plan = two_steps(person("Ada", away=((300, 320),), breaks=(REST,)))
    (meal,) = plan.breaks
    now = meal.start_min + 1
    for at, refused in ((now + 1, True), (meal.end_min, False)):
        found = moved(problem, plan, now, {("Ada", 300): at})
        assert isinstance(found, Refusal) is refused


def test_what_is_in_hand_puts_both_behind_it_and_so_at_one_hour():
    """The long step lasts until 40: put at 15 and at 25 both would begin then."""
    problem, plan = two_to_come()
    (meal,) = plan.breaks
    moves = {("Ada", 50): 20, ("Ada", meal.start_min): 15}
    no = moved(problem, plan, 10, moves)
    assert isinstance(no, Refusal)
    assert "the break 8:40 to 8:55" in no.reason
    assert "the absence 8:40 to 9:00" in no.reason


def test_two_people_may_be_away_at_once():
    problem, plan = two_steps(
        person("Ada", away=(FEED,)), person("Ben", away=((100, 120),))
    )
    found = moved(problem, plan, 10, {("Ada", 50): 200, ("Ben", 100): 200})
    assert not isinstance(found, Refusal)


def test_one_is_put_where_another_was_that_is_moved_on():
    """Of one length, the first to the hour of the second, that to a later one."""
    second = replace(REST, earliest_min=300, latest_start_min=300)
    first = replace(REST, earliest_min=100, latest_start_min=100)
    for one in ({"breaks": (first, second)}, {"away": ((100, 115), (300, 315))}):
        problem, plan = two_steps(person("Ada", **one))
        found = moved(problem, plan, 10, {("Ada", 100): 300, ("Ada", 300): 400})
        assert not isinstance(found, Refusal)
        assert sorted(r.start_min for r in found.new.breaks) == (
            [300, 400] if "breaks" in one else []
        )
        (ada,) = found.problem.people
        assert sorted(ada.away) == ([(300, 315), (400, 415)] if "away" in one else [])
