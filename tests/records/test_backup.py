"""Copies: consistent while in use, checked, given up by age; brought back unharmed."""

import datetime as dt
import errno
import os
import resource
import sqlite3
import stat
import subprocess
import sys
import threading
from pathlib import Path

import pytest

from stillroom.records.ages import NEWEST
from stillroom.records.backup import back_up, back_up_if_due, last_backup
from stillroom.records.checking import check_records
from stillroom.records.copy_names import backups_in, folder_beside
from stillroom.records.copying import new_file
from stillroom.records.daily import DailyBackup
from stillroom.records.days import open_records
from stillroom.records.ledger import Entry
from stillroom.records.restore import restore
from stillroom.refusal import Unreadable
from tests.cli.running import run, run_alone

NOON = dt.datetime(2026, 11, 25, 12, tzinfo=dt.UTC)
DAY = dt.timedelta(days=1)


def entry(body: str = "{}") -> Entry:
    return Entry(kind="jar-dropped", version=1, body=body, occurred_at=NOON)


def write(file: Path, count: int) -> None:
    with open_records(file) as records:
        last = records.ledger.last("x")
        for n in range(count):
            records.ledger.append("x", [entry(f"{last + n}")], after=last + n)


@pytest.fixture
def written(file: Path) -> Path:
    write(file, 5)
    return file


def names(folder: Path) -> list[str]:
    return sorted(path.name for path in folder.iterdir())


def test_two_records_of_one_name_in_one_folder_leave_each_other_alone(tmp_path: Path):
    one, two = tmp_path / "a" / "farm.db", tmp_path / "b" / "farm.db"
    stick = tmp_path / "stick"
    stick.mkdir()
    old = stick / "farm-2020-01-01T12-00-00Z.db"
    old.write_text("of either, from before")
    for record in (one, two):
        record.parent.mkdir()
        write(record, 1)
    first = back_up_if_due(one, to=stick, now=NOON - 500 * DAY)
    second = back_up_if_due(two, to=stick, now=NOON - 500 * DAY)
    assert first is not None
    assert second is not None
    made = back_up(two, to=stick, now=NOON, newest=1)
    assert made.gone == (second.file,)
    assert first.file.exists()
    assert old.exists()
    assert last_backup(one, to=stick) == NOON - 500 * DAY


def test_in_its_own_folder_a_copy_is_called_as_ever(
    written: Path, monkeypatch: pytest.MonkeyPatch
):
    home = folder_beside(written)
    made = back_up(written, to=home, now=NOON - DAY)
    assert made.file.name == "stillroom-2026-11-24T12-00-00Z.db"
    monkeypatch.chdir(written.parent)
    assert back_up(written.name, now=NOON, newest=1).file.parent.samefile(home)
    assert last_backup(written) == last_backup(written.name, to=home) == NOON


def test_two_files_of_one_folder_and_one_stem_leave_each_other_alone(written: Path):
    other = written.with_suffix(".sqlite")
    write(other, 1)
    first = back_up(written, now=NOON - 500 * DAY)
    assert last_backup(other) is None
    assert back_up(other, now=NOON, newest=1).gone == ()
    assert first.file.exists()


def test_a_copy_is_one_file_with_all_that_was_written(written: Path):
    made = back_up(written, now=NOON)
    assert made.file == folder_beside(written) / "stillroom-2026-11-25T12-00-00Z.db"
    assert names(made.file.parent) == [made.file.name]
    assert made.health == check_records(made.file)
    assert made.health.fingerprint == check_records(written).fingerprint
    assert stat.S_IMODE(made.file.stat().st_mode) == 0o600
    assert stat.S_IMODE(made.file.parent.stat().st_mode) == 0o700


