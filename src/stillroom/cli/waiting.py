"""What takes its time is said on the terminal, and wiped away when it is there."""

from __future__ import annotations

import contextlib
import os
import sys
from collections.abc import Iterator

import click

WIPE = "\r\x1b[K"
"""To the start of the line, and nothing on it any more (ECMA-48: CR, EL)."""


@contextlib.contextmanager
def waiting(words: str) -> Iterator[None]:
    """
    Say what is waited for and how long, while it is worked out.

    It goes to standard error where that is a terminal, and nowhere else: a file or
    another program gets the answer alone. One line, so that it can be wiped away; a
    terminal that cannot wipe keeps it.
    """
    if not sys.stderr.isatty():
        yield
        return
    wipes = os.environ.get("TERM", "dumb") != "dumb"
    click.echo(words, err=True, nl=not wipes)
    try:
        yield
    finally:
        if wipes:
            click.echo(WIPE, err=True, nl=False)
