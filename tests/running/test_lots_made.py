"""Lots from the run: one for each batch of each load, drawn exactly, booked once."""

import datetime as dt
import threading
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from zoneinfo import ZoneInfo

import pytest

from stillroom.planning.day import Lot, Want
from stillroom.planning.day_file.dayfile import demo_day_text, read_day
from stillroom.planning.dayplan import DayPlan
from stillroom.planning.whole_day import plan_the_day
from stillroom.records.days import Records
from stillroom.records.ledger import MovedOn
from stillroom.refusal import Refusal, Unreadable
from stillroom.running.batches import batches_of
from stillroom.running.book_lots import booking, unprocessed
from stillroom.running.commands import BreakJar, MarkBoilLost, MarkFullBoil
from stillroom.running.decide import decide
from stillroom.running.events import DayBegun, StepBegun, StepDone
from stillroom.running.fold import fold
from stillroom.running.handle import state_of
from stillroom.running.loads import loads_of
from stillroom.running.lots_made import day_of_lots, lots_made
from stillroom.stock.commands import Check, Receive
from stillroom.stock.events import Seen
from stillroom.stock.fold import Stock
from stillroom.stock.handle import KeptStock, stock_of
from stillroom.stock.jars_out import filled_at, jars_out_at
from stillroom.stock.lotcode import lot_code
from stillroom.stock.making import holds
from stillroom.stock.tracing import trace
from tests.kitchens import CUP, day, stores
from tests.running.a_run import (
    DAY,
    LOADS,
    RUN,
    START,
    SUGAR_MG,
    ZONE,
    Kitchen,
    batch,
)
from tests.stock.kitchen import thing

SHELF = (
    "3 bags plum juice, 5 cups each, freezer 2, June, from Orchard Row",
    "25 lb sugar, pantry, best before 2028-01-31",
    "2 kg sugar, pantry, best before 2027-01-31",
    "3 boxes regular powdered pectin, pantry",
    "40 half-pint jars, shed",
    "60 lids, pantry",
)


def stocked(records: Records) -> KeptStock:
    kept = KeptStock(records.ledger)
    for i, line in enumerate(SHELF):
        kept.handle(Receive(things=(thing(line),), at=START, token=f"shelf {i}"))
    return kept


def proposals(records: Records, stock: Stock | None = None):
    state = state_of(RUN, ledger=records.ledger)
    return lots_made(state, RUN, stock or stock_of(records.ledger), ZONE)


def book(records: Records, kept: KeptStock, token: str = "t", **more):
    lots = [lot for lot in proposals(records) if lot.ready]
    at = more.pop("at", START + dt.timedelta(hours=5))
    return kept.handle(booking(lots, on=DAY, at=at, token=token, **more))


def test_a_lot_is_one_batch_of_one_load(records: Records):
    kitchen = Kitchen(records.ledger).begin()
    kitchen.fill("plum jelly 1").fill("plum jelly 2").can("canner/1")
    found = {(lot.load, lot.batch): lot for lot in proposals(records)}
    assert [
        (key, lot.making.thing.number, lot.ready) for key, lot in found.items()
    ] == [
        (("load 1", "plum jelly 1"), 8, True),
        (("load 1", "plum jelly 2"), 1, True),
        (("load 2", "plum jelly 2"), 6, False),
        (("", "berry spread 1"), 3, False),
    ]
    made = found["load 1", "plum jelly 1"].making.batch
    assert (made.process_min, made.due_min, made.canner) == (10, 10, "big canner")
    assert (made.boil_start, made.boil_min) == ("09:09", 1)  # done at 9:10, a minute
    assert made.filled_at == "09:20"
    assert (made.process_began, made.out_at) == ("09:45", "10:01")
    assert (made.who, made.pot, made.load) == ("Tilda", "tall steel pot", 1)
    assert "process was not started" in found["load 2", "plum jelly 2"].waits_for


def test_inputs_are_drawn_first_expired_first_out_to_the_milligram(records: Records):
    kept = stocked(records)
    Kitchen(records.ledger).begin().can("canner/1").can("canner/2")
    stock, events = book(records, kept)
    assert len(events) == 4  # with all loads out the box in the freezer is ready too
    sugar = [
        (stock.lots[p.lot].best_before.year, p.number)
        for event in events
        for p in event.inputs
        if stock.lots[p.lot].what == "sugar"
    ]
    assert sum(number for _, number in sugar) == 2 * SUGAR_MG
    assert sum(number for year, number in sugar if year == 2027) == 2_000_000
    jars = sum(
        p.number
        for event in events
        for p in event.inputs
        if stock.lots[p.lot].what == "half-pint jars"
    )
    assert jars == 15
    assert all(not event.batch.unbooked for event in events)
    back = trace(stock, events[2].lot.code).back
    assert any(link.lot.supplier == "Orchard Row" for link in back)


