"""How jars that went through a canner count: as their place is read, with what lacked.

Nothing is written anew: the entry stays as it was booked.
"""

from __future__ import annotations

import datetime as dt
from dataclasses import replace

from stillroom.stock.events import Completed, Kind, Made, Processed
from stillroom.stock.no_process_needed import is_canned


def as_it_counts(
    event: Made,
    added: Completed | None,
    *,
    late: Processed | None,
    said_cold: frozenset[str] = frozenset(),
) -> Made:
    """
    Return the making of a lot that was booked as canned, as it counts now.

    Parameters
    ----------
    event : Made
        As it was booked.
    added : Completed or None
        What was not said then, and was added since.
    late : Processed or None
        The process of it that was typed in when it was over.
    said_cold : frozenset of str
        Places of it that were cold all the while, as somebody said.
    """
    if late is None and _was_put_up_cold(event, said_cold):
        return replace(event, batch=replace(event.batch, canned=False))
    if late is not None:
        event = _out_after_it(event, late)
    if added is None or event.batch.due_min is not None:
        return event
    batch = replace(
        event.batch,
        elevation_ft=added.elevation_ft,
        canner=added.canner,
        pack=added.pack,
        due_min=added.due_min,
        due_source=added.due_source,
        due_psi=added.due_psi,
    )
    return replace(event, batch=batch)


def _out_after_it(event: Made, late: Processed) -> Made:
    """
    Return jars as out at the end of a process typed in late, where no hour was said.

    They were in the canner until then at least: their seals are not looked at by the
    hour at which they were filled.
    """
    batch, offset = event.batch, event.batch.utc_offset_min
    if batch.out_at or not batch.filled_at or offset is None:
        return event
    ended = late.ended.astimezone(dt.timezone(dt.timedelta(minutes=offset)))
    return replace(
        event,
        batch=replace(batch, out_at=f"{ended:%H:%M}", out_on=ended.date().isoformat()),
    )


def _was_put_up_cold(event: Made, said_cold: frozenset[str]) -> bool:
    """
    Whether jars had no process and were to have none, as their place is read now.

    A deep freeze was once read as a shelf.
    """
    lot, batch = event.lot, event.batch
    if batch.process_min or batch.load is not None or batch.run:
        return False
    if lot.kind is not Kind.FILLED:
        return False
    what, jar, dry = lot.what, lot.measure.part, lot.kept_dry
    return event.place in said_cold or not is_canned(
        what, jar, event.place, kept_dry=dry
    )
