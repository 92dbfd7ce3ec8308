"""The ledger against plain lists: whatever is done to it, in whatever order."""

import datetime as dt
import shutil
import tempfile
from collections.abc import Callable
from pathlib import Path

import pytest
from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import (
    RuleBasedStateMachine,
    invariant,
    precondition,
    rule,
    run_state_machine_as_test,
)

from stillroom.records.backup import back_up
from stillroom.records.checking import check_records
from stillroom.records.days import Records, open_records
from stillroom.records.exporting import export
from stillroom.records.importing import import_from
from stillroom.records.ledger import Entry, KeyTaken, MovedOn
from stillroom.records.restore import restore

NOON = dt.datetime(2026, 11, 25, 12, tzinfo=dt.UTC)
STREAMS = st.sampled_from(("day", "run/2026-11-25", "ein Strom: Größe 🫙"))
KEYS = st.sampled_from(("tap-1", "tap-2", "tap-3"))
BODIES = st.lists(
    st.text(st.characters(exclude_categories=("Cs",)), max_size=12).map(
        lambda text: text.replace("\x00", "")
    ),
    min_size=1,
    max_size=3,
)


def entries(bodies: list[str]) -> list[Entry]:
    return [
        Entry(kind="said", version=1, body=body, occurred_at=NOON) for body in bodies
    ]


class LedgerMachine(RuleBasedStateMachine):
    """Two programs on one record, and a dictionary of what must be in it."""

    def __init__(self, fresh: Callable[[], str]) -> None:
        super().__init__()
        self.fresh = fresh
        self.folder = Path(tempfile.mkdtemp())
        self.where = fresh()
        self.hands: list[Records] = [open_records(self.where) for _ in range(2)]
        self.model: dict[str, list[str]] = {}
        self.keys: dict[str, tuple[str, int]] = {}
        """Of each key, the stream and the answer."""

    def close(self) -> None:
        for hand in self.hands:
            hand.close()

    def open(self, where: str) -> None:
        self.where = where
        self.hands = [open_records(where) for _ in range(2)]

    @rule(hand=st.integers(0, 1), stream=STREAMS, bodies=BODIES)
    def append(self, hand: int, stream: str, bodies: list[str]) -> None:
        kept = self.model.setdefault(stream, [])
        ledger = self.hands[hand].ledger
        done = ledger.append(stream, entries(bodies), after=len(kept))
        kept += bodies
        assert done == len(kept)

    @rule(hand=st.integers(0, 1), stream=STREAMS, bodies=BODIES, off=st.integers(1, 3))
    def append_on_what_is_not_there(
        self, hand: int, stream: str, bodies: list[str], off: int
    ) -> None:
        kept = self.model.get(stream, [])
        for after in {max(0, len(kept) - off), len(kept) + off} - {len(kept)}:
            with pytest.raises(MovedOn) as told:
                self.hands[hand].ledger.append(stream, entries(bodies), after=after)
            assert (told.value.seen, told.value.now) == (after, len(kept))

    @rule(hand=st.integers(0, 1), stream=STREAMS, bodies=BODIES, key=KEYS)
    def append_with_a_key(
        self, hand: int, stream: str, bodies: list[str], key: str
    ) -> None:
        kept, ledger = self.model.get(stream, []), self.hands[hand].ledger
        first = self.keys.get(key)
        if first is not None and first[0] != stream:
            with pytest.raises(KeyTaken):
                ledger.append(stream, entries(bodies), after=len(kept), key=key)
            return
        for after in (len(kept), 0, len(kept)):  # a retry may come from anywhere
            answer = ledger.append(stream, entries(bodies), after=after, key=key)
            if first is None:
                self.model.setdefault(stream, []).extend(bodies)
                first = self.keys[key] = (stream, len(self.model[stream]))
            assert answer == first[1]
            assert ledger.answered(stream, key) == first[1]

    @rule(hand=st.integers(0, 1), stream=STREAMS)
    def append_nothing(self, hand: int, stream: str) -> None:
        kept = self.model.get(stream, [])
        done = self.hands[hand].ledger.append(stream, [], after=len(kept))
        assert done == len(kept)

    @rule(hand=st.integers(0, 1), stream=STREAMS, after=st.integers(0, 9))
    def read(self, hand: int, stream: str, after: int) -> None:
        found = self.hands[hand].ledger.read(stream, after=after)
        kept = self.model.get(stream, [])
        assert [entry.body for entry in found] == kept[after:]
        assert [entry.sequence for entry in found] == list(
            range(after + 1, len(kept) + 1)
        )

    @rule()
    def restart(self) -> None:
        self.close()
        self.open(self.where)

    @rule()
    @precondition(lambda self: "://" not in self.where and self.model)
    def back_up_and_restore(self) -> None:
        copy = back_up(self.where, to=Path(tempfile.mkdtemp(dir=self.folder)))
        self.close()
        again = self.fresh()
        restore(copy.file, again)
        self.open(again)

    @rule()
    @precondition(lambda self: bool(self.model))
    def export_and_import(self) -> None:
        before = Path(tempfile.mkdtemp(dir=self.folder)) / "out"
        export(self.where, before)
        self.close()
        again = self.fresh()
        import_from(before, again)
        after = before.with_name("again")
        export(again, after)
        for file in before.iterdir():
            assert (after / file.name).read_bytes() == file.read_bytes()
        self.open(again)

    @invariant()
    def each_stream_ends_where_the_model_ends(self) -> None:
        for stream, kept in self.model.items():
            for hand in self.hands:
                assert hand.ledger.last(stream) == len(kept)
                latest = hand.ledger.latest(stream)
                assert (latest.body if latest else None) == (kept or [None])[-1]

    def teardown(self) -> None:
        try:
            for stream, kept in self.model.items():
                found = self.hands[0].ledger.read(stream)
                assert [entry.body for entry in found] == kept
            if self.model:
                health = check_records(self.where)
                assert health.whole, health.sentences()
                assert health.events == sum(map(len, self.model.values()))
        finally:
            self.close()
            shutil.rmtree(self.folder)


def test_whatever_is_done_the_ledger_is_the_model(
    fresh: Callable[[], str], request: pytest.FixtureRequest
):
    few = "postgresql" in request.node.name
    run_state_machine_as_test(
        lambda: LedgerMachine(fresh),
        settings=settings(
            max_examples=4 if few else 15, stateful_step_count=20, deadline=None
        ),
    )


def test_the_machine_would_see_a_lost_entry(tmp_path: Path):
    machine = LedgerMachine(lambda: str(tmp_path / "farm.db"))
    try:
        machine.append(0, "day", ["one", "two"])
        machine.model["day"].append("three")
        with pytest.raises(AssertionError):
            machine.each_stream_ends_where_the_model_ends()
    finally:
        machine.close()
