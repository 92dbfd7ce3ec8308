"""What must come of a label, a hold, and a process that is typed in late."""

from __future__ import annotations

import datetime as dt
from typing import TYPE_CHECKING

from tests.simulation.seeded import ZONE
from tests.simulation.shelf_words import REDO_WITHIN, Deed, Does

if TYPE_CHECKING:
    from tests.simulation.shelf_model import ShelfModel

LONGEST = dt.timedelta(hours=10)
"""No process that is typed in was longer, whenever the entry arrives."""


def _label(shelf: ShelfModel, deed: Deed, _now: dt.datetime) -> Does:
    """What is on hold gets no label."""
    if not shelf.lots[deed.lot].jars or shelf.held(deed.lot):
        return Does.NO
    return Does.AGAIN if shelf.label(deed.lot) == deed.said else Does.BOOKS


def _hold(shelf: ShelfModel, deed: Deed, _now: dt.datetime) -> Does:
    """A whole canner load is held; for the same reason once."""
    if not (shelf.lots[deed.lot].jars and shelf.made_here(deed.lot)):
        return Does.NO
    return Does.AGAIN if deed.said in shelf.doubts(deed.lot) else Does.BOOKS


def _process(shelf: ShelfModel, deed: Deed, now: dt.datetime) -> Does:
    """One that somebody saw, that is over, and began in time after the filling."""
    lot = shelf.lots[deed.lot]
    if not shelf.unprocessed(deed.lot):
        return Does.NO
    assert deed.began is not None
    assert deed.ended is not None
    assert lot.made_at is not None
    lasted = deed.ended - deed.began
    if not dt.timedelta(minutes=1) <= lasted <= LONGEST or deed.ended > now:
        return Does.NO
    # The hour of the filling was not written down: that day there is nothing to hold
    # the process to.
    if _day(deed.began) == _day(lot.made_at):
        return Does.BOOKS
    waited = deed.began - lot.made_at
    return Does.BOOKS if dt.timedelta() <= waited <= REDO_WITHIN else Does.NO


def _day(moment: dt.datetime) -> dt.date:
    return moment.astimezone(ZONE).date()


LOOKED = {"label": _label, "hold": _hold, "process": _process}
