"""Sheets of the stock: what to eat first, a recall, one step back and one forward."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable
from typing import Any

from stillroom.paper.press import press
from stillroom.paper.sheets import Page
from stillroom.stock.accounts import (
    OneStep,
    RecallSheet,
    Step,
    one_step,
    recall_sheet,
)
from stillroom.stock.events import Lot
from stillroom.stock.first import ORDER, QUALITY, First, use_first
from stillroom.stock.fold import Stock
from stillroom.stock.lotcode import printed
from stillroom.stock.words import said_day

RULES = (
    (
        "European Union, Regulation (EC) 178/2002, Article 18",
        "one step back and one step forward: suppliers of food and ingredients, and "
        "business customers, are named; sales to final consumers need no names",
    ),
    (
        "United States, 21 CFR 1.327 (annual edition 2015)",
        "one up, one down; farms are excluded, and so are the buyers in sales direct "
        "to consumers",
    ),
    (
        "United States, 21 CFR 1.1320",
        "a traceability lot code is asked for foods on the traceability list only; "
        "that jams, pickles and canned fruit are not on it is known from memory: check "
        "before you rely on it",
    ),
)
"""Rules that ask for such a sheet; their texts were looked up. No legal advice."""
NO_ADVICE = (
    "Which rule holds for you is decided by your place: ask your food authority or "
    "extension service."
)


def use_first_pdf(
    stock: Stock,
    at: dt.datetime,
    *,
    invented: bool = False,
    page: Page = "us-letter",
) -> bytes:
    """Return the use-first list in 18 pt, to be pinned up; it says if it is made up."""
    rows = use_first_rows(use_first(stock, at), at, page=page)
    return press("use_first.typ", {**rows, "invented": invented})


def use_first_rows(
    rows: Iterable[First], at: dt.datetime, *, page: Page = "us-letter"
) -> dict[str, Any]:
    """Return what the list says, as plain values."""
    return {
        "page": page,
        "title": "Use first",
        "date": said_day(at.date().isoformat()),
        "lines": [
            {
                "what": f"{row.quantity} {row.what}",
                "where": row.place,
                "code": row.code,
                "best": f"{row.best}: {row.by}",
                "remarks": list(row.remarks),
            }
            for row in rows
        ],
        "quality": f"{QUALITY} {ORDER}",
    }


def recall_pdf(
    stock: Stock,
    code: str,
    at: dt.datetime,
    *,
    invented: bool = False,
    page: Page = "us-letter",
) -> bytes:
    """Return the recall sheet of a lot; one of a record that is made up says so."""
    rows = recall_rows(recall_sheet(stock, code), stock, at, page)
    return press("recall.typ", {**rows, "invented": invented})


def recall_rows(
    sheet: RecallSheet, stock: Stock, at: dt.datetime, page: Page = "us-letter"
) -> dict[str, Any]:
    """Return what the recall sheet says, as plain values."""
    return {
        "page": page,
        "title": f"Recall of {sheet.trace.lot.what} {printed(sheet.trace.lot.code)}",
        "date": f"{at:%Y-%m-%d %H:%M}",
        "why": sheet.why,
        "lots": [
            {
                "code": printed(account.lot.code),
                "what": account.lot.what,
                "day": said_day(account.lot.day) if account.lot.day else "",
                "sum": account.said,
                "whole": account.is_whole,
            }
            for account in sheet.accounts
        ],
        "untasted": untasted_words(sheet),
        "shelf": [
            {
                "place": place,
                "what": f"{lot.measure.of(number, lot.what)}",
                "code": printed(lot.code),
            }
            for lot, place, number in sheet.trace.on_hand
        ],
        "told": [
            {
                "whom": out.event.to
                or "nobody named: hang this sheet where it was sold",
                "what": f"{_words(stock, out.part.lot, out.part.number)} "
                f"{printed(out.part.lot)}, {out.event.way.value}",
                "when": said_day(
                    out.event.occurred_at.astimezone(at.tzinfo).date().isoformat()
                ),
            }
            for out in sheet.told
        ],
        "suppliers": [_supplier(stock, lot, at) for lot in sheet.suppliers],
        "same_load": [
            {"what": lot.what, "code": printed(lot.code), "where": _where(stock, lot)}
            for lot in sheet.trace.same_load
        ],
        "advice": NO_ADVICE,
    }


def untasted_words(sheet: RecallSheet) -> str:
    """Say how jars are discarded that may hold toxin; empty where there are none."""
    if sheet.untasted is None:
        return ""
    known = sheet.untasted.source.how_known.replace("_", " ")
    return (
        f"Taste none of it, not even to find out. {sheet.untasted.advice} "
        f"({sheet.untasted.source}, {known})"
    )


def one_step_pdf(
    stock: Stock,
    code: str,
    at: dt.datetime,
    *,
    invented: bool = False,
    page: Page = "us-letter",
) -> bytes:
    """Return the sheet of one step back and one forward; it says if it is made up."""
    rows = one_step_rows(one_step(stock, code, at.tzinfo), at, page)
    return press("one_step.typ", {**rows, "invented": invented})


def one_step_rows(
    found: OneStep, at: dt.datetime, page: Page = "us-letter"
) -> dict[str, Any]:
    """Return what the sheet says, as plain values."""
    lot = found.lot
    return {
        "page": page,
        "title": f"{lot.what} {printed(lot.code)}",
        "date": f"{at:%Y-%m-%d %H:%M}",
        "day": said_day(lot.day) if lot.day else "",
        "sum": found.account.said,
        "back": [_step(step) for step in found.back],
        "forward": [_step(step) for step in found.forward],
        "gaps": list(found.gaps),
        "rules": [{"name": name, "asks": asks} for name, asks in RULES],
        "advice": NO_ADVICE,
    }


def _step(step: Step) -> dict[str, str]:
    return {
        "when": said_day(step.when) if step.when else "no day",
        "what": step.what,
        "quantity": step.quantity,
        "whom": step.whom,
    }


def _supplier(stock: Stock, lot: Lot, at: dt.datetime) -> dict[str, str]:
    came = stock.event(stock.begun(lot.code)).occurred_at.astimezone(at.tzinfo)
    return {
        "whom": lot.supplier,
        "what": f"{lot.what} {printed(lot.code)}",
        "when": said_day(lot.day or came.date().isoformat()),
    }


def _where(stock: Stock, lot: Lot) -> str:
    places = stock.places(lot.code).items()
    return "; ".join(f"{lot.measure.words(n)} at {p}" for p, n in places) or (
        "none on hand"
    )


def _words(stock: Stock, code: str, number: int) -> str:
    lot = stock.lots[code]
    return f"{lot.measure.of(number, lot.what)}"
