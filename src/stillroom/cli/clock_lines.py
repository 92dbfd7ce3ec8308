"""A day by the clock, line by line, as people read it in a terminal."""

from __future__ import annotations

import click

from stillroom.cli.paragraphs import coloured, strong
from stillroom.planning.words.entries import Entry, Ink
from stillroom.planning.words.sheet import Sheet


def print_clock_lines(sheet: Sheet) -> None:
    """
    Print when, who, what and where, one line for each thing that is done.

    Of the end signs the headspace alone is printed: it is part of the process.
    """
    name = max((len(e.who) for e in sheet.entries), default=0)
    for entry in sheet.entries:
        click.echo(_line(entry, sheet, name))


def _line(entry: Entry, sheet: Sheet, name: int) -> str:
    times = f"{sheet.clock(entry.start_min):>5}-{sheet.clock(entry.end_min):<5}"
    room = entry.end_sign if "headspace" in entry.end_sign else ""
    about = " · ".join(part for part in (entry.batch, room, entry.detail) if part)
    where = f" [{entry.where}]" if entry.where else ""
    what = entry.what
    if entry.ink is Ink.HELD:
        what = strong(f"{entry.what} (do not leave it)")
    elif entry.ink is Ink.PROCESS and coloured():
        what = click.style(entry.what, bold=True)
    return f"  {times} {entry.who:<{name}}  {what}  {about}{where}".rstrip()