def test_a_double_tap_and_another_device_book_once(records: Records):
    kept = stocked(records)
    Kitchen(records.ledger).begin().can("canner/1").can("canner/2")
    stock, events = book(records, kept)
    before = stock.sequence
    for token in ("t", "another device"):
        stock, again = book(records, KeptStock(records.ledger), token)
        assert again == ()
        assert stock.sequence == before
    assert all(lot.booked for lot in proposals(records))
    assert len(events) == 4


def test_two_devices_that_saw_the_same_page_book_once(records: Records):
    """Both proposals were drawn before either was booked."""
    kept = stocked(records)
    Kitchen(records.ledger).begin().can("canner/1")
    lots = [lot for lot in proposals(records) if lot.ready]
    at = START + dt.timedelta(hours=5)
    first, second = (
        booking(lots, on=DAY, at=at, token=token) for token in ("one", "two")
    )
    kept.handle(first)
    stock, events = KeptStock(records.ledger).handle(second)
    assert events == ()
    assert sum(lot.what == "plum jelly" for lot in stock.lots.values()) == 2


def test_four_phones_at_once_book_each_lot_once(records: Records):
    stocked(records)
    Kitchen(records.ledger).begin().can("canner/1").can("canner/2")
    lots = [lot for lot in proposals(records) if lot.ready]
    at = START + dt.timedelta(hours=5)
    ready = threading.Barrier(4)

    def tap(name: str) -> int:
        asked = booking(lots, on=DAY, at=at, token=name)
        ready.wait(timeout=10)
        try:
            _, events = KeptStock(records.ledger).handle(asked)
        except MovedOn:
            return 0  # three others were quicker, three times: it is told so
        return len(events)

    with ThreadPoolExecutor(4) as phones:
        booked = list(phones.map(tap, ("one", "two", "three", "four")))
    assert sorted(booked) == [0, 0, 0, 4]
    stock = stock_of(records.ledger)
    made = [stock.made(code) for code in stock.lots if stock.made(code)]
    assert len({(m.batch.run_batch, m.batch.run_load) for m in made}) == len(made) == 4


def test_a_later_load_is_booked_later_under_the_batchs_own_number(records: Records):
    kept = stocked(records)
    kitchen = Kitchen(records.ledger).begin().can("canner/1")
    _, early = book(records, kept, "early")
    kitchen.can("canner/2")
    _, late = book(records, kept, "late")
    number = early[1].batch.number
    assert early[1].batch.run_batch == late[0].batch.run_batch == "plum jelly 2"
    assert early[1].lot.code == lot_code(DAY, number, 1)
    assert late[0].lot.code == lot_code(DAY, number, 2)


def test_what_the_stock_does_not_have_is_said_and_nothing_goes_below_nothing(
    records: Records,
):
    kept = KeptStock(records.ledger)
    kept.handle(Receive(things=(thing("1 lb sugar, pantry"),), at=START, token="s"))
    Kitchen(records.ledger).begin(batch(1, 8), loads=LOADS[:1]).can("canner/1")
    asked = proposals(records)[0]
    assert any(need.name == "plum juice" for need in asked.lacking)
    stock, events = book(records, kept)
    assert "of sugar" in events[0].batch.unbooked
    assert "of plum juice" in events[0].batch.unbooked
    assert all(
        number >= 0 for code in stock.lots for number in stock.places(code).values()
    )


def test_the_keepers_number_and_place_count_and_none_leaves_it_out(records: Records):
    kept = stocked(records)
    Kitchen(records.ledger).begin().can("canner/1")
    mended = {
        ("canner/1", "plum jelly 1"): (7, "pantry shelf B"),
        ("canner/1", "plum jelly 2"): (0, "pantry"),
    }
    _, events = book(records, kept, mended=mended)
    assert [(e.lot.what, e.number, e.place) for e in events] == [
        ("plum jelly", 7, "pantry shelf B")
    ]
    with pytest.raises(Unreadable, match="0 to 200"):
        book(records, kept, "x", mended={("canner/1", "plum jelly 2"): (-1, "p")})


