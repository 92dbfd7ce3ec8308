"""The stock: what there is by place, and booking with one thumb, in two steps."""

from __future__ import annotations

import datetime as dt
import re
import uuid
from collections.abc import Mapping
from dataclasses import dataclass
from itertools import groupby

from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response
from starlette.routing import Route

from stillroom.refusal import Refusal, Refused, Unreadable
from stillroom.running.clock import Clock, WallClock
from stillroom.stock.choosing import known_lot
from stillroom.stock.commands import Check, Command, Count, Move, Receive, Take
from stillroom.stock.decide import decide
from stillroom.stock.events import Seen, Way
from stillroom.stock.fold import Stock
from stillroom.stock.handle import KeptStock
from stillroom.stock.keeps import OnHand, on_hand
from stillroom.stock.lotcode import printed
from stillroom.stock.making import check_missed, choices_for_unsealed, holds, read_seals
from stillroom.stock.sentence import Proposal, propose
from stillroom.stock.told import told
from stillroom.stock.tracing import trace
from stillroom.stock.words import LONGEST_NOTE, clean, said_day
from stillroom.web.pages import page

FIELDS = ("deed", "lot", "place", "quantity", "to", "sentence", "seals", "seen")
LONGEST_FIELD = 500
SOON = dt.timedelta(days=60)
FIRST = 5
"""So many of those that keep least are named at the top."""
_TOKEN = re.compile(r"[0-9a-f]{32}")


@dataclass(frozen=True, slots=True)
class Row:
    """One line of the page."""

    hand: OnHand
    code: str
    state: tuple[str, ...]
    held: tuple[str, ...]
    jars: bool
    open_check: bool


def stock_page(request: Request) -> Response:
    """Page of what there is, by place; within a place what keeps least first."""
    with _kept(request).reading() as stock:
        return _stock_page(request, stock, _now(request))


def _stock_page(request: Request, stock: Stock, now: dt.datetime) -> Response:
    rows = on_hand(stock)
    by_place = sorted(rows, key=lambda row: row.place.casefold())
    limit = now.date() + SOON
    soon = [r for r in rows if r.keeps.until is not None and r.keeps.until <= limit]
    after = request.query_params.get("booked", "")
    number = int(after) if after.isascii() and after.isdecimal() and after else 0
    said = (
        told(stock, stock.event(number))
        if len(after) < 9 and 0 < number <= stock.sequence
        else ""
    )
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
        soon=[_row(stock, row, now) for row in soon[:FIRST]],
        known=stock.known_places(),
        booked=said,
        number=number,
    )


def ask(request: Request) -> Response:
    """Show what a deed would book; nothing is booked yet."""
    with _kept(request).reading() as stock:
        return _ask(request, stock, _typed(request.query_params))


async def book(request: Request) -> Response:
    """Book what was confirmed; the same confirmation twice books once."""
    form = await request.form()
    typed = {k: v for k, v in form.items() if isinstance(v, str)}
    return await run_in_threadpool(_book, request, typed)


def lot_page(request: Request) -> Response:
    """Page of one lot: how it was made, both ways of its trace, what is open."""
    with _kept(request).reading() as stock:
        return _lot_page(request, stock, _now(request))


def _lot_page(request: Request, stock: Stock, now: dt.datetime) -> Response:
    code = known_lot(stock, request.path_params["code"])
    if isinstance(code, Refusal):
        return _answer(request, {}, refusal=code)
    found = trace(stock, code)
    numbers = [o.sequence for o in found.outs]
    made = stock.made(code)
    unsealed = any(c.failed or c.doubtful for c in stock.checks(code))
    choices = choices_for_unsealed(stock, code, now) if made and unsealed else ()
    return page(
        request,
        "stock_lot.html",
        here="stock",
        lot=found.lot,
        code=printed(code),
        day=said_day(found.lot.day) if found.lot.day else "",
        found=found,
        made=made,
        held=holds(stock, code),
        checks=stock.checks(code),
        choices=() if isinstance(choices, Refusal) else choices,
        numbers=numbers,
        lots=stock.lots,
        printed=printed,
        said_day=said_day,
    )


def _row(stock: Stock, row: OnHand, now: dt.datetime) -> Row:
    state = [said_day(row.lot.day)] if row.lot.day else []
    held = holds(stock, row.lot.code)
    if row.keeps.until is not None and not held:
        past = row.keeps.until < now.date()
        word = "past its best since" if past else "best until"
        state.append(f"{word} {said_day(row.keeps.until.isoformat())}")
    if check_missed(stock, row.lot.code, now):
        state.append("check missed: look at each lid before it is eaten")
    made = stock.made(row.lot.code)
    canned = made is not None and made.batch.canned
    return Row(
        row,
        printed(row.lot.code),
        tuple(state),
        held,
        canned,
        canned and any("looked at" in reason for reason in held),
    )


