"""
The judge on rests where some of the day has begun.

A rest stands as it was taken, and counts for one that was asked for. What is left is
taken in its window; where that is past, later; where it no longer fits, not at all.
"""

from __future__ import annotations

import pytest
from planning.small_days import day, person
from planning.written_out import Part, said_again

from stillroom.planning.problem import Break
from stillroom.planning.timetable import PlacedBreak


def asked(minutes: int, earliest: int, latest: int) -> Break:
    return Break(duration_min=minutes, earliest_min=earliest, latest_start_min=latest)


def rest(start: int, minutes: int, who: str = "p1") -> PlacedBreak:
    return PlacedBreak(person=who, start_min=start, end_min=start + minutes)


def said(
    breaks: tuple[Break, ...],
    now: int,
    taken: tuple[PlacedBreak, ...] = (),
    later: tuple[PlacedBreak, ...] = (),
    leaves: int = 960,
    **given: object,
) -> tuple[str, ...]:
    """What is said of the rests of p1, beside p2 who is asked to take none."""
    people = (person("p1", breaks=breaks, leaves_min=leaves), person("p2"))
    return said_again(
        day(people=people), now, Part(breaks=taken), Part(breaks=later), **given
    )


TWENTY = asked(20, 100, 120)


def test_a_rest_to_come_is_taken_in_its_window() -> None:
    assert said((TWENTY,), 50, later=(rest(100, 20),)) == ()
    assert said((TWENTY,), 50, later=(rest(120, 20),)) == ()
    answer = (
        "a break of p1 lies outside its window: "
        "20 min starting minute 100 to minute 120"
    )
    for start in (99, 121):
        assert said((TWENTY,), 50, later=(rest(start, 20),)) == (answer,)


def test_a_rest_to_come_is_not_forgotten() -> None:
    assert said((TWENTY,), 50) == ("p1 has 0 breaks planned and 1 asked for",)


def test_a_rest_stands_as_it_was_taken() -> None:
    # five minutes short and ten before its window: it is the one that was asked for
    assert said((TWENTY,), 130, taken=(rest(90, 15),)) == ()
    again = (rest(140, 20),)
    assert said((TWENTY,), 130, taken=(rest(90, 15),), later=again) == (
        "p1 has 2 breaks planned and 1 asked for",
    )


def test_of_two_rests_the_one_that_is_to_come_is_not_forgotten() -> None:
    both = (TWENTY, asked(20, 300, 320))
    taken = (rest(110, 20),)
    assert said(both, 150, taken=taken, later=(rest(310, 20),)) == ()
    assert said(both, 150, taken=taken) == ("p1 has 1 breaks planned and 2 asked for",)


def test_a_rest_that_nobody_asked_for_was_taken_all_the_same() -> None:
    assert said((), 30, taken=(rest(0, 10),)) == ()
    # nor is it taken for anybody else's
    two = (rest(0, 10, "p2"), rest(105, 20))
    assert said((TWENTY,), 150, taken=two) == ()


def test_a_rest_stands_for_the_one_that_is_most_like_it_in_length() -> None:
    # 28 min at 40: the half hour, taken early; the ten minutes are still to come
    both = (asked(10, 0, 90), asked(30, 100, 200))
    taken = (rest(40, 28),)
    assert said(both, 80, taken=taken, later=(rest(85, 10),)) == ()
    assert said(both, 80, taken=taken, later=(rest(150, 30),)) == (
        "a break of p1 lies outside its window: "
        "28 min starting minute 40 to minute 40; 10 min starting minute 0 to minute 90",
    )


def test_of_rests_of_one_length_the_earlier_is_taken_first() -> None:
    later_first = (asked(20, 300, 320), TWENTY)
    for both in (later_first, later_first[::-1]):
        taken = (rest(110, 20),)
        assert said(both, 150, taken=taken, later=(rest(310, 20),)) == ()
        assert len(said(both, 150, taken=taken, later=(rest(299, 20),))) == 1


def test_two_rests_that_were_taken_stand_for_two() -> None:
    three = (asked(20, 0, 0), asked(20, 50, 50), asked(20, 100, 100))
    taken = (rest(5, 20), rest(55, 20))
    assert said(three, 80, taken=taken, later=(rest(100, 20),)) == ()
    assert said(three, 80, taken=taken) == ("p1 has 2 breaks planned and 3 asked for",)


@pytest.mark.parametrize(
    ("now", "start", "holds"),
    [
        (120, 120, True),
        (120, 121, False),  # at 120 she can still begin it
        (121, 121, True),
        (121, 400, True),  # its window is past: whenever it can be had
    ],
)
def test_a_rest_whose_window_is_past_comes_later(
    now: int, start: int, holds: bool
) -> None:
    answer = (
        "a break of p1 lies outside its window: "
        "20 min starting minute 100 to minute 120"
    )
    found = said((TWENTY,), now, later=(rest(start, 20),))
    assert found == (() if holds else (answer,))


def test_a_rest_whose_window_is_past_is_still_as_long() -> None:
    assert said((TWENTY,), 121, later=(rest(200, 19),)) == (
        "a break of p1 lies outside its window: "
        "20 min starting minute 100 to minute 200",
    )


def test_a_rest_comes_late_where_it_is_said() -> None:
    late = (rest(121, 20),)
    assert said((TWENTY,), 50, later=late, rests_late=["p1"]) == ()
    assert len(said((TWENTY,), 50, later=late, rests_late=["p2"])) == 1
    # late, and not early
    assert len(said((TWENTY,), 50, later=(rest(99, 20),), rests_late=["p1"])) == 1


def test_a_rest_that_fits_no_more_before_she_leaves_falls_away() -> None:
    # 20 min of rest, and she leaves at 150: from 130 at the latest
    assert said((TWENTY,), 130, leaves=150, later=(rest(130, 20),)) == ()
    assert said((TWENTY,), 130, leaves=150) == (
        "p1 has 0 breaks planned and 1 asked for",
    )
    assert said((TWENTY,), 131, leaves=150) == ()
    assert said((TWENTY,), 131, leaves=150, later=(rest(131, 19),)) == (
        "p1 has 1 breaks planned and 0 asked for",
    )


def test_a_rest_that_never_fitted_falls_away_too() -> None:
    # from 100 on, and she leaves at 119: not even at once
    assert said((TWENTY,), 0, leaves=120) == (
        "p1 has 0 breaks planned and 1 asked for",
    )
    assert said((TWENTY,), 0, leaves=119) == ()


def test_a_rest_that_falls_away_takes_no_other_with_it() -> None:
    both = (TWENTY, asked(10, 100, 145))
    assert said(both, 131, leaves=150, later=(rest(140, 10),)) == ()
    assert said(both, 131, leaves=150) == ("p1 has 0 breaks planned and 1 asked for",)
