"""
The judge on hands from now on, where some of the day has begun.

Nobody gives more than she has from this minute on. What she gave before is past, and
who is said to be at two things at once gives each of them what there is.
"""

from __future__ import annotations

import pytest
from planning.small_days import Break, day, person
from planning.small_days import step as a_step
from planning.written_out import (
    Part,
    at,
    batch,
    closed,
    labour,
    load,
    said_again,
)

from stillroom.planning.problem import Problem
from stillroom.planning.timetable import PlacedBreak, PlacedStep


def work(name: str, start: int, end: int, quarters: int, who: str = "p1") -> PlacedStep:
    return at(name, "do", start, end, who, quarters=quarters)


def for_all(*steps: PlacedStep, people: int = 1) -> Problem:
    """A day that asks for just these steps."""
    asked = [batch(s.batch, labour(s.end_min - s.start_min, s.quarters)) for s in steps]
    return day(*asked, people=people)


def answers(
    now: int, begun: list[PlacedStep], later: list[PlacedStep], people: int = 1
) -> tuple[str, ...]:
    problem = for_all(*begun, *later, people=people)
    return said_again(problem, now, Part(steps=begun), Part(steps=later))


# --- from now on ---


@pytest.mark.parametrize(("quarters", "over"), [(1, False), (2, True)])
def test_what_is_to_come_asks_for_no_more_than_four_quarters(
    quarters: int, over: bool
) -> None:
    later = [work("a", 20, 30, 3), work("b", 25, 35, quarters)]
    answer = "p1 gives 5 quarters at minute 25 (5 min in all); p1 has 4"
    assert answers(20, [], later) == ((answer,) if over else ())


def test_who_has_three_quarters_gives_three_from_now_on() -> None:
    minder = person("p1", quarters=3)
    for quarters, over in ((2, ()), (3, (20, 10))):
        steps = [work("a", 20, 30, 1), work("b", 20, 30, quarters)]
        asked = [batch("a", labour(10, 1)), batch("b", labour(10, quarters))]
        problem = day(*asked, people=(minder,))
        answer = "p1 gives 4 quarters at minute 20 (10 min in all); p1 has 3"
        found = said_again(problem, 20, later=Part(steps=steps))
        assert found == ((answer,) if over else ())


def test_what_was_asked_too_much_before_now_is_past() -> None:
    # both at once from 5 to 10, 6 quarters; only b is still at work
    begun = [work("a", 0, 10, 3), work("b", 5, 15, 3)]
    assert answers(10, begun, []) == ()
    assert answers(12, begun, []) == ()


def test_a_running_step_keeps_its_hands_until_it_ends() -> None:
    begun = [work("a", 0, 20, 3)]
    assert answers(10, begun, [work("b", 20, 30, 3)]) == ()
    assert answers(10, begun, [work("b", 19, 29, 3)]) == (
        "p1 gives 6 quarters at minute 19 (1 min in all); p1 has 4",
    )


def test_what_each_gives_is_counted_for_each() -> None:
    begun = [work("a", 0, 20, 3), work("b", 0, 20, 3, "p2")]
    assert answers(10, begun, [work("c", 10, 20, 1, "p2")], people=2) == ()
    for who in ("p1", "p2"):
        assert answers(10, begun, [work("c", 10, 20, 2, who)], people=2) == (
            f"{who} gives 5 quarters at minute 10 (10 min in all); {who} has 4",
        )


def test_lowering_and_lifting_to_come_take_three_quarters() -> None:
    # lowered 30 to 34, lifted 61 to 65: beside it 1 quarter is left, and not 2
    lid = at("a", "lid", 15, 20)

    def beside(quarters: int, now: int) -> tuple[str, ...]:
        problem = day(closed(), batch("b", labour(4, quarters)))
        watch = [work("b", now, now + 4, quarters)]
        if now < 61:
            later = Part(steps=watch, loads=[load()])
            return said_again(problem, now, Part(steps=[lid]), later)
        begun = Part(steps=[lid], loads=[load()])
        return said_again(problem, now, begun, Part(steps=watch))

    for now in (30, 61):
        assert beside(1, now) == ()
        assert beside(2, now) == (
            f"p1 gives 5 quarters at minute {now} (4 min in all); p1 has 4",
        )


@pytest.mark.parametrize("has", [4, 3])
def test_a_rest_to_come_takes_all_that_a_person_has(has: int) -> None:
    rest = Break(duration_min=15, earliest_min=50, latest_start_min=60)
    someone = person("p1", quarters=has, breaks=(rest,))
    placed = PlacedBreak(person="p1", start_min=50, end_min=65)

    def watches(minute: int) -> tuple[str, ...]:
        step = work("b", minute, minute + 10, 1)
        problem = day(batch("b", labour(10, 1)), people=(someone,))
        return said_again(problem, 20, later=Part(steps=[step], breaks=[placed]))

    assert watches(40) == watches(65) == ()
    assert watches(41) == (
        f"p1 gives {has + 1} quarters at minute 50 (1 min in all); p1 has {has}",
    )


# --- two things at once ---


def test_who_is_at_two_things_gives_each_what_there_is() -> None:
    # 3 + 3 are asked for and 4 are there: 3 and 1, no fault of the rest of the day
    begun = [work("a", 0, 20, 3), work("b", 5, 25, 3)]
    assert answers(10, begun, []) == ()
    assert answers(10, begun, [work("c", 10, 12, 1)]) == (
        "p1 gives 5 quarters at minute 10 (2 min in all); p1 has 4",
    )
    # from 20 on b has the 1 that was left for it: 3 more can be given
    assert answers(10, begun, [work("c", 20, 25, 3)]) == ()
    assert answers(10, begun, [work("c", 20, 25, 4)]) == (
        "p1 gives 5 quarters at minute 20 (5 min in all); p1 has 4",
    )


