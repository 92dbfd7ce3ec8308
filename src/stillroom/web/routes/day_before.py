"""The day as it was saved before: every text that was ever kept, and the way back."""

from __future__ import annotations

from dataclasses import dataclass

from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response
from starlette.routing import Route

from stillroom.planning.day_file.day_differs import Differs, differences
from stillroom.records.days import ChangedMeanwhile, Revision
from stillroom.running.day_mark import mark_of
from stillroom.web.gone_by import has_begun
from stillroom.web.pages import page, word_page
from stillroom.web.saved_day import changed_meanwhile, not_to_be_saved
from stillroom.web.shop import Shop
from stillroom.web.wording import moment

MOST_SHOWN = 40
"""Days of before that are listed, the newest first; none is ever thrown away."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Before:
    """The day as it was once saved, beside how it is now."""

    number: int
    saved: str
    why: str
    differs: tuple[Differs, ...] | None
    """In what it differs from the day as it stands; `None` where one cannot be read."""


def before_page(request: Request) -> Response:
    """Page of the day as it was, the newest first."""
    shop: Shop = request.app.state.shop
    text = shop.day_text()
    revisions = request.app.state.records.days.revisions()
    older = [r for r in revisions[:-1] if r.text != text]
    return page(
        request,
        "day_before.html",
        here="day",
        why=revisions[-1].why if revisions else "",
        saved=moment(revisions[-1].saved_at) if revisions else "",
        older=[_beside(r, text) for r in reversed(older[-MOST_SHOWN:])],
        more=max(0, len(older) - MOST_SHOWN),
        mark=mark_of(text),
        begun=has_begun(request),
    )


def _beside(revision: Revision, text: str) -> Before:
    return Before(
        number=revision.number,
        saved=moment(revision.saved_at),
        why=revision.why,
        differs=differences(revision.text, text),
    )


async def take_back(request: Request) -> Response:
    """Make the day what it was once; what it is now stays in the list."""
    async with request.form(max_fields=10, max_files=0) as sent:
        number, mark = str(sent.get("number", "")), str(sent.get("of", ""))
    return await run_in_threadpool(_take_back, request, number, mark)


def _take_back(request: Request, number: str, mark: str) -> Response:
    revisions = request.app.state.records.days.revisions()
    old = next((r for r in revisions if str(r.number) == number), None)
    if old is not None and old.text == revisions[-1].text:
        return RedirectResponse("/day", status_code=303)  # a second tap
    if (no := not_to_be_saved(request, mark)) is not None:
        return no
    if old is None:
        return word_page(
            request,
            404,
            "No such day is kept",
            "there is no day file of that number in the record",
            "choose one of those that are listed under The day as it was before",
        )
    shop: Shop = request.app.state.shop
    why = f"back to how it was saved {moment(old.saved_at)}"
    try:
        shop.save_day(old.text, why, over=revisions[-1].text)
    except ChangedMeanwhile:
        return changed_meanwhile(request)
    return RedirectResponse("/day", status_code=303)


ROUTES = [
    Route("/day/before", before_page),
    Route("/day/before/take", take_back, methods=["POST"]),
]
