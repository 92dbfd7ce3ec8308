"""Second thoughts: the rest of the day planned again, shown beside the old plan."""

from __future__ import annotations

import datetime as dt
from concurrent.futures import CancelledError, Future
from dataclasses import replace
from typing import Any

from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response
from starlette.routing import Route

from stillroom.planning.begun.as_known import Known, as_known
from stillroom.planning.begun.warming import not_on_the_fire_said
from stillroom.planning.daytime import clock_time, said_minutes
from stillroom.planning.problem import Problem
from stillroom.planning.second_thoughts.take_in import has_room
from stillroom.planning.words.step_words import called
from stillroom.refusal import Refusal, Refused, Unreadable
from stillroom.running.again import Again, nothing_left, plan_again, taking
from stillroom.running.day_mark import mark_of
from stillroom.running.fold import RunState
from stillroom.running.handle import PREFIX, handle, state_of
from stillroom.running.kept_plan import OwnFile, own_file
from stillroom.running.look_longer import look_longer, takes_s
from stillroom.running.rules import OUR_RECORD
from stillroom.running.so_far import said_of_the_day
from stillroom.stock.how_long_ago import moment_words
from stillroom.stock.words import said_day
from stillroom.web.again_form import (
    coming_fields,
    droppable,
    leaving_fields,
    moving_fields,
    read_told,
    under_way,
)
from stillroom.web.again_kept import AgainKept, with_names, without_names
from stillroom.web.as_booked import given_up
from stillroom.web.now import now_of
from stillroom.web.pages import page, word_page
from stillroom.web.shop import Shop
from stillroom.web.was_and_is import moved_lines, side_by_side
from stillroom.web.which_run import (
    of_day,
    plan_now,
    run_named,
    run_shown,
    to_the_board,
)

PATIENCE_S = 30.0
"""For a search that waits behind another one. [s]"""
OWN_PLAN_S = 10.0
"""For the plan of the run's own day file, where it is worked out just now. [s]"""
OLD_AFTER = dt.timedelta(minutes=10)
"""Then a plan that was shown is no longer looked at for longer. Ours, no source."""
TAKES_NOTHING_IN = Refusal(
    "a batch is taken in from the day file that the day was begun by, and that is "
    "another one by now, or is being planned",
    instead="plan the rest without it; or save the day file again as it was when the "
    "day was begun, and plan again",
    source=OUR_RECORD,
)
STILL_AT_IT = "This computer is still planning, and the rest of the day has to wait."
GO_ON = "Go on by the plan at the stove, and ask again in a minute."


def ask_page(request: Request) -> Response:
    """
    Ask what is otherwise than planned, beside what the run says.

    Where a plan is named that was shown, with what was typed to come to it.
    """
    name = request.query_params.get("said", "")
    found, fields = _kept(request).of(name), _kept(request).typed(name)
    said_at = ""
    if found is not None and any(any(values) for values in fields.values()):
        said_at = f"{found[1].at.astimezone(now_of(request).tzinfo):%-H:%M}"
    return _ask(request, fields, (), said_at=said_at)


async def plan_it(request: Request) -> Response:
    """Plan the rest again, and go to what came of it."""
    async with request.form(max_fields=1000) as form:
        fields: dict[str, list[str]] = {}
        for name, value in form.multi_items():
            if isinstance(value, str):
                fields.setdefault(name, []).append(value)
    return await run_in_threadpool(_plan_it, request, fields)


def _plan_it(request: Request, fields: dict[str, list[str]]) -> Response:
    run, state, at = _run(request)
    if run is None or state is None or state.plan is None:
        return _nothing_to_plan(request, state)
    try:
        told = read_told(fields, state.plan.problem, state.plan.timetable)
    except Unreadable as unreadable:
        return _ask(request, fields, unreadable.faults)
    own = _own_file(request, state, patience_s=OWN_PLAN_S)
    if not own.spares and (done := nothing_left(state)) is not None:
        return _done(request, done)
    if told.taken and own.day is None:
        return _ask(request, fields, (), refusal=TAKES_NOTHING_IN)
    told = replace(told, given_up=given_up(request, run, state, at))
    beside = request.app.state.beside
    again = _in_time(beside.submit(plan_again, state, at, told, own=own), PATIENCE_S)
    if again is None:
        return word_page(request, 503, "Not yet", STILL_AT_IT, GO_ON)
    if isinstance(again, Refusal):
        return _ask(request, fields, (), refusal=again)
    name = _kept(request).keep(run, again, fields)
    return RedirectResponse(f"/again/{name}", status_code=303)


