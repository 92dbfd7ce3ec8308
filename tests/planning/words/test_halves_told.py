"""Two halves of one cutting: one line where they are one piece of work."""

from __future__ import annotations

from dataclasses import replace

import pytest
from planning.small_days import day, step, work
from planning.written_out import at

from stillroom.methods.in_halves import in_halves
from stillroom.methods.method import Work
from stillroom.methods.step import Link, Skill, Step
from stillroom.planning.problem import Batch
from stillroom.planning.timetable import PlacedStep, Timetable
from stillroom.planning.waits.why import why, why_so_long
from stillroom.planning.words.sheet import day_sheet
from stillroom.planning.words.step_words import late_named, named
from stillroom.refusal import Unreadable

CUT = Step(
    id="cut",
    verb="Cut the pears",
    duration_min=12,
    attention_quarters=3,
    skill=Skill.KNIFE,
    note="7 lb",
)
HALVED = in_halves(
    Work(
        steps=(CUT, step("cook", 30, 1)),
        links=(Link(before="cut", after="cook"),),
        ready_after="cook",
        closed_wait_at_most_min=0,
    ),
    lambda _: True,
)
PEARS: Batch = work("a", *HALVED.steps, links=HALVED.links)


def told(*placed: PlacedStep) -> list[tuple[int, int, str, str, str]]:
    plan = Timetable(steps=placed, loads=(), breaks=())
    return [
        (e.start_min, e.end_min, e.who, e.what, e.detail)
        for e in day_sheet(day(PEARS, people=2), plan).entries
    ]


@pytest.mark.parametrize(("first", "then"), [(0, 6), (6, 0)])
def test_halves_of_one_pair_of_hands_without_a_pause_are_one_line(
    first: int, then: int
) -> None:
    """It told "half of it" twice, one below the other; either may be the first."""
    one = at("a", "cut", first, first + 6, "p1")
    other = at("a", "cut_other_half", then, then + 6, "p1")
    assert told(one, other) == [(0, 12, "p1", "Cut the pears", "7 lb")]


@pytest.mark.parametrize(("who", "then"), [("p1", 20), ("p2", 6), ("p2", 0)])
def test_of_halves_apart_the_later_is_the_other_half(who: str, then: int) -> None:
    one = at("a", "cut", 0, 6, "p1")
    other = at("a", "cut_other_half", then, then + 6, who)
    assert told(one, other) == [
        (0, 6, "p1", "Cut the pears: half of it", "in all 7 lb"),
        (then, then + 6, who, "Cut the pears: the other half", "in all 7 lb"),
    ]


def test_why_names_the_other_half_by_its_name() -> None:
    """One half was busy with "half of it" until the other could begin."""
    plan = Timetable(
        steps=(at("a", "cut", 0, 6, "p1"), at("a", "cut_other_half", 6, 12, "p1")),
        loads=(),
        breaks=(),
    )
    alone = replace(PEARS, steps=PEARS.steps[:2], links=())
    said = why_so_long(day(alone), plan).chain[0]
    assert said.what == "cut the pears: the other half (a)"
    assert said.sentence == "p1 is busy until 8:06 with: cut the pears: half of it (a)"


@pytest.mark.parametrize("words", ["cut the pears", "Cut the pears: the other half"])
def test_a_half_is_asked_about_by_what_the_plan_prints_of_it(words: str) -> None:
    with pytest.raises(Unreadable, match="name one: cut, cut_other_half"):
        named(PEARS, words)


OTHER = "Cut the pears: the other half"
ONE_LINE = (at("a", "cut_other_half", 0, 6, "p1"), at("a", "cut", 6, 12, "p1"))
TWO_LINES = (at("a", "cut_other_half", 0, 6, "p1"), at("a", "cut", 0, 6, "p2"))


@pytest.mark.parametrize(
    ("words", "begins"),
    [("Cut the pears", 0), (f"{OTHER[:13]}: half of it", 0), (OTHER, 6), ("cut", 6)],
)
def test_work_printed_as_one_line_is_asked_about_as_one(
    words: str, begins: int
) -> None:
    """It was asked which half: "cut" or "cut_other_half", which no plan prints."""
    plan = Timetable(steps=ONE_LINE, loads=(), breaks=())
    alone = replace(PEARS, steps=PEARS.steps[:2], links=())
    assert why(day(alone), plan, f"a/{words}").start_min == begins


@pytest.mark.parametrize(("now", "half"), [(3, "cut_other_half"), (6, "cut")])
def test_work_of_one_line_is_late_in_the_half_that_is_under_way(
    now: int, half: str
) -> None:
    plan = Timetable(steps=ONE_LINE, loads=(), breaks=())
    assert late_named(day(PEARS), plan, ("A", "cut the pears"), now) == ("a", half)


def test_which_of_two_printed_halves_is_late_is_not_guessed() -> None:
    plan, problem = Timetable(steps=TWO_LINES, loads=(), breaks=()), day(PEARS)
    with pytest.raises(Unreadable, match="name one: cut, cut_other_half"):
        late_named(problem, plan, ("a", "Cut the pears"), 3)
    half = late_named(problem, plan, ("a", "Cut the pears: half of it"), 3)
    other = late_named(problem, plan, ("a", OTHER), 3)
    assert (half, other) == (("a", "cut"), ("a", "cut_other_half"))
