"""The lots of a day: what its run at the stove made, booked with one key."""

from __future__ import annotations

import datetime as dt
import uuid
from collections.abc import Iterable
from urllib.parse import urlencode

from starlette.concurrency import run_in_threadpool
from starlette.datastructures import FormData
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response
from starlette.routing import Route

from stillroom.refusal import Fault, NotNow, Refusal, Refused, Unreadable
from stillroom.running.book_lots import booking, unprocessed
from stillroom.running.booked_otherwise import booked_otherwise, runs_still
from stillroom.running.fold import RunState
from stillroom.running.handle import PREFIX, run_id, state_of
from stillroom.running.her_measure import drawn, is_metric, needed
from stillroom.running.lots_made import LotMade, day_of_lots, lots_made
from stillroom.stock.fold import Stock
from stillroom.stock.jars_out import days_said
from stillroom.stock.lotcode import printed
from stillroom.stock.words import by_plan, said_day
from stillroom.web.lots_dropped import Dropped, dropped_lines, told
from stillroom.web.lots_typed import (
    LINE,
    Key,
    Lines,
    Typed,
    asked_apart,
    key_of,
    read_lines,
    typed_of,
)
from stillroom.web.now import now_of
from stillroom.web.pages import page
from stillroom.web.routes.stock import TOKEN, kept_stock


def made_page(request: Request) -> Response:
    """Page of what the run made: proposals, and what was booked already."""
    asked = request.query_params
    named = asked.get("run", "")
    run = run_asked(request, named)
    other = dt.date.fromisoformat(named.removeprefix(PREFIX)) if named else None
    return _made(request, run, dropped=typed_of(asked), plan_day=other)


def _made(
    request: Request,
    run: str | None,
    *,
    typed: Typed | None = None,
    refusal: Refusal | None = None,
    faults: tuple[str, ...] = (),
    lines: Lines | None = None,
    dropped: Typed | None = None,
    plan_day: dt.date | None = None,
) -> Response:
    now, lines = now_of(request), lines or Lines()
    lots: tuple[LotMade, ...] = ()
    to_come: list[LotMade] = []
    day: dt.date | None = None
    inputs: dict[Key, list[str]] = {}
    metric = is_metric(request.app.state.shop.day_text())
    otherwise: dict[str, str] = {}
    not_yours: list[Dropped] = []
    on_clock: set[str] = set()
    if run is not None:
        state = state_of(run, ledger=request.app.state.records.ledger)
        with kept_stock(request).reading() as stock:
            day = day_of_lots(state, run, stock, now.tzinfo)
            lots = lots_made(state, run, stock, now.tzinfo)
            to_come = [
                lot
                for lot in lots
                if not (lot.booked or lot.is_asked_about(state, now))
            ]
            inputs = {key_of(lot): _inputs(stock, lot, metric) for lot in lots}
            otherwise = {
                lot.booked: said
                for lot in lots
                if lot.booked
                and (said := booked_otherwise(state, stock, lot.booked, now.tzinfo))
            }
            not_yours = list(told(stock, lots, dropped or {}, now.tzinfo))
        on_clock = {each.load.id for each in state.loads if each.boiling_since}
    return page(
        request,
        "lots_made.html",
        here="stock",
        status=422 if refusal else 400 if faults or lines.wrong else 200,
        run=run,
        plan_day=plan_day,
        day=day,
        plan=by_plan(run, day.isoformat()) if run and day else "",
        ready=[lot for lot in lots if lot.ready and not lot.booked],
        waiting=[
            lot for lot in lots if not (lot.ready or lot.booked or lot in to_come)
        ],
        to_come=to_come,
        booked=[lot for lot in lots if lot.booked],
        inputs=inputs,
        lacks=lambda lot: [needed(need, metric=metric) for need in lot.lacking],
        otherwise=otherwise,
        on_clock=on_clock,
        not_yours=not_yours,
        typed=typed or {},
        printed=printed,
        days_said=days_said,
        said_day=said_day,
        token=lambda: uuid.uuid4().hex,
        refusal=refusal,
        faults=faults,
        wrong=lines.wrong,
        told=lines.told(lots),
        key_of=key_of,
    )


