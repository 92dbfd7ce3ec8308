"""The people of a day file: hours, breaks, and what each may do alone."""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence

from stillroom.in_a_list import all_of
from stillroom.methods.step import Skill
from stillroom.planning.day import (
    Helper,
    Rest,
    Span,
    had_after,
    have_room,
    minute_of,
)
from stillroom.planning.day_file.dayfile_fields import Table, all_different
from stillroom.planning.day_file.dayfile_spans import minutes_left, spans_of
from stillroom.planning.day_file.dayschema import BREAK_MIN, QUARTERS, SKILLS

WHOLE_DAY = (dt.time(0), dt.time(23, 59))


def people_of(root: Table, day: Span | None) -> tuple[Helper, ...]:
    """Read everyone; ``day`` is from when to when it goes, where that is known."""
    tables = root.tables("people", "people", "person")
    people = tuple(_helper(table, day) for table in tables)
    all_different(tables, [person.name for person in people], "people")
    return people


def _helper(table: Table, day: Span | None) -> Helper:
    comes, goes = table.clock("comes"), table.clock("goes")
    hours = _hours(table, (comes, goes), day)
    away = _away(table, hours)
    return Helper(
        name=table.text("name"),
        comes=comes,
        goes=goes,
        can=frozenset(Skill(word) for word in table.words("can", SKILLS, "skills")),
        breaks=_breaks(table, hours, day, away),
        away=away,
        quarters=table.whole("quarters", QUARTERS, 4),
    )


def _hours(table: Table, hours: Span, day: Span | None) -> Span | None:
    """Check the hours; `None` where nothing can be compared with them."""
    if not table.sound("comes", "goes"):
        return None
    comes, goes = hours
    if goes <= comes:
        what = f"goes at {goes:%H:%M}, comes at {comes:%H:%M}"
        table.fault("goes", f"{what}: no hours are left to work in")
        return None
    if day is not None and (goes <= day[0] or comes >= day[1]):
        what = f"{comes:%H:%M} to {goes:%H:%M} lies outside the day"
        table.fault("comes", f"{what}, {day[0]:%H:%M} to {day[1]:%H:%M}")
    return hours


def _breaks(
    table: Table, hours: Span | None, day: Span | None, away: tuple[Span, ...]
) -> tuple[Rest, ...]:
    if table.has("breaks") and table.raw("breaks") == []:  # said to have none
        return ()
    rows = table.tables("breaks", "people.breaks", "break")
    breaks = tuple(_rest(row, hours, day) for row in rows)
    sound = all(row.sound("minutes", "earliest", "latest") for row in rows)
    if sound and table.sound("breaks", "away"):
        within = hours or WHOLE_DAY
        ends = day[1] if day is not None else within[1]
        after = had_after(breaks, away, within, ends)
        here = [rest for n, rest in enumerate(breaks) if n not in after]
        _beside_each_other(table, here, away, within)
    return breaks


_SOONER, _LATER = (f"let it begin {w}, or take it out" for w in ("sooner", "later"))


def _rest(table: Table, hours: Span | None, day: Span | None) -> Rest:
    """
    A break; of a span of starts that reaches past the hours what lies within.

    Who goes before the day ends may have one after that.
    """
    minutes = table.whole("minutes", BREAK_MIN, BREAK_MIN[0])
    earliest, latest = table.clock("earliest"), table.clock("latest")
    if not table.sound("earliest", "latest", "minutes"):
        return Rest(minutes=minutes, earliest=earliest, latest=latest)
    if latest < earliest:
        what = f"the latest start {latest:%H:%M} is before the earliest"
        table.fault("latest", f"{what}, {earliest:%H:%M}")
    elif hours is not None:
        comes, goes = hours
        ends = goes if day is None else day[1]
        until = min(goes, ends)
        if goes < ends and latest >= goes:  # it may be had after that
            first = max(earliest, comes)
            return Rest(minutes=minutes, earliest=first, latest=latest)
        if latest < comes:
            what = f"a break by {latest:%H:%M} begins before the hours"
            table.fault("latest", f"{what}, from {comes:%H:%M}; {_LATER}")
        elif minute_of(max(earliest, comes)) + minutes > minute_of(until):
            first = max(earliest, comes)
            what = f"a break of {minutes} minutes from {first:%H:%M} ends after the"
            over = "hours" if until == goes else "day"
            table.fault("earliest", f"{what} {over}, to {until:%H:%M}; {_SOONER}")
        else:
            earliest = max(earliest, comes)
            last = minute_of(goes) - minutes
            latest = min(latest, dt.time(last // 60, last % 60))
    return Rest(minutes=minutes, earliest=earliest, latest=latest)


def _beside_each_other(
    table: Table, breaks: Sequence[Rest], away: tuple[Span, ...], hours: Span
) -> None:
    """Check that all breaks can be taken, beside each other and what is away."""
    if have_room(breaks, away, hours):
        return
    said = all_of(
        f"{rest.minutes} minutes begun {rest.earliest:%H:%M} to {rest.latest:%H:%M}"
        for rest in breaks
    )
    gone = all_of(f"{start:%H:%M} to {end:%H:%M}" for start, end in away)
    beside = f", with {gone} away" if away else ""
    what = f"not all breaks can be taken{beside}: {said}"
    table.fault("breaks", f"{what}; move one of them, or take it out")


def _away(table: Table, hours: Span | None) -> tuple[Span, ...]:
    """Read fixed absences; some minute of the hours is left beside them."""
    spans = spans_of(table, "away")
    if hours is not None and table.sound("away") and not minutes_left(hours, spans):
        table.fault("away", "no minute of the working hours is left beside it")
    return spans
