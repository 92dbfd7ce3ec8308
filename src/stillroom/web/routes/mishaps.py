"""What went wrong with a load: a jar broke, the time was wrong, the water too low."""

from __future__ import annotations

import datetime as dt
import uuid
from dataclasses import dataclass
from urllib.parse import urlencode

from starlette.concurrency import run_in_threadpool
from starlette.datastructures import FormData
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response
from starlette.routing import Route

from stillroom.refusal import COMMON_PRACTICE, Refusal, Refused, Unreadable
from stillroom.running.commands import BreakJar, TakeJarBack
from stillroom.running.events import BOILING_WATER
from stillroom.running.handle import PREFIX, handle, state_of
from stillroom.running.load_run import LoadRun
from stillroom.running.lots_made import day_of_lots, load_number
from stillroom.running.rules import CUT_SHORT, OUR_RECORD
from stillroom.stock.choices import Choices
from stillroom.stock.commands import Hold, Take
from stillroom.stock.events import Doubt, Held, Way
from stillroom.stock.how_long_ago import left_words, moment_words
from stillroom.stock.lotcode import printed
from stillroom.stock.unprocessed import choices_after
from stillroom.stock.words import by_plan
from stillroom.web.now import now_of
from stillroom.web.pages import page
from stillroom.web.routes.lots_made import run_asked
from stillroom.web.routes.stock import TOKEN, kept_stock
from stillroom.web.stove_form import seen_in

CRACKS = (
    ("ring", "a ring round the bottom", "heat shock: a cold jar in hot water"),
    ("forked", "a forked crack in the side", "pressure from inside"),
    ("star", "a star", "a knock"),
    ("unknown", "cannot be told", "not known"),
)
"""Key, how it looks, likely cause; household canning practice, as in the book."""
CAUSES = {key: cause for key, _, cause in CRACKS}
NO_KEY = "that was no key of this page: go back to the stove"


def broke_page(request: Request) -> Response:
    """Page of a jar that broke: which crack, and what the rest of the load does."""
    return _broke(request, request.query_params.get("run", ""))


def _broke(request: Request, run_text: str, refusal: Refusal | None = None) -> Response:
    run = run_asked(request, run_text)
    state = (
        None if run is None else state_of(run, ledger=request.app.state.records.ledger)
    )
    wanted = request.query_params.get("load", "")
    lots: dict[tuple[str, str], str] = {}
    if run is not None and state is not None:
        with kept_stock(request).reading() as stock:
            lots = {
                (each.load.id, batch): printed(code)
                for each in state.loads
                for batch, _ in each.load.jars
                if (code := stock.from_run(run, batch, each.load.id)) is not None
            }
    return page(
        request,
        "jar_broke.html",
        here="stove",
        status=422 if refusal else 200,
        run=run,
        loads=[
            each
            for each in (state.loads if state else ())
            if not wanted or each.load.id == wanted
        ],
        cracks=CRACKS,
        cause=CAUSES.get(request.query_params.get("done", ""), ""),
        whole="whole" in request.query_params,
        lots=lots,
        token=lambda: uuid.uuid4().hex,
        sequence=state.sequence if state else 0,
        refusal=refusal,
    )


async def broke(request: Request) -> Response:
    """Book one jar less, with its likely cause."""
    form = await request.form()
    return await run_in_threadpool(_book_broken, request, form)


def _book_broken(request: Request, form: FormData) -> Response:
    """
    Count one jar less: of the run, or of the lot where it is booked already.

    Which of the two is asked of the stock at that moment.
    """
    said = {key: str(form.get(key, "")) for key in ("run", "load", "batch", "crack")}
    run, token = run_asked(request, said["run"]), str(form.get("token", ""))
    cause = CAUSES.get(said["crack"])
    if run is None or cause is None or not TOKEN.fullmatch(token):
        raise Unreadable(NO_KEY)
    now = now_of(request)
    try:
        with kept_stock(request).reading() as stock:
            code = stock.from_run(run, said["batch"], said["load"])
        if code is not None:
            kept_stock(request).handle(
                Take(
                    lot=printed(code),
                    quantity="1",
                    way=Way.BROKEN,
                    why=cause,
                    at=now,
                    token=token,
                )
            )
        else:
            handle(
                BreakJar(
                    load=said["load"], batch=said["batch"], crack=said["crack"], at=now
                ),
                run,
                ledger=request.app.state.records.ledger,
                key=f"broke {token}",
            )
    except Refused as refused:
        return _broke(request, said["run"], refused.refusal)
    query = urlencode(
        {
            "run": run.removeprefix(PREFIX),
            "load": said["load"],
            "done": said["crack"],
        }
    )
    return RedirectResponse(f"/stove/broke?{query}", status_code=303)


async def whole(request: Request) -> Response:
    """Take back that a jar broke: it was tapped by mistake."""
    form = await request.form()
    return await run_in_threadpool(_take_back, request, form)


