"""
The judge on pots and mills, on the smallest day where each rule bites.

Each case is a day that holds, and the one minute, jar or name that does not, with the
whole answer: one sentence, and no other rule speaks.
"""

from __future__ import annotations

from dataclasses import replace

from planning.small_days import day
from planning.small_days import step as a_step
from planning.written_out import at, batch, labour, said

from stillroom.planning.problem import (
    Batch,
)
from stillroom.planning.timetable import (
    PlacedStep,
)

# --- 7, 8 pots and mills ---


def pot_batch(name: str, sizes: tuple[str, ...] = ("big",)) -> Batch:
    """Boil, something else meanwhile, wash: the pot is held from first to last."""
    boil, wash = a_step("boil", 10, 0, in_pot=True), a_step("wash", 5, 0, in_pot=True)
    return batch(name, boil, wash, pots=sizes)


def in_pot(name: str, start: int, wash: int, pot: str | None) -> list[PlacedStep]:
    return [
        at(name, "boil", start, start + 10, pot=pot),
        at(name, "wash", wash, wash + 5, pot=pot),
    ]


def test_a_pot_is_held_until_it_is_washed() -> None:
    problem = day(pot_batch("a"), pot_batch("b"))
    # a boils 0-10 and is washed 20-25; the pot is not free between
    held = in_pot("a", 0, 20, "big-1")
    assert said(problem, [*held, *in_pot("b", 25, 35, "big-1")]) == ()
    assert said(problem, [*held, *in_pot("b", 24, 35, "big-1")]) == (
        "pot big-1 holds a and b at minute 24",
    )
    assert said(problem, [*held, *in_pot("b", 10, 40, "big-1")]) == (
        "pot big-1 holds a and b at minute 10",
    )


def test_who_is_listed_first_may_have_the_pot_last() -> None:
    problem = day(pot_batch("a"), pot_batch("b"))
    first = in_pot("b", 0, 20, "big-1")
    assert said(problem, [*in_pot("a", 25, 35, "big-1"), *first]) == ()
    assert said(problem, [*in_pot("a", 24, 35, "big-1"), *first]) == (
        "pot big-1 holds a and b at minute 24",
    )


def test_two_pots_hold_two_batches() -> None:
    problem = day(pot_batch("a"), pot_batch("b"), big_pots=2)
    steps = [*in_pot("a", 0, 10, "big-1"), *in_pot("b", 0, 10, "big-2")]
    assert said(problem, steps) == ()


def test_a_pot_is_of_an_allowed_size_and_the_same_throughout() -> None:
    problem = day(pot_batch("a"))
    assert said(problem, in_pot("a", 0, 10, "small-1")) == (
        "a is in pot small-1 (small); allowed are big",
    )
    assert said(problem, in_pot("a", 0, 10, None)) == (
        "a has no pot for all of its steps",
    )
    either = day(pot_batch("a", ("big", "small")))
    moved = [*in_pot("a", 0, 10, "big-1")[:1], *in_pot("a", 0, 10, "small-1")[1:]]
    assert said(either, moved) == ("a changes pots: big-1, small-1",)


def test_a_pot_goes_to_what_needs_one() -> None:
    dry = day(batch("a", labour()))
    assert said(dry, [at("a", "do", 0, 10, "p1", pot="big-1")]) == (
        "do of a is put into pot big-1; it needs none",
    )
    lid = a_step("lid", 5, 0)
    beside = pot_batch("a")  # its pot is for the boil and the wash, not for the lids
    problem = day(replace(beside, steps=(*beside.steps, lid)))
    steps = [*in_pot("a", 0, 10, "big-1"), at("a", "lid", 10, 15, pot="big-1")]
    assert said(problem, steps) == ("lid of a is put into pot big-1; it needs none",)
    without = day(pot_batch("a", ()))  # in some vessel that the kitchen does not count
    assert said(without, in_pot("a", 0, 10, None)) == ()
    assert len(said(without, in_pot("a", 0, 10, "big-1"))) == 2  # once for each step


def test_a_batch_of_which_nothing_goes_into_a_pot_needs_none() -> None:
    problem = day(batch("a", labour(), pots=("big",)))
    assert said(problem, [at("a", "do", 0, 10, "p1")]) == ()


def mill_batch(name: str) -> Batch:
    steps = a_step("mill", 10, 0, on_mill=True), a_step("wash", 5, 0, on_mill=True)
    return batch(name, *steps)


def on_mill(name: str, start: int, wash: int, mill: int | None = 1) -> list[PlacedStep]:
    return [
        at(name, "mill", start, start + 10, mill=mill),
        at(name, "wash", wash, wash + 5, mill=mill),
    ]


def test_the_mill_is_held_until_it_is_washed() -> None:
    problem = day(mill_batch("a"), mill_batch("b"))
    held = on_mill("a", 0, 20)
    assert said(problem, [*held, *on_mill("b", 25, 35)]) == ()
    assert said(problem, [*held, *on_mill("b", 24, 35)]) == (
        "mill 1 holds a and b at minute 24",
    )
    two = replace(problem, mills=2)
    assert said(two, [*held, *on_mill("b", 0, 35, 2)]) == ()


def test_milling_and_its_wash_are_on_one_mill() -> None:
    problem = day(mill_batch("a"), mills=2)
    answer = ("a has not one mill for all of its milling and washing",)
    apart = [*on_mill("a", 0, 20, 1)[:1], *on_mill("a", 0, 20, 2)[1:]]
    assert said(problem, apart) == answer
    assert said(problem, on_mill("a", 0, 20, None)) == answer


def test_what_is_on_two_mills_is_said_to_hold_neither() -> None:
    """Which one it is to have is not known yet: that comes first."""
    problem = day(mill_batch("a"), mill_batch("b"), mills=2)
    apart = [*on_mill("a", 0, 20, 1)[:1], *on_mill("a", 0, 20, 2)[1:]]
    assert said(problem, [*apart, *on_mill("b", 0, 30, 1)]) == (
        "a has not one mill for all of its milling and washing",
    )


def test_what_is_not_milled_is_put_on_no_mill() -> None:
    problem = day(batch("a", labour()))
    assert said(problem, [at("a", "do", 0, 10, "p1", mill=1)]) == (
        "do of a is put on mill 1; it needs none",
    )
