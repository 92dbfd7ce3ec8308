"""Whatever else a file holds, a lot is read by the numbers of its own entries."""

from pathlib import Path

from sqlalchemy import event

from stillroom.records.days import open_records
from stillroom.stock.commands import Receive
from stillroom.stock.handle import handle, stock_now
from stillroom.stock.tracing import trace
from tests.stock.kitchen import MORNING, thing


def test_no_question_of_a_trace_reads_through_all_entries(tmp_path: Path):
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
