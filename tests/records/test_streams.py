"""Which streams there are."""

from stillroom.records.days import Records
from stillroom.records.ledger import Entry, utc_now


def test_streams_that_begin_so_in_order_of_their_names(records: Records):
    for name in ("run/2026-09-12", "run/2026-01-05", "run_x", "stock"):
        entry = Entry(kind="x", version=1, body="{}", occurred_at=utc_now())
        records.ledger.append(name, [entry], after=0)
    assert records.ledger.streams("run/") == ("run/2026-01-05", "run/2026-09-12")
    assert records.ledger.streams("run") == (
        "run/2026-01-05",
        "run/2026-09-12",
        "run_x",
    )
    assert records.ledger.streams("nothing") == ()
