"""Counting a shelf, entries that come late, what to eat first, how far it goes."""

import datetime as dt
from dataclasses import replace

import pytest

from stillroom.refusal import Refusal, Unreadable
from stillroom.stock.accounts import account_of, one_step, recall_sheet
from stillroom.stock.choosing import parts_of
from stillroom.stock.commands import Count, CountShelf, Move, Note, Take
from stillroom.stock.cover import covers, family_guess, pantry_count
from stillroom.stock.decide import decide
from stillroom.stock.events import About, Way
from stillroom.stock.first import QUALITY, use_first
from stillroom.stock.fold import Stock
from stillroom.stock.jars_kept import jars_kept
from stillroom.stock.keeps import FROM_MEMORY
from stillroom.stock.making import CHECK_MISSED, LOOK_FIRST
from stillroom.stock.more_than_ever import more_than_ever
from stillroom.stock.on_hand import on_hand
from stillroom.stock.told import told
from tests.stock.kitchen import Farm


@pytest.fixture
def farm() -> Farm:
    return Farm()


def counted(farm: Farm, *lines: tuple[str, str], **more):
    at = more.pop("at", farm.at)
    return farm.do(CountShelf(place="pantry", counts=lines, at=at, **more))


def test_a_shelf_is_counted_whole_or_not_at_all(farm):
    jelly = farm.add("34 half-pints plum jelly, pantry")
    pears = farm.add("9 quart jars pears, pantry")
    with pytest.raises(Unreadable):
        counted(farm, (jelly, "31"), (pears, "minus two"))
    assert farm.stock.balance(jelly) == 34
    assert counted(farm, (jelly, "31"), (pears, "9"), token="c") is None
    assert (farm.stock.balance(jelly), farm.stock.balance(pears)) == (31, 9)
    assert "3 half-pints fewer now" in told(farm.stock, farm.stock.event(3))
    counted(farm, (jelly, "31"), (pears, "9"), token="c")
    assert farm.stock.sequence == 4


@pytest.mark.parametrize(
    ("lines", "said"),
    [((), "nothing was counted"), ((("J", "1"), ("J", "2")), "is there twice")],
)
def test_a_shelf_without_lines_or_with_one_twice_is_refused(farm, lines, said):
    code = farm.add("34 half-pints plum jelly, pantry")
    no = counted(farm, *((code, n) for _, n in lines))
    assert said in no.reason
    assert farm.stock.balance(code) == 34


def test_each_line_that_cannot_be_read_is_named_with_its_lot(farm):
    jelly = farm.add("34 half-pints plum jelly, pantry")
    pears = farm.add("9 quart jars pears, pantry")
    sugar = farm.add("25 lb sugar, pantry")
    with pytest.raises(Unreadable) as said:
        counted(farm, (jelly, "-3"), (sugar, "20 lb"), (pears, "2 furlongs"))
    assert [fault.key for fault in said.value.faults] == [jelly, pears]
    assert farm.stock.sequence == 3


@pytest.mark.parametrize(
    ("sentence", "example"),
    [
        ("34 half-pints plum jelly, pantry", '"2 half-pints" or "2"'),
        ("60 lids, pantry", '"2"'),
        ("14 bags redcurrant juice, 4 cups each, freezer 2", '"2 bags" or "3 cups"'),
        ("25 lb sugar, pantry", '"2 lb 3 oz"'),
    ],
)
@pytest.mark.parametrize("typed", ["many", "2 furlongs", "-3"])
def test_a_count_that_cannot_be_read_is_shown_one_of_its_own_lot(
    farm, sentence, example, typed
):
    code = farm.add(sentence)
    with pytest.raises(Unreadable) as said:
        counted(farm, (code, typed))
    (fault,) = said.value.faults
    assert fault.what.startswith(f"cannot read {typed!r}: ")
    assert fault.what.endswith(f". Write {example}.")