def test_a_copy_made_while_others_write_is_of_one_moment(file: Path):
    """Two streams are written in step: in no copy is one ahead by more than one."""
    stop = threading.Event()
    with open_records(file) as records:
        records.ledger.append("x", [entry("x" * 20_000)], after=0)
        records.ledger.append("y", [entry("y" * 20_000)], after=0)

        def go_on() -> None:
            n = 1
            while not stop.is_set():
                for stream in "xy":
                    records.ledger.append(stream, [entry("z" * 20_000)], after=n)
                n += 1

        hand = threading.Thread(target=go_on)
        hand.start()
        try:
            made = [back_up(file, now=NOON + n * DAY) for n in range(4)]
        finally:
            stop.set()
            hand.join()
    counts = []
    for copy in made:
        with open_records(copy.file) as records:
            x, y = records.ledger.last("x"), records.ledger.last("y")
        assert x - y in (0, 1)
        counts.append(x)
    assert counts == sorted(counts)
    assert counts[-1] > counts[0]


def test_copies_go_by_age_and_only_ours(written: Path):
    folder = folder_beside(written)
    back_up(written, now=NOON - 500 * DAY)
    back_up(written, now=NOON - 490 * DAY)
    (folder / "stillroom-of-grandmother.db").write_text("hers")
    (folder / "stillroom-2026-02-31T12-00-00Z.db").write_text("no such day")
    (folder / "garden-2020-01-01T12-00-00Z.db").write_text("of another record")
    made = back_up(written, now=NOON, newest=1)
    assert [path.name for path in made.gone] == [
        "stillroom-2025-07-13T12-00-00Z.db",
        "stillroom-2025-07-23T12-00-00Z.db",
    ]
    assert names(folder) == [
        "garden-2020-01-01T12-00-00Z.db",
        "stillroom-2026-02-31T12-00-00Z.db",
        "stillroom-2026-11-25T12-00-00Z.db",
        "stillroom-of-grandmother.db",
    ]


def test_what_a_killed_copy_left_goes_after_a_day(written: Path):
    folder = folder_beside(written)
    folder.mkdir()
    for name, age in (("old", 2), ("fresh", 0)):
        part = folder / f"stillroom-2026-11-25T12-00-00Z.db.{name}.part"
        part.touch()
        then = (NOON - age * DAY).timestamp()
        os.utime(part, (then, then))
    made = back_up(written, now=NOON)
    assert names(folder) == [
        made.file.name,
        "stillroom-2026-11-25T12-00-00Z.db.fresh.part",
    ]


def test_a_damaged_record_is_not_copied_and_no_older_copy_goes(written: Path):
    back_up(written, now=NOON - 500 * DAY)
    plain = sqlite3.connect(written)
    with plain:
        plain.execute("DROP TRIGGER event_no_update")
        plain.execute("UPDATE event SET body = 'other' WHERE sequence = 3")
    plain.close()
    said = r"is not whole, so it was not kept\..*number 3: .*\. See what is wrong"
    with pytest.raises(Unreadable, match=said):
        back_up(written, now=NOON, newest=1)
    assert names(folder_beside(written)) == ["stillroom-2025-07-13T12-00-00Z.db"]


def test_a_second_copy_in_one_second_is_refused(written: Path):
    back_up(written, now=NOON)
    with pytest.raises(Unreadable, match="is there already; wait a second"):
        back_up(written, now=NOON)


def test_a_folder_that_is_a_file_is_refused(written: Path, tmp_path: Path):
    (tmp_path / "to").write_text("a list")
    with pytest.raises(Unreadable, match=r"is a file: give a folder .* --to"):
        back_up(written, to=tmp_path / "to")
    assert (tmp_path / "to").read_text() == "a list"


def test_a_folder_that_takes_nothing_is_refused(written: Path):
    """Holds for the superuser too: the kernel's own tree takes no files."""
    with pytest.raises(Unreadable, match="cannot be made"):
        back_up(written, to=Path("/proc/self/copies"))
    with pytest.raises(Unreadable, match=r"cannot be made .* allow"):
        back_up(written, to=Path("/proc/self"))


