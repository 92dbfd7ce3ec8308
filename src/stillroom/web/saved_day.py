"""Before a page saves another day file: is it still the one that was looked at?"""

from __future__ import annotations

from starlette.requests import Request
from starlette.responses import Response

from stillroom.running.day_mark import mark_of
from stillroom.web.gone_by import has_begun
from stillroom.web.pages import word_page
from stillroom.web.search_on import SEARCHED_ON
from stillroom.web.wording import moment

WHAT_IF = "What if: "
"""What the reason of a day that a what-if day has changed begins with."""


def not_to_be_saved(request: Request, mark: str) -> Response | None:
    """
    Return the page that says why nothing is saved; `None` where it may be.

    ``mark`` is that of the day file when the page was drawn.
    """
    if has_begun(request):
        return word_page(
            request,
            409,
            "The day has begun",
            "nothing was saved: the board at the stove goes by the day as it was begun",
            "what is otherwise now is planned at the stove, under Plan the rest again",
        )
    if mark != mark_of(request.app.state.shop.day_text()):
        return changed_meanwhile(request)
    return None


def changed_meanwhile(request: Request) -> Response:
    """Say that nothing was saved, for somebody else was quicker."""
    return word_page(
        request,
        409,
        "The day was changed meanwhile",
        "nothing was saved: the day file is no longer the one that was shown",
        "look at the day, and ask again",
    )


def changed_by(request: Request) -> tuple[str, str] | None:
    """When the day was changed by a what-if day, and in which words; else `None`."""
    records = request.app.state.records
    last = None if records is None else records.days.newest()
    if last is not None and last.why.startswith(SEARCHED_ON):  # the same day file
        saved = reversed(records.days.revisions())
        last = next((r for r in saved if not r.why.startswith(SEARCHED_ON)), None)
    if last is None or not last.why.startswith(WHAT_IF):
        return None
    if last.text != request.app.state.shop.day_text():
        return None
    return moment(last.saved_at), last.why.removeprefix(WHAT_IF)


def found_by_search(request: Request) -> tuple[str, str] | None:
    """When a longer search found the plan, and what is better in it; else `None`."""
    records = request.app.state.records
    last = None if records is None else records.days.newest()
    if last is None or not last.why.startswith(SEARCHED_ON):
        return None
    if last.text != request.app.state.shop.day_text():
        return None
    return moment(last.saved_at), last.why.removeprefix(SEARCHED_ON)
