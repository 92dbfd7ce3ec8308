"""
How far the kitchen's clock was ahead of UTC when jars were filled and came out: pure.

In the night in which clocks go back an hour comes twice. A clock time in it is the
first of the two, unless jars would have come out before they were filled, or before
their process was over: then it is the second.
"""

from __future__ import annotations

import datetime as dt
from dataclasses import replace

from stillroom.stock.lots import Batch

_DAY = dt.timedelta(days=1)
_NONE = dt.timedelta()


def with_offsets(batch: Batch, on: dt.date, zone: dt.tzinfo | None) -> Batch:
    """
    Return how a lot was made with the offsets of its clock times.

    Parameters
    ----------
    batch : Batch
        As it was typed.
    on : date
        The day on which it was made.
    zone : tzinfo, optional
        The kitchen's; nothing is added without it.
    """
    if zone is None:
        return batch
    if not batch.filled_at:
        day = dt.date.fromisoformat(batch.out_on) if batch.out_on else on
        return replace(batch, utc_offset_min=_offset_min(at(day, batch.out_at, zone)))
    filled = at(on, batch.filled_at, zone)
    out, out_on = _out(batch, on, filled, zone)
    offset, of_filled = _offset_min(out), _offset_min(filled)
    return replace(
        batch,
        out_on=out_on,
        utc_offset_min=offset,
        filled_offset_min=None if of_filled == offset else of_filled,
    )


def ended_after(
    began: dt.datetime, ended: dt.datetime, *, least: dt.timedelta = dt.timedelta()
) -> dt.datetime:
    """
    Return an end by the clock as the moment that it was.

    An end before its begin is of the hour that comes twice, the second time, where
    there is one; else of the next day.

    Examples
    --------
    >>> began = dt.datetime(2026, 11, 25, 23, 50, tzinfo=dt.UTC)
    >>> ended_after(began, began.replace(hour=0)).day
    26
    """
    if _took(began, ended) >= least:
        return ended
    if _comes_twice(ended) and _took(began, ended.replace(fold=1)) >= dt.timedelta():
        return ended.replace(fold=1)
    return ended if _took(began, ended) >= dt.timedelta() else ended + _DAY


def began_before(began: dt.datetime, ended: dt.datetime) -> dt.datetime:
    """
    Return the later of the moments that a begin by the clock may be, before its end.

    In the hour that comes twice nobody said which it was: a process is never read as
    the longer of two.
    """
    later = began.replace(fold=1)
    return later if _comes_twice(began) and _took(later, ended) >= _NONE else began


def fixed(moment: dt.datetime) -> dt.datetime:
    """Return a moment with the offset that its clock had: minutes between are true."""
    offset = moment.utcoffset()
    return moment if offset is None else moment.replace(tzinfo=dt.timezone(offset))


def at(day: dt.date, clock: str, zone: dt.tzinfo | None) -> dt.datetime:
    """Return a clock time of a day, the first where it comes twice."""
    time = dt.time.fromisoformat(clock) if clock else dt.time()
    return dt.datetime.combine(day, time, tzinfo=zone)


def _out(
    batch: Batch, on: dt.date, filled: dt.datetime, zone: dt.tzinfo
) -> tuple[dt.datetime, str]:
    """Return when jars came out, and the day, where the clock times do not say it."""
    if batch.out_on:
        day = dt.date.fromisoformat(batch.out_on)
        return at(day, batch.out_at, zone), batch.out_on
    if not batch.out_at:
        return filled, ""
    process = dt.timedelta(minutes=batch.process_min or 0)
    out = ended_after(filled, at(on, batch.out_at, zone), least=process)
    by_the_clock = batch.filled_at > batch.out_at
    is_same_day = by_the_clock and out.date() == on
    return out, on.isoformat() if is_same_day else ""


def _took(began: dt.datetime, ended: dt.datetime) -> dt.timedelta:
    """Return what really passed: two times of one zone are told apart by UTC alone."""
    return ended.astimezone(dt.UTC) - began.astimezone(dt.UTC)


def _comes_twice(moment: dt.datetime) -> bool:
    """Whether a clock shows that time twice; the second time it is further behind."""
    first, second = (moment.replace(fold=n).utcoffset() for n in (0, 1))
    return first is not None and second is not None and second < first


def _offset_min(moment: dt.datetime) -> int | None:
    offset = moment.utcoffset()
    return None if offset is None else round(offset.total_seconds() / 60)
