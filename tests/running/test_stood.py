"""Filled jars do not wait: what stood too long before its clock; all invented."""

import datetime as dt
from dataclasses import replace
from zoneinfo import ZoneInfo

import pytest

from stillroom.records.days import Records
from stillroom.running.asked_first import asked_first
from stillroom.running.board import board
from stillroom.running.book_lots import booking
from stillroom.running.commands import (
    BeginDay,
    FinishStep,
    LiftLoad,
    MarkBoilLost,
    MarkFullBoil,
)
from stillroom.running.handle import state_of
from stillroom.running.lots_made import lots_made
from stillroom.stock.after import open_of
from stillroom.stock.handle import KeptStock, stock_of
from stillroom.stock.lacks import Lack, lack_of
from stillroom.stock.making import holds
from tests.running.a_run import RUN, Kitchen, batch, load
from tests.running.test_lots_made import book, stocked

BEANS = replace(
    batch(1, 7), id="green beans 1", product="green beans", food="vegetable", jar="pint"
)
CANNED = replace(
    load(1, ("green beans 1", 7)),
    jar="pint",
    canner="dial canner",
    process_min=20,
    method="dial-gauge",
    pressure_psi=12.0,
)


def closed_at_nine(records: Records, *, beans: bool = True) -> Kitchen:
    """A load whose jars were closed and stand on the counter."""
    kitchen = Kitchen(records.ledger)
    made = BEANS if beans else batch(1, 7)
    of = CANNED if beans else load(1, ("plum jelly 1", 7))
    kitchen.do(BeginDay(loads=(of,), batches=(made,), at=kitchen.at))
    kitchen.do(FinishStep(batch=made.id, step="wipe_and_lid", at=kitchen.at))
    return kitchen


def asked(records: Records, at: dt.datetime):
    state = state_of(RUN, ledger=records.ledger)
    return asked_first(state, state.loads[0], at)


def test_within_its_hours_nothing_is_asked(records: Records):
    kitchen = closed_at_nine(records).later(60)
    question = asked(records, kitchen.at)
    assert question.asks == "Has steam streamed from dial canner for 10 min?"
    assert "closed" not in question.why
    card = board(state_of(RUN, ledger=records.ledger), kitchen.at).cards[0]
    assert not card.urgent
    # the venting stands where the hand is, before any clock
    vent = "Let steam vent for 10 min, close the vent, bring it to 12 psi; then 20 min"
    assert card.says == vent
    assert "closed" not in asked(records, kitchen.later(60).at).why
    card = board(state_of(RUN, ledger=records.ledger), kitchen.at).cards[0]
    assert not card.urgent
    assert card.says.startswith(
        f"{vent}. Its jars of green beans 1 are closed since 9:00; filled jars "
        "wait 20 min at most"
    )


@pytest.mark.parametrize(
    ("beans", "minutes", "told"),
    [(False, 40, False), (False, 41, True), (True, 60, False), (True, 61, True)],
)
def test_jars_that_go_into_the_canner_in_time_are_told_nothing(
    records: Records, beans: bool, minutes: int, told: bool
):
    """Under pressure they heat and vent for longer than in boiling water."""
    kitchen = closed_at_nine(records, beans=beans).later(minutes)
    card = board(state_of(RUN, ledger=records.ledger), kitchen.at).cards[0]
    assert ("are closed since" in card.says) == told


def test_jars_that_lost_their_pressure_are_in_the_canner_and_have_two_hours(
    records: Records,
):
    """They were told not to wait before they go in, and were in for an hour."""
    kitchen = closed_at_nine(records).later(20)
    load = state_of(RUN, ledger=records.ledger).loads[0].load.id
    kitchen.do(MarkFullBoil(load=load, at=kitchen.at))
    kitchen.later(10)
    kitchen.do(MarkBoilLost(load=load, at=kitchen.at))
    card = board(state_of(RUN, ledger=records.ledger), kitchen.later(50).at).cards[0]
    assert "before they go in" not in card.says
    assert card.says.startswith(
        "bring it back to 12 psi (if none was left or the vent was opened, let steam "
        "vent for 10 min first): the whole 20 min start again. Its jars of green "
        "beans 1 are closed since 9:00: the whole time begins by 11:00 at the latest"
    )
    assert "Univ. of Nebraska" in card.says


def test_low_acid_jars_past_two_hours_are_asked_about_and_cannot_wait(records: Records):
    kitchen = closed_at_nine(records).later(121)
    first = asked(records, kitchen.at)
    assert first is not None
    assert "closed at 9:00, 2 h 1 min ago, and 2 h is the limit" in first.why
    assert "discard what is in them" in first.why
    shown = board(state_of(RUN, ledger=records.ledger), kitchen.at)
    assert shown.sentence.startswith("Load 1: its jars of green beans 1 were closed")


