"""The day after: seals, set and labels of each load, and jars that need a choice."""

from __future__ import annotations

import uuid

from starlette.concurrency import run_in_threadpool
from starlette.datastructures import FormData
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response
from starlette.routing import Route

from stillroom.book.trouble import Trouble, troubles_for
from stillroom.refusal import NotNow, Refusal, Refused, Unreadable
from stillroom.running.handle import PREFIX, state_of
from stillroom.running.lots_made import day_of_lots, lots_made
from stillroom.stock.after import day_after
from stillroom.stock.commands import CheckLoad
from stillroom.stock.how_long_ago import left_words, moment_words, since_words
from stillroom.stock.lotcode import printed
from stillroom.stock.words import said_day
from stillroom.web.now import now_of
from stillroom.web.pages import page
from stillroom.web.routes.stock import TOKEN, answer_page, booked_since, kept_stock

MOST_LOTS = 40
"""A canner load has no more lots."""
_BACK = {"deed": "check", "back": "/stock/after"}
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


async def sealed(request: Request) -> Response:
    """Book that every lid of a load is sealed, as one answer."""
    async with request.form(max_files=0) as form:
        return await run_in_threadpool(_sealed, request, form)


def _sealed(request: Request, form: FormData) -> Response:
    token = str(form.get("token", ""))
    try:
        if not TOKEN.fullmatch(token):
            raise Unreadable("this page was not confirmed here: open the day after")
        jars = tuple(_line(k, str(v)) for k, v in form.multi_items() if k[:2] == "n.")
        if len(jars) > MOST_LOTS:
            raise Unreadable(
                f"{len(jars)} lots came, and a load has at most {MOST_LOTS}"
            )
        asked = CheckLoad(jars=jars, at=now_of(request), token=token)
        stock, _ = kept_stock(request).handle(asked)
    except NotNow:
        raise  # nothing that was typed is wrong
    except Unreadable as fault:
        return answer_page(request, _BACK, faults=fault.faults, status=400)
    except Refused as refused:
        return answer_page(request, _BACK, refusal=refused.refusal)
    return RedirectResponse(
        f"/stock/after?booked={stock.booked_as(token)}", status_code=303
    )


def _line(key: str, said: str) -> tuple[str, int]:
    if not (said.isascii() and said.isdecimal() and len(said) <= 4):
        raise Unreadable(f"{said[:20]!r} is no number of jars: open the day after")
    return key[2:][:40], int(said)


def _seal_test() -> tuple[Trouble, ...]:
    """Return how a seal is tested, as it is published."""
    found = troubles_for("is it sealed")
    if isinstance(found, Refusal):
        return ()
    return tuple(trouble for trouble in found if trouble.id == "seal-test")


ROUTES = [
    Route("/stock/after", after_page),
    Route("/stock/after/sealed", sealed, methods=["POST"]),
]