def _inputs(stock: Stock, lot: LotMade, metric: bool) -> list[str]:
    """Say what is drawn for a lot: "5 cups of plum juice L26H01-1K, freezer 2"."""
    of = [(stock.lots[part.lot], part) for part in lot.draws]
    return [
        f"{drawn(taken.measure, part.number, taken.what, metric=metric)} "
        f"{printed(part.lot)}, {part.place}"
        for taken, part in of
    ]


async def book(request: Request) -> Response:
    """Book the day's lots; the same key twice books once."""
    form = await request.form()
    return await run_in_threadpool(_book, request, form)


def _book(request: Request, form: FormData) -> Response:
    token, run = (
        str(form.get("token", "")),
        run_asked(request, str(form.get("run", ""))),
    )
    if run is None or not TOKEN.fullmatch(token):
        fault = "this page was not confirmed here: open it again and book from there"
        return _made(request, run, typed=typed_of(form), faults=(fault,))
    now = now_of(request)
    state = state_of(run, ledger=request.app.state.records.ledger)
    typed = typed_of(form)
    with kept_stock(request).reading() as stock:
        on = day_of_lots(state, run, stock, now.tzinfo)
        found = lots_made(state, run, stock, now.tzinfo)
        is_retry = bool(stock.booked_as(token))
    lines = read_lines(typed, found)
    if lines.wrong:
        typed = asked_apart(typed, found)
        return _made(request, run, typed=typed, lines=lines)
    never = bool(form.get("never"))
    if never and (no := _runs_still(state, typed, now)) is not None:
        return _made(request, run, refusal=no)
    lots = [
        unprocessed(lot) if never else lot
        for lot in found
        if lot.ready is not never and key_of(lot) in typed
    ]
    gauges = {} if never else lines.gauges
    asked = booking(
        lots,
        on=on,
        at=now,
        token=token,
        mended=None if never else lines.mended,
        gauges=gauges,
        beyond=None if never else lines.beyond,
    )
    try:
        stock, _ = kept_stock(request).handle(asked)
    except NotNow:
        raise  # nothing that was typed is wrong
    except Unreadable as fault:
        faults = tuple(map(str, fault.faults))
        return _made(request, run, typed=typed, faults=faults)
    except Refused as refused:
        return _made(request, run, typed=typed, refusal=refused.refusal)
    booked = stock.booked_as(token)  # nothing where all of it was booked before
    lost = () if is_retry else dropped_lines(stock, run, lines.mended, gauges)
    if lost:  # another hand was first: it is said, with what was typed here
        sent = [("run", run.removeprefix(PREFIX))]
        for key in lost:
            sent += list(zip(LINE, (*key, *typed[key]), strict=True))
        return RedirectResponse(f"/stock/made?{urlencode(sent)}", status_code=303)
    query = f"?booked={booked}" if booked else ""
    return RedirectResponse(f"/stock/after{query}", status_code=303)


def _runs_still(
    state: RunState, keys: Iterable[tuple[str, str]], now: dt.datetime
) -> Refusal | None:
    """Return why jars of these lines had a process; `None` where none had."""
    for load, _ in keys:
        run = state.load(load)
        if run is not None and (no := runs_still(run, now)) is not None:
            return no
    return None


def run_asked(request: Request, text: str) -> str | None:
    """Return the run that is meant: of a day, or the newest one; `None` if none is."""
    ledger = request.app.state.records.ledger
    if not text:
        newest: str | None = ledger.newest_stream(PREFIX)
        return newest
    try:
        run = run_id(dt.date.fromisoformat(text.removeprefix(PREFIX)))
    except ValueError:
        raise Unreadable(
            Fault(f"{text[:40]!r} is no day; open the page from the stove", key="run")
        ) from None
    return run if ledger.last(run) else None


ROUTES = [
    Route("/stock/made", made_page),
    Route("/stock/made/book", book, methods=["POST"]),
]
