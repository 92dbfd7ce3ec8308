"""What she is asked of a day that goes otherwise, and how what she types is read."""

from dataclasses import replace

import pytest

from stillroom.planning.begun.as_known import Known, Said, as_known
from stillroom.planning.daytime import clock_time
from stillroom.planning.hand.by_hand import by_hand
from stillroom.planning.problem import Problem
from stillroom.planning.timetable import PlacedStep, Timetable
from stillroom.refusal import Unreadable
from stillroom.running.again import Told
from stillroom.web.again_form import (
    RECENTLY_MIN,
    coming_fields,
    leaving_fields,
    read_told,
    under_way,
)
from tests.planning.small_days import butter, day, jelly, person


@pytest.fixture(scope="module")
def problem() -> Problem:
    people = (person("Ada"), person("Ben", arrives_min=90, leaves_min=240))
    return day(jelly("jelly-1"), butter("butter-1"), people=people)


@pytest.fixture(scope="module")
def table(problem: Problem) -> Timetable:
    found = by_hand(problem)
    assert found is not None
    return found


def known(problem: Problem, table: Timetable, now: int) -> Known:
    return as_known(problem, table, now, Said())


def told_of(fields: dict[str, list[str]], problem: Problem) -> Told:
    """What is read where no canner is to be lit."""
    return read_told(fields, problem, Timetable(steps=(), loads=(), breaks=()))


def cooking(problem: Problem, table: Timetable) -> PlacedStep:
    """A long step, and one that ends while it goes on."""
    return next(s for s in table.steps if s.step == "cook")


def test_what_runs_is_asked_first_and_what_is_long_over_not_at_all(problem, table):
    """Nobody said that it is over: twenty minutes long it may run still."""
    assert RECENTLY_MIN == 20
    last = max(table.steps, key=lambda s: s.end_min)
    for late, asked in ((RECENTLY_MIN - 1, True), (RECENTLY_MIN, False)):
        found = under_way(problem, table, known(problem, table, last.end_min + late))
        keys = {one.key: one for one in found}
        assert (f"{last.batch}|{last.step}" in keys) is asked
        assert all(one.over for one in found)
    one = cooking(problem, table)
    found = under_way(problem, table, known(problem, table, one.start_min + 1))
    assert found[0].key == f"{one.batch}|{one.step}"
    assert [each.over for each in found] == sorted(each.over for each in found)
    assert len({each.over for each in found}) == 2
    assert found[0].until == clock_time(problem.starts_at, one.end_min)


def test_she_is_asked_when_she_goes_while_she_is_there(problem):
    """Who stays to the end goes, by the form, when the day ends."""
    end = clock_time(problem.starts_at, problem.horizon_min)
    assert problem.people[0].leaves_min > problem.horizon_min
    ada, ben = leaving_fields(problem, 239)
    assert ada == ("leaves|Ada", "Ada", end)
    assert ben == ("leaves|Ben", "Ben", clock_time(problem.starts_at, 240))
    assert [person for _, person, _ in leaving_fields(problem, 240)] == ["Ada"]


def test_when_somebody_comes_is_told_of_who_was_not_there_yet(problem, table):
    """An hour of coming for who has worked already would be one of coming back."""
    now = 60
    begun = known(problem, table, now)
    of_ben = replace(begun.happened.steps[0], person="Ben")
    seen = replace(begun.happened, steps=(*begun.happened.steps, of_ben))
    alone = replace(
        begun.happened,
        steps=tuple(s for s in begun.happened.steps if s.person == "Ada"),
    )

    def fields(happened) -> list[tuple[str, str]]:
        found = coming_fields(problem, replace(begun, happened=happened))
        return [(person, hour) for _, person, hour in found]

    comes = clock_time(problem.starts_at, 90)
    assert fields(alone) == [("Ada", ""), ("Ben", comes)]
    assert fields(seen) == [("Ada", ""), ("Ben", "")]
    assert fields(replace(alone, steps=())) == [("Ada", ""), ("Ben", comes)]
    for late, people in ((239, ["Ada", "Ben"]), (240, ["Ada"])):
        there = fields(replace(alone, now_min=late))
        assert [person for person, _ in there] == people