def test_a_count_that_comes_late_is_held_against_its_own_moment(farm):
    """Counted at 9:00, a jar eaten at 10:00, the count arrives at 11:00."""
    code = farm.add("34 half-pints plum jelly, pantry")
    counted_at = farm.at
    farm.later(1)
    farm.take(code, "1", Way.EATEN)
    farm.later(1)
    late = Count(lot=code, quantity="31", at=counted_at, late=True)
    assert farm.do(late) is None
    assert farm.stock.balance(code) == 30
    assert (farm.stock.event(3).book, farm.stock.event(3).late) == (34, True)


def test_a_late_count_never_takes_the_record_below_nothing(farm):
    code = farm.add("3 half-pints plum jelly, pantry")
    counted_at = farm.at
    farm.later(1)
    farm.take(code, "2", Way.EATEN)
    no = farm.do(Count(lot=code, quantity="1", at=counted_at, late=True))
    assert "count again" in no.instead
    assert farm.stock.balance(code) == 1


def test_a_late_entry_says_that_it_is_late_and_keeps_its_own_time(farm):
    code = farm.add("3 half-pints plum jelly, pantry")
    own = farm.at - dt.timedelta(hours=3)
    farm.do(Take(lot=code, quantity="1", way=Way.EATEN, at=own, late=True))
    event = farm.stock.event(2)
    assert event.occurred_at == own
    assert told(farm.stock, event).endswith("(typed in late)")


def pears(farm: Farm) -> None:
    """Put up twenty weeks ago, 23 quarts; 14 eaten since: 0.7 a week, 9 left."""
    farm.later(-20 * 7 * 24)
    farm.made("23 quarts pears, pantry", food="fruit", process_min=25, due_min=25)
    farm.later(25)
    farm.check(farm.last, 23, seen=None)
    for _ in range(14):
        farm.later(9 * 24)
        farm.take(farm.last, "1", Way.EATEN)
    farm.later(20 * 7 * 24 - 25 - 14 * 9 * 24)


def test_weeks_of_cover_and_what_is_short(farm):
    pears(farm)
    (row,) = covers(farm.stock, farm.at, next_in_weeks=32)
    assert (row.on_hand, row.used, round(row.weeks_looked)) == (9, 14, 20)
    assert row.a_week == pytest.approx(0.7)
    assert row.weeks == pytest.approx(12.857, abs=1e-3)
    assert row.short_exact == pytest.approx(13.4)
    assert row.short == 14
    assert row.words == (
        "9 quarts of pears at 0.7 a week: 12.9 weeks; new ones in 32 weeks: "
        "14 short (13.4)"
    )
    (row,) = covers(farm.stock, farm.at)  # a year after they were put up
    assert round(row.next_in_weeks) == 32


def test_a_shelf_that_is_empty_is_not_called_enough(farm):
    farm.later(-52 * 7 * 24)
    farm.made("6 quarts pears, pantry", food="fruit", process_min=25, due_min=25)
    farm.later(25)
    farm.check(farm.last, 6, seen=None)
    farm.take(farm.last, "6", Way.EATEN)
    farm.later(52 * 7 * 24)
    (row,) = covers(farm.stock, farm.at, next_in_weeks=0)
    none = "no quarts of pears are left; 6 were used in 52 weeks"
    assert row.words == f"{none}; new ones are due now"
    (row,) = covers(farm.stock, farm.at, next_in_weeks=1)
    assert row.words == f"{none}; new ones in 1 week: 1 short (0.1)"


def test_a_jar_that_goes_in_hours_is_no_cover_of_nought_weeks(farm):
    pears(farm)
    (row,) = covers(farm.stock, farm.at, next_in_weeks=0)
    row = replace(row, on_hand=1, used=300)
    assert ": less than a day; new ones are due now: enough" in row.words


def test_enough_is_said_and_none_used_means_do_not_make(farm):
    farm.later(-10 * 7 * 24)
    farm.add("18 pint jars rhubarb sauce, pantry")
    farm.later(10 * 7 * 24)
    (row,) = covers(farm.stock, farm.at)
    assert row.weeks is None
    assert "do not make more" in row.words


def test_a_time_too_short_says_nothing_of_a_weeks_use(farm):
    farm.add("6 half-pints plum jelly, pantry")
    farm.take("plum jelly", "1", Way.EATEN)
    (row,) = covers(farm.stock, farm.at)
    assert row.a_week is None
    assert row.short is None
    assert "too short to say" in row.words


