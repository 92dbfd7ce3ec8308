"""What the stove shows: what cannot wait first, and no time too early."""

import datetime as dt
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from stillroom.refusal import Refusal
from stillroom.running.board import Card, board, left
from stillroom.running.commands import LiftLoad, MarkFullBoil
from stillroom.running.decide import decide
from stillroom.running.events import (
    BoilLost,
    DayBegun,
    FullBoilReached,
    JarBroke,
    LoadLifted,
    RunLoad,
)
from stillroom.running.fold import fold

START = dt.datetime(2026, 9, 12, 9, 30, tzinfo=dt.timezone(dt.timedelta(hours=-7)))


def load(n: int, minutes: int = 10) -> RunLoad:
    return RunLoad(
        id=f"{n}",
        name=f"load {n}",
        canner=f"canner {n}",
        process_min=minutes,
        source="a published table",
        jar="pint",
        jars=(("plum jelly 1", 4), ("plum jelly 2", 3))
        if n == 1
        else (("pears 1", 1),),
        planned_boil="9:31",
    )


BEGUN = DayBegun(loads=(load(1), load(2), load(3, 5)), occurred_at=START)
BOILED = FullBoilReached(load="1", occurred_at=START)


def at(minutes: int, seconds: int = 0) -> dt.datetime:
    return START + dt.timedelta(minutes=minutes, seconds=seconds)


def says(card: Card) -> tuple[str, ...]:
    return tuple(key.says for key in card.keys)


@pytest.mark.parametrize(
    ("hours", "sentence"),
    [
        (
            14,
            "Next: load 1 in canner 1, at a full boil about 0:30 (next day) by the pl",
        ),
        (16, "; by the plan it was to be at a full boil at 0:30 (next day)."),
    ],
)
def test_an_hour_of_the_plan_behind_midnight_goes_by_as_well(hours, sentence):
    late = replace(load(1), planned_boil="0:30 (next day)")
    begun = DayBegun(loads=(late,), occurred_at=START)
    assert sentence in board(fold([begun]), at(60 * hours)).sentence


@pytest.mark.parametrize(
    ("events", "moment", "sentence"),
    [
        ([], at(0), "The day has not been begun."),
        ([BEGUN], at(0), "Next: load 1 in canner 1, at a full boil about 9:31 by the"),
        (
            [BEGUN],
            at(45),
            "Next: load 1 in canner 1; by the plan it was to be at a full boil at",
        ),
        ([BEGUN, BOILED], at(3), "Load 1 boils until 9:40. Listen to the boil."),
        (
            [BEGUN, BOILED],
            at(10),
            "Load 1 in canner 1 has had its 10 min. Fire off, lid off; lift the jars "
            "at 9:45.",
        ),
        ([BEGUN, BOILED], at(15), "Load 1 in canner 1 may come out now: 7 jars."),
        (
            [
                BEGUN,
                BOILED,
                JarBroke(
                    load="1", batch="plum jelly 1", crack="ring", occurred_at=at(9)
                ),
            ],
            at(15),
            "Load 1 in canner 1 may come out now: 6 jars.",
        ),
        (
            [BEGUN, BOILED, BoilLost(load="1", occurred_at=at(2))],
            at(3),
            "Load 1 in canner 1 lost its boil. Bring it back with the lid on: "
            "the whole 10 min start again.",
        ),
        (
            [
                DayBegun(loads=(load(1),), occurred_at=START),
                BOILED,
                LoadLifted(load="1", occurred_at=at(15)),
            ],
            at(16),
            "All 7 jars are out.",
        ),
        (
            [
                DayBegun(loads=(load(1),), occurred_at=START),
                BOILED,
                JarBroke(
                    load="1", batch="plum jelly 1", crack="ring", occurred_at=at(9)
                ),
                LoadLifted(load="1", occurred_at=at(15)),
            ],
            at(16),
            "All 6 jars are out; 1 jar broke.",
        ),
        (
            [
                DayBegun(loads=(load(2),), occurred_at=START),
                FullBoilReached(load="2", occurred_at=START),
                JarBroke(load="2", batch="pears 1", crack="ring", occurred_at=at(9)),
                LoadLifted(load="2", occurred_at=at(15)),
            ],
            at(16),
            "No jar is left; 1 jar broke.",
        ),
    ],
)
def test_the_first_sentence_is_what_matters(events, moment, sentence: str):
    assert board(fold(events), moment).sentence.startswith(sentence)


