"""The day after: what is due by the clock, what was missed, and the hours left."""

import datetime as dt

import pytest

from stillroom.book.keeping import canner_facts_of
from stillroom.book.trouble import troubles
from stillroom.refusal import Refusal
from stillroom.stock.after import day_after, open_of
from stillroom.stock.choices import Choices
from stillroom.stock.commands import Check, Hold, Label, Process, Recall
from stillroom.stock.discarding import REDO_WITHIN_H
from stillroom.stock.events import SET_ASIDE, Doubt, Hand, Seen, Way
from stillroom.stock.how_long_ago import since_words
from stillroom.stock.making import LOOK_FIRST, LOOKS_AT_SET_H, holds
from stillroom.stock.open_lots import Open
from tests.stock.kitchen import Farm


@pytest.fixture
def farm() -> Farm:
    """Eight jars of load 3, out at 8:00, booked at 9:00."""
    farm = Farm()
    assert farm.made("8 half-pints plum jelly, pantry", load=3, out_at="08:00") is None
    return farm


def of(farm: Farm, code: str = "") -> Open:
    """What is open about a lot, the last that was booked."""
    found = open_of(farm.stock, code or farm.last, farm.at)
    assert found is not None
    return found


def open_lot(farm: Farm):
    loads = day_after(farm.stock, farm.at)
    return loads[0].lots[0] if loads else None


def test_the_hours_are_those_of_the_book():
    rows = {t.id: t for t in troubles()}
    assert rows["wrong-time"].within_h == REDO_WITHIN_H
    assert rows["water-low"].within_h == REDO_WITHIN_H
    said = rows["soft-early"].then
    assert [f"{LOOKS_AT_SET_H[0]} h", f"{LOOKS_AT_SET_H[1]} h"] == [
        word for word in ("24 h", "72 h") if word in said
    ]
    assert "two weeks" in said
    assert LOOKS_AT_SET_H[2] == 14 * 24
    facts = canner_facts_of("cooling jars")
    assert not isinstance(facts, Refusal)


def test_seals_are_too_early_then_due_then_missed(farm):
    assert open_lot(farm).seals == "too early: look from 20:00"
    farm.later(12)  # 21:00, out for 13 h
    assert open_lot(farm).seals.startswith("look now, by 8:00 on Thu 26 November: 11 h")
    farm.later(24)
    lot = open_lot(farm)
    assert lot.missed
    assert LOOK_FIRST in lot.seals


def test_seals_are_looked_at_from_the_twelfth_hour_to_the_twenty_fourth(farm):
    farm.later(10.99)
    assert of(farm).seals == "too early: look from 20:00"
    farm.later(0.01)  # twelve hours out, to the minute
    assert of(farm).seals.startswith("look now, by 8:00 on Thu 26 November: 12 h")
    farm.later(12)
    assert of(farm).seals.startswith("look now")
    assert not of(farm).missed
    farm.later(0.01)
    assert of(farm).seals.startswith("check missed")
    assert of(farm).missed


def test_good_seals_and_set_end_the_hold_and_ask_for_the_label(farm):
    farm.later(25)
    assert open_lot(farm).set_ == "look now"
    assert not open_lot(farm).may_be_labelled
    farm.check(farm.last, 8)
    lot = open_lot(farm)
    assert lot.held == ()
    assert lot.may_be_labelled
    farm.do(Label(lot=farm.last, hand=Hand.PRINTED, at=farm.at))
    assert day_after(farm.stock, farm.at) == ()


def test_a_set_is_said_no_sooner_than_it_is_looked_at(farm):
    farm.later(22)  # 7:00, out for 23 h
    lot = open_lot(farm)
    assert lot.set_ == "look at 8:00"
    assert lot.all_may_be_sealed
    assert not lot.set_may_be_seen
    no = farm.do(Check(lot=farm.last, seen=Seen.SET, at=farm.at))
    assert "not 24 h out of the canner" in no.reason
    assert "from 8:00 on Thu 26 November" in no.instead
    farm.check(farm.last, 8, seen=Seen.SET)  # nothing is lost: its seals count
    lot = open_lot(farm)
    assert lot.seals == ""
    said = "its set has not been looked at: look from 8:00 on Thu 26 November"
    assert lot.held == (said,)
    assert not lot.may_be_labelled
    (check,) = farm.stock.checks(farm.last)
    assert (check.good, check.seen) == (8, None)
    assert check.note == "a set was seen too early to count"
    farm.later(1)
    assert open_lot(farm).set_may_be_seen
    assert farm.do(Check(lot=farm.last, seen=Seen.SET, at=farm.at)) is None
    assert open_lot(farm).held == ()


