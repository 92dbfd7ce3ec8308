"""
The record that a command asks of; asking does not begin one.

Like `serve`, a command looks over the file first (2 ms for a year, 80 ms for 74 MB): an
entry that was said to be booked in a broken file would go with it.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, TypeVar

import click
from click.core import ParameterSource

from stillroom.cli.paragraphs import say
from stillroom.records.damaged import open_or_only_read
from stillroom.records.days import Records, nothing_kept
from stillroom.records.engine import DEFAULT_FILE, place_of
from stillroom.records.missing import no_record
from stillroom.refusal import Fault, Unreadable

F = TypeVar("F", bound=Callable[..., Any])


def _of_the_group(ctx: click.Context, param: click.Parameter, value: str) -> str:
    """Take what was said before the name of the command where none is behind it."""
    above = ctx.parent
    if (
        ctx.get_parameter_source("db") is ParameterSource.DEFAULT
        and above is not None
        and above.get_parameter_source("db") is ParameterSource.COMMANDLINE
    ):
        return str(above.params["db"])
    return value


def database(command: F) -> F:
    """Add ``--db``; before the name of a command of the stock it holds for that one."""
    return click.option(
        "--db",
        callback=_of_the_group,
        metavar="URL",
        default=str(DEFAULT_FILE),
        show_default=True,
        help="Where the record is kept: a file, or postgresql://USER@HOST/NAME.",
    )(command)


def kept(db: str) -> Records:
    """
    Open the record that there is.

    On a fresh machine, where nobody named a file, it is an empty one that can be asked
    and not written to: the command then says what it says of nothing.

    Raises
    ------
    Unreadable
        If a file was named and is not there; it says what is near. No file is made.
    """
    file = place_of(db).file
    if file is None or file.exists():
        return looked_over(db)
    if file == DEFAULT_FILE:
        return nothing_kept(file)
    raise Unreadable(Fault(no_record(file), "--db"))


def kept_or_none_yet(db: str) -> Records:
    """
    Open the record, or an empty one that can only be asked, whatever file was named.

    What is being understood begins no record: only what is booked does.
    """
    file = place_of(db).file
    return looked_over(db) if file is None or file.exists() else nothing_kept(file)


def kept_or_new(db: str, json_: bool) -> Records:
    """Open the record, or begin one and say so: a mistyped name is seen by that."""
    file = place_of(db).file
    new = file is not None and not file.exists()
    records = looked_over(db)
    if new and not json_:
        say(f"A new record begins in {records.where}.")
    return records


def looked_over(db: str) -> Records:
    """Open the record; where its file is broken only to be read, and say so."""
    records = open_or_only_read(db)
    if records.only_read:
        click.echo(
            f"{records.where} is damaged and can only be read; what is wrong, and what "
            f"to do: stillroom check --db {records.where}",
            err=True,
        )
    return records
