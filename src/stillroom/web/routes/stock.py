"""The stock: what there is by place, and booking with one thumb, in two steps."""

from __future__ import annotations

import datetime as dt
import re
import uuid
from collections.abc import Mapping
from dataclasses import dataclass
from itertools import groupby
from typing import Any

from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response
from starlette.routing import Route

from stillroom.refusal import Fault, NotNow, Refusal, Refused, Unreadable
from stillroom.stock.cold_days import keeps_for_days
from stillroom.stock.commands import Move
from stillroom.stock.decide import decide
from stillroom.stock.eaten_no_more import eaten_no_more, is_to_be_used
from stillroom.stock.fold import Stock
from stillroom.stock.handle import KeptStock
from stillroom.stock.lotcode import printed
from stillroom.stock.making import (
    CHECK_MISSED,
    check_missed,
    holds,
    may_set,
)
from stillroom.stock.more_than_ever import more_than_ever
from stillroom.stock.on_hand import OnHand, on_hand
from stillroom.stock.sentence import Proposal, propose
from stillroom.stock.taking_back import may_be_asked_back
from stillroom.stock.told import told
from stillroom.stock.unprocessed import may_be_eaten
from stillroom.stock.words import said_day
from stillroom.web.now import now_of
from stillroom.web.pages import page
from stillroom.web.stock_deeds import (
    FIELDS,
    TYPED,
    back_of,
    command_of,
    said_at,
    typed_of,
)

SOON = dt.timedelta(days=60)
FIRST = 5
"""So many of those that keep least are named at the top."""
TOKEN = re.compile(r"[0-9a-f]{32}")


@dataclass(frozen=True, slots=True)
class Row:
    """One line of the page."""

    hand: OnHand
    code: str
    state: tuple[str, ...]
    held: tuple[str, ...]
    jars: bool
    open_check: bool
    may_set: bool
    """Whether a set may be said of it."""
    instead: str
    """What is done with what may not be eaten from here; empty where it may."""


@dataclass(frozen=True, slots=True)
class Entry:
    """An entry of the record, and whether it has a key that takes it back."""

    number: int
    at: dt.datetime
    said: str
    mended: bool
    key: bool


def stock_page(request: Request) -> Response:
    """Page of what there is, by place; within a place what keeps least first."""
    with kept_stock(request).reading() as stock:
        return _stock_page(request, stock, now_of(request))


def _stock_page(request: Request, stock: Stock, now: dt.datetime) -> Response:
    rows = on_hand(stock)
    by_place = sorted(rows, key=lambda row: row.place.casefold())
    limit = now.date() + SOON
    soon = [
        r
        for r in rows
        if r.keeps.until is not None
        and r.keeps.until <= limit
        and is_to_be_used(stock, r.lot.code, r.place, now)
    ]
    return page(
        request,
        "stock.html",
        here="stock",
        places=[
            (place, [_row(stock, row, now) for row in here])
            for place, here in groupby(by_place, key=lambda row: row.place)
        ],
        lots=len({row.lot.code for row in rows}),
        held=sum(1 for code in {r.lot.code for r in rows} if holds(stock, code)),
        fresh=[_row(stock, row, now) for row in rows if row.is_fresh],
        soon=[_row(stock, row, now) for row in soon[:FIRST]],
        known=stock.known_places(),
        booked=booked_of(request, stock),
    )


def booked_of(request: Request, stock: Stock) -> Entry | None:
    """Return the entry that was just booked; nothing where none was."""
    number = number_of(request.query_params.get("booked", ""))
    return entry_of(stock, number) if 0 < number <= stock.sequence else None


def booked_since(request: Request, stock: Stock) -> list[Entry]:
    """Return all entries of the request that was just booked; none where none was."""
    first = number_of(request.query_params.get("booked", ""))
    if not 0 < first <= stock.sequence:
        return []
    kind, at = stock.event(first).kind, stock.event(first).occurred_at
    found = [entry_of(stock, first)]
    for sequence in range(first + 1, stock.sequence + 1):
        event = stock.event(sequence)
        if event.token or (event.kind, event.occurred_at) != (kind, at):
            break  # the first of a request carries its token: here the next begins
        found.append(entry_of(stock, sequence))
    return found


def number_of(text: str) -> int:
    """Return the number of an entry as an address has it; 0 where it is none."""
    read = text.isascii() and text.isdecimal() and len(text) < 9
    return int(text) if read else 0


def entry_of(stock: Stock, number: int) -> Entry:
    """Return an entry as the pages show it."""
    event = stock.event(number)
    return Entry(
        number,
        event.occurred_at,
        told(stock, event),
        mended=number not in stock,
        key=may_be_asked_back(stock, number),
    )


def ask(request: Request) -> Response:
    """Show what a deed would book; nothing is booked yet."""
    with kept_stock(request).reading() as stock:
        return _ask(request, stock, typed_of(request.query_params))


async def book(request: Request) -> Response:
    """Book what was confirmed; the same confirmation twice books once."""
    form = await request.form()
    typed = {k: v for k, v in form.items() if isinstance(v, str)}
    return await run_in_threadpool(_book, request, typed)


