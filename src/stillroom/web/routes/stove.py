"""At the stove: the process clocks, and the keys that a wet hand hits."""

from __future__ import annotations

import datetime as dt
import secrets
from collections.abc import Callable, Mapping
from dataclasses import replace
from functools import partial
from typing import Any, TypeGuard

from starlette.concurrency import run_in_threadpool
from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from stillroom.methods.canner_water import VENT_MIN
from stillroom.planning.dayplan import DayPlan
from stillroom.planning.timetable import Answer
from stillroom.refusal import Refusal, Refused
from stillroom.running.asked_first import asked_first
from stillroom.running.batches import batches_of
from stillroom.running.behind import behind
from stillroom.running.board import board, how_to_lift, other_keys
from stillroom.running.commands import (
    BeginDay,
    BeginStep,
    Command,
    FinishStep,
    LiftLoad,
    MarkBoilLost,
    MarkFullBoil,
    MarkVenting,
    MarkVentingStopped,
    TakeLoadBack,
    TakeStepBack,
)
from stillroom.running.day_mark import mark_of
from stillroom.running.decide import decide
from stillroom.running.fold import RunState
from stillroom.running.handle import PREFIX, handle, run_id, state_of
from stillroom.running.hands import hands, has_step
from stillroom.running.kept_plan import kept
from stillroom.running.load_run import LoadRun
from stillroom.running.load_said_by_mistake import loads_taken_back
from stillroom.running.loads import loads_of, steps_of
from stillroom.running.lots_made import worked_on
from stillroom.running.power_gone import may_have_been_off
from stillroom.running.rules import OUR_RECORD, rules_for
from stillroom.running.said_by_mistake import SHOWN_FOR, may_be_taken_back
from stillroom.running.set_going import to_set_going
from stillroom.running.under_way import is_under_way
from stillroom.stock.how_long_ago import moment_words
from stillroom.web.as_booked import booked_since, state_shown
from stillroom.web.days_begun import day_at_the_stove, days_beside, going_beside
from stillroom.web.gone_by import may_plan_again
from stillroom.web.now import by_this_clock, now_of
from stillroom.web.pages import page
from stillroom.web.plan_on_screen import OnScreen, on_screen, read_from, what_differs
from stillroom.web.saved_day import found_by_search
from stillroom.web.stove_form import ONCE_BYTES, key_of, moment_in, seen_in
from stillroom.web.which_run import (
    drawn_anew,
    plan_now,
    plan_of,
    planned_day,
    run_named,
    run_of,
    run_shown,
    to_the_board,
)

KEYS: dict[str, Callable[..., Command]] = {
    "venting": MarkVenting,
    "venting-stopped": MarkVentingStopped,
    "full-boil": MarkFullBoil,
    "boil-lost": MarkBoilLost,
    "lifted": LiftLoad,
}

NO_SUCH_STEP = "the plan as it is now has no such step"


def stove(request: Request) -> Response:
    """
    Page of the clocks; of another day than the stove shows, where it is named.

    A board that draws itself anew names its day by ``while``: as long as it goes on.
    """
    stays = run_named(request, "while")
    return _stove(request, of=stays or run_named(request), while_under_way=bool(stays))


async def begin(request: Request) -> Response:
    """Begin the day with the loads of its plan."""
    form = await request.form()
    seen, shown = seen_in(form.get("seen")), read_from(form)
    sure, key = form.get("sure") == "yes", key_of(form, "begin")
    return await run_in_threadpool(_begin, request, seen, shown, key, sure)


async def tap(request: Request) -> Response:
    """One key of one load."""
    form = await request.form()
    ask = KEYS.get(request.path_params["key"])
    if ask is None:
        raise HTTPException(404)
    run, load = str(form.get("run", "")), str(form.get("load", ""))
    seen = seen_in(form.get("seen"))
    key = key_of(form, request.path_params["key"], load)
    sure = form.get("sure") == "yes"
    return await run_in_threadpool(_tap, request, ask, run, load, seen, key, sure)


async def begun(request: Request) -> Response:
    """Say that a step of a batch is begun."""
    return await _say_of_step(request, "begun", BeginStep)


async def done(request: Request) -> Response:
    """Say that a step of a batch is done."""
    return await _say_of_step(request, "done", FinishStep)


async def _say_of_step(
    request: Request, what: str, ask: Callable[..., Command]
) -> Response:
    form = await request.form()
    run, batch, step = (str(form.get(key, "")) for key in ("run", "batch", "step"))
    seen = seen_in(form.get("seen"))
    key = key_of(form, what, batch, step)
    return await run_in_threadpool(_step, request, ask, run, batch, step, seen, key)


