"""Moments that cannot wait, pauses between them, and free time; plans by hand."""

from __future__ import annotations

import pytest
from planning.small_days import day, person, step, work
from planning.written_out import at, load

from stillroom.planning.how_good.free_pieces import Piece, free_pieces, longest
from stillroom.planning.how_good.moments import BREATH_MIN, hurried, moments
from stillroom.planning.problem import Problem
from stillroom.planning.timetable import PlacedBreak, Timetable


def table(*steps, loads=(), breaks=()) -> Timetable:
    return Timetable(steps=steps, loads=tuple(loads), breaks=tuple(breaks))


def jellies() -> Problem:
    """Two batches whose boil and skimming cannot wait, and whose labels can."""
    hot = {"critical": True}
    steps = step("boil", 5, 4, **hot), step("skim", 5, 2, **hot), step("label", 5, 1)
    return day(*(work(n, *steps) for n in "ab"), people=2)


@pytest.mark.parametrize(
    ("pause", "spans"),
    [
        (0, [(10, 20)]),
        (BREATH_MIN - 1, [(10, 19 + BREATH_MIN)]),
        (BREATH_MIN, [(10, 15), (15 + BREATH_MIN, 20 + BREATH_MIN)]),
    ],
)
def test_what_follows_within_a_breath_is_one_moment(
    pause: int, spans: list[tuple[int, int]]
) -> None:
    skim = 15 + pause
    plan = table(
        at("a", "boil", 10, 15, "p1"),
        at("a", "skim", skim, skim + 5, "p1"),
        at("a", "label", 60, 65, "p1"),
    )
    found = moments(jellies(), plan)
    assert [(m.start_min, m.end_min) for m in found] == spans
    assert found[0].what == "boil"
    other = table(at("a", "boil", 10, 15, "p1"), at("a", "skim", 15, 20, "p2"))
    assert [m.person for m in moments(jellies(), other)] == ["p1", "p2"]


def test_a_lift_cannot_wait_and_lowering_can() -> None:
    (lift,) = moments(day(), table(loads=[load(30)]))
    assert (lift.of, lift.start_min, lift.end_min, lift.what) == ("L1", 61, 65, "lift")


@pytest.mark.parametrize(
    ("start", "who", "batch", "told"),
    [
        (15 + BREATH_MIN - 1, "p1", "b", [BREATH_MIN - 1]),
        (15 + BREATH_MIN, "p1", "b", []),
        (12, "p1", "b", [-3]),
        (15 + BREATH_MIN - 1, "p2", "b", []),
        (15 + BREATH_MIN - 1, "p1", "a", []),
    ],
)
def test_two_moments_of_one_person_ask_for_a_breath_between(
    start: int, who: str, batch: str, told: list[int]
) -> None:
    step_ = "boil" if batch == "b" else "skim"
    plan = table(at("a", "boil", 10, 15, "p1"), at(batch, step_, start, start + 5, who))
    assert [pair.pause_min for pair in hurried(jellies(), plan)] == told


def test_free_time_is_cut_by_work_and_absences_and_by_no_rest() -> None:
    """There from 5 to 200; all work ends at 150, and hers at 65, out of the canner."""
    ada = person("Ada", arrives_min=5, leaves_min=200, away=((100, 110),))
    plan = table(
        at("a", "do", 10, 20, "Ada"),
        at("b", "do", 0, 150, "Ben"),
        loads=[load(30, lowered_by="Ada", lifted_by="Ada")],
        breaks=[
            PlacedBreak(person="Ada", start_min=120, end_min=135),
            PlacedBreak(person="Ben", start_min=70, end_min=90),
        ],
    )
    found = free_pieces(plan, ada)
    assert found == (
        Piece(5, 10, 5),
        Piece(20, 30, 10),
        Piece(34, 61, 27),
        Piece(65, 100, 35),
        Piece(110, 150, 25),
    )
    assert longest(found) == Piece(65, 100, 35)
    assert longest((Piece(0, 9, 9), Piece(20, 29, 9))) == Piece(20, 29, 9)
    assert longest(()) is None


def test_who_goes_before_the_work_is_over_is_free_until_then() -> None:
    ada = person("Ada", leaves_min=40)
    plan = table(at("a", "do", 10, 20, "Ada"), at("b", "do", 0, 150, "Ben"))
    assert free_pieces(plan, ada) == (Piece(0, 10, 10), Piece(20, 40, 20))


@pytest.mark.parametrize(
    ("lowers", "lifts", "spans"),
    [
        ("Ada", "Ben", [(0, 30), (34, 65)]),
        ("Ben", "Ada", [(0, 61)]),
        ("Ben", "Ben", [(0, 65)]),
    ],
)
def test_each_end_of_a_load_is_work_of_who_does_it(
    lowers: str, lifts: str, spans: list[tuple[int, int]]
) -> None:
    ada = person("Ada")
    plan = table(loads=[load(30, lowered_by=lowers, lifted_by=lifts)])
    found = free_pieces(plan, ada)
    assert [(piece.start_min, piece.end_min) for piece in found] == spans


def test_what_needs_nobody_is_nobodys_moment() -> None:
    made = work("a", step("cool", 5, 0, critical=True))
    assert moments(day(made), table(at("a", "cool", 10, 15))) == ()
