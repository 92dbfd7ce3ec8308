"""Taking back what was booked: the question, what is there afterwards, and the deed."""

from __future__ import annotations

import uuid
from collections.abc import Mapping

from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response
from starlette.routing import Route

from stillroom.refusal import NotNow, Refusal, Refused, Unreadable
from stillroom.stock.commands import Mend
from stillroom.stock.decide import decide
from stillroom.stock.events import Mended
from stillroom.stock.fold import Stock
from stillroom.stock.handle import stock_now
from stillroom.stock.taking_back import afterwards
from stillroom.stock.words import LONGEST_NOTE, clean
from stillroom.web.now import now_of
from stillroom.web.pages import page
from stillroom.web.routes.stock import (
    TOKEN,
    Entry,
    entry_of,
    kept_stock,
    number_of,
)
from stillroom.web.stock_deeds import back_of, typed_of


def mend_page(request: Request) -> Response:
    """Ask whether an entry is to be taken back; nothing is booked yet."""
    with kept_stock(request).reading() as stock:
        return _question(request, stock, typed_of(request.query_params))


def _question(
    request: Request,
    stock: Stock,
    typed: Mapping[str, str],
    *,
    faults: tuple[str, ...] = (),
) -> Response:
    """Draw the question, or the no where the entry cannot be taken back."""
    number = number_of(request.path_params["number"])
    answer = decide(stock, Mend(of=number, why="", at=now_of(request)))
    if isinstance(answer, Refusal):
        return _page(request, typed, entry=_known(stock, number), refusal=answer)
    after = stock_now(request.app.state.records.ledger)
    for event in answer:
        after.apply(event)
    return _page(
        request,
        typed,
        entry=entry_of(stock, number),
        moves=any(isinstance(event, Mended) and event.changes for event in answer),
        there=afterwards(after, stock.event(number)),
        faults=faults,
    )


def _known(stock: Stock, number: int) -> Entry | None:
    """The entry of a number, where there is one: a page is called by it."""
    return entry_of(stock, number) if 1 <= number <= stock.sequence else None


def _page(
    request: Request,
    typed: Mapping[str, str],
    *,
    entry: Entry | None = None,
    moves: bool = False,
    there: tuple[str, ...] = (),
    refusal: Refusal | None = None,
    faults: tuple[str, ...] = (),
) -> Response:
    return page(
        request,
        "stock_mend.html",
        status=422 if refusal else 400 if faults else 200,
        here="stock",
        typed=typed,
        to=back_of(typed),
        entry=entry,
        moves=moves,
        there=there,
        token=uuid.uuid4().hex,
        refusal=refusal,
        faults=faults,
    )


async def mend(request: Request) -> Response:
    """Take the entry back; the same confirmation twice takes it back once."""
    form = await request.form()
    given = {k: v for k, v in form.items() if isinstance(v, str)}
    return await run_in_threadpool(_mend, request, given)


def _mend(request: Request, form: Mapping[str, str]) -> Response:
    typed, token = typed_of(form), form.get("token", "")
    kept, number = kept_stock(request), number_of(request.path_params["number"])
    try:
        if not TOKEN.fullmatch(token):
            raise Unreadable("this was not confirmed here: confirm it below")
        if not typed["why"]:
            raise Unreadable("the reason is missing: say what was wrong with it")
        why = clean(typed["why"], "what was wrong with it", longest=LONGEST_NOTE)
        asked = Mend(of=number, why=why, at=now_of(request), token=token)
        stock, _ = kept.handle(asked)
    except NotNow:
        raise  # nothing that was typed is wrong
    except Unreadable as fault:
        with kept.reading() as stock:
            faults = tuple(map(str, fault.faults))
            return _question(request, stock, typed, faults=faults)
    except Refused as refused:
        with kept.reading() as stock:
            entry = _known(stock, number)
        return _page(request, typed, entry=entry, refusal=refused.refusal)
    return RedirectResponse(
        f"{back_of(typed)}?booked={stock.booked_as(token)}", status_code=303
    )


ROUTES = [
    Route("/stock/mend/{number}", mend_page),
    Route("/stock/mend/{number}", mend, methods=["POST"]),
]
