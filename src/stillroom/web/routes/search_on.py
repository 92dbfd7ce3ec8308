"""A better plan of the day, looked for on request, and what became of that."""

from __future__ import annotations

import datetime as dt

from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import JSONResponse, RedirectResponse, Response
from starlette.routing import Route

from stillroom.web.gone_by import has_begun
from stillroom.web.now import now_of
from stillroom.web.saved_day import not_to_be_saved
from stillroom.web.search_on import Searched
from stillroom.web.shop import Shop


async def search_on(request: Request) -> Response:
    """Begin to look for a better plan, and go back to the page of the day."""
    async with request.form(max_fields=10, max_files=0) as sent:
        mark = str(sent.get("of", ""))
    return await run_in_threadpool(_search_on, request, mark)


def _search_on(request: Request, mark: str) -> Response:
    if (no := not_to_be_saved(request, mark)) is not None:
        return no
    shop: Shop = request.app.state.shop
    shop.search_on(lambda: not has_begun(request))
    return RedirectResponse("/day#searched", status_code=303)


def how_it_goes(request: Request) -> Response:
    """Say to a page that is open whether the search goes on, and what it found."""
    searched = request.app.state.shop.searched()
    return JSONResponse(
        {
            "goes_on": searched is not None and searched.goes_on,
            "said": searched_words(request, searched),
            "better": searched is not None and bool(searched.better),
        }
    )


def searched_words(request: Request, searched: Searched | None) -> str:
    """What a search comes to; empty where none was asked for."""
    if searched is None:
        return ""
    at = f"{searched.until.astimezone(now_of(request).tzinfo):%-H:%M}"
    if searched.goes_on:
        return (
            f"A better plan is looked for, until about {at}. The one below holds "
            "meanwhile."
        )
    if searched.failed:
        return f"The search for a better plan broke off at {at}; the one below holds."
    if searched.too_late:
        return (
            f"A plan that was found at {at} came too late: the day was begun by the "
            "one below."
        )
    if searched.better:
        return (
            f"A better plan was found at {at}: {searched.better}. A sheet that was "
            "printed before is of the plan before."
        )
    return f"No better plan was found until {at}; the one below holds."


def how_long_it_takes(most: dt.timedelta) -> str:
    """
    Say how long a search takes at most, on the key that begins it.

    >>> how_long_it_takes(dt.timedelta(seconds=60))
    'a minute'
    >>> how_long_it_takes(dt.timedelta(seconds=180))
    'up to 3 min'
    """
    minutes = max(1, round(most.total_seconds() / 60))
    return "a minute" if minutes == 1 else f"up to {minutes} min"


ROUTES = [
    Route("/day/search-on", search_on, methods=["POST"]),
    Route("/day/search-on", how_it_goes),
]
