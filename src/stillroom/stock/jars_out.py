"""
When jars were filled and came out of the canner, by what was said of it.

Hours that end a choice are never made fewer than they may be: where a clock time was
not said, the earliest that it can have been is taken. A wait ends after the latest.
"""

from __future__ import annotations

import datetime as dt

from stillroom.stock.events import Batch, Lot, Made
from stillroom.stock.words import begun, month_after

NIGHT_ENDS_H = 4
"""Clock times before this one are of the day at the stove before. [h]"""


def jars_out_at(made: Made, lot: Lot, zone: dt.tzinfo | None = None) -> dt.datetime:
    """
    Return when the jars came out of the canner.

    Where that was not said, they were in it for their process at least, from when they
    were filled; where that was not said either and the lot is of an earlier day, the
    whole of that day is counted. ``zone`` is the clock by which an old entry was
    written that kept none of its own.
    """
    out, filled, on = made.batch.out_at, made.batch.filled_at, made.batch.out_on
    found = _moment(made, lot, out, zone)
    if filled and not out:
        process = dt.timedelta(minutes=made.batch.process_min or 0)
        least = filled_at(made, lot, zone) + process
        booked = _booked(made, zone)
        # An old entry may have been booked before the hour that it names.
        return found if found == booked < least else least
    if out and on:
        return dt.datetime.combine(dt.date.fromisoformat(on), found.timetz())
    # Filled before midnight and out after it: the clock has begun anew.
    return found + dt.timedelta(days=1) if out and filled > out else found


def is_hour_said(made: Made, lot: Lot, zone: dt.tzinfo | None = None) -> bool:
    """Whether anything says at which hour of its day the jars came out."""
    booked_then = begun(lot.day) == _booked(made, zone).date()
    return bool(made.batch.out_at or made.batch.filled_at) or booked_then


def jars_out_by(made: Made, lot: Lot, zone: dt.tzinfo | None = None) -> dt.datetime:
    """
    Return when the jars were out of the canner for sure: what they wait counts from it.

    Where nothing says at which hour, that is when their day was over.
    """
    out = jars_out_at(made, lot, zone)
    if is_hour_said(made, lot, zone):
        return out
    day = begun(lot.day)
    over = month_after(day) if len(lot.day) == 7 else day + dt.timedelta(days=1)
    end = dt.datetime.combine(over, dt.time(), tzinfo=out.tzinfo)
    return max(out, min(end, _booked(made, zone)))


def out_on(on: dt.date, out: str, filled: str, at: dt.datetime) -> str:
    """
    Return the day on which jars of a day came out; empty where it is that day.

    A day at the stove ends when its jars are out: the small hours behind an earlier
    day are those of the night that followed it (common practice, no source). Where it
    is said when the jars were filled, that decides; what would lie in the future is of
    the day itself.

    Parameters
    ----------
    on : date
        The day that was typed.
    out, filled : str
        Clock times, "00:20"; empty where they were not said.
    at : datetime
        Now, by the kitchen's clock.

    Examples
    --------
    >>> noon = dt.datetime(2026, 11, 25, 12, tzinfo=dt.UTC)
    >>> out_on(dt.date(2026, 11, 24), "00:20", "", noon)
    '2026-11-25'
    >>> out_on(dt.date(2026, 11, 24), "00:20", "00:01", noon)
    ''
    """
    if not out or filled or dt.time.fromisoformat(out).hour >= NIGHT_ENDS_H:
        return ""
    found = dt.datetime.combine(
        on + dt.timedelta(days=1), dt.time.fromisoformat(out), tzinfo=at.tzinfo
    )
    return found.date().isoformat() if found <= at else ""


def days_said(batch: Batch, day: str) -> tuple[str, str]:
    """
    Return on which days a process began and its jars came out, where not the lot's own.

    Both empty where no clock time tells it, or all of it was on one day.

    Parameters
    ----------
    batch : Batch
        What is known of how it was made.
    day : str
        Day of the lot: "2027-08-28".

    Examples
    --------
    >>> days_said(Batch(filled_at="15:30", process_began="08:00", out_at="08:25",
    ...                 out_on="2027-08-29"), "2027-08-28")
    ('2027-08-29', '2027-08-29')
    >>> days_said(Batch(filled_at="23:30", process_began="23:50", out_at="00:10"),
    ...           "2027-08-28")
    ('', '2027-08-29')
    """
    if not batch.out_at or len(day) != len("2027-08-28"):
        return "", ""
    one = dt.timedelta(days=1)
    out = dt.date.fromisoformat(batch.out_on or day)
    if not batch.out_on and batch.filled_at > batch.out_at:
        out += one
    began = out - one if batch.process_began > batch.out_at else out
    said = (began.isoformat() if batch.process_began else day, out.isoformat())
    return ("" if said[0] == day else said[0], "" if said[1] == day else said[1])


def filled_at(made: Made, lot: Lot, zone: dt.tzinfo | None = None) -> dt.datetime:
    """Return when the jars were filled, counted as `jars_out_at` counts."""
    if made.batch.out_on and not made.batch.filled_at:
        return jars_out_at(made, lot, zone)
    offset = made.batch.filled_offset_min
    if made.batch.filled_at and offset is not None:
        clock = dt.time.fromisoformat(made.batch.filled_at)
        there = dt.timezone(dt.timedelta(minutes=offset))
        return dt.datetime.combine(begun(lot.day), clock, tzinfo=there)
    return _moment(made, lot, made.batch.filled_at or made.batch.out_at, zone)


def _moment(made: Made, lot: Lot, clock: str, zone: dt.tzinfo | None) -> dt.datetime:
    day, booked = begun(lot.day), _booked(made, zone)
    if not clock and day == booked.date():
        return booked
    time = dt.time.fromisoformat(clock) if clock else dt.time()
    found = dt.datetime.combine(day, time, tzinfo=booked.tzinfo)
    # with the offset of its own day, so that hours since are counted, not clock times
    return found.replace(tzinfo=dt.timezone(found.utcoffset() or dt.timedelta()))


def _booked(made: Made, zone: dt.tzinfo | None) -> dt.datetime:
    """Return when a lot was booked, by the clock of its day."""
    offset = made.batch.utc_offset_min
    if offset is not None:
        zone = dt.timezone(dt.timedelta(minutes=offset))
    return made.occurred_at.astimezone(zone or made.occurred_at.tzinfo)


def hours_since(made: Made, lot: Lot, at: dt.datetime) -> float:
    """Return the hours since the jars came out, at a moment. [h]"""
    return _hours(jars_out_at(made, lot, at.tzinfo), at)


def hours_waited(made: Made, lot: Lot, at: dt.datetime) -> float:
    """Return the hours that the jars have been out for sure, at a moment. [h]"""
    return _hours(jars_out_by(made, lot, at.tzinfo), at)


def hours_since_filled(made: Made, lot: Lot, at: dt.datetime) -> float:
    """Return the hours since the jars were filled, at a moment. [h]"""
    return _hours(filled_at(made, lot, at.tzinfo), at)


def _hours(since: dt.datetime, at: dt.datetime) -> float:
    return max(0.0, (at - since).total_seconds() / 3600)
