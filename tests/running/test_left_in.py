"""Jars that nobody lifted out for a night are no pantry stock without a word."""

import datetime as dt
from dataclasses import replace

import pytest

from stillroom.book.trouble import troubles
from stillroom.running.board import board
from stillroom.running.events import DayBegun, FullBoilReached, LoadLifted
from stillroom.running.fold import fold
from stillroom.running.left_in import left_in
from tests.running.a_run import LOADS, START

BOILS = FullBoilReached(load=LOADS[0].id, occurred_at=START)
ROW = next(row for row in troubles() if row.id == "left-in-canner")


def after(*more):
    return fold([DayBegun(loads=LOADS, occurred_at=START), BOILS, *more])


def hours(n: float) -> dt.datetime:
    """So long after its rest: 10 min of process and 5 of rest."""
    return START + dt.timedelta(minutes=15, hours=n)


@pytest.mark.parametrize(("late_h", "told"), [(0, False), (7.9, False), (8, True)])
def test_the_board_says_what_the_book_says_of_jars_in_the_canner_overnight(
    late_h: float, told: bool
):
    """It said that they may come out now, and nothing else."""
    shown = board(after(), hours(late_h))
    (card,) = [c for c in shown.cards if c.run.boiling_since]
    assert (ROW.then[1:] in card.says) == told
    assert ("may come out now" in shown.sentence) != told
    if told:
        since = hours(0)
        assert f"could come out since {since:%-H:%M}" in shown.sentence
        assert card.keys[0].says == "Lifted out"
        assert card.says.startswith("straight up, onto wood or a towel")


def test_a_load_that_was_said_to_be_out_late_is_told_of_too():
    for late_h, told in ((1, False), (9, True)):
        lifted = LoadLifted(load=LOADS[0].id, occurred_at=hours(late_h))
        (run, *_) = after(lifted).loads
        assert bool(left_in(run, hours(40))) == told


def test_a_load_without_a_clock_is_not():
    run = replace(after().loads[0], boiling_since=None)
    assert left_in(run, hours(40)) == ""