def test_no_set_is_said_of_what_does_not_set(farm):
    of_load = {"load": 4, "out_at": "08:00", "food": "pickle"}
    assert farm.made("8 pints dill pickles, pantry", **of_load) is None
    pickles = farm.last
    farm.later(25)
    lots = {x.code: x for load in day_after(farm.stock, farm.at) for x in load.lots}
    assert sorted(lot.may_set for lot in lots.values()) == [False, True]
    for seen in Seen:
        no = farm.do(Check(lot=pickles, good=7, failed=1, seen=seen, at=farm.at))
        assert "nothing in it sets" in no.reason
    assert not farm.stock.checks(pickles)
    assert farm.do(Check(lot=pickles, good=7, failed=1, at=farm.at)) is None


def test_a_lot_called_back_is_shown_and_wants_no_looking_at(farm):
    farm.later(25)
    assert farm.do(Check(lot=farm.last, good=8, seen=Seen.SET, at=farm.at)) is None
    assert farm.do(Label(lot=farm.last, hand=Hand.PRINTED, at=farm.at)) is None
    assert day_after(farm.stock, farm.at) == ()
    farm.do(Recall(lot="plum jelly", why="soft lids", at=farm.at))
    (load,) = day_after(farm.stock, farm.at)
    assert load.lots[0].recalled
    assert not load.wants_looking


def test_a_lot_called_back_before_its_checks_wants_them_still(farm):
    farm.do(Recall(lot="plum jelly", why="soft lids", at=farm.at))
    farm.later(12)
    (load,) = day_after(farm.stock, farm.at)
    assert load.wants_looking


def test_no_label_before_the_checks_are_in(farm):
    no = farm.do(Label(lot=farm.last, hand=Hand.WRITTEN, at=farm.at))
    assert "its seals have not been looked at" in no.reason
    assert farm.stock.label(farm.last) is None


def test_a_soft_set_is_looked_at_again_after_three_days_and_two_weeks(farm):
    farm.later(25)
    farm.check(farm.last, 8, seen=Seen.SOFT)
    assert open_lot(farm).set_.startswith("soft when last looked at; look at 8:00")
    assert "28 November" in open_lot(farm).set_
    assert {t.do for t in open_lot(farm).choices.troubles} == {"wait"}
    farm.later(72)
    assert {t.do for t in open_lot(farm).choices.troubles} == {"remake"}
    farm.later(15 * 24 - 72)
    assert "for the last time" in open_lot(farm).set_
    farm.do(Check(lot=farm.last, seen=Seen.SOFT, at=farm.at))
    assert open_lot(farm).set_ == ""  # it will not change any more


def test_failed_jars_show_the_hours_that_are_left_of_24(farm):
    farm.later(13)  # 22:00, out for 14 h
    farm.check(farm.last, 7, failed=1)
    choices = open_lot(farm).choices
    assert isinstance(choices, Choices)
    assert choices.left(farm.at) == dt.timedelta(hours=10)
    assert {t.do for t in choices.troubles} == {"reprocess"}


def test_a_load_whose_hours_run_comes_before_one_of_an_earlier_day(farm):
    """Jars that failed have hours left; seals that were missed have none."""
    early = farm.at.date() - dt.timedelta(days=3)
    farm.made("6 half-pints fig jelly, pantry", load=1, on=early, out_at="08:00")
    farm.later(13)
    assert [load.load for load in day_after(farm.stock, farm.at)] == [1, 3]
    failed = next(iter(farm.stock.lots))
    farm.check(failed, 7, 1)
    assert [load.load for load in day_after(farm.stock, farm.at)] == [3, 1]


