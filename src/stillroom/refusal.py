"""
The two ways of saying no, and the word of warning that goes along with a yes.

::

    Exception
    ├── Refused      a rule of the trade says no: reason, instead, source (exit code 3)
    └── Unreadable   what was given cannot be read or used: the faults (exit code 2)

A look-up or a check *answers* with a `Refusal`, so that the type checker asks for it;
the shells (command line, pages) *raise* it as `Refused`.
"""

from __future__ import annotations

import contextlib
from collections.abc import Iterator
from dataclasses import dataclass
from typing import TypeVar

T = TypeVar("T")

COMMON_PRACTICE = "common practice, no source"


@dataclass(frozen=True, slots=True)
class Source:
    """Where a figure is from, and whether its text was seen."""

    text: str
    how_known: str
    """``looked_up``, ``memory``, ``computed``, ``keeper`` or ``practice``."""

    def __str__(self) -> str:
        return self.text


def ended(sentence: str) -> str:
    """
    Return a sentence with its full stop, where it has no end of its own.

    >>> ended("count again"), ended("is plum jelly meant?")
    ('count again.', 'is plum jelly meant?')
    """
    return sentence if sentence.endswith((".", "!", "?")) else f"{sentence}."


@dataclass(frozen=True, slots=True)
class Refusal:
    """No, with the reason, what to do instead, and who says so."""

    reason: str
    instead: str
    source: str

    def __str__(self) -> str:
        said = f"{ended(self.reason)} Instead: {ended(self.instead)}"
        return f"{said} Source: {ended(self.source)}"


@dataclass(frozen=True, slots=True)
class Caution:
    """A word of warning that goes along with a yes."""

    text: str
    source: str

    def __str__(self) -> str:
        return f"{self.text} ({self.source})"


class Refused(Exception):
    """A `Refusal`, raised by a shell."""

    def __init__(self, refusal: Refusal) -> None:
        super().__init__(str(refusal))
        self.refusal = refusal


@dataclass(frozen=True, slots=True)
class Fault:
    """One thing that is wrong in what was given: where, what came, what is allowed."""

    what: str
    key: str = ""
    line: int | None = None

    def __str__(self) -> str:
        line = f"line {self.line}" if self.line else ""
        where = ", ".join(part for part in (line, self.key) if part)
        return f"{where}: {self.what}" if where else self.what


class Unreadable(Exception):
    """What was given cannot be read or used; nothing was changed."""

    def __init__(self, *faults: Fault | str) -> None:
        self.faults = tuple(Fault(f) if isinstance(f, str) else f for f in faults)
        super().__init__("\n".join(str(fault) for fault in self.faults))


class NotNow(Unreadable):
    """The record cannot be read or written as it is; what was asked may come again."""


class Damaged(NotNow):
    """The record itself is damaged: it waits for a copy to be brought back."""


@contextlib.contextmanager
def given_as(key: str) -> Iterator[None]:
    """
    Read what was typed; a fault in it is told with where it was given.

    >>> with given_as("--pot"):
    ...     raise Unreadable("12 has no unit")
    Traceback (most recent call last):
    stillroom.refusal.Unreadable: --pot: 12 has no unit
    """
    try:
        yield
    except Unreadable as fault:
        raise Unreadable(*(Fault(f.what, key=key) for f in fault.faults)) from None


def granted(answer: T | Refusal) -> T:
    """Return ``answer``, or raise `Refused` where it is a refusal."""
    if isinstance(answer, Refusal):
        raise Refused(answer)
    return answer
