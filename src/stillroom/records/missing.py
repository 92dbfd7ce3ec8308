"""What is said where there is no record of that name."""

from __future__ import annotations

from difflib import SequenceMatcher
from pathlib import Path

NEAR = 3
"""So many are named."""


def no_record(file: Path) -> str:
    """
    Say that a file is not there, and which ones are; nothing is made.

    >>> no_record(Path("attic/stilroom.db"))
    'attic/stilroom.db is not there, nor is the folder attic: give the file that holds \
the record'
    """
    folder = file.parent
    if not folder.is_dir():
        return (
            f"{file} is not there, nor is the folder {folder}: give the file that "
            "holds the record"
        )
    near = _near(file)
    if not near:
        return f"{file} is not there: give the file that holds the record"
    return (
        f"{file} is not there: give the file that holds the record. Near it "
        f"{'is' if len(near) == 1 else 'are'} {', '.join(map(str, near))}"
    )


def _near(file: Path) -> list[Path]:
    """Return records by their names, the likest first."""
    there = [path for path in sorted(file.parent.glob("*.db")) if path.is_file()]
    there.sort(key=lambda path: SequenceMatcher(None, path.name, file.name).ratio())
    return there[::-1][:NEAR]