@pytest.mark.parametrize(("beyond", "is_taken"), [(9, True), (10, False), (72, False)])
def test_a_digit_too_many_is_no_number_of_jars(
    records: Records, beyond: int, is_taken: bool
):
    kept = stocked(records)
    Kitchen(records.ledger).begin().can("canner/1")
    key, other = ("canner/1", "plum jelly 1"), ("canner/1", "plum jelly 2")
    mended = {key: (8, "pantry"), other: (0, "pantry")}
    if is_taken:
        _, made = book(records, kept, mended=mended, beyond={key: beyond})
        assert [one.number for one in made] == [8, beyond]
        return
    said = f"{8 + beyond} is more than twice the 8 that were"
    with pytest.raises(Unreadable, match=said):
        book(records, kept, mended=mended, beyond={key: beyond})
    lots = stock_of(records.ledger).lots.values()
    assert not any(lot.what == "plum jelly" for lot in lots)


@pytest.mark.parametrize("filled", [6, 7])
def test_each_jar_that_was_filled_takes_one_empty_jar(records: Records, filled: int):
    kept = stocked(records)
    Kitchen(records.ledger).begin().can("canner/1")
    mended = {
        ("canner/1", "plum jelly 1"): (filled, "pantry"),
        ("canner/1", "plum jelly 2"): (0, "pantry"),
    }
    stock, [made] = book(records, kept, mended=mended)
    took = {stock.lots[part.lot].what: part.number for part in made.inputs}
    assert took["half-pint jars"] == took["lids"] == made.number == filled
    assert took["sugar"] == SUGAR_MG  # all of it went into the pot all the same


def test_a_jar_that_broke_took_its_empty_jar_with_it(records: Records):
    kept = stocked(records)
    kitchen = Kitchen(records.ledger).begin().can("canner/1")
    kitchen.do(
        BreakJar(load="canner/1", batch="plum jelly 1", crack="ring", at=kitchen.at)
    )
    stock, events = book(records, kept)
    took = {stock.lots[part.lot].what: part.number for part in events[0].inputs}
    assert (events[0].number, took["half-pint jars"]) == (7, 8)


def test_a_broken_jar_is_one_less_and_never_more_than_there_were(records: Records):
    kitchen = Kitchen(records.ledger).begin().can("canner/1")
    kitchen.do(
        BreakJar(load="canner/1", batch="plum jelly 2", crack="ring", at=kitchen.at)
    )
    found = [lot for lot in proposals(records) if lot.load == "load 1"]
    assert [(lot.batch, lot.making.thing.number) for lot in found] == [
        ("plum jelly 1", 8)  # the one jar of batch 2 is gone, and so is its lot
    ]
    no = decide(
        state_of(RUN, ledger=records.ledger),
        BreakJar(load="canner/1", batch="plum jelly 2", crack="star", at=kitchen.at),
    )
    assert isinstance(no, Refusal)
    assert no.reason == "load 1 had 1 jar of plum jelly 2, booked as broken"
    unnamed = BreakJar(load="canner/1", crack="ring", at=kitchen.at)
    assert (
        "plum jelly 1, plum jelly 2"
        in decide(state_of(RUN, ledger=records.ledger), unnamed).instead
    )


def test_a_boil_that_was_said_begun_began_then():
    began = START + dt.timedelta(minutes=31)
    events = [
        DayBegun(loads=LOADS, batches=(batch(1, 8), batch(2, 7)), occurred_at=START),
        StepBegun(batch="plum jelly 1", step="hard_boil", occurred_at=began),
        StepDone(
            batch="plum jelly 1",
            step="hard_boil",
            occurred_at=began + dt.timedelta(minutes=3),
        ),
    ]
    lot = lots_made(fold(events), RUN, Stock(), ZONE)[0]
    assert lot.making.batch.boil_start == "09:31"


def test_a_batch_that_was_given_up_makes_no_lot():
    """Canned by the plan, and in no load since the day was planned again."""
    events = [DayBegun(loads=LOADS[:1], batches=(batch(9, 8),), occurred_at=START)]
    assert all(lot.load for lot in lots_made(fold(events), RUN, Stock(), ZONE))


def test_a_load_that_never_ran_is_booked_on_hold_and_without_a_process(
    records: Records,
):
    kept = stocked(records)
    Kitchen(records.ledger).begin().fill("plum jelly 2").can("canner/1")
    waiting = next(lot for lot in proposals(records) if lot.load == "load 2")
    at = START + dt.timedelta(hours=20)
    stock, events = kept.handle(
        booking([unprocessed(waiting)], on=DAY, at=at, token="n")
    )
    assert events[0].place == "kitchen, on hold"
    assert events[0].batch.process_min is None
    assert "sealed is not processed" in holds(stock, events[0].lot.code)[0]


