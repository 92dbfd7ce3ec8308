"""The pages, put together."""

from __future__ import annotations

from concurrent.futures import Executor, ThreadPoolExecutor

from starlette.applications import Starlette
from starlette.middleware import Middleware
from starlette.responses import RedirectResponse
from starlette.routing import Mount, Route
from starlette.staticfiles import StaticFiles

from stillroom.records.days import Records
from stillroom.smallholding.invented import is_invented
from stillroom.web.again_kept import AgainKept
from stillroom.web.errors import HANDLERS
from stillroom.web.found_kept import FoundKept
from stillroom.web.gate import Gate
from stillroom.web.now import watched
from stillroom.web.pages import HERE
from stillroom.web.routes import (
    advice,
    again,
    book,
    day,
    day_after,
    day_before,
    kitchen,
    late,
    learned,
    lot,
    lots_made,
    made,
    mishaps,
    odds,
    own_jars,
    own_recipe,
    pictures,
    questions,
    search_on,
    shelf,
    shelf_count,
    stock,
    stock_sheets,
    stove,
    stove_late,
    supplied,
    taking_back,
    what_if,
    why,
)
from stillroom.web.shop import Shop


def build_app(
    shop: Shop,
    *,
    port: int | None = None,
    at: str = "",
    records: Records | None = None,
    beside: Executor | None = None,
) -> Starlette:
    """
    Return the pages over a shop.

    Parameters
    ----------
    shop : Shop
        The day file and its plan.
    port : int, optional
        Port that it is served on, for the words to who comes by a wrong address.
    at : str, optional
        Address in the house's network by which they may be asked for too.
    records : Records, optional
        Where a run at the stove is kept; without them there is no stove page.
    beside : Executor, optional
        Where pages have days planned; a thread of this process where none is given.
    """
    app = Starlette(
        routes=[
            Route("/", lambda request: RedirectResponse("/day", status_code=307)),
            *day.ROUTES,
            *search_on.ROUTES,
            *made.ROUTES,
            *odds.ROUTES,
            *what_if.ROUTES,
            *book.ROUTES,
            *advice.ROUTES,
            *questions.ROUTES,
            *own_recipe.ROUTES,
            *why.ROUTES,
            *kitchen.ROUTES,
            *(day_after.ROUTES if records is not None else ()),
            *(day_before.ROUTES if records is not None else ()),
            *(lots_made.ROUTES if records is not None else ()),
            *(mishaps.ROUTES if records is not None else ()),
            *(stove_late.ROUTES if records is not None else ()),
            *(stove.ROUTES if records is not None else ()),
            *(pictures.ROUTES if records is not None else ()),
            *(shelf_count.ROUTES if records is not None else ()),
            *(late.ROUTES if records is not None else ()),
            *(shelf.ROUTES if records is not None else ()),
            *(stock_sheets.ROUTES if records is not None else ()),
            *(supplied.ROUTES if records is not None else ()),
            *(again.ROUTES if records is not None else ()),
            *(taking_back.ROUTES if records is not None else ()),
            *(own_jars.ROUTES if records is not None else ()),
            *(lot.ROUTES if records is not None else ()),
            *(stock.ROUTES if records is not None else ()),
            *(learned.ROUTES if records is not None else ()),
            Mount("/static", StaticFiles(directory=HERE / "static"), name="static"),
        ],
        middleware=[Middleware(Gate, port=port, at=at)],
        exception_handlers=HANDLERS,
    )
    app.state.shop = shop
    app.state.records = records
    app.state.clock = watched(records)
    app.state.invented = records is not None and is_invented(records.ledger)
    app.state.beside = beside or ThreadPoolExecutor(1, thread_name_prefix="beside")
    app.state.again = AgainKept()
    app.state.found = FoundKept()
    app.state.on_closing = []  # called when the server is asked to end; see serve.py
    return app
