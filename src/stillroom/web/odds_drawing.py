"""
The chances drawn: time runs down the page, a bar for each half hour.

Her own hour has a bar among them, where it is not one of them.
"""

from __future__ import annotations

from dataclasses import dataclass

from stillroom.planning.day_odds.odds import HALF_HOUR_MIN, Odds
from stillroom.planning.day_odds.odds_words import HARDLY_EVER, NEARLY_ALWAYS
from stillroom.planning.daytime import clock_time, since_midnight_min

ROW_PX = 34
BAR_FROM_PX, BAR_LONG_PX = 76, 420


@dataclass(frozen=True, slots=True, kw_only=True)
class Bar:
    """One half hour, or her own hour."""

    clock: str
    share: float
    hundredths: int
    y_px: int
    width_px: int


@dataclass(frozen=True, slots=True, kw_only=True)
class OddsDrawing:
    """The bars, and the size of the picture."""

    bars: tuple[Bar, ...]
    width_px: int
    height_px: int
    title: str
    """What is drawn, for who does not see it."""
    own: str
    """Her own hour, where it has a bar that is no half hour's; else empty."""
    bar_from_px: int = BAR_FROM_PX
    bar_long_px: int = BAR_LONG_PX


def draw_odds(odds: Odds, starts_at: str) -> OddsDrawing:
    """Return the bars from the last half hour that is hopeless to the first sure."""
    first = max(
        (n for n, d in enumerate(odds.done_by) if d.chance < HARDLY_EVER), default=0
    )
    last = next(
        (n for n, d in enumerate(odds.done_by) if d.chance > NEARLY_ALWAYS),
        len(odds.done_by) - 1,
    )
    bars = tuple(
        Bar(
            clock=clock_time(starts_at, d.minute),
            share=d.chance,
            hundredths=round(100 * d.chance),
            y_px=row * ROW_PX,
            width_px=round(BAR_LONG_PX * d.chance),
        )
        for row, d in enumerate(odds.done_by[first : last + 1])
    )
    own = _own_hour(odds, starts_at, bars)
    return OddsDrawing(
        bars=bars,
        title=f"Chance to be done by each half hour{own and f', and by {own}'}",
        own=own,
        width_px=BAR_FROM_PX + BAR_LONG_PX + 56,
        height_px=max(1, len(bars)) * ROW_PX,
    )


def _own_hour(odds: Odds, starts_at: str, bars: tuple[Bar, ...]) -> str:
    """Her own hour, where a bar is drawn for it and it is no half hour."""
    if odds.wanted is None:
        return ""
    minute = since_midnight_min(starts_at) + odds.wanted.minute
    said = clock_time(starts_at, odds.wanted.minute)
    drawn = said in {bar.clock for bar in bars}
    return said if drawn and minute % HALF_HOUR_MIN else ""
