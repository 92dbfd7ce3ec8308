"""One lot: how it was made, both ways of its trace, what is open."""

from __future__ import annotations

import datetime as dt
import uuid

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from stillroom.book.trouble import Trouble
from stillroom.refusal import Refusal
from stillroom.running.booked_otherwise import booked_otherwise
from stillroom.running.handle import state_of
from stillroom.stock.after import open_of
from stillroom.stock.choices import Choices
from stillroom.stock.choosing import known_lot
from stillroom.stock.clock_here import clock_here, filled_here
from stillroom.stock.cold_said import AS_COLD, COLD_AS
from stillroom.stock.fold import Stock
from stillroom.stock.gauge_said import may_gauge_be_said
from stillroom.stock.lacking import lacking
from stillroom.stock.lacks import is_in_doubt
from stillroom.stock.lotcode import printed
from stillroom.stock.making import (
    choices_for_unsealed,
    holds,
)
from stillroom.stock.mass import WHO, Balance, balance_of
from stillroom.stock.not_food import LYE_CAUTION, LYE_SOURCE, is_caustic
from stillroom.stock.process_words import process_words
from stillroom.stock.put_up_said import put_up_asked
from stillroom.stock.told import load_words
from stillroom.stock.tracing import by_day, trace
from stillroom.stock.warm import doubtful_places
from stillroom.stock.words import said_day
from stillroom.web.now import now_of
from stillroom.web.pages import page
from stillroom.web.routes.book import kitchen_elevation
from stillroom.web.routes.stock import answer_page, booked_of, entry_of, kept_stock


def lot_page(request: Request) -> Response:
    """Page of one lot: how it was made, both ways of its trace, what is open."""
    with kept_stock(request).reading() as stock:
        return _lot_page(request, stock, now_of(request))


def _lot_page(request: Request, stock: Stock, now: dt.datetime) -> Response:
    code = known_lot(stock, request.path_params["code"])
    if isinstance(code, Refusal):
        return answer_page(request, {}, refusal=code)
    found = trace(stock, code)
    made = stock.made(code)
    which, choices = _choices(stock, code, now)
    still = open_of(stock, code, now)
    return page(
        request,
        "stock_lot.html",
        here="stock",
        lot=found.lot,
        code=printed(code),
        day=said_day(found.lot.day) if found.lot.day else "",
        found=found,
        made=made,
        mass=_balance(stock, code),
        mass_source=WHO,
        held=holds(stock, code),
        otherwise=_otherwise(request, stock, code, now),
        caustic=is_caustic(found.lot.what),
        lye_caution=LYE_CAUTION,
        lye_source=LYE_SOURCE,
        load=load_words(made) if made else "",
        process=process_words(stock, code, now.tzinfo),
        filled=filled_here(made, now.tzinfo) if made else "",
        boil_began=clock_here(made, made.batch.boil_start, now.tzinfo) if made else "",
        lacks=lacking(stock, code),
        put_up=put_up_asked(stock, code),
        gauge_open=may_gauge_be_said(stock, code),
        maybe_cold=doubtful_places(stock, code) if is_in_doubt(stock, code) else (),
        cold_as=COLD_AS,
        as_cold=AS_COLD,
        is_open=still is not None and still.wants_looking,
        height=kitchen_elevation(request),
        label=stock.label(code),
        pictures=stock.pictures(code),
        notes=stock.notes(code),
        now=now,
        token=uuid.uuid4().hex,
        checks=stock.checks(code),
        choices_of=which,
        choices=choices,
        booked=booked_of(request, stock),
        entries=[entry_of(stock, number) for number, _ in reversed(stock.about(code))],
        went=by_day(found.outs, now.tzinfo),
        where=stock.places,
        known=stock.known_places(),
        lots=stock.lots,
        printed=printed,
        said_day=said_day,
    )


def _otherwise(request: Request, stock: Stock, code: str, now: dt.datetime) -> str:
    """Say what the stove has of a lot that was booked as never processed."""
    made = stock.made(code)
    if made is None or not made.batch.run or made.batch.process_min:
        return ""
    state = state_of(made.batch.run, ledger=request.app.state.records.ledger)
    return booked_otherwise(state, stock, code, now.tzinfo)


def _choices(
    stock: Stock, code: str, now: dt.datetime
) -> tuple[str, tuple[Trouble, ...]]:
    """Which jars there are published choices for, and what they are."""
    found: tuple[Trouble, ...] | Refusal = ()
    which = "Jars that have not sealed"
    if is_in_doubt(stock, code):  # the graver matter: no lid says anything of it
        open_ = open_of(stock, code, now)
        if open_ is not None and isinstance(open_.choices, Choices):
            which, found = open_.choices_of, open_.choices.troubles
    elif stock.made(code) and any(c.failed or c.doubtful for c in stock.checks(code)):
        found = choices_for_unsealed(stock, code, now)
    return which, () if isinstance(found, Refusal) else found


def _balance(stock: Stock, code: str) -> Balance | None:
    """The balance of masses of what was made; nothing where there is none."""
    found = balance_of(stock, code)
    return None if isinstance(found, Refusal) else found


ROUTES = [Route("/stock/lot/{code}", lot_page)]
