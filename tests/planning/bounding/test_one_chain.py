"""What is cooked or boiled in one go: only what is tied together counts for a proof."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import pytest
from planning.small_days import day, person, step, work

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
PAN, BOIL = step("p", 5, 2, same_hands="pan"), step("b", 4, 4, same_hands="pan")
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
        ((step("c", 6, 3, same_hands="pan"), STIR), "ct", 0),
        # what takes no time is no cooking, and goes on for ever
        ((step("c", 0, 1, same_hands="pan"), STIR), "ct", 0),
    ],
)
def test_what_was_cooked_in_the_same_hands_right_before_it_is_stirred(
    steps: tuple[Step, ...], at_once: str, cooked: int
) -> None:
    made = tied(*steps, at_once=at_once)
    assert stirrings(day(made), ALONE) == [Stirring(cooked, 3)]


def test_what_another_or_nobody_can_stir_is_not_counted() -> None:
    made = tied(COOK, STIR, at_once="ct")
    assert stirrings(day(made, people=2), ALONE) == []
    lifts = (person("p1", skills=frozenset({"lift"})),)
    assert stirrings(day(made, people=lifts), ALONE) == []


def test_a_pan_or_what_takes_no_time_is_no_stirring() -> None:
    assert stirrings(day(tied(PAN, BOIL, at_once="pb")), ALONE) == []
    assert stirrings(day(tied(step("t", 0, 2), at_once="")), ALONE) == []
    twice = tied(STIR, step("u", 7, 2), at_once="")
    assert stirrings(day(twice), ALONE) == [Stirring(0, 3), Stirring(0, 7)]


def test_of_two_pans_before_one_boil_one_counts() -> None:
    """Two in one boil may be side by side: only the first is sure to be alone."""
    other = step("q", 5, 2, same_hands="pan")
    assert pans(tied(PAN, other, BOIL, at_once="pb qb")) == {0}


def test_a_boil_some_minutes_after_or_of_none_is_no_end_of_a_pan() -> None:
    links = (Link(before="p", after="b", at_least_min=2, at_most_min=2),)
    assert pans(work("it", PAN, BOIL, links=links)) == set()
    none = step("b", 0, 4, same_hands="pan")
    assert pans(tied(PAN, none, at_once="pb")) == set()


def test_the_longest_pan_of_all_batches_counts() -> None:
    long = replace(tied(step("p", 9, 2, same_hands="pan"), BOIL, at_once="pb"), id="b")
    short = tied(PAN, BOIL, at_once="pb")
    assert longest_pan_min(day(short, long), ALONE) == 9
    assert longest_pan_min(day(short, long, people=2), ALONE) == 0


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
