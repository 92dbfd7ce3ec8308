"""Run one farm week from its seed, and say how it went."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from pathlib import Path
from types import MappingProxyType

from tests.simulation import acts, desk, nights
from tests.simulation.seeded import FarmClock, seeded
from tests.simulation.week import FarmWeek

DAYS = 7
OFTEN = MappingProxyType(
    {
        acts.off_the_shelf: 14,
        acts.at_the_stove: 14,
        acts.read_stock: 3,
        acts.ask: 10,
        acts.confirm: 10,
        acts.read_stove: 3,
        acts.tap: 6,
        acts.try_again: 8,
        acts.late_again: 5,
        acts.type_in_cut_off: 5,
        acts.a_whole_load: 4,
        acts.days_lots: 3,
        acts.read_a_lot: 2,
        acts.day_after: 8,
        acts.count_a_shelf: 4,
        acts.recall_sheet: 3,
        desk.type_it: 8,
        desk.a_load_in_doubt: 1,
        acts.restart: 1.5,
        acts.clock_set: 1,
        acts.hard_kill: 2,
        nights.copy_now: 0.5,
        nights.out_and_in_again: 0.5,
        nights.bring_back: 0.4,
        nights.bring_back_too_soon: 0.5,
    }
)
PAUSES_MIN = (0, 0, 0, 1, 2, 5, 9, 17, 40)


@dataclass(frozen=True)
class Went:
    """How a week went."""

    seed: int
    trace: str
    """Hash of all that happened: the same for a replay."""
    told: dict[str, int]


class Broke(AssertionError):
    """A week in which something was not as it must be."""


def run_week(
    seed: int,
    folder: Path,
    *,
    url: str | None = None,
    say: Callable[[str], None] | None = None,
    days: int = DAYS,
    hard: bool | None = None,
    oftener: Mapping[acts.Act, float] = MappingProxyType({}),
) -> Went:
    """
    Live one week; raise what is found.

    ``hard`` says whether real processes are killed in it; else every tenth seed has it.
    ``oftener`` are acts that are done more often than in other weeks.
    """
    clock = FarmClock()
    with seeded(seed, clock) as draw:
        week = FarmWeek(draw, clock, folder, url=url, say=say)
        chances = {**OFTEN, **oftener}
        if not (seed % 10 == 7 if hard is None else hard):
            del chances[acts.hard_kill]
        try:
            for _ in range(days):
                _live_a_day(week, chances)
            week.end()
        except Exception:
            week.let_go()
            raise
    return Went(seed, week.trace_hash, dict(week.told))


def _live_a_day(week: FarmWeek, chances: dict[acts.Act, float]) -> None:
    draw, clock = week.draw, week.clock
    begins = clock.at.replace(hour=6, minute=30, second=0, microsecond=0)
    if clock.at < begins:
        clock.at = begins
    for _ in range(draw.randint(6, 16)):
        device = draw.choice(week.devices)
        acts.weighted(draw, chances)(week, device)
        clock.go(minutes=draw.choice(PAUSES_MIN), seconds=draw.randrange(60))
        clock.go(microseconds=draw.choice((0, 0, 1, 250_000)))
    nights.copy_if_due(week)
    clock.at = clock.at.replace(hour=0, minute=10)
    clock.go(days=1)
