"""What is said beside the odds: what matters, what it rests on, what to set out."""

from __future__ import annotations

from dataclasses import replace

import pytest
from planning.small_days import canner, day, step, work
from planning.written_out import LID, at, closed, load

from stillroom.methods.learned import Share
from stillroom.methods.step import Spread
from stillroom.planning.day_odds.odds import own_spare_jars
from stillroom.planning.day_odds.odds_words import against_words, rests_on, step_words
from stillroom.planning.day_odds.one_more import OneMore
from stillroom.planning.problem import Problem
from stillroom.planning.timetable import Timetable
from stillroom.planning.waits.precedence import Part

BOIL = replace(step("boil", 20, 0, in_pot=True, rinse_min=None), basis="of the book")
PLAN = Timetable(
    steps=(LID, at("b", "boil", 0, 20, pot="small-1")),
    loads=(load(30, canner="north"), load(90, id="L2", canner="south")),
    breaks=(),
)


def kitchen() -> Problem:
    up = Spread(8, 12, 20)
    return day(
        closed("a"),
        work("b", replace(BOIL, verb="Boil hard")),
        canners=(canner("south"), canner("north", come_up_spread=up)),
    )


def test_a_step_is_named_by_its_verb_and_batch_and_a_load_by_what_happens() -> None:
    assert step_words(kitchen(), PLAN, "b", "boil") == "Boil hard (b)"
    assert step_words(kitchen(), PLAN, "L1", str(Part.COME_UP)) == (
        "Bring load 1 in the north to a full boil"
    )
    assert (
        step_words(kitchen(), PLAN, "L2", str(Part.LIFT))
        == "Lift load 2 out of the south"
    )


def test_minutes_rest_on_the_book_or_on_the_canners_own_way_up() -> None:
    assert rests_on(kitchen(), PLAN, "b", "boil") == "of the book"
    assert rests_on(kitchen(), PLAN, "a", "lid") == ""
    assert rests_on(kitchen(), PLAN, "L1", str(Part.COME_UP)) == (
        "the canner's own way up, 8 to 20 min"
    )
    assert rests_on(kitchen(), PLAN, "L2", str(Part.COME_UP)) == ""
    assert rests_on(kitchen(), PLAN, "nobody", "") == ""


@pytest.mark.parametrize(
    ("with_it", "earlier", "said"),
    [
        (100, 25, ": it stays done by 10:05"),  # the plan ends at 125, as 100 + 25
        (100, 20, ": done by 10:00, where the plan above ends at 10:05"),
    ],
)
def test_what_is_more_is_measured_against_the_day_searched_on(
    with_it: int, earlier: int, said: str
) -> None:
    more = OneMore(
        what="one more canner",
        finish_min=with_it,
        earlier_min=earlier,
        likely_min=110,
        timetable=PLAN,
    )
    other = replace(more, finish_min=90, earlier_min=with_it + earlier - 90)
    assert PLAN.finish_min == 125
    assert against_words([more, other], kitchen(), PLAN) == (
        "Measured against the day as it is, searched on for as long as each of these"
        + said
    )


def test_jars_to_set_out_say_whose_seals_they_rest_on() -> None:
    seals = Share(a=2, b=48, low=0, high=1, lots=3, jars=240, seen=5, book=0.04)
    spare = own_spare_jars(30, seals)
    assert (spare.jars, spare.spare) == (30, seals.enough(30))
    assert spare.source == (
        "learned from the seals of 240 jars of yours, 5 of them not good; the book "
        "says one in 20 to 30"
    )
