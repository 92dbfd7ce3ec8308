"""
The judge on people, on the smallest day where each rule bites.

Each case is a day that holds, and the one minute, jar or name that does not, with the
whole answer: one sentence, and no other rule speaks.
"""

from __future__ import annotations

from dataclasses import replace

import pytest
from planning.small_days import day, person
from planning.small_days import step as a_step
from planning.written_out import at, batch, labour, load, said

from stillroom.methods.step import Link, Skill
from stillroom.planning.problem import (
    Break,
    Window,
)
from stillroom.planning.timetable import (
    PlacedBreak,
)

# --- 1 minutes ---


def test_a_step_fills_the_day_and_no_more() -> None:
    whole = day(batch("a", labour(480)))  # the day has 480 minutes
    assert said(whole, [at("a", "do", 0, 480, "p1")]) == ()
    assert said(whole, [at("a", "do", 1, 481, "p1")]) == (
        "do of a ends 1 min after the day",
    )
    nobody = day(batch("a", labour(480, quarters=0)))
    assert said(nobody, [at("a", "do", -1, 479)]) == (
        "do of a starts 1 min before the day",
    )


def test_a_step_takes_its_minutes() -> None:
    ten = day(batch("a", labour(10)))
    assert said(ten, [at("a", "do", 0, 9, "p1")]) == (
        "do of a lasts 9 min; it takes 10",
    )
    assert said(ten, [at("a", "do", 0, 11, "p1")]) == (
        "do of a lasts 11 min; it takes 10",
    )


# --- 2, 3 hands ---


def test_a_step_that_takes_hands_has_somebody() -> None:
    problem = day(batch("a", labour()))
    assert said(problem, [at("a", "do", 0, 10, None, quarters=3)]) == (
        "do of a has nobody to do it",
    )


def test_a_step_that_needs_nobody_has_nobody() -> None:
    problem = day(batch("a", labour(quarters=0)))
    assert said(problem, [at("a", "do", 0, 10)]) == ()
    assert said(problem, [at("a", "do", 0, 10, "p1", quarters=0)]) == (
        "do of a needs nobody but is given to p1",
    )


def test_who_does_a_step_has_its_skill() -> None:
    child = person("p1", skills=frozenset({Skill.COLD}))
    cold = day(batch("a", labour(skill=Skill.COLD)), people=(child,))
    hot = day(batch("a", labour(skill=Skill.PAN)), people=(child,))
    assert said(cold, [at("a", "do", 0, 10, "p1")]) == ()
    assert said(hot, [at("a", "do", 0, 10, "p1")]) == (
        "do of a needs pan, which p1 does not do alone",
    )


def test_a_step_is_planned_with_its_own_attention() -> None:
    problem = day(batch("a", labour(quarters=4)))
    assert said(problem, [at("a", "do", 0, 10, "p1", quarters=3)]) == (
        "do of a is planned with 3 quarters of attention; it takes 4",
    )


def test_same_hands_are_one_persons() -> None:
    one = a_step("stir", 5, 3, same_hands="pan")
    two = a_step("pour", 5, 3, same_hands="pan")
    problem = day(batch("a", one, two), people=2)
    kept = [at("a", "stir", 0, 5, "p2"), at("a", "pour", 5, 10, "p2")]
    assert said(problem, kept) == ()
    changed = [at("a", "stir", 0, 5, "p2"), at("a", "pour", 5, 10, "p1")]
    assert said(problem, changed) == ("pan of a goes from p2 to p1: one person",)


def test_a_step_that_needs_nobody_is_in_nobodys_hands() -> None:
    # the pan stands by itself between the two: whose it is, is not asked of it
    stir, pour = (a_step(name, 5, 3, same_hands="pan") for name in ("stir", "pour"))
    stands = a_step("stands", 5, 0, same_hands="pan")
    problem = day(batch("a", stir, stands, pour), people=2)
    steps = [at("a", "stir", 0, 5, "p1"), at("a", "stands", 5, 10)]
    assert said(problem, [*steps, at("a", "pour", 10, 15, "p1")]) == ()
    assert said(problem, [*steps, at("a", "pour", 10, 15, "p2")]) == (
        "pan of a goes from p1 to p2: one person",
    )


def test_the_same_word_in_two_batches_may_be_two_peoples() -> None:
    stir = a_step("stir", 5, 3, same_hands="pan")
    problem = day(batch("a", stir), batch("b", stir), people=2)
    steps = [at("a", "stir", 0, 5, "p1"), at("b", "stir", 0, 5, "p2")]
    assert said(problem, steps) == ()


