"""The shelf on a phone: what to eat first, how far it goes."""

from __future__ import annotations

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from stillroom.paper.stock_sheets import use_first_pdf
from stillroom.planning.which_batches.year import Opinion
from stillroom.refusal import Refusal, Unreadable
from stillroom.stock.cover import Cover, covers, family_guess
from stillroom.stock.first import ORDER, QUALITY, left_out, use_first
from stillroom.stock.jars_kept import jars_kept
from stillroom.stock.words import said_day
from stillroom.web.asking import Faults, whole
from stillroom.web.now import now_of
from stillroom.web.pages import page
from stillroom.web.routes.stock import (
    kept_stock,
)

MOST_PERSONS = 60
WEEKS = 2 * 52


def first_page(request: Request) -> Response:
    """Page of what to eat first; it prints in 18 pt."""
    place = request.query_params.get("place", "")[:200]
    with kept_stock(request).reading() as stock:
        rows = use_first(stock, now_of(request), place=place)
        without = left_out(stock, now_of(request), place=place)
    return page(
        request,
        "use_first.html",
        here="stock",
        rows=rows,
        without=without,
        place=place,
        quality=QUALITY,
        order=ORDER,
        today_words=said_day(now_of(request).date().isoformat()),
    )


def first_pdf(request: Request) -> Response:
    """The same as a PDF."""
    with kept_stock(request).reading() as stock:
        made = use_first_pdf(
            stock, now_of(request), invented=request.app.state.invented
        )
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
    Route("/stock/first", first_page),
    Route("/stock/first.pdf", first_pdf),
    Route("/stock/cover", cover_page),
]
