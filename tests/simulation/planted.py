"""
Mistakes put into the program on purpose: the simulation must find each of them.

Each takes pytest's ``monkeypatch`` and breaks the program in one way that a hurried
change might.
"""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from sqlalchemy import Engine, event

from stillroom.records import backup, days, exporting, ledger
from stillroom.records.checking import Health
from stillroom.refusal import Refusal, Unreadable
from stillroom.running import fold as run_fold
from stillroom.running import handle as run_handle
from stillroom.running.events import BoilLost
from stillroom.stock import accounts, after, holding, making, standing, unprocessed
from stillroom.stock import decide as stock_decide
from stillroom.stock import handle as stock_handle
from stillroom.stock.choosing import known_lot
from stillroom.stock.commands import CountShelf, Hold
from stillroom.stock.fold import Stock
from stillroom.web.routes import late, shelf_count

Plant = Callable[[pytest.MonkeyPatch], None]


def _everywhere(monkeypatch: pytest.MonkeyPatch, name: str, ours: object) -> None:
    """Put something in the place of a function, wherever it was imported to."""
    found = [
        module
        for at, module in list(sys.modules.items())
        if at.startswith(("stillroom.stock.", "stillroom.records."))
        and hasattr(module, name)
    ]
    assert found, f"{name} is nowhere"
    for module in found:
        monkeypatch.setattr(module, name, ours)


def a_retry_doubles(monkeypatch: pytest.MonkeyPatch) -> None:
    """The stock no longer asks whether a request was booked already."""
    real = stock_handle.decide

    def forgetful(stock: Stock, command: Any) -> Any:
        events = real(stock, replace(command, token=""))
        if isinstance(events, Refusal) or not events:
            return events
        return (replace(events[0], token=command.token), *events[1:])

    monkeypatch.setattr(stock_handle, "decide", forgetful)


def a_tap_again_is_a_new_tap(monkeypatch: pytest.MonkeyPatch) -> None:
    """The stove no longer hands the name of a tap to the record."""
    real = run_handle.handle

    def nameless(*words: Any, key: str | None = None, **more: Any) -> Any:
        del key
        return real(*words, **more)

    from stillroom.web.routes import stove

    monkeypatch.setattr(stove, "handle", nameless)


def half_of_it_is_committed(monkeypatch: pytest.MonkeyPatch) -> None:
    """An entry is on disk before the end of its stream is noted."""
    real = days.open_engine

    def open_engine(place: Any) -> Engine:
        engine = real(place)

        @event.listens_for(engine, "after_cursor_execute")
        def commit(_: Any, cursor: Any, statement: str, *_more: Any) -> None:
            if statement.startswith("INSERT INTO event"):
                cursor.connection.commit()

        return engine

    monkeypatch.setattr(days, "open_engine", open_engine)


def a_full_disk_is_not_said(monkeypatch: pytest.MonkeyPatch) -> None:
    """What could not be written is acknowledged as if it had been."""
    real = ledger.Ledger.append

    def silent(self: Any, stream: str, events: Any, **more: Any) -> int:
        try:
            return real(self, stream, events, **more)
        except Unreadable:
            return int(more["after"]) + len(events)

    monkeypatch.setattr(ledger.Ledger, "append", silent)


def the_last_writer_wins(monkeypatch: pytest.MonkeyPatch) -> None:
    """Nobody asks any longer whether the writer had seen the last entry."""
    real = ledger.Ledger._append

    def blind(
        self: Any, connection: Any, stream: str, rows: Any, _after: int, *more: Any
    ) -> int:
        last, _ = ledger._head(connection, stream)
        numbered = [{**r, "sequence": last + n} for n, r in enumerate(rows, start=1)]
        return real(self, connection, stream, numbered, last, *more)

    monkeypatch.setattr(ledger.Ledger, "_append", blind)


def a_lost_boil_goes_on(monkeypatch: pytest.MonkeyPatch) -> None:
    """The clock of a load whose boil was lost runs on from its first boil."""
    real = run_fold.after

    def lenient(state: Any, happened: Any) -> Any:
        new = real(state, happened)
        if not isinstance(happened, BoilLost):
            return new
        since = {run.load.id: run.boiling_since for run in state.loads}
        loads = tuple(
            replace(run, boiling_since=since[run.load.id])
            if run.load.id == happened.load
            else run
            for run in new.loads
        )
        return replace(new, loads=loads)

    monkeypatch.setattr(run_fold, "after", lenient)


def a_held_lot_is_sold(monkeypatch: pytest.MonkeyPatch) -> None:
    """Nothing is on hold any longer."""
    _everywhere(monkeypatch, "holds", lambda _stock, _code: ())


def the_stock_is_remembered(monkeypatch: pytest.MonkeyPatch) -> None:
    """A program goes on with the stock that it has, whoever wrote since."""
    real = stock_handle.KeptStock.reading

    @contextmanager
    def once(self: stock_handle.KeptStock) -> Iterator[Stock]:
        if self._kept is not None:
            yield self._kept[2]
        else:
            with real(self) as stock:
                yield stock

    monkeypatch.setattr(stock_handle.KeptStock, "reading", once)