async def take_back(request: Request) -> Response:
    """Say that a step was said begun, or done, by mistake."""
    form = await request.form()
    was = "begun" if form.get("was") == "begun" else "done"
    ask = partial(TakeStepBack, was=was, said_at=moment_in(form.get("said_at")))
    return await _say_of_step(request, f"take-back {was}", ask)


async def take_load_back(request: Request) -> Response:
    """Say that a load was said to be at a full boil, or lifted out, by mistake."""
    form = await request.form()
    run, load = run_of(str(form.get("run", ""))), str(form.get("load", ""))
    was = "lifted" if form.get("was") == "lifted" else "full-boil"
    key = key_of(form, f"take-back {was}", load)
    said_at, seen = moment_in(form.get("said_at")), seen_in(form.get("seen"))

    def take() -> Response:
        if was == "lifted" and (no := booked_since(request, run, load, key)):
            return _stove(request, refusal=no, of=run)
        at = now_of(request)
        asked = TakeLoadBack(load=load, was=was, said_at=said_at, at=at, seen=seen)
        return _done(request, asked, run, key)

    return await run_in_threadpool(take)


def _stove(
    request: Request,
    *,
    refusal: Refusal | None = None,
    asked: LoadRun | None = None,
    other_plan: str = "",
    of: str = "",
    while_under_way: bool = False,
    asks_of_day: bool = False,
) -> Response:
    at, switched_on, boot = by_this_clock(request)
    plan = plan_now(request)
    planned = planned_day(plan)
    run = run_shown(request, plan, at)
    goes_by = run
    if of:
        named = state_of(of, ledger=request.app.state.records.ledger)
        if is_under_way(named, at) or (named.begun_at and not while_under_way):
            run = of
    if run is None:
        return page(
            request,
            "stove_waits.html",
            here="stove",
            status=422 if refusal else 200,
            refusal=refusal,
            working=plan is None and bool(request.app.state.shop.day_text().strip()),
            at=at,
        )
    state = state_shown(request, run, at)
    day = at.date() if state.begun_at is None else worked_on(state, run, at.tzinfo)
    shown = board(state, at)
    may_begin = can_be_begun(plan) and not _has_begun(request, plan)
    is_ready = bool(shown.out) or _is_closed_without_a_load(state)
    text = request.app.state.shop.day_text()
    goes_on = is_under_way(state, at)
    others = going_beside(request, run, at)
    is_chosen = run != goes_by and not while_under_way
    goes_by_another = (
        planned in (None, dt.date.fromisoformat(run.removeprefix(PREFIX)))
        and goes_on
        and state.plan is not None
        and state.plan.of != mark_of(text)
    )
    return page(
        request,
        "stove.html",
        here="stove",
        status=422 if refusal else 200,
        refusal=refusal,
        asked=asked,
        asked_words=asked_first(state, asked, at, others) if asked else None,
        other_plan=other_plan,
        on_screen=on_screen(plan, text) if may_begin else None,
        goes_by_another=goes_by_another,
        found=found_by_search(request) if may_begin else None,
        run=run,
        run_day=run.removeprefix(PREFIX),
        plan_day=dt.date.fromisoformat(run.removeprefix(PREFIX)),
        day=day,
        at=at,
        may_begin=may_begin,
        is_ready=is_ready,
        over_since=is_ready and not shown.cards and at.date() > day,
        board=shown,
        state=state,
        planned=loads_of(plan) if may_begin else (),
        planned_day=planned,
        beside=days_beside(request, run),
        asks_of_day=day_at_the_stove(request) if asks_of_day and may_begin else None,
        is_default=run == goes_by,
        drawn_anew=drawn_anew(run, is_chosen=is_chosen, goes_on=goes_on),
        goes_on=goes_on,
        rest_to_plan=may_plan_again(request, state),
        of_an_invented_day=isinstance(plan, DayPlan) and plan.day.invented,
        switched_on=switched_on,
        moment=partial(moment_words, at=at),
        may_have_been_off=may_have_been_off(state, at, switched_on, boot),
        hands=hands(plan_of(run, plan), state, at.tzinfo) if state.begun_at else (),
        behind=behind(plan_of(run, plan), state, at),
        going=to_set_going(plan_of(run, plan), state, at),
        said_of_loads=loads_taken_back(state, at),
        said=may_be_taken_back(plan_of(run, plan), state, at),
        rules=rules_for,
        vent_min=VENT_MIN,
        told_whole_for=SHOWN_FOR,
        how_to_lift=how_to_lift,
        other_keys=other_keys,
        asked_first=lambda load: asked_first(state, load, at, others),
        zone_min=round((at.utcoffset() or dt.timedelta()).total_seconds() / 60),
        now_ms=_ms(at),
        ms=_ms,
        once=secrets.token_hex(ONCE_BYTES),
    )


