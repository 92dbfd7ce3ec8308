"""``stillroom stock first``, ``cover``, ``jars``, ``steps``."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import Literal

import click

from stillroom.capital import capital
from stillroom.cli.booking import now
from stillroom.cli.kept import database, kept
from stillroom.cli.options import (
    WholeNumber,
    as_json,
    print_json,
)
from stillroom.cli.paragraphs import bullet, heading, say, strong
from stillroom.cli.writing import pdf_may_be_written, write_pdf
from stillroom.jar_count import counted
from stillroom.refusal import Refusal, ended, granted
from stillroom.smallholding.invented import is_invented
from stillroom.stock.accounts import Step, one_step
from stillroom.stock.choosing import called, known_lot
from stillroom.stock.cover import covers, family_guess
from stillroom.stock.first import ORDER, QUALITY, left_out, use_first
from stillroom.stock.fold import Stock
from stillroom.stock.handle import stock_now
from stillroom.stock.jars_kept import jars_kept
from stillroom.stock.words import said_day

Paper = Literal["us-letter", "a4"]
paper = click.option(
    "--page",
    type=click.Choice(["us-letter", "a4"]),
    default="us-letter",
    show_default=True,
    help="Size of the paper.",
)
out = click.option(
    "--out", metavar="FILE", type=click.Path(path_type=Path), help="Write it as a PDF."
)


@click.command()
@click.option("--at", "place", default="", metavar="PLACE", help="Only what is here.")
@click.option(
    "--most",
    type=WholeNumber(1, 500),
    default=10,
    show_default=True,
    help="So many lots at most.",
)
@out
@paper
@database
@as_json
def first(
    place: str, most: int, out: Path | None, page: Paper, db: str, json_: bool
) -> None:
    """Say what to eat first; --out writes the list in 18 pt."""
    if out is not None:
        pdf_may_be_written(out)
    at = now()
    with kept(db) as records:
        stock = stock_now(records.ledger)
        rows = use_first(stock, at, most=most, place=place)
        without = left_out(stock, at, place=place)
        if out is not None:
            from stillroom.paper.stock_sheets import use_first_pdf

            invented = is_invented(records.ledger)
            write_pdf(out, use_first_pdf(stock, at, invented=invented, page=page))
            if not json_:
                say(f"The list is in {out}.")
                return
    if json_:
        print_json(
            {
                "first": [
                    {
                        "lot": row.code,
                        "what": row.what,
                        "quantity": row.quantity,
                        "place": row.place,
                        "best": row.best,
                        "by": row.by,
                        "past": row.past,
                        "remarks": list(row.remarks),
                    }
                    for row in rows
                ]
            }
        )
        return
    if not rows and not without:
        say("Nothing to eat is on hand that the record knows.")
    for row in rows:
        line = f"{row.quantity} of {row.what} {row.code}, {row.place}: {row.best}"
        line += f" ({row.by})"
        remarks = (capital(remark) for remark in row.remarks)
        bullet(". ".join((line, *remarks)) + ".")
    if rows:
        say(f"{QUALITY} {ORDER}")
    if without:
        say(without)


@click.command()
@click.argument("thing", required=False, default="")
@click.option(
    "--new-in", "weeks", type=WholeNumber(0, 104), help="Weeks until new ones come."
)
@click.option("--persons", type=WholeNumber(1, 60), help="For printed plans.")
@database
@as_json
def cover(
    thing: str, weeks: int | None, persons: int | None, db: str, json_: bool
) -> None:
    """Say how many weeks the jars go at own use, and what is short."""
    with kept(db) as records:
        stock = stock_now(records.ledger)
        rows = covers(
            stock,
            now(),
            what=granted(_called(stock, thing, persons)) if thing else "",
            next_in_weeks=None if weeks is None else float(weeks),
        )
    if json_:
        print_json(
            {
                "cover": [
                    {
                        "what": row.what,
                        "jar": row.part,
                        "on_hand": row.on_hand,
                        "past_eating": row.past,
                        "a_week": row.a_week,
                        "weeks": row.weeks,
                        "new_in_weeks": row.next_in_weeks,
                        "a_year": row.a_year,
                        "short": row.short,
                        "short_exact": row.short_exact,
                        "left_the_shelf": {way.value: n for way, n in row.gone},
                    }
                    for row in rows
                ]
            }
        )
        return
    if not rows:
        jars_ = f"jars of {thing}" if thing else "jars"
        say(f"No {jars_} are on hand, and none were eaten.")
        if thing and persons:
            say(f"{capital(_printed_plans(thing, persons))}.")
    for row in rows:
        bullet(f"{capital(row.words)}.")
        if row.a_year is not None and any(row.a_year):
            low, high = row.a_year
            more = f" to {high}, with what was given and sold" if high > low else ""
            say(f"To make for a year: {low}{more}.")
        found = family_guess(row, persons) if persons else ()
        if isinstance(found, Refusal):
            say(f"{ended(found.reason)} Instead: {ended(found.instead)}")
            continue
        for opinion in found:
            note = f". {strong(opinion.note)}" if opinion.note else ""
            say(
                f"A year: {counted(opinion.jars, row.part)}, {opinion.from_what}{note} "
                f"({opinion.source.text}, {opinion.source.how_known.replace('_', ' ')})"
            )


def _called(stock: Stock, thing: str, persons: int | None) -> str | Refusal:
    """Return the name that is meant; who asks for printed plans is told of them."""
    found = called(stock, thing)
    if persons is None or not isinstance(found, Refusal):
        return found
    plans = f"{found.instead}; {_printed_plans(thing, persons)}"
    return replace(found, instead=plans)


def _printed_plans(thing: str, persons: int) -> str:
    return (
        "what printed plans say, with no jars to count in: stillroom year "
        f'"{thing[:60]}" --persons {persons}'
    )


@click.command()
@database
@as_json
def jars(db: str, json_: bool) -> None:
    """Say how many jars stand empty, are in use, and came empty, by size."""
    with kept(db) as records:
        rows = jars_kept(stock_now(records.ledger), now())
    if json_:
        print_json(
            {
                "jars": [
                    {
                        "size": row.size,
                        "empty": row.empty,
                        "in_use": row.in_use,
                        "came_empty": row.came_empty,
                        "sold_or_given": row.away,
                    }
                    for row in rows
                ]
            }
        )
        return
    if not rows:
        say('No jars are in the record: stillroom stock add "60 half-pint jars, shed"')
    for row in rows:
        bullet(f"{row.words}.")


@click.command()
@click.argument("lot")
@out
@paper
@database
@as_json
def steps(lot: str, out: Path | None, page: Paper, db: str, json_: bool) -> None:
    """Say one step back and one step forward: from whom, and to whom."""
    if out is not None:
        pdf_may_be_written(out)
    at = now()
    with kept(db) as records:
        stock = stock_now(records.ledger)
        code = granted(known_lot(stock, lot))
        found = one_step(stock, code, at.tzinfo)
        if out is not None:
            from stillroom.paper.stock_sheets import one_step_pdf

            invented = is_invented(records.ledger)
            write_pdf(out, one_step_pdf(stock, code, at, invented=invented, page=page))
            if not json_:
                say(f"The sheet is in {out}.")
                return
    if json_:
        print_json(
            {
                "sum": found.account.said,
                "accounted_for": not found.account.unaccounted,
                "back": [_as_json(step) for step in found.back],
                "forward": [_as_json(step) for step in found.forward],
                "gaps": list(found.gaps),
            }
        )
        return
    say(f"{found.lot.what}: {found.account.said}.")
    for title, lines in (
        ("One step back", found.back),
        ("One step forward", found.forward),
    ):
        heading(title)
        if not lines:
            say("Nothing that the record knows.")
        for step in lines:
            bullet(
                f"{said_day(step.when) if step.when else 'no day'}, {step.whom}: "
                f"{step.what}, {step.quantity}"
            )
    for gap in found.gaps:
        bullet(strong(f"The record cannot say: {gap}."))


def _as_json(step: Step) -> dict[str, str]:
    return {
        "day": step.when,
        "what": step.what,
        "quantity": step.quantity,
        "whom": step.whom,
    }