def what_is_on_hand_stays_behind(monkeypatch: pytest.MonkeyPatch) -> None:
    """An entry no longer changes what the tables have on hand."""
    _everywhere(monkeypatch, "add_to_hand", lambda *_: None)


def a_count_is_of_the_hour_it_arrives(monkeypatch: pytest.MonkeyPatch) -> None:
    """What was used after a count was made is given back by it."""
    monkeypatch.setattr(
        standing, "book_then", lambda stock, code, place, _: stock.balance(code, place)
    )


def a_days_lots_are_booked_anew(monkeypatch: pytest.MonkeyPatch) -> None:
    """Another page may book a run's lots that are booked."""
    monkeypatch.setattr(Stock, "from_run", lambda *_: None)


def a_held_lot_is_labelled(monkeypatch: pytest.MonkeyPatch) -> None:
    """A label is booked for what is on hold, too."""
    monkeypatch.setattr(holding, "holds", lambda *_: ())


def a_hold_is_of_one_lot(monkeypatch: pytest.MonkeyPatch) -> None:
    """What was wrong with a canner load is held against one of its lots alone."""
    real = stock_decide.hold

    def of_one(stock: Stock, command: Hold) -> Any:
        found = real(stock, command)
        if isinstance(found, Refusal) or not found:
            return found
        code = known_lot(stock, command.lot)
        return (replace(found[0], load=None, lots=(code,)),)

    monkeypatch.setattr(stock_decide, "hold", of_one)


def a_late_process_may_be_of_any_hour(monkeypatch: pytest.MonkeyPatch) -> None:
    """Jars may have stood as long as they like before their process."""
    monkeypatch.setattr(holding, "REDO_WITHIN_H", 1000.0)


def the_choices_outlive_their_hours(monkeypatch: pytest.MonkeyPatch) -> None:
    """What is offered for failed jars is that of their first hour, whenever it is."""
    for module in (after, making, unprocessed):
        monkeypatch.setattr(module, "hours_since", lambda *_: 1.0)


def a_shelf_is_counted_in_part(monkeypatch: pytest.MonkeyPatch) -> None:
    """Of a count of a whole shelf only what differs from the book is booked."""
    real = stock_decide.count_shelf

    def differing(stock: Stock, command: CountShelf) -> Any:
        found = real(stock, command)
        if isinstance(found, Refusal):
            return found
        return tuple(event for event in found if event.number != event.book)

    monkeypatch.setattr(stock_decide, "count_shelf", differing)


def jars_in_doubt_are_pantry_stock(monkeypatch: pytest.MonkeyPatch) -> None:
    """The page of a shelf has what had no whole process among what is counted."""
    monkeypatch.setattr(shelf_count, "is_in_doubt", lambda *_: False)


def a_recall_forgets_what_went(monkeypatch: pytest.MonkeyPatch) -> None:
    """The recall sheet has what is there, and not all that left."""
    real = accounts.account_of

    def without(stock: Stock, code: str) -> accounts.Account:
        found = real(stock, code)
        return replace(found, went=found.went[:-1])

    monkeypatch.setattr(accounts, "account_of", without)


def a_late_count_is_booked_unasked(monkeypatch: pytest.MonkeyPatch) -> None:
    """A phone's count of more than there ever was is booked as it came."""
    monkeypatch.setattr(late, "asked_about", lambda *_: ())


def text_is_in_another_order(monkeypatch: pytest.MonkeyPatch) -> None:
    """Written out, the entries are no longer in the order in which they came."""
    real = exporting._rows

    def by_stream(*words: Any) -> Iterator[dict[str, Any]]:
        yield from sorted(real(*words), key=lambda row: row["stream"] == "stock")

    monkeypatch.setattr(exporting, "_rows", by_stream)


def a_copy_is_of_the_day_before(monkeypatch: pytest.MonkeyPatch) -> None:
    """What is named a copy of today is the first one that was ever made."""
    real, made = backup.copy_whole, list[tuple[bytes, Health]]()

    def copy_whole(file: Path, part: Path, *, target: Path) -> Health:
        if made:
            part.write_bytes(made[0][0])
            return made[0][1]
        health = real(file, part, target=target)
        made.append((part.read_bytes(), health))
        return health

    monkeypatch.setattr(backup, "copy_whole", copy_whole)


PLANTS: tuple[Plant, ...] = (
    a_retry_doubles,
    a_tap_again_is_a_new_tap,
    half_of_it_is_committed,
    a_full_disk_is_not_said,
    the_last_writer_wins,
    a_lost_boil_goes_on,
    a_held_lot_is_sold,
    the_stock_is_remembered,
    what_is_on_hand_stays_behind,
    a_count_is_of_the_hour_it_arrives,
    a_days_lots_are_booked_anew,
    a_held_lot_is_labelled,
    a_hold_is_of_one_lot,
    a_late_process_may_be_of_any_hour,
    the_choices_outlive_their_hours,
    a_shelf_is_counted_in_part,
    jars_in_doubt_are_pantry_stock,
    a_recall_forgets_what_went,
    a_late_count_is_booked_unasked,
    text_is_in_another_order,
    a_copy_is_of_the_day_before,
)