def test_a_day_begun_before_batches_were_kept_still_gives_its_jars(records: Records):
    """Inputs and recipe stay unknown; jars, process and load are known."""
    written = DayBegun(loads=LOADS, occurred_at=START)
    lots = lots_made(fold([written]), RUN, Stock(), ZONE)
    assert [lot.making.thing.what for lot in lots] == ["plum jelly"] * 3
    assert lots[0].making.batch.recipe == ""
    assert lots[0].making.needs == ()


def test_shares_of_a_batch_add_up_whatever_the_loads(records: Records):
    state = fold(
        [
            DayBegun(
                loads=(
                    replace(LOADS[0], jars=(("plum jelly 1", 3),)),
                    replace(LOADS[1], jars=(("plum jelly 1", 4),)),
                ),
                batches=(batch(1, 7),),
                occurred_at=START,
            )
        ]
    )
    sums: dict[str, int] = {}
    for lot in lots_made(state, RUN, Stock(), ZONE):
        for need in lot.making.needs:
            sums[need.name] = sums.get(need.name, 0) + need.number
    assert sums == {need.name: need.number for need in batch(1, 7).needs}


@pytest.fixture(scope="module")
def demo() -> DayPlan:
    plan = plan_the_day(read_day(demo_day_text()), seconds=1)
    assert isinstance(plan, DayPlan)
    return plan


def test_a_boil_of_half_a_minute_is_thirty_seconds_and_not_nothing():
    """USDA Home & Garden Bulletin 56, mint jelly with liquid pectin: 1/2 minute."""
    mint = Lot(name="mint", what="mint leaves", volume_m3=2 * CUP)
    want = Want(product="mint jelly", jars=4, jar="half-pint")
    plan = plan_the_day(day(want, shelf=(mint, *stores())), seconds=0.5, explain=False)
    assert isinstance(plan, DayPlan)
    (step,) = [s for s in plan.problem.batches[0].steps if s.id == "hard_boil"]
    assert step.verb == "Boil hard 1/2 min (30 s) by the clock"
    (mine,) = batches_of(plan)
    assert (mine.boil_min, mine.boil_s) == (None, 30)
    over = START + dt.timedelta(minutes=31, seconds=10)
    loads = loads_of(plan)
    state = fold(
        [
            DayBegun(loads=loads, batches=(mine,), occurred_at=START),
            StepDone(batch=mine.id, step="hard_boil", occurred_at=over),
        ]
    )
    batch = lots_made(state, RUN, Stock(), ZONE)[0].making.batch
    assert (batch.boil_start, batch.boiled) == ("09:30", "1/2 min (30 s)")


def test_every_jar_of_a_real_plan_comes_into_one_lot(demo: DayPlan):
    state = fold(
        [DayBegun(loads=loads_of(demo), batches=batches_of(demo), occurred_at=START)]
    )
    lots = lots_made(state, RUN, Stock(), ZONE)
    assert sum(lot.making.thing.number for lot in lots) == sum(
        b.jars for b in demo.batches
    )
    assert {lot.batch for lot in lots} == {b.id for b in demo.batches}
    for lot in lots:
        assert lot.making.batch.recipe
        assert lot.making.batch.who
        assert lot.making.batch.pot
        assert lot.making.needs


def test_jars_that_came_out_after_midnight_still_stand_their_hours(records: Records):
    kept = stocked(records)
    kitchen = Kitchen(records.ledger).begin()
    midnight = dt.datetime.combine(DAY + dt.timedelta(days=1), dt.time(), tzinfo=ZONE)
    # Nobody said that they were filled; so only the day itself tells.
    kitchen.later((midnight - kitchen.at).total_seconds() / 60).can("canner/1")
    lots = [lot for lot in proposals(records) if lot.load == "load 1"]
    stock, _ = kept.handle(booking(lots, on=DAY, at=kitchen.at, token="t"))
    code = stock.from_run(RUN, "plum jelly 1", "canner/1")
    assert code is not None
    looked = Check(lot=code, good=8, seen=Seen.SET, at=kitchen.at)
    for hours, open_ in ((0.5, 2), (11.9, 2), (12.1, 1), (23.9, 1), (24.1, 0)):
        at = kitchen.at + dt.timedelta(hours=hours)
        stock, _ = kept.handle(replace(looked, at=at, token=f"{hours}"))
        assert len(holds(stock, code)) == open_  # its seals, then its set


