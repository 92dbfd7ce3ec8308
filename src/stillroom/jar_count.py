"""So many jars in words: of one there is one."""

from __future__ import annotations


def jars_said(count: int, size: str = "") -> str:
    """
    Say how many jars, of a size where one is given.

    >>> jars_said(1), jars_said(8, "pint"), jars_said(1, "half-pint")
    ('1 jar', '8 pint jars', '1 half-pint jar')
    """
    of_size = f"{size} " if size else ""
    return f"{count} {of_size}{'jar' if count == 1 else 'jars'}"