def test_an_old_jar_typed_in_today_says_nothing_of_its_use_before(farm):
    farm.add("9 quart jars pears, pantry, October 2025")
    (row,) = covers(farm.stock, farm.at)
    assert row.weeks_looked == 0
    assert "too short to say" in row.words


def test_given_and_sold_are_no_own_use(farm):
    pears(farm)
    code = farm.last
    farm.take(code, "2", Way.GIVEN, to="Ida")
    (row,) = covers(farm.stock, farm.at)
    assert row.used == 14
    assert row.a_year == (37, 42)  # 14 of 20 weeks are 36.4 a year, 16 are 41.6
    assert dict(row.gone)[Way.GIVEN] == 2


def test_what_had_no_process_is_no_pantry_stock(farm):
    farm.made("8 half-pints plum jelly, pantry", process_min=None)
    assert pantry_count(farm.stock, farm.last, farm.at) == (0, 0)
    assert covers(farm.stock, farm.at) == ()
    assert use_first(farm.stock, farm.at) == ()


def test_what_stood_too_long_to_be_eaten_is_no_cover_and_is_said(farm):
    farm.made(
        "3 half-pints pesto, refrigerator",
        food="",
        canned=False,
        process_min=None,
        due_min=None,
    )
    (row,) = covers(farm.stock, farm.at)
    assert (row.on_hand, row.past) == (3, 0)
    assert "too long" not in row.words
    farm.later(4 * 24)
    (row,) = covers(farm.stock, farm.at)
    assert (row.on_hand, row.past, row.weeks) == (0, 3, None)
    assert row.words.endswith("; 3 stood too long to be eaten and are not counted")
    farm.move(farm.last, "freezer", "1")  # the cold that came later mends nothing
    (row,) = covers(farm.stock, farm.at)
    assert (row.on_hand, row.past) == (0, 3)


def test_unsealed_jars_that_came_too_late_into_the_cold_are_no_cover(farm):
    farm.made("8 half-pints plum jelly, pantry")
    farm.later(48)
    farm.check(farm.last, 6, failed=2)
    farm.move(farm.last, "refrigerator", "2", place="set aside")
    (row,) = covers(farm.stock, farm.at)
    assert (row.on_hand, row.past) == (6, 2)


def test_printed_plans_stand_beside_own_use_with_the_misprint_on_jellies(farm):
    farm.later(-10 * 7 * 24)
    farm.made("40 half-pints plum jelly, pantry")
    farm.later(25)
    farm.check(farm.last, 40)
    farm.later(24)
    farm.take(farm.last, "10", Way.EATEN)
    farm.later(10 * 7 * 24 - 49)
    (row,) = covers(farm.stock, farm.at)
    opinions = family_guess(row, 4)
    assert not isinstance(opinions, Refusal)
    assert opinions[0].jars == 52
    assert opinions[0].source.how_known == "keeper"
    assert any("2.2 pints, not the 13 1/2 printed" in o.note for o in opinions[1:])


def test_first_are_the_faded_then_what_keeps_least(farm):
    farm.add("6 half-pints plum jelly, pantry, March 2026")
    old = farm.last
    farm.add("6 half-pints plum jelly, pantry, June 2026")
    farm.add("2 quart jars pears, pantry, July 2026, note siphoned")
    farm.add("60 lids, pantry")
    rows = use_first(farm.stock, farm.at)
    assert [row.what for row in rows] == ["pears", "plum jelly", "plum jelly"]
    assert rows[1].code.replace("-", "")[1:] == old
    assert rows[0].remarks == (UNKNOWN, "siphoned")
    assert "quality" in QUALITY
    assert "safe" not in QUALITY
    assert len(use_first(farm.stock, farm.at, most=1)) == 1


