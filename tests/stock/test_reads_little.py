"""Whatever else a file holds, a lot is read by the numbers of its own entries."""

from pathlib import Path

import pytest
from sqlalchemy import event

from stillroom.records.days import open_records
from stillroom.stock import entries as entries_module
from stillroom.stock.about import lots_of
from stillroom.stock.after import day_after
from stillroom.stock.codec import to_entry
from stillroom.stock.commands import Receive
from stillroom.stock.cover import covers
from stillroom.stock.events import AnyEvent, Held, Mended
from stillroom.stock.fold import Stock
from stillroom.stock.handle import STREAM, handle, stock_now, stock_of
from stillroom.stock.on_demand import StockOnDemand
from stillroom.stock.tracing import trace
from tests.stock.busy import busy
from tests.stock.kitchen import MORNING, thing


def test_no_question_of_a_trace_or_the_day_after_reads_all_entries(tmp_path: Path):
    # Held on the plan of each question, not on a clock: one that asked for "all entries
    # up to a number" once made a trace grow with the record.
    asked: list[tuple[str, object]] = []
    with open_records(tmp_path / "stillroom.db") as records:
        came = Receive(things=(thing("60 lids, drawer"),), at=MORNING)
        stock, _ = handle(came, ledger=records.ledger)
        code = next(iter(stock.lots))
        reader = records.ledger._reader  # what the questions go through

        @event.listens_for(reader, "before_cursor_execute")
        def note(_connection, _cursor, statement, parameters, *_rest):
            asked.append((statement, parameters))

        trace(stock_now(records.ledger), code)
        day_after(stock_now(records.ledger), MORNING)
        questions = [q for q in asked if q[0].lstrip().startswith(("SELECT", "WITH"))]
        with reader.connect() as connection:
            plans = [
                str(row[-1])
                for statement, parameters in questions
                for row in connection.exec_driver_sql(
                    f"EXPLAIN QUERY PLAN {statement}", parameters
                )
            ]
    of_entries = [plan for plan in plans if " event " in f"{plan} "]
    assert any("stream=? AND sequence=?" in plan for plan in of_entries)
    assert not [p for p in of_entries if p.startswith("SCAN") or "sequence<" in p]


def test_how_far_one_thing_goes_is_told_from_its_own_entries(tmp_path: Path):
    farm = busy(3, 120)
    farm.later(24 * 40)  # long enough to speak of a week's use
    with open_records(tmp_path / "stillroom.db") as records:
        entries = [to_entry(event) for event in farm.stock.events]
        records.ledger.append(STREAM, entries, after=0)
        whole = stock_of(records.ledger)
        told = {row.what for row in covers(whole, farm.at)}
        assert told
        for what in (*told, "walnuts"):
            stock = stock_now(records.ledger)
            assert isinstance(stock, StockOnDemand)
            assert covers(stock, farm.at, what=what) == covers(
                whole, farm.at, what=what
            )
            assert not stock._all, "all entries were read"


def walked(stock: Stock, code: str) -> tuple[tuple[int, AnyEvent], ...]:
    """The entries about a lot, out of a walk through all there are."""
    events, made = list(enumerate(stock.events, start=1)), stock.made(code)
    load = (made.lot.day, made.batch.load) if made and made.batch.load else None
    of_it = {
        number
        for number, event in events
        if code in lots_of(event)
        or (isinstance(event, Held) and (event.day, event.load) == load)
    }
    return tuple(
        (number, event)
        for number, event in events
        if number in of_it or (isinstance(event, Mended) and event.of in of_it)
    )


@pytest.mark.parametrize("seed", range(3))
def test_the_entries_about_a_lot_are_found_without_a_look_at_all_others(
    seed: int, monkeypatch: pytest.MonkeyPatch
):
    # Jars put up cold ask for them one by one: a walk through all took ten minutes to
    # tell how far the shelf of a large record goes.
    stock = busy(seed, 150).stock
    expected = {code: walked(stock, code) for code in stock.lots}
    assert any(isinstance(e, Held) for about in expected.values() for _, e in about)
    assert any(isinstance(e, Mended) for about in expected.values() for _, e in about)
    monkeypatch.setattr(entries_module, "lots_of", None)
    monkeypatch.setattr(stock, "_events", OneByOne(stock._events))
    assert {code: stock.about(code) for code in stock.lots} == expected


class OneByOne(dict):
    """Entries that are had by their numbers alone."""

    def __iter__(self):
        raise AssertionError("all entries were walked through")

    items = values = keys = __iter__