def can_be_begun(plan: Any) -> TypeGuard[DayPlan]:
    """Whether there is a plan that has anything to do."""
    if not (isinstance(plan, DayPlan) and isinstance(plan.answer, Answer)):
        return False
    return bool(plan.answer.timetable.steps or plan.answer.timetable.loads)


def _is_closed_without_a_load(state: RunState) -> bool:
    """Whether on a day without a canner something was said to be filled and closed."""
    closes = {(batch.id, batch.closes) for batch in state.batches}
    return not state.loads and any((b, s) in closes for b, s, _ in state.done_at)


def _has_begun(request: Request, plan: DayPlan) -> bool:
    """Whether the day of a plan was begun at the stove."""
    ledger = request.app.state.records.ledger
    return state_of(run_id(plan.day.date), ledger=ledger).begun_at is not None


def _begin(
    request: Request, seen: int | None, shown: OnScreen, key: str | None, sure: bool
) -> Response:
    plan = plan_now(request)
    if not can_be_begun(plan):
        no = Refusal(
            "there is no plan to begin with",
            instead="mend the day file, or wait until its plan is worked out",
            source=OUR_RECORD,
        )
        return _stove(request, refusal=no)
    day_text, run = request.app.state.shop.day_text(), run_id(plan.day.date)
    now = on_screen(plan, day_text)
    # of a day that was begun meanwhile the board asks neither
    if shown.mark != now.mark:
        return _stove(request, other_plan=what_differs(shown, now))
    if not sure and day_at_the_stove(request) is not None:
        return _stove(request, asks_of_day=True)
    at, switched_on, boot = by_this_clock(request)
    command = BeginDay(
        loads=loads_of(plan),
        batches=batches_of(plan),
        steps=steps_of(plan),
        kitchen=plan.day.kitchen.name,
        plan=kept(plan, day_text),
        switched_on=switched_on,
        boot=boot,
        at=at,
        seen=seen,
    )
    return _done(request, command, run, key)


def _step(
    request: Request,
    ask: Callable[..., Command],
    run: str,
    batch: str,
    step: str,
    seen: int | None,
    key: str | None,
) -> Response:
    plan = plan_of(run, plan_now(request))
    state = state_of(run_of(run), ledger=request.app.state.records.ledger)
    if not has_step(plan, batch, step, state):
        no = Refusal(
            NO_SUCH_STEP,
            instead="choose from the steps that are shown now",
            source=OUR_RECORD,
        )
        return _stove(request, refusal=no, of=run_of(run))
    at = now_of(request)
    command = ask(batch=batch, step=step, at=at, seen=seen)
    return _done(request, command, run_of(run), key)


def _tap(
    request: Request,
    ask: Callable[..., Command],
    run: str,
    load: str,
    seen: int | None,
    key: str | None,
    sure: bool,
) -> Response:
    at, _, boot = by_this_clock(request)
    command = ask(load=load, at=at, seen=seen, boot=boot)
    if isinstance(command, MarkFullBoil) and sure:
        command = replace(command, sure=True)
    elif isinstance(command, MarkFullBoil):
        ledger = request.app.state.records.ledger
        state = state_of(run_of(run), ledger=ledger)
        if wants_asking(state, command, going_beside(request, run_of(run), command.at)):
            return _stove(request, asked=state.load(load), of=run_of(run))
    return _done(request, command, run_of(run), key)


def wants_asking(
    state: RunState, command: MarkFullBoil, beside: Mapping[str, RunState]
) -> bool:
    """Whether a clock would start that is not to start unasked."""
    run = state.load(command.load)
    if run is None or asked_first(state, run, command.at, beside) is None:
        return False
    return not isinstance(decide(state, command), Refusal)


def _done(request: Request, command: Command, run: str, key: str | None) -> Response:
    """Hand the command on; a refusal comes with the clocks, which stay in sight."""
    try:
        handle(command, run, ledger=request.app.state.records.ledger, key=key)
    except Refused as refused:
        return _stove(request, refusal=refused.refusal, of=run)
    return to_the_board(request, run)


def _ms(moment: dt.datetime) -> int:
    """Milliseconds since 1970, for the count between two looks at the server."""
    return round(moment.timestamp() * 1000)


ROUTES = [
    Route("/stove", stove, name="stove"),
    Route("/stove/begin", begin, methods=["POST"]),
    Route("/stove/begun", begun, methods=["POST"]),
    Route("/stove/done", done, methods=["POST"]),
    Route("/stove/take-back", take_back, methods=["POST"]),
    Route("/stove/load-back", take_load_back, methods=["POST"]),
    Route("/stove/{key}", tap, methods=["POST"]),
]