def test_with_a_jar_set_aside_nobody_is_offered_that_all_are_sealed(farm):
    farm.check(farm.last, 7, 1, seen=None)  # found on the first hour
    farm.later(13)
    lot = open_lot(farm)
    assert (lot.number, lot.aside) == (7, 1)
    assert lot.seals.startswith("look now")
    assert not lot.all_may_be_sealed


def test_after_24_h_no_unsealed_jar_is_offered_for_a_second_process(farm):
    farm.later(13)
    farm.check(farm.last, 7, failed=1)
    farm.later(24)
    choices = open_lot(farm).choices
    assert {t.do for t in choices.troubles} == {"discard"}
    assert choices.until is None


@pytest.mark.parametrize("doubt", list(Doubt))
def test_a_doubt_holds_the_whole_load_and_counts_two_hours(doubt):
    farm = Farm()
    farm.made("5 half-pints plum jelly, pantry", load=3, out_at="08:30")
    first = farm.last
    farm.made("4 half-pints plum jelly, pantry", load=3, out_at="08:30")
    second = farm.last
    farm.made("4 half-pints plum jelly, pantry", load=4, out_at="08:45")
    other = farm.last
    assert farm.do(Hold(lot=first, doubt=doubt, at=farm.at)) is None
    for code in (first, second):
        assert any("process" in why or "load" in why for why in holds(farm.stock, code))
        assert farm.take(code, "1", Way.SOLD, to="stand").instead
    assert len(holds(farm.stock, other)) == 2  # its own checks, nothing more
    lot = next(
        lot
        for load in day_after(farm.stock, farm.at)
        for lot in load.lots
        if lot.lot.code == second
    )
    assert lot.choices.left(farm.at) == dt.timedelta(minutes=90)
    farm.later(2)
    lot = next(
        lot
        for load in day_after(farm.stock, farm.at)
        for lot in load.lots
        if lot.lot.code == second
    )
    assert {t.do for t in lot.choices.troubles} == {"discard"}


def test_jars_that_were_sold_before_their_load_is_in_doubt_are_named(farm):
    code = farm.last
    farm.later(25)
    farm.do(Check(lot=code, good=8, failed=0, seen=Seen.SET, at=farm.at))
    assert farm.take(code, "2", Way.SOLD, to="stand") is None
    assert farm.take(code, "1", Way.EATEN) is None
    assert of(farm, code).went_words == ""
    farm.do(Hold(lot=code, doubt=Doubt.WATER_LOW, at=farm.at))
    assert of(farm, code).went_words == "2 half-pints of it went to others already"
    farm.do(Recall(lot=code, why="water low", at=farm.at))
    assert of(farm, code).went_words == ""


def sold_out(farm: Farm) -> str:
    """All eight jars are looked at, and sold."""
    farm.later(25)
    farm.check(farm.last, 8)
    assert farm.take(farm.last, "all", Way.SOLD, to="stand") is None
    return farm.last


def test_a_load_in_doubt_that_is_sold_out_is_named_until_it_is_called_back(farm):
    code = sold_out(farm)
    assert day_after(farm.stock, farm.at) == ()
    farm.later(300 * 24)  # a gauge that is found to be off in the next summer
    assert farm.do(Hold(lot=code, doubt=Doubt.WRONG_TIME, at=farm.at)) is None
    (load,) = day_after(farm.stock, farm.at)
    (lot,) = load.lots
    assert lot.is_all_gone
    assert lot.went_words == "8 half-pints of it went to others already"
    assert load.is_with_others
    assert not load.wants_looking
    # Nothing is asked of jars that are not here.
    assert (lot.seals, lot.set_, lot.choices) == ("", "", None)
    assert not any((lot.missed, lot.may_be_labelled, lot.all_to_discard))
    farm.recall(code)
    assert day_after(farm.stock, farm.at) == ()


