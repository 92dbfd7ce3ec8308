"""The house's computer for one life: programs over one record, until it is ended."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace
from functools import cache
from pathlib import Path
from typing import Any

from stillroom.planning.day_file.dayfile import new_day_text, read_day
from stillroom.planning.dayplan import DayPlan
from stillroom.planning.whole_day import plan_the_day
from stillroom.records.days import open_records
from stillroom.running.loads import loads_of
from stillroom.web.app import build_app
from tests.simulation.browser import Browser
from tests.simulation.faults import Faults
from tests.simulation.seeded import FarmClock


@cache
def planned_day() -> DayPlan:
    """The small day that a new keeper begins with, the same plan on every machine."""
    plan = plan_the_day(read_day(new_day_text()), seconds=2, deterministic=True)
    assert isinstance(plan, DayPlan)
    return plan


@cache
def planned_loads() -> dict[str, tuple[str, int, tuple[str, ...]]]:
    """Loads of that day: id to canner and published minutes."""
    return {
        x.id: (x.canner, x.process_min, tuple(batch for batch, _ in x.jars))
        for x in loads_of(planned_day())
    }


@cache
def _plan_of(date: dt.date) -> DayPlan:
    plan = planned_day()
    return replace(plan, day=replace(plan.day, date=date))


class TodaysShop:
    """The same plan every day, under that day's date."""

    def __init__(self, clock: FarmClock) -> None:
        self._clock = clock

    def day_text(self) -> str:
        return "a day"

    def plan(self) -> DayPlan:
        return _plan_of(self._clock.now().date())


class Window:
    """One program that serves the pages, with its own door to the record."""

    def __init__(self, where: str, clock: FarmClock, grave: Path) -> None:
        self.records = open_records(where)
        file = None if "://" in where else Path(where)
        self.faults = Faults(self.records._engine, file, grave)
        shop: Any = TodaysShop(clock)
        self.app = build_app(shop, records=self.records)
        self.app.state.clock = clock
        self.client = Browser(self.app)

    @property
    def stock_places(self) -> dict[str, dict[str, int]]:
        """How much of each lot is where, as this program has it."""
        kept = getattr(self.app.state, "kept_stock", None)
        if kept is None:
            return {}
        with kept.reading() as stock:
            return {code: stock.places(code) for code in stock.lots}

    def close(self) -> None:
        self.records.close()


class House:
    """Two programs over one record: that of the phones, and one at the desk."""

    def __init__(self, where: str, clock: FarmClock, grave: Path) -> None:
        self.where = where
        grave.parent.mkdir(exist_ok=True)
        self.windows = [Window(where, clock, grave) for _ in range(2)]

    @property
    def file(self) -> Path | None:
        return None if "://" in self.where else Path(self.where)

    def close(self) -> None:
        for window in self.windows:
            window.close()