def test_the_oldest_is_not_last_for_want_of_a_date(farm):
    farm.add("6 half-pints plum jelly, pantry, September 2026")
    farm.add("9 quart jars pears, pantry, December 2025")
    farm.add("3 lb strawberries, refrigerator, 19 June 2026")
    farm.add("14 bags redcurrant juice, 4 cups each, freezer 2, August 2025")
    farm.add("1 lb butter, fridge, best before 2026-11-30")
    farm.add("2 lb pork, freezer 1, October 2026")
    rows = use_first(farm.stock, farm.at)
    assert [(row.what, row.best) for row in rows] == [
        ("strawberries", "no date is known"),  # fresh, and no life is printed
        ("redcurrant juice", "no date is known"),  # 8 months on: April 2026
        ("pork", "no date is known"),
        ("butter", "best until 30 November 2026"),
        ("pears", "best until 1 December 2026"),
        ("plum jelly", "best until 1 September 2027"),
    ]
    by = {row.what: row.by for row in rows}
    assert by["redcurrant juice"].startswith("of August 2025; most frozen fruit keeps")
    assert f"8 to 12 months ({FROM_MEMORY})" in by["redcurrant juice"]
    said = "of 19 June 2026; no refrigerator life of strawberries is in the book"
    assert by["strawberries"] == said
    assert by["pork"] == "of October 2026; no freezer life of pork is in the book"
    assert by["butter"] == "as written down"
    assert by["pears"] == "best quality 12 months from December 2025"
    assert not any(row.past for row in rows)


def test_juice_frozen_lately_waits_for_what_most_fruit_keeps(farm):
    farm.add("14 bags redcurrant juice, 4 cups each, freezer 2, October 2026")
    farm.add("6 half-pints plum jelly, pantry, May 2026")
    farm.add("6 half-pints pear jelly, pantry, July 2026")
    named = [row.what for row in use_first(farm.stock, farm.at)]
    assert named == ["plum jelly", "redcurrant juice", "pear jelly"]


def test_what_nobody_dated_is_counted_from_when_it_was_booked(farm):
    farm.later(-300 * 24)
    farm.add("9 quart jars pears, pantry")
    farm.later(250 * 24)
    farm.add("2 lb cream, fridge")
    farm.later(50 * 24)
    cream, pears = use_first(farm.stock, farm.at)
    assert cream.by.startswith("booked on 6 October 2026; no refrigerator life")
    assert pears.best == "best until 29 January 2027 at the latest"
    booked = "29 January 2026, when it was booked"
    assert pears.by == f"best quality 12 months from {booked}"


def test_what_is_past_its_best_says_since_when(farm):
    farm.add("2 quart jars peaches, pantry, March 2025")
    (row,) = use_first(farm.stock, farm.at)
    assert (row.best, row.past) == ("past its best since 1 March 2026", True)


def test_the_missed_check_is_on_the_list(farm):
    farm.made("8 half-pints plum jelly, pantry")
    farm.later(6 * 7 * 24)
    (row,) = use_first(farm.stock, farm.at)
    assert row.remarks == (CHECK_MISSED,)


UNKNOWN = f"its process is not in the record: {LOOK_FIRST}"


def test_jars_taken_in_as_they_stood_say_that_their_process_is_not_known(farm):
    farm.add("31 half-pints plum jelly, pantry, October 2025")
    farm.add("6 half-pints pear jam, pantry, October 2025, from Orchard Row")
    farm.add("4 half-pints peach jam, freezer, October 2025")
    farm.add("4 half-pints dried apples, pantry, October 2025")
    said = {row.what: row.remarks for row in use_first(farm.stock, farm.at)}
    assert said == {
        "plum jelly": (UNKNOWN,),
        "pear jam": (),
        "peach jam": (),
        "dried apples": (),
    }


def test_jars_of_today_say_that_nobody_has_looked_at_their_seals(farm):
    farm.made("8 half-pints plum jelly, pantry")
    farm.later(2)
    (row,) = use_first(farm.stock, farm.at)
    assert row.remarks == ("its seals have not been looked at yet",)
    farm.later(12)
    farm.check(farm.last, 8)
    (row,) = use_first(farm.stock, farm.at)
    assert row.remarks == ()


