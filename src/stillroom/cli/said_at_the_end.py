"""
What a command says is held until what it was asked to do is done.

Whoever reads may go away early (``| head``), and a disk may fill: both end a program at
its next word. What was to be saved or booked has to be there by then.
"""

from __future__ import annotations

import contextlib
import errno
import io
import sys
from collections.abc import Iterator
from typing import TextIO

import click

from stillroom.refusal import Unreadable


class _Words(io.StringIO):
    """Words on their way to where they are read."""

    def __init__(self, to: TextIO) -> None:
        super().__init__()
        self.to = to

    def isatty(self) -> bool:
        """Whether they will be read at a terminal, which is what colours go by."""
        return self.to.isatty()


@contextlib.contextmanager
def said_at_the_end() -> Iterator[None]:
    """
    Hold what is printed until the block is over, also where it ends by an error.

    Raises
    ------
    Unreadable
        If it cannot be written where it was sent.
    """
    sys.stdout = _Words(sys.stdout)
    try:
        yield
    except BaseException:
        with contextlib.suppress(OSError, Unreadable):  # the first error is the news
            say_now()
        raise
    say_now()


def say_now() -> None:
    """Print what is held, and from here on all as it comes: for who asks, or serves."""
    held = sys.stdout
    if not isinstance(held, _Words):
        return
    sys.stdout = held.to
    answer(held.getvalue())


def answer(words: str) -> None:
    """
    Write an answer where it was sent.

    Raises
    ------
    Unreadable
        If it cannot be written there.
    """
    try:
        click.echo(words, nl=False)
    except OSError as error:
        if error.errno == errno.EPIPE:  # nobody reads on, and that is how it ends
            raise
        raise Unreadable(
            f"the answer cannot be written where it was sent ({error.strerror}): free "
            "some space, or send it elsewhere"
        ) from None
