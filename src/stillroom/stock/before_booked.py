"""Whether jars that are not booked yet stood too long, so that it is said before."""

from __future__ import annotations

from dataclasses import replace

from stillroom.stock.decision import Decision
from stillroom.stock.events import Made
from stillroom.stock.fold import fold
from stillroom.stock.lacks import Lack, lack_of, lack_words


def stood_too_long_words(answer: Decision) -> str:
    """Return what is said of jars that will be held for it; empty where none will."""
    for event in answer if isinstance(answer, tuple) else ():
        if not isinstance(event, Made):
            continue
        # what went into them has no part in it, and is not in this stock
        alone, code = fold([replace(event, inputs=())]), event.lot.code
        if lack_of(alone, code) is Lack.LATE:
            return f"{event.lot.what} {lack_words(alone, code)}"
    return ""