def test_jars_that_were_tapped_off_late_are_not_out_on_the_next_day(records: Records):
    """Filled to the end for the second load, when the first was out: or said late."""
    kept = stocked(records)
    kitchen = Kitchen(records.ledger).begin().can("canner/1").fill("plum jelly 1")
    stock, _ = kept.handle(
        booking(
            [lot for lot in proposals(records) if lot.load == "load 1"],
            on=DAY,
            at=kitchen.at,
            token="t",
        )
    )
    code = stock.from_run(RUN, "plum jelly 1", "canner/1")
    assert code is not None
    made = stock.made(code)
    assert made is not None
    assert made.batch.filled_at == made.batch.process_began
    assert jars_out_at(made, made.lot, ZONE) <= kitchen.at


def test_lots_bear_the_day_on_which_the_plan_was_worked(records: Records):
    """A plan of September worked in November: its jars are of November."""
    kept = stocked(records)
    kitchen = Kitchen(records.ledger)
    worked = dt.date(2026, 11, 27)
    kitchen.at = dt.datetime(2026, 11, 27, 9, 0, tzinfo=ZONE)
    kitchen.begin().fill("plum jelly 1").can("canner/1")
    lots = [lot for lot in proposals(records) if lot.load == "load 1"]
    assert {lot.making.thing.day for lot in lots} == {"2026-11-27"}
    assert {lot.making.batch.out_on for lot in lots} == {""}
    stock, _ = kept.handle(booking(lots, on=worked, at=kitchen.at, token="t"))
    code = stock.from_run(RUN, "plum jelly 1", "canner/1")
    assert code == lot_code(worked, 1, 1)
    assert jars_out_at(stock.made(code), stock.lots[code]) == kitchen.at


def test_a_run_over_the_hour_that_comes_twice_keeps_its_moments(records: Records):
    zone = ZoneInfo("America/Los_Angeles")
    kept, kitchen = stocked(records), Kitchen(records.ledger)
    kitchen.at = dt.datetime(2026, 11, 1, 1, 20, tzinfo=zone).astimezone(dt.UTC)
    kitchen.begin().fill("plum jelly 1")
    filled = kitchen.at
    kitchen.can("canner/1")
    state, stock = state_of(RUN, ledger=records.ledger), stock_of(records.ledger)
    lots = [lot for lot in lots_made(state, RUN, stock, zone) if lot.load == "load 1"]
    batch = lots[0].making.batch
    assert (batch.filled_at, batch.out_at) == ("01:40", "01:01")
    at = kitchen.at.astimezone(zone)
    stock, _ = kept.handle(booking(lots, on=at.date(), at=at, token="t"))
    code = stock.from_run(RUN, "plum jelly 1", "canner/1")
    made, lot = stock.made(code), stock.lots[code]
    assert jars_out_at(made, lot, zone) == kitchen.at
    assert filled_at(made, lot, zone) == filled


def test_lots_booked_later_bear_the_day_of_those_booked_before(records: Records):
    """A hold finds a load by its day: all lots of a run bear one."""
    kept = stocked(records)
    kitchen = Kitchen(records.ledger)
    kitchen.at = dt.datetime(2026, 11, 27, 9, 0, tzinfo=ZONE)
    kitchen.begin().fill("plum jelly 1").can("canner/1")
    first = [lot for lot in proposals(records) if lot.load == "load 1"]
    as_once = [
        replace(
            lot,
            making=replace(lot.making, thing=replace(lot.making.thing, day=f"{DAY}")),
        )
        for lot in first
    ]
    stock, _ = kept.handle(booking(as_once, on=DAY, at=kitchen.at, token="t"))
    state = state_of(RUN, ledger=records.ledger)
    assert day_of_lots(state, RUN, stock, ZONE) == DAY


@pytest.mark.parametrize(
    ("method", "lost"), [("boiling-water", "boil"), ("pressure", "pressure")]
)
def test_what_was_lost_is_called_by_what_its_canner_has(
    records: Records, method: str, lost: str
):
    kitchen = Kitchen(records.ledger)
    loads = tuple(replace(each, method=method) for each in LOADS)
    kitchen.begin(loads=loads).later(5)
    kitchen.do(MarkFullBoil(load="canner/1", at=kitchen.at))
    kitchen.later(2).do(MarkBoilLost(load="canner/1", at=kitchen.at))
    waits = {lot.waits_for for lot in proposals(records) if lot.load == "load 1"}
    assert waits == {f"its {lost} was lost, and its 10 min begin anew"}
