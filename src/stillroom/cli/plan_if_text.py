"""The plan of a day like one that has none, in a terminal, with its mark."""

from __future__ import annotations

import click

from stillroom.capital import capital
from stillroom.cli.clock_lines import print_clock_lines
from stillroom.cli.paragraphs import heading, say, strong
from stillroom.planning.timetable import PlanIf
from stillroom.planning.words.sheet import day_sheet


def print_plan_if(like: PlanIf | None, *, whole: bool) -> None:
    """Print under what condition there is a plan, and where asked for all of it."""
    if like is None:
        return
    heading("A plan for another day than this")
    sentence = f"{capital(like.made_by)} {like.says}: {like.ends}."
    say(sentence)
    if not whole:
        say("With --run-on it is printed.")
        return
    mark = strong(f"{capital(like.mark)}.")
    say(mark)
    click.echo()
    print_clock_lines(day_sheet(like.problem, like.timetable))
    click.echo()
    say(mark)
