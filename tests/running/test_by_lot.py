"""What a batch is drawn from is what its sheet named; all of it is invented."""

from dataclasses import replace

import pytest

from stillroom.book.densities import density_kg_m3
from stillroom.planning.day import Lot, Want
from stillroom.planning.dayplan import DayPlan, Draw
from stillroom.planning.whole_day import plan_the_day
from stillroom.records.days import Records
from stillroom.refusal import Refusal
from stillroom.running.batches import batches_of
from stillroom.running.by_lot import by_lot
from stillroom.running.codec import from_entry, to_entry
from stillroom.running.events import DayBegun, RunNeed
from stillroom.running.fold import fold
from stillroom.running.loads import loads_of
from stillroom.running.lots_made import lots_made
from stillroom.stock.amounts import Unit
from stillroom.stock.coming import lot_of
from stillroom.stock.commands import Need
from stillroom.stock.day_shelf import code_in_name, day_shelf
from stillroom.stock.drawing import Drawing
from stillroom.stock.events import Batch, Made, Way
from stillroom.stock.lotcode import lot_code
from stillroom.stock.making import holds
from tests.kitchens import day
from tests.running.a_run import START, ZONE, batch
from tests.stock.kitchen import Farm, thing

CUP_UL = 236_588
JUICE = RunNeed(name="plum juice", unit="ul", number=8 * CUP_UL)


@pytest.fixture
def farm() -> Farm:
    farm = Farm()
    farm.add("1 bag plum juice, 5 cups each, freezer, June 2026")
    farm.add("2 bags plum juice, 5 cups each, freezer, August 2026")
    return farm


def shelf_of(farm: Farm) -> dict[str, Lot]:
    return {lot.name: lot for lot in day_shelf(farm.stock, farm.at)}


def test_a_need_is_parted_by_the_lots_that_the_plan_names(farm: Farm):
    shelf = shelf_of(farm)
    june, august = shelf
    draws = [
        Draw(lot=june, text="3 cups", volume_m3=3 * CUP_UL / 1e9),
        Draw(lot=august, text="5 cups", volume_m3=5 * CUP_UL / 1e9),
    ]
    assert [(part.lot, part.number) for part in by_lot(JUICE, draws, shelf)] == [
        (code_in_name(june), 3 * CUP_UL),
        (code_in_name(august), 5 * CUP_UL),
    ]
    assert set(map(code_in_name, shelf)) == set(farm.stock.on_hand())


def test_the_parts_of_a_need_add_up_to_it_whatever_is_drawn(farm: Farm):
    shelf = shelf_of(farm)
    june, august = shelf
    for third in range(1, 60):
        draws = [
            Draw(lot=june, text="", volume_m3=third / 7),
            Draw(lot=august, text="", volume_m3=1 / 3),
        ]
        parts = by_lot(RunNeed(name="plum juice", unit="ul", number=101), draws, shelf)
        assert len(parts) == 2
        assert sum(part.number for part in parts) == 101


def test_lots_in_two_measures_are_parted_by_what_they_weigh():
    farm = Farm()
    farm.add("3 cups sugar, pantry, June 2026")
    farm.add("20 lb sugar, pantry, August 2026")
    shelf = shelf_of(farm)
    cups, pounds = shelf
    draws = [
        Draw(lot=cups, text="3 cups", volume_m3=3 * CUP_UL / 1e9),
        Draw(lot=pounds, text="2 lb 3 oz", mass_kg=1.0),
    ]
    density = density_kg_m3("sugar")
    assert density is not None
    scooped = round(3 * CUP_UL * density / 1000)  # a cup of sugar weighs 200 g
    need = RunNeed(name="sugar", unit="mg", number=scooped + 1_000_000)
    first, second = by_lot(need, draws, shelf)
    assert first.number == pytest.approx(scooped, abs=1)
    assert second.number == pytest.approx(1_000_000, abs=1)


def test_a_need_of_which_the_plan_names_no_lot_stays_whole(farm: Farm):
    shelf = shelf_of(farm)
    other = [Draw(lot="sugar", text="2 lb", mass_kg=0.9)]
    assert by_lot(JUICE, other, shelf) == (JUICE,)
    assert by_lot(JUICE, (), shelf) == (JUICE,)