def test_without_a_word_each_step_may_be_anothers() -> None:
    problem = day(batch("a", a_step("one", 5, 3), a_step("two", 5, 3)), people=2)
    steps = [at("a", "one", 0, 5, "p1"), at("a", "two", 5, 10, "p2")]
    assert said(problem, steps) == ()


# --- 4 links ---


@pytest.mark.parametrize(
    ("start", "answer"),
    [
        (12, "b of a starts 2 min after a; at least 3 (it must cool)"),
        (13, None),  # 10 of the first + at least 3
        (15, None),  # 10 of the first + at most 5
        (16, "b of a starts 6 min after a; at most 5 (it must cool)"),
    ],
)
def test_a_link_holds_from_its_least_to_its_most(
    start: int, answer: str | None
) -> None:
    link = Link(
        before="a", after="b", at_least_min=3, at_most_min=5, why="it must cool"
    )
    steps = (a_step("a", 10, 0), a_step("b", 4, 0))
    problem = day(batch("a", *steps, links=(link,)))
    placed = [at("a", "a", 0, 10), at("a", "b", start, start + 4)]
    assert said(problem, placed) == (() if answer is None else (answer,))


@pytest.mark.parametrize(
    ("start", "answer"),
    [
        (29, "do of a starts at minute 29; not before minute 30 (it drips)"),
        (30, None),
        (60, None),
        (61, "do of a starts at minute 61; at the latest minute 60 (it drips)"),
    ],
)
def test_what_is_ready_by_the_clock_is_begun_in_its_window(
    start: int, answer: str | None
) -> None:
    window = Window(step="do", earliest_min=30, latest_min=60, why="it drips")
    problem = day(batch("a", labour(10, quarters=0), windows=(window,)))
    found = said(problem, [at("a", "do", start, start + 10)])
    assert found == (() if answer is None else (answer,))
    open_end = day(
        batch("a", labour(10, quarters=0), windows=(replace(window, latest_min=None),))
    )
    assert said(open_end, [at("a", "do", 400, 410)]) == ()


# --- 5 attention ---


@pytest.mark.parametrize(
    ("first", "second", "over"), [(3, 1, 0), (2, 2, 0), (3, 2, 5), (4, 1, 5)]
)
def test_a_person_has_four_quarters(first: int, second: int, over: int) -> None:
    problem = day(batch("a", labour(10, first)), batch("b", labour(10, second)))
    steps = [
        at("a", "do", 0, 10, "p1", quarters=first),
        at("b", "do", 5, 15, "p1", quarters=second),
    ]
    answer = (
        f"p1 gives {first + second} quarters at minute 5 (5 min in all); a person has 4"
    )
    assert said(problem, steps) == ((answer,) if over else ())


@pytest.mark.parametrize(("quarters", "over"), [(2, 0), (3, 5)])
def test_who_has_three_quarters_gives_three(quarters: int, over: int) -> None:
    minder = person("p1", quarters=3)
    problem = day(
        batch("a", labour(10, 1)), batch("b", labour(10, quarters)), people=(minder,)
    )
    steps = [
        at("a", "do", 0, 10, "p1", quarters=1),
        at("b", "do", 5, 15, "p1", quarters=quarters),
    ]
    answer = "p1 gives 4 quarters at minute 5 (5 min in all); p1 has 3 to give"
    assert said(problem, steps) == ((answer,) if over else ())


def test_a_rest_takes_all_that_a_person_has_and_no_more() -> None:
    rest = Break(duration_min=15, earliest_min=0, latest_start_min=0)
    problem = day(people=(person("p1", quarters=3, breaks=(rest,)),))
    placed = PlacedBreak(person="p1", start_min=0, end_min=15)
    assert said(problem, breaks=[placed]) == ()


def test_one_labour_begins_when_the_other_ends() -> None:
    problem = day(batch("a", labour(10)), batch("b", labour(10)))
    touching = [at("a", "do", 0, 10, "p1"), at("b", "do", 10, 20, "p1")]
    assert said(problem, touching) == ()


@pytest.mark.parametrize(("when", "what"), [(30, "lowered"), (61, "lifted")])
def test_lowering_and_lifting_take_three_quarters(when: int, what: str) -> None:
    # a load lowered at 30 is lifted at 30 + 4 + 12 + 10 + 5 = 61; beside it one may
    # look in on a pot (1), not watch it closely (2)
    lid, watch = a_step("lid", 5, 0), a_step("watch", 4, 1)
    for quarters, answer in (
        (1, ()),
        (2, (f"p1 gives 5 quarters at minute {when} (4 min in all); a person has 4",)),
    ):
        problem = day(
            batch("a", lid, jars=5, process="half-pint-10"),
            batch("b", replace(watch, attention_quarters=quarters)),
        )
        steps = [
            at("a", "lid", 25, 30),
            at("b", "watch", when, when + 4, "p1", quarters=quarters),
        ]
        assert said(problem, steps, [load()]) == answer, what


