"""Jars of her own that stand there already: booked on a page with their process."""

from __future__ import annotations

import datetime as dt
import uuid
from collections.abc import Callable
from dataclasses import replace
from functools import partial
from typing import Any

from starlette.concurrency import run_in_threadpool
from starlette.datastructures import FormData
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response
from starlette.routing import Route

from stillroom.book.acid_foods import acid_printed
from stillroom.book.canner_rules import METHODS
from stillroom.book.elevation import read_elevation_m
from stillroom.measures import FOOT_M
from stillroom.refusal import NotNow, Refusal, Refused, Unreadable
from stillroom.stock.before_booked import stood_too_long_words
from stillroom.stock.commands import Make
from stillroom.stock.decide import decide
from stillroom.stock.decision import Decision
from stillroom.stock.due import PACKS
from stillroom.stock.gauge import gauge_not_said, is_too_low, psi_words, read_gauge
from stillroom.stock.how_long_ago import clock_words
from stillroom.stock.jars_out import out_on
from stillroom.stock.making import read_clock
from stillroom.stock.put_up import batch_put_up, no_part_of_a_making, thing_made
from stillroom.stock.sentence import LONGEST_SENTENCE, propose
from stillroom.stock.what_went_in import read_inputs
from stillroom.stock.words import read_day, said_day
from stillroom.web.asking import Faults, one_of, typed, whole
from stillroom.web.now import now_of
from stillroom.web.pages import page
from stillroom.web.routes.book import kitchen_elevation
from stillroom.web.routes.stock import TOKEN, kept_stock

CLOCKS = {"filled": "filled", "began": "begun", "out": "out"}
"""Clock times of that day, and what each of them is of the jars or their process."""
FIELDS = (
    "sentence",
    "on",
    "process",
    "canner",
    "pack",
    "gauge",
    "elevation",
    "of",
    *CLOCKS,
)
LONGEST = 4 * LONGEST_SENTENCE
"""So much of a field is read: what is too long is refused, and never cut and booked."""


def own_page(request: Request) -> Response:
    """Ask what jars they are; with an answer, show what would be booked."""
    asked = typed(request, *FIELDS, longest=LONGEST)
    return _drawn(request, asked, sent="asked" in request.query_params)


async def book(request: Request) -> Response:
    """Book them, as they were shown."""
    async with request.form(max_files=0) as form:
        return await run_in_threadpool(_book, request, form)


def _book(request: Request, form: FormData) -> Response:
    asked = {name: str(form.get(name, "")).strip()[:LONGEST] for name in FIELDS}
    token = str(form.get("token", ""))
    faults = Faults()
    make = _read(request, asked, faults, token)
    if make is None or not TOKEN.fullmatch(token):
        return _drawn(request, asked, sent=True)
    try:
        stock, _ = kept_stock(request).handle(make)
    except NotNow:
        raise  # nothing that was typed is wrong
    except Unreadable:
        return _drawn(request, asked, sent=True)
    except Refused as refused:
        return _drawn(request, asked, sent=True, refusal=refused.refusal)
    return RedirectResponse(
        f"/stock/after?booked={stock.booked_as(token)}", status_code=303
    )


def _drawn(
    request: Request,
    asked: dict[str, str],
    *,
    sent: bool,
    refusal: Refusal | None = None,
) -> Response:
    faults = Faults()
    make = _read(request, asked, faults, uuid.uuid4().hex) if sent else None
    stood = ""
    if make is not None and refusal is None:
        read = partial(_decided, request, make)
        answer = faults.read("of", asked["of"], lambda _: read())
        refusal = answer if isinstance(answer, Refusal) else None
        stood = stood_too_long_words(answer or ())
        make = make if answer is not None else None
    if not sent:  # what was emptied, and is asked for, is not filled in behind it
        asked["elevation"] = asked["elevation"] or kitchen_elevation(request)
    return page(
        request,
        "own_jars.html",
        status=400 if faults.found else 422 if refusal else 200,
        here="stock",
        asked=asked,
        faults=faults.found,
        refusal=refusal,
        canners=METHODS,
        canners_named={method: method.replace("-", " ") for method in METHODS},
        packs=PACKS,
        make=None if refusal else make,
        stood=stood,
        shown=_shown(make) if make is not None else (),
        too_low=make is not None
        and is_too_low(make.batch.gauge_psi, make.batch.due_psi),
    )


