"""Entries that were written before late entries and runs were kept still read."""

import datetime as dt
import json
from dataclasses import replace

import pytest

from stillroom.records.ledger import Recorded
from stillroom.refusal import Unreadable
from stillroom.stock.codec import UPCASTS, from_entry, to_entry
from stillroom.stock.commands import Count
from stillroom.stock.events import KINDS, Made
from stillroom.stock.making import holds
from stillroom.stock.movements import tells_of
from tests.stock.kitchen import Farm

NEW_KEYS = {"late", "counted_at"}
NEW_BATCH_KEYS = {
    *("filled_at", "process_began", "times_lost", "broken", "run", "run_batch"),
    *("run_load", "number", "utc_offset_min", "unbooked"),
}


def a_life() -> Farm:
    """One event of each kind that version 1 had."""
    farm = Farm()
    juice = farm.add("3 bags plum juice, 5 cups each, freezer 2")
    farm.made("8 half-pints plum jelly, pantry", (juice, "5 cups"), out_at="08:00")
    code = farm.last
    farm.later(25)
    farm.check(code, 8)
    farm.take(code, "1")
    farm.move(code, "shelf B")
    farm.count(code, "6")
    farm.recall(code)
    farm.mend(farm.stock.sequence)
    return farm


def as_version_1(event) -> Recorded:
    """The entry as the program of before wrote it: without what came with 2."""
    entry = to_entry(event)
    body = {k: v for k, v in json.loads(entry.body).items() if k not in NEW_KEYS}
    if "batch" in body:
        body["batch"] = {
            k: v for k, v in body["batch"].items() if k not in NEW_BATCH_KEYS
        }
    return Recorded(
        kind=entry.kind,
        version=1,
        body=json.dumps(body),
        occurred_at=entry.occurred_at,
        sequence=1,
        recorded_at=entry.occurred_at,
    )


def test_every_event_of_version_1_comes_back_as_it_was():
    farm = a_life()
    kinds = set()
    for event in farm.stock.events:
        read = from_entry(as_version_1(event))
        kinds.add(event.kind)
        if isinstance(event, Made):
            assert isinstance(read, Made)
            assert read.batch.out_at == "08:00"
            assert read.batch.run == ""
            assert read.batch.utc_offset_min is None
        else:
            assert read == event
    assert kinds == {kind for kind, version in UPCASTS if version == 1}


def test_a_count_of_version_2_is_of_the_hour_at_which_it_was_booked():
    farm = Farm()
    code = farm.add("12 half-pints plum jelly, pantry")
    counted_at, farm.at = farm.at, farm.at + dt.timedelta(minutes=10)
    farm.do(Count(lot=code, quantity="11", at=farm.at, counted_at=counted_at))
    entry = to_entry(farm.stock.event(2))
    body = json.loads(entry.body)
    assert dt.datetime.fromisoformat(body.pop("counted_at")) == counted_at
    old = Recorded(
        kind="counted",
        version=2,
        body=json.dumps(body),
        occurred_at=entry.occurred_at,
        sequence=2,
        recorded_at=entry.occurred_at,
    )
    read = from_entry(old)
    assert read == replace(farm.stock.event(2), counted_at=None)
    assert tells_of(read) == farm.at
    assert tells_of(from_entry(replace(old, version=3, body=entry.body))) == counted_at


def test_a_stock_of_old_entries_holds_what_it_held():
    farm, old = a_life(), Farm()
    for event in farm.stock.events:
        old.stock.apply(from_entry(as_version_1(event)))
    for code in farm.stock.lots:
        assert old.stock.places(code) == farm.stock.places(code)
        assert holds(old.stock, code) == holds(farm.stock, code)


def test_a_newer_version_is_refused_untouched():
    entry = as_version_1(a_life().stock.event(1))
    for kind in KINDS:
        newer = Recorded(
            kind=kind,
            version=9,
            body=entry.body,
            occurred_at=dt.datetime.now(dt.UTC),
            sequence=1,
            recorded_at=dt.datetime.now(dt.UTC),
        )
        with pytest.raises(Unreadable, match="version 9"):
            from_entry(newer)