def test_each_card_has_its_numerals_and_its_keys():
    state = fold([BEGUN, BOILED])
    for moment, big, keys in (
        (at(2, 18), "7:42", ("It lost the boil",)),
        (at(10), "5:00", ("It had lost the boil",)),
        (at(15), "out", ("Lifted out", "It had lost the boil")),
    ):
        card = board(state, moment).cards[0]
        assert (card.big, says(card)) == (big, keys)
    assert says(board(state, at(2)).cards[1]) == ("Full boil now",)
    assert board(state, at(2)).cards[1].big == ""  # a plan's hour is no clock


def test_a_clock_says_when_it_began():
    card = board(fold([BEGUN, BOILED]), at(2)).cards[0]
    assert card.says == "of 10 min at a full boil, from 9:30 until 9:40"


def test_what_cannot_wait_comes_before_what_runs_and_what_waits():
    """Load 3 (5 min) rests, load 2 was lost, load 1 still boils."""
    state = fold(
        [
            BEGUN,
            FullBoilReached(load="3", occurred_at=START),
            FullBoilReached(load="2", occurred_at=at(1)),
            FullBoilReached(load="1", occurred_at=at(2)),
            BoilLost(load="2", occurred_at=at(3)),
        ]
    )
    names = [card.run.load.name for card in board(state, at(6)).cards]
    assert names == ["load 2", "load 3", "load 1"]
    assert board(state, at(10)).cards[0].run.load.name == "load 3"


def test_loads_behind_another_in_one_canner_wait_below():
    """Loads 1 and 3 in one canner, 2 in another: 3 comes after 1, boiling or not."""
    loads = (load(1), load(2), replace(load(3), canner="canner 1"))
    begun = DayBegun(loads=loads, occurred_at=START)
    for events in ([begun], [begun, BOILED]):
        shown = board(fold(events), at(1))
        assert [card.run.load.name for card in shown.cards] == ["load 1", "load 2"]
        assert [card.run.load.name for card in shown.later] == ["load 3"]
        assert says(shown.later[0]) == (
            "Full boil now",
        )  # she may still change the order
    out = [begun, BOILED, LoadLifted(load="1", occurred_at=at(15))]
    shown = board(fold(out), at(16))
    assert [card.run.load.name for card in shown.cards] == ["load 2", "load 3"]
    assert shown.later == ()


def test_a_pressure_canner_is_never_told_to_take_its_lid_off():
    """Its clock starts at pressure, and it cools shut and by itself: 30 + 10 min."""
    beans = replace(
        load(1, 25), method="dial-gauge", pressure_psi=12.0, rest_min=40, canner="big"
    )
    state = fold([DayBegun(loads=(beans,), occurred_at=START), BOILED])
    words = [
        f"{card.says} {card.urgent} {says(card)} {shown.sentence}"
        for minute in (0, 20, 25, 64, 65)
        for shown in (board(state, at(minute)),)
        for card in shown.cards
    ]
    assert not any("lid off" in each or "boil" in each.lower() for each in words)
    assert "at 12 psi" in words[0]
    assert "lid shut, let it cool by itself and never with water" in words[2]
    assert (
        "lift the jars at 10:35, if no pressure is left and the vent has" in (words[3])
    )
    assert "may come out now" in words[4]


def test_pressure_is_brought_back_over_a_vent_that_has_streamed_again():
    """With air in it a canner stays cooler than its gauge says, the second time too."""
    beans = replace(load(1, 25), method="dial-gauge", pressure_psi=12.0, canner="big")
    lost = BoilLost(load="1", occurred_at=at(20))
    (card,) = board(
        fold([DayBegun(loads=(beans,), occurred_at=START), BOILED, lost]), at(21)
    ).cards
    assert card.urgent == (
        "Load 1 in big lost its pressure. Bring it back to 12 psi (if none was left or "
        "the vent was opened, let steam vent for 10 min first): the whole 25 min start "
        "again."
    )