def _decided(request: Request, make: Make) -> Decision:
    with kept_stock(request).reading() as stock:
        return decide(stock, make)


def _read(
    request: Request, asked: dict[str, str], faults: Faults, token: str
) -> Make | None:
    """Return what would be booked; `None` where a field cannot be read."""
    now = now_of(request)
    with kept_stock(request).reading() as stock:
        known = stock.known_places()
    read = propose(
        asked["sentence"], today=now.date(), known_places=known, as_jars=True
    )
    if read.thing is None:
        faults.found["sentence"] = "; ".join(read.faults)
    day = faults.read("on", asked["on"], lambda text: _day(text, now.date()))
    process_min = None
    if asked["process"] and asked["process"] != "0":
        process_min = faults.read("process", asked["process"], whole)
    canner = asked["canner"] or METHODS[0]
    faults.read("canner", canner, one_of(*METHODS))
    faults.read("pack", asked["pack"], one_of("", *PACKS))
    gauge_psi = faults.read("gauge", asked["gauge"], _gauge_of(canner))
    clock = {
        name: faults.read(name, asked[name], partial(read_clock, what=what)) or ""
        for name, what in CLOCKS.items()
    }
    height_m = None
    if asked["elevation"]:
        height_m = faults.read("elevation", asked["elevation"], read_elevation_m)
    else:
        faults.found["elevation"] = "Give it: it says which process was due."
    inputs = faults.read("of", asked["of"], read_inputs)
    if read.thing and day and (fault := no_part_of_a_making(read.thing, day)):
        faults.found["sentence"] = fault
    if read.thing is None or day is None or height_m is None or faults.found:
        return None
    thing = thing_made(read.thing, day)
    batch = replace(
        batch_put_up(
            thing,
            process_min=process_min,
            canner=canner,
            elevation_ft=height_m / float(FOOT_M),
            pack=asked["pack"] or None,
            gauge_psi=gauge_psi,
        ),
        filled_at=clock["filled"],
        process_began=clock["began"],
        out_at=clock["out"],
        out_on=out_on(day, clock["out"], clock["filled"], now),
    )
    return Make(thing=thing, inputs=inputs, batch=batch, on=day, at=now, token=token)


def _gauge_of(canner: str) -> Callable[[str], float | None]:
    return lambda text: read_gauge(text, canner=canner)


def _day(text: str, today: dt.date) -> dt.date:
    if not text:
        raise Unreadable("say the day, such as 12 June 2026")
    day = read_day(text, today=today)
    if day is None or len(day) != len("2026-06-12"):
        raise Unreadable(f"{text[:30]!r} is no day; write 12 June 2026 or 2026-06-12")
    return dt.date.fromisoformat(day)


def _shown(make: Make) -> tuple[tuple[str, Any], ...]:
    thing, batch = make.thing, make.batch
    at, at_due = psi_words(batch.gauge_psi), psi_words(batch.due_psi)
    given = f"{batch.process_min} min{at}" if batch.process_min else "none"
    due = "not known" if batch.due_min is None else f"{batch.due_min} min{at_due}"
    rows = [
        ("Made", thing.measure.of(thing.number, thing.what)),
        ("Where", thing.place),
        ("On", said_day(make.on.isoformat())),
    ]
    rows += [("Out of", f"{quantity} of {lot}") for lot, quantity in make.inputs]
    if batch.canned:
        rows += [
            ("Process given", given),
            ("Process due", f"{due} ({batch.due_source})"),
        ]
        if acid := acid_printed(thing.what):
            rows.append(("Its acid", acid))
    if batch.filled_at:
        rows.append(("Filled and closed", clock_words(batch.filled_at)))
    if batch.process_began:
        rows.append(("Process from", clock_words(batch.process_began)))
    if batch.out_at:
        later = ""
        if batch.out_on:
            later = f" of {said_day(batch.out_on)}, in the night after"
        elif batch.filled_at > batch.out_at:
            later = " of the next day"
        rows.append(("Out of the canner", clock_words(batch.out_at) + later))
    if gauge_not_said(batch):
        rows.append(("Gauge", "not said: it is judged by its minutes alone"))
    return tuple(rows)


ROUTES = [
    Route("/stock/own", own_page),
    Route("/stock/own/book", book, methods=["POST"]),
]
