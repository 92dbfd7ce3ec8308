"""What the judge says in minutes of the day, in the hours that a clock shows."""

from __future__ import annotations

from planning.small_days import canner, day, person, step
from planning.written_out import LID, at, batch, closed, fire, load, said

from stillroom.planning.answering import BrokenPlan
from stillroom.planning.problem import Burner, Window
from stillroom.planning.second_thoughts.limit_words import limit_words, not_together
from stillroom.planning.timetable import Timetable
from stillroom.planning.waits.load_names import LoadNames


def words(problem, steps, loads=()) -> list[str]:
    plan = Timetable(steps=tuple(steps), loads=tuple(loads), breaks=())
    names = LoadNames(problem, plan)
    return [limit_words(problem, names, one) for one in said(problem, steps, loads)]


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
        "p1 gives 6 quarters at minute 108 (7 min in all); load L1 waits"
    )
    no = not_together(problem, plan, broken, instead="say it otherwise")
    assert no.reason == (
        "what has happened does not go together for the planner: p1 gives 6 quarters "
        "at 9:48 (7 min in all); load 1 in the canner waits"
    )
    assert no.instead == "say it otherwise"
