"""The chances drawn: time runs down the page, a bar for each half hour."""

from __future__ import annotations

from dataclasses import dataclass

from stillroom.planning.odds import Odds
from stillroom.planning.sheet import clock

ROW_PX = 34
BAR_FROM_PX, BAR_LONG_PX = 76, 420
NEVER, SURE = 0.005, 0.995


@dataclass(frozen=True, slots=True, kw_only=True)
class Bar:
    """One half hour."""

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
    bar_from_px: int = BAR_FROM_PX
    bar_long_px: int = BAR_LONG_PX
    row_px: int = ROW_PX


def draw_odds(odds: Odds, starts_at: str) -> OddsDrawing:
    """Return the bars from the last half hour that is hopeless to the first sure."""
    first = max((n for n, d in enumerate(odds.done_by) if d.chance < NEVER), default=0)
    last = next(
        (n for n, d in enumerate(odds.done_by) if d.chance > SURE),
        len(odds.done_by) - 1,
    )
    bars = tuple(
        Bar(
            clock=clock(starts_at, d.minute),
            share=d.chance,
            hundredths=round(100 * d.chance),
            y_px=row * ROW_PX,
            width_px=round(BAR_LONG_PX * d.chance),
        )
        for row, d in enumerate(odds.done_by[first : last + 1])
    )
    return OddsDrawing(
        bars=bars,
        width_px=BAR_FROM_PX + BAR_LONG_PX + 56,
        height_px=max(1, len(bars)) * ROW_PX,
    )
