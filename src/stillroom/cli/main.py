"""
The command ``stillroom``: a group that loads a command only when it is asked for.

Exit codes: 0 done; 1 a check of the record found something; 2 wrong usage or input
that cannot be read; 3 refused for a reason of the trade. With ``--json`` a command
prints one object on standard output, refusals too.
"""

from __future__ import annotations

import importlib
import json
import os
import sys
from collections.abc import Sequence
from pathlib import Path
from typing import Any, NoReturn

import click

from stillroom import __version__
from stillroom.cli.said_at_the_end import answer, said_at_the_end
from stillroom.refusal import Refused, Unreadable, ended
from stillroom.science.ranges import OutOfRange

COMMANDS = {
    "book": ("book", "List what is published, or all about one product."),
    "process": ("process", "Print the published process of a product in a jar, here."),
    "jelly-point": (
        "jelly_point",
        "Print where water boils and jelly sets here.",
    ),
    "batch": (
        "batch",
        "Turn what there is into batches that a pot holds.",
    ),
    "plan": ("plan", "Plan a day: batches, canner loads and a timetable."),
    "odds": ("odds", "Say how likely a day is over by when, and what decides it."),
    "why": (
        "why",
        "Say what holds a step, a batch, a load or the end of the day at its minute.",
    ),
    "what-if": (
        "what_if",
        "Plan the same day with changes, and compare it with the day as it is.",
    ),
    "replan": (
        "replan",
        "Plan the rest of a day again from what has happened, with least change.",
    ),
    "day": ("day", "Write a day file to fill in, or check one."),
    "sheet": ("sheet", "Print the day sheet of a day file as a PDF."),
    "juice": ("juice", "Reckon fruit to juice, and what to do with too little."),
    "measured": (
        "measured",
        "Rescale what follows when pulp or juice measures QUANTITY.",
    ),
    "recipe": ("recipe", "Hold a recipe of your own against the rules of its class."),
    "remake": (
        "remake",
        "Say whether a soft jelly waits, and what its remake takes.",
    ),
    "yields": ("yields", "Show printed yields beside what the solids can fill."),
    "year": ("year", "Propose jars for a year, from your own use or printed amounts."),
    "trouble": ("trouble", "Say what a sign may mean, and what is done about it."),
    "explain": (
        "explain",
        "Explain why: boil, pot, jar, set, canner, seal, freezer, brine and more.",
    ),
    "log": ("log", "Look back over a probe's log: come-up, lost boil, lethality."),
    "thermometer": (
        "thermometer",
        "Set a thermometer right by boiling water, and by ice.",
    ),
    "check": (
        "check",
        "Say whether the record is whole: pages, numbers, chains, balances.",
    ),
    "backup": ("backup", "Copy the record while it is in use, and check the copy."),
    "restore": (
        "restore",
        "Bring a copy of the record back, checked before and after.",
    ),
    "export": ("export", "Write everything in the record as JSON Lines and CSV."),
    "import": (
        "import_",
        "Read an export into an empty record, and check that it chains.",
    ),
    "stock": (
        "stock",
        "Say what there is and where, and book what comes in and goes out.",
    ),
    "learned": (
        "learned",
        "List what past days taught: minutes, yields, seals, sets, counts.",
    ),
    "demo-year": (
        "demo_year",
        "Write the invented year of the demo smallholding into a new record.",
    ),
    "serve": ("serve", "Serve the pages on this machine."),
}
"""Name -> (module in ``commands``, what it does; a test holds it to the docstring)."""


BROKEN_OFF = 130
"""Exit code where somebody pressed Ctrl-C; 1 says that a check found something."""


