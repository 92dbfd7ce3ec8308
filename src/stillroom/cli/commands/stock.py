"""``stillroom stock``: what there is, where, and what came in or went out."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import click

from stillroom.book.words import plain
from stillroom.cli.as_typed import (
    WAY,
    lot_and_place,
    lot_and_quantity,
)
from stillroom.cli.booking import agreed, book, book_count, now, optional, token
from stillroom.cli.commands import (
    stock_after,
    stock_cold,
    stock_complete,
    stock_gauge,
    stock_history,
    stock_made,
    stock_put_up,
    stock_shelf,
    stock_soon,
    stock_to_day,
)
from stillroom.cli.kept import database, kept, kept_or_new, kept_or_none_yet
from stillroom.cli.options import as_json, print_json
from stillroom.cli.paragraphs import columns, say
from stillroom.cli.stock_text import (
    print_list,
    print_proposal,
    row_as_json,
)
from stillroom.cli.trace_text import (
    print_recall,
    print_supplied,
    print_trace,
    supplied_as_json,
    trace_as_json,
)
from stillroom.cli.writing import pdf_may_be_written, write_pdf
from stillroom.file_text import bytes_of_file
from stillroom.jar_count import counted
from stillroom.refusal import Refused, Unreadable, granted
from stillroom.smallholding.invented import WORDS, is_invented
from stillroom.stock.accounts import recall_sheet
from stillroom.stock.by_supplier import from_supplier
from stillroom.stock.came_before import not_if_it_came_before
from stillroom.stock.carried_at import carried_at
from stillroom.stock.choosing import known_lot
from stillroom.stock.commands import Count, Move, Recall, Receive, Take
from stillroom.stock.csv_file import CSV, read_csv
from stillroom.stock.events import Kind, Way
from stillroom.stock.handle import handle, stock_now
from stillroom.stock.lotcode import printed
from stillroom.stock.on_hand import on_hand
from stillroom.stock.places import places_meant
from stillroom.stock.sentence import propose
from stillroom.stock.tracing import trace
from stillroom.stock.words import clean


@click.group(name="stock", invoke_without_command=True)
@click.option("--at", "place", default="", metavar="PLACE", help="Only what is here.")
@click.option("--thing", default="", metavar="NAME", help="Only this thing.")
@database
@as_json
@click.pass_context
def command(ctx: click.Context, place: str, thing: str, db: str, json_: bool) -> None:
    """Say what there is and where, and book what comes in and goes out."""
    if ctx.invoked_subcommand is not None:
        _of_the_list_alone(ctx)
        return
    with kept(db) as records:
        stock = stock_now(records.ledger)
        all_ = on_hand(stock)
        places = places_meant(place, (row.place for row in all_))
        rows = tuple(
            row
            for row in all_
            if (not place or row.place in places)
            and (not thing or plain(row.lot.what) == plain(thing))
        )
        if json_:
            print_json({"on_hand": [row_as_json(stock, row) for row in rows]})
        elif not stock.sequence:
            say('Nothing was booked yet: stillroom stock add "25 lb pears, cellar"')
        else:
            if is_invented(records.ledger):
                say(WORDS)
            print_list(stock, rows, now())


def _of_the_list_alone(ctx: click.Context) -> None:
    """Refuse what stands before the name of a command, which would not heed it."""
    name = ctx.invoked_subcommand
    for option, said in (("--at", "place"), ("--thing", "thing"), ("--json", "json_")):
        if ctx.params[said]:
            raise click.UsageError(
                f"before {name!r} nothing heeds {option}: write it behind the name of "
                f"the command, if that takes one (stillroom stock {name} --help)"
            )


@command.command()
@click.argument("words", nargs=-1)
@click.option("--csv", "file", type=click.Path(path_type=Path), help="A CSV file.")
@click.option(
    "--kind",
    type=click.Choice([kind.value for kind in Kind]),
    help="What sort it is, where the words leave that open.",
)
@click.option("--yes", is_flag=True, help="Book it without asking.")
@database
@as_json
def add(
    words: tuple[str, ...],
    file: Path | None,
    kind: str | None,
    yes: bool,
    db: str,
    json_: bool,
) -> None:
    """Read what came in, "25 lb pears, cellar, today", and book it."""
    if bool(words) == (file is not None):
        raise click.UsageError("say what came in, in quotes, or give --csv FILE")
    at = now()
    with kept_or_none_yet(db) as records:
        stock = stock_now(records.ledger)
        places = stock.known_places()
        if file is not None:
            things = read_csv(
                bytes_of_file(file, CSV), today=at.date(), known_places=places
            )
            if (no := not_if_it_came_before(stock, things)) is not None:
                raise Refused(no)
    if file is not None:
        said: dict[str, Any] = {"rows": len(things)}
        if not json_:
            say(f"{file}: {counted(len(things), 'row')} understood.")
            columns([(t.measure.words(t.number), t.what, t.place) for t in things[:40]])
            if len(things) > 40:
                say(f"... and {len(things) - 40} more.")
    else:
        proposal = propose(
            " ".join(words),
            today=at.date(),
            known_places=places,
            kind=Kind(kind) if kind else None,
        )
        said = {"understood": dict(proposal.understood)}
        if not json_:
            print_proposal(proposal)
        if proposal.thing is None:
            raise Unreadable(*(proposal.faults if json_ else ()), "Nothing was booked.")
        things = (proposal.thing,)
    if not agreed(yes, json_):
        if json_:
            print_json({**said, "booked": []})
        return
    with kept_or_new(db, json_) as records:
        book(records, Receive(things=things, at=at, token=token()), json_)


@command.command()
@click.argument("words", nargs=-1, required=True, metavar="LOT QUANTITY")
@click.option("--at", "place", default="", metavar="PLACE", help="Where from.")
@click.option("--for", "to", default="", help="What it is used for.")
@database
@as_json
def use(words: tuple[str, ...], place: str, to: str, db: str, json_: bool) -> None:
    """Take something out of stock; by name, what keeps least goes first."""
    lot, quantity = lot_and_quantity(words)
    asked = Take(
        lot=lot,
        quantity=quantity,
        place=place,
        to=optional(to, "--for"),
        at=now(),
        token=token(),
    )
    with kept(db) as records:
        book(records, asked, json_)


@command.command()
@click.argument("words", nargs=-1, required=True, metavar="LOT QUANTITY")
@click.option(
    "--as",
    "way",
    type=WAY,
    required=True,
    help="How it went.",
)
@click.option("--to", default="", help="Whom it went to.")
@click.option("--why", default="", help="Why, where that is worth a word.")
@click.option("--at", "place", default="", metavar="PLACE", help="Where from.")
@database
@as_json
def out(
    words: tuple[str, ...],
    way: str,
    to: str,
    why: str,
    place: str,
    db: str,
    json_: bool,
) -> None:
    """Book what was eaten, sold, given, spoiled, broken or tasted."""
    lot, quantity = lot_and_quantity(words)
    asked = Take(
        lot=lot,
        quantity=quantity,
        way=Way(way),
        place=place,
        to=optional(to, "--to"),
        why=optional(why, "--why"),
        at=now(),
        token=token(),
    )
    with kept(db) as records:
        book(records, asked, json_)


@command.command()
@click.argument("words", nargs=-1, required=True, metavar="LOT PLACE")
@click.option("--quantity", default="", help="How much; all of it where not said.")
@click.option("--at", "place", default="", metavar="PLACE", help="Where from.")
@click.option("--on", default="today", metavar="DAY", help="Day, if booked late.")
@click.option("--clock", default="", metavar="TIME", help="Hour of it, such as 22:05.")
@database
@as_json
def move(
    words: tuple[str, ...],
    quantity: str,
    place: str,
    on: str,
    clock: str,
    db: str,
    json_: bool,
) -> None:
    """Carry a lot to a place; what is booked later says when it was carried."""
    lot, place_to = lot_and_place(words)
    at = now()
    then = carried_at(on, clock, at, day="--on", hour="--clock")
    asked = Move(
        lot=lot,
        quantity=quantity,
        to=clean(place_to, "PLACE"),
        place=place,
        at=then or at,
        token=token(),
        late=then is not None,
    )
    with kept(db) as records:
        book(records, asked, json_)


@command.command()
@click.argument("words", nargs=-1, required=True, metavar="LOT QUANTITY")
@click.option(
    "--at", "place", default="", metavar="PLACE", help="Where it was counted."
)
@click.option("--why", default="", help="What explains the difference.")
@database
@as_json
def count(words: tuple[str, ...], place: str, why: str, db: str, json_: bool) -> None:
    """Hold the shelf against the record; the difference is booked as such."""
    lot, quantity = lot_and_quantity(words)
    asked = Count(
        lot=lot,
        quantity=quantity,
        place=place,
        why=optional(why, "--why"),
        at=now(),
        token=token(),
    )
    with kept(db) as records:
        book_count(records, asked, json_)


@command.command(name="trace")
@click.argument("lot", default="")
@click.option(
    "--from",
    "supplier",
    default="",
    metavar="NAME",
    help="In place of a lot: all that came from NAME.",
)
@database
@as_json
def trace_(lot: str, supplier: str, db: str, json_: bool) -> None:
    """Say what went into a lot, what was made of it, and where it went."""
    if bool(lot) == bool(supplier):
        raise click.UsageError(
            'name a lot, or from whom: stillroom stock trace --from "Orchard Row"'
        )
    with kept(db) as records:
        stock = stock_now(records.ledger)
        if supplier:
            came = granted(from_supplier(stock, supplier))
            if json_:
                print_json(supplied_as_json(stock, came))
            else:
                print_supplied(stock, came)
            return
        found = trace(stock, granted(known_lot(stock, lot)))
        if json_:
            print_json(trace_as_json(stock, found))
        else:
            print_trace(stock, found)


@command.command()
@click.argument("lot")
@click.option("--why", default="", help="Needed for a new recall.")
@stock_shelf.out
@stock_shelf.paper
@database
@as_json
def recall(
    lot: str,
    why: str,
    out: Path | None,
    page: stock_shelf.Paper,
    db: str,
    json_: bool,
) -> None:
    """Call a lot back with all that was made of it, and print the sheet."""
    if out is not None:
        pdf_may_be_written(out)
    with kept(db) as records:
        stock = stock_now(records.ledger)
        code = granted(known_lot(stock, lot))
        said = stock.recall(code)
        if said is None and not why:
            raise click.UsageError('say why, with --why "soft lids"')
        asked = Recall(
            lot=printed(code),
            why=optional(why, "--why") or (said.why if said else ""),
            at=now(),
            token=token(),
        )
        stock, _ = handle(asked, ledger=records.ledger)
        sheet = recall_sheet(stock, code)
        if out is not None:
            from stillroom.paper.stock_sheets import recall_pdf

            invented = is_invented(records.ledger)
            made = recall_pdf(stock, code, now(), invented=invented, page=page)
            write_pdf(out, made)
        if json_:
            accounts = [
                {
                    "lot": printed(account.lot.code),
                    "sum": account.said,
                    "unaccounted": account.unaccounted,
                    "adds_up": account.is_whole,
                }
                for account in sheet.accounts
            ]
            said_ = trace_as_json(stock, sheet.trace)
            print_json({"why": sheet.why, "accounts": accounts, **said_})
        elif out is not None:
            say(f"Recalled: {sheet.why}. The sheet is in {out}.")
        else:
            print_recall(stock, sheet)


command.add_command(stock_soon.soon)
command.add_command(stock_to_day.to_day)
command.add_command(stock_made.made)
command.add_command(stock_made.check)
command.add_command(stock_after.after)
command.add_command(stock_after.hold)
command.add_command(stock_after.process)
command.add_command(stock_cold.cold)
command.add_command(stock_complete.complete)
command.add_command(stock_gauge.gauge)
command.add_command(stock_put_up.put_up)
command.add_command(stock_after.label)
command.add_command(stock_after.note)
command.add_command(stock_shelf.first)
command.add_command(stock_shelf.cover)
command.add_command(stock_shelf.jars)
command.add_command(stock_shelf.steps)
command.add_command(stock_history.mend)
command.add_command(stock_history.history)
