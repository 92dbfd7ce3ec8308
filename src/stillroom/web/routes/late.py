"""What a phone kept while nothing could be sent, taken in afterwards."""

from __future__ import annotations

import datetime as dt
from functools import partial
from urllib.parse import urlencode

from starlette.concurrency import run_in_threadpool
from starlette.datastructures import FormData
from starlette.requests import Request
from starlette.responses import JSONResponse, Response
from starlette.routing import Route

from stillroom.refusal import Fault, Unreadable
from stillroom.stock.commands import Command
from stillroom.stock.events import AnyEvent
from stillroom.stock.handle import KeptStock
from stillroom.stock.more_than_ever import more_than_ever
from stillroom.stock.sentence import Proposal, propose
from stillroom.stock.told import told
from stillroom.web.now import now_of
from stillroom.web.routes.shelf_count import asked_about, lines_of, shelf_asked
from stillroom.web.routes.stock import (
    TOKEN,
    kept_stock,
)
from stillroom.web.sent_later import told_to_phone
from stillroom.web.stock_deeds import command_of, said_at, typed_of

COUNT = "count-shelf"
LATE_AFTER = dt.timedelta(minutes=2)
"""What arrives later than this after it was typed in is marked late."""


async def late(request: Request) -> Response:
    """
    Take in what a phone kept while nothing could be sent; the answer is JSON.

    Each entry names itself: sent again after a lost answer it books nothing, and is
    answered as the first time. Its own time counts, and it is marked late.
    """
    form = await request.form()
    return await run_in_threadpool(told_to_phone, partial(_taken, request, form))


def _taken(request: Request, form: FormData) -> Response:
    kept, now = kept_stock(request), now_of(request)
    token = str(form.get("token", ""))
    if not TOKEN.fullmatch(token):
        raise Unreadable(
            Fault("the entry does not name itself: type it in anew", key="token")
        )
    at = said_at(str(form.get("at", "")), now)
    with kept.reading() as stock:
        known = stock.known_places()
    asked = _command(form, at, token, known, late=now - at > LATE_AFTER)
    if odd := asked_about(kept, asked, form):
        return JSONResponse(_asks(kept, form, odd, at), status_code=422)
    stock, events = kept.handle(asked)
    return JSONResponse(
        {"said": [told(stock, event) for event in events], "again": not events}
    )


def _asks(
    kept: KeptStock, form: FormData, events: tuple[AnyEvent, ...], at: dt.datetime
) -> dict[str, str]:
    """
    Say why a count is not booked unasked, and where it is asked about.

    The question goes by the name and the hour of the entry: the phone keeps it until it
    is answered, and hears then that it is booked.
    """
    with kept.reading() as stock:
        more = more_than_ever(stock, events)
    own = [("asked_at", at.isoformat()), ("token", str(form.get("token", "")))]
    if form.get("deed") == COUNT:
        ask, said = "/stock/count/ask", lines_of(form)
    else:
        typed = typed_of({k: v for k, v in form.items() if isinstance(v, str)})
        ask, said = "/stock/ask", [(k, v) for k, v in typed.items() if v]
    return {
        "no": "; ".join(more),
        "instead": "say whether it is so; it waits here until then",
        "ask": f"{ask}?{urlencode([*said, *own])}",
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
        return shelf_asked(form, at, token, late=late, counted_at=at)
    given = {k: v for k, v in form.items() if isinstance(v, str)}
    typed = typed_of(given)
    proposal: Proposal | None = None
    if typed["deed"] == "add":  # nobody is there to confirm it: it is read, or refused
        proposal = propose(typed["sentence"], today=at.date(), known_places=known)
        if proposal.thing is None:
            raise Unreadable(*proposal.faults)
    return command_of(typed, at, token, proposal, late=late, counted_at=at)


ROUTES = [Route("/stock/late", late, methods=["POST"])]
