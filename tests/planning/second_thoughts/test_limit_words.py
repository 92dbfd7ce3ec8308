"""What the judge says in minutes of the day, in the hours that a clock shows."""

from __future__ import annotations

import pytest
from planning.small_days import canner, day, person, step
from planning.written_out import LID, at, batch, closed, fire, load

from stillroom.planning.answering import BrokenPlan
from stillroom.planning.judge.check import breaches
from stillroom.planning.problem import Break, Burner, Window
from stillroom.planning.second_thoughts.limit_words import limit_words, not_together
from stillroom.planning.spoken_of import Minute, TheLoad, says
from stillroom.planning.timetable import PlacedBreak, Timetable
from stillroom.planning.waits.load_names import LoadNames


def words(problem, steps=(), loads=(), breaks=()) -> list[str]:
    plan = Timetable(steps=tuple(steps), loads=tuple(loads), breaks=tuple(breaks))
    names = LoadNames(problem, plan)
    return [limit_words(problem, names, b.said) for b in breaches(problem, plan)]


def test_the_judges_minutes_are_hours() -> None:
    windows = (Window(step="burn", earliest_min=120, latest_min=140),)
    cooks = batch("a", step("burn", 10, 0), windows=windows)
    early, late = at("a", "burn", 108, 118), at("a", "burn", 150, 160)
    assert words(day(cooks), [early]) == [
        '"burn" of a starts at 9:48; not before 10:00'
    ]
    late_said = '"burn" of a starts at 10:30; at the latest 10:20'
    assert words(day(cooks), [late]) == [late_said]


def test_what_began_before_the_days_hour_began_before_it() -> None:
    windows = (Window(step="burn", earliest_min=0),)
    cooks = batch("a", step("burn", 10, 0), windows=windows)
    told = words(day(cooks), [at("a", "burn", -12, -2)])
    assert '"burn" of a starts at 7:48; not before 8:00' in told


def test_hands_and_fires_and_absences_are_told_by_the_clock() -> None:
    ada = person("Ada", away=((100, 120),))
    two = day(
        fire("a", 900.0),
        fire("b", 900.0),
        people=(ada,),
        burners=(Burner(id="left", power_w=1000.0),),
        canners=(canner(burners=("left",)),),
    )
    both = [
        at("a", "burn", 105, 115, "Ada", burner="left"),
        at("b", "burn", 108, 118, "Ada", burner="left"),
    ]
    told = words(two, both)
    assert "Ada gives 6 quarters at 9:48 (7 min in all); a person has 4" in told
    assert '"burn" of a falls while Ada is away, 9:40 to 10:00' in told
    assert not [one for one in told if "minute" in one]


def test_what_does_not_go_together_is_refused_in_the_keepers_words() -> None:
    problem = day(closed("a"))
    plan = Timetable(steps=(LID,), loads=(load(30),), breaks=())
    broken = BrokenPlan(
        says("p1 gives 6 quarters at ", Minute(108), " (7 min in all)"),
        says(TheLoad("L1"), " waits"),
    )
    no = not_together(problem, plan, broken, instead="say it otherwise")
    assert no.reason == (
        "what has happened does not go together for the planner: p1 gives 6 quarters "
        "at 9:48 (7 min in all); load 1 in the canner waits"
    )
    assert no.instead == "say it otherwise"


def test_a_break_out_of_its_window_is_told_by_the_clock() -> None:
    meant = Break(duration_min=15, earliest_min=100, latest_start_min=120)
    ada = person("Ada", breaks=(meant,))
    early = PlacedBreak(person="Ada", start_min=60, end_min=75)
    assert words(day(people=(ada,)), breaks=[early]) == [
        "a break of Ada lies outside its window: 15 min starting 9:40 to 10:00"
    ]


@pytest.mark.parametrize(
    "name",
    ["plum_jelly 1", "jelly at minute 108", "not before 7", "load L1", "jam after lid"],
)
def test_a_keepers_own_name_is_left_as_it_is_whatever_it_looks_like(name: str) -> None:
    """Of a sentence only what it speaks of is told otherwise, never a name in it."""
    windows = (Window(step="burn", earliest_min=120, why=f"not before {name}"),)
    cooks = batch(name, step("burn", 10, 0), windows=windows)
    assert words(day(cooks), [at(name, "burn", 108, 118)]) == [
        f'"burn" of {name} starts at 9:48; not before 10:00 (not before {name})'
    ]


def test_of_two_loads_the_one_is_named_whose_id_begins_like_the_other() -> None:
    one, twelfth = load(30), load(90, id="L12")
    plan = Timetable(steps=(LID,), loads=(one, twelfth), breaks=())
    said = says(TheLoad("L12"), " waits, ", TheLoad("L1"), " is out")
    names = LoadNames(day(closed("a")), plan)
    assert limit_words(day(closed("a")), names, said) == (
        "load 2 in the canner waits, load 1 in the canner is out"
    )
