"""How a question page reads its fields and draws its answer."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from starlette.requests import Request
from starlette.responses import Response

from stillroom.book.jars import jars
from stillroom.refusal import Refusal, Unreadable
from stillroom.web.pages import page

LONGEST_FIELD = 200
SIZES = tuple(jar.name for jar in jars() if jar.name != "half-gallon")


class Faults:
    """What could not be read, by field, in words."""

    def __init__(self) -> None:
        self.found: dict[str, str] = {}

    def read(self, field: str, text: str, reader: Callable[[str], Any]) -> Any:
        """Read a field; what is wrong with it is kept, and nothing comes back."""
        try:
            return reader(text)
        except Unreadable as fault:
            self.found[field] = "; ".join(one.what for one in fault.faults)
            return None

    def needs(self, field: str, text: str, words: str) -> None:
        """Note a field that stands empty."""
        if not text:
            self.found[field] = words


def typed(
    request: Request, *names: str, longest: int = LONGEST_FIELD
) -> dict[str, str]:
    """Fields of a question as typed; what cannot be printed becomes a space."""
    given = request.query_params
    return {
        name: "".join(c if c.isprintable() else " " for c in given.get(name, ""))
        .strip()[:longest]
        .strip()
        for name in names
    }


def whole(text: str) -> int:
    """Read a whole number of at most four digits."""
    if text.isascii() and text.isdecimal() and 0 < len(text) <= 4:
        return int(text)
    if text.isascii() and text.isdecimal() and text:
        raise Unreadable(f"{text[:40]} is more than 9999, the most that is read here")
    raise Unreadable(f"{text!r} is no whole number; give digits, such as 20")


def whole_within(low: int, high: int) -> Callable[[str], int]:
    """Return a reader of a whole number within bounds."""

    def read(text: str) -> int:
        if text.isascii() and text.isdecimal() and not low <= int(text[:9]) <= high:
            raise Unreadable(f"{text[:40]} is outside {low} to {high}")
        return whole(text)

    return read


def one_of(*allowed: str) -> Callable[[str], str]:
    """Return a reader of one of the words that a field offers."""

    def reader(text: str) -> str:
        if text in allowed:
            return text
        raise Unreadable(f"{text!r} is not offered here; choose {', '.join(allowed)}")

    return reader


def question_page(
    request: Request, template: str, answer: Any, faults: Faults, **values: Any
) -> Response:
    """Draw a page of a question; a refusal is one of its answers."""
    refusal = answer if isinstance(answer, Refusal) else None
    status = 400 if faults.found else 422 if refusal else 200
    return page(
        request,
        template,
        status=status,
        here="book",
        answer=None if refusal else answer,
        refusal=refusal,
        faults=faults.found,
        **values,
    )
