"""Any order of deeds against a plain dictionary: balances, holds, conservation."""

import datetime as dt
from collections import defaultdict

import pytest
from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import (
    RuleBasedStateMachine,
    initialize,
    invariant,
    precondition,
    rule,
)

from stillroom.records.ledger import Recorded
from stillroom.refusal import Refusal
from stillroom.stock.accounts import account_of
from stillroom.stock.codec import from_entry, to_entry
from stillroom.stock.commands import Count, Hold, Label
from stillroom.stock.events import SET_ASIDE, Doubt, Hand, Seen, Way
from stillroom.stock.fold import fold
from stillroom.stock.making import holds
from stillroom.stock.movements import movements
from stillroom.stock.tracing import trace
from tests.stock.kitchen import Farm

PLACES = ("pantry", "cellar shelf", "stand")
FEW = st.integers(1, 12)


class StockMachine(RuleBasedStateMachine):
    """A farm and a plain model of it: (lot, place) to a number of jars."""

    def __init__(self) -> None:
        super().__init__()
        self.farm = Farm()
        self.model: dict[tuple[str, str], int] = defaultdict(int)
        self.parents: dict[str, set[str]] = defaultdict(set)
        self.recalled: set[str] = set()
        self.undo: dict[int, dict[tuple[str, str], int]] = {}

    @property
    def codes(self) -> list[str]:
        return list(self.farm.stock.lots)

    def book(self, answer: Refusal | None, change: dict[tuple[str, str], int]) -> None:
        """Where the farm booked it, the model does the same."""
        if answer is None:
            for key, number in change.items():
                self.model[key] += number
            self.undo[self.farm.stock.sequence] = change

    @initialize(number=FEW)
    def begin(self, number: int) -> None:
        self.add(number, "pantry")

    @rule(number=FEW, place=st.sampled_from(PLACES))
    def add(self, number: int, place: str) -> None:
        code = self.farm.add(f"{number} half-pints plum jelly, {place}")
        self.book(None, {(code, place): number})

    @rule(data=st.data(), number=FEW, took=FEW, place=st.sampled_from(PLACES))
    def make(self, data: st.DataObject, number: int, took: int, place: str) -> None:
        source = data.draw(st.sampled_from(self.codes))
        at = data.draw(st.sampled_from(PLACES))
        here = sum(n for (c, _), n in self.model.items() if c == source)
        wrong = self.doubted(source) and not self.may_be_done_again(source)
        said = self.farm.made(
            f"{number} half-pints plum jam, {place}", (source, str(took))
        )
        if said is None:
            event = self.farm.stock.event(self.farm.stock.sequence)
            change = {(event.lot.code, place): number}
            for part in event.inputs:
                change[part.lot, part.place] = -part.number
            self.book(None, change)
            self.parents[event.lot.code].add(source)
            assert sum(part.number for part in event.inputs) == took <= here
            assert source not in self.recalled
            assert not wrong
        else:
            assert source in self.recalled or wrong or took > here or at
            shelf = sum(
                n for (c, p), n in self.model.items() if c == source and p != SET_ASIDE
            )
            assert source in self.recalled or wrong or took > (shelf or here)

    def doubted(self, code: str) -> bool:
        """Whether its canner load is on hold: then it goes into no mouth."""
        stock = self.farm.stock
        return stock.made(code) is not None and bool(stock.held(code))

    def may_be_done_again(self, code: str) -> bool:
        made = self.farm.stock.made(code)
        hours = (self.farm.at - made.occurred_at).total_seconds() / 3600
        return hours <= 2  # of a wrong process; booked as the jars came out

    @rule(
        data=st.data(),
        number=FEW,
        way=st.sampled_from(Way),
        place=st.sampled_from((*PLACES, SET_ASIDE)),
    )
    def take(self, data: st.DataObject, number: int, way: Way, place: str) -> None:
        code = data.draw(st.sampled_from(self.codes))
        held = bool(holds(self.farm.stock, code))
        said = self.farm.take(code, str(number), way, place=place)
        there = self.model[code, place]
        stays = way in (Way.SOLD, Way.GIVEN) and (held or place == SET_ASIDE)
        stays |= code in self.recalled and way not in (Way.SPOILED, Way.BROKEN)
        stays |= self.doubted(code) and way not in (Way.SPOILED, Way.BROKEN)
        assert (said is None) == (number <= there and not stays)
        self.book(said, {(code, place): -number})

    @rule(data=st.data(), number=FEW, to=st.sampled_from(PLACES))
    def move(self, data: st.DataObject, number: int, to: str) -> None:
        code = data.draw(st.sampled_from(self.codes))
        place = data.draw(st.sampled_from(PLACES))
        said = self.farm.move(code, to, str(number), place)
        goes = number <= self.model[code, place] and place != to
        assert (said is None) == (goes and not self.doubted(code))  # to a shelf
        if said is None:
            self.book(None, {(code, place): -number, (code, to): number})

    @rule(data=st.data(), number=st.integers(0, 12), place=st.sampled_from(PLACES))
    def count(self, data: st.DataObject, number: int, place: str) -> None:
        code = data.draw(st.sampled_from(self.codes))
        said = self.farm.count(code, str(number), place)
        if said is None:
            event = self.farm.stock.event(self.farm.stock.sequence)
            assert event.book == self.model[code, event.place]
            self.book(None, {(code, event.place): number - event.book})

    @rule(data=st.data(), failed=st.integers(0, 3), hours=st.integers(0, 30))
    def check(self, data: st.DataObject, failed: int, hours: int) -> None:
        code = data.draw(st.sampled_from(self.codes))
        self.farm.later(hours)
        here = {p: self.model[code, p] for p in PLACES if self.model[code, p]}
        good = sum(here.values()) - failed
        if good < 0:
            return
        said = self.farm.check(code, good, failed, seen=Seen.SET)
        if said is None and failed:
            place = self.farm.stock.event(self.farm.stock.sequence).place
            self.book(None, {(code, place): -failed, (code, SET_ASIDE): failed})
        elif said is None:
            self.book(None, {})

    @rule(data=st.data(), number=st.integers(0, 12), hours=st.integers(1, 30))
    def count_late(self, data: st.DataObject, number: int, hours: int) -> None:
        """Counted some hours ago: the book of then is the movements up to then."""
        code = data.draw(st.sampled_from(self.codes))
        place = data.draw(st.sampled_from(PLACES))
        then = self.farm.at - dt.timedelta(hours=hours)
        book = sum(
            part.number
            for event in self.farm.stock.events
            if event.occurred_at <= then
            for part in movements(event)
            if (part.lot, part.place) == (code, place)
        )
        said = self.farm.do(
            Count(lot=code, quantity=f"{number}", place=place, at=then, late=True)
        )
        fits = self.model[code, place] + number - book >= 0
        if said is None:
            event = self.farm.stock.event(self.farm.stock.sequence)
            assert (event.book, event.late) == (book, True)
            assert fits
            self.book(None, {(code, place): number - book})
        elif self.model[code, place]:
            assert not fits

    @rule(data=st.data(), doubt=st.sampled_from(Doubt))
    def hold(self, data: st.DataObject, doubt: Doubt) -> None:
        code = data.draw(st.sampled_from(self.codes))
        before = self.farm.stock.sequence
        said = self.farm.do(Hold(lot=code, doubt=doubt, at=self.farm.at))
        assert (said is None) == (self.farm.stock.made(code) is not None)
        if self.farm.stock.sequence > before:
            self.book(None, {})

    @rule(data=st.data())
    def label(self, data: st.DataObject) -> None:
        code = data.draw(st.sampled_from(self.codes))
        held = bool(holds(self.farm.stock, code))
        said = self.farm.do(Label(lot=code, hand=Hand.WRITTEN, at=self.farm.at))
        assert (said is None) == (not held)

    @rule(data=st.data())
    @precondition(lambda self: len(self.codes) > 3)
    def recall(self, data: st.DataObject) -> None:
        code = data.draw(st.sampled_from(self.codes))
        assert self.farm.recall(code) is None
        self.recalled |= {code, *self.descendants(code)}

    @rule(data=st.data())
    def mend(self, data: st.DataObject) -> None:
        if not self.undo:
            return
        of = data.draw(st.sampled_from(sorted(self.undo)))
        change = self.undo[of]
        fits = all(self.model[key] - n >= 0 for key, n in change.items())
        said = self.farm.mend(of)
        assert (said is None) == fits
        if said is None:
            del self.undo[of]
            for key, number in change.items():
                self.model[key] -= number

    def descendants(self, code: str) -> set[str]:
        """By brute force, over all that still counts."""
        found: set[str] = set()
        while True:
            more = {
                child
                for child, parents in self.parents.items()
                if parents & {code, *found} and not self.farm.stock.is_undone(child)
            }
            if more <= found:
                return found
            found |= more

    @invariant()
    def balances_are_those_of_the_model(self) -> None:
        for code in self.codes:
            expected = {p: n for (c, p), n in self.model.items() if c == code and n}
            assert self.farm.stock.places(code) == expected
            assert all(number > 0 for number in expected.values())

    @invariant()
    def a_balance_is_the_sum_of_its_movements(self) -> None:
        sums: dict[tuple[str, str], int] = defaultdict(int)
        for event in self.farm.stock.events:
            for part in movements(event):
                sums[part.lot, part.place] += part.number
        assert {k: n for k, n in sums.items() if n} == {
            k: n for k, n in self.model.items() if n
        }

    @invariant()
    def all_of_each_lot_is_accounted_for(self) -> None:
        for code in self.codes:
            account = account_of(self.farm.stock, code)
            assert account.is_whole, account.said

    @invariant()
    def a_trace_is_the_brute_force_walk(self) -> None:
        for code in self.codes[:3]:
            forward = {link.lot.code for link in trace(self.farm.stock, code).forward}
            assert forward == self.descendants(code)

    def teardown(self) -> None:
        """What is written and read again is the same stock."""
        events = self.farm.stock.events
        again = []
        for sequence, event in enumerate(events, start=1):
            entry = to_entry(event)
            again.append(
                from_entry(
                    Recorded(
                        kind=entry.kind,
                        version=entry.version,
                        body=entry.body,
                        occurred_at=entry.occurred_at,
                        sequence=sequence,
                        recorded_at=dt.datetime.now(dt.UTC),
                    )
                )
            )
        assert again == events
        for code in self.codes:
            assert fold(again).places(code) == self.farm.stock.places(code)


TestStock = StockMachine.TestCase
TestStock.settings = settings(max_examples=60, stateful_step_count=25, deadline=None)


def test_the_machine_would_see_a_lost_jar():
    machine = StockMachine()
    machine.begin(5)
    machine.model[machine.codes[0], "pantry"] += 1
    with pytest.raises(AssertionError):
        machine.balances_are_those_of_the_model()
