"""What a tired person types for an option or a lot: read as it is meant."""

from __future__ import annotations

import re
from typing import Any

import click

from stillroom.book.names import canner_named
from stillroom.book.processes import METHODS
from stillroom.cli.said_otherwise import way_meant
from stillroom.measures.number_words import in_digits
from stillroom.refusal import Refusal, Unreadable
from stillroom.stock.events import Doubt, Way

_MINUTES = re.compile(r"(?i)\s*([0-9]{1,4})\s*(?:m|min|mins|minutes?)?\.?\s*")
_SECONDS = re.compile(r"(?i)([0-9]{1,3})\s*(?:s|sec|secs|seconds?)\.?")
_HALF = re.compile(r"(?i)(?:1/2|½|0?\.5)\s*(?:m|min|minutes?)?\.?")
_LONGEST_MIN = 600
_NUMBERED = re.compile(r"^[0-9½⅓⅔¼¾⅛⅜⅝⅞.]")
_NONE_OR_ALL = frozenset(
    {"none", "nothing", "nil", "zero", "no", "all", "everything", "gone"}
)
_DIGIT = re.compile(r"^[0-9/]+(?=\s|$)")
_MOST_UNIT_WORDS = 2
"""Behind a number in words; a three bean salad has more, and goes on in its name."""


class Minutes(click.ParamType[int]):
    """Whole minutes: "10", "10 min"."""

    name = "min"

    def convert(
        self, value: Any, param: click.Parameter | None, ctx: click.Context | None
    ) -> int:
        """Return the minutes, or say what may be written."""
        found = _MINUTES.fullmatch(str(value))
        if not found or int(found[1]) > _LONGEST_MIN:
            self.fail(
                f"{str(value)[:30]!r} is no number of minutes: write such as 10, at "
                f"most {_LONGEST_MIN}",
                param,
                ctx,
            )
        return int(found[1])


class Boil(click.ParamType[int]):
    """Seconds of a timed boil: "1", "1 min", "1/2 min", "30 s"."""

    name = "minutes"

    def convert(
        self, value: Any, param: click.Parameter | None, ctx: click.Context | None
    ) -> int:
        """Return the seconds, or say what is meant."""
        said = str(value).strip()
        seconds = _SECONDS.fullmatch(said)
        if seconds is not None:
            return int(seconds[1])
        if _HALF.fullmatch(said):
            return 30
        return 60 * MINUTES.convert(said, param, ctx)


class OneWay(click.Choice[str]):
    """How something went: also "ate", "gave", "used"."""

    def convert(
        self, value: Any, param: click.Parameter | None, ctx: click.Context | None
    ) -> str:
        """Return the way that is meant."""
        meant = way_meant(str(value))
        return super().convert(value if meant is None else meant.value, param, ctx)


class OneCanner(click.Choice[str]):
    """A canner of the book: also "dial", "water bath"."""

    def convert(
        self, value: Any, param: click.Parameter | None, ctx: click.Context | None
    ) -> str:
        """Return the canner that is meant."""
        named = canner_named(str(value))
        return super().convert(
            value if isinstance(named, Refusal) else named, param, ctx
        )


class OneDoubt(click.Choice[str]):
    """What was wrong with a load: also with spaces."""

    def convert(
        self, value: Any, param: click.Parameter | None, ctx: click.Context | None
    ) -> str:
        """Return the doubt that is meant."""
        return super().convert(str(value).strip().replace(" ", "-"), param, ctx)


MINUTES = Minutes()
BOIL = Boil()
DOUBT = OneDoubt([doubt.value.replace(" ", "-") for doubt in Doubt])
WAY = OneWay([way.value for way in Way])
CANNER = OneCanner(METHODS)


def lot_and_place(words: tuple[str, ...]) -> tuple[str, str]:
    """
    Return a lot and the place that it goes to, from words that nobody quoted.

    Raises
    ------
    Unreadable
        If it was not said where to.

    Examples
    --------
    >>> lot_and_place(("fig", "jam", "to", "the", "stand"))
    ('fig jam', 'stand')
    """
    if len(words) == 2:
        return words[0], words[1]
    if "to" in words[1:-1]:
        at = words.index("to", 1)
        place = " ".join(words[at + 1 :]).removeprefix("the ")
        return " ".join(words[:at]), place
    raise Unreadable(
        f"it was not said where {' '.join(words)[:60]!r} goes: write the lot, and the "
        "place behind it, such as plum jelly to the stand"
    )


def lot_and_quantity(words: tuple[str, ...]) -> tuple[str, str]:
    """
    Return a lot and how much of it, from words that nobody quoted.

    Raises
    ------
    Unreadable
        If it was not said how much.

    Examples
    --------
    >>> lot_and_quantity(("apple", "butter", "2", "pints"))
    ('apple butter', '2 pints')
    >>> lot_and_quantity(("three", "bean", "salad", "half", "a", "dozen"))
    ('three bean salad', 'half a dozen')
    """
    for at, word in enumerate(words):
        if at and (_NUMBERED.match(word) or word.casefold() in _NONE_OR_ALL):
            return " ".join(words[:at]), " ".join(words[at:])
    if len(words) == 2:
        return words[0], words[1]
    for at in range(1, len(words)):
        if _is_said_aloud(" ".join(words[at:])):
            return " ".join(words[:at]), " ".join(words[at:])
    raise Unreadable(
        f"it was not said how much of {' '.join(words)[:60]!r}: write the lot and the "
        'quantity, such as "plum juice" 2 bags'
    )


def _is_said_aloud(text: str) -> bool:
    """Whether it is a quantity whose number is a word: "half a dozen", "two pints"."""
    found = _DIGIT.match(in_digits(text))
    rest = in_digits(text)[found.end() :].split() if found else []
    return found is not None and len(rest) <= _MOST_UNIT_WORDS
