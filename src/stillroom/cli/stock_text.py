"""How the stock is said in the terminal, and as JSON."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable
from itertools import groupby
from typing import Any

from stillroom.capital import capital
from stillroom.cli.paragraphs import bullet, columns, heading, say, strong
from stillroom.refusal import Refusal
from stillroom.stock.about import lots_of
from stillroom.stock.after import open_of
from stillroom.stock.choices import Choices
from stillroom.stock.cold_days import keeps_for_days
from stillroom.stock.eaten_no_more import eaten_no_more
from stillroom.stock.events import SET_ASIDE, AnyEvent
from stillroom.stock.fold import Stock
from stillroom.stock.how_long_ago import left_words, since_words
from stillroom.stock.jars_out import hours_since, is_hour_said
from stillroom.stock.lacks import is_in_doubt
from stillroom.stock.lotcode import printed
from stillroom.stock.making import (
    CHECK_MISSED,
    CHECK_WITHIN_H,
    check_missed,
    choices_for_unsealed,
    holds,
)
from stillroom.stock.on_hand import OnHand, on_hand
from stillroom.stock.sentence import Proposal
from stillroom.stock.told import told
from stillroom.stock.words import said_day


def print_list(stock: Stock, rows: Iterable[OnHand], at: dt.datetime) -> None:
    """Print what is on hand, by place; within a place what keeps least comes first."""
    by_place = sorted(rows, key=lambda row: row.place.casefold())
    if not by_place:
        places = dict.fromkeys(row.place for row in on_hand(stock))
        known = f" There is something at {', '.join(places)}." if places else ""
        say(f"Nothing of that is on hand.{known}")
        return
    for place, here in groupby(by_place, key=lambda row: row.place):
        heading(capital(place))
        columns(
            [
                (row.words, row.name, printed(row.lot.code), _state(stock, row, at))
                for row in here
            ]
        )


def _state(stock: Stock, row: OnHand, at: dt.datetime) -> str:
    said = [said_day(row.lot.day)] if row.lot.day else []
    held = holds(stock, row.lot.code)
    no = eaten_no_more(stock, row.lot.code, row.place, at)
    if row.place == SET_ASIDE:
        said.append(strong("seal failed or doubtful"))
    elif no is not None and not row.is_never_eaten:
        named = f"{row.lot.what} {printed(row.lot.code)} "
        said.append(strong(f"eaten no more: it {no.reason.removeprefix(named)}"))
    elif row.keeps.until is not None and (
        not held or keeps_for_days(stock, row.lot.code)
    ):
        past = row.keeps.until < at.date()
        word = "past its best since" if past else "best until"
        day = said_day(row.keeps.until.isoformat())
        said.append(f"{word} {day}{row.keeps.mark}")
    if held:
        said.append(strong(f"on hold: {'; '.join(held)}"))
    if check_missed(stock, row.lot.code, at):
        said.append(CHECK_MISSED)
    return ", ".join(said)


def row_as_json(stock: Stock, row: OnHand) -> dict[str, Any]:
    """Return one row of the contract of ``stock --json``."""
    lot, until = row.lot, row.keeps.until
    doubt = is_in_doubt(stock, lot.code)
    return {
        "lot": printed(lot.code),
        "what": lot.what,
        "kind": lot.kind.value,
        "place": row.place,
        "quantity": row.number,
        "unit": lot.measure.unit.value,
        "part": lot.measure.part or None,
        "each": lot.measure.each or None,
        "words": row.words,
        "day": lot.day or None,
        "supplier": lot.supplier or None,
        "best_until": until.isoformat() if until and not doubt else None,
        "best_until_why": "no date: its process is in doubt, see on_hold"
        if doubt
        else row.keeps.words,
        "source": row.keeps.source.text,
        "how_known": row.keeps.source.how_known,
        "on_hold": list(holds(stock, lot.code)),
    }


def choices_as_json(choices: Choices | Refusal | None) -> dict[str, Any] | None:
    """Return what is published for jars at this hour; `None` where nothing is."""
    if choices is None or isinstance(choices, Refusal):
        return None
    return {
        "hours": round(choices.hours, 2),
        "until": choices.until.isoformat() if choices.until else None,
        "troubles": [
            {"do": t.do, "then": t.then, "source": t.source.text}
            for t in choices.troubles
        ],
    }


def lots_as_json(
    stock: Stock, events: Iterable[AnyEvent], at: dt.datetime
) -> list[dict[str, Any]]:
    """Return what holds each lot of which something was booked, and its choices."""
    codes = dict.fromkeys(code for event in events for code in lots_of(event))
    found = []
    for code in codes:
        if code not in stock.lots:
            continue
        open_ = open_of(stock, code, at)
        choices = choices_as_json(open_.choices) if open_ is not None else None
        held = list(holds(stock, code))
        found.append({"lot": printed(code), "on_hold": held, "choices": choices})
    return found


def print_proposal(proposal: Proposal) -> None:
    """Print what was understood of a sentence, and what was not."""
    if proposal.understood:
        say("Understood:")
        columns([(what, words) for what, words in proposal.understood])
    for remark in proposal.remarks:
        say(f"Mind: {remark}.")
    for fault in proposal.faults:
        say(f"Not understood: {fault}")


def print_booked(stock: Stock, events: Iterable[AnyEvent]) -> None:
    """Say what was booked, and under which number."""
    booked = tuple(events)
    number = stock.sequence - len(booked) + 1
    if not booked:
        say("That was booked before; nothing was booked again.")
    for i, event in enumerate(booked):
        say(f"Booked as number {number + i}: {told(stock, event)}")


def print_history(stock: Stock, code: str | None) -> None:
    """Print the entries, of a lot or all, the oldest first."""
    rows = []
    all_ = enumerate(stock.events, start=1) if code is None else stock.about(code)
    for number, event in all_:
        mended = "" if number in stock else " (mended since)"
        at = event.occurred_at.astimezone()
        rows.append((f"{number}", f"{at:%Y-%m-%d %H:%M}", told(stock, event) + mended))
    if not rows:
        say("Nothing was booked yet.")
    columns(rows, indent="")


def print_holds(stock: Stock, code: str) -> bool:
    """Print why a lot is on hold; returns whether it is."""
    reasons = holds(stock, code)
    for reason in reasons:
        bullet(strong(f"On hold: {reason}."))
    return bool(reasons)


def print_choices(stock: Stock, code: str, at: dt.datetime) -> None:
    """Print what is published for jars that have not sealed, with its hours."""
    found = choices_for_unsealed(stock, code, at)
    heading("Jars that have not sealed")
    made = stock.made(code)
    if made is not None:
        hours = hours_since(made, stock.lots[code], at)
        left = dt.timedelta(hours=CHECK_WITHIN_H - hours)
        out = f"for {since_words(hours)}, as far as the record knows"
        if not is_hour_said(made, stock.lots[code], at.tzinfo):
            out = "at an hour that was not said, and its day is counted whole"
        say(
            f"Out of the canner {out}"
            + (f": {left_words(left)} are left." if left > dt.timedelta() else ".")
        )
    if isinstance(found, Refusal):
        say(str(found))
        return
    for trouble in found:
        say(trouble.advice)
        if trouble.within_h is not None:
            say(f"This holds within {trouble.within_h:g} h of the process.")
        known = trouble.source.how_known.replace("_", " ")
        say(f"From: {trouble.source} ({known}).")
