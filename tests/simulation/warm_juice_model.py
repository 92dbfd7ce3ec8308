"""
Juice that stood on shelves, as a person would say it: two days in all, and no more.

The rules of the plain model; it shares no code with the program.
"""

from __future__ import annotations

import datetime as dt
from typing import TYPE_CHECKING

from tests.simulation.shelf_words import COLD

if TYPE_CHECKING:
    from tests.simulation.shelf_model import ShelfModel

TWO_DAYS = dt.timedelta(days=2)


def too_warm_at(shelf: ShelfModel, code: str, now: dt.datetime) -> set[str]:
    """Return where some of a lot of juice is that stood out of the cold too long."""
    if not shelf.lots[code].what.endswith("juice"):
        return set()
    stood = dict[str, dt.timedelta]()
    came_at = dict[str, dt.datetime]()

    def longest(place: str, at: dt.datetime) -> dt.timedelta:
        here = dt.timedelta() if place in COLD else at - came_at[place]
        return stood[place] + max(here, dt.timedelta())

    for entry in shelf.booked:
        if entry.undone or code not in entry.lots:
            continue
        mine = {p: n for (c, p), n in entry.change.items() if c == code}
        came = [place for place, n in mine.items() if n > 0]
        went = [place for place, n in mine.items() if n < 0 and place in stood]
        if entry.kind == "counted":  # found where nobody carried it
            went = [] if set(came) & set(stood) else list(stood)
        elif entry.kind not in ("received", "moved"):
            continue
        at = entry.tells_of
        for place in came:
            parts = [longest(there, at) for there in went]
            if place in stood:
                parts.append(longest(place, at))
            stood[place] = max(parts, default=dt.timedelta())
            came_at[place] = at
    return {place for place in stood if longest(place, now) > TWO_DAYS}
