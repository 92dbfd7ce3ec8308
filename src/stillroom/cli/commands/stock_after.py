"""``stillroom stock after``, ``hold``, ``process``, ``label``: the day after."""

from __future__ import annotations

import datetime as dt
from typing import Any

import click

from stillroom.cli.as_typed import DOUBT
from stillroom.cli.booking import book, now, optional, token
from stillroom.cli.kept import database, kept
from stillroom.cli.options import as_json, print_json
from stillroom.cli.paragraphs import bullet, heading, say, strong
from stillroom.cli.stock_text import choices_as_json, print_holds
from stillroom.refusal import Refusal, Unreadable, granted
from stillroom.running.not_booked import not_booked
from stillroom.stock.after import day_after, open_of
from stillroom.stock.choices import Choices
from stillroom.stock.choosing import known_lot
from stillroom.stock.clock_offsets import ended_after
from stillroom.stock.commands import Hold, Label, Note, Process
from stillroom.stock.events import About, Doubt, Hand
from stillroom.stock.handle import stock_now
from stillroom.stock.how_long_ago import left_words, moment_words
from stillroom.stock.lotcode import printed
from stillroom.stock.making import read_clock
from stillroom.stock.open_lots import (
    NONE_HERE,
    LoadAfter,
    Open,
    in_doubt_with_others,
)
from stillroom.stock.unprocessed import choices_for_doubt
from stillroom.stock.words import read_day as read_past_day
from stillroom.stock.words import said_day


@click.command()
@database
@as_json
def after(db: str, json_: bool) -> None:
    """Say what each canner load still wants looked at, and until when."""
    at = now()
    with kept(db) as records:
        stock = stock_now(records.ledger)
        loads = day_after(stock, at)
        unbooked = not_booked(records.ledger, stock, at)
    if json_:
        found: dict[str, Any] = {"loads": [_load_as_json(load) for load in loads]}
        found["not_booked"] = " ".join(day.sentence for day in unbooked) or None
        print_json(found)
        return
    for day in unbooked:
        of = f"{said_day(day.day)}. " if len(unbooked) > 1 else ""
        say(strong(f"{of}{day.asks} {day.sentence}"))
        say(
            "See them, and book what is ready: "
            f"stillroom stock made --from-run {day.plan_day}"
        )
    if not loads and not unbooked:
        say("Nothing is open: every lot has its checks and its label.")
    elif not loads:
        say("Every lot that is booked has its checks and its label.")
    elif not any(load.wants_looking for load in loads):
        recalled = any(not load.is_with_others for load in loads)
        said = "; what was called back is still here" if recalled else ""
        say(f"Nothing here wants looking at{said}.")
    if others := sum(load.is_with_others for load in loads):
        say(strong(f"{in_doubt_with_others(others)}."))
    for load in loads:
        plan = f", {load.plan}" if load.plan else ""
        heading(f"{load.name.capitalize()}, {said_day(load.day)}{plan}")
        if load.out_at is not None:
            say(f"Out of the canner {moment_words(load.out_at, at)}.")
        for lot in load.lots:
            _print_open(lot, at)


def _print_open(lot: Open, at: dt.datetime) -> None:
    place = ", ".join(lot.places) or "no place"
    aside = f", {lot.aside} set aside" if lot.aside else ""
    label = lot.label.hand.value if lot.label else "not yet"
    words = lot.lot.measure.words(lot.number)
    where = f"{words} at {place}{aside}. Label: {label}."
    say(f"{lot.lot.what} {lot.code}: {NONE_HERE if lot.is_all_gone else where}")
    for reason in lot.held:
        bullet(strong(f"On hold: {reason}."))
    if lot.went_words:
        bullet(
            f"{lot.went_words}: whom to tell, and how: stillroom stock recall "
            f"{lot.code} --why REASON."
        )
    if lot.process:
        bullet(f"Process: {lot.process}.")
    if lot.stands:
        bullet(
            f"When it is {lot.made.batch.finished}, say how many: "
            f"stillroom stock check {lot.code} --seals {lot.number} good."
        )
    if lot.seals:
        bullet(f"Seals: {lot.seals}.")
    if lot.set_:
        bullet(f"Set: {lot.set_}.")
    print_choices_of(lot, at)


def print_choices_of(lot: Open, at: dt.datetime) -> None:
    """Print what is published for a lot, and how a process of it is booked."""
    if lot.choices is None:
        return
    print_choices_left(lot.choices, lot.choices_of, at)
    if lot.how_booked:
        bullet(f"{lot.how_booked}.")


def print_choices_left(
    choices: Choices | Refusal, headline: str, at: dt.datetime
) -> None:
    """Print published choices, with the hours that are left for them."""
    if isinstance(choices, Refusal):
        say(str(choices))
        return
    left = choices.left(at)
    clock = choices.since
    if choices.until is not None and left is not None:
        clock += (
            f", {left_words(left)} left, until {moment_words(choices.until, at)}"
            if left
            else ", no time left"
        )
    bullet(strong(f"{headline}: {clock}."))
    for trouble in choices.troubles:
        bullet(trouble.advice)
        known = trouble.source.how_known.replace("_", " ")
        bullet(f"From: {trouble.source} ({known}).")


