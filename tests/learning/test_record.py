"""What a record teaches is learned anew when something was written, and only then."""

from stillroom.learning import record
from stillroom.learning.record import LearnedKept
from stillroom.records.days import open_records
from stillroom.running.commands import BeginDay
from stillroom.running.events import RunLoad
from stillroom.running.handle import handle as begin_day
from stillroom.stock.handle import handle
from tests.stock.kitchen import MORNING, Receive, thing

A_LOAD = RunLoad(
    id="canner/1",
    name="load 1",
    canner="canner",
    process_min=10,
    source="a table",
    jar="half-pint",
    jars=(("jelly-1", 8),),
)


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


def test_only_the_run_that_was_written_to_is_read_again(tmp_path, monkeypatch):
    read = []
    with open_records(tmp_path / "stillroom.db") as records:
        ledger = records.ledger
        days = [f"run/2026-09-{day:02}" for day in (5, 6, 7)]
        for day in days[:2]:
            begin_day(BeginDay(loads=(A_LOAD,), at=MORNING), day, ledger=ledger)
        kept = LearnedKept(ledger)
        assert kept.of() == record.learned_from(ledger)
        turned = record.from_entry
        monkeypatch.setattr(
            record, "from_entry", lambda entry: read.append(entry.body) or turned(entry)
        )
        begin_day(BeginDay(loads=(A_LOAD,), at=MORNING), days[2], ledger=ledger)
        kept.of()
        assert len(read) == ledger.last(days[2])
        assert sorted(kept._runs) == days
        monkeypatch.undo()
        for name, (_, run) in kept._runs.items():
            assert run == [record.from_entry(entry) for entry in ledger.read(name)]


def test_what_was_made_in_another_kitchens_run_is_left_out(tmp_path, monkeypatch):
    seen = []
    monkeypatch.setattr(record, "learned", lambda *_, **given: seen.append(given))
    with open_records(tmp_path / "stillroom.db") as records:
        for day, kitchen in (("2026-09-05", "here"), ("2026-09-06", "there")):
            begin = BeginDay(loads=(A_LOAD,), kitchen=kitchen, at=MORNING)
            begin_day(begin, f"run/{day}", ledger=records.ledger)
        record.learned_from(records.ledger, kitchen="here")
        record.learned_from(records.ledger)
    assert [given["elsewhere"] for given in seen] == [{"run/2026-09-06"}, set()]
