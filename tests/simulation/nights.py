"""Copies in the night, and the day on which one is brought back."""

from __future__ import annotations

import json
import shutil
from pathlib import Path
from typing import TYPE_CHECKING
from unittest.mock import patch

import pytest

from stillroom.records import restore as restoring
from stillroom.records.backup import Backup, back_up, back_up_if_due
from stillroom.records.checking import check_records
from stillroom.records.days import open_records
from stillroom.records.exporting import export
from stillroom.records.importing import import_from
from stillroom.records.restore import restore
from stillroom.refusal import Unreadable
from stillroom.stock.handle import brought_up
from tests.conftest import empty_database
from tests.simulation.devices import Device
from tests.simulation.record_read import RecordRead

if TYPE_CHECKING:
    from tests.simulation.week import FarmWeek


def made_at(copy: Path) -> str:
    """Return when a copy was made, which is the same in every run of a seed."""
    return copy.stem[-len("2026-11-25T12-00-00Z") :]


def copy_now(week: FarmWeek, _device: Device | None = None) -> None:
    """Make a copy at any hour, also while somebody is about to write."""
    folder, now = week.folder / "copies", week.clock.now()
    try:
        made = back_up(week.where, to=folder, now=now)
    except Unreadable as no:
        if "is there already" not in str(no):
            raise
        return  # the clock was set: there is one of this second
    week.tell("copy by hand", made.health.fingerprint)
    _keep(week, made)


def copy_if_due(week: FarmWeek, _device: Device | None = None) -> None:
    """Make the day's copy while the programs run; it holds what the record holds."""
    folder, now = week.folder / "copies", week.clock.now()
    made = back_up_if_due(week.where, to=folder, now=now)
    week.tell("copy", "none is due" if made is None else made.health.fingerprint)
    if made is None:
        return
    _keep(week, made)


def _keep(week: FarmWeek, made: Backup) -> None:
    assert made.file.exists(), "a copy was given up as it was made"
    assert made.health.whole
    assert made.health.events == len(week.reader.hashes)
    assert made.health.fingerprint == check_records(week.where).fingerprint
    week.copies[made.file] = week.remember()
    for gone in made.gone:
        week.copies.pop(gone, None)


def out_and_in_again(week: FarmWeek, _device: Device) -> None:
    """Write everything out as text, read it into an empty record, and out again."""
    within = week.folder / f"text-{week.told.get('text', 0)}"
    within.mkdir()
    first, back, second = within / "first", within / "back.db", within / "second"
    export(week.where, first)
    lines = (first / "events.jsonl").read_text().splitlines()
    assert [json.loads(line)["hash"] for line in lines] == week.reader.hashes
    try:
        import_from(first, back)
    except Unreadable as no:
        raise AssertionError(f"what was written out cannot be read: {no}") from no
    with open_records(back) as records:  # what follows from the entries follows now
        brought_up(records.ledger)
    again = RecordRead(f"sqlite:///{back}")
    again.new()
    again.close()
    assert again.hashes == week.reader.hashes
    assert again.balance == week.reader.balance
    export(back, second)
    for file in sorted(path.name for path in first.iterdir()):
        here, there = (f.joinpath(file).read_bytes() for f in (first, second))
        assert here == there, f"{file} is not the same after it was read in"
    week.tell("text", f"{len(lines)} entries")
    shutil.rmtree(within)


def bring_back(week: FarmWeek, _device: Device) -> None:
    """End the programs, bring a copy back, and go on from what it holds."""
    if not week.copies:
        return
    copy = week.draw.choice(sorted(week.copies))
    week.house.close()
    if week.on_files:
        back = restore(copy, Path(week.where), aside=True, now=week.clock.now())
        assert back.aside is not None
    else:  # a database is not moved aside: the farm goes on in a new one
        fresh = empty_database(week.where)
        back = restore(copy, fresh)
        week.where = fresh
    assert back.health.whole
    week.tell("brought back", f"{made_at(copy)}, {back.health.events} entries")
    week.begin_again_from(week.copies[copy])


def bring_back_too_soon(week: FarmWeek, _device: Device) -> None:
    """A copy is not put under programs that run: all stays as it is."""
    if not week.copies:
        return
    copy = week.draw.choice(sorted(week.copies))
    if not week.on_files:
        with pytest.raises(Unreadable, match=r"holds [\d,]+ entries already"):
            restore(copy, week.where)
        week.tell("not brought back", made_at(copy))
        week.look()
        return
    with (
        patch.object(restoring, "PATIENCE_S", 0.01),
        pytest.raises(Unreadable, match="is in use"),
    ):
        restore(copy, Path(week.where), aside=True, now=week.clock.now())
    week.tell("not brought back", made_at(copy))
    week.look()