def test_what_is_no_record_is_not_copied(tmp_path: Path):
    with pytest.raises(Unreadable, match="is not there"):
        back_up(tmp_path / "none.db")
    (tmp_path / "list.db").write_text("jars in the cellar, a long list")
    with pytest.raises(Unreadable, match="is not a database"):
        back_up(tmp_path / "list.db")
    (tmp_path / "empty.db").touch()
    with pytest.raises(Unreadable, match="no record in it to copy"):
        back_up(tmp_path / "empty.db")
    assert names(tmp_path / "list-backups") == []
    with pytest.raises(Unreadable, match="is no file"):
        back_up("/dev/null", to=tmp_path)


FULL = """
import resource, sys
from pathlib import Path
from stillroom.records.backup import back_up
from stillroom.refusal import Unreadable
resource.setrlimit(resource.RLIMIT_FSIZE, (40_000, 40_000))
try:
    back_up(sys.argv[1], to=Path(sys.argv[2]))
except Unreadable as fault:
    print(fault)
"""


def test_a_disk_with_no_room_for_the_copy_is_said(written: Path, tmp_path: Path):
    """A limit on the size of a file: the system says no in the midst of the writing."""
    with open_records(written) as records:
        records.ledger.append("x", [entry("j" * 200_000)], after=5)
    assert resource.RLIMIT_FSIZE
    said = subprocess.run(
        [sys.executable, "-c", FULL, str(written), str(tmp_path / "to")],
        capture_output=True,
        text=True,
        check=True,
    )
    assert "the disk failed or is full" in said.stdout
    assert names(tmp_path / "to") == []
    assert check_records(written).whole


def test_one_a_day(written: Path):
    assert last_backup(written) is None
    assert back_up_if_due(written, now=NOON) is not None
    assert last_backup(written) == NOON
    assert back_up_if_due(written, now=NOON + 0.9 * DAY) is None
    assert back_up_if_due(written, now=NOON + DAY) is not None
    # A clock that was a year ahead must not stop the copies for a year.
    back_up(written, now=NOON + 365 * DAY)
    assert back_up_if_due(written, now=NOON + 2 * DAY) is not None


def test_daily_says_what_it_made_and_what_it_could_not(written: Path):
    told: list[object] = []
    with DailyBackup(written, tell=told.append, look_every_s=0.01):
        pass
    assert len(told) == 1
    assert len(backups_in(folder_beside(written), "stillroom")) == 1

    other = written.with_name("other.db")
    write(other, 1)
    folder_beside(other).write_text("in the way")
    told.clear()
    with DailyBackup(other, tell=told.append, look_every_s=0.01) as daily:
        for _ in range(3):
            daily.look()
    assert len(told) == 1, "the same failure is told once"
    assert "is a file: give a folder" in str(told[0])


def test_daily_goes_on_looking(written: Path):
    told = threading.Event()
    with DailyBackup(written, tell=lambda _: told.set(), look_every_s=0.01):
        assert told.is_set()
        told.clear()
        for copy in folder_beside(written).iterdir():
            copy.unlink()
        assert told.wait(10)


def test_a_restored_record_is_the_one_that_was_copied(written: Path, tmp_path: Path):
    made = back_up(written, now=NOON)
    done = restore(made.file, tmp_path / "new.db")
    assert done.aside is None
    assert done.health.fingerprint == made.health.fingerprint
    with open_records(tmp_path / "new.db") as records:
        assert [e.body for e in records.ledger.read("x")] == list("01234")
        records.ledger.append("x", [entry("5")], after=5)
    assert stat.S_IMODE((tmp_path / "new.db").stat().st_mode) == 0o600


def test_a_record_that_is_there_is_never_written_over(written: Path):
    made = back_up(written, now=NOON)
    write(written, 2)
    before = check_records(written)
    with pytest.raises(Unreadable, match="is there already and was left as it is"):
        restore(made.file, written)
    assert check_records(written) == before
    done = restore(made.file, written, aside=True, now=NOON)
    assert done.aside == written.with_name("stillroom-aside-2026-11-25T12-00-00Z.db")
    assert check_records(done.aside).fingerprint == before.fingerprint
    assert check_records(written).fingerprint == made.health.fingerprint
    again = restore(made.file, written, aside=True, now=NOON)
    assert again.aside is not None
    assert again.aside.name == "stillroom-aside-2026-11-25T12-00-00Z-2.db"