def test_the_lot_that_was_named_is_drawn_before_one_that_expires_first(farm: Farm):
    june, august = farm.stock.on_hand()
    drawing = Drawing(farm.stock)

    def draw(cups: int, lot: str = ""):
        need = Need(name="plum juice", unit=Unit.UL, number=cups * CUP_UL, lot=lot)
        parts, lacking = drawing.draw([need])
        return [(p.lot, round(p.number / CUP_UL)) for p in parts], lacking

    assert draw(5, august) == ([(august, 5)], ())
    assert draw(2) == ([(june, 2)], ())
    # of the named lot five cups are left: the rest is taken from what there is
    assert draw(6, august) == ([(august, 5), (june, 1)], ())


def test_what_was_recalled_after_the_sheet_named_it_is_found_by_its_recall(farm: Farm):
    june, august = farm.stock.on_hand()
    assert farm.recall(august, "glass in a bag") is None
    drawing = Drawing(farm.stock)
    need = Need(name="plum juice", unit=Unit.UL, number=5 * CUP_UL, lot=august)
    (part,), lacking = drawing.draw([need])
    assert (part.lot, lacking) == (august, ())  # it had gone in before that was known
    (other,), _ = drawing.draw([replace(need, lot="")])
    assert other.lot == june
    code = lot_code(farm.at.date(), 9)
    made = Made(
        lot=lot_of(thing("6 half-pints plum jelly, pantry, today"), code),
        place="pantry",
        number=6,
        inputs=(part,),
        batch=Batch(food="jelly", canned=True, process_min=10, due_min=10),
        occurred_at=farm.at,
    )
    farm.stock.apply(made)
    why = holds(farm.stock, code)[0]
    assert why.startswith("it was made out of plum juice L")
    assert why.endswith("which was recalled: glass in a bag")
    for way in (Way.EATEN, Way.SOLD):
        no = farm.take(code, "1", way)
        assert isinstance(no, Refusal)
        assert "which was recalled: glass in a bag" in no.reason


def test_what_is_lacking_of_two_named_lots_is_said_once(farm: Farm):
    june, august = farm.stock.on_hand()
    parts, lacking = Drawing(farm.stock).draw(
        Need(name="plum juice", unit=Unit.UL, number=10 * CUP_UL, lot=lot)
        for lot in (june, august)
    )
    assert len(parts) == 2
    (need,) = lacking
    assert (need.name, round(need.number / CUP_UL)) == ("plum juice", 5)


@pytest.mark.parametrize("version", [1, 2])
def test_a_day_of_before_lots_were_named_is_still_read(records: Records, version: int):
    begun = DayBegun(loads=(), batches=(batch(1, 8),), occurred_at=START)
    new = to_entry(begun)
    assert '"lot":""' in new.body
    old = replace(new, version=version, body=new.body.replace(',"lot":""', ""))
    assert '"lot"' not in old.body
    records.ledger.append("run/x", [old], after=0)
    assert from_entry(records.ledger.read("run/x")[0]) == begun


def test_a_lot_is_booked_from_what_the_sheet_of_its_batch_named(farm: Farm):
    june, august = farm.stock.on_hand()
    for line in ("15 lb sugar, pantry", "9 boxes regular powdered pectin, pantry"):
        farm.add(line)
    for line in ("40 half-pint jars, shed", "60 lids, pantry"):
        farm.add(line)
    shelf = day_shelf(farm.stock, farm.at)
    plan = plan_the_day(
        day(Want(product="plum jelly", jars=16, jar="half-pint"), shelf=shelf),
        seconds=0.5,
        explain=False,
    )
    assert isinstance(plan, DayPlan)
    sheet = {
        made.id: {code_in_name(draw.lot) for draw in made.draws} & {june, august}
        for made in plan.batches
    }
    assert len(sheet) > 1
    assert len(set(map(frozenset, sheet.values()))) > 1
    begun = DayBegun(loads=loads_of(plan), batches=batches_of(plan), occurred_at=START)
    # the batch of the later juice is booked first
    for last_first in (begun, replace(begun, loads=begun.loads[::-1])):
        lots = lots_made(fold([last_first]), "run/x", farm.stock, ZONE)
        drawn: dict[str, set[str]] = {}
        for lot in lots:
            parts = {part.lot for part in lot.draws} & {june, august}
            drawn[lot.batch] = drawn.get(lot.batch, set()) | parts
            assert not lot.lacking
        assert drawn == sheet
