"""How a division into pots is said: what is counted, and what outweighs a gain."""

from __future__ import annotations

from dataclasses import replace

import pytest

from stillroom.planning.dayplan import Divided
from stillroom.planning.words.division_words import batches_words, division_words

PEARS = Divided(
    product="pears",
    jar="quart",
    plain=(7, 7),
    other=(5, 5, 4),
    taken=False,
    why="more, smaller pots",
    plain_ends_min=500,
    other_ends_min=490,
    plain_loads=2,
    other_loads=2,
    searched=True,
    ways=4,
)
DRIED = replace(PEARS, product="dried apples", one_is="lb", in_pots=False, canned=False)


def said(divided: Divided) -> str:
    return division_words(divided, "07:30")


def test_a_gain_that_is_not_taken_says_what_outweighs_it():
    """Ten minutes sooner are little; as late as by the rule is no gain at all."""
    little = "would be little better: in a short search of each, done by 15:40"
    assert little in said(PEARS)
    assert said(PEARS).endswith(
        "; one pot more to wash, or the noise of a search, outweighs that"
    )
    assert said(replace(DRIED)).endswith(
        "10 min sooner; one batch more, or the noise of a search, outweighs that"
    )
    taken = said(replace(PEARS, taken=True))
    assert "10 min sooner" in taken
    assert "outweighs" not in taken


def test_two_that_end_alike_are_done_by_that_hour_either_way():
    level = said(replace(PEARS, other_ends_min=500))
    none = "would be no better: in a short search of each, done by 15:50 either way"
    assert none in level
    assert not any(word in level for word in ("sooner", "later", "outweighs"))


@pytest.mark.parametrize(
    ("loads", "words"),
    [
        ((2, 1), "with 1 canner load rather than 2"),
        ((1, 1), "with 1 canner load either way"),
        ((1, 2), "with 2 canner loads rather than 1"),
    ],
)
def test_one_load_is_one_load(loads: tuple[int, int], words: str):
    plain, other = loads
    assert words in said(replace(PEARS, plain_loads=plain, other_loads=other))


def test_what_goes_through_no_canner_has_no_loads_and_fills_none():
    """The loads of the day are then those of other things."""
    frozen = said(replace(PEARS, canned=False))
    assert "two batches of 7 quarts, as few even pots as hold it;" in frozen
    assert "canner" not in frozen


def test_what_goes_into_no_pot_is_said_in_batches():
    """The names of the divisions are of pots: dried apples are on trays."""
    assert "(more, smaller batches)" in said(DRIED)
    each = "the pot full each time"
    full = said(replace(DRIED, why=each))
    assert "(as much as one batch may be each time)" in full
    assert f"({each})" in said(replace(PEARS, why=each))


def test_what_was_to_be_divided_is_counted_as_its_recipe_counts_it():
    alone = replace(PEARS, other=None, other_ends_min=None)
    assert "3 other ways to divide the 14 jars' worth none" in said(alone)
    assert "to divide the 14 lb none" in said(replace(alone, one_is="lb"))
    assert "to divide the 14 pints none" in said(replace(alone, one_is="pint"))
    assert "to divide it none" in said(replace(alone, plain=(1,)))


def test_where_there_is_but_one_other_way_it_is_one():
    two = said(replace(PEARS, other=None, other_ends_min=None, ways=2))
    assert two.endswith(
        "; the one other way to divide the 14 jars' worth does not end clearly sooner "
        "in a plan by hand"
    )
    many = said(replace(PEARS, other=None, other_ends_min=None, ways=3))
    assert "; of 2 other ways to divide the 14 jars' worth none ends clearly" in many


def test_numbers_are_words_up_to_eight_and_one_is_not_more():
    assert batches_words((1,), "quart") == "one batch of 1 quart"
    assert batches_words((1, 1), "pint") == "two batches of 1 pint"
    assert batches_words((2, 1), "pint") == "two batches, one of 2 pints and one of 1"
    assert batches_words((7,) * 8, "pint") == "eight batches of 7 pints"
    assert batches_words((7,) * 9, "pint") == "9 batches of 7 pints"