def all_ways(farm: Farm) -> str:
    farm.add("3 bags plum juice, 5 cups each, freezer 2, June, from Orchard Row")
    juice = farm.last
    farm.made("20 half-pints plum jelly, pantry", (juice, "10 cups"), load=1)
    code = farm.last
    farm.later(25)
    farm.check(code, 20)
    farm.take(code, "4", Way.SOLD, to="stand, Saturday")
    farm.take(code, "2", Way.GIVEN, to="Ida")
    farm.take(code, "3", Way.EATEN)
    farm.take(code, "1", Way.BROKEN, why="a knock")
    farm.take(code, "1", Way.SPOILED, why="mould")
    farm.move(code, "shelf B", "5")
    return code


def test_made_less_all_that_went_is_nothing(farm):
    account = account_of(farm.stock, all_ways(farm))
    assert account.unaccounted == 0
    assert account.is_whole
    assert account.on_hand == 9
    assert account.said.startswith("20 half-pints = eaten 3 half-pints + sold 4")
    assert account.said.endswith("all accounted for")


def test_what_a_count_found_missing_is_not_hidden_in_the_sum(farm):
    code = all_ways(farm)
    farm.count(code, "3", "pantry")
    account = account_of(farm.stock, code)
    assert (account.unaccounted, account.counted_less) == (1, 1)
    assert account.is_whole
    assert "1 half-pint not accounted for" in account.said


def test_a_mended_entry_leaves_the_sum_whole(farm):
    code = all_ways(farm)
    farm.mend(farm.stock.sequence - 1)  # the spoiled jar was none
    farm.count(code, "4", "pantry")
    farm.mend(farm.stock.sequence)
    account = account_of(farm.stock, code)
    assert account.is_whole
    assert account.unaccounted == 0


def test_what_was_used_up_counts_for_the_juice(farm):
    all_ways(farm)
    juice = next(c for c, lot in farm.stock.lots.items() if lot.what == "plum juice")
    account = account_of(farm.stock, juice)
    assert account.is_whole
    assert account.unaccounted == 0
    assert account.used > 0


def test_the_recall_sheet_says_who_is_told(farm):
    code = all_ways(farm)
    farm.recall(code, "soft lids")
    sheet = recall_sheet(farm.stock, code)
    assert sheet.why == "soft lids"
    assert [out.event.to for out in sheet.told] == ["stand, Saturday", "Ida"]
    assert [lot.supplier for lot in sheet.suppliers] == ["Orchard Row"]
    juice = next(c for c, lot in farm.stock.lots.items() if lot.what == "plum juice")
    both = recall_sheet(farm.stock, juice)
    assert len(both.accounts) == 2  # the juice, and the jelly that was made of it


def test_one_step_back_and_one_forward(farm):
    code = all_ways(farm)
    found = one_step(farm.stock, code, dt.UTC)
    assert [(s.whom, s.quantity) for s in found.back] == [
        ("Orchard Row", "2 bags (10 cups)")
    ]
    assert [s.whom for s in found.forward] == ["stand, Saturday", "Ida"]
    assert found.gaps == ()
    juice = next(c for c, lot in farm.stock.lots.items() if lot.what == "plum juice")
    back = one_step(farm.stock, juice, dt.UTC)
    assert back.back[0].whom == "Orchard Row"
    assert back.forward[0].what.startswith("made into plum jelly L")


def test_what_the_record_cannot_say_is_said(farm):
    sugar = farm.add("5 lb sugar, pantry")
    farm.made("8 half-pints plum jelly, pantry", (sugar, "3 lb"))
    found = one_step(farm.stock, farm.last, dt.UTC)
    assert found.back[0].whom == "not written down"
    assert "whom an input came from" in found.gaps[0]
    farm.made("8 half-pints plum jelly, pantry", unbooked="5 cups of plum juice")
    assert "5 cups of plum juice" in one_step(farm.stock, farm.last, dt.UTC).gaps[0]