def test_a_hold_of_jars_that_were_sold_is_taken_back(farm):
    code = sold_out(farm)
    assert farm.do(Hold(lot=code, doubt=Doubt.WRONG_TIME, at=farm.at)) is None
    assert farm.mend(farm.stock.sequence) is None
    assert day_after(farm.stock, farm.at) == ()


def test_jars_without_a_number_of_a_load_are_named_as_well():
    farm = Farm()
    farm.made("8 half-pints plum jelly, pantry", out_at="08:00")
    code = sold_out(farm)
    assert farm.do(Hold(lot=code, doubt=Doubt.WRONG_TIME, at=farm.at)) is None
    (load,) = day_after(farm.stock, farm.at)
    assert (load.load, load.lots[0].went) == (None, 8)


def test_jars_in_doubt_that_were_eaten_or_thrown_away_are_nobodys_to_tell(farm):
    farm.later(25)
    farm.check(farm.last, 8)
    assert farm.take(farm.last, "3", Way.EATEN) is None
    assert farm.take(farm.last, "all", Way.SPOILED) is None
    assert farm.do(Hold(lot=farm.last, doubt=Doubt.WRONG_TIME, at=farm.at)) is None
    assert day_after(farm.stock, farm.at) == ()


def test_jars_given_away_whose_late_process_is_taken_back_are_never_processed():
    farm = Farm()
    farm.made("8 half-pints plum jelly, pantry", load=3, process_min=None)
    code = farm.last
    began, ended = farm.at, farm.at + dt.timedelta(minutes=11)
    farm.later(1)
    late = Process(lot=code, began=began, ended=ended, who="Jory", at=farm.at)
    assert farm.do(late) is None
    booked = farm.stock.sequence
    farm.later(25)
    farm.check(code, 8)
    assert farm.take(code, "all", Way.GIVEN, to="Ida") is None
    assert day_after(farm.stock, farm.at) == ()
    assert farm.mend(booked, "that was load 4") is None
    (load,) = day_after(farm.stock, farm.at)
    assert load.lots[0].went_words
    assert "it had no process" in load.lots[0].held[0]


def test_what_was_made_of_jars_in_doubt_and_is_all_given_away_is_named(farm):
    beans = farm.last
    farm.later(25)
    farm.check(beans, 8)
    farm.made("4 pints soup, pantry", (beans, "8"), food="vegetable", load=5)
    soup = farm.last
    farm.later(25)
    farm.check(soup, 4)
    assert farm.take(soup, "all", Way.GIVEN, to="Ida") is None
    assert farm.do(Hold(lot=beans, doubt=Doubt.WRONG_TIME, at=farm.at)) is None
    (load,) = day_after(farm.stock, farm.at)
    assert [lot.lot.code for lot in load.lots] == [soup]
    assert load.lots[0].went_words == "4 pints of it went to others already"


def test_good_seals_do_not_end_a_doubt(farm):
    farm.do(Hold(lot=farm.last, doubt=Doubt.WATER_LOW, at=farm.at))
    farm.later(25)
    farm.check(farm.last, 8)
    assert holds(farm.stock, farm.last)
    assert "on hold" in farm.take(farm.last, "1", Way.GIVEN, to="Ida").reason


@pytest.mark.parametrize("doubt", list(Doubt))
def test_a_load_in_doubt_is_offered_to_be_discarded_and_not_as_sealed(farm, doubt):
    farm.later(13)
    assert open_lot(farm).all_may_be_sealed
    farm.do(Hold(lot=farm.last, doubt=doubt, at=farm.at))
    lot = open_lot(farm)
    assert lot.choices_of == doubt.value.capitalize()
    assert {t.do for t in lot.choices.troubles} == {"discard"}
    assert lot.all_to_discard
    assert not lot.all_may_be_sealed


def test_a_load_may_be_held_before_its_lots_are_booked():
    farm = Farm()
    asked = Hold(day=farm.at.date(), load=3, doubt=Doubt.WRONG_TIME, at=farm.at)
    assert farm.do(asked) is None
    farm.made("5 half-pints plum jelly, pantry", load=3, out_at="08:30")
    assert any("wrong time" in why for why in holds(farm.stock, farm.last))
    assert farm.do(asked) is None
    assert farm.stock.sequence == 2  # said twice, held once


