"""What a jar costs in cash: by hand, against printed sums, and what is not known."""

import csv
from decimal import Decimal
from fractions import Fraction
from importlib.resources import files
from pathlib import Path
from types import SimpleNamespace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from stillroom.methods.method import Part
from stillroom.planning.day import Lot
from stillroom.planning.day_file.dayfile import read_day
from stillroom.planning.dayplan import DayPlan, Draw
from stillroom.planning.whole_day import plan_the_day
from stillroom.stand.cost import cents, cost_per_jar

PUBLISHED = Path(__file__).parent.parent / "published" / "cash_costs.csv"


def batch(*draws: Draw, jars: int = 8, parts: tuple[Part, ...] = ()) -> SimpleNamespace:
    """Just what a cost is made of."""
    return SimpleNamespace(id="plum jelly 1", jars=jars, draws=draws, parts=parts)


def part(name: str, role: str, **known: float | bool) -> Part:
    return Part(
        **{
            "name": name,
            "quantity": 1.0,
            "unit": "cup",
            "mass_kg": None,
            "volume_m3": None,
            "role": role,
            **known,
        }
    )


JARS = Lot(name="half-pint jars", what="half-pint jars", count=84, paid=79.80)
LIDS = Lot(name="lids", what="lids", count=110, paid=27.50)
SUGAR = Lot(name="sugar", what="sugar", mass_kg=11.33980925, paid=21.25)
PECTIN = Lot(name="pectin", what="regular powdered pectin", count=10, paid=24.0)
JUICE = Lot(name="own juice", what="plum juice", volume_m3=0.01, paid=0.0)
SHELF = (JARS, LIDS, SUGAR, PECTIN, JUICE)

PLUM = (
    Draw(lot="own juice", text="5 cups", volume_m3=0.00118),
    Draw(lot="sugar", text="3 lb 1 oz (1.4 kg)", mass_kg=1.4),
    Draw(lot="pectin", text="1", count=1),
    Draw(lot="half-pint jars", text="8", count=8),
    Draw(lot="lids", text="8", count=8),
)


def test_a_batch_worked_by_hand():
    """
    Sugar 21.25 × 1.4 / 11.33981 = 2.6235, pectin 2.40, jars 8 × 0.95 = 7.60,
    lids 8 × 0.25 = 2.00, own juice nothing: 14.6235. Of 8 jars 7.68 stay good:
    14.6235 / 7.68 = 1.9041.
    """
    cost = cost_per_jar(batch(*PLUM), SHELF)
    assert [line.shown for line in cost.lines] == [
        Decimal("0.00"),
        Decimal("2.62"),
        Decimal("2.40"),
        Decimal("7.60"),
        Decimal("2.00"),
    ]
    assert (cost.total, cost.per_jar) == (Decimal("14.62"), Decimal("1.90"))
    assert cost.good_jars == Fraction(192, 25)
    assert cost.complete
    assert cost.sentence.startswith("A jar of plum jelly 1 costs 1.90 in cash")


def published() -> list[dict[str, str]]:
    with PUBLISHED.open(newline="") as opened:
        return list(csv.DictReader(opened))


@pytest.mark.parametrize("row", published(), ids=lambda row: row["id"])
def test_sums_in_print_are_met_to_the_cent(row: dict[str, str]):
    """Each input a lot drawn whole; the sum as its source prints it."""
    lots, draws = [], []
    for item in row["inputs"].split("; "):
        name, paid = item.rsplit(" ", 1)
        lots.append(Lot(name=name, what=name, count=8, paid=float(paid)))
        draws.append(Draw(lot=name, text="8", count=8))
    cost = cost_per_jar(batch(*draws), tuple(lots))
    assert str(cost.total) == row["answer"]


def test_lots_whose_cost_is_not_known_are_named_and_the_rest_is_a_least():
    unpaid = Lot(name="gifted sugar", what="sugar", mass_kg=10.0)
    draws = (
        Draw(lot="gifted sugar", text="3 lb", mass_kg=1.4),
        Draw(lot="pectin", text="1", count=1),
        *PLUM[3:],
    )
    cost = cost_per_jar(batch(*draws), (*SHELF, unpaid))
    assert cost.unknown == ("gifted sugar: what it cost is not known",)
    assert not cost.complete
    assert cost.lines[0].shown is None
    assert cost.total == Decimal("12.00")
    assert "costs at least 1.56" in cost.sentence


