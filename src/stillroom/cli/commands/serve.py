"""``stillroom serve``: keep the farm's file, plan the day, serve the pages."""

from __future__ import annotations

import contextlib
import os
from pathlib import Path

import click
from click.core import ParameterSource

from stillroom.cli.copied_text import print_pictures
from stillroom.cli.kept import database
from stillroom.cli.plan_text import print_plan_in_short
from stillroom.cli.planned import seconds as seconds_option
from stillroom.cli.said_at_the_end import say_now
from stillroom.learning.record import LearnedKept
from stillroom.planning.day_file.dayfile import LIKE, day_like_text
from stillroom.planning.dayplan import DayPlan
from stillroom.planning.words.how_long import how_long_words, longest_s
from stillroom.records.backup import Backup
from stillroom.records.daily import DailyBackup
from stillroom.records.damaged import open_or_only_read
from stillroom.records.days import open_records, seed_demo
from stillroom.records.engine import DEMO_FILE, place_of
from stillroom.records.ledger import Ledger
from stillroom.refusal import Refusal, Refused, Unreadable
from stillroom.running.clock import WallClock
from stillroom.running.handle import run_id, state_of, under_way
from stillroom.running.kept_plan import plan_now, taken_of
from stillroom.smallholding.invented import WORDS, is_invented
from stillroom.smallholding.year import write_year
from stillroom.stock.handle import FOLLOWING
from stillroom.web.app import build_app
from stillroom.web.beside import Beside
from stillroom.web.in_the_house import OPEN_TO, house_address
from stillroom.web.serve import HOST, listen, serve
from stillroom.web.shop import Planned, Shop
from stillroom.web.shown_kept import read_shown

PATIENCE_S = 60.0
"""Longer than this for the first plan, and the pages are served without it."""


@click.command(name="serve")
@click.option(
    "--port", type=int, default=8765, show_default=True, help="Where the pages are."
)
@click.option(
    "--at",
    default="",
    metavar="ADDRESS",
    help="This machine's address in the house's network, such as 192.168.1.20: phones "
    "there can open the pages too. No password is asked.",
)
@database
@seconds_option
@click.option(
    "--like",
    type=click.Choice(LIKE[1:]),
    default=LIKE[1],
    show_default=True,
    help="The invented day that a new record begins with.",
)
@click.option(
    "--demo",
    is_flag=True,
    help=f"The demo smallholding with its invented year, in {DEMO_FILE}.",
)
@click.option(
    "--copies",
    type=click.Path(path_type=Path),
    metavar="DIR",
    help="Folder for the daily copies; default: as of stillroom backup.",
)
@click.pass_context
def command(
    ctx: click.Context,
    port: int,
    at: str,
    db: str,
    seconds: float,
    like: str,
    demo: bool,
    copies: Path | None,
) -> None:
    """Serve the pages on this machine."""
    say_now()  # it does not end before it is ended
    at = house_address(at) if at else ""
    for host in filter(None, (HOST, at)):
        listen(port, host).close()  # what is taken is said before anything is planned
    if demo:
        if ctx.get_parameter_source("db") is ParameterSource.DEFAULT:
            db = str(DEMO_FILE)
        _see_to_the_demo(db)
        click.echo(f"{WORDS} Begin your own record with: stillroom serve")
    with open_or_only_read(db) as records:
        if records.only_read:
            click.echo(records.only_read, err=True)
        elif seed_demo(records, day_like_text(like)):
            click.echo(
                f"Began {records.where} with an invented day ({like}), to try things "
                "on. Your own begins on the page Kitchen."
            )
        elif ctx.get_parameter_source("like") is not ParameterSource.DEFAULT:
            click.echo(
                f"{records.where} has a day already, and that one is planned; "
                "--like is for a record that is begun.",
                err=True,
            )
        with (
            contextlib.suppress(KeyboardInterrupt),  # Ctrl-C is how it is ended
            DailyBackup(db, tell=_say_backup, to=copies, following=FOLLOWING),
        ):
            learned = LearnedKept(records.ledger)
            last = records.days.newest()
            shop = Shop(
                records.days,
                seconds=seconds,
                learner=learned.for_day,
                begin_with=read_shown(last.shown if last else ""),
            )
            if under_way(WallClock().now(), ledger=records.ledger):
                # its clocks go by the run, and nobody at the stove waits for a plan
                click.echo(
                    "A day is under way at the stove: its pages come at once, and the "
                    "day is planned meanwhile."
                )
                planned = shop.plan_within(0)
            else:
                soon = f" The pages come at http://{HOST}:{port}/ then." if port else ""
                takes = how_long_words(seconds)
                click.echo(f"Planning the day; this takes {takes}.{soon}")
                planned = shop.plan_within(longest_s(seconds) + PATIENCE_S)
            _print(planned, records.ledger, shop.day_text())
            with Beside(os.cpu_count() or 1) as beside:
                app = build_app(shop, port=port, at=at, records=records, beside=beside)
                app.state.on_closing.append(beside.shutdown)
                serve(app, port, at=at, ready=say_where)
    click.echo("Ended; what was written is kept.")


def _see_to_the_demo(db: str) -> None:
    """
    Write the invented year where there is none; never into a record that is kept.

    Raises
    ------
    Refused
        If the file holds a record that is not invented.
    """
    place = place_of(db)
    if not _begun(db):
        click.echo(f"Writing the invented year into {place}; about 10 s.")
        write_year(db)
        return
    with open_records(db) as records:
        if not is_invented(records.ledger):
            raise Refused(
                Refusal(
                    f"{place} holds a record that somebody keeps",
                    instead="serve it without --demo, or name another file with --db",
                    source="how Stillroom keeps records",
                )
            )


def _begun(db: str) -> bool:
    file = place_of(db).file
    if file is not None:
        return file.exists()
    with open_records(db) as records:
        return bool(records.ledger.streams(""))


def _say_backup(made: Backup | Exception) -> None:
    if isinstance(made, Backup):
        click.echo(f"Copied the record to {made.file}, and checked the copy.")
        print_pictures(made.pictures)
    else:
        click.echo(f"The record could NOT be copied today: {made}", err=True)


def say_where(addresses: tuple[str, ...]) -> None:
    """Say where the pages are, and who may write there."""
    click.echo()
    click.echo(f"The pages are at {addresses[0]}  (Ctrl-C ends them.)")
    for address in addresses[1:]:
        click.echo(f"In the house, on a phone: {address}  {OPEN_TO}")


def _print(planned: Planned | None, ledger: Ledger, day_text: str) -> None:
    match planned:
        case DayPlan():
            # Of the whole plan the address of its page would scroll away.
            run = state_of(run_id(planned.day.date), ledger=ledger)
            plan = plan_now(planned, run, day_text)
            print_plan_in_short(plan, again=taken_of(plan, run, day_text))
            click.echo("The page Day has the whole plan; stillroom plan prints it.")
        case Refusal():
            click.echo(f"The day cannot be planned: {planned}")
        case Unreadable():
            click.echo("The day file needs mending; the Kitchen page shows where:")
            for line in str(planned).splitlines():
                click.echo(f"  {line}")
        case None:
            click.echo("The plan is still being worked out; the Day page will show it.")