def _ask(request: Request, stock: Stock, typed: Mapping[str, str]) -> Response:
    now = _now(request)
    proposal: Proposal | None = None
    try:
        if typed["deed"] == "add":
            proposal = propose(
                typed["sentence"], today=now.date(), known_places=stock.known_places()
            )
            if proposal.thing is None:
                return _answer(request, typed, faults=proposal.faults, status=400)
        answer = decide(stock, _command(typed, now, "", proposal))
    except Unreadable as fault:
        return _answer(request, typed, faults=tuple(map(str, fault.faults)), status=400)
    if isinstance(answer, Refusal):
        return _answer(request, typed, refusal=answer)
    return page(
        request,
        "stock_ask.html",
        here="stock",
        typed=typed,
        known=stock.known_places(),
        says=[told(stock, event) for event in answer],
        proposal=proposal,
        token=uuid.uuid4().hex,
        refusal=None,
        faults=(),
    )


def _answer(
    request: Request,
    typed: Mapping[str, str],
    *,
    refusal: Refusal | None = None,
    faults: tuple[str, ...] = (),
    status: int = 422,
) -> Response:
    """Draw the no, with what was typed to be mended."""
    return page(
        request,
        "stock_ask.html",
        status=status,
        here="stock",
        typed={**dict.fromkeys(FIELDS, ""), **typed},
        known=(),
        says=(),
        proposal=None,
        token="",
        refusal=refusal,
        faults=faults,
    )


def _book(request: Request, form: Mapping[str, str]) -> Response:
    typed, token = _typed(form), form.get("token", "")
    if not _TOKEN.fullmatch(token):
        fault = "this page was not confirmed here: go back to the stock and ask again"
        return _answer(request, typed, faults=(fault,), status=400)
    kept, now = _kept(request), _now(request)
    proposal: Proposal | None = None
    try:
        if typed["deed"] == "add":
            with kept.reading() as stock:
                known = stock.known_places()
            proposal = propose(typed["sentence"], today=now.date(), known_places=known)
        command = _command(typed, now, token, proposal)
        stock, _ = kept.handle(command)
    except Unreadable as fault:
        return _answer(request, typed, faults=tuple(map(str, fault.faults)), status=400)
    except Refused as refused:
        return _answer(request, typed, refusal=refused.refusal)
    return RedirectResponse(f"/stock?booked={stock.booked_as(token)}", status_code=303)


def _command(
    typed: Mapping[str, str], at: dt.datetime, token: str, proposal: Proposal | None
) -> Command:
    """
    Return what a form asks for.

    Raises
    ------
    Unreadable
        If it is no deed of the page, or a field of it cannot be read.
    """
    lot, quantity, place = typed["lot"], typed["quantity"], typed["place"]
    to = clean(typed["to"], "to", longest=LONGEST_NOTE) if typed["to"] else ""
    match typed["deed"]:
        case "add":
            if proposal is None or proposal.thing is None:
                raise Unreadable("nothing was understood: say what came in")
            return Receive(things=(proposal.thing,), at=at, token=token)
        case "count":
            return Count(lot=lot, quantity=quantity, place=place, at=at, token=token)
        case "move":
            if not to:
                raise Unreadable("it was not said where to: fill in the place")
            return Move(
                lot=lot, quantity=quantity, to=to, place=place, at=at, token=token
            )
        case "check":
            good, failed, doubtful = (
                read_seals(typed["seals"]) if typed["seals"] else (None, 0, 0)
            )
            seen = typed["seen"]
            return Check(
                lot=lot,
                good=good,
                failed=failed,
                doubtful=doubtful,
                seen=Seen(seen) if seen in set(Seen) else None,
                place=place,
                at=at,
                token=token,
            )
        case way if way in set(Way):
            return Take(
                lot=lot,
                quantity=quantity,
                way=Way(way),
                place=place,
                to=to,
                at=at,
                token=token,
            )
        case other:
            raise Unreadable(
                f"{other[:30]!r} is nothing that the stock page does: go back to it"
            )


def _kept(request: Request) -> KeptStock:
    state = request.app.state
    if getattr(state, "kept_stock", None) is None:
        state.kept_stock = KeptStock(state.records.ledger)
    kept: KeptStock = state.kept_stock
    return kept


def _now(request: Request) -> dt.datetime:
    clock: Clock = getattr(request.app.state, "clock", None) or WallClock()
    return clock.now()


def _typed(given: Mapping[str, str]) -> dict[str, str]:
    return {name: given.get(name, "").strip()[:LONGEST_FIELD] for name in FIELDS}


ROUTES = [
    Route("/stock", stock_page, name="stock"),
    Route("/stock/ask", ask),
    Route("/stock/book", book, methods=["POST"]),
    Route("/stock/lot/{code}", lot_page),
]
