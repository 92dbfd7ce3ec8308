"""Whose rest the old order puts off, and by how much."""

from __future__ import annotations

import pytest
from planning.judged_again import plainly
from planning.small_days import day, person

from stillroom.planning.happened import Happened
from stillroom.planning.problem import Break, Person
from stillroom.planning.second_thoughts.put_off_breaks import what_gives_way
from stillroom.planning.timetable import PlacedBreak, Timetable


def meant(latest: int, minutes: int = 15) -> Break:
    return Break(
        duration_min=minutes, earliest_min=latest - 20, latest_start_min=latest
    )


def rest(who: str, start: int, minutes: int = 15) -> PlacedBreak:
    return PlacedBreak(person=who, start_min=start, end_min=start + minutes)


ADA, BEN = "the hour by which Ada rests", "the hour by which Ben rests"


@pytest.mark.parametrize(
    ("ada", "ben", "broken"),
    [
        (120, 220, ()),
        (130, 210, ((ADA, 10),)),
        (110, 225, ((BEN, 5),)),
        (121, 240, ((BEN, 20), (ADA, 1))),
    ],
)
def test_each_rests_by_an_hour_of_their_own(
    ada: int, ben: int, broken: tuple[tuple[str, int], ...]
) -> None:
    """Ada is to rest by 120 and Ben by 220."""
    people = (
        person("Ada", breaks=(meant(120),)),
        person("Ben", breaks=(meant(220),)),
    )
    plan = Timetable(steps=(), loads=(), breaks=(rest("Ada", ada), rest("Ben", ben)))
    found = what_gives_way(
        day(people=people), Happened(now_min=60, steps=(), loads=()), plan, ()
    )
    assert plainly(found.broken) == broken
    assert found.workable


@pytest.mark.parametrize(("second", "late"), [(220, 0), (221, 1), (250, 30)])
def test_of_two_rests_the_one_that_was_had_is_late_no_more(
    second: int, late: int
) -> None:
    """The first, by 120, was begun at 170: that is past. The second is due by 220."""
    people = (person("Ada", breaks=(meant(220), meant(120))),)
    assert put_off(people, [rest("Ada", 170)], [rest("Ada", second)]) == late


def test_the_rest_that_was_had_is_the_one_of_its_length() -> None:
    """The long one, of the afternoon, was had at 60: the short one is due by 120."""
    people = (person("Ada", breaks=(meant(120), meant(220, 30))),)
    assert put_off(people, [rest("Ada", 60, 30)], [rest("Ada", 150)]) == 30
    assert put_off(people, [rest("Ada", 60, 15)], [rest("Ada", 150, 30)]) == 0


def test_rests_are_had_one_after_another_and_the_first_may_fall_away() -> None:
    people = (person("Ada", breaks=(meant(220), meant(120))),)
    assert put_off(people, [], [rest("Ada", 210), rest("Ada", 130)]) == 10
    assert put_off(people, [], [rest("Ada", 210)]) == 0
    assert put_off(people, [], [rest("Ada", 223)]) == 3


def put_off(
    people: tuple[Person, ...], had: list[PlacedBreak], later: list[PlacedBreak]
) -> int:
    """Minutes by which Ada rests late, told when what was had is over."""
    plan = Timetable(steps=(), loads=(), breaks=(*had, *later))
    now = max((r.end_min for r in had), default=100)
    happened = Happened(now_min=now, steps=(), loads=(), breaks=tuple(had))
    broken = what_gives_way(day(people=people), happened, plan, ()).broken
    return dict(plainly(broken)).get(ADA, 0)
