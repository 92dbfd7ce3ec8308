"""
How the terminal form is set: headings, wrapped lines, aligned columns.

No line is broken at a hyphen: "half-pint" is read in one piece.
"""

from __future__ import annotations

import os
import shutil
import sys
import textwrap
from collections.abc import Sequence

import click


def coloured() -> bool:
    """Colour goes to a terminal only, and never where NO_COLOR is set."""
    return sys.stdout.isatty() and "NO_COLOR" not in os.environ


def width() -> int:
    """Columns to fill: the terminal's, between 60 and 100."""
    return max(60, min(100, shutil.get_terminal_size((88, 24)).columns))


def heading(text: str) -> None:
    """Print a heading."""
    click.echo()
    click.echo(click.style(text, bold=True) if coloured() else text)


def strong(text: str) -> str:
    """Mark what cannot wait; the words say so too."""
    return click.style(text, fg="red", bold=True) if coloured() else text


def say(text: str) -> None:
    """Print a paragraph."""
    click.echo(textwrap.fill(text, width(), break_on_hyphens=False))


def bullet(text: str) -> None:
    """Print a point of a list."""
    click.echo(
        textwrap.fill(
            text,
            width(),
            initial_indent="- ",
            subsequent_indent="  ",
            break_on_hyphens=False,
        )
    )


LEAST_ROOM = 20
"""What wraps has so many columns at least, however narrow the terminal is."""
LEAST_COLUMN = 12
"""No word of so many letters is broken, though the terminal be too small for it."""


def columns(rows: Sequence[Sequence[str]], *, indent: str = "  ") -> None:
    """
    Print rows with their columns aligned; the last column wraps.

    Where the others leave it no room, the widest of them wraps too.
    """
    if not rows:
        return
    across = width()
    last = min(LEAST_ROOM, max(len(row[-1]) for row in rows))
    widths = _fitting(rows, across - len(indent) - last)
    begins = len(indent) + sum(widths) + 2 * len(widths)
    for row in rows:
        cells = [_wrapped(cell, size) for cell, size in zip(row, widths, strict=False)]
        cells.append(_wrapped(row[-1], max(last, across - begins)))
        for n in range(max(map(len, cells))):
            line = [cell[n] if n < len(cell) else "" for cell in cells]
            head = "".join(
                f"{cell:<{size}}  " for cell, size in zip(line, widths, strict=False)
            )
            click.echo(f"{indent}{head}{line[-1]}".rstrip())


def _fitting(rows: Sequence[Sequence[str]], room: int) -> list[int]:
    """Widths of all columns but the last, the widest made narrower where they must."""
    columns = [[row[i] for row in rows] for i in range(len(rows[0]) - 1)]
    widths = [max(map(len, cells)) for cells in columns]
    while sum(widths) + 2 * len(widths) > room:
        wide = [
            i
            for i, cells in enumerate(columns)
            if widths[i] > min(LEAST_COLUMN, _longest_word(cells))
        ]
        if not wide:
            break
        widths[max(wide, key=lambda i: widths[i])] -= 1
    return widths


def _longest_word(cells: Sequence[str]) -> int:
    return max((len(word) for cell in cells for word in cell.split()), default=0)


def wrapped(text: str, indent: int) -> list[str]:
    """Break a text that begins so far from the left and goes on beneath itself."""
    return _wrapped(text, max(LEAST_ROOM, width() - indent))


def _wrapped(text: str, room: int) -> list[str]:
    if len(text) <= room and text.isprintable() and text == text.strip():
        return [text]  # as it would come out; a history has many thousands of these
    return textwrap.wrap(text, room, break_on_hyphens=False) or [""]
