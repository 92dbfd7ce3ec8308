"""What went into jars, as it is typed: lots by name or code, and how much of each."""

from __future__ import annotations

from stillroom.refusal import Fault, Unreadable

LONGEST = 160
"""A list as long as this may have been cut by the form, and is not read."""


def read_input(text: str, key: str = "") -> tuple[str, str]:
    """
    Read one of them.

    Raises
    ------
    Unreadable
        If it names no lot, or no quantity.

    Examples
    --------
    >>> read_input("plum juice = 2 bags")
    ('plum juice', '2 bags')
    """
    lot, equals, quantity = text.partition("=")
    if not equals or not lot.strip() or not quantity.strip():
        what = f"{text.strip()[:60]!r} is no LOT=QUANTITY"
        like = 'write such as "L26M25-1M=2 bags" or "sugar=7 lb"'
        raise Unreadable(Fault(f"{what}; {like}", key=key))
    return lot.strip(), quantity.strip()


def read_inputs(text: str) -> tuple[tuple[str, str], ...]:
    """
    Read several, with a semicolon between them; none where nothing is typed.

    Raises
    ------
    Unreadable
        If one of them cannot be read, or they are too long to be read whole.

    Examples
    --------
    >>> read_inputs("plum juice=2 bags; sugar=7 lb"), read_inputs(" ")
    ((('plum juice', '2 bags'), ('sugar', '7 lb')), ())
    """
    if len(text) >= LONGEST:
        raise Unreadable(
            f"this is longer than {LONGEST - 1} letters: give the codes of the lots, "
            "or book the rest as used by itself"
        )
    return tuple(read_input(part) for part in text.split(";") if part.strip())
