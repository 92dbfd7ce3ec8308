"""Steps as their keeper calls them, and found again by what she calls them."""

from __future__ import annotations

from dataclasses import replace

import pytest
from planning.small_days import day, jelly

from stillroom.planning.words.step_words import (
    called,
    key_named,
    named,
    without_counts,
)
from stillroom.refusal import Unreadable

VERBS = {
    "wash_jars": "Wash 8 half-pint jars",
    "fill": "Fill 8 half-pint jars",
    "lid": "Wipe 8 rims, lids on",
    "wash_pot": "Wash the pot",
}
JELLY = jelly()
BATCH = replace(
    JELLY,
    steps=tuple(
        replace(
            s,
            verb=VERBS.get(s.id, s.verb),
            rinse_min=2 if s.id == "wash_pot" else None,
        )
        for s in JELLY.steps
    ),
)


@pytest.mark.parametrize(
    ("said", "step"),
    [
        ("wash_jars", "wash_jars"),
        ("wash jars", "wash_jars"),
        ("Wipe 8 rims, lids on", "lid"),
        ("wipe rims", "lid"),
        ("Fill half-pint jars", "fill"),
        ("FILL", "fill"),
        ("Wash the pot", "wash_pot"),
        ("Rinse the pot", "wash_pot"),  # as printed where the same goes in next
        ("Fill 9 half-pint jars", None),
        ("sing", None),
        ("", None),
    ],
)
def test_a_step_is_found_by_its_name_or_by_its_words(
    said: str, step: str | None
) -> None:
    assert named(BATCH, said) == step


def test_what_is_in_no_batch_comes_back_as_it_is() -> None:
    problem = day(BATCH)
    assert key_named(problem, (BATCH.id, "wipe 8 rims")) == (BATCH.id, "lid")
    for key in ((BATCH.id, "sing"), ("quince jelly 1", "fill")):
        assert key_named(problem, key) == key


def test_words_that_are_a_step_and_begin_another_are_that_step() -> None:
    verbs = {"fill": "Fill", "lid": "Fill the rest"}
    both = replace(
        BATCH,
        steps=tuple(replace(s, verb=verbs.get(s.id, s.verb)) for s in BATCH.steps),
    )
    assert named(both, "fill the") == "lid"
    assert named(both, "Fill") == "fill"
    verbs |= {"fill": "Ladle 8 jars", "lid": "Ladle the rest"}
    counted = tuple(replace(s, verb=verbs.get(s.id, s.verb)) for s in both.steps)
    with pytest.raises(Unreadable, match="fits several steps"):  # it begins both
        named(replace(both, steps=counted), "ladle")


def test_words_that_fit_several_steps_are_not_guessed_but_asked_about() -> None:
    with pytest.raises(Unreadable) as fault:
        named(BATCH, "Wash")
    assert str(fault.value) == (
        f'"Wash" fits several steps of {BATCH.id}; name one: wash_jars, wash_pot'
    )
    halves = {"fill": "Cut the pears: half of it", "lid": "Cut the pears: half of it"}
    cut = tuple(replace(s, verb=halves.get(s.id, s.verb)) for s in BATCH.steps)
    with pytest.raises(Unreadable, match="name one: fill, lid"):
        named(replace(BATCH, steps=cut), "Cut the pears: half of it")


def test_a_step_that_is_not_there_is_called_by_its_name() -> None:
    assert called(BATCH, "fill") == '"Fill half-pint jars"'
    assert called(BATCH, "skim_again") == '"skim_again"'


@pytest.mark.parametrize(
    "verb", ["Keep it at 60 °C", "Into brine of 5 % salt", "Dry at 140°F", "3 times"]
)
def test_degrees_and_strengths_say_how_it_is_done_and_stay(verb: str) -> None:
    """And where a figure is all that is said, it is not taken away."""
    assert without_counts(verb) == verb