def test_jars_are_things_empty_in_use_and_away(farm):
    farm.add("60 half-pint jars, shed")
    empties = farm.last
    farm.add("12 wide-mouth pint jars, shed")
    farm.made("20 half-pints plum jelly, pantry", ("half-pint jars", "20"))
    code = farm.last
    farm.later(25)
    farm.check(code, 20)
    farm.take(code, "3", Way.EATEN)
    farm.take(code, "4", Way.SOLD, to="stand")
    farm.take(code, "1", Way.BROKEN)
    half, pint = jars_kept(farm.stock, farm.at)
    assert (half.size, half.empty, half.in_use) == ("half-pint", 40, 12)
    assert (half.came_empty, half.away) == (3, 4)
    assert "count again" in half.words
    assert (pint.size, pint.empty, pint.in_use) == ("pint", 12, 0)
    farm.later(1)
    farm.count(empties, "43")
    half, _ = jars_kept(farm.stock, farm.at)
    assert (half.empty, half.came_empty) == (43, 0)
    farm.later(400 * 24)
    assert jars_kept(farm.stock, farm.at)[0].away == 0


def test_a_note_stays_with_its_lot_and_a_faded_jar_goes_first(farm):
    old = farm.add("6 half-pints plum jelly, pantry, March 2026")
    new = farm.add("2 quart jars pears, pantry, July 2026")
    assert use_first(farm.stock, farm.at)[0].what == "plum jelly"
    said = Note(lot=new, about=About.OPENED, words="faded at the top", at=farm.at)
    assert farm.do(said) is None
    assert farm.stock.notes(new)[0].words == "faded at the top"
    assert farm.stock.notes(old) == ()
    assert use_first(farm.stock, farm.at)[0].what == "pears"
    farm.mend(farm.stock.sequence, "another jar")
    assert farm.stock.notes(new) == ()
    empty = Note(lot=new, about=About.OTHER, words="", at=farm.at)
    assert "nothing is written" in farm.do(empty).reason


@pytest.mark.parametrize("way", [Way.EATEN, Way.DRAWN])
def test_what_a_count_has_seen_gone_is_not_taken_off_again(farm, way):
    # one jar eaten at nine on a phone that was cut off; at ten the shelf was counted
    # and it was missing; at eleven the phone gets through
    code = farm.add("34 half-pints plum jelly from Cora, pantry")
    eaten_at = farm.at
    farm.at += dt.timedelta(hours=1)
    farm.do(Count(lot=code, quantity="33", at=farm.at))
    no = farm.do(Take(lot=code, quantity="1", way=way, at=eaten_at, late=True))
    assert isinstance(no, Refusal)
    assert "was counted at pantry" in no.reason
    assert "take that count back" in no.instead
    assert farm.stock.balance(code) == 33
    # one that happened after the count is taken off, however late it comes
    later = farm.at + dt.timedelta(minutes=5)
    assert farm.do(Take(lot=code, quantity="1", way=way, at=later, late=True)) is None
    assert farm.stock.balance(code) == 32


def test_what_left_between_a_count_and_its_answer_leaves_the_record(farm):
    # twelve at nine, one eaten at five past; whether it is so is answered at ten past
    code = farm.add("12 half-pints plum jelly, pantry")
    nine, minute = farm.at, dt.timedelta(minutes=1)
    said = Count(lot=code, quantity="12", at=nine + 10 * minute, counted_at=nine)
    assert farm.do(said) is None
    eaten = Take(lot=code, quantity="1", way=Way.EATEN, at=nine + 5 * minute, late=True)
    assert farm.do(eaten) is None
    assert farm.stock.balance(code) == 11
    before = replace(eaten, at=nine - minute)
    assert "was counted at pantry" in farm.do(before).reason


def test_two_counts_that_wait_for_their_answers_take_off_once(farm):
    code = farm.add("12 half-pints plum jelly, pantry")
    nine, minute = farm.at, dt.timedelta(minutes=1)
    for at, answered in ((0, 10), (5, 15)):
        said = Count(
            lot=code,
            quantity="11",
            at=nine + answered * minute,
            counted_at=nine + at * minute,
        )
        assert farm.do(said) is None
    assert farm.stock.balance(code) == 11


