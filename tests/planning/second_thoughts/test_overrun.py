"""An absence that something in hand ran on into is told: gone by, or begun later."""

from __future__ import annotations

import pytest
from planning.small_days import day, person, step, work
from planning.written_out import LID, at, closed, load

from stillroom.planning.happened import Happened
from stillroom.planning.second_thoughts.overrun import overruns, told_of_overruns
from stillroom.planning.second_thoughts.replan import replan
from stillroom.planning.timetable import Timetable

FEED = (20, 40)
MILLS = work("a", step("mill", 15, 3))
WASHES = work("b", step("wash", 10, 3))
DAY = day(MILLS, WASHES, people=(person("Ben", away=(FEED,)),))
PLAN = Timetable(
    steps=(at("a", "mill", 5, 20, "Ben"), at("b", "wash", 40, 50, "Ben")),
    loads=(),
    breaks=(),
)


def milled(until: int, *, now: int, since: int = 5) -> Happened:
    return Happened(
        now_min=now, steps=(at("a", "mill", since, until, "Ben"),), loads=()
    )


def told(happened: Happened, problem=DAY, plan=PLAN) -> list[str]:
    return [*told_of_overruns(problem, plan, happened)]


IS_NOT = (
    'Ben is not away 8:20 to 8:40: "mill" of a is in hand until 8:50. If Ben has still '
    "to go, say until when Ben is not here."
)
WAS_NOT = IS_NOT.replace("is not away", "was not away").replace("is in", "was in")
LATER = (
    'Ben goes at 8:30, not at 8:20, and is still to be back at 8:40: "mill" of a is '
    "in hand before."
)


@pytest.mark.parametrize(
    ("until", "now", "said"),
    [
        (20, 10, []),
        (30, 25, [LATER]),
        (30, 10, [LATER]),  # she expects that it will take so long
        (30, 30, []),  # she has gone by now
        (50, 25, [IS_NOT]),
        (50, 45, [IS_NOT]),
        (50, 50, [WAS_NOT]),
        (40, 25, [IS_NOT.replace("8:50", "8:40")]),
        (39, 25, [LATER.replace("8:30", "8:39")]),
        (40, 45, [WAS_NOT.replace("8:50", "8:40")]),  # till the minute of coming back
    ],
)
def test_who_is_not_away_or_goes_later_is_told(until, now, said) -> None:
    assert told(milled(until, now=now)) == said


def test_the_keeper_reads_it_with_the_rest_of_the_day() -> None:
    found = replan(DAY, PLAN, milled(50, now=25), seconds=0.5)
    assert found.sentence.endswith(f". {IS_NOT}")
    assert "away" not in replan(DAY, PLAN, milled(20, now=20), seconds=0.5).sentence


def test_what_was_begun_after_coming_back_sooner_is_no_overrun() -> None:
    """Back at 35 of an absence until 40: she was away."""
    assert told(milled(50, now=45, since=35)) == []
    both = (at("a", "mill", 5, 30, "Ben"), at("b", "wash", 30, 45, "Ben"))
    one_after_another = Happened(now_min=35, steps=both, loads=())
    (one,) = overruns(DAY, PLAN, one_after_another)
    assert (one.held.key, one.held.end_min, one.has_gone_by) == (
        ("b", "wash"),
        45,
        True,
    )
    after_a_pause = (both[0], at("b", "wash", 31, 45, "Ben"))
    assert (
        overruns(DAY, PLAN, Happened(now_min=35, steps=after_a_pause, loads=())) == []
    )


def test_what_the_plan_that_was_taken_over_had_known_of_is_told_once() -> None:
    until_50 = milled(50, now=55)
    taken = Timetable(steps=until_50.steps, loads=(), breaks=())
    assert told(until_50, plan=taken) == []
    assert told(milled(60, now=65), plan=taken) == []
    until_30 = Timetable(steps=milled(30, now=25).steps, loads=(), breaks=())
    assert told(milled(30, now=26), plan=until_30) == []
    assert told(until_50, plan=until_30) == [WAS_NOT]


def test_a_load_in_hand_is_named_as_the_kitchen_does() -> None:
    """Lifted late, at 95, by hands that were to be away from 90 on."""
    problem = day(closed("a"), people=(person("p1", away=((90, 96),)),))
    meant = load(30)
    late = load(30, lift_min=89, out_min=97)
    plan = Timetable(steps=(LID,), loads=(meant,), breaks=())
    happened = Happened(now_min=92, steps=(LID,), loads=(late,))
    assert told(happened, problem, plan) == [
        'p1 is not away 9:30 to 9:36: "lift load 1 out of the canner" is in hand '
        "until 9:37. If p1 has still to go, say until when p1 is not here."
    ]
