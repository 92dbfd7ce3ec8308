"""All that came from one supplier, and what became of it."""

from __future__ import annotations

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from stillroom.refusal import granted
from stillroom.stock.by_supplier import from_supplier, held_of, suppliers
from stillroom.stock.lotcode import printed
from stillroom.stock.tracing import by_day
from stillroom.stock.words import said_day
from stillroom.web.now import now_of
from stillroom.web.pages import page
from stillroom.web.routes.stock import kept_stock


def supplied_page(request: Request) -> Response:
    """Page of which jars have somebody's fruit in; of nobody, who is known."""
    whom = request.query_params.get("whom", "")[:200].strip()
    with kept_stock(request).reading() as stock:
        if not whom:
            known = sorted(suppliers(stock).items(), key=lambda one: one[0].casefold())
            return page(request, "suppliers.html", here="stock", known=known)
        found = granted(from_supplier(stock, whom))
        return page(
            request,
            "supplied.html",
            here="stock",
            found=found,
            held=held_of(stock, found),
            went=by_day(found.outs, now_of(request).tzinfo),
            lots=stock.lots,
            printed=printed,
            said_day=said_day,
        )


ROUTES = [Route("/stock/from", supplied_page)]
