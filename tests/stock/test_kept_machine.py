"""Any order of deeds in a real database, read on demand, by programs that restart."""

from collections.abc import Callable

import pytest
from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import invariant, rule, run_state_machine_as_test

from stillroom.records.checking import check_records
from stillroom.records.days import open_records
from stillroom.refusal import Refusal, Refused
from stillroom.stock.commands import Command
from stillroom.stock.fold import Stock
from stillroom.stock.handle import FOLLOWING, KeptStock, handle, stock_of
from tests.stock.kitchen import Farm
from tests.stock.test_machine import StockMachine


class KeptFarm(Farm):
    """A farm whose stock is kept: by a program that stays, or one for each deed."""

    def __init__(self, where: str) -> None:
        self.where = where
        super().__init__()
        self.stays = True
        self.begin_again()

    def begin_again(self) -> None:
        self.records = open_records(self.where)
        self.kept = KeptStock(self.records.ledger)

    @property
    def stock(self) -> Stock:
        with self.kept.reading() as stock:
            return stock

    @stock.setter
    def stock(self, _none: Stock) -> None:
        """A farm begins with nothing, and so does its record."""

    def do(self, command: Command) -> Refusal | None:
        try:
            if self.stays:
                self.kept.handle(command)
            else:
                handle(command, ledger=self.records.ledger)
        except Refused as refused:
            return refused.refusal
        return None

    @property
    def last(self) -> str:
        stock = self.stock
        return stock.event(stock.sequence).lot.code


class KeptMachine(StockMachine):
    """The plain model of `StockMachine`, held against a database."""

    def __init__(self, fresh: Callable[[], str]) -> None:
        super().__init__()
        self.farm = KeptFarm(fresh())

    @property
    def codes(self) -> list[str]:
        return list(dict.fromkeys(code for code, _ in self.model))

    @rule(stays=st.booleans())
    def another_program(self, stays: bool) -> None:
        self.farm.records.close()
        self.farm.begin_again()
        self.farm.stays = stays

    @rule()
    def all_of_it_is_looked_at(self) -> None:
        """From then on it is carried on by what is written, here or elsewhere."""
        whole = stock_of(self.farm.records.ledger)
        stock = self.farm.stock
        assert stock.events == whole.events
        assert list(stock.lots) == list(whole.lots)
        assert stock.on_hand() == tuple(c for c in whole.lots if whole.balance(c))

    @invariant()
    def a_balance_is_the_sum_of_its_movements(self) -> None:
        """As the database adds them up."""
        upto = self.farm.stock.sequence
        for code in self.codes:
            there = self.farm.records.ledger.lots.balance(code, upto)
            assert there == {
                p: n for (c, p), n in self.model.items() if c == code and n
            }

    def teardown(self) -> None:
        whole = stock_of(self.farm.records.ledger)
        for code in self.codes:
            assert whole.places(code) == self.farm.stock.places(code)
        self.farm.records.close()
        assert check_records(self.farm.where, following=FOLLOWING).whole


def test_whatever_is_done_the_kept_stock_is_the_model(
    fresh: Callable[[], str], request: pytest.FixtureRequest
):
    few = "postgresql" in request.node.name
    run_state_machine_as_test(
        lambda: KeptMachine(fresh),
        settings=settings(
            max_examples=3 if few else 10, stateful_step_count=20, deadline=None
        ),
    )
