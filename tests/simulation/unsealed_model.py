"""
Jars that did not seal, as a person would say it: into the cold within a day, or gone.

The rules of the plain model; it shares no code with the program.
"""

from __future__ import annotations

import datetime as dt
from typing import TYPE_CHECKING

from tests.simulation.shelf_words import ASIDE, COLD

if TYPE_CHECKING:
    from tests.simulation.shelf_model import ShelfModel

DAY = dt.timedelta(hours=24)


def too_late_at(shelf: ShelfModel, code: str, now: dt.datetime) -> set[str]:
    """Return where jars are that did not seal, and were not cold within a day."""
    lot = shelf.lots[code]
    if not (lot.jars and shelf.made_here(code) and lot.canned):
        return set()
    assert lot.made_at is not None
    ends = lot.made_at + DAY
    bad: set[str] = set()
    cold, never_cold = set[str](), set[str]()
    stood_warm = False
    for entry in shelf.booked:
        if entry.undone or code not in entry.lots:
            continue
        went = [p for (c, p), n in entry.change.items() if c == code and n < 0]
        came = [p for (c, p), n in entry.change.items() if c == code and n > 0]
        if entry.kind == "made":  # put up straight into the cold
            cold.update(place for place in came if place in COLD)
        if entry.kind == "checked" and ASIDE in came:
            stood_warm |= any(place not in cold for place in went)
        if entry.kind == "moved":
            late = entry.at > ends
            for there in went:
                if there in bad or (there == ASIDE and stood_warm and late):
                    bad.update(came)
                if late and there not in cold:
                    never_cold.update(came)
                else:
                    cold.update(place for place in came if place in COLD)
            cold -= never_cold
    return bad | ({ASIDE} if stood_warm and now > ends else set())