@pytest.mark.parametrize("links", [True, False])
def test_a_record_stands_under_its_name_at_each_moment_of_putting_it_aside(
    written: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, links: bool
):
    """Whatever is renamed, linked or deleted, a kill just before it leaves a record."""
    copy = back_up(written, now=NOON).file
    write(written, 2)
    seen: list[bytes | None] = []
    watching = True

    def look(event: str, _: object) -> None:
        if watching and event in ("os.rename", "os.link", "os.remove"):
            seen.append(written.read_bytes() if written.exists() else None)

    def no_link(*_: object) -> None:
        raise OSError(errno.EPERM, "no links here")

    if not links:
        monkeypatch.setattr("os.link", no_link)
    sys.addaudithook(look)
    try:
        done = restore(copy, written, aside=True, now=NOON)
    finally:
        watching = False
    assert len(seen) > 3
    events = set()
    for n, raw in enumerate(seen):
        assert raw is not None
        stood = tmp_path / f"{n}.db"
        stood.write_bytes(raw)
        health = check_records(stood)
        assert health.whole
        events.add(health.events)
    assert events == {5, 7}
    assert done.aside is not None
    assert check_records(done.aside).events == 7
    assert check_records(written).events == 5


@pytest.mark.parametrize("taken", [True, False])
def test_what_fails_after_the_name_was_taken_gives_it_back(
    written: Path, monkeypatch: pytest.MonkeyPatch, taken: bool
):
    copy = back_up(written, now=NOON).file
    write(written, 2)
    before = names(written.parent)

    def fails(part: Path, target: Path) -> None:
        if taken:
            part.replace(target)
        raise OSError(errno.EIO, "the disk failed")

    monkeypatch.setattr("stillroom.records.restore.take_name", fails)
    with pytest.raises(Unreadable, match="the disk failed"):
        restore(copy, written, aside=True, now=NOON)
    assert check_records(written).events == 7
    assert names(written.parent) == before


def test_a_record_in_use_is_not_moved_from_under_it(written: Path):
    made = back_up(written, now=NOON)
    with open_records(written) as records:
        records.ledger.last("x")  # lies idle, but the file is still open
        with pytest.raises(Unreadable, match="is in use: end stillroom serve"):
            restore(made.file, written, aside=True)
    assert names(written.parent) == ["stillroom-backups", "stillroom.db"]


def test_a_copy_made_here_keeps_the_locks_on_the_record(written: Path):
    """
    Closing a file takes away all locks that a process has on it, so asked of another.

    Once the daily copy opened the record to look at its first bytes: from then on
    another process could move it away from under the pages.
    """
    with open_records(written) as records:
        records.ledger.append("x", [entry()], after=5)
        made = back_up(written, now=NOON)
        assert check_records(written).whole
        said = run_alone("restore", str(made.file), "--db", str(written), "--aside")
        assert said.code == 2
        assert "is in use: end stillroom serve" in said.err
        records.ledger.append("x", [entry()], after=6)
    assert check_records(written).events == 7


def test_a_damaged_record_gives_way_with_its_log(written: Path):
    made = back_up(written, now=NOON)
    written.write_bytes(b"\0" * 5000)
    log = written.with_name("stillroom.db-wal")
    log.write_bytes(b"what had not yet been written into it")
    done = restore(made.file, written, aside=True, now=NOON)
    assert done.aside is not None
    assert done.aside.read_bytes() == b"\0" * 5000
    former_log = done.aside.with_name(done.aside.name + "-wal")
    assert former_log.read_bytes().startswith(b"what had not")
    assert check_records(written).fingerprint == made.health.fingerprint


def test_a_log_left_without_its_file_does_not_get_into_the_new_one(written: Path):
    made = back_up(written, now=NOON)
    new = written.with_name("new.db")
    new.with_name("new.db-wal").write_bytes(b"of another file")
    with pytest.raises(Unreadable, match=r"new\.db-wal is there already"):
        restore(made.file, new)
    restore(made.file, new, aside=True)
    assert check_records(new).whole


