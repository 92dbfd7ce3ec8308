"""Which run a page is of: that which the stove shows, or one that is named."""

from __future__ import annotations

import datetime as dt
from typing import Any

from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from stillroom.planning.dayplan import DayPlan
from stillroom.refusal import Fault, Unreadable
from stillroom.running.handle import PREFIX, run_at_the_stove, run_id
from stillroom.web.now import now_of


def plan_now(request: Request) -> Any:
    """Return the plan of the day file as it stands, if there is one."""
    shop = request.app.state.shop
    return shop.plan() if shop.day_text().strip() else None


def run_shown(request: Request, plan: Any, at: dt.datetime) -> str | None:
    """Return the run that the stove shows at a moment, beside the plan as it stands."""
    ledger = request.app.state.records.ledger
    return run_at_the_stove(planned_day(plan), at, ledger=ledger)


def planned_day(plan: Any) -> dt.date | None:
    """Return the day of a plan; `None` where there is no plan, or none yet."""
    return plan.day.date if isinstance(plan, DayPlan) else None


def plan_of(run: str, plan: Any) -> DayPlan | None:
    """The plan of the day file, where it is the day of the run."""
    mine = isinstance(plan, DayPlan) and run == run_id(plan.day.date)
    return plan if mine else None


def run_of(text: str) -> str:
    """Return the run of a form, or refuse what names no day."""
    try:
        return run_id(dt.date.fromisoformat(text.removeprefix(PREFIX)))
    except ValueError:
        raise Unreadable(
            Fault(
                f"{text[:40]!r} is no day; go back to the stove and tap there",
                key="run",
            )
        ) from None


class NoSuchDay(HTTPException):
    """An address at the stove that names no day."""

    def __init__(self, named: str) -> None:
        super().__init__(404, f"{named[:40]!r} is no day")


def run_named(request: Request, key: str = "day") -> str:
    """
    Return the run of the day that an address names; empty where it names none.

    Raises
    ------
    NoSuchDay
        Where what it names is no day.
    """
    day = request.query_params.get(key, "")
    try:
        return run_of(day) if day else ""
    except Unreadable:
        raise NoSuchDay(day) from None


def of_day(request: Request, run: str) -> str:
    """Return what an address ends with where the stove would show another run."""
    if run == run_shown(request, plan_now(request), now_of(request)):
        return ""
    return f"?day={run.removeprefix(PREFIX)}"


def to_the_board(request: Request, run: str) -> Response:
    """Go to the board of a run, which may be another than the stove shows."""
    return RedirectResponse(
        str(request.url_for("stove")) + of_day(request, run), status_code=303
    )


def drawn_anew(run: str, *, is_chosen: bool, goes_on: bool) -> str:
    """
    Return what a board is asked for when it draws itself anew.

    It stays with its day as long as that is under way: another that is begun, or put
    on the fire, would come under the finger with keys of the same names.
    """
    day = run.removeprefix(PREFIX)
    if is_chosen:
        return f"?day={day}"
    return f"?while={day}" if goes_on else ""
