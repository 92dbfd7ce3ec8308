"""What is cooked or boiled in one go: only what is tied together counts for a proof."""

from __future__ import annotations

from itertools import pairwise

import pytest
from planning.small_days import day, step, work

from stillroom.methods.step import Step
from stillroom.planning.bounding.pans import pans
from stillroom.planning.bounding.stirrings import Stirring, longest_pan_min, stirrings
from stillroom.planning.problem import Batch, Link

ALONE = frozenset({"p1"})


def tied(*steps: Step, at_once: str) -> Batch:
    """Steps of which some follow at once: "ab cd" is b after a, and d after c."""
    links = [
        Link(before=a, after=b, at_most_min=0)
        for line in at_once.split()
        for a, b in pairwise(line)
    ]
    return work("it", *steps, links=tuple(links))


SOAK, WARM = step("s", 6, 0), step("w", 2, 1, same_hands="pan")
COOK, STIR = step("c", 6, 1, same_hands="pan"), step("t", 3, 2, same_hands="pan")


@pytest.mark.parametrize(
    ("steps", "at_once", "cooked"),
    [
        ((COOK, STIR), "ct", 6),
        ((WARM, COOK, STIR), "wct", 2 + 6),
        ((WARM, COOK, STIR), "ct", 6),  # warmed some time before
        ((SOAK, STIR), "st", 0),  # takes nobody
        # soaked and stirred in one go; what is cooked for as long is another thing
        ((COOK, SOAK, STIR), "st", 0),
        ((step("c", 6, 1, same_hands="other"), STIR), "ct", 0),
        ((step("c", 6, 1), step("t", 3, 2)), "ct", 0),
        ((step("c", 6, 2, same_hands="pan"), STIR), "ct", 0),
    ],
)
def test_what_was_cooked_in_the_same_hands_right_before_it_is_stirred(
    steps: tuple[Step, ...], at_once: str, cooked: int
) -> None:
    made = tied(*steps, at_once=at_once)
    found = [s for s in stirrings(day(made), ALONE) if s.minutes == 3]
    assert found == [Stirring(cooked, 3)]


def test_what_another_can_stir_is_not_counted() -> None:
    assert stirrings(day(tied(COOK, STIR, at_once="ct"), people=2), ALONE) == []


PAN, BOIL = step("p", 5, 2, same_hands="pan"), step("b", 4, 4, same_hands="pan")


@pytest.mark.parametrize(
    ("steps", "at_once", "is_pan"),
    [
        ((PAN, BOIL), "pb", True),
        ((PAN, step("b", 4, 3, same_hands="pan")), "pb", True),
        ((PAN, step("b", 4, 2, same_hands="pan")), "pb", False),
        ((PAN, BOIL), "", False),
        ((PAN, step("b", 4, 4, same_hands="other")), "pb", False),
        ((step("p", 5, 2), step("b", 4, 4)), "pb", False),
        ((step("p", 5, 1, same_hands="pan"), BOIL), "pb", False),
        # boiled 5 min after the soaking began, which has nothing to do with the pan
        ((PAN, step("s", 5, 0), BOIL), "sb", False),
    ],
)
def test_a_pan_boils_up_as_soon_as_it_is_watched_no_more(
    steps: tuple[Step, ...], at_once: str, is_pan: bool
) -> None:
    made = tied(*steps, at_once=at_once)
    assert pans(made) == ({0} if is_pan else set())
    assert longest_pan_min(day(made), ALONE) == (5 if is_pan else 0)
