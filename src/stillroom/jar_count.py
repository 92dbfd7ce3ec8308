"""So many jars in words, or of anything else that is counted: of one there is one."""

from __future__ import annotations


def counted(number: int, part: str) -> str:
    """
    Say a count of parts.

    >>> counted(1, "box"), counted(2, "box"), counted(3, "batch"), counted(60, "")
    ('1 box', '2 boxes', '3 batches', '60')
    """
    return f"{number} {plural(number, part)}".strip()


def plural(number: float, part: str) -> str:
    """
    Name parts as they are named beside a number of them.

    >>> plural(1, "jar"), plural(0, "jar"), plural(7, "freezer box"), plural(4, "go")
    ('jar', 'jars', 'freezer boxes', 'goes')
    >>> plural(2, "loaf")
    'loaves'
    """
    if number == 1 or not part:
        return part
    if part.endswith("loaf"):
        return f"{part[:-1]}ves"
    return f"{part}es" if part.endswith(("x", "ch", "sh", "s", "go")) else f"{part}s"


def jars_said(count: int, size: str = "") -> str:
    """
    Say how many jars, of a size where one is given.

    >>> jars_said(1), jars_said(8, "pint"), jars_said(1, "half-pint")
    ('1 jar', '8 pint jars', '1 half-pint jar')
    """
    return counted(count, f"{size} jar".strip())