@pytest.mark.parametrize(
    ("typed", "minutes"),
    [("25", 25), ("25 min", 25), ("1 h", 60), ("10 h", 600)],
)
def test_minutes_may_be_a_bare_number_and_ten_hours_at_most(problem, typed, minutes):
    told = told_of({"more|butter-1|cook": [typed]}, problem)
    assert told.more_min == {("butter-1", "cook"): minutes}


@pytest.mark.parametrize("typed", ["0", "601", "11 h", "soon"])
def test_minutes_that_cannot_be_are_told_beside_their_field(problem, typed):
    with pytest.raises(Unreadable) as told:
        told_of({"more|butter-1|cook": [typed]}, problem)
    assert [fault.key for fault in told.value.faults] == ["more|butter-1|cook"]


def test_of_a_field_sent_twice_the_last_counts_and_a_batch_is_dropped_once(problem):
    """The form has a field of its own under the one that is typed into."""
    told = told_of(
        {"leaves|Ada": ["", "11:00"], "drop": ["jelly-1", "jelly-1"]}, problem
    )
    eleven = next(
        minute
        for minute in range(problem.horizon_min)
        if clock_time(problem.starts_at, minute) == "11:00"
    )
    assert told.changes.leaves_min == {"Ada": eleven}
    assert told.changes.dropped == ("jelly-1",)


def test_what_the_day_does_not_have_is_left_alone(problem):
    """A page of before the plan was exchanged names steps and people that were."""
    told = told_of(
        {
            "more|butter-9|cook": ["soon"],
            "leaves|Cleo": ["when she likes"],
            "not-begun": ["butter-9|cook", "butter-1|cook"],
            "broken": ["kettle", "canner"],
        },
        problem,
    )
    assert told.more_min == {}
    assert told.changes.leaves_min == {}
    assert told.not_begun == {("butter-1", "cook")}
    assert told.changes.broken == ("canner",)


def test_an_hour_of_a_break_is_read_and_what_names_no_minute_is_left_alone(problem):
    told = told_of(
        {
            "moves|Ada|200": ["11:00"],
            "moves|Ben|soon": ["11:00"],
            "moves|Cleo|200": ["11:00"],
            "moves|Ben|100": [""],
        },
        problem,
    )
    assert {*told.changes.moved_min} == {("Ada", 200)}
    at = told.changes.moved_min["Ada", 200]
    assert clock_time(problem.starts_at, at) == "11:00"


def lit(load, minute: int) -> Said:
    return Said(began_min={(load.id, "heat"): minute})


def test_a_canner_that_should_be_lit_is_asked_about(problem, table):
    """Said lit, it may be said not to be; unsaid, how long its water still needs."""
    load = min(table.loads, key=lambda load: load.lower_min)
    now = load.heat_min + 3
    of_canner = f"{load.id}|heat"

    def asked(said: Said):
        found = under_way(problem, table, as_known(problem, table, now, said))
        return next((one for one in found if one.key == of_canner), None)

    unsaid = asked(Said())
    assert unsaid is not None
    assert unsaid.unsaid
    assert unsaid.until == clock_time(problem.starts_at, load.lower_min)
    said = asked(lit(load, now - 1))
    assert said is not None
    assert not said.unsaid
    assert said.until == clock_time(
        problem.starts_at, now - 1 + load.lower_min - load.heat_min
    )
    fields = {"not-begun": [of_canner], f"more|{of_canner}": ["12"]}
    told = read_told(fields, problem, table)
    assert told.not_begun == {(load.id, "heat")}
    assert told.more_min == {(load.id, "heat"): 12}
    assert told_of(fields, problem) == Told()
