"""The shelf on a phone: counting it, what to eat first, how far it goes."""

from __future__ import annotations

import datetime as dt
import uuid
from collections.abc import Mapping
from itertools import groupby
from urllib.parse import urlencode

from starlette.concurrency import run_in_threadpool
from starlette.datastructures import FormData
from starlette.requests import Request
from starlette.responses import JSONResponse, RedirectResponse, Response
from starlette.routing import Route

from stillroom.paper.stock_sheets import use_first_pdf
from stillroom.planning.year import Opinion
from stillroom.records.ledger import MovedOn
from stillroom.refusal import Fault, NotNow, Refusal, Refused, Unreadable
from stillroom.stock.commands import Command, CountShelf
from stillroom.stock.cover import Cover, covers, family_guess
from stillroom.stock.decide import decide
from stillroom.stock.events import SET_ASIDE, AnyEvent
from stillroom.stock.first import ORDER, QUALITY, use_first
from stillroom.stock.fold import Stock
from stillroom.stock.handle import KeptStock
from stillroom.stock.jars_kept import jars_kept
from stillroom.stock.keeps import on_hand
from stillroom.stock.lotcode import printed
from stillroom.stock.making import check_missed, holds
from stillroom.stock.more_than_ever import more_than_ever
from stillroom.stock.sentence import Proposal, propose
from stillroom.stock.told import told
from stillroom.stock.unprocessed import is_in_doubt
from stillroom.stock.words import said_day
from stillroom.web.asking import Faults, whole
from stillroom.web.now import now_of
from stillroom.web.pages import page
from stillroom.web.routes.stock import (
    TOKEN,
    Entry,
    entry_of,
    kept_stock,
    number_of,
)
from stillroom.web.stock_deeds import command_of, said_at, typed_of
from stillroom.web.where_done import in_words

COUNT = "count-shelf"
LATE_AFTER = dt.timedelta(minutes=2)
"""What arrives later than this after it was typed in is marked late."""
MOST_LINES = 500
MOST_PERSONS = 60
WEEKS = 2 * 52


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
    faults: tuple[str, ...] = (),
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
    number = request.query_params.get("booked", "")
    return page(
        request,
        "shelf_count.html",
        here="stock",
        status=422 if refusal else 400 if faults else 200,
        place=here[0].place if here else wanted,
        shelves=shelves,
        rows=[
            (row, printed(row.lot.code), check_missed(stock, row.lot.code, now))
            for row in here
            if not is_in_doubt(stock, row.lot.code)
        ],
        apart=[
            (row, printed(row.lot.code), holds(stock, row.lot.code))
            for row in here
            if is_in_doubt(stock, row.lot.code)
        ],
        booked=_counted_since(stock, number),
        typed=typed or {},
        said_day=said_day,
        token=uuid.uuid4().hex,
        token_too=uuid.uuid4().hex,
        refusal=refusal,
        faults=faults,
    )


def _counted_since(stock: Stock, text: str) -> list[Entry]:
    """Return the entries of the request that was just booked."""
    first = number_of(text)
    if not 0 < first <= stock.sequence:
        return []
    found = [entry_of(stock, first)]
    for sequence in range(first + 1, stock.sequence + 1):
        event = stock.event(sequence)
        if event.token or event.kind != stock.event(first).kind:
            break  # the first of a request carries its token: here the next begins
        found.append(entry_of(stock, sequence))
    return found


def count_ask(request: Request) -> Response:
    """Show what a count would book; nothing is booked yet."""
    given = FormData([*request.query_params.multi_items()])
    now = now_of(request)
    with kept_stock(request).reading() as stock:
        place = str(given.get("place", ""))
        try:
            asked_at = str(given.get("asked_at", ""))
            at = said_at(asked_at, now) if asked_at else now
            asked = _shelf(given, now, "", late=False, counted_at=at)
            events = decide(stock, asked)
        except Unreadable as fault:
            faults = tuple(map(str, fault.faults))
            return _count_page(request, stock, place=place, faults=faults)
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
        says=_said(stock, events),
        lines=_lines(form),
        token=uuid.uuid4().hex,
        asked_at=at.isoformat(),
    )


def _lines(form: FormData) -> list[tuple[str, str]]:
    """The fields that say what was counted, and where."""
    return [
        (key, str(value))
        for key, value in form.multi_items()
        if key == "place" or (key.startswith("n.") and str(value).strip())
    ]


