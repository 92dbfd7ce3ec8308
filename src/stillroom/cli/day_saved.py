"""A changed day written as a day file of its own; what lies there is left alone."""

from __future__ import annotations

import os
from collections.abc import Callable
from pathlib import Path
from typing import Any, TypeVar

import click

from stillroom.refusal import Fault, Unreadable

F = TypeVar("F", bound=Callable[..., Any])


def overwrite_option(command: F) -> F:
    """Add ``--overwrite``."""
    return click.option(
        "--overwrite",
        is_flag=True,
        help="With --save: write over a file that is there; it is kept as FILE.before.",
    )(command)


def may_be_written(target: Path, *, overwrite: bool) -> None:
    """
    Pass where nothing is written over that was not meant to be.

    Raises
    ------
    Unreadable
        If something is there already and ``overwrite`` was not said.
    """
    if target.exists() and not overwrite:
        raise Unreadable(
            Fault(
                f"{target} is there already and was left as it is; name another, or "
                "add --overwrite",
                key="--save",
            )
        )


def write_day_file(target: Path, text: str, *, overwrite: bool) -> None:
    """
    Write a day file whole or not at all; one that was there is kept beside it.

    Raises
    ------
    Unreadable
        If it is there already, or cannot be written.
    """
    part = target.with_name(f".{target.name}.part")
    may_be_written(target, overwrite=overwrite)
    try:
        try:
            part.write_text(text, encoding="utf-8")
            if target.exists():
                before = target.with_name(f"{target.name}.before")
                before.write_bytes(target.read_bytes())
            os.replace(part, target)
        finally:
            part.unlink(missing_ok=True)
    except OSError as error:
        raise Unreadable(
            Fault(
                f"{target} cannot be written ({error.strerror}): allow writing there, "
                "or name another place",
                key="--save",
            )
        ) from None
