"""All that came from one supplier: each jar once, however many ways lead to it."""

import pytest

from stillroom.records.days import open_records
from stillroom.refusal import Refusal
from stillroom.stock.by_supplier import Supplied, from_supplier, held_of, suppliers
from stillroom.stock.codec import to_entry
from stillroom.stock.events import Way
from stillroom.stock.fold import Stock
from stillroom.stock.handle import stock_now
from tests.stock.kitchen import Farm


@pytest.fixture
def farm() -> Farm:
    """
    Plums and pears of Orchard Row, both in one mixed butter; juice on the way of one.

    The sugar is of the mill, and a lot of quinces was booked by mistake.
    """
    farm = Farm()
    plums = farm.add("25 lb plums, cellar, from Orchard Row")
    pears = farm.add("10 lb pears, cellar, from orchard row")
    sugar = farm.add("20 lb sugar, pantry, from the mill")
    assert farm.made("4 bags plum juice, 4 cups each, fridge", (plums, "20 lb")) is None
    juice = farm.last
    farm.made(
        "8 half-pints mixed butter, pantry",
        (juice, "2 bags"),
        (pears, "4 lb"),
        (sugar, "3 lb"),
    )
    butter = farm.last
    farm.later(24)
    farm.check(butter, 8)
    farm.take(butter, "2", Way.SOLD, to="Bram")
    farm.take(plums, "1 lb", Way.EATEN)
    farm.add("3 lb quinces, cellar, from Orchard Row")
    farm.mend(farm.stock.sequence)
    return farm


def found(stock: Stock, name: str) -> Supplied:
    answer = from_supplier(stock, name)
    assert isinstance(answer, Supplied)
    return answer


def test_which_jars_have_orchard_rows_plums_in(farm: Farm):
    # USERS 48.
    row = found(farm.stock, "Orchard row")
    assert row.supplier == "orchard row"  # as written last
    assert [lot.what for lot in row.came] == ["plums", "pears"]
    # butter is one making from the pears, and two from the plums, over their juice
    assert [(link.lot.what, link.steps) for link in row.made] == [
        ("plum juice", 1),
        ("mixed butter", 1),
    ]
    here = [(lot.what, place, number) for lot, place, number in row.on_hand]
    assert len(here) == len(set(here))
    assert {what for what, _, _ in here} == {
        "plums",
        "pears",
        "plum juice",
        "mixed butter",
    }
    assert ("mixed butter", "pantry", 6) in here
    whom = [(out.event.way, out.event.to) for out in row.outs]
    assert whom.count((Way.SOLD, "Bram")) == 1
    assert [out.sequence for out in row.outs] == sorted(
        out.sequence for out in row.outs
    )


def test_another_suppliers_sugar_leads_to_the_butter_alone(farm: Farm):
    mill = found(farm.stock, "the mill")
    assert [link.lot.what for link in mill.made] == ["mixed butter"]


def test_what_was_taken_back_came_from_nobody(farm: Farm):
    names = [farm.stock.lots[c].what for c in suppliers(farm.stock)["orchard row"]]
    assert names == ["plums", "pears"]


@pytest.mark.parametrize(
    ("name", "meant"),
    [("Orchard Rwo", "is orchard row meant?"), ("Zeb", "orchard row or the mill")],
)
def test_who_is_not_known_is_told_who_is(farm: Farm, name: str, meant: str):
    answer = from_supplier(farm.stock, name)
    assert isinstance(answer, Refusal)
    assert meant in answer.instead


def test_a_record_that_names_nobody_says_how_to_write_it_down():
    farm = Farm()
    farm.add("3 lb quinces, cellar")
    answer = from_supplier(farm.stock, "Orchard Row")
    assert isinstance(answer, Refusal)
    assert "write down from whom" in answer.instead


def test_it_is_the_same_when_the_record_is_read_lot_by_lot(farm: Farm, database: str):
    with open_records(database) as records:
        entries = [to_entry(event) for event in farm.stock.events]
        records.ledger.append("stock", entries, after=0)
        for name in ("Orchard Row", "the mill"):
            now = stock_now(records.ledger)
            assert from_supplier(now, name) == from_supplier(farm.stock, name)
        assert suppliers(stock_now(records.ledger)) == suppliers(farm.stock)


def test_what_was_called_back_is_said_beside_the_rest(farm: Farm):
    row = found(farm.stock, "Orchard Row")
    before = {lot.what for lot, _ in held_of(farm.stock, row)}
    assert not before & {"plums", "mixed butter"}
    farm.recall(row.came[0].code, "sprayed")
    held = held_of(farm.stock, found(farm.stock, "Orchard Row"))
    assert {lot.what for lot, _ in held} == {"plums", "plum juice", "mixed butter"}
    assert all("sprayed" in " ".join(why) for _, why in held)
    assert found(farm.stock, "the mill").came  # its sugar is not called back


def test_a_name_with_another_apostrophe_is_the_same():
    farm = Farm()
    farm.add("3 lb quinces, cellar, from O'Brien")
    farm.add("3 lb plums, cellar, from O\u2019Brien")
    assert len(found(farm.stock, "o'brien").came) == 2
