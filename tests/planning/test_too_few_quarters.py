"""Somebody to whom no step is given, since all of them take more attention."""

from dataclasses import replace

import pytest

from stillroom.methods.step import Skill
from stillroom.planning.words.too_few_quarters import too_few_quarters
from tests.planning.small_days import day, jelly, person

ANN = person("Ann")
LIV = replace(person("Liv (11)"), skills=frozenset({Skill.COLD}))


def said(**changes: object) -> list[str]:
    problem = day(jelly(), people=(ANN, replace(LIV, **changes)))
    return [caution.text for caution in too_few_quarters(problem)]


def test_it_is_said_why_a_child_is_given_nothing():
    (one,) = said(quarters=2)
    assert one.startswith(
        "Liv (11) has 2 quarters of attention, and no step of this day that Liv (11) "
        "may do takes so few: the plan gives Liv (11) nothing. The least of them takes "
        "3: write quarters = 3"
    )
    assert said(quarters=1)[0].startswith("Liv (11) has 1 quarter of attention")


@pytest.mark.parametrize(
    "changes",
    [
        {"quarters": 3},
        {"quarters": 4},
        {"quarters": 2, "skills": frozenset({Skill.PAN})},  # a boil is watched with 2
        {"quarters": 2, "skills": frozenset()},
    ],
)
def test_it_is_not_said_of_who_could_do_something_or_has_no_skill(changes):
    assert said(**changes) == []
