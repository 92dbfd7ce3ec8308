"""What a record teaches is learned anew when something was written, and only then."""

from stillroom.learning import record
from stillroom.learning.record import LearnedKept
from stillroom.records.days import open_records
from stillroom.stock.handle import handle
from tests.stock.kitchen import MORNING, Receive, thing


def test_it_is_read_again_only_when_something_was_written(tmp_path, monkeypatch):
    read = []
    learn = record.learned_from
    monkeypatch.setattr(
        record, "learned_from", lambda *a, **k: read.append(k) or learn(*a, **k)
    )
    with open_records(tmp_path / "stillroom.db") as records:
        kept = LearnedKept(records.ledger)
        assert kept.of("here") is kept.of("here")
        assert len(read) == 1
        kept.of("there")
        assert len(read) == 2
        came = Receive(things=(thing("25 lb sugar, pantry"),), at=MORNING)
        handle(came, ledger=records.ledger)
        kept.of("here")
        assert len(read) == 3
