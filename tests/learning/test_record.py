"""What a record teaches is learned anew when something was written, and only then."""

from stillroom.learning import record
from stillroom.learning.record import LearnedKept
from stillroom.planning.day_file.dayfile import new_day_text, read_day
from stillroom.planning.dayplan import DayPlan
from stillroom.planning.whole_day import plan_the_day
from stillroom.records.days import open_records
from stillroom.running.batches import batches_of
from stillroom.running.commands import BeginDay, FinishStep
from stillroom.running.events import RunLoad
from stillroom.running.handle import handle as begin_day
from stillroom.running.handle import run_id
from stillroom.running.kept_plan import kept
from stillroom.running.loads import loads_of
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


def test_a_day_that_was_begun_is_not_taught_by_itself(tmp_path, monkeypatch):
    """Served again after its lots were booked, it was planned into other batches."""
    text = new_day_text()
    planned = plan_the_day(read_day(text), seconds=0.5)
    assert isinstance(planned, DayPlan)
    own, before = run_id(planned.day.date), "run/2025-09-05"
    learn, taught = record.learned, []
    monkeypatch.setattr(
        record,
        "learned",
        lambda runs, stock, **more: (
            taught.append(([len(run) for run in runs], len(stock.lots)))
            or learn(runs, stock, **more)
        ),
    )
    with open_records(tmp_path / "stillroom.db") as records:
        ledger = records.ledger
        kept_of = LearnedKept(ledger)
        begin_day(BeginDay(loads=(A_LOAD,), at=MORNING), before, ledger=ledger)
        sugar = Receive(things=(thing("25 lb sugar, pantry"),), at=MORNING)
        handle(sugar, ledger=ledger)
        kept_of.for_day(text)
        assert taught.pop() == ([1], 1)
        begin = BeginDay(
            loads=loads_of(planned),
            batches=batches_of(planned),
            plan=kept(planned, text),
            at=MORNING,
        )
        begin_day(begin, own, ledger=ledger)
        first = planned.problem.batches[0]
        done = FinishStep(batch=first.id, step=first.steps[0].id, at=MORNING)
        begin_day(done, own, ledger=ledger)
        salt = Receive(things=(thing("2 lb salt, pantry"),), at=MORNING)
        handle(salt, ledger=ledger)
        kept_of.for_day(text)
        assert taught.pop() == ([1, 0], 1)
        # another day file of that date has not begun: it is taught by all there is
        kept_of.for_day(text.replace('ends = "18:00"', 'ends = "19:00"'))
        assert taught.pop() == ([1, 2], 2)
