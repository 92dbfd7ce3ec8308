"""Steps as their keeper calls them, and found again by what she calls them."""

from __future__ import annotations

from dataclasses import replace

import pytest
from planning.small_days import day, jelly

from stillroom.planning.words.step_words import key_named, named

VERBS = {
    "wash_jars": "Wash 8 half-pint jars",
    "fill": "Fill 8 half-pint jars",
    "lid": "Wipe 8 rims, lids on",
    "wash_pot": "Wash the pot",
}
JELLY = jelly()
BATCH = replace(
    JELLY,
    steps=tuple(replace(s, verb=VERBS.get(s.id, s.verb)) for s in JELLY.steps),
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
        ("Wash", None),  # two of them: nobody guesses
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
