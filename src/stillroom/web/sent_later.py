"""What a phone is told of an entry that it kept: taken, refused, or to come again."""

from __future__ import annotations

from collections.abc import Callable

from starlette.responses import JSONResponse, Response

from stillroom.records.ledger import MovedOn
from stillroom.refusal import NotNow, Refused, Unreadable
from stillroom.web.where_done import in_words


def told_to_phone(take: Callable[[], Response]) -> Response:
    """Take an entry in; what stands in its way is said in JSON, and loses nothing."""
    try:
        return take()
    except (NotNow, MovedOn) as trouble:  # the phone keeps it, and sends it again
        return JSONResponse({"later": str(trouble)}, status_code=503)
    except Unreadable as fault:
        return no("; ".join(map(str, fault.faults)), "", status=400)
    except Refused as refused:
        said = refused.refusal
        return no(in_words(said.reason), in_words(said.instead))


def no(reason: str, instead: str, *, status: int = 422) -> Response:
    """Say why it was not taken, and what is done instead."""
    return JSONResponse({"no": reason, "instead": instead}, status_code=status)