def _load_as_json(load: LoadAfter) -> dict[str, Any]:
    return {
        "day": load.day,
        "load": load.load,
        "plan": load.plan or None,
        "out_at": load.out_at.isoformat() if load.out_at else None,
        "lots": [
            {
                "lot": lot.code,
                "what": lot.lot.what,
                "jars": lot.number,
                "set_aside": lot.aside,
                "went_to_others": lot.went if lot.went_words else 0,
                "on_hold": list(lot.held),
                "process": lot.process or None,
                "stands": lot.stands or None,
                "seals": lot.seals or None,
                "check_missed": lot.missed,
                "set": lot.set_ or None,
                "label": lot.label.hand.value if lot.label else None,
                "choices": choices_as_json(lot.choices),
            }
            for lot in load.lots
        ],
    }


@click.command()
@click.argument("lot")
@click.option(
    "--as",
    "doubt",
    type=DOUBT,
    required=True,
    help="What was wrong with its canner load.",
)
@click.option("--note", default="", help="Anything else.")
@database
@as_json
def hold(lot: str, doubt: str, note: str, db: str, json_: bool) -> None:
    """Put the canner load of LOT on hold, and say what may be done, and how long."""
    at, meant = now(), Doubt(doubt.replace("-", " "))
    with kept(db) as records:
        asked = Hold(
            lot=lot, doubt=meant, note=optional(note, "--note"), at=at, token=token()
        )
        stock = book(records, asked, json_)
        code = granted(known_lot(stock, lot))
        if not json_:
            print_choices_left(
                choices_for_doubt(stock, code, meant, at), meant.value.capitalize(), at
            )


@click.command()
@click.argument("lot")
@click.option("--began", default="", metavar="TIME", help="Full boil at 22:05.")
@click.option("--ended", default="", metavar="TIME", help="Ended at 22:16.")
@click.option("--on", "on", default="today", metavar="DAY", help="Day it began.")
@click.option("--who", default="", help="Who saw it.")
@click.option("--canner", default="", help="Which canner.")
@click.option("--gauge", default="", metavar="READING", help="11 psi, 15 lb weighted.")
@database
@as_json
def process(
    lot: str,
    began: str,
    ended: str,
    on: str,
    who: str,
    canner: str,
    gauge: str,
    db: str,
    json_: bool,
) -> None:
    """Take in a process that took place and was not tapped; it is marked late."""
    if not (began and ended and who):
        raise Unreadable(
            "a process is taken in only with its start, its end and who saw it: give "
            "--began, --ended and --who"
        )
    at = now()
    day = read_past_day(on, today=at.date())
    if day is None or len(day) != 10:
        raise Unreadable(f"--on: {on[:30]!r} is no day; write 12 September 2026")
    start, end = (
        dt.datetime.combine(
            dt.date.fromisoformat(day),
            dt.time.fromisoformat(read_clock(text, name)),
            tzinfo=at.tzinfo,
        )
        for text, name in ((began, "--began"), (ended, "--ended"))
    )
    asked = Process(
        lot=lot,
        began=start,
        ended=ended_after(start, end),
        who=optional(who, "--who"),
        canner=optional(canner, "--canner"),
        gauge=optional(gauge, "--gauge"),
        at=at,
        token=token(),
    )
    with kept(db) as records:
        stock = book(records, asked, json_)
        if json_:
            return
        code = granted(known_lot(stock, lot))
        print_holds(stock, code)
        open_ = open_of(stock, code, at)
        if open_ is not None:  # one that was too short can be mended for 2 h
            print_choices_of(open_, at)


@click.command()
@click.argument("lot")
@click.option(
    "--how",
    type=click.Choice([hand.value for hand in Hand]),
    default=Hand.WRITTEN.value,
    show_default=True,
    help="By which hand.",
)
@database
@as_json
def label(lot: str, how: str, db: str, json_: bool) -> None:
    """Say that the jars of LOT have their label; what is on hold gets none."""
    with kept(db) as records:
        code = granted(known_lot(stock_now(records.ledger), lot))
        asked = Label(lot=printed(code), hand=Hand(how), at=now(), token=token())
        book(records, asked, json_)


@click.command()
@click.argument("lot")
@click.argument("words", nargs=-1, required=True)
@click.option(
    "--about",
    type=click.Choice([about.value for about in About]),
    default=About.OTHER.value,
    show_default=True,
    help="What the words are of.",
)
@database
@as_json
def note(lot: str, words: tuple[str, ...], about: str, db: str, json_: bool) -> None:
    """Write something down of LOT: how it tasted, how it was when opened."""
    asked = Note(
        lot=lot,
        about=About(about),
        words=optional(" ".join(words), "WORDS"),
        at=now(),
        token=token(),
    )
    with kept(db) as records:
        book(records, asked, json_)
