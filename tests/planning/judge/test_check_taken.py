"""The judge on burners that are somebody else's, on the smallest day where it bites."""

from __future__ import annotations

from dataclasses import replace

import pytest
from planning.small_days import canner as a_canner
from planning.small_days import day
from planning.written_out import LID, Part, at, closed, fire, load, said, said_again

from stillroom.planning.problem import Problem


def taken(problem: Problem, burner: str, *spans: tuple[int, int]) -> Problem:
    """The same day with a burner somebody else's for some minutes."""
    burners = tuple(
        replace(b, taken=spans) if b.id == burner else b for b in problem.burners
    )
    return replace(problem, burners=burners)


@pytest.mark.parametrize(
    ("start", "holds"), [(20, True), (21, False), (39, False), (40, True)]
)
def test_nothing_is_on_a_burner_while_it_is_taken(start: int, holds: bool) -> None:
    # ten minutes on the fire, taken from minute 30 to 40: over by 30, or begun at 40
    problem = taken(day(fire("a", 1000.0)), "weak-1", (30, 40))
    breach = "burn of a is on burner weak-1, which is taken minute 30 to minute 40"
    steps = [at("a", "burn", start, start + 10, burner="weak-1")]
    assert said(problem, steps) == (() if holds else (breach,))
    assert said(problem, [replace(steps[0], burner="weak-2")]) == ()


def test_of_two_spans_each_is_said() -> None:
    problem = taken(day(fire("a", 1000.0)), "weak-1", (2, 4), (6, 8), (9, 9))
    steps = [at("a", "burn", 0, 10, burner="weak-1")]
    assert said(problem, steps) == (
        "burn of a is on burner weak-1, which is taken minute 2 to minute 4",
        "burn of a is on burner weak-1, which is taken minute 6 to minute 8",
    )


@pytest.mark.parametrize("burner", ["strong-1", "middle-1"])
@pytest.mark.parametrize(
    ("lower", "holds"),
    [(35, True), (36, False), (109, False), (110, True)],
)
def test_a_canner_keeps_off_both_of_its_burners_where_one_is_taken(
    burner: str, lower: int, holds: bool
) -> None:
    # heated 30 before it is lowered, its last jar out 35 after: over by 70 where it is
    # lowered at 35, and begun at 80 where it is lowered at 110
    wide = a_canner(burners=("strong-1", "middle-1"))
    problem = taken(day(closed(), canners=(wide,)), burner, (70, 80))
    steps = [at("a", "lid", lower - 5, lower)]
    breach = f"load L1 is on burner {burner}, which is taken minute 70 to minute 80"
    assert said(problem, steps, [load(lower)]) == (() if holds else (breach,))


def test_a_canner_that_had_to_go_in_between_is_heated_from_cold() -> None:
    # out at 65, its burner taken 66 to 70: its water is not warm still
    problem = taken(day(closed("a"), closed("c")), "strong-1", (66, 70))
    steps = [LID, at("c", "lid", 95, 100)]

    def again(heated: int) -> tuple[str, ...]:
        second = load(100, id="L2", jars=(("c", 5),), heat_min=100 - heated)
        return said(problem, steps, [load(), second])

    assert again(30) == ()
    assert again(20) == (
        "load L2 is lowered after 20 min of heating; its water needs 30, for its fire "
        "was taken since load L1",
    )


def test_no_fire_is_kept_on_for_the_next_load_on_a_burner_that_is_taken() -> None:
    # out at 65, the next one lowered at 75 in hot water: the fire burns between them
    problem = day(closed("a"), closed("c"))
    steps = [LID, at("c", "lid", 70, 75)]
    first = load(fire_free_min=75)
    second = load(75, id="L2", jars=(("c", 5),), hot=True, heat_min=75)
    assert said(problem, steps, [first, second]) == ()
    assert said(taken(problem, "strong-1", (67, 70)), steps, [first, second]) == (
        "the fire kept on after load L1 is on burner strong-1, which is taken "
        "minute 67 to minute 70",
    )


def test_what_has_begun_and_runs_on_into_it_is_no_fault_of_a_changed_plan() -> None:
    # begun at 22 and on the fire until 32, taken from 30: that is past; what is to
    # come keeps off
    problem = taken(day(fire("a", 1000.0), fire("b", 1000.0)), "weak-1", (30, 40))
    begun = Part(steps=[at("a", "burn", 22, 32, burner="weak-1")])

    def then(start: int) -> tuple[str, ...]:
        later = Part(steps=[at("b", "burn", start, start + 10, burner="weak-1")])
        return said_again(problem, 25, begun, later)

    assert then(40) == ()
    assert then(32) == (
        "burn of b is on burner weak-1, which is taken minute 30 to minute 40",
    )


def test_jars_that_are_in_the_canner_stay_though_its_burner_is_taken() -> None:
    # lowered at 30 and out at 65 or later: nobody carries it full of jars
    problem = taken(day(closed()), "strong-1", (60, 90))
    assert said_again(problem, 50, Part(steps=[LID], loads=[load()])) == ()
    # nor where the hour came while its process ran: the fire goes off with that
    sooner = taken(day(closed()), "strong-1", (50, 90))
    assert said_again(sooner, 45, Part(steps=[LID], loads=[load()])) == ()
    # its fire is not kept on beyond them, though
    kept = Part(steps=[LID], loads=[load(fire_free_min=70)])
    assert said_again(problem, 50, kept) == (
        "the fire kept on after load L1 is on burner strong-1, which is taken "
        "minute 60 to minute 90",
    )
