"""
The judge on rinses, on the smallest day where each rule bites.

A pot or mill in which the same goes on is only rinsed; before anything else, and at the
end, it is washed. Each case is a day that holds, and the one thing that does not.
"""

from __future__ import annotations

import pytest
from planning.small_days import day
from planning.small_days import step as a_step
from planning.written_out import at, batch, said

from stillroom.planning.problem import Batch, Problem
from stillroom.planning.timetable import PlacedStep

WASH_MIN, RINSE_MIN = 5, 2


def washed(name: str, product: str = "jelly", **more: object) -> Batch:
    """A batch of which only the wash of its pot is asked for, or a rinse instead."""
    wash = a_step("wash", WASH_MIN, 0, in_pot=True, rinse_min=RINSE_MIN)
    given: dict[str, object] = {"product": product, "pots": ("big",)}
    return batch(name, wash, **{**given, **more})


def rinse(name: str, start: int, pot: str | None = "big-1") -> PlacedStep:
    return at(name, "wash", start, start + RINSE_MIN, pot=pot, rinsed=True)


def wash(name: str, start: int, pot: str = "big-1") -> PlacedStep:
    return at(name, "wash", start, start + WASH_MIN, pot=pot)


def unused(name: str, what: str = "pot big-1") -> str:
    return (
        f"{what} is only rinsed after {name} and not used again: "
        "it is washed at the end"
    )


def other(name: str, follows: str, what: str = "pot big-1") -> str:
    return (
        f"{what} goes from {name} to {follows} only rinsed; "
        "between two products it is washed"
    )


def test_a_rinse_takes_its_own_minutes() -> None:
    problem = day(washed("a"), washed("b"))
    assert said(problem, [rinse("a", 0), wash("b", 10)]) == ()
    long = at("a", "wash", 0, WASH_MIN, pot="big-1", rinsed=True)
    assert said(problem, [long, wash("b", 10)]) == (
        "wash of a lasts 5 min; it takes 2",
    )
    short = at("a", "wash", 0, RINSE_MIN, pot="big-1")
    assert said(problem, [short, wash("b", 10)]) == (
        "wash of a lasts 2 min; it takes 5",
    )


def test_the_last_pot_of_the_day_is_washed() -> None:
    problem = day(washed("a"), washed("b"))
    assert said(problem, [rinse("a", 0), rinse("b", 10)]) == (unused("b"),)
    # what went through it before, and what is in another pot, does not come after
    assert said(problem, [wash("b", 0), rinse("a", 10)]) == (unused("a"),)
    two = day(washed("a"), washed("b"), big_pots=2)
    assert said(two, [rinse("a", 0), wash("b", 10, "big-2")]) == (unused("a"),)


def test_what_its_own_batch_does_in_it_is_no_other_use() -> None:
    steps = (
        a_step("wash", WASH_MIN, 0, in_pot=True, rinse_min=RINSE_MIN),
        a_step("dry", 5, 0, in_pot=True),
    )
    problem = day(batch("a", *steps, pots=("big",)))
    placed = [rinse("a", 0), at("a", "dry", 10, 15, pot="big-1")]
    assert said(problem, placed) == (unused("a"),)


def test_what_only_stands_in_it_by_mistake_is_no_use() -> None:
    problem = day(washed("a"), batch("b", a_step("lid", 5, 0)))
    placed = [rinse("a", 0), at("b", "lid", 10, 15, pot="big-1")]
    assert said(problem, placed) == (
        "lid of b is put into pot big-1; it needs none",
        unused("a"),
    )


def test_between_two_products_a_pot_is_washed() -> None:
    problem = day(washed("a"), washed("b", "butter"))
    assert said(problem, [wash("a", 0), wash("b", 10)]) == ()
    assert said(problem, [rinse("a", 0), wash("b", 10)]) == (other("a", "b"),)


@pytest.mark.parametrize(
    ("a", "b", "enough"),
    [
        (washed("a", "jelly by 12"), washed("b", "jelly by 15"), False),
        (
            washed("a", "jelly by 12", contents="jelly"),
            washed("b", "jelly by 15", contents="jelly"),
            True,
        ),
        (washed("a", contents="plum"), washed("b", contents="apple"), False),
        (washed("a", contents="jelly"), washed("b"), True),
        (washed("a"), washed("b", contents="jelly"), True),
    ],
)
def test_what_is_in_the_pot_decides_and_not_what_it_is_for(
    a: Batch, b: Batch, enough: bool
) -> None:
    found = said(day(a, b), [rinse("a", 0), wash("b", 10)])
    assert found == (() if enough else (other("a", "b"),))


def test_what_goes_in_next_decides() -> None:
    problem = day(washed("a"), washed("b", "butter"), washed("c"))
    first_c = [rinse("a", 0), wash("b", 20), wash("c", 10)]
    assert said(problem, first_c) == ()
    first_b = [rinse("a", 0), wash("b", 10), wash("c", 20)]
    assert said(problem, first_b) == (other("a", "b"),)


def test_two_cannot_be_in_one_pot_and_still_one_of_them_is_next() -> None:
    problem = day(washed("a"), washed("b"))
    assert said(problem, [rinse("a", 0), wash("b", 0)]) == (
        "pot big-1 holds a and b at minute 0",
    )


def test_only_a_wash_that_may_be_less_is_a_rinse() -> None:
    no_wash = batch("a", a_step("boil", 5, 0, in_pot=True), pots=("big",))
    placed = at("a", "boil", 0, 5, pot="big-1", rinsed=True)
    assert said(day(no_wash, washed("b")), [placed, wash("b", 10)]) == (
        "boil of a is planned as a rinse; it is no wash of that kind",
    )
    nowhere = day(washed("a", pots=()), washed("b"))
    assert said(nowhere, [rinse("a", 0, None), wash("b", 10)]) == (
        "wash of a is planned as a rinse; it is no wash of that kind",
    )


# --- the mill ---


def milled(*products: str) -> Problem:
    wash_it = a_step("wash", WASH_MIN, 0, on_mill=True, rinse_min=RINSE_MIN)
    batches = (
        batch(name, wash_it, product=product)
        for name, product in zip("ab", products, strict=True)
    )
    return day(*batches, mills=2)


def on_mill(
    name: str, start: int, mill: int = 1, *, rinsed: bool = False
) -> PlacedStep:
    end = start + (RINSE_MIN if rinsed else WASH_MIN)
    return at(name, "wash", start, end, mill=mill, rinsed=rinsed)


def test_a_mill_is_rinsed_between_two_of_one_product_only() -> None:
    first = on_mill("a", 0, rinsed=True)
    assert said(milled("butter", "butter"), [first, on_mill("b", 10)]) == ()
    assert said(milled("butter", "sauce"), [first, on_mill("b", 10)]) == (
        other("a", "b", "mill 1"),
    )
    assert said(milled("butter", "butter"), [first, on_mill("b", 10, 2)]) == (
        unused("a", "mill 1"),
    )


def test_what_only_stands_on_the_mill_by_mistake_is_no_use() -> None:
    wash_it = a_step("wash", WASH_MIN, 0, on_mill=True, rinse_min=RINSE_MIN)
    problem = day(batch("a", wash_it), batch("b", a_step("lid", 5, 0)))
    placed = [on_mill("a", 0, rinsed=True), at("b", "lid", 10, 15, mill=1)]
    assert said(problem, placed) == (
        "lid of b is put on mill 1; it needs none",
        unused("a", "mill 1"),
    )