@pytest.mark.parametrize(("minutes", "stands"), [(120, False), (121, True)])
def test_acid_jars_have_no_longer_and_their_choices_are_said(
    records: Records, minutes: int, stands: bool
):
    kitchen = closed_at_nine(records, beans=False).later(minutes)
    first = asked(records, kitchen.at)
    assert (first is not None) == stands
    if first is not None:
        assert "2 h is the limit" in first.why
        assert "book them as never processed" in first.why
        assert "discard" not in first.why


def test_what_is_kept_nowhere_is_said_before_what_stood_longer(records: Records):
    kitchen = Kitchen(records.ledger)
    both = replace(CANNED, jars=(("green beans 1", 3), ("plum jelly 1", 4)))
    kitchen.do(BeginDay(loads=(both,), batches=(BEANS, batch(1, 4)), at=kitchen.at))
    for name, wait in (("plum jelly 1", 20), ("green beans 1", 125)):
        kitchen.do(FinishStep(batch=name, step="wipe_and_lid", at=kitchen.at))
        kitchen.later(wait)
    first = asked(records, kitchen.at)
    assert first is not None
    assert "jars of green beans 1 were closed at 9:20" in first.why
    assert "discard what is in them" in first.why


def test_a_clock_that_runs_is_not_asked_about(records: Records):
    kitchen = closed_at_nine(records).later(30)
    kitchen.do(MarkFullBoil(load="canner/1", at=kitchen.at))
    assert asked(records, kitchen.later(200).at) is None


@pytest.mark.parametrize(("minutes", "lack"), [(60, None), (1380, Lack.LATE)])
def test_its_lot_is_held_whatever_the_canner_did(
    records: Records, minutes: int, lack: Lack | None
):
    kept = stocked(records)
    kitchen = closed_at_nine(records).later(minutes - 5)
    kitchen.can("canner/1", minutes=80)
    at = kitchen.later(10).at
    book(records, kept, at=at)
    stock = stock_of(records.ledger)
    (code,) = (c for c, lot in stock.lots.items() if lot.what == "green beans")
    assert lack_of(stock, code) is lack
    said = " ".join(holds(stock, code))
    assert ("within 2 h is the limit" in said) == (lack is not None)
    opened = open_of(stock, code, at)
    assert ("too late" in opened.choices_of.lower()) == (lack is not None)


LOS_ANGELES = ZoneInfo("America/Los_Angeles")


@pytest.mark.parametrize(
    ("begun", "closed", "clock", "out"),
    [
        # closed behind midnight of a day that was begun in the evening
        (
            "09-12 18:00",
            "09-13 00:10",
            "09-13 00:40",
            "09-13 02:00",
        ),
        # closed on the morning after
        (
            "09-11 20:00",
            "09-12 09:00",
            "09-12 09:40",
            "09-12 11:00",
        ),
        # lifted out, by the tap, on the next day
        (
            "09-12 08:00",
            "09-12 09:10",
            "09-12 09:40",
            "09-13 10:00",
        ),
        # the night in which clocks go back: 70 min, and not 2 h 10 min
        (
            "10-31 20:00",
            "10-31 23:40",
            "11-01 00:50",
            "11-01 03:50",
        ),
    ],
)
@pytest.mark.parametrize("beans", [True, False])
def test_a_night_is_no_standing(
    records: Records, beans: bool, begun: str, closed: str, clock: str, out: str
):
    at = [
        dt.datetime.fromisoformat(f"2026-{said}").replace(tzinfo=LOS_ANGELES)
        for said in (begun, closed, clock, out)
    ]
    kitchen, made = Kitchen(records.ledger), BEANS if beans else batch(1, 7)
    load_ = CANNED if beans else load(1, ("plum jelly 1", 7))
    kitchen.do(BeginDay(loads=(load_,), batches=(made,), at=at[0]))
    kitchen.do(FinishStep(batch=made.id, step="wipe_and_lid", at=at[1]))
    kitchen.do(MarkFullBoil(load="canner/1", at=at[2]))
    kitchen.do(LiftLoad(load="canner/1", at=at[3]))
    state = state_of(RUN, ledger=records.ledger)
    (lot,) = lots_made(state, RUN, stock_of(records.ledger), LOS_ANGELES)
    minutes = (at[2].astimezone(dt.UTC) - at[1].astimezone(dt.UTC)).seconds // 60
    assert lot.making.batch.stood_min == minutes <= 70
    later = at[3] + dt.timedelta(hours=1)
    KeptStock(records.ledger).handle(
        booking([lot], on=at[0].date(), at=later, token="t")
    )
    stock = stock_of(records.ledger)
    (code,) = stock.on_hand()
    assert lack_of(stock, code) is None
