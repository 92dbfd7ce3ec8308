"""What the sheet says of a burner that is somebody else's, and of a canner on it."""

from __future__ import annotations

from dataclasses import replace

import pytest
from planning.small_days import day
from planning.written_out import LID, at, closed, fire, load

from stillroom.planning.how_good.by_the_hour import off_its_fire
from stillroom.planning.off_the_fire import canners_off, canners_off_for_others
from stillroom.planning.problem import Problem
from stillroom.planning.timetable import PlacedStep, Timetable
from stillroom.planning.words.sheet import day_sheet

OFF = "first the canner off this fire: ladle it down or let it cool, never carry it hot"


def supper(burner: str, *spans: tuple[int, int]) -> Problem:
    """Jars that are out at 65, and a pot for the canner's fire."""
    problem = day(closed("a"), fire("b", 3000.0))
    burners = tuple(
        replace(b, taken=spans) if b.id == burner else b for b in problem.burners
    )
    return replace(problem, burners=burners)


def plan(pot_at: int) -> Timetable:
    pot = at("b", "burn", pot_at, pot_at + 10, burner="strong-1")
    return Timetable(steps=(LID, pot), loads=(load(),), breaks=())


def said(problem: Problem, timetable: Timetable) -> list[tuple[int, int, str, str]]:
    return [
        (e.start_min, e.end_min, e.what, e.detail)
        for e in day_sheet(problem, timetable).entries
        if e.what.endswith("is taken")
    ]


def test_the_sheet_says_when_a_burner_is_taken() -> None:
    problem = supper("weak-1", (20, 40), (300, 310))
    taken = "The burner weak-1 is taken"
    # the second is after all work, at 110: nobody needs to be told
    assert said(problem, plan(100)) == [(20, 40, taken, "nothing of the plan")]
    (line,) = (
        e for e in day_sheet(problem, plan(100)).entries if e.what == taken
    )  # fmt: skip
    assert line.whose == "whoever is near"
    (lane,) = (x for x in day_sheet(problem, plan(100)).lanes if x.name == "weak-1")
    (block,) = lane.blocks
    assert (block.start_min, block.end_min, block.title) == (20, 40, "taken")
    assert said(supper("weak-1"), plan(100)) == []


POT_FIRST = at("b", "burn", 66, 76, burner="strong-1")


@pytest.mark.parametrize(
    ("span", "pot", "by_others", "by_a_pot"),
    [
        ((70, 90), 100, (70, "strong-1", "canner"), None),  # supper comes first
        ((80, 90), 66, None, 66),  # the pot has taken its place by then
        ((65, 90), 90, (65, "strong-1", "canner"), None),  # as its jars are out
        ((0, 30), 66, None, 66),  # before it was ever heated there
    ],
)
def test_a_canner_is_off_before_supper_or_before_the_next_pot(
    span: tuple[int, int],
    pot: int,
    by_others: tuple[int, str, str] | None,
    by_a_pot: int | None,
) -> None:
    problem, timetable = supper("strong-1", span), plan(pot)
    others = canners_off_for_others(problem, timetable)
    assert others == ((by_others,) if by_others else ())
    pots: tuple[PlacedStep, ...] = tuple(s for s, _ in canners_off(problem, timetable))
    assert [s.start_min for s in pots] == ([] if by_a_pot is None else [by_a_pot])
    details = [detail for *_, detail in said(problem, timetable)]
    if span[0] >= timetable.finish_min:  # all work is over by then
        assert details == []
    else:
        assert details == [OFF if by_others else "nothing of the plan"]
    (caution,) = off_its_fire(problem, timetable)
    whose = "which is taken then" if by_others else "which b needs"
    assert f"the canner is off the burner strong-1, {whose}: nobody" in caution.text


def test_of_two_hours_that_are_taken_the_first_moves_the_canner() -> None:
    problem = supper("strong-1", (70, 80), (100, 120))
    timetable = plan(150)
    details = [detail for *_, detail in said(problem, timetable)]
    assert details == [OFF, "nothing of the plan"]
