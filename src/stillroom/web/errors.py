"""Where every no becomes a page: refusals, faults, and what is not there."""

from __future__ import annotations

import logging
from collections.abc import Callable, Mapping
from typing import Any

from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response
from starlette.routing import Match

from stillroom.refusal import Damaged, NotNow, Refused, Unreadable, ended
from stillroom.science.ranges import OutOfRange
from stillroom.web.gate import too_large
from stillroom.web.pages import page, word_page
from stillroom.web.which_run import NoSuchDay

log = logging.getLogger(__name__)


def refused(request: Request, error: Exception) -> Response:
    """Page of a rule of the trade that says no: 422."""
    assert isinstance(error, Refused)
    return page(request, "refused.html", status=422, refusal=error.refusal)


def unreadable(request: Request, error: Exception) -> Response:
    """Page of what could not be read: 400."""
    assert isinstance(error, Unreadable)
    return page(request, "unreadable.html", status=400, faults=error.faults)


def not_now(request: Request, error: Exception) -> Response:
    """Page of a record that cannot be read or written as it is, a full disk: 503."""
    assert isinstance(error, NotNow)
    sent = request.method == "POST"
    if _can_only_be_read(request) or isinstance(error, Damaged):
        return _damaged(request, error)
    return word_page(
        request,
        503,
        "Not now",
        ended(str(error)),
        "Nothing of this was booked, and what was booked before is whole. When that is "
        "mended, reload this page and let it be sent once more: it counts once."
        if sent
        else "When that is mended, load the page again.",
    )


def _damaged(request: Request, error: NotNow) -> Response:
    """Page of a record that is damaged; every page has at its head what was found."""
    if request.method == "POST":
        reason = "Nothing of this was booked: write it down, and enter it anew then."
    else:
        reason = "What this page would show cannot be read."
    if not _can_only_be_read(request):  # it was whole when it was opened
        reason = f"{ended(str(error))} {reason}"
    return word_page(
        request,
        503,
        "The record is damaged",
        reason,
        "When the copy is back, start Stillroom again and load this page.",
    )


def _can_only_be_read(request: Request) -> bool:
    """Whether the record was damaged when it was opened."""
    return bool(getattr(request.app.state.records, "only_read", ""))


def out_of_range(request: Request, error: Exception) -> Response:
    """Page of a figure for which no equation is known to hold: 400."""
    return page(request, "unreadable.html", status=400, faults=(str(error),))


def no_such_day(request: Request, error: Exception) -> Response:
    """Page of an address at the stove that names no day: 404."""
    assert isinstance(error, NoSuchDay)
    return word_page(
        request,
        404,
        "No such day is under way",
        error.detail,
        "At the stove there is the day that is under way, and a way to each other one.",
    )


def http(request: Request, error: Exception) -> Response:
    """Page for what is not there, or not done here."""
    assert isinstance(error, HTTPException)
    path = request.url.path
    # A browser that restores its tabs asks for what a form was sent to.
    restored = error.status_code == 405 and request.method in ("GET", "HEAD")
    if restored and (above := page_above(request)):
        return RedirectResponse(above, status_code=303)
    words = {
        404: (
            "There is no such page in this house",
            error.detail
            if error.detail != "Not Found"
            else f"Nothing is kept under {path}.",
            "Go back to the day and choose from there.",
        ),
        405: (
            "That is not done here",
            f"{path} cannot be asked for in that way ({request.method}).",
            "Open the page and use its own keys.",
        ),
        413: too_large(),
    }.get(
        error.status_code,
        ("That did not work", error.detail, "Go back and try once more."),
    )
    return word_page(request, error.status_code, *words)


def page_above(request: Request) -> str:
    """Return the page nearest above an address, where its form is; empty if none is."""
    path = request.url.path
    while path := path.rpartition("/")[0]:
        asked = {**request.scope, "path": path, "method": "GET"}
        if any(r.matches(asked)[0] is Match.FULL for r in request.app.routes):
            return path
    return ""


def broken(request: Request, error: Exception) -> Response:
    """Page for a mistake of the program's own: 500. Nothing is told of its inside."""
    log.error("page %s failed", request.url.path, exc_info=error)
    return word_page(
        request,
        500,
        "Something is wrong in the program itself",
        "The page could not be made. What was saved before is still there.",
        "Go back to the day. If it happens again, keep the day file "
        "(Kitchen, as a file) and the words in the terminal: they tell what is wrong.",
    )


HANDLERS: Mapping[Any, Callable[[Request, Exception], Response]] = {
    Refused: refused,
    NotNow: not_now,
    Unreadable: unreadable,
    OutOfRange: out_of_range,
    NoSuchDay: no_such_day,
    HTTPException: http,
    Exception: broken,
}
