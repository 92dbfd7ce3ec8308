"""
A sentence about a plan, and what it speaks of: steps, loads and minutes of the day.

Whoever finds something out says it in parts. So the same sentence can be told with the
plan's own ids, or as the kitchen calls them and by its clock, and is never read again.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import TypeAlias


@dataclass(frozen=True, slots=True)
class StepOf:
    """A step, by its id in its batch."""

    batch: str
    step: str

    def __str__(self) -> str:
        return self.step


@dataclass(frozen=True, slots=True)
class TheLoad:
    """A load, by its id."""

    load: str

    def __str__(self) -> str:
        return f"load {self.load}"


@dataclass(frozen=True, slots=True)
class Minute:
    """A minute of the day, negative before its hour. [min]"""

    minute: int

    def __str__(self) -> str:
        return f"minute {self.minute}"


@dataclass(frozen=True, slots=True)
class Id:
    """A jar, a process or a pair of hands, by a word with underscores."""

    id: str

    def __str__(self) -> str:
        return self.id


Part: TypeAlias = str | StepOf | TheLoad | Minute | Id


@dataclass(frozen=True, slots=True)
class Sentence:
    """
    What is said, part after part; text of a keeper's own is text, whatever is in it.

    >>> came = says(StepOf("plum jelly 1", "fill"), " is late; at most ", "5 min")
    >>> str(came)
    'fill is late; at most 5 min'
    >>> came.told(lambda part: f'"{part}"' if isinstance(part, StepOf) else part)
    '"fill" is late; at most 5 min'
    """

    parts: tuple[Part, ...]

    def __str__(self) -> str:
        return self.told(str)

    def told(self, call: Callable[[Part], object]) -> str:
        """Say it, each part as ``call`` calls it."""
        return "".join(str(call(part)) for part in self.parts)

    def moved(self, by_min: int) -> Sentence:
        """Say the same of a day whose minutes count from another one. [min]"""
        return Sentence(
            tuple(
                Minute(part.minute + by_min) if isinstance(part, Minute) else part
                for part in self.parts
            )
        )


def says(*parts: Part | Sentence) -> Sentence:
    """Put a sentence together; sentences in it are parts of it."""
    return Sentence(tuple(_flat(parts)))


def _flat(parts: tuple[Part | Sentence, ...]) -> Iterator[Part]:
    for part in parts:
        if isinstance(part, Sentence):
            yield from part.parts
        else:
            yield part
