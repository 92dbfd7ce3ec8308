"""Taps at the stove that a phone kept while it was cut off, taken in afterwards."""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable, Mapping
from dataclasses import replace
from functools import partial

from starlette.concurrency import run_in_threadpool
from starlette.datastructures import FormData
from starlette.requests import Request
from starlette.responses import JSONResponse, Response
from starlette.routing import Route

from stillroom.refusal import Fault, Unreadable
from stillroom.running.asked_first import asked_first
from stillroom.running.commands import (
    BeginStep,
    Command,
    FinishStep,
    MarkFullBoil,
)
from stillroom.running.common_refusals import TYPE_IN
from stillroom.running.fold import RunState
from stillroom.running.handle import handle, state_of
from stillroom.running.hands import has_step
from stillroom.web.days_begun import going_beside
from stillroom.web.now import now_of
from stillroom.web.routes.stove import (
    KEYS,
    NO_SUCH_STEP,
    wants_asking,
)
from stillroom.web.sent_later import no, told_to_phone
from stillroom.web.stove_form import key_of, seen_in
from stillroom.web.which_run import plan_now, plan_of, run_of

STEPS: dict[str, Callable[..., Command]] = {"begun": BeginStep, "done": FinishStep}
OLDEST = dt.timedelta(hours=24)
"""Of a tap: what is older is typed in on the page of the day after."""


async def late(request: Request) -> Response:
    """
    Take in a tap that waited on a phone; the answer is JSON.

    Its own time counts, and it is marked late. It names itself as it would have when
    it was tapped: what reached the kitchen then, or was sent before, counts once.
    """
    form = await request.form()
    return await run_in_threadpool(told_to_phone, partial(_taken, request, form))


def _taken(request: Request, form: FormData) -> Response:
    ledger, now = request.app.state.records.ledger, now_of(request)
    tap, run = str(form.get("tap", "")), run_of(str(form.get("run", "")))
    of = ("batch", "step") if tap in STEPS else ("load",)
    key = key_of(form, tap, *(str(form.get(name, "")) for name in of))
    if key is None or tap not in {*STEPS, *KEYS}:
        raise Unreadable(
            Fault("the tap does not name itself: tap again on the board", key="once")
        )
    at = tapped_at(form, now)
    first = ledger.answered(run, key)
    if first is not None:
        return JSONResponse({"said": [], "again": True, "seen": first})
    ask = STEPS.get(tap) or KEYS[tap]
    state = state_of(run, ledger=ledger)
    if tap in STEPS:
        batch, step = str(form.get("batch", "")), str(form.get("step", ""))
        if not has_step(plan_of(run, plan_now(request)), batch, step, state):
            return no(
                NO_SUCH_STEP,
                f"write it down with its time, {_clock(at)}, if it was done",
            )
        named = {"batch": batch, "step": step}
    else:
        named = {"load": str(form.get("load", ""))}
    command = ask(**named, at=at, seen=seen_in(form.get("seen")), late=True)
    beside = going_beside(request, run, at)
    if isinstance(command, MarkFullBoil) and form.get("sure") == "yes":
        command = replace(command, sure=True)
    elif isinstance(command, MarkFullBoil) and wants_asking(state, command, beside):
        return _sure(state, command, beside)
    state = handle(command, run, ledger=ledger, key=key)
    number = ledger.answered(run, key)
    if number is None:  # somebody else has said so, at another time
        return no(
            f"{_said_before(state, named, now.tzinfo)}, so this tap of {_clock(at)} "
            "changes nothing",
            "look at the board as it is now, and write down which time is right",
        )
    return JSONResponse(
        {"said": [f"tapped {_clock(at)}, marked late"], "again": False, "seen": number}
    )


def tapped_at(form: FormData, now: dt.datetime) -> dt.datetime:
    """
    Return when it was tapped, by the kitchen's clock.

    The phone says it twice: by the kitchen's clock as the phone last saw it, and as an
    age by its own. They differ where either clock was set in between; the later one is
    taken, as a process that begins too late is only longer.

    Raises
    ------
    Unreadable
        If it is no time, or too long ago.
    """
    said, age = _ms(form, "tapped"), _ms(form, "age")
    # in UTC: of two times of one zone Python takes the hours on the dial, and in the
    # night in which clocks are set those tell nothing of how long ago it was
    now_utc = now.astimezone(dt.UTC)
    at_utc = max(
        dt.datetime.fromtimestamp(said / 1000, dt.UTC),
        now_utc - dt.timedelta(milliseconds=age),
    )
    at = min(at_utc, now_utc).astimezone(now.tzinfo)
    if now_utc - at_utc > OLDEST:
        raise Unreadable(
            Fault(
                f"this was tapped more than 24 hours ago, {at:%Y-%m-%d} at "
                f"{_clock(at)}: {TYPE_IN}",
                key="tapped",
            )
        )
    return at


def _ms(form: FormData, name: str) -> int:
    text = str(form.get(name, ""))
    if not (text.isascii() and text.isdecimal() and len(text) < 14):
        raise Unreadable(
            Fault(f"{text[:40]!r} is no time of a tap; tap again", key=name)
        )
    return int(text)


def _sure(
    state: RunState, command: MarkFullBoil, beside: Mapping[str, RunState]
) -> Response:
    run = state.load(command.load)
    assert run is not None
    first, name = asked_first(state, run, command.at, beside), run.load.name
    assert first is not None
    return JSONResponse(
        {
            "no": first.why,
            "instead": f"say whether it was {name} at {_clock(command.at)}; until then "
            "it waits here, and its clock has not been started",
            "sure": f"{first.yes}, from {_clock(command.at)}",
        },
        status_code=422,
    )


def _said_before(state: RunState, named: dict[str, str], zone: dt.tzinfo | None) -> str:
    """What was said of it already, by another hand: when it was, where that is kept."""
    if "load" in named:
        run = state.load(named["load"])
        name = run.load.name if run else named["load"]
        since = run and (run.lifted_at or run.boiling_since or run.venting_since)
        return f"{name} was tapped on another device already" + (
            f", at {_clock(since.astimezone(zone))}" if since else ""
        )
    return f"this step of {named['batch']} was said on another device already"


def _clock(moment: dt.datetime) -> str:
    return f"{moment:%-H:%M:%S}"


ROUTES = [Route("/stove/late", late, methods=["POST"])]
"""Before those of the stove: its keys are named by the last word of their address."""
