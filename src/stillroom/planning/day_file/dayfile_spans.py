"""Spans of the clock in a day file: who is away, and which burner is taken, when."""

from __future__ import annotations

from collections.abc import Iterable

from stillroom.planning.day import Span, minute_of
from stillroom.planning.day_file.dayfile_fields import Table
from stillroom.toml_text import shown

MOST = 20


def spans_of(table: Table, key: str) -> tuple[Span, ...]:
    """Read pairs of clock times, each from one to another; none where none is given."""
    if not table.has(key):
        return ()
    value = table.raw(key)
    if not isinstance(value, list) or len(value) > MOST:
        form = f'{key} = [["10:00", "10:20"]]'
        table.fault(key, f"{shown(value)} is no short list of pairs; write {form}")
        return ()
    spans: list[Span] = []
    for pair in value:
        if not isinstance(pair, list) or len(pair) != 2:
            what = f"{shown(pair)} is no pair of clock times"
            table.fault(key, f'{what}; write ["10:00", "10:20"]')
            continue
        start, end = (table.clock_value(key, clock) for clock in pair)
        if table.sound(key) and end <= start:
            what = f"{start:%H:%M} to {end:%H:%M} ends before it begins"
            table.fault(key, what)
        spans.append((start, end))
    return tuple(spans)


def minutes_left(hours: Span, spans: Iterable[Span]) -> int:
    """Minutes of some hours that lie in none of the spans."""
    there = set(range(minute_of(hours[0]), minute_of(hours[1])))
    for start, end in spans:
        there -= set(range(minute_of(start), minute_of(end)))
    return len(there)
