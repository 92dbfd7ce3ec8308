"""A plain model of booking a day's lots from its run: each batch of each load once."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass
from typing import Any

from tests.simulation.record_read import Row
from tests.simulation.seeded import ZONE
from tests.simulation.shelf_model import ShelfModel
from tests.simulation.shelf_words import ASIDE, EACH, Booked, Does, Lot
from tests.simulation.stove_model import StoveModel


@dataclass(frozen=True, kw_only=True)
class DaysLots:
    """The form of a day's lots: (load, batch, jars, place) for each line."""

    run: str
    lines: tuple[tuple[str, str, int, str], ...]
    token: str

    @property
    def said(self) -> str:
        return f"lots of {self.run}: " + ", ".join(
            f"{n} {b}" for _, b, n, _ in self.lines
        )


@dataclass(frozen=True)
class ToBook:
    """What must come of it, line by line."""

    does: Does
    lines: tuple[Any, ...] = ()


def expect_lots(shelf: ShelfModel, stove: StoveModel, asked: DaysLots) -> ToBook:
    """Only jars that are out of the canner, and only what was not booked before."""
    run = stove.runs.get(asked.run)
    if run is None:
        return ToBook(Does.UNREADABLE)
    if asked.token in shelf.tokens:
        return ToBook(Does.AGAIN)
    lines = tuple(
        line
        for line in asked.lines
        if line[2]
        and run.loads[line[0]].lifted
        and not any(
            lot.of_run == (asked.run, line[0], line[1]) and not shelf.undone(code)
            for code, lot in shelf.lots.items()
        )
    )
    return ToBook(Does.BOOKS if lines else Does.AGAIN, lines)


def loads_booked(shelf: ShelfModel) -> frozenset[tuple[str, str]]:
    """Return the loads of which lots are booked, as (run, load)."""
    return frozenset(
        lot.of_run[:2]
        for code, lot in shelf.lots.items()
        if lot.of_run is not None and not shelf.undone(code)
    )


def take_over_lots(
    shelf: ShelfModel,
    stove: StoveModel,
    asked: DaysLots,
    wanted: ToBook,
    rows: list[Row],
    at: dt.datetime,
) -> None:
    """Check the entries of a day's lots against what was asked, and go on with them."""
    left = {(load, batch): (jars, place) for load, batch, jars, place in wanted.lines}
    for n, row in enumerate(rows):
        assert (row.stream, row.kind, row.at) == ("stock", "made", at)
        batch, code = row.body["batch"], row.body["lot"]["code"]
        load = batch["run_load"]
        jars, place = left.pop((load, batch["run_batch"]))
        assert batch["run"] == asked.run
        assert row.body["token"] == ("" if n else asked.token)
        assert row.change[code, place] == jars
        for (source, where), number in row.change.items():
            if source != code:
                assert -number <= shelf.here(source).get(where, 0)
                assert where != ASIDE
                assert not shelf.recalled(source)
                assert number % EACH.get(shelf.lots[source].what, 1) == 0
        assert code not in shelf.lots
        lifted = stove.runs[asked.run].loads[load].lifted
        assert lifted is not None
        out = lifted.astimezone(ZONE).replace(second=0, microsecond=0)
        shelf.lots[code] = Lot(
            what=row.body["lot"]["what"],
            jars=True,
            born=shelf.sequence + 1,
            made_at=out,
            canned=True,
            load=(row.body["lot"]["day"], batch["load"]),
            parents=tuple({part["lot"] for part in row.body["inputs"]}),
            of_run=(asked.run, load, batch["run_batch"]),
        )
        for key, number in row.change.items():
            shelf.at[key] += number
        shelf.booked.append(Booked("made", row.change, at, lots=(code,)))
        if not n:
            shelf.tokens[asked.token] = shelf.sequence
    assert not left, f"{left} were not booked"
