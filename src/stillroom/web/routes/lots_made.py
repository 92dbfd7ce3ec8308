"""The lots of a day: what its run at the stove made, booked with one key."""

from __future__ import annotations

import datetime as dt
import uuid
from collections.abc import Iterable
from urllib.parse import urlencode

from starlette.concurrency import run_in_threadpool
from starlette.datastructures import FormData, QueryParams
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response
from starlette.routing import Route

from stillroom.refusal import Fault, NotNow, Refusal, Refused, Unreadable
from stillroom.running.booked_otherwise import booked_otherwise, runs_still
from stillroom.running.fold import RunState
from stillroom.running.handle import PREFIX, run_id, state_of
from stillroom.running.lots_made import (
    LotMade,
    booking,
    day_of_lots,
    lots_made,
    unprocessed,
)
from stillroom.stock.fold import Stock
from stillroom.stock.gauge import read_gauge
from stillroom.stock.jars_out import days_said
from stillroom.stock.lotcode import printed
from stillroom.stock.words import by_plan, clean, said_day
from stillroom.web.lots_dropped import Dropped, dropped_lines, told
from stillroom.web.now import now_of
from stillroom.web.pages import page
from stillroom.web.routes.stock import TOKEN, kept_stock

LINE = ("load", "batch", "number", "place", "gauge")
LONGEST = 200
Typed = dict[tuple[str, str], tuple[str, str, str]]
"""(load, batch) to the number of jars, their place and their gauge, as typed."""


def made_page(request: Request) -> Response:
    """Page of what the run made: proposals, and what was booked already."""
    asked = request.query_params
    named = asked.get("run", "")
    run = run_asked(request, named)
    other = dt.date.fromisoformat(named.removeprefix(PREFIX)) if named else None
    return _made(request, run, dropped=_typed(asked), plan_day=other)


def _made(
    request: Request,
    run: str | None,
    *,
    typed: Typed | None = None,
    refusal: Refusal | None = None,
    faults: tuple[str, ...] = (),
    dropped: Typed | None = None,
    plan_day: dt.date | None = None,
) -> Response:
    now = now_of(request)
    lots: tuple[LotMade, ...] = ()
    to_come: list[LotMade] = []
    day: dt.date | None = None
    inputs: dict[str, list[str]] = {}
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
            inputs = {f"{lot.load}/{lot.batch}": _inputs(stock, lot) for lot in lots}
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
        status=422 if refusal else 400 if faults else 200,
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
    )


def _inputs(stock: Stock, lot: LotMade) -> list[str]:
    """Say what is drawn for a lot: "5 cups of plum juice L26H01-1K, freezer 2"."""
    return [
        f"{stock.lots[part.lot].measure.of(part.number, stock.lots[part.lot].what)} "
        f"{printed(part.lot)}, {part.place}"
        for part in lot.draws
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
        return _made(request, run, typed=_typed(form), faults=(fault,))
    now = now_of(request)
    state = state_of(run, ledger=request.app.state.records.ledger)
    try:
        mended = _mended(form)
        with kept_stock(request).reading() as stock:
            on = day_of_lots(state, run, stock, now.tzinfo)
            found = lots_made(state, run, stock, now.tzinfo)
            is_retry = bool(stock.booked_as(token))
        never = bool(form.get("never"))
        if never and (no := _runs_still(state, mended, now)) is not None:
            return _made(request, run, refusal=no)
        lots = [
            unprocessed(lot) if never else lot
            for lot in found
            if lot.ready is not never
            and (lot.making.batch.run_load, lot.making.batch.run_batch) in mended
        ]
        gauges = {} if never else _gauges(form, lots)
        asked = booking(
            lots,
            on=on,
            at=now,
            token=token,
            mended=None if never else mended,
            gauges=gauges,
        )
        stock, _ = kept_stock(request).handle(asked)
    except NotNow:
        raise  # nothing that was typed is wrong
    except Unreadable as fault:
        faults = tuple(map(str, fault.faults))
        return _made(request, run, typed=_typed(form), faults=faults)
    except Refused as refused:
        return _made(request, run, typed=_typed(form), refusal=refused.refusal)
    booked = stock.booked_as(token)  # nothing where all of it was booked before
    lost = () if is_retry else dropped_lines(stock, run, mended, gauges)
    if lost:  # another hand was first: it is said, with what was typed here
        typed = _typed(form)
        sent = [("run", run.removeprefix(PREFIX))]
        for key in lost:
            sent += list(zip(LINE, (*key, *typed[key]), strict=True))
        return RedirectResponse(f"/stock/made?{urlencode(sent)}", status_code=303)
    query = f"?booked={booked}" if booked else ""
    return RedirectResponse(f"/stock/after{query}", status_code=303)


def _runs_still(
    state: RunState, lines: Iterable[tuple[str, str]], now: dt.datetime
) -> Refusal | None:
    """Return why jars of these lines had a process; `None` where none had."""
    for load, _ in lines:
        run = state.load(load)
        if run is not None and (no := runs_still(run, now)) is not None:
            return no
    return None


def _typed(form: FormData | QueryParams) -> Typed:
    """Return the lines of the form as they came, to stand there again after a no."""
    said = [[str(x) for x in form.getlist(name)] for name in LINE]
    said[-1] = said[-1] or [""] * len(said[0])  # a form of before asks for none
    return {
        (load, batch): (number[:LONGEST], place[:LONGEST], gauge[:LONGEST])
        for load, batch, number, place, gauge in zip(*said, strict=False)
    }


def _gauges(
    form: FormData, lots: Iterable[LotMade]
) -> dict[tuple[str, str], float | None]:
    """Read what the gauges of the loads under pressure read, where it was said."""
    typed, gauges = _typed(form), {}
    for lot in lots:
        batch = lot.making.batch
        key = (batch.run_load, batch.run_batch)
        said = typed[key][2] if batch.due_psi is not None else ""
        try:
            gauges[key] = read_gauge(said, canner=batch.canner)
        except Unreadable as fault:
            raise Unreadable(
                Fault(str(fault), key=f"gauge of {lot.batch[:60]}")
            ) from None
    return gauges


def _mended(form: FormData) -> dict[tuple[str, str], tuple[int, str]]:
    """Read the lines of the form: which lot, how many jars, where they stand."""
    mended = {}
    for (load, batch), (number, place, _) in _typed(form).items():
        text = number.strip()
        if not (text.isascii() and text.isdecimal() and len(text) <= 4):
            raise Unreadable(
                Fault(
                    f"{text[:30]!r} is no number of jars: write digits, 0 where none "
                    "came of it",
                    key=f"jars of {batch[:60]}",
                )
            )
        where = clean(place, f"place of {batch[:60]}")
        mended[load, batch] = (int(text), where)
    return mended


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