def test_a_hold_that_was_a_mistake_is_taken_back(farm):
    farm.do(Hold(lot=farm.last, doubt=Doubt.WRONG_TIME, at=farm.at))
    assert farm.mend(2, "it was load 4") is None
    assert not any("wrong time" in why for why in holds(farm.stock, farm.last))


def test_a_hold_that_names_nothing_is_refused(farm):
    assert "which load" in farm.do(Hold(doubt=Doubt.WRONG_TIME, at=farm.at)).reason
    sugar = farm.add("2 lb sugar, pantry")
    assert farm.do(Hold(lot=sugar, doubt=Doubt.WRONG_TIME, at=farm.at)).instead


def test_clock_times_are_those_of_the_kitchen_also_after_reading_back():
    """The ledger gives times in UTC; out at 14:05 means by the kitchen's clock."""
    farm = Farm()
    zone = dt.timezone(dt.timedelta(hours=2))
    farm.at = dt.datetime(2026, 7, 1, 15, 5, tzinfo=zone)
    farm.made("8 half-pints plum jelly, pantry", load=1, out_at="14:05")
    made = farm.stock.made(farm.last)
    assert made.batch.utc_offset_min == 120
    read_back = farm.at.astimezone(dt.UTC)
    (load,) = day_after(farm.stock, read_back)
    assert (read_back - load.out_at) == dt.timedelta(hours=1)


def test_long_past_hours_are_told_in_days():
    assert since_words(640.6) == "27 days"
    assert since_words(48) == "2 days"
    assert since_words(47.9) == "47 h 54 min"


def test_an_hour_that_nobody_said_is_not_told(farm):
    yesterday = farm.at.date() - dt.timedelta(days=1)
    farm.made("4 half-pints plum jelly, pantry", load=2, on=yesterday)
    told = {load.load: load.out_at for load in day_after(farm.stock, farm.at)}
    assert told[2] is None
    assert told[3] is not None


def test_jars_in_doubt_are_not_to_be_looked_at_before_they_are_eaten(farm):
    """Their lids say nothing, and nobody eats them."""
    farm.later(36)
    assert LOOK_FIRST in of(farm).seals
    farm.do(Hold(lot=farm.last, doubt=Doubt.WRONG_TIME, at=farm.at))
    assert of(farm).seals.startswith("check missed: it was due by")
    assert LOOK_FIRST not in of(farm).seals


def test_a_soft_jelly_that_is_called_back_has_choices_to_look_at(farm):
    farm.later(25)
    farm.check(farm.last, 8, seen=Seen.SOFT)
    farm.recall(farm.last, "soft lids")
    assert len(of(farm).held) == 1
    assert of(farm).choices is not None
    assert of(farm).wants_looking


def test_of_jars_of_one_load_the_first_that_came_out_is_counted(farm):
    farm.made("6 pints plum jam, pantry", load=3, out_at="08:25", food="jam")
    (load,) = day_after(farm.stock, farm.at)
    assert len(load.lots) == 2
    assert load.out_at == farm.at.replace(hour=8, minute=0)


def test_a_lot_is_asked_for_its_label_for_ninety_days(farm):
    farm.later(25)
    farm.check(farm.last, 8)
    farm.later(90 * 24 - 26)  # out for ninety days to the hour
    assert of(farm).may_be_labelled
    farm.later(0.1)
    assert not of(farm).may_be_labelled
    assert day_after(farm.stock, farm.at) == ()


def test_of_two_doubts_the_later_is_told_and_both_before_a_seal_that_failed(farm):
    farm.later(13)
    farm.check(farm.last, 6, failed=2)
    assert of(farm).choices_of == "2 jars set aside: not sealed, or in doubt"
    for doubt in (Doubt.WATER_LOW, Doubt.WRONG_TIME):
        assert farm.do(Hold(lot=farm.last, doubt=doubt, at=farm.at)) is None
        assert of(farm).choices_of == doubt.value.capitalize()


