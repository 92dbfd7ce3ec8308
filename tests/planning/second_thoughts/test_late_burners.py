"""The rest of a day with a burner that is somebody else's for a while."""

from __future__ import annotations

from dataclasses import replace

import pytest
from planning.small_days import day
from planning.written_out import LID, at, closed, fire, load

from stillroom.planning.hand.by_hand import by_hand
from stillroom.planning.happened import Happened
from stillroom.planning.problem import Problem
from stillroom.planning.second_thoughts.late_burners import told_of_late_burners
from stillroom.planning.second_thoughts.replan import replan
from stillroom.planning.second_thoughts.take_in import _by_itself
from stillroom.planning.timetable import PlacedStep, Timetable

SECONDS = 1.5


def supper(problem: Problem, burner: str, *spans: tuple[int, int]) -> Problem:
    burners = tuple(
        replace(b, taken=spans) if b.id == burner else b for b in problem.burners
    )
    return replace(problem, burners=burners)


TWO = supper(day(fire("a", 2500.0), fire("b", 2500.0)), "strong-1", (30, 45))
PLAN = Timetable(
    steps=(
        at("a", "burn", 15, 25, burner="strong-1"),
        at("b", "burn", 45, 55, burner="strong-1"),
    ),
    loads=(),
    breaks=(),
)


def slow(until: int, now: int) -> Happened:
    boil = at("a", "burn", 15, until, burner="strong-1")
    return Happened(now_min=now, steps=(boil,), loads=())


def burns(steps: tuple[PlacedStep, ...]) -> list[tuple[int, int]]:
    return [(s.start_min, s.end_min) for s in steps]


@pytest.mark.parametrize(
    ("until", "then"),
    [
        (30, 45),  # nothing is on it when supper is cooked
        (34, 45),  # four minutes into it: the pot that boils is not taken off
        (50, 50),
    ],
)
def test_what_boils_ends_and_what_is_to_come_keeps_off(until: int, then: int) -> None:
    found = replan(TWO, PLAN, slow(until, 20), seconds=SECONDS)
    assert burns(found.new.steps) == [(15, until), (then, then + 10)]


FREE = "The burner strong-1, taken 8:30 to 8:45, is not free before "


@pytest.mark.parametrize(
    ("until", "now", "said"),
    [
        (30, 20, []),
        (34, 20, [f'{FREE}8:34: "burn" of a is on it.']),
        (50, 32, [f'{FREE}8:50: "burn" of a is on it.']),
        (34, 34, []),  # it is free by now
    ],
)
def test_who_was_to_have_it_is_told(until: int, now: int, said: list[str]) -> None:
    happened = slow(until, now)
    new = replace(PLAN, steps=(*happened.steps, PLAN.steps[1]))
    assert list(told_of_late_burners(TWO, PLAN, happened, new)) == said
    # what the plan so far had known of is not told again
    assert list(told_of_late_burners(TWO, new, happened, new)) == []
    if said:
        told = replan(TWO, PLAN, happened, seconds=SECONDS).sentence
        assert said[0] in told


def test_jars_in_the_canner_stay_until_they_are_lifted() -> None:
    """Lowered at 30 and out at 65 or some minutes later; supper from 60 to 100."""
    problem = supper(day(closed()), "strong-1", (60, 100))
    old = Timetable(steps=(LID,), loads=(load(),), breaks=())
    happened = Happened(now_min=50, steps=(LID,), loads=(load(),))
    found = replan(problem, old, happened, seconds=SECONDS)
    (one,) = found.new.loads
    assert 65 <= one.out_min <= 75
    late = replace(one, out_min=70, lift_min=66)
    new = replace(found.new, loads=(late,))
    assert list(told_of_late_burners(problem, old, happened, new)) == [
        "The burner strong-1, taken 9:00 to 9:40, is not free before 9:10: load 1 in "
        "the canner is on it."
    ]


def test_a_canner_that_had_to_go_in_between_is_heated_from_cold() -> None:
    """
    Out at 65, its burner somebody else's from 66 to 80, and it is 85 now.

    The next jars are closed at 90: its water would be warm by 105, had it stayed; it
    is heated for 30 min, from 85 at the soonest.
    """
    jars = closed("c", closed_wait_at_most_min=60)
    problem = supper(day(closed("a"), jars), "strong-1", (66, 80))
    lid = at("c", "lid", 85, 90)
    second = load(115, id="L2", jars=(("c", 5),))
    old = Timetable(steps=(LID, lid), loads=(load(), second), breaks=())
    happened = Happened(now_min=85, steps=(LID,), loads=(load(),))
    found = replan(problem, old, happened, seconds=SECONDS)
    (later,) = (x for x in found.new.loads if x.id != "L1")
    assert later.lower_min - later.heat_min == 30
    # without supper it has stayed on its fire, and 20 will do
    same = supper(problem, "strong-1")
    easy = replan(same, replace(old, loads=(load(), replace(second, heat_min=95))),
                  happened, seconds=SECONDS)  # fmt: skip
    assert [x.lower_min - x.heat_min for x in easy.new.loads] == [30, 20]


def test_no_fire_is_said_to_have_been_kept_on_while_the_burner_was_taken() -> None:
    """Out at 65 and taken from 66 to 80: at 85 no water there is hot still."""
    jars = closed("c", closed_wait_at_most_min=60)
    problem = supper(day(closed("a"), jars), "strong-1", (66, 80))
    lid = at("c", "lid", 80, 85)
    first = load(fire_free_min=85)
    second = load(85, id="L2", jars=(("c", 5),), hot=True, heat_min=85)
    old = Timetable(steps=(LID, lid), loads=(first, second), breaks=())
    happened = Happened(now_min=85, steps=(LID, lid), loads=(first,))
    found = replan(problem, old, happened, seconds=SECONDS)
    (later,) = (x for x in found.new.loads if x.id != "L1")
    assert (later.hot, later.lower_min - later.heat_min) == (False, 30)


def test_a_batch_made_last_of_all_keeps_off_by_the_clock() -> None:
    """Alone from 100 on, and the burner is somebody else's from 110 to 125."""
    problem = supper(day(fire("b", 2500.0)), "strong-1", (110, 125), (10, 20))
    alone = by_hand(_by_itself(problem, "b", 100), seconds=0.0, shuffles=1)
    assert alone is not None
    assert burns(alone.moved(100).steps) == [(100, 110)]
    sooner = supper(problem, "strong-1", (105, 125))
    later = by_hand(_by_itself(sooner, "b", 100), seconds=0.0, shuffles=1)
    assert later is not None
    assert burns(later.moved(100).steps) == [(125, 135)]