def test_where_no_cost_is_known_none_is_said_that_reads_as_a_price():
    cost = cost_per_jar(batch(Draw(lot="ghost", text="1", count=1)), SHELF)
    assert cost.per_jar == 0
    assert "0.00" not in cost.sentence
    assert "costs in cash is not known" in cost.sentence


def test_a_lot_that_cost_nothing_is_known():
    assert cost_per_jar(batch(*PLUM), SHELF).unknown == ()


def test_what_is_bought_on_the_way_is_named():
    parts = (
        part("plum juice", "fruit"),
        part("sugar", "sugar", mass_kg=2.0),
        part("bottled lemon juice", "acid"),
        part("butter", "fat", optional=True),
    )
    cost = cost_per_jar(batch(*PLUM[:4], parts=parts), SHELF)
    assert cost.unknown == (
        "sugar: not all on the shelf; what is bought is not counted",
        "bottled lemon juice: not on the shelf, so its cost is not known",
        "lids: 8 of 8 not on the shelf",
    )


def test_a_draw_from_a_lot_that_is_not_there_is_named():
    cost = cost_per_jar(batch(Draw(lot="ghost", text="1", count=1), *PLUM), SHELF)
    assert cost.unknown == ("ghost: what it cost is not known",)


def test_a_draw_in_another_measure_is_a_mistake():
    with pytest.raises(ValueError, match="sugar is drawn in another measure"):
        cost_per_jar(batch(Draw(lot="sugar", text="1", count=1)), SHELF)


def test_a_batch_without_jars_has_no_cost():
    with pytest.raises(ValueError, match="fills no jar"):
        cost_per_jar(batch(jars=0), SHELF)


def test_it_sets_no_price_and_says_what_it_leaves_out():
    cost = cost_per_jar(batch(*PLUM), SHELF)
    assert cost.qualified.startswith("Not in it: own hours, heat,")
    assert cost.qualified.endswith("no seal: common practice, no source.")
    names = dir(cost)
    assert not [name for name in names if "price" in name or "margin" in name]


@given(st.integers(-(10**9), 10**9), st.integers(1, 10**6))
def test_a_cent_is_never_more_than_half_a_cent_off(numerator: int, denominator: int):
    money = Fraction(numerator, denominator)
    error = Fraction(cents(money)) - money
    assert Fraction(-1, 200) < error <= Fraction(1, 200)


@given(st.lists(st.integers(1, 50), min_size=1, max_size=12), st.integers(0, 10**6))
def test_a_lot_drawn_to_the_end_costs_what_was_paid(parts: list[int], paid_cents: int):
    """However a lot is split among batches, nothing is lost or made in the sums."""
    lot = Lot(
        name="sugar", what="sugar", mass_kg=sum(parts) * 0.1, paid=paid_cents / 100
    )
    costs = [
        cost_per_jar(batch(Draw(lot="sugar", text="", mass_kg=n * 0.1)), (lot,))
        for n in parts
    ]
    assert sum(cost.exact for cost in costs) == Fraction(paid_cents, 100)


def test_no_lot_of_the_demo_day_is_paid_twice():
    """The demo day is invented; whatever is planned, shares of a lot stay within it."""
    text = files("stillroom.planning").joinpath("data/demo.toml").read_text()
    plan = plan_the_day(read_day(text), seconds=0.2)
    assert isinstance(plan, DayPlan)
    taken: dict[str, Fraction] = {}
    for made in plan.batches:
        for line in cost_per_jar(made, plan.day.shelf).lines:
            taken[line.lot] = taken.get(line.lot, Fraction(0)) + line.share
    assert len(taken) >= 8
    assert max(taken.values()) <= 1 + Fraction(1, 10**5)
    assert min(taken.values()) > 0
