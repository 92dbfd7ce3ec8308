"""What a form of the stove says beside its tap: what was seen, and which tap it is."""

from __future__ import annotations

import datetime as dt
import hashlib

from starlette.datastructures import FormData

from stillroom.refusal import Fault, Unreadable

ONCE_BYTES = 12
"""Of the name that each drawn page gives to the taps made on it."""


def key_of(form: FormData, *asked: str) -> str | None:
    """
    Return what names this one tap: the page it was made on, and what was tapped.

    The same page sends the same again when an answer was lost or a finger came down
    twice; a page that was drawn anew is another tap. `None` for a form without.
    """
    once = str(form.get("once", ""))
    if not (once.isascii() and once.isalnum() and len(once) == 2 * ONCE_BYTES):
        return None
    told = "\n".join(asked).encode("utf-8", "replace")
    return f"stove {once} {hashlib.sha256(told).hexdigest()}"


def seen_in(text: object) -> int | None:
    """Return how much of the run was seen, or refuse what is no number."""
    if isinstance(text, str) and text.isascii() and text.isdecimal() and len(text) < 10:
        return int(text)
    raise Unreadable(
        Fault(
            f"{str(text)[:40]!r} is no number; go back to the stove and tap there",
            key="seen",
        )
    )


def moment_in(text: object) -> dt.datetime | None:
    """Return the moment that a form names, or refuse what is none."""
    if not text:
        return None
    try:
        moment = dt.datetime.fromisoformat(str(text))
    except ValueError:
        moment = None
    if moment is None or moment.tzinfo is None:
        raise Unreadable(
            Fault(
                f"{str(text)[:40]!r} is no moment; go back to the stove and tap there",
                key="said_at",
            )
        )
    return moment
