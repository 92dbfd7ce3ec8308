"""A changed day written as a day file of its own; what lies there is left alone."""

from __future__ import annotations

from collections.abc import Callable
from itertools import count
from pathlib import Path
from typing import Any, TypeVar

import click

from stillroom.cli.writing import could_be_written, write_whole
from stillroom.refusal import Fault, Unreadable

F = TypeVar("F", bound=Callable[..., Any])


def overwrite_option(command: F) -> F:
    """Add ``--overwrite``."""
    return click.option(
        "--overwrite",
        is_flag=True,
        help="With --save: write over a file that is there; it is kept as FILE.before, "
        "then as FILE.before-2.",
    )(command)


def may_be_written(target: Path, *, overwrite: bool) -> None:
    """
    Pass where nothing is written over that was not meant to be.

    Raises
    ------
    Unreadable
        If something is there already and ``overwrite`` was not said, if there is no
        such folder, or if nothing can be written there.
    """
    if not target.parent.is_dir():
        raise Unreadable(
            Fault(
                f"{target} cannot be written: there is no folder {target.parent}; make "
                "it, or name another place",
                key="--save",
            )
        )
    could_be_written(target, option="--save")
    if target.exists() and not overwrite:
        raise Unreadable(
            Fault(
                f"{target} is there already and was left as it is; name another, or "
                "add --overwrite",
                key="--save",
            )
        )


def _not_there_yet(target: Path) -> Path:
    """Where the file that is written over is kept; none that was kept is lost."""
    kept = target.with_name(f"{target.name}.before")
    for n in count(2):
        if not kept.exists():
            break
        kept = target.with_name(f"{target.name}.before-{n}")
    return kept


def write_day_file(target: Path, text: str, *, overwrite: bool) -> None:
    """
    Write a day file whole or not at all; one that was there is kept beside it.

    Raises
    ------
    Unreadable
        If it is there already, or cannot be written.
    """
    may_be_written(target, overwrite=overwrite)
    write_whole(
        target,
        text.encode("utf-8"),
        option="--save",
        beside=_not_there_yet(target),
    )