def test_jelly_that_was_soft_and_has_set_since_has_no_choices(farm):
    farm.later(25)
    farm.check(farm.last, 8, seen=Seen.SOFT)
    assert of(farm).choices_of == "Soft"
    farm.later(72)
    assert farm.do(Check(lot=farm.last, seen=Seen.SET, at=farm.at)) is None
    assert (of(farm).choices, of(farm).set_) == (None, "")


def test_who_looked_at_the_set_alone_has_not_looked_at_the_seals(farm):
    farm.later(24)
    assert farm.do(Check(lot=farm.last, seen=Seen.SET, at=farm.at)) is None
    assert of(farm).seals.startswith("check missed")
    assert "its seals have not been looked at" in of(farm).held


def test_seals_to_look_at_come_before_a_set_and_few_hours_before_more():
    farm = Farm()
    two_days = farm.at.date() - dt.timedelta(days=2)
    farm.made("6 half-pints plum jelly, pantry", load=1, on=two_days, out_at="08:00")
    seen = farm.last
    farm.check(seen, 6, seen=Seen.SOFT)  # soft: it is looked at again after three days
    farm.made("4 pints plums, pantry", load=2, out_at="08:00", food="fruit")
    farm.made("4 pints plums, pantry", load=3, out_at="06:00", food="fruit")
    farm.later(12)
    loads = [load.load for load in day_after(farm.stock, farm.at)]
    assert loads == [2, 3, 1]
    for code in list(farm.stock.lots)[1:]:
        farm.check(code, 3, failed=1)
    loads = [load.load for load in day_after(farm.stock, farm.at)]
    assert loads == [3, 2, 1]


def test_loads_of_two_plans_of_one_day_are_two_though_they_bear_one_number():
    """Yesterday's second load went in this morning, before the first one of today."""
    farm = Farm()
    for run in ("run/2026-11-24", "run/2026-11-25", "run/2026-11-24"):
        farm.made("4 pints plums, pantry", load=1, run=run, food="fruit")
    loads = day_after(farm.stock, farm.at)
    assert sorted(len(load.lots) for load in loads) == [1, 2]
    assert {load.name for load in loads} == {"load 1"}


def test_the_gauge_of_a_pressure_canner_is_asked_for_where_no_pressure_is_known():
    farm = Farm()
    farm.made("4 pints plums, pantry", canner="dial-gauge", process_min=None)
    assert of(farm).under_pressure
    farm.made("4 pints plums, pantry", canner="boiling-water", process_min=None)
    assert not of(farm).under_pressure


def test_neither_set_nor_seals_are_asked_of_what_counts_as_unprocessed():
    """No look at it would end its hold."""
    farm = Farm()
    farm.made("8 half-pints plum jelly, pantry", process_min=None, out_at="08:00")
    farm.later(25)
    assert (of(farm).seals, of(farm).set_) == ("", "")


def test_no_seal_is_looked_at_of_what_saw_no_canner():
    farm = Farm()
    farm.made("4 pints berry spread, freezer", food="jam", canned=False)
    farm.later(13)
    assert of(farm).seals == ""


def test_jars_in_doubt_are_discarded_all_at_once_those_set_aside_with_them(farm):
    farm.do(Hold(lot=farm.last, doubt=Doubt.WRONG_TIME, at=farm.at))
    farm.later(3)
    assert {t.do for t in of(farm).choices.troubles} == {"discard"}
    farm.check(farm.last, 7, failed=1, seen=None)
    assert of(farm).all_to_discard
    assert not of(farm).aside_to_discard
    assert SET_ASIDE not in of(farm).places


def test_where_none_is_set_aside_none_of_those_is_discarded():
    farm = Farm()
    farm.made("8 half-pints plum jelly, pantry", out_at="08:00")
    farm.later(30)
    assert not of(farm).aside_to_discard
    farm.check(farm.last, 7, failed=1, seen=None)
    assert {t.do for t in of(farm).choices.troubles} == {"discard"}
    assert of(farm).aside_to_discard
    assert not of(farm).all_to_discard