def test_the_hours_of_a_count_and_of_what_was_before_it_are_of_one_clock():
    denver = dt.timezone(dt.timedelta(hours=-7))
    farm = Farm()
    farm.at = dt.datetime(2026, 11, 28, 10, 0, tzinfo=denver)
    code = farm.add("34 half-pints plum jelly from Cora, pantry")
    eaten_at = farm.at
    farm.later(10.5)
    farm.count(code, "33")
    stock = Stock()  # as it comes back from the record, whose hours are of UTC
    for event in farm.stock.events:
        at = event.occurred_at.astimezone(dt.UTC)
        stock.apply(replace(event, occurred_at=at))
    no = decide(
        stock, Take(lot=code, quantity="1", way=Way.EATEN, at=eaten_at, late=True)
    )
    assert isinstance(no, Refusal)
    assert "was counted at pantry on 2026-11-28 20:30, after this" in no.reason
    assert "(2026-11-28 10:00)" in no.reason


def test_what_was_carried_before_a_count_is_not_carried_again(farm):
    code = farm.add("34 half-pints plum jelly from Cora, pantry")
    carried_at = farm.at
    farm.at += dt.timedelta(hours=1)
    farm.do(Count(lot=code, quantity="30", at=farm.at))
    late = Move(lot=code, quantity="4", to="stand", at=carried_at, late=True)
    assert "is out of the record already" in farm.do(late).reason
    assert farm.stock.places(code) == {"pantry": 30}


def test_a_count_that_leaves_more_of_a_lot_than_there_ever_was_is_told_apart(farm):
    jelly = farm.add("34 half-pints plum jelly, pantry")
    farm.do(Take(lot=jelly, quantity="30", way=Way.EATEN, at=farm.at))

    def said(count: str) -> tuple[str, ...]:
        asked = CountShelf(place="pantry", counts=((jelly, count),), at=farm.at)
        return more_than_ever(farm.stock, decide(farm.stock, asked))

    assert said("34") == ()
    (more,) = said("35")
    assert "35 half-pints of plum jelly" in more
    assert "never had more than 34 half-pints" in more
    counted(farm, (jelly, "40"))
    assert said("40") == ()  # it was booked once, and asked about then


def test_what_stands_at_two_places_is_held_against_the_whole_lot(farm):
    jelly = farm.add("34 half-pints plum jelly, pantry")
    farm.do(Move(lot=jelly, quantity="4", to="stand", at=farm.at))
    asked = CountShelf(place="stand", counts=((jelly, "5"),), at=farm.at)
    assert more_than_ever(farm.stock, decide(farm.stock, asked))


def test_a_quantity_says_which_is_meant_of_jars_and_what_lies_by_weight(farm):
    farm.add("40 lb beets, cellar")
    farm.made("7 pints beets, pantry", food="")
    farm.check(farm.last, 7, seen=None)
    for said, place in (("1 pint", "pantry"), ("one", "pantry"), ("2 lb", "cellar")):
        (part,) = parts_of(farm.stock, "beets", said)
        assert part.place == place
    both = parts_of(farm.stock, "beets", "all")
    assert "is there in pints and weight" in both.reason
    farm.add("6 bags plum juice, 1 pint each, freezer")
    farm.made("6 pints plum juice, pantry", food="")
    farm.check(farm.last, 6, seen=None)
    either = parts_of(farm.stock, "plum juice", "1 pint")
    assert isinstance(either, Refusal)  # a pint out of a bag, or a jar of it


def test_what_is_used_by_name_goes_in_the_order_of_the_list(farm):
    """The list put in front what has no date, and using it by name took it last."""
    farm.add("9 lb strawberries, refrigerator, 19 June 2026")
    old = farm.last
    farm.add("9 lb strawberries, refrigerator, best before 2026-12-24")
    listed = [row.code.replace("-", "")[1:] for row in use_first(farm.stock, farm.at)]
    assert listed[0] == old
    taken = parts_of(farm.stock, "strawberries", "10 lb")
    assert [part.lot for part in taken] == listed


def test_what_does_not_spoil_and_what_was_set_aside_goes_last(farm):
    farm.add("5 lb sugar, pantry, January 2026")
    farm.add("6 half-pints plum jelly, pantry, June 2026")
    farm.made("8 half-pints plum jelly, pantry")
    farm.later(20)
    farm.check(farm.last, good=7, failed=1)
    rows = on_hand(farm.stock)
    assert [row.lot.what for row in rows] == [
        *("plum jelly", "plum jelly", "sugar", "plum jelly")
    ]
    assert rows[-1].place == "set aside"
