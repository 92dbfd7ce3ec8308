"""The stock that is read lot by lot answers as the one that has everything."""

import inspect
import random
from collections.abc import Callable

import pytest

from stillroom.records.days import open_records
from stillroom.records.ledger import Entry, Ledger
from stillroom.stock.codec import to_entry
from stillroom.stock.commands import Take
from stillroom.stock.decide import decide
from stillroom.stock.events import Way
from stillroom.stock.fold import Stock, fold
from stillroom.stock.handle import STREAM, stock_now, stock_of
from stillroom.stock.on_demand import StockOnDemand
from stillroom.stock.on_hand import on_hand
from stillroom.stock.tracing import made_of_it, trace
from tests.stock.busy import RUNS, busy

SEEDS = range(3)
OF_A_LOT = [
    name
    for name, method in inspect.getmembers(Stock, inspect.isfunction)
    if not name.startswith("_")
    and list(inspect.signature(method).parameters)[:2] == ["self", "code"]
    and name != "gather"
]


def bare(entry: Entry) -> Entry:
    """As a Stillroom wrote it that knew no tables of lots."""
    return Entry(
        kind=entry.kind,
        version=entry.version,
        body=entry.body,
        occurred_at=entry.occurred_at,
    )


def written(ledger: Ledger, events: list, chance: random.Random) -> None:
    """Append the events, some at a time; some of them without what follows."""
    done = 0
    while done < len(events):
        some = [to_entry(e) for e in events[done : done + chance.randint(1, 9)]]
        if chance.random() < 0.2:
            some = [bare(entry) for entry in some]
        elif chance.random() < 0.2:
            stock_now(ledger)
        done = ledger.append(STREAM, some, after=done)


def answers(stock: Callable[[], Stock], code: str) -> dict[str, object]:
    """Ask a stock that has read nothing yet, for each of them."""
    return {name: getattr(stock(), name)(code) for name in OF_A_LOT}


def test_what_is_asked_of_a_lot_is_known():
    """A method added to the stock that tells of a lot is compared below by itself."""
    assert {"places", "balance", "made", "checks", "recall", "outs"} <= set(OF_A_LOT)


@pytest.mark.parametrize("seed", SEEDS)
def test_every_answer_is_that_of_the_whole_stock(database: str, seed: int):
    farm, chance = busy(seed, 90), random.Random(seed)
    whole = fold(farm.stock.events)
    with open_records(database) as records:
        written(records.ledger, farm.stock.events, chance)
        assert stock_of(records.ledger).events == whole.events
        for code in whole.lots:
            fresh = lambda: stock_now(records.ledger)  # noqa: E731
            assert answers(fresh, code) == answers(lambda: whole, code)
            assert fresh().lots[code] == whole.lots[code]
        now = stock_now(records.ledger)
        assert isinstance(now, StockOnDemand)
        assert now.sequence == whole.sequence
        assert set(now.on_hand()) == set(whole.on_hand())
        assert on_hand(now) == on_hand(whole)
        assert now.known_places() == whole.known_places()
        said = set(whole.said_of_process())
        assert said == set(stock_now(records.ledger).said_of_process())
        assert set(now.said_of_process()) == said
        assert now.names() == whole.names()
        assert stock_now(records.ledger).supplied() == whole.supplied()
        for name in (*whole.names(), "hay"):
            fresh = stock_now(records.ledger)
            assert fresh.named(name) == whole.named(name)
            assert set(fresh.named_on_hand(name)) == set(whole.named_on_hand(name))
        for run in RUNS:
            for batch in ("plums 1", "plums 2"):
                number = whole.number_of_batch(run, batch)
                assert stock_now(records.ledger).number_of_batch(run, batch) == number
                for load in "ab":
                    made = stock_now(records.ledger).from_run(run, batch, load)
                    assert made == whole.from_run(run, batch, load)
        for day_ in {lot.day for lot in whole.lots.values() if len(lot.day) == 10}:
            for load in (1, 2):
                held = stock_now(records.ledger).held_load(day_, load)
                assert held == whole.held_load(day_, load)
        day = farm.at.date()
        assert now.next_number(day) == whole.next_number(day)
        assert all(
            stock_now(records.ledger).event(n) == event
            for n, event in enumerate(whole.events, 1)
        )
        assert list(now.lots) == list(whole.lots)
        assert (now.events, now.undone) == (whole.events, whole.undone)


@pytest.mark.parametrize("seed", SEEDS)
def test_a_trace_is_that_of_the_whole_stock(database: str, seed: int):
    farm = busy(seed, 90)
    with open_records(database) as records:
        written(records.ledger, farm.stock.events, random.Random(seed))
        for code in farm.stock.lots:
            now = stock_now(records.ledger)
            assert trace(now, code) == trace(farm.stock, code)
            assert made_of_it(now, code) == made_of_it(farm.stock, code)


@pytest.mark.parametrize("seed", SEEDS)
def test_what_is_decided_is_the_same(
    database: str, seed: int, monkeypatch: pytest.MonkeyPatch
):
    """Each command of a busy farm is decided on both, and so is each no."""
    from tests.stock import kitchen

    with open_records(database) as records:
        kept: list[Stock] = [stock_now(records.ledger)]
        chance = random.Random(seed)

        def both(stock: Stock, command: object) -> object:
            answer = decide(stock, command)
            assert decide(kept[0], command) == answer
            if isinstance(answer, tuple) and answer:
                entries = [to_entry(event) for event in answer]
                records.ledger.append(STREAM, entries, after=stock.sequence)
                if chance.random() < 0.5:
                    for event in answer:
                        kept[0].apply(event)
                else:
                    kept[0] = stock_now(records.ledger)
            return answer

        monkeypatch.setattr(kitchen, "decide", both)
        farm = busy(seed, 80)
        assert stock_of(records.ledger).events == farm.stock.events
        assert set(kept[0].on_hand()) == set(farm.stock.on_hand())


def test_what_is_written_meanwhile_changes_no_answer(database: str):
    farm = busy(1, 60)
    events = farm.stock.events
    then = fold(events[:40])
    with open_records(database) as records:
        ledger = records.ledger
        ledger.append(STREAM, [to_entry(e) for e in events[:40]], after=0)
        now = stock_now(ledger)
        ledger.append(STREAM, [to_entry(e) for e in events[40:]], after=40)
        stock_now(ledger)
        assert on_hand(now) == on_hand(then)
        assert now.known_places() == then.known_places()
        for code in then.lots:
            assert answers(lambda: now, code) == answers(lambda: then, code)
        assert not any(now.has_lot(code) for code in farm.stock.lots.keys() - then.lots)


def test_a_lot_is_traced_without_reading_the_others(
    fresh: Callable[[], str], monkeypatch: pytest.MonkeyPatch
):
    farm = busy(2, 90)
    code = next(c for c in farm.stock.lots if farm.stock.made(c))
    with open_records(fresh()) as records:
        entries = [to_entry(event) for event in farm.stock.events]
        records.ledger.append(STREAM, entries, after=0)
        monkeypatch.setattr(StockOnDemand, "read_all", lambda _: pytest.fail("all"))
        now = stock_now(records.ledger)
        trace(now, code)
        decide(now, Take(lot=code, quantity="1", way=Way.EATEN, at=farm.at))
        on_hand(now)
        now.said_of_process()
        assert len(now._events) < len(entries)
