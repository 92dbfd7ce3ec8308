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
from stillroom.running.not_booked import not_booked
from stillroom.stock.after import day_after
from stillroom.stock.commands import CheckLoad
from stillroom.stock.how_long_ago import left_words, moment_words
from stillroom.stock.lotcode import printed
from stillroom.stock.open_lots import NONE_HERE, in_doubt_with_others
from stillroom.stock.words import said_day
from stillroom.web.now import now_of
from stillroom.web.pages import page
from stillroom.web.routes.stock import TOKEN, answer_page, booked_since, kept_stock

MOST_LOTS = 40
"""A canner load has no more lots."""
_BACK = {"deed": "check", "back": "/stock/after"}


def after_page(request: Request) -> Response:
    """Page of what each canner load still wants looked at, and until when."""
    now = now_of(request)
    ledger = request.app.state.records.ledger
    with kept_stock(request).reading() as stock:
        booked = booked_since(request, stock)
        loads = day_after(stock, now)
        unbooked = not_booked(ledger, stock, now)
    return page(
        request,
        "day_after.html",
        here="stock",
        loads=loads,
        unbooked=unbooked,
        none_here=NONE_HERE,
        in_doubt_with_others=in_doubt_with_others,
        booked=booked,
        now=now,
        left_words=left_words,
        moment_words=moment_words,
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
