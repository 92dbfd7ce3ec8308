"""What may be learned is the work of hands and fire; no printed time is among it."""

import re

import pytest

from stillroom.book.procedures import procedures
from stillroom.methods.learned import (
    AS_PUBLISHED,
    Factor,
    Learned,
    may_be_learned,
    with_own_minutes,
)
from stillroom.methods.step import Spread, Step
from stillroom.refusal import Refused
from tests.one_batch_of import ids_of, recipe_of, step_of, work_of

PACKS = (
    "peaches packed raw",
    "figs",
    "tomatoes packed in water",
    "applesauce",
    "apple juice",
    "frozen green beans",
    "dried apples",
    "blackberry syrup",
)
SOURCES = re.compile(r"printed|published|Univ|USDA|NCHFP|Extension|Guide|leaflet")
MINUTES = re.compile(r"\b\d+(\.\d+)?( \d/\d)? min\b|by the clock")
TENTH = Factor(
    middle=0.1, low=0.05, high=0.2, surely_above=0.09, surely_below=0.11, runs=99
)


def every_work():
    """The steps of one batch of every recipe that this stove can make."""
    names = dict.fromkeys([*(p.name for p in procedures()), *PACKS])
    for name in names:
        for jar in ("half-pint", "pint"):
            try:
                yield name, work_of(recipe_of(name, jar=jar), jar=jar)
            except Refused:
                continue


@pytest.fixture(scope="module")
def works():
    return list(every_work())


def test_whatever_has_a_source_or_minutes_in_its_words_is_not_learned(works):
    assert len(works) > 60
    learned = [s for _, work in works for s in work.steps if may_be_learned(s)]
    assert len(learned) > 500
    for step in learned:
        assert not SOURCES.search(step.basis), step
        assert not MINUTES.search(step.verb), step


def test_had_every_step_been_learned_quick_only_those_would_be(works):
    for name, work in works:
        quick = Learned(any_product=dict.fromkeys(ids_of(work), TENTH))
        own = with_own_minutes(work, name, quick)
        assert own.links == work.links
        for before, after in zip(work.steps, own.steps, strict=True):
            if may_be_learned(before):
                assert after.book_min == before.duration_min
            else:
                assert after == before


@pytest.mark.parametrize(
    ("product", "jar", "step"),
    [
        ("plum jelly", "half-pint", "hard_boil"),
        ("figs", "pint", "cook"),
        ("figs", "pint", "blanch"),
        ("tomatoes packed in water", "pint", "cook"),
        ("frozen green beans", "pint", "blanch"),
        ("blackberry syrup", "pint", "simmer"),
    ],
)
def test_a_printed_time_is_not_learned(works, product, jar, step):
    work = work_of(recipe_of(product, jar=jar), jar=jar)
    assert not may_be_learned(step_of(work, step))


def test_jars_that_are_boiled_empty_are_not_learned():
    boiled = Step(
        id="heat_jars",
        verb="Boil 8 empty half-pint jars for 12 min",
        duration_min=27,
        spread=Spread(21, 27, 41),
        basis="published sterilising time, 15 min to the boil",
    )
    assert not may_be_learned(boiled)


@pytest.mark.parametrize("step", ["fill", "wipe_and_lid", "sugar_in", "to_boil"])
def test_hands_and_fire_are_learned(step):
    assert may_be_learned(step_of(work_of(recipe_of("plum jelly")), step))


def test_as_published_is_as_published():
    work = work_of(recipe_of("plum jelly"))
    assert with_own_minutes(work, "plum jelly", AS_PUBLISHED) == work