def test_all_is_as_it_was_where_the_last_step_fails(
    written: Path, monkeypatch: pytest.MonkeyPatch
):
    made = back_up(written, now=NOON)
    write(written, 1)
    before = check_records(written)

    def no(*_paths: Path) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("stillroom.records.restore.take_name", no)
    with pytest.raises(Unreadable, match="No space left on device"):
        restore(made.file, written, aside=True)
    assert check_records(written) == before
    assert names(written.parent) == ["stillroom-backups", "stillroom.db"]


def test_a_copy_that_is_changed_text_or_missing_is_not_restored(
    written: Path, tmp_path: Path
):
    made = back_up(written, now=NOON)
    target = tmp_path / "new.db"
    plain = sqlite3.connect(made.file)
    with plain:
        plain.execute("DROP TRIGGER event_no_update")
        plain.execute("UPDATE event SET body = 'other' WHERE sequence = 3")
    plain.close()
    with pytest.raises(Unreadable, match=r"is not whole and was not restored.*other|3"):
        restore(made.file, target)
    text = tmp_path / "list.txt"
    text.write_text("jars in the cellar, a long list of them")
    with pytest.raises(Unreadable, match="is not a database"):
        restore(text, target)
    with pytest.raises(Unreadable, match="is not there: give a backup"):
        restore(tmp_path / "none.db", target)
    with pytest.raises(Unreadable, match="is a folder"):
        restore(tmp_path, target)
    assert not target.exists()


def test_a_record_is_not_restored_from_itself(written: Path, tmp_path: Path):
    link = tmp_path / "link.db"
    link.symlink_to(written)
    for same in (written, link):
        with pytest.raises(Unreadable, match="is the record itself"):
            restore(same, written, aside=True)
    assert check_records(written).whole


def test_a_writing_that_fails_leaves_nothing(tmp_path: Path):
    with (
        pytest.raises(Unreadable, match=r"cannot be written \(gone\)"),
        new_file(tmp_path / "x.db"),
    ):
        raise OSError(5, "gone")
    assert names(tmp_path) == []


def test_an_older_copy_is_brought_back_and_brought_up(file: Path, tmp_path: Path):
    old = tmp_path / "old.db"
    plain = sqlite3.connect(old)
    schema = Path(__file__).parent / "schemas" / "1.sql"
    plain.executescript(schema.read_text("utf-8"))
    plain.close()
    assert back_up(old, now=NOON).health.events == 5
    assert not restore(old, file).health.chained
    open_records(file).close()
    assert check_records(file).chained


def test_the_commands(written: Path, tmp_path: Path):
    said = run("backup", "--db", str(written), "--to", str(tmp_path / "to"))
    assert (said.code, said.err) == (0, "")
    assert "5 entries in 1 stream: none is missing" in said.out
    (copy,) = (tmp_path / "to").iterdir()
    said = run("restore", str(copy), "--db", str(written))
    assert said.code == 2
    assert "--aside" in said.err
    said = run("restore", str(copy), "--db", str(written), "--aside", "--json")
    assert said.code == 0
    assert said.json["events"] == 5
    assert Path(said.json["aside"]).exists()
    said = run("backup", "--db", str(written), "--keep", "2", "--json")
    assert said.code == 0
    assert said.json["fingerprint"] == check_records(written).fingerprint
    assert run("backup", "--db", str(written), "--keep", "0").code == 2
    assert run("backup", "--db", str(tmp_path)).code == 2


def test_the_keep_of_the_command_is_the_libraries():
    from stillroom.cli.commands.backup import command

    keep = next(p for p in command.params if p.name == "keep")
    assert keep.default == NEWEST


@pytest.mark.skipif(os.geteuid() == 0, reason="the superuser may write anywhere")
def test_no_right_to_write_is_said(written: Path, tmp_path: Path):
    closed = tmp_path / "closed"
    closed.mkdir(mode=0o500)
    with pytest.raises(Unreadable, match="allow writing"):
        back_up(written, to=closed)