def _in_time(
    coming: Future[Again | Refusal], patience_s: float
) -> Again | Refusal | None:
    """What is planned in the process beside; `None` where that is busy too long."""
    try:
        return coming.result(timeout=patience_s)
    except (TimeoutError, CancelledError):  # another press may have given it up
        coming.cancel()
        return None


async def longer(request: Request) -> Response:
    """Look longer for a better plan than the one shown, and go to what came of it."""
    return await run_in_threadpool(_longer, request)


def _longer(request: Request) -> Response:
    name = request.path_params["name"]
    found = _kept(request).of(name)
    if found is None:
        return _gone(request)
    run, shown = found
    state = state_of(run, ledger=request.app.state.records.ledger)
    if (old := _too_old(shown, now_of(request))) is not None:
        return _shown(request, name, run, shown, old)
    beside = request.app.state.beside
    coming = _kept(request).once(name, lambda: beside.submit(look_longer, shown, state))
    # it may be tried once more
    again = _in_time(coming, PATIENCE_S + 2 * takes_s(shown))
    if again is None:
        return word_page(request, 503, "Not yet", STILL_AT_IT, GO_ON)
    if isinstance(again, Refusal):
        return _shown(request, name, run, shown, again)
    name = _kept(request).keep(run, again, _kept(request).typed(name))
    return RedirectResponse(f"/again/{name}", status_code=303)


def _too_old(again: Again, now: dt.datetime) -> Refusal | None:
    """Say that a plan is of a minute that has long gone by."""
    if now - again.at <= OLD_AFTER:
        return None
    ago = said_minutes(round((now - again.at).total_seconds() / 60))
    return Refusal(
        f"this plan was made for {again.at.astimezone(now.tzinfo):%-H:%M}, {ago} ago",
        instead="plan the rest again from how it stands now",
        source=OUR_RECORD,
    )


def shown_page(request: Request) -> Response:
    """Old and new side by side, one sentence first."""
    name = request.path_params["name"]
    found = _kept(request).of(name)
    if found is None:
        return _gone(request)
    return _shown(request, name, *found)


def _shown(
    request: Request, name: str, run: str, again: Again, refusal: Refusal | None = None
) -> Response:
    found = again.found
    drawing, people = side_by_side(found, request.query_params.get("who", ""))
    return page(
        request,
        "again_shown.html",
        status=422 if refusal else 200,
        here="stove",
        refusal=refusal,
        **_whose_day(request, run),
        name=name,
        otherwise=_otherwise(request, run, name),
        again=again,
        found=found,
        now=found.happened.now_min,
        clock=lambda minute: clock_time(found.problem.starts_at, minute),
        put_off=found.is_put_off,
        drawing=drawing,
        people=people,
        # a load may be another one before and after: its canner's column says enough
        load_names={
            load.id: "" for plan in (found.old, found.new) for load in plan.loads
        },
        moved=moved_lines(found),
        offers=[
            (offer, address, again.own.keeps.get(offer.batch, ()))
            for offer, address in zip(
                again.offers, without_names(name, again), strict=True
            )
        ],
        rooms=list(zip(again.rooms, with_names(name, again), strict=True)),
        left_out=[(b, again.own.keeps.get(b, ())) for b in again.told.changes.dropped],
        room=has_room(found, again.spares),
        assumed=_assumed(found.problem, again.known),
        not_on_the_fire=not_on_the_fire_said(found.problem, again.known.not_said),
        longer_s=round(takes_s(again)),
        too_old=_too_old(again, now_of(request)),
    )


def _otherwise(request: Request, run: str, name: str) -> str:
    """Address of the form with what was typed to come to a plan."""
    ends = of_day(request, run)
    return f"/again{ends}{'&' if ends else '?'}said={name}"


async def take_it(request: Request) -> Response:
    """Go by the plan that was shown, whatever day file stands by now."""
    return await run_in_threadpool(_take_it, request)


def _take_it(request: Request) -> Response:
    name = request.path_params["name"]
    found = _kept(request).of(name)
    if found is None:
        return _gone(request)
    run, again = found
    ledger = request.app.state.records.ledger
    command = taking(again, state_of(run, ledger=ledger), now_of(request))
    try:
        handle(command, run, ledger=ledger, key=f"again {name}")
    except Refused as refused:
        return _shown(request, name, run, again, refused.refusal)
    return to_the_board(request, run)