def _row(stock: Stock, row: OnHand, now: dt.datetime) -> Row:
    state = [said_day(row.lot.day)] if row.lot.day else []
    held = holds(stock, row.lot.code)
    if row.keeps.until is not None and (
        not held or keeps_for_days(stock, row.lot.code)
    ):
        past = row.keeps.until < now.date()
        word = "past its best since" if past else "best until"
        day = said_day(row.keeps.until.isoformat())
        state.append(f"{word} {day}{row.keeps.mark}")
    if check_missed(stock, row.lot.code, now):
        state.append(CHECK_MISSED)
    made = stock.made(row.lot.code)
    canned = made is not None and made.batch.canned
    no = may_be_eaten(stock, row.lot.code, row.place, now)
    no = no or eaten_no_more(stock, row.lot.code, row.place, now)
    return Row(
        row,
        printed(row.lot.code),
        tuple(state),
        held,
        canned,
        canned and any("looked at" in reason for reason in held),
        may_set(stock, row.lot.code),
        "" if no is None else no.instead,
    )


def _ask(request: Request, stock: Stock, typed: Mapping[str, str]) -> Response:
    now = now_of(request)
    proposal: Proposal | None = None
    own = request.query_params.get("asked_at", "")
    try:
        if typed["deed"] == "add":
            proposal = propose(
                typed["sentence"], today=now.date(), known_places=stock.known_places()
            )
            if proposal.thing is None:
                faults = tuple(map(Fault, proposal.faults))
                return answer_page(request, typed, faults=faults, status=400)
        at = said_at(own, now) if own else now
        asked = command_of(typed, now, "", proposal, counted_at=at if own else None)
        answer = decide(stock, asked)
    except Unreadable as fault:
        return answer_page(request, typed, faults=fault.faults, status=400)
    if isinstance(answer, Refusal):
        return answer_page(request, typed, refusal=answer)
    return page(
        request,
        "stock_ask.html",
        here="stock",
        typed=typed,
        known=stock.known_places(),
        more=more_than_ever(stock, answer),
        says=[told(stock, event) for event in answer],
        then=f"{said_day(asked.at.date().isoformat())}, {asked.at:%-H:%M}"
        if isinstance(asked, Move) and asked.late
        else "",
        proposal=proposal,
        token=token_in(request.query_params),
        asked_at=at.isoformat(),
        leave=back_of(typed),
        refusal=None,
        faults=(),
        beside={},
    )


def answer_page(
    request: Request,
    typed: Mapping[str, str],
    *,
    refusal: Refusal | None = None,
    faults: tuple[Fault, ...] = (),
    status: int = 422,
) -> Response:
    """Draw the no, with what was typed to be mended, each fault beside its field."""
    again = TYPED.get(typed.get("deed", ""), ()) if typed.get("lot") else ()
    named = {name for name, _ in again}
    return page(
        request,
        "stock_ask.html",
        status=status,
        here="stock",
        typed={**dict.fromkeys(FIELDS, ""), **typed},
        known=(),
        more=(),
        says=(),
        proposal=None,
        token="",
        asked_at="",
        again=again,
        leave=back_of({**dict.fromkeys(FIELDS, ""), **typed}),
        refusal=refusal,
        faults=[str(fault) for fault in faults if fault.key not in named],
        beside={fault.key: fault.what for fault in faults if fault.key in named},
    )


def _book(request: Request, form: Mapping[str, str]) -> Response:
    typed, token = typed_of(form), form.get("token", "")
    if not TOKEN.fullmatch(token):
        fault = Fault(
            "this page was not confirmed here: go back to the stock and ask again"
        )
        return answer_page(request, typed, faults=(fault,), status=400)
    kept, now = kept_stock(request), now_of(request)
    proposal: Proposal | None = None
    try:
        if typed["deed"] == "add":
            with kept.reading() as stock:
                known = stock.known_places()
            proposal = propose(typed["sentence"], today=now.date(), known_places=known)
        asked_at = form.get("asked_at", "")
        counted_at = said_at(asked_at, now) if asked_at else None
        command = command_of(typed, now, token, proposal, counted_at=counted_at)
        stock, _ = kept.handle(command)
    except NotNow:
        raise  # nothing that was typed is wrong
    except Unreadable as fault:
        return answer_page(request, typed, faults=fault.faults, status=400)
    except Refused as refused:
        return answer_page(request, typed, refusal=refused.refusal)
    return RedirectResponse(
        f"{back_of(typed)}?booked={stock.booked_as(token)}", status_code=303
    )


def token_in(given: Mapping[str, Any]) -> str:
    """Return the name of an entry that a phone kept; a new one where none is given."""
    name = str(given.get("token", ""))
    return name if TOKEN.fullmatch(name) else uuid.uuid4().hex


def kept_stock(request: Request) -> KeptStock:
    """Return the stock of the record that the pages are over."""
    state = request.app.state
    if getattr(state, "kept_stock", None) is None:
        state.kept_stock = KeptStock(state.records.ledger)
    kept: KeptStock = state.kept_stock
    return kept


ROUTES = [
    Route("/stock", stock_page, name="stock"),
    Route("/stock/ask", ask),
    Route("/stock/book", book, methods=["POST"]),
]