class LazyGroup(click.Group):
    """Commands are imported when they run, so that ``--help`` stays quick."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        """Name the commands in the order of a day."""
        return list(COMMANDS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        """Import and return one command."""
        if cmd_name not in COMMANDS:
            return None
        module = importlib.import_module(
            f"stillroom.cli.commands.{COMMANDS[cmd_name][0]}"
        )
        command: click.Command = module.command
        return command

    def format_commands(
        self, ctx: click.Context, formatter: click.HelpFormatter
    ) -> None:
        """List the summaries without importing any command."""
        with formatter.section("Commands"):
            formatter.write_dl([(name, what) for name, (_, what) in COMMANDS.items()])

    def invoke(self, ctx: click.Context) -> Any:
        """Run a command; this is the one place where a no becomes words and a code."""
        try:
            with said_at_the_end():
                return super().invoke(ctx)
        except click.NoSuchOption as unknown:
            if not unknown.option_name.lstrip("-")[:1].isdigit():
                raise
            raise click.UsageError(
                f"{unknown.option_name!r} is no option. A quantity is above zero; "
                "what was booked wrongly is taken back with stillroom stock mend. "
                "Where a number below zero is meant, write -- before it.",
                ctx=unknown.ctx,
            ) from unknown
        except click.NoSuchCommand as unknown:
            raise click.UsageError(
                f"No such command {unknown.command_name!r}.{_instead(unknown)}",
                ctx=unknown.ctx,
            ) from unknown
        except Refused as no:
            if "--json" in sys.argv[1:]:
                refusal = no.refusal
                body = {
                    "reason": refusal.reason,
                    "instead": refusal.instead,
                    "source": refusal.source,
                }
                try:
                    answer(json.dumps({"refusal": body}, ensure_ascii=False) + "\n")
                except Unreadable as fault:
                    click.echo(str(fault), err=True)
            else:
                _say("Refused: ", ended(no.refusal.reason))
                _say("Instead: ", ended(no.refusal.instead))
                _say("Source: ", ended(no.refusal.source))
            ctx.exit(3)
        except (KeyboardInterrupt, click.Abort):
            click.echo("\nBroken off (Ctrl-C): there is no answer.", err=True)
            ctx.exit(BROKEN_OFF)
        except (Unreadable, OutOfRange) as fault:
            for line in str(fault).splitlines():
                click.echo(line, err=True)
            ctx.exit(2)
        except OSError as fault:
            if fault.filename is None:  # a pipe that nobody reads any more, say
                raise
            from stillroom.file_text import short_name

            name = short_name(Path(os.fsdecode(fault.filename)))
            click.echo(f"{name}: {fault.strerror}; give another one", err=True)
            ctx.exit(2)


GROUPS = ("day", "stock", "recipe")
"""Commands that have commands of their own."""


def _instead(unknown: click.NoSuchCommand) -> str:
    """Say which command may be meant: by its meaning, where it stands, its spelling."""
    from stillroom.cli.said_otherwise import meant_by, nearest

    at = unknown.ctx
    assert at is not None  # a group says which it is
    group, typed = at.command, unknown.command_name
    assert isinstance(group, click.Group)
    if meant := meant_by(typed) or _elsewhere(typed, at):
        return f" That is: {meant}"
    if near := nearest(typed, group.list_commands(at)):
        return f" The nearest is: stillroom {_under(group)}{near}"
    return ""


def _under(group: click.Group) -> str:
    return f"{group.name} " if group.name in GROUPS else ""


def _elsewhere(typed: str, at: click.Context) -> str:
    """Return the command that has this name in another place; empty where none has."""
    if typed in COMMANDS:
        return f"stillroom {typed}"
    for name in GROUPS:
        group = cli.get_command(at, name)
        if isinstance(group, click.Group) and typed in group.commands:
            return f"stillroom {name} {typed}"
    return ""


def _say(label: str, text: str) -> None:
    bold = sys.stderr.isatty() and "NO_COLOR" not in os.environ
    click.echo((click.style(label, bold=True) if bold else label) + text, err=True)


@click.group(cls=LazyGroup, context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(__version__, prog_name="stillroom")
def cli() -> None:
    """Plan and compute the preserving day of a small farm."""


def main(arguments: Sequence[str] | None = None) -> NoReturn:
    """Run the command line."""
    cli.main(args=list(arguments) if arguments is not None else None)
    raise SystemExit(0)