def _asked_about(
    kept: KeptStock, asked: CountShelf, form: FormData
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
    faults: tuple[str, ...] = ()
    try:
        if not TOKEN.fullmatch(token):
            raise Unreadable("this page was not confirmed here: open the shelf again")
        asked_at = given.get("asked_at", "")
        at = said_at(asked_at, now) if asked_at else None
        asked = _shelf(form, now, token, late=False, counted_at=at)
        if events := _asked_about(kept, asked, form):
            with kept.reading() as stock:
                return _ask(request, stock, form, events, now)
        stock, _ = kept.handle(asked)
    except NotNow:
        raise  # nothing that was typed is wrong
    except Unreadable as fault:
        faults = tuple(map(str, fault.faults))
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


def _shelf(
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


async def late(request: Request) -> Response:
    """
    Take in what a phone kept while nothing could be sent; the answer is JSON.

    Each entry names itself: sent again after a lost answer it books nothing, and is
    answered as the first time. Its own time counts, and it is marked late.
    """
    form = await request.form()
    return await run_in_threadpool(_late, request, form)


def _late(request: Request, form: FormData) -> Response:
    kept, now = kept_stock(request), now_of(request)
    token = str(form.get("token", ""))
    try:
        if not TOKEN.fullmatch(token):
            raise Unreadable(
                Fault("the entry does not name itself: type it in anew", key="token")
            )
        at = said_at(str(form.get("at", "")), now)
        with kept.reading() as stock:
            known = stock.known_places()
        asked = _command(form, at, token, known, late=now - at > LATE_AFTER)
        if isinstance(asked, CountShelf) and (odd := _asked_about(kept, asked, form)):
            return JSONResponse(_asks(kept, form, odd, at), status_code=422)
        stock, events = kept.handle(asked)
    except (NotNow, MovedOn) as trouble:  # the phone keeps it, and sends it again
        return JSONResponse({"later": str(trouble)}, status_code=503)
    except Unreadable as fault:
        words = "; ".join(map(str, fault.faults))
        return JSONResponse({"no": words, "instead": ""}, status_code=400)
    except Refused as refused:
        no = refused.refusal
        said = {"no": in_words(no.reason), "instead": in_words(no.instead)}
        return JSONResponse(said, status_code=422)
    return JSONResponse({"said": _said(stock, events), "again": not events})


def _asks(
    kept: KeptStock, form: FormData, events: tuple[AnyEvent, ...], at: dt.datetime
) -> dict[str, str]:
    """Say why a count is not booked unasked, and where it is asked about."""
    with kept.reading() as stock:
        more = more_than_ever(stock, events)
    query = urlencode([*_lines(form), ("asked_at", at.isoformat())])
    return {
        "no": "; ".join(more),
        "instead": "count this shelf again here: it is asked then whether it is so",
        "ask": f"/stock/count/ask?{query}",
    }


def _command(
    form: FormData,
    at: dt.datetime,
    token: str,
    known: tuple[str, ...],
    *,
    late: bool,
) -> Command:
    if form.get("deed") == COUNT:
        return _shelf(form, at, token, late=late, counted_at=at)
    given = {k: v for k, v in form.items() if isinstance(v, str)}
    typed = typed_of(given)
    proposal: Proposal | None = None
    if typed["deed"] == "add":  # nobody is there to confirm it: it is read, or refused
        proposal = propose(typed["sentence"], today=at.date(), known_places=known)
        if proposal.thing is None:
            raise Unreadable(*proposal.faults)
    return command_of(typed, at, token, proposal, late=late, counted_at=at)


def _said(stock: Stock, events: tuple[AnyEvent, ...]) -> list[str]:
    return [told(stock, event) for event in events]


def first_page(request: Request) -> Response:
    """Page of what to eat first; it prints in 18 pt."""
    place = request.query_params.get("place", "")[:200]
    with kept_stock(request).reading() as stock:
        rows = use_first(stock, now_of(request), place=place)
    return page(
        request,
        "use_first.html",
        here="stock",
        rows=rows,
        place=place,
        quality=QUALITY,
        order=ORDER,
        today_words=said_day(now_of(request).date().isoformat()),
    )


def first_pdf(request: Request) -> Response:
    """The same as a PDF."""
    with kept_stock(request).reading() as stock:
        made = use_first_pdf(stock, now_of(request))
    return pdf_response(made, "use-first.pdf")


def cover_page(request: Request) -> Response:
    """Page of how far the shelf goes, and what a printed plan says beside it."""
    faults = Faults()
    typed = {
        name: request.query_params.get(name, "").strip()[:20]
        for name in ("persons", "weeks")
    }
    persons = faults.read("persons", typed["persons"] or "1", _persons) or 1
    weeks = faults.read("weeks", typed["weeks"], _weeks) if typed["weeks"] else None
    with kept_stock(request).reading() as stock:
        rows = covers(stock, now_of(request), next_in_weeks=weeks)
        jars = jars_kept(stock, now_of(request))
    return page(
        request,
        "cover.html",
        here="stock",
        status=400 if faults.found else 200,
        rows=[(row, _guess(row, persons)) for row in rows],
        jars=jars,
        persons=persons,
        typed=typed,
        said_day=said_day,
        faults=faults.found,
    )


def _weeks(text: str) -> float:
    weeks = whole(text)
    if weeks > WEEKS:
        raise Unreadable(f"{weeks} weeks are more than two years: give 1 to {WEEKS}")
    return float(weeks)


def _persons(text: str) -> int:
    """Read how many eat of it, 1 to 60."""
    persons = whole(text)
    if not 1 <= persons <= MOST_PERSONS:
        raise Unreadable(
            f"{persons} persons cannot be reckoned for; give 1 to {MOST_PERSONS}"
        )
    return persons


def _guess(row: Cover, persons: int) -> tuple[Opinion, ...]:
    found = family_guess(row, persons)
    return () if isinstance(found, Refusal) else found


def pdf_response(made: bytes, name: str) -> Response:
    """Return a PDF to be looked at, under a name of our own."""
    return Response(
        made,
        media_type="application/pdf",
        headers={"Content-Disposition": f'inline; filename="{name}"'},
    )


ROUTES = [
    Route("/stock/count", count_page),
    Route("/stock/count/ask", count_ask),
    Route("/stock/count/book", count_book, methods=["POST"]),
    Route("/stock/late", late, methods=["POST"]),
    Route("/stock/first", first_page),
    Route("/stock/first.pdf", first_pdf),
    Route("/stock/cover", cover_page),
]
