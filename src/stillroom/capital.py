"""A sentence begins with a capital."""

from __future__ import annotations


def capital(text: str) -> str:
    """
    Text with its first letter large, the rest left alone.

    >>> capital("pH of the juice"), capital("")
    ('PH of the juice', '')
    """
    return text[:1].upper() + text[1:]
