"""A shelf counted on a page: typed in, asked about where it is absurd, booked."""

from __future__ import annotations

import datetime as dt
import uuid
from collections.abc import Mapping
from itertools import groupby

from starlette.concurrency import run_in_threadpool
from starlette.datastructures import FormData
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response
from starlette.routing import Route

from stillroom.refusal import Fault, NotNow, Refusal, Refused, Unreadable
from stillroom.stock.commands import Command, CountShelf
from stillroom.stock.decide import decide
from stillroom.stock.events import SET_ASIDE, AnyEvent
from stillroom.stock.fold import Stock
from stillroom.stock.handle import KeptStock
from stillroom.stock.lacks import is_in_doubt
from stillroom.stock.lotcode import printed
from stillroom.stock.making import CHECK_MISSED, check_missed, holds
from stillroom.stock.more_than_ever import more_than_ever
from stillroom.stock.on_hand import on_hand
from stillroom.stock.told import told
from stillroom.stock.words import said_day
from stillroom.web.now import now_of
from stillroom.web.pages import page
from stillroom.web.routes.stock import (
    TOKEN,
    booked_since,
    kept_stock,
    token_in,
)
from stillroom.web.stock_deeds import said_at

MOST_LINES = 500


def count_page(request: Request) -> Response:
    """Page of one shelf, to be counted; without a shelf, the list of them."""
    with kept_stock(request).reading() as stock:
        return _count_page(request, stock)


def _count_page(
    request: Request,
    stock: Stock,
    *,
    place: str = "",
    typed: Mapping[str, str] | None = None,
    refusal: Refusal | None = None,
    faults: tuple[Fault, ...] = (),
) -> Response:
    now = now_of(request)
    wanted = place or request.query_params.get("place", "")
    rows = sorted(on_hand(stock), key=lambda row: row.place.casefold())
    shelves = {
        name: len(tuple(here))
        for name, here in groupby(rows, key=lambda row: row.place)
        if name != SET_ASIDE
    }
    here = [row for row in rows if row.place.casefold() == wanted.casefold()]
    return page(
        request,
        "shelf_count.html",
        here="stock",
        status=422 if refusal else 400 if faults else 200,
        place=here[0].place if here else wanted,
        shelves=shelves,
        rows=[
            (
                row,
                printed(row.lot.code),
                CHECK_MISSED if check_missed(stock, row.lot.code, now) else "",
            )
            for row in here
            if not is_in_doubt(stock, row.lot.code)
        ],
        apart=[
            (row, printed(row.lot.code), holds(stock, row.lot.code))
            for row in here
            if is_in_doubt(stock, row.lot.code)
        ],
        booked=booked_since(request, stock),
        typed=typed or {},
        said_day=said_day,
        token=uuid.uuid4().hex,
        token_too=uuid.uuid4().hex,
        refusal=refusal,
        faults=faults,
    )


def count_ask(request: Request) -> Response:
    """Show what a count would book; nothing is booked yet."""
    given = FormData([*request.query_params.multi_items()])
    now = now_of(request)
    with kept_stock(request).reading() as stock:
        place = str(given.get("place", ""))
        try:
            asked_at = str(given.get("asked_at", ""))
            at = said_at(asked_at, now) if asked_at else now
            asked = shelf_asked(given, now, "", late=False, counted_at=at)
            events = decide(stock, asked)
        except Unreadable as fault:
            return _count_page(request, stock, place=place, faults=fault.faults)
        if isinstance(events, Refusal):
            return _count_page(request, stock, place=place, refusal=events)
        return _ask(request, stock, given, events, at)


def _ask(
    request: Request,
    stock: Stock,
    form: FormData,
    events: tuple[AnyEvent, ...],
    at: dt.datetime,
) -> Response:
    return page(
        request,
        "count_ask.html",
        here="stock",
        place=str(form.get("place", "")),
        more=more_than_ever(stock, events),
        says=[told(stock, event) for event in events],
        lines=lines_of(form),
        token=token_in(form),
        asked_at=at.isoformat(),
    )


def lines_of(form: FormData) -> list[tuple[str, str]]:
    """The fields that say what was counted, and where."""
    return [
        (key, str(value))
        for key, value in form.multi_items()
        if key == "place" or (key.startswith("n.") and str(value).strip())
    ]


def asked_about(
    kept: KeptStock, asked: Command, form: FormData
) -> tuple[AnyEvent, ...]:
    """Return what a count would book where it is asked about first, else nothing."""
    if form.get("sure") == "yes":
        return ()
    with kept.reading() as stock:
        events = () if stock.booked_as(asked.token) else decide(stock, asked)
        if isinstance(events, Refusal) or not more_than_ever(stock, events):
            return ()
        return events


async def count_book(request: Request) -> Response:
    """Book a whole shelf; without script, the way from the form itself."""
    form = await request.form()
    return await run_in_threadpool(_count_book, request, form)


def _count_book(request: Request, form: FormData) -> Response:
    kept, now = kept_stock(request), now_of(request)
    given = {k: v for k, v in form.items() if isinstance(v, str)}
    token, place = given.get("token", ""), given.get("place", "")
    refusal: Refusal | None = None
    faults: tuple[Fault, ...] = ()
    try:
        if not TOKEN.fullmatch(token):
            raise Unreadable("this page was not confirmed here: open the shelf again")
        asked_at = given.get("asked_at", "")
        at = said_at(asked_at, now) if asked_at else None
        asked = shelf_asked(form, now, token, late=False, counted_at=at)
        if events := asked_about(kept, asked, form):
            with kept.reading() as stock:
                return _ask(request, stock, form, events, now)
        stock, _ = kept.handle(asked)
    except NotNow:
        raise  # nothing that was typed is wrong
    except Unreadable as fault:
        faults = fault.faults
    except Refused as refused:
        refusal = refused.refusal
    else:
        return RedirectResponse(
            f"/stock/count?booked={stock.booked_as(token)}", status_code=303
        )
    with kept.reading() as stock:
        return _count_page(
            request, stock, place=place, typed=given, refusal=refusal, faults=faults
        )


def shelf_asked(
    form: FormData,
    at: dt.datetime,
    token: str,
    *,
    late: bool,
    counted_at: dt.datetime | None = None,
) -> CountShelf:
    """Read the lines of a shelf: n.LOT is what was counted; an empty one was not."""
    lines = tuple(
        (key.removeprefix("n."), str(value).strip()[:60])
        for key, value in form.multi_items()
        if key.startswith("n.") and str(value).strip()
    )
    if len(lines) > MOST_LINES:
        raise Unreadable(
            f"{len(lines)} lines came, and a shelf has at most {MOST_LINES}: count it "
            "in parts"
        )
    return CountShelf(
        place=str(form.get("place", ""))[:200],
        counts=lines,
        at=at,
        token=token,
        late=late,
        counted_at=counted_at,
    )


ROUTES = [
    Route("/stock/count", count_page),
    Route("/stock/count/ask", count_ask),
    Route("/stock/count/book", count_book, methods=["POST"]),
]
