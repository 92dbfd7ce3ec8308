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


def columns(rows: Sequence[Sequence[str]], *, indent: str = "  ") -> None:
    """Print rows with their columns aligned; the last column wraps."""
    if not rows:
        return
    widths = [max(len(row[i]) for row in rows) for i in range(len(rows[0]) - 1)]
    across = width()
    for row in rows:
        head = indent + "".join(
            f"{cell:<{size}}  " for cell, size in zip(row, widths, strict=False)
        )
        room = max(20, across - len(head))
        lines = _wrapped(row[-1], room)
        click.echo((head + lines[0]).rstrip())
        for line in lines[1:]:
            click.echo(" " * len(head) + line)


def _wrapped(text: str, room: int) -> list[str]:
    if len(text) <= room and text.isprintable() and text == text.strip():
        return [text]  # as it would come out; a history has many thousands of these
    return textwrap.wrap(text, room, break_on_hyphens=False) or [""]
