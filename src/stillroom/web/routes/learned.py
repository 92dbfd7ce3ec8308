"""What past days taught, beside the book's figures."""

from __future__ import annotations

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from stillroom.learning.learn import LEAST_RUNS
from stillroom.learning.pace import WORTH
from stillroom.learning.record import LearnedKept
from stillroom.learning.said import groups
from stillroom.web.pages import page


def learned_page(request: Request) -> Response:
    """Page of all that was learned, by kind."""
    state = request.app.state
    if getattr(state, "learned", None) is None:
        state.learned = LearnedKept(state.records.ledger)
    kept: LearnedKept = state.learned
    return page(
        request,
        "learned.html",
        here="day",
        groups=groups(kept.of()),
        least=LEAST_RUNS,
        worth=WORTH,
    )


ROUTES = [Route("/learned", learned_page)]