def test_what_asks_for_most_is_given_most() -> None:
    # 2 begun first and 3 after it: the 3 has all, the 2 has the 1 that is left
    begun = [work("a", 0, 25, 2), work("b", 5, 20, 3)]
    assert answers(10, begun, [work("c", 20, 25, 3)]) == ()


def test_a_third_thing_has_what_the_two_leave() -> None:
    begun = [work("a", 0, 20, 2), work("b", 0, 20, 2), work("c", 0, 30, 2)]
    # 2 and 2 are all of her: the third has none, and she is free of it at 20
    assert answers(10, begun, [work("d", 20, 30, 4)]) == ()


def test_what_has_ended_takes_nothing_of_what_runs() -> None:
    begun = [work("a", 0, 10, 4), work("b", 5, 25, 3)]
    for now in (10, 11):  # at the minute it ends too
        assert answers(now, begun, [work("c", 11, 25, 1)]) == ()
        assert answers(now, begun, [work("c", 11, 25, 2)]) == (
            "p1 gives 5 quarters at minute 11 (14 min in all); p1 has 4",
        )


@pytest.mark.parametrize(
    ("now", "first", "minutes"),
    [
        (30, None, 0),
        (33, None, 0),
        (34, 61, 4 + 10),  # the pot has its 3: 3 + 3 at the lift, and from 70 to 80
        (61, 61, 4 + 10),  # a lift that is to begin at this minute has not begun
        (62, None, 0),
        (65, 70, 10),
    ],
)
def test_who_lowers_or_lifts_at_this_minute_has_one_quarter_left(
    now: int, first: int | None, minutes: int
) -> None:
    """Lowered 30 to 34, lifted 61 to 65; a pot beside it asks for 3 and has the 1."""
    pot = work("b", now - 5, 90, 3)
    problem = day(closed(), batch("b", labour(95 - now, 3)), batch("c", labour(10, 3)))
    begun = Part(steps=[at("a", "lid", 20, 25), pot], loads=[load()])
    # three more from 70 on are there only where the pot has no more than 1
    found = said_again(problem, now, begun, Part(steps=[work("c", 70, 80, 3)]))
    answer = f"p1 gives 6 quarters at minute {first} ({minutes} min in all); p1 has 4"
    assert found == (() if first is None else (answer,))


def test_of_who_lowers_the_pot_beside_it_has_one_quarter_and_not_none() -> None:
    # lowered 30 to 34 and the pot until 50: from 34 on 3 can be given to another, not 4
    pot = work("b", 20, 50, 3)
    begun = Part(steps=[at("a", "lid", 20, 25), pot], loads=[load()])
    for quarters, answer in (
        (3, ()),
        (4, ("p1 gives 5 quarters at minute 40 (5 min in all); p1 has 4",)),
    ):
        asked = (batch("b", labour(30, 3)), batch("c", labour(5, quarters)))
        later = Part(steps=[work("c", 40, 45, quarters)])
        assert said_again(day(closed(), *asked), 32, begun, later) == answer


def test_who_has_three_quarters_and_is_at_two_things_gives_three() -> None:
    minder = (person("p1", quarters=3),)
    begun = Part(steps=[work("a", 0, 20, 3), work("b", 5, 25, 1)])
    asked = (batch("a", labour(20, 3)), batch("b", labour(20, 1)))
    # 3 and none; from 20 on the second has still none, and 3 can be given
    later = Part(steps=[work("c", 20, 25, 3)])
    problem = day(*asked, batch("c", labour(5, 3)), people=minder)
    assert said_again(problem, 10, begun, later) == ()
    over = Part(steps=[work("c", 19, 24, 3)])
    assert said_again(problem, 10, begun, over) == (
        "p1 gives 6 quarters at minute 19 (1 min in all); p1 has 3",
    )


def test_who_has_three_quarters_and_lowers_has_none_left() -> None:
    pot = work("b", 20, 60, 1)
    begun = Part(steps=[at("a", "lid", 20, 25), pot], loads=[load()])
    asked = (closed(), batch("b", labour(40, 1)))
    for has, answer in (
        (3, ()),
        (2, ("p1 gives 3 quarters at minute 32 (6 min in all); p1 has 2",)),
    ):  # with two she cannot lower at all, nor lift
        problem = day(*asked, people=(person("p1", quarters=has),))
        assert said_again(problem, 32, begun) == answer


def test_what_another_lifts_takes_nothing_of_mine() -> None:
    lid = at("a", "lid", 20, 25)
    for now, canned in (
        (32, load(lowered_by="p2", lifted_by="p2")),
        (63, load(lowered_by="p2", lifted_by="p2")),
    ):
        pot = work("b", now - 5, 90, 3)
        begun = Part(steps=[lid, pot], loads=[canned])
        problem = day(
            closed(),
            batch("b", labour(95 - now, 3)),
            batch("c", labour(10, 2)),
            people=2,
        )
        found = said_again(problem, now, begun, Part(steps=[work("c", 70, 80, 2)]))
        assert found == ("p1 gives 5 quarters at minute 70 (10 min in all); p1 has 4",)


def test_a_pot_that_needs_nobody_takes_nobodys_hands() -> None:
    pot = at("a", "boil", 0, 30)
    problem = day(batch("a", a_step("boil", 30, 0)), batch("b", labour(10, 4)))
    later = Part(steps=[work("b", 10, 20, 4)])
    assert said_again(problem, 10, Part(steps=[pot]), later) == ()
