"""``stillroom stock soon``: what will not keep."""

from __future__ import annotations

import datetime as dt

import click

from stillroom.cli.booking import now
from stillroom.cli.kept import database, kept
from stillroom.cli.options import (
    WholeNumber,
    as_json,
    print_json,
)
from stillroom.cli.paragraphs import bullet, heading, say
from stillroom.cli.stock_text import row_as_json
from stillroom.jar_count import counted
from stillroom.stock.eaten_no_more import is_to_be_used
from stillroom.stock.events import Kind
from stillroom.stock.fold import Stock
from stillroom.stock.handle import stock_now
from stillroom.stock.lotcode import printed
from stillroom.stock.on_hand import OnHand, on_hand
from stillroom.stock.words import said_day


@click.command()
@click.option(
    "--days",
    type=WholeNumber(0, 3650),
    default=60,
    show_default=True,
    help="How far ahead is looked.",
)
@database
@as_json
def soon(days: int, db: str, json_: bool) -> None:
    """Say what will not keep: first to expire, first out."""
    at = now()
    with kept(db) as records:
        _print_soon(stock_now(records.ledger), days, at, json_)


def _print_soon(stock: Stock, days: int, at: dt.datetime, json_: bool) -> None:
    limit = at.date() + dt.timedelta(days=days)
    rows = [
        row
        for row in on_hand(stock)
        if is_to_be_used(stock, row.lot.code, row.place, at)
    ]
    near = [r for r in rows if r.keeps.until is not None and r.keeps.until <= limit]
    fresh = [r for r in rows if r.is_fresh]
    unknown = [
        r for r in rows if r.keeps.until is None and _is_food(r) and not r.is_fresh
    ]
    if json_:
        print_json(
            {
                "days": days,
                "fresh": [row_as_json(stock, row) for row in fresh],
                "soon": [row_as_json(stock, row) for row in near],
                "unknown": [row_as_json(stock, row) for row in unknown],
            }
        )
        return
    if fresh:
        heading("Look at it today: fresh, and nobody prints how long it keeps")
        for row in fresh:
            bullet(
                f"{row.words} of {row.lot.what} {printed(row.lot.code)}, {row.place}: "
                f"{row.due.by}"
            )
    if not near:
        say(f"No known date falls within the next {counted(days, 'day')}.")
    for row in near:
        until = row.keeps.until or limit
        left, day = until - at.date(), said_day(until.isoformat())
        when = (
            f"since {day}"
            if left.days < 0
            else f"until {day}, {counted(left.days, 'day')}"
        )
        bullet(
            f"{row.words} of {row.lot.what} {printed(row.lot.code)}, {row.place}: best "
            f"{when}{row.keeps.mark}. {row.keeps.words}; {row.keeps.source}."
            if left.days >= 0
            else f"{row.words} of {row.lot.what} {printed(row.lot.code)}, {row.place}: "
            f"past its best {when}{row.keeps.mark}. {row.keeps.words}; "
            f"{row.keeps.source}."
        )
    if unknown:
        heading("No date is known for")
        for row in unknown:
            bullet(f"{row.words} of {row.lot.what}, {row.place}: {row.keeps.words}")
    if near or unknown:
        say("These are dates of best quality; whether a jar is sound, the jar shows.")


def _is_food(row: OnHand) -> bool:
    return row.lot.kind not in (Kind.JARS, Kind.LIDS) and not row.is_never_eaten
