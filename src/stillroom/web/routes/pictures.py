"""Pictures of a lot: sent from the lot's page, shown on it."""

from __future__ import annotations

import uuid

from starlette.concurrency import run_in_threadpool
from starlette.datastructures import UploadFile
from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response
from starlette.routing import Route

from stillroom.records.engine import place_of
from stillroom.records.pictures import Pictures
from stillroom.refusal import granted
from stillroom.stock.choosing import known_lot
from stillroom.stock.commands import Picture
from stillroom.stock.lotcode import printed
from stillroom.web.now import now_of
from stillroom.web.routes.stock import kept_stock


def pictures_of(request: Request) -> Pictures:
    """Return the pictures of the record that the pages are over."""
    return Pictures(place_of(request.app.state.records.where))


async def send(request: Request) -> Response:
    """Keep a picture of a lot; the gate has bounded what may come in."""
    form = await request.form(max_files=1, max_fields=4)
    try:
        sent = form.get("picture")
        raw = await sent.read() if isinstance(sent, UploadFile) else b""
    finally:
        await form.close()
    return await run_in_threadpool(_keep, request, raw)


def _keep(request: Request, raw: bytes) -> Response:
    with kept_stock(request).reading() as stock:
        code = granted(known_lot(stock, request.path_params["code"]))
    name = pictures_of(request).keep(raw)
    asked = Picture(
        lot=printed(code), name=name, at=now_of(request), token=uuid.uuid4().hex
    )
    kept_stock(request).handle(asked)
    return RedirectResponse(f"/stock/lot/{printed(code)}#pictures", status_code=303)


def show(request: Request) -> Response:
    """One picture."""
    found = pictures_of(request).read(request.path_params["name"])
    if found is None:
        raise HTTPException(404, "There is no picture of that name beside the record.")
    raw, media_type = found
    return Response(raw, media_type=media_type)


ROUTES = [
    Route("/stock/lot/{code}/picture", send, methods=["POST"]),
    Route("/stock/picture/{name}", show),
]