def _take_back(request: Request, form: FormData) -> Response:
    """
    Count the jar again, while its lot is not booked.

    In a booked lot it is one less from the start: what stands there is counted.
    """
    said = {key: str(form.get(key, "")) for key in ("run", "load", "batch")}
    run, token = run_asked(request, said["run"]), str(form.get("token", ""))
    if run is None or not TOKEN.fullmatch(token):
        raise Unreadable(NO_KEY)
    with kept_stock(request).reading() as stock:
        code = stock.from_run(run, said["batch"], said["load"])
    if code is not None:
        no = Refusal(
            f"the lot of {said['batch']} was booked since, as {printed(code)}, with "
            "that jar as broken",
            instead="count what stands there, on the page of the lot",
            source=OUR_RECORD,
        )
        return _broke(request, said["run"], no)
    command = TakeJarBack(
        load=said["load"],
        batch=said["batch"],
        seen=seen_in(form.get("seen")),
        at=now_of(request),
    )
    ledger = request.app.state.records.ledger
    try:
        handle(command, run, ledger=ledger, key=f"whole {token}")
    except Refused as refused:
        return _broke(request, said["run"], refused.refusal)
    day = run.removeprefix(PREFIX)
    query = urlencode({"run": day, "load": said["load"], "whole": "1"})
    return RedirectResponse(f"/stove/broke?{query}", status_code=303)


def wrong_page(request: Request) -> Response:
    """Page of the loads that are out: what was wrong, and the hours that are left."""
    run = run_asked(request, request.query_params.get("run", ""))
    now = now_of(request)
    state = (
        None if run is None else state_of(run, ledger=request.app.state.records.ledger)
    )
    with kept_stock(request).reading() as stock:
        day = (
            ""
            if run is None or state is None
            else day_of_lots(state, run, stock, now.tzinfo).isoformat()
        )
        rows = [
            _Row(
                number=number,
                run=each,
                out=moment_words(out, now),
                held=tuple(event.doubt for event in stock.held_load(day, number)),
                choices=_choices(stock.held_load(day, number), out, now),
            )
            for each in (state.loads if state else ())
            if state and each.lifted_at is not None
            for number in (load_number(state, each.load.id),)
            for out in (each.lifted_at,)
        ]
    return page(
        request,
        "load_wrong.html",
        here="stove",
        run=run,
        rows=rows,
        plan=by_plan(run or "", day) if rows else "",
        cut_short=CUT_SHORT,
        common=COMMON_PRACTICE,
        now=now,
        left_words=left_words,
        moment_words=moment_words,
        token=lambda: uuid.uuid4().hex,
    )


@dataclass(frozen=True, slots=True)
class _Row:
    """One load that is out."""

    number: int
    run: LoadRun
    out: str
    held: tuple[Doubt, ...]
    choices: Choices | Refusal | None

    @property
    def doubts(self) -> tuple[tuple[Doubt, str], ...]:
        """What may be said of it; no water stands over lids under pressure."""
        if self.run.load.method != BOILING_WATER:
            return ((Doubt.WRONG_TIME, "Wrong time or pressure"),)
        water = (Doubt.WATER_LOW, "Water below the lids")
        return ((Doubt.WRONG_TIME, "Wrong time"), water)


def _choices(
    held: tuple[Held, ...], out: dt.datetime, now: dt.datetime
) -> Choices | Refusal | None:
    if not held:
        return None
    hours = max(0.0, (now - out).total_seconds() / 3600)
    return choices_after(held[-1].doubt, hours, now)


async def doubt(request: Request) -> Response:
    """Put a load on hold before or after its lots are booked."""
    form = await request.form()
    return await run_in_threadpool(_book_doubt, request, form)


def _book_doubt(request: Request, form: FormData) -> Response:
    run, token = (
        run_asked(request, str(form.get("run", ""))),
        str(form.get("token", "")),
    )
    load, said = str(form.get("number", "")), str(form.get("doubt", ""))
    if (
        run is None
        or said not in set(Doubt)
        or not TOKEN.fullmatch(token)
        or not (load.isascii() and load.isdecimal() and len(load) < 4)
    ):
        raise Unreadable(NO_KEY)
    now, state = now_of(request), state_of(run, ledger=request.app.state.records.ledger)
    with kept_stock(request).reading() as stock:
        day = day_of_lots(state, run, stock, now.tzinfo)
    kept_stock(request).handle(
        Hold(
            doubt=Doubt(said),
            day=day,
            load=int(load),
            at=now,
            token=token,
        )
    )
    return RedirectResponse(
        f"/stove/wrong?run={run.removeprefix(PREFIX)}", status_code=303
    )


ROUTES = [
    Route("/stove/broke", broke_page),
    Route("/stove/broke/book", broke, methods=["POST"]),
    Route("/stove/broke/whole", whole, methods=["POST"]),
    Route("/stove/wrong", wrong_page),
    Route("/stove/doubt", doubt, methods=["POST"]),
]
