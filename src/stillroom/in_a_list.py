"""Things named one after another, as a person says them."""

from __future__ import annotations

from collections.abc import Iterable


def all_of(names: Iterable[str]) -> str:
    """
    Name all of some things.

    >>> all_of(["pears"]), all_of(["pears", "plums"]), all_of([])
    ('pears', 'pears and plums', '')
    >>> all_of(["pears", "plums", "quinces"])
    'pears, plums and quinces'
    """
    return _joined(names, "and")


def any_of(names: Iterable[str]) -> str:
    """
    Name things of which one will do.

    >>> any_of(["half-pint", "pint", "quart"])
    'half-pint, pint or quart'
    """
    return _joined(names, "or")


def _joined(names: Iterable[str], word: str) -> str:
    *first, last = tuple(names) or ("",)
    return f"{', '.join(first)} {word} {last}" if first else last
