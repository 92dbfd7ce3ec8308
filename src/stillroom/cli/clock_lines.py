"""A day by the clock, line by line, as people read it in a terminal."""

from __future__ import annotations

from collections.abc import Callable

import click

from stillroom.cli.paragraphs import coloured, strong, wrapped
from stillroom.planning.words.entries import Entry, Ink
from stillroom.planning.words.sheet import Sheet


def print_clock_lines(sheet: Sheet) -> None:
    """
    Print when, who, what and where, a line for each thing that is done.

    A line that is wider than the terminal goes on under what is done. Of the end signs
    the headspace alone is printed: it is part of the process.
    """
    name = max((len(e.who) for e in sheet.entries), default=0)
    for entry in sheet.entries:
        for line in _lines(entry, sheet, name):
            click.echo(line)


def _lines(entry: Entry, sheet: Sheet, name: int) -> list[str]:
    times = f"{sheet.clock(entry.start_min):>5}-{sheet.clock(entry.end_min):<5}"
    about = " · ".join(filter(None, (entry.batch, entry.room, entry.detail)))
    where = f" [{entry.where}]" if entry.where else ""
    what: str = entry.what
    marked: Callable[[str], str] = _plain
    if entry.ink is Ink.HELD:
        what, marked = f"{entry.what} (do not leave it)", strong
    elif entry.ink is Ink.PROCESS and coloured():
        marked = _bold
    if entry.near and entry.ink in (Ink.NEAR, Ink.PROCESS):
        what = f"{entry.what} ({Ink.NEAR.value})"
    head = f"  {times} {entry.who:<{name}}  "
    said = f"{what}  {about}{where}".rstrip()
    lines: list[str] = []
    at = 0
    for line in wrapped(said, len(head)):
        ends = max(0, len(what) - at)  # what is done is marked, and may be two lines
        mark = marked(line[:ends]) if ends else ""
        before = " " * len(head) if lines else head
        lines.append(f"{before}{mark}{line[ends:]}".rstrip())
        at += len(line)
        at += len(said[at:]) - len(said[at:].lstrip())
    return lines


def _plain(text: str) -> str:
    return text


def _bold(text: str) -> str:
    return click.style(text, bold=True)