def _own_file(request: Request, state: RunState, patience_s: float = 0.0) -> OwnFile:
    """What the run's day file says; nothing where another one stands by now."""
    shop: Shop = request.app.state.shop
    text = shop.day_text()
    if state.plan is None or state.plan.of != mark_of(text):
        return OwnFile()
    plan = shop.plan_within(patience_s)  # it is planned anew after a restart
    return own_file(plan, state, text)


def _of_day(begun_at: dt.datetime, at: dt.datetime) -> str:
    """Say which day it was that ended, where it is another by now."""
    if begun_at.date() == at.date():
        return ""
    return f" on the day of {said_day(begun_at.date().isoformat())}"


def _ask(
    request: Request,
    fields: dict[str, list[str]],
    faults: Any,
    *,
    refusal: Refusal | None = None,
    said_at: str = "",
) -> Response:
    run, state, at = _run(request)
    if run is None or state is None or state.plan is None:
        return _nothing_to_plan(request, state)
    own = _own_file(request, state)
    if not own.spares and (done := nothing_left(state)) is not None:
        return _done(request, done)
    problem = state.plan.problem
    gone = given_up(request, run, state, at)
    now, said = said_of_the_day(state, state.plan, at, given_up=gone)
    known = as_known(problem, state.plan.timetable, now, said)
    begun = len(known.happened.steps)
    begun_at = (state.begun_at or at).astimezone(at.tzinfo)
    finish = state.plan.timetable.finish_min
    return page(
        request,
        "again.html",
        status=422 if refusal else 400 if faults else 200,
        here="stove",
        refusal=refusal,
        **_whose_day(request, run),
        at=at,
        it_is=moment_words(at, begun_at),
        begun=begun,
        steps=len(state.plan.timetable.steps),
        by_plan=_assumed(problem, known),
        ends=clock_time(problem.starts_at, finish) + _of_day(begun_at, at),
        is_over=now >= finish,
        said_at=said_at,
        taken=state.taken,
        under_way=under_way(problem, state.plan.timetable, known),
        leaving=leaving_fields(problem, now),
        coming=coming_fields(problem, known),
        moving=moving_fields(problem, state.plan.timetable, known),
        canners=[c.id for c in problem.canners if any(c.places.values())],
        drops=droppable(problem, known),
        spares=own.spares,
        typed={name: values for name, values in fields.items() if values},
        faults={fault.key: fault.what for fault in faults},
    )


def _assumed(problem: Problem, known: Known) -> list[str]:
    """Which steps are taken to have begun by the plan, in words; a load is no step."""
    batches = {batch.id: batch for batch in problem.batches}
    return [
        f"{called(batches[s.batch], s.step)} of {s.batch}"
        for s in known.happened.steps
        if (s.batch, s.step) in known.by_plan and s.batch in batches
    ]


def _run(request: Request) -> tuple[str | None, RunState | None, dt.datetime]:
    at = now_of(request)
    ledger = request.app.state.records.ledger
    run = run_named(request) or run_shown(request, plan_now(request), at)
    return run, None if run is None else state_of(run, ledger=ledger), at


def _whose_day(request: Request, run: str) -> dict[str, Any]:
    """Return of which day a page is, where the stove shows another by itself."""
    ends = of_day(request, run)
    day = dt.date.fromisoformat(run.removeprefix(PREFIX))
    return {"of_day": ends, "other_day": day if ends else None}


def _kept(request: Request) -> AgainKept:
    kept: AgainKept = request.app.state.again
    return kept


def _nothing_to_plan(request: Request, state: RunState | None) -> Response:
    begun = state is not None and state.begun_at is not None
    reason = (
        "this day was begun before plans were kept with it"
        if begun
        else "the day has not been begun, so there is nothing to plan again"
    )
    return word_page(
        request,
        200,
        "Nothing to plan again yet",
        reason,
        "go on by the plan that is shown at the stove"
        if begun
        else "begin the day at the stove; before that, change the day in the Kitchen "
        "or compare changes under What if",
    )


def _done(request: Request, done: Refusal) -> Response:
    """Page of a day of which nothing is left to plan."""
    return word_page(request, 200, "The day is done", done.reason, done.instead)


def _gone(request: Request) -> Response:
    return word_page(
        request,
        404,
        "This plan is no longer kept",
        "plans that were only looked at are kept for a little while",
        "plan the rest again from how it stands now, at /again",
    )


ROUTES = [
    Route("/again", ask_page, name="again"),
    Route("/again", plan_it, methods=["POST"]),
    Route("/again/{name}", shown_page),
    Route("/again/{name}/longer", longer, methods=["POST"]),
    Route("/again/{name}/take", take_it, methods=["POST"]),
]
