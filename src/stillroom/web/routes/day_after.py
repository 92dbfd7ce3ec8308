"""The day after: seals, set and labels of each load, and jars that need a choice."""

from __future__ import annotations

import uuid

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from stillroom.book.trouble import Trouble, troubles_for
from stillroom.refusal import Refusal
from stillroom.running.handle import PREFIX, state_of
from stillroom.running.lots_made import day_of_lots, lots_made
from stillroom.stock.after import day_after, left_words, moment_words, since_words
from stillroom.stock.lotcode import printed
from stillroom.stock.words import said_day
from stillroom.web.now import now_of
from stillroom.web.pages import page
from stillroom.web.routes.stock import booked_since, kept_stock

LET_GO_DAYS = 3
"""A run older than this is no longer asked whether its canner was run."""


def after_page(request: Request) -> Response:
    """Page of what each canner load still wants looked at, and until when."""
    now = now_of(request)
    ledger = request.app.state.records.ledger
    run = ledger.newest_stream(PREFIX)
    with kept_stock(request).reading() as stock:
        booked = booked_since(request, stock)
        loads = day_after(stock, now)
        unbooked = []
        lots_day = ""
        if run is not None:
            state = state_of(run, ledger=ledger)
            lately = state.last_at is not None and (now - state.last_at).days < (
                LET_GO_DAYS
            )
            lots_day = day_of_lots(state, run, stock, now.tzinfo).isoformat()
            if lately:
                unbooked = [
                    lot
                    for lot in lots_made(state, run, stock, now.tzinfo)
                    if not lot.booked and lot.is_asked_about(state, now)
                ]
    return page(
        request,
        "day_after.html",
        here="stock",
        loads=loads,
        unbooked=unbooked,
        waiting=[
            (words, [lot for lot in unbooked if lot.waits_for == words])
            for words in dict.fromkeys(x.waits_for for x in unbooked if not x.ready)
        ],
        ready=sum(1 for lot in unbooked if lot.ready),
        lots_day=lots_day,
        run_day="" if run is None else run.removeprefix(PREFIX),
        booked=booked,
        now=now,
        left_words=left_words,
        moment_words=moment_words,
        since_words=since_words,
        said_day=said_day,
        printed=printed,
        seal_test=_seal_test(),
        token=lambda: uuid.uuid4().hex,
    )


def _seal_test() -> tuple[Trouble, ...]:
    """Return how a seal is tested, as it is published."""
    found = troubles_for("is it sealed")
    if isinstance(found, Refusal):
        return ()
    return tuple(trouble for trouble in found if trouble.id == "seal-test")


ROUTES = [Route("/stock/after", after_page)]
