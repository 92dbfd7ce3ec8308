"""What every command of the stock does: open the record, book, and say so."""

from __future__ import annotations

import datetime as dt
import sys
import uuid
from collections.abc import Callable

import click

from stillroom.cli.kept import kept
from stillroom.cli.options import print_json
from stillroom.cli.paragraphs import say, strong
from stillroom.cli.said_at_the_end import say_now
from stillroom.cli.stock_text import lots_as_json, print_booked, print_holds
from stillroom.records.days import Records
from stillroom.refusal import Refusal, granted
from stillroom.running.clock import WallClock
from stillroom.stock.choosing import known_lot
from stillroom.stock.commands import Command, Count
from stillroom.stock.decide import decide
from stillroom.stock.fold import Stock
from stillroom.stock.handle import handle, stock_now
from stillroom.stock.more_than_ever import more_than_ever
from stillroom.stock.told import told
from stillroom.stock.words import LONGEST_NOTE, clean


def now() -> dt.datetime:
    """Return the moment, in the kitchen's time zone."""
    return WallClock().now()


def token() -> str:
    """Name one request."""
    return uuid.uuid4().hex


def optional(text: str, what: str) -> str:
    """Return a note as it may be kept; empty where none was given."""
    return clean(text, what, longest=LONGEST_NOTE) if text else ""


def agreed(yes: bool, json_: bool) -> bool:
    """Ask at the terminal; elsewhere only ``--yes`` books."""
    if yes:
        return True
    if not json_ and sys.stdin.isatty():
        say_now()  # what is asked about
        return click.confirm("Book it so?", default=False)
    if not json_:
        say("Nothing was booked. Add --yes to book it.")
    return False


def book(records: Records, asked: Command, json_: bool) -> Stock:
    """Hand a request on, and say what was booked."""
    stock, events = handle(asked, ledger=records.ledger)
    first = stock.sequence - len(events) + 1
    if json_:
        booked = [
            {"number": first + i, "kind": event.kind, "words": told(stock, event)}
            for i, event in enumerate(events)
        ]
        # as words say at once what holds a lot, a program is told so at once
        lots = lots_as_json(stock, events, asked.at)
        print_json({"booked": booked, "lots": lots})
    else:
        print_booked(stock, events)
    return stock


def book_count(records: Records, asked: Count, json_: bool) -> None:
    """Book what was counted; more than there ever was may be a slip, and is said."""
    stock = stock_now(records.ledger)
    answer = decide(stock, asked)
    slips = () if isinstance(answer, Refusal) else more_than_ever(stock, answer)
    stock = book(records, asked, json_)
    for more in () if json_ else slips:
        say(
            f"Mind: {more}. If the count was a slip, take it back: stillroom stock "
            f"mend {stock.sequence} --why WORDS"
        )


def book_said_later(
    lot: str,
    asked: Command,
    *,
    db: str,
    json_: bool,
    caution: Callable[[Stock, str], str] | None = None,
) -> None:
    """Book what is said of a lot later, and say whether it is on hold still."""
    with kept(db) as records:
        stock = book(records, asked, json_)
        if json_:
            return
        code = granted(known_lot(stock, lot))
        if caution is not None and (words := caution(stock, code)):
            say(strong(f"Mind: {words}."))
        if not print_holds(stock, code):
            say("It is not on hold.")