def test_a_lid_under_pressure_comes_off_last_and_the_board_says_so():
    """By its minutes alone the jars came out: no word of the gauge, nor of the vent."""
    beans = replace(
        load(1, 25), method="dial-gauge", pressure_psi=12.0, rest_min=55, canner="big"
    )
    begun = DayBegun(loads=(beans, load(2)), occurred_at=START)
    boiled = FullBoilReached(load="2", occurred_at=START)
    state = fold([begun, BOILED, boiled])
    cards = {c.run.load.id: c for c in board(state, at(30)).cards}
    assert cards["1"].says == (
        "fire off, lid shut, let it cool by itself and never with water; jars stay in "
        "until 10:50. When no pressure is left, open the vent and wait 10 min more; "
        "then lift the lid, its far side first: steam is under it"
    )
    (card, *_) = board(fold([begun, BOILED]), at(80)).cards
    assert card.urgent == (
        "Load 1 in big may come out now if no pressure is left and the vent has been "
        "open for 10 min: 7 jars."
    )
    assert card.says.startswith("When no pressure is left, open the vent")
    assert card.says.endswith("Jars straight up, onto wood or a towel, an inch apart")
    assert cards["2"].says == "straight up, onto wood or a towel, an inch apart"
    assert "may come out now: 1 jar." in cards["2"].urgent


def test_a_clock_that_begins_shows_its_minutes_and_no_second_more():
    """A phone that is ahead by a second tapped it; the kitchen's clock is behind."""
    shown = board(fold([BEGUN, BOILED]), START - dt.timedelta(seconds=1)).cards
    assert [card.big for card in shown if card.big] == ["10:00"]


def test_what_is_aboard_is_said():
    assert load(1).contents == "7 pint jars: 4 of plum jelly 1, 3 of plum jelly 2"
    assert load(2).contents == "1 pint jar of pears 1"


@given(st.integers(-10_000_000, 10_000_000_000))
def test_a_clock_never_shows_less_than_is_left(microseconds: int):
    shown = left(START + dt.timedelta(microseconds=microseconds), START)
    minutes, seconds = (int(part) for part in shown.split(":"))
    shown_us = (minutes * 60 + seconds) * 1_000_000
    assert 0 <= shown_us - max(0, microseconds) < 1_000_000


ALL_OF_LOAD_1 = tuple(
    JarBroke(load="1", batch=batch, crack="ring", occurred_at=at(3))
    for batch, jars in load(1).jars
    for _ in range(jars)
)


def test_a_load_of_which_every_jar_broke_is_last_and_keeps_its_clock():
    """It stood first, as what cannot wait; and a wrong tap must lose no clock."""
    late = at(16)
    shown = board(fold([BEGUN, BOILED, *ALL_OF_LOAD_1[:-1]]), late)
    assert shown.cards[0].run.load.id == "1"  # one jar is left
    assert shown.cards[0].urgent
    shown = board(fold([BEGUN, BOILED, *ALL_OF_LOAD_1]), at(4))
    *others, card = shown.cards
    assert {one.run.load.id for one in others} == {"2", "3"}
    assert (card.big, card.until) == ("6:00", at(10))
    assert says(card) == ("The glass is out",)
    assert card.says.startswith("every jar of it is booked as broken")
    shown = board(fold([BEGUN, BOILED, *ALL_OF_LOAD_1]), late)
    assert shown.cards[-1].urgent == ""
    assert shown.sentence.startswith("Next: load 2")


def test_a_canner_full_of_glass_takes_no_other_load_until_it_is_cleared():
    two = replace(load(2), canner="canner 1")
    begun = DayBegun(loads=(load(1), two), occurred_at=START)
    boil = MarkFullBoil(load="2", at=at(5))
    state = fold([begun, BOILED, *ALL_OF_LOAD_1])
    held = decide(state, boil)
    assert isinstance(held, Refusal)
    assert "still holds load 1" in held.reason
    cleared = decide(state, LiftLoad(load="1", at=at(4)))  # before its time is over
    assert cleared == (LoadLifted(load="1", occurred_at=at(4)),)
    free = fold([begun, BOILED, *ALL_OF_LOAD_1, *cleared])
    assert decide(free, boil) == (FullBoilReached(load="2", occurred_at=at(5)),)
    again = decide(fold([begun, *ALL_OF_LOAD_1]), MarkFullBoil(load="1", at=at(5)))
    assert isinstance(again, Refusal)
    assert "every jar of load 1 is booked as broken" in again.reason
    # also where its clock was never started
    cold = fold([begun, *ALL_OF_LOAD_1])
    assert decide(cold, LiftLoad(load="1", at=at(4))) == cleared
