"""The power goes in the midst of a process, and an electric fire with it."""

import datetime as dt

import pytest

from stillroom.running.clock import WatchedClock
from stillroom.running.handle import state_of
from tests.web.forms import words
from tests.web.test_tapped_once import drawn, kitchen, tap

__all__ = ["kitchen"]  # a fixture

ASKS = "was its fire out?"


def board(kitchen) -> str:
    return words(kitchen.client.get("/stove").text)


def started(kitchen, minutes_ago: float) -> None:
    """The computer runs since then, by another start than before."""
    on = kitchen.clock.at - dt.timedelta(minutes=minutes_ago)
    kitchen.client.app.state.clock = WatchedClock(
        kitchen.clock, lambda: (kitchen.clock.at - on).total_seconds(), f"start {on}"
    )


@pytest.fixture
def boiling(kitchen):
    started(kitchen, 120)
    tap(kitchen, "begin", drawn(kitchen))
    tap(kitchen, "full-boil", drawn(kitchen))
    kitchen.clock.at += dt.timedelta(minutes=9)
    return kitchen


def run_of(kitchen):
    return state_of(kitchen.run, ledger=kitchen.records.ledger).load(kitchen.load)


def test_a_computer_that_ran_all_along_asks_nothing(boiling):
    assert ASKS not in board(boiling)


def test_the_board_asks_whether_the_fire_was_out_too(boiling):
    """The clock had gone on, and called the jars ready that had not boiled."""
    started(boiling, 1)
    run = run_of(boiling)
    shown = board(boiling)
    on, since = boiling.clock.at - dt.timedelta(minutes=1), run.boiling_since
    assert (
        f"This computer was switched on at {on:%-H:%M}, and {run.load.name} is on its "
        f"clock since {since:%-H:%M}. If the power was gone, {ASKS}"
    ) in shown
    assert "It lost the boil : the whole" in shown.replace("boil:", "boil :")
    boiling.clock.at += dt.timedelta(hours=1)
    assert "It had lost the boil" in board(boiling)


def test_it_is_asked_too_where_the_clock_starts_behind_the_tap(boiling):
    """No battery keeps its clock: it starts half an hour before the boil."""
    name = run_of(boiling).load.name
    boiling.clock.at -= dt.timedelta(minutes=39)
    started(boiling, 1)
    shown = board(boiling)
    assert f"switched on again after {name} came on its clock, at" in shown
    assert "own clock is behind that: set it right. If the power was gone" in shown
    assert ASKS in shown


def test_it_is_still_asked_when_such_a_clock_is_past_the_tap(boiling):
    """No network sets it: it calls the jars ready when it comes to that hour."""
    boiling.clock.at -= dt.timedelta(minutes=39)
    started(boiling, 1)
    boiling.clock.at += dt.timedelta(minutes=50)
    shown = board(boiling)
    assert ASKS in shown
    assert "behind that" not in shown


def test_brought_back_to_the_boil_nothing_is_asked_any_more(boiling):
    started(boiling, 1)
    tap(boiling, "boil-lost", drawn(boiling))
    assert ASKS not in board(boiling)
    tap(boiling, "full-boil", drawn(boiling))
    assert ASKS not in board(boiling)


def test_once_its_jars_are_out_nothing_is_asked(boiling):
    boiling.clock.at += dt.timedelta(hours=1)
    tap(boiling, "lifted", drawn(boiling))
    started(boiling, 1)
    assert ASKS not in board(boiling)
