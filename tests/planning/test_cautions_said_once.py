"""Of a recipe and of its process a caution is told once, by the recipe's words."""

from __future__ import annotations

import pytest

from stillroom.book.procedures import procedures
from stillroom.book.processes import process_for
from stillroom.methods.recipes import process_name
from stillroom.planning.dayplan import says_already
from stillroom.refusal import Caution, Refusal

JARS = ("half-pint", "pint", "quart")
CANNERS = ("boiling-water", "dial-gauge", "weighted-gauge")
SAID_BY_THE_RECIPE = {
    "European pears; Asian pears need added acid.": {
        "European pears only; Asian pears are not acid enough."
    },
    "Yellow-fleshed only: white-fleshed ones are lower in acid.": {
        "Yellow-fleshed peaches only, for white ones are lower in acid; the lemon "
        "juice is part of the recipe.",
        "Yellow-fleshed peaches and nectarines only: white ones are lower in acid.",
    },
    "The acid is the vinegar of the tested recipe, 5 % acidity: never diluted, never "
    "less of it.": {
        "Vinegar of 5 % acidity, in the measure printed: never diluted, never less."
    },
    "No more onion, pepper, celery or mushroom than the tested recipe.": {
        "No more onion, pepper, celery or mushroom than printed."
    },
    "Only modified clear cooking starch; no flour, corn starch or instant starch. Fill "
    "and process at once; a jar that did not seal is not processed again.": {
        "Only modified clear cooking starch made for canning; no flour, corn starch or "
        "instant starch. Fill and process at once; a jar that did not seal is not "
        "processed again."
    },
}
"""What is left out of the process, and which cautions of recipes say it."""


def test_what_is_left_out_is_said_by_the_recipe() -> None:
    """Each pair was read by eye: a new one is to be read as well."""
    found: dict[str, set[str]] = {}
    for procedure in procedures():
        for jar in JARS:
            for canner in CANNERS:
                process = process_for(
                    process_name(procedure), jar=jar, elevation_ft=1500.0, canner=canner
                )
                if isinstance(process, Refusal):
                    continue
                for caution in process.cautions:
                    by = {
                        own.text
                        for own in procedure.cautions
                        if own.text != caution.text
                        and says_already([own], caution.text)
                    }
                    if by:
                        found.setdefault(caution.text, set()).update(by)
    assert found == SAID_BY_THE_RECIPE


@pytest.mark.parametrize(
    ("of_process", "of_recipe"),
    [
        ("No quart jars.", "Quart jars only."),
        ("Raw pack only.", "Hot pack only."),
        ("Never half-pint jars.", "Half-pint jars only."),
    ],
)
def test_of_a_few_words_one_alone_turns_the_meaning(
    of_process: str, of_recipe: str
) -> None:
    """Most of its words are there, and it says another thing."""
    assert not says_already([Caution(of_recipe, "a book")], of_process)


def test_of_a_few_words_the_same_is_told_once() -> None:
    assert says_already([Caution("Half-pints only.", "a book")], "Half-pints only.")
