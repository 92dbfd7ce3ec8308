"""Sheets of a lot: a recall, and one step back and one step forward; page and PDF."""

from __future__ import annotations

import uuid

from starlette.concurrency import run_in_threadpool
from starlette.datastructures import FormData
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response
from starlette.routing import Route

from stillroom.paper.stock_sheets import (
    one_step_pdf,
    one_step_rows,
    recall_pdf,
    recall_rows,
)
from stillroom.refusal import Fault, Unreadable, granted
from stillroom.stock.accounts import one_step, recall_sheet
from stillroom.stock.choosing import known_lot
from stillroom.stock.commands import Recall
from stillroom.stock.lotcode import printed
from stillroom.stock.words import LONGEST_NOTE, clean
from stillroom.web.now import now_of
from stillroom.web.pages import page
from stillroom.web.routes.shelf import pdf_response
from stillroom.web.routes.stock import TOKEN, kept_stock


def recall_page(request: Request) -> Response:
    """Page of what a recall of a lot reaches, and who is told."""
    with kept_stock(request).reading() as stock:
        code = granted(known_lot(stock, request.path_params["code"]))
        sheet = recall_rows(recall_sheet(stock, code), stock, now_of(request))
    return page(
        request,
        "recall.html",
        here="stock",
        sheet=sheet,
        code=printed(code),
        token=uuid.uuid4().hex,
    )


def recall_file(request: Request) -> Response:
    """The same as a PDF."""
    with kept_stock(request).reading() as stock:
        code = granted(known_lot(stock, request.path_params["code"]))
        made = recall_pdf(
            stock, code, now_of(request), invented=request.app.state.invented
        )
    return pdf_response(made, f"recall-{printed(code)}.pdf")


async def recall(request: Request) -> Response:
    """Call a lot back; the same key twice is one recall."""
    form = await request.form()
    return await run_in_threadpool(_recall, request, form)


def _recall(request: Request, form: FormData) -> Response:
    token, why = str(form.get("token", "")), str(form.get("why", "")).strip()
    if not TOKEN.fullmatch(token):
        raise Unreadable("this page was not confirmed here: open the sheet again")
    if not why:
        raise Unreadable(Fault("say why it is called back", key="why"))
    with kept_stock(request).reading() as stock:
        code = granted(known_lot(stock, request.path_params["code"]))
    asked = Recall(
        lot=printed(code),
        why=clean(why, "why", longest=LONGEST_NOTE),
        at=now_of(request),
        token=token,
    )
    kept_stock(request).handle(asked)
    return RedirectResponse(f"/stock/recall/{printed(code)}", status_code=303)


def step_page(request: Request) -> Response:
    """Page of one step back and one step forward."""
    with kept_stock(request).reading() as stock:
        code = granted(known_lot(stock, request.path_params["code"]))
        now = now_of(request)
        sheet = one_step_rows(one_step(stock, code, now.tzinfo), now)
    return page(request, "one_step.html", here="stock", sheet=sheet, code=printed(code))


def step_file(request: Request) -> Response:
    """The same as a PDF."""
    with kept_stock(request).reading() as stock:
        code = granted(known_lot(stock, request.path_params["code"]))
        made = one_step_pdf(
            stock, code, now_of(request), invented=request.app.state.invented
        )
    return pdf_response(made, f"one-step-{printed(code)}.pdf")


ROUTES = [
    Route("/stock/recall/{code}.pdf", recall_file),
    Route("/stock/recall/{code}", recall_page),
    Route("/stock/recall/{code}", recall, methods=["POST"]),
    Route("/stock/steps/{code}.pdf", step_file),
    Route("/stock/steps/{code}", step_page),
]