# --- 6 coming, leaving, away, breaks ---


@pytest.mark.parametrize(
    ("start", "answer"),
    [
        (19, "do of a starts 1 min before p1 arrives"),
        (20, None),
        (40, None),  # away from 50 to 60
        (41, "do of a falls while p1 is away, minute 50 to minute 60"),
        (59, "do of a falls while p1 is away, minute 50 to minute 60"),
        (60, None),
        (90, None),  # leaves at 100
        (91, "do of a ends 1 min after p1 leaves"),
    ],
)
def test_people_work_while_they_are_there(start: int, answer: str | None) -> None:
    someone = person("p1", arrives_min=20, leaves_min=100, away=((50, 60),))
    problem = day(batch("a", labour(10)), people=(someone,))
    found = said(problem, [at("a", "do", start, start + 10, "p1")])
    assert found == (() if answer is None else (answer,))


@pytest.mark.parametrize(
    ("start", "holds"), [(99, False), (100, True), (120, True), (121, False)]
)
def test_a_break_begins_within_its_window(start: int, holds: bool) -> None:
    rest = Break(duration_min=15, earliest_min=100, latest_start_min=120)
    problem = day(people=(person("p1", breaks=(rest,)),))
    placed = PlacedBreak(person="p1", start_min=start, end_min=start + 15)
    answer = (
        "a break of p1 lies outside its window: "
        "15 min starting minute 100 to minute 120"
    )
    assert said(problem, breaks=[placed]) == (() if holds else (answer,))


def test_a_break_lasts_as_long_as_it_does() -> None:
    rest = Break(duration_min=15, earliest_min=100, latest_start_min=120)
    problem = day(people=(person("p1", breaks=(rest,)),))
    short = PlacedBreak(person="p1", start_min=100, end_min=114)
    assert len(said(problem, breaks=[short])) == 1
    assert said(problem) == ("p1 has 0 breaks planned and 1 asked for",)


def test_breaks_go_with_windows_in_whatever_order() -> None:
    # 110 fits both windows, 130 only the second: 110 must go with the first
    first = Break(duration_min=5, earliest_min=100, latest_start_min=115)
    second = Break(duration_min=5, earliest_min=105, latest_start_min=140)
    for asked in ((first, second), (second, first)):
        problem = day(people=(person("p1", breaks=asked),))
        rests = [
            PlacedBreak(person="p1", start_min=n, end_min=n + 5) for n in (110, 130)
        ]
        assert said(problem, breaks=rests) == ()
        late = [
            PlacedBreak(person="p1", start_min=n, end_min=n + 5) for n in (120, 130)
        ]
        assert len(said(problem, breaks=late)) == 1


def test_one_rest_does_not_stand_for_two_in_whatever_order() -> None:
    # 110 fits both windows, 130 none: it cannot be counted twice
    twice = (Break(duration_min=5, earliest_min=100, latest_start_min=115),) * 2
    problem = day(people=(person("p1", breaks=twice),))
    for starts in ((110, 130), (130, 110)):
        rests = [PlacedBreak(person="p1", start_min=n, end_min=n + 5) for n in starts]
        assert len(said(problem, breaks=rests)) == 1


def test_nobody_works_in_a_break() -> None:
    rest = Break(duration_min=15, earliest_min=100, latest_start_min=120)
    problem = day(
        batch("a", labour(10, quarters=1)), people=(person("p1", breaks=(rest,)),)
    )
    placed = PlacedBreak(person="p1", start_min=100, end_min=115)

    def answers(start: int) -> tuple[str, ...]:
        steps = [at("a", "do", start, start + 10, "p1", quarters=1)]
        return said(problem, steps, breaks=[placed])

    assert answers(90) == answers(115) == ()
    assert answers(91) == (
        "p1 gives 5 quarters at minute 100 (1 min in all); a person has 4",
    )


def test_a_break_lies_in_the_time_that_its_person_is_there() -> None:
    rest = Break(duration_min=15, earliest_min=100, latest_start_min=120)
    leaving = person("p1", breaks=(rest,), leaves_min=130)
    problem = day(people=(leaving,))

    def answers(start: int) -> tuple[str, ...]:
        placed = PlacedBreak(person="p1", start_min=start, end_min=start + 15)
        return said(problem, breaks=[placed])

    assert answers(115) == ()
    assert answers(116) == ("a break ends 1 min after p1 leaves",)
