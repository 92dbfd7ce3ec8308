"""The stock in a real file: read on, written once, put in another's place."""

import datetime as dt
from pathlib import Path

import pytest

from stillroom.records.checking import check_records
from stillroom.records.days import open_records
from stillroom.records.ledger import Entry, Recorded
from stillroom.refusal import Refused, Unreadable
from stillroom.stock import coming, on_demand
from stillroom.stock.commands import Receive, Take
from stillroom.stock.events import AnyEvent
from stillroom.stock.handle import FOLLOWING, KeptStock, handle, stock_of
from tests.stock.kitchen import MORNING, thing

SUGAR = Receive(things=(thing("5 lb sugar, pantry"),), at=MORNING)


def test_what_another_wrote_is_read_on(tmp_path: Path):
    with open_records(tmp_path / "farm.db") as records:
        kept = KeptStock(records.ledger)
        handle(SUGAR, ledger=records.ledger)
        with kept.reading() as stock:
            assert stock.sequence == 1
        handle(Take(lot="sugar", quantity="1 lb", at=MORNING), ledger=records.ledger)
        with kept.reading() as stock:
            again = stock_of(records.ledger)
            assert stock.events == again.events
            (code,) = stock.lots
            assert stock.places(code) == again.places(code)


def test_a_refusal_and_a_bad_quantity_write_nothing(tmp_path: Path):
    with open_records(tmp_path / "farm.db") as records:
        handle(SUGAR, ledger=records.ledger)
        with pytest.raises(Refused, match="count again"):
            handle(
                Take(lot="sugar", quantity="9 lb", at=MORNING), ledger=records.ledger
            )
        with pytest.raises(Unreadable, match="kept in weight"):
            handle(
                Take(lot="sugar", quantity="9 jars", at=MORNING), ledger=records.ledger
            )
        assert records.ledger.last("stock") == 1


def test_a_shorter_record_in_its_place_is_read_anew(tmp_path: Path):
    with (
        open_records(tmp_path / "one.db") as one,
        open_records(tmp_path / "other.db") as other,
    ):
        kept = KeptStock(one.ledger)
        kept.handle(SUGAR)
        kept._ledger = other.ledger
        with kept.reading() as stock:
            assert stock.sequence == 0


def read_from_now_on(monkeypatch: pytest.MonkeyPatch) -> list[int]:
    """The numbers of the entries that are read from now on, as they are."""
    numbers: list[int] = []
    turned = on_demand.from_entry

    def note(entry: Recorded) -> AnyEvent:
        numbers.append(entry.sequence)
        return turned(entry)

    monkeypatch.setattr(on_demand, "from_entry", note)
    return numbers


@pytest.mark.parametrize("by_itself", [True, False])
def test_a_stock_that_was_read_whole_is_carried_on(
    database: str, monkeypatch: pytest.MonkeyPatch, by_itself: bool
):
    with open_records(database) as records:
        kept = KeptStock(records.ledger)
        for _ in range(5):
            kept.handle(SUGAR)
        with kept.reading() as stock:
            assert len(stock.lots) == 5
        numbers = read_from_now_on(monkeypatch)
        if by_itself:
            after, _ = kept.handle(SUGAR)
            assert after is not stock, "it is kept, and read by others"
            assert len(after.named("sugar")) == 6
        else:
            handle(SUGAR, ledger=records.ledger)
        numbers.clear()
        with kept.reading() as stock:
            assert len(stock.lots) == 6
            assert stock.events == stock_of(records.ledger).events
            assert stock.sequence == 6
            assert len(stock.named("sugar")) == 6
            assert len(stock.on_hand()) == 6
            assert stock.next_number(MORNING.date()) == 7
        assert numbers == [6]


def test_a_stock_that_was_read_whole_is_of_its_own_record(tmp_path: Path):
    with open_records(tmp_path / "one.db") as one:
        kept = KeptStock(one.ledger)
        for _ in range(2):
            kept.handle(SUGAR)
        with kept.reading() as stock:
            assert len(stock.lots) == 2
    (tmp_path / "one.db").unlink()
    with open_records(tmp_path / "one.db") as one:
        salt = Receive(things=(thing("5 lb salt, pantry"),), at=MORNING)
        for _ in range(3):
            handle(salt, ledger=one.ledger)
        kept._ledger.__dict__.update(one.ledger.__dict__)  # as after a restore
        with kept.reading() as stock:
            assert {lot.what for lot in stock.lots.values()} == {"salt"}
            assert stock.sequence == 3


def test_an_entry_of_a_newer_program_is_not_guessed_at(tmp_path: Path):
    with open_records(tmp_path / "farm.db") as records:
        entry = Entry(kind="pickled", version=9, body="{}", occurred_at=MORNING)
        records.ledger.append("stock", [entry], after=0)
        with pytest.raises(Unreadable, match="the newer one that wrote it"):
            stock_of(records.ledger)


def test_the_kitchens_day_gives_the_code(tmp_path: Path):
    late = dt.datetime(2026, 11, 25, 23, 30, tzinfo=dt.timezone(dt.timedelta(hours=-8)))
    with open_records(tmp_path / "farm.db") as records:
        first = Receive(things=SUGAR.things, at=late)
        for _ in range(2):
            handle(first, ledger=records.ledger)
        assert [code[:6] for code in stock_of(records.ledger).lots] == [
            "26M251",
            "26M252",
        ]


@pytest.mark.parametrize("things", [1, 2])
def test_two_lots_of_one_code_are_said_in_words_and_not_booked(
    database: str, monkeypatch: pytest.MonkeyPatch, things: int
):
    """A mistake of the program: every lot gets the code of the first one."""
    with open_records(database) as records:
        handle(SUGAR, ledger=records.ledger)
        code = next(iter(stock_of(records.ledger).lots))
        monkeypatch.setattr(coming, "lot_code", lambda *_: code)
        more = Receive(things=(thing("5 lb salt, pantry"),) * things, at=MORNING)
        with pytest.raises(Unreadable, match="would give two lots one lot code"):
            handle(more, ledger=records.ledger)
        assert stock_of(records.ledger).sequence == 1
    assert check_records(database, following=FOLLOWING).whole
