import datetime as dt
import sqlite3
from pathlib import Path

import pytest

from stillroom.records.days import (
    DEMO,
    ChangedMeanwhile,
    Records,
    open_records,
    seed_demo,
)
from stillroom.records.ledger import Entry, MovedOn
from stillroom.refusal import Unreadable


def test_nothing_is_current_before_the_first_save(records: Records):
    assert records.days.current() is None
    assert records.days.revisions() == ()


def test_every_revision_stays_and_the_last_is_current(records: Records, file: Path):
    assert records.days.save("one", "first draft") == 1
    assert records.days.save("two", "Jory comes later") == 2
    with open_records(file) as again:
        assert again.days.current() == "two"
        assert [(r.number, r.text, r.why) for r in again.days.revisions()] == [
            (1, "one", "first draft"),
            (2, "two", "Jory comes later"),
        ]


def test_saving_the_same_text_twice_makes_one_revision(records: Records):
    assert records.days.save("one", "first") == 1
    assert records.days.save("one", "tapped twice") == 1
    assert len(records.days.revisions()) == 1


def test_another_plan_of_the_same_text_is_kept_and_not_lost_to_a_second_save(
    records: Records,
):
    records.days.save("one", "first", shown="plan")
    assert records.days.save("one", "searched on", over="one", shown="better") == 2
    assert records.days.save("one", "searched on", over="one", shown="better") == 2
    assert records.days.save("one", "tapped twice") == 2
    assert [r.shown for r in records.days.revisions()] == ["plan", "better"]


def test_a_save_over_a_revision_not_seen_is_refused(records: Records):
    records.days.save("one", "first")
    records.days.save("hers", "from the phone", after=1)
    with pytest.raises(
        MovedOn, match="day has moved on: seen up to number 1, now at number 2"
    ):
        records.days.save("his", "from the tablet", after=1)
    assert records.days.current() == "hers"


def test_a_save_over_a_text_that_is_no_longer_there_is_refused(records: Records):
    records.days.save("one", "first", over="")
    records.days.save("hers", "from the phone", over="one")
    with pytest.raises(ChangedMeanwhile, match="no longer the one that was shown"):
        records.days.save("his", "from the tablet", over="one")
    assert records.days.save("hers", "a second tap", over="one") == 2
    assert records.days.current() == "hers"


def test_a_text_saved_in_the_moment_between_is_not_covered(
    records: Records, monkeypatch: pytest.MonkeyPatch
):
    """Looked at before the other one's save, written after it."""
    records.days.save("one", "first")
    latest, looks = records.ledger.latest, []

    def one_saves_between(stream: str):
        there = latest(stream)
        if not looks:
            looks.append(stream)
            records.days.save("hers", "from another window")
        return there

    monkeypatch.setattr(records.ledger, "latest", one_saves_between)
    with pytest.raises(ChangedMeanwhile):
        records.days.save("his", "from this one", over="one")
    assert [r.text for r in records.days.revisions()] == ["one", "hers"]


def test_the_demo_goes_in_once(records: Records):
    assert seed_demo(records, "demo") is True
    assert seed_demo(records, "a newer demo") is False
    assert [(r.text, r.why) for r in records.days.revisions()] == [("demo", DEMO)]


@pytest.mark.parametrize("hers", ["hers", ""])
def test_the_demo_never_goes_over_a_keepers_day(records: Records, hers: str):
    records.days.save(hers, "emptied or not, it is hers")
    assert seed_demo(records, "demo") is False
    assert records.days.current() == hers


def test_a_day_saved_in_the_moment_between_is_not_covered_by_the_demo(
    records: Records, monkeypatch: pytest.MonkeyPatch
):
    records.days.save("hers", "from another program")
    monkeypatch.setattr(records.ledger, "last", lambda _stream: 0)  # as read before
    assert seed_demo(records, "demo") is False
    assert records.days.current() == "hers"


def test_the_file_is_a_write_ahead_log_with_full_sync(records: Records, file: Path):
    with records._engine.connect() as connection:
        found = {
            name: connection.exec_driver_sql(f"PRAGMA {name}").scalar()
            for name in (
                "journal_mode",
                "synchronous",
                "foreign_keys",
                "recursive_triggers",
            )
        }
    assert found == {
        "journal_mode": "wal",
        "synchronous": 2,
        "foreign_keys": 1,
        "recursive_triggers": 1,
    }
    plain = sqlite3.connect(file)
    assert plain.execute("PRAGMA integrity_check").fetchone() == ("ok",)
    plain.close()


def test_a_day_that_a_newer_program_saved_is_not_read_as_one_of_ours(records: Records):
    records.days.save("one", "first draft")
    newer = Entry(
        kind="day-saved",
        version=2,
        body='{"text":"the text of another meaning","why":"it knows more"}',
        occurred_at=dt.datetime(2026, 11, 25, 12, tzinfo=dt.UTC),
    )
    records.ledger.append("day", [newer], after=1)
    with pytest.raises(Unreadable, match=r"day file 2 .* version 2, .* newer one"):
        records.days.current()
    with pytest.raises(Unreadable, match="newer one"):
        records.days.save("mine", "over it, unread")