@pytest.mark.parametrize(
    ("began", "said"),
    [
        ((25, 0, 10), "11 min, typed in late: 0:10 to 0:21 of 25 November 2026, seen"),
        ((24, 23, 45), "11 min, typed in late: 23:45 to 23:56, seen by Bram"),
    ],
)
def test_a_process_typed_in_late_names_its_day_where_that_is_the_next(began, said):
    """Filled before midnight; the lot is of the evening."""
    farm = Farm()
    evening = farm.at.date() - dt.timedelta(days=1)
    farm.made(
        "8 half-pints plum jam, pantry",
        on=evening,
        food="jam",
        process_min=None,
        filled_at="23:40",
    )
    day, hour, minute = began
    start = farm.at.replace(day=day, hour=hour, minute=minute)
    ended = start + dt.timedelta(minutes=11)
    typed = Process(lot=farm.last, began=start, ended=ended, who="Bram", at=farm.at)
    assert farm.do(typed) is None
    assert of(farm).process.startswith(said)


def test_a_labelled_lot_is_open_while_a_jar_of_it_is_set_aside(farm):
    farm.later(25)
    farm.check(farm.last, 7, failed=1)
    assert farm.do(Label(lot=farm.last, hand=Hand.PRINTED, at=farm.at)) is None
    assert not of(farm).is_done
    assert of(farm).wants_looking
    farm.take(farm.last, "1", Way.SPOILED, place=SET_ASIDE, why="not sealed")
    assert day_after(farm.stock, farm.at) == ()


def test_what_had_no_process_says_so_with_the_minutes_that_are_due():
    farm = Farm()
    farm.made("4 pints plums, pantry", process_min=None, due_min=25, food="fruit")
    assert of(farm).process == "none; 25 min are due"


def test_what_was_noted_of_a_doubt_stands_beside_it(farm):
    said = {"doubt": Doubt.WRONG_TIME, "note": "the timer stood still"}
    assert farm.do(Hold(lot=farm.last, at=farm.at, **said)) is None
    why = "its canner load had a wrong time or pressure (the timer stood still)"
    assert why in of(farm).held


def of_a_day_without_an_hour() -> Farm:
    """Jars of yesterday, typed in this morning at 9."""
    farm = Farm()
    yesterday = farm.at.date() - dt.timedelta(days=1)
    assert farm.made("8 half-pints plum jelly, pantry", on=yesterday) is None
    return farm


def test_where_no_hour_was_said_a_wait_counts_from_the_end_of_the_day():
    farm = of_a_day_without_an_hour()
    (load,) = day_after(farm.stock, farm.at)
    (lot,) = load.lots
    assert lot.seals == "too early: look from 12:00"
    assert lot.set_ == "look at 0:00 on Thu 26 November"
    assert not lot.missed
    assert any("look from 0:00 on Thu 26" in why for why in lot.held)
    farm.later(15)  # midnight: 24 h since the end of that day
    (load,) = day_after(farm.stock, farm.at)
    assert load.lots[0].seals.startswith("look now, by 0:00")
    farm.later(0.1)
    assert day_after(farm.stock, farm.at)[0].lots[0].missed


def test_where_no_hour_was_said_no_minute_is_made_up():
    farm = of_a_day_without_an_hour()
    assert farm.check(farm.last, 7, 1, seen=Seen.SOFT) is None
    ((lot,),) = (load.lots for load in day_after(farm.stock, farm.at))
    assert isinstance(lot.choices, Choices)
    assert (
        lot.choices.since == "no hour was said: counted from the beginning of its day"
    )
    assert "its seals were looked at perhaps before 12 h had passed: look again" in (
        lot.held
    )
    assert lot.choices.hours == 33  # what ends a choice counts from the earliest


def test_a_set_that_is_soft_waits_from_the_end_of_its_day():
    farm = of_a_day_without_an_hour()
    assert farm.check(farm.last, 8, seen=Seen.SOFT) is None
    ((lot,),) = (load.lots for load in day_after(farm.stock, farm.at))
    assert lot.choices.since == "no hour was said: counted from the end of its day"
    assert lot.choices.hours == 9
