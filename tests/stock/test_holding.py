"""Jars that had no process, and a process that is typed in when it is over."""

import datetime as dt

import pytest

from stillroom.refusal import Refusal
from stillroom.stock.after import day_after, open_of
from stillroom.stock.commands import Check, Hold, Label, Process, Recall
from stillroom.stock.decide import decide
from stillroom.stock.events import Doubt, Hand, Held, Seen, Way
from stillroom.stock.lacks import is_unprocessed
from stillroom.stock.lotcode import printed
from stillroom.stock.making import holds
from stillroom.stock.told import told
from stillroom.stock.unprocessed import choices_for_unprocessed
from tests.stock.kitchen import MORNING, Farm


def forgotten(what: str, food: str) -> Farm:
    """Jars filled at 8:00 and never put on the clock; it is 9:00."""
    farm = Farm()
    farm.made(
        f"8 half-pints {what}, pantry",
        food=food,
        process_min=None,
        filled_at="08:00",
        load=1,
    )
    return farm


def at(hour: int, minute: int = 0, day: int = 25) -> dt.datetime:
    return MORNING.replace(hour=hour, minute=minute, day=day)


def late(farm: Farm, began: dt.datetime, ended: dt.datetime, who: str = "Bram"):
    return farm.do(
        Process(lot=farm.last, began=began, ended=ended, who=who, at=farm.at)
    )


def test_sealed_is_not_processed():
    farm = forgotten("gooseberry jam", "jam")
    assert "sealed is not processed" in holds(farm.stock, farm.last)[0]
    for way in (Way.SOLD, Way.GIVEN):
        assert farm.take(farm.last, "1", way, to="Ida").reason
    assert farm.do(Label(lot=farm.last, hand=Hand.WRITTEN, at=farm.at)).reason


@pytest.mark.parametrize(
    ("what", "food", "hours", "deeds"),
    [
        ("gooseberry jam", "jam", 9, {"freeze"}),
        ("gooseberry jam", "jam", 25, {"discard", "refrigerate"}),
        ("fig jam", "jam", 1, {"reprocess"}),
        ("fig jam", "jam", 3, {"discard"}),
        ("figs", "fruit", 1, {"reprocess"}),
        ("figs", "fruit", 3, {"discard"}),
        ("corn relish", "relish", 1, {"reprocess"}),
        ("corn relish", "relish", 3, {"discard", "refrigerate"}),
        ("green beans", "", 1, {"reprocess"}),
        ("green beans", "", 3, {"discard"}),
        ("crushed tomatoes", "tomato", 1, {"reprocess"}),
        ("crushed tomatoes", "tomato", 3, {"discard"}),
        ("granny's mixture", "", 1, {"reprocess"}),
        ("granny's mixture", "", 3, {"discard"}),
    ],
)
def test_what_is_published_for_jars_that_had_no_process(what, food, hours, deeds):
    farm = forgotten(what, food)
    farm.later(hours - 1)
    choices = choices_for_unprocessed(farm.stock, farm.last, farm.at)
    assert not isinstance(choices, Refusal)
    assert {t.do for t in choices.troubles} == deeds
    for trouble in choices.troubles:
        assert "safe" not in trouble.then.lower()


def test_own_use_is_from_the_cold_alone():
    farm = forgotten("gooseberry jam", "jam")
    assert "refrigerator" in farm.take(farm.last, "1", Way.EATEN).instead
    assert "no process" in farm.move(farm.last, "pantry shelf B").reason
    assert farm.move(farm.last, "refrigerator") is None
    assert farm.take(farm.last, "1", Way.EATEN) is None
    assert "no process" in farm.move(farm.last, "cellar").reason


def test_figs_are_not_eaten_from_any_place():
    farm = forgotten("fig jam", "jam")
    farm.later(2)
    farm.move(farm.last, "refrigerator")
    assert "discard it untasted" in farm.take(farm.last, "1", Way.EATEN).instead
    assert farm.take(farm.last, "8", Way.SPOILED, why="never processed") is None


def test_a_process_that_took_place_is_taken_in_late_and_says_so():
    farm = forgotten("gooseberry jam", "jam")
    farm.later(10)
    assert late(farm, at(8, 40), at(8, 51)) is None
    assert not is_unprocessed(farm.stock, farm.last)
    event = farm.stock.event(2)
    assert event.late
    assert "11 min, from 08:40 to 08:51, seen by Bram (typed in late)" in told(
        farm.stock, event
    )
    assert not any("processed" in why for why in holds(farm.stock, farm.last))


def test_seals_are_looked_at_by_the_end_of_a_process_typed_late_not_by_its_filling():
    farm = forgotten("gooseberry jam", "jam")
    farm.later(3)
    assert late(farm, at(9, 40), at(9, 51)) is None
    seen = open_of(farm.stock, farm.last, at(20, 30))
    assert seen.seals == "too early: look from 21:51"
    [load] = day_after(farm.stock, at(20, 30))
    assert load.out_at == at(9, 51)
    assert farm.stock.made(farm.last).batch.filled_at == "08:00"
    farm.mend(2)
    assert day_after(farm.stock, at(20, 30))[0].out_at is None


def test_a_short_process_typed_late_is_still_short():
    farm = forgotten("gooseberry jam", "jam")
    farm.later(10)
    assert late(farm, at(8, 40), at(8, 48)) is None
    assert "8 min, and 10 min are due" in " ".join(holds(farm.stock, farm.last))


def test_a_short_process_typed_late_leaves_the_choices_and_their_hours():
    farm = forgotten("gooseberry jam", "jam")
    farm.later(10)
    before = open_of(farm.stock, farm.last, farm.at).choices
    assert before.left(farm.at) == dt.timedelta(hours=13)
    late(farm, at(8, 40), at(8, 48))
    after = open_of(farm.stock, farm.last, farm.at)
    assert after.choices == before
    assert "too short" in after.choices_of
    assert not after.seals
    assert "8 min, too short" in farm.take(farm.last, "1", Way.EATEN).reason
    assert "8 min, too short" in farm.move(farm.last, "cellar").reason


@pytest.mark.parametrize(
    ("began", "ended", "who", "said"),
    [
        (at(8, 40), at(8, 51), " ", "who saw"),
        (at(8, 40), at(8, 40), "Bram", "are 0 min"),
        (at(8, 40), at(8, 30), "Bram", "are -10 min"),
        (at(8, 40), at(23, 51), "Bram", "are 911 min"),
        (at(7, 40), at(7, 51), "Bram", "before the jars were filled"),
        (at(10, 30), at(10, 41), "Bram", "2.5 h when that process began"),
        (at(18, 55), at(19, 6), "Bram", "lies in the future"),
    ],
)
def test_a_late_process_needs_start_end_and_a_witness_within_two_hours(
    began, ended, who, said
):
    farm = forgotten("gooseberry jam", "jam")
    farm.later(10)  # 19:00
    no = late(farm, began, ended, who)
    assert isinstance(no, Refusal)
    assert said in no.reason
    assert no.instead
    assert is_unprocessed(farm.stock, farm.last)


def test_jars_of_no_said_hour_may_have_been_filled_before_they_were_booked():
    """Booked at nine, canned at twenty to: nobody wrote down when they were filled."""
    farm = Farm()
    farm.made("8 half-pints gooseberry jam, pantry", food="jam", process_min=None)
    farm.later(10)
    assert late(farm, at(8, 40), at(8, 51)) is None
    assert not is_unprocessed(farm.stock, farm.last)


def test_jars_of_an_earlier_day_may_have_stood_since_it_began():
    """Where no hour was said the longest is counted: a night is too long."""
    farm = Farm()
    farm.made(
        "8 half-pints gooseberry jam, pantry",
        food="jam",
        process_min=None,
        on=at(9, day=24).date(),
    )
    no = late(farm, at(8, 0), at(8, 11))
    assert isinstance(no, Refusal)
    assert "had stood 32.0 h when that process began" in no.reason
    assert late(farm, at(21, 0, day=24), at(21, 11, day=24)) is None


def test_a_label_is_booked_once_for_each_hand_and_none_on_what_was_recalled():
    farm = Farm()
    farm.made("8 half-pints plum jam, pantry", food="jam", out_at="08:00")
    farm.later(25)
    farm.check(farm.last, 8, seen=Seen.SET)
    for hand, events in (
        (Hand.WRITTEN, 3),
        (Hand.WRITTEN, 3),
        (Hand.PRINTED, 4),
        (Hand.PRINTED, 4),
    ):
        assert farm.do(Label(lot=farm.last, hand=hand, at=farm.at)) is None
        assert farm.stock.sequence == events
    farm.recall(farm.last, "soft lids")
    no = farm.do(Label(lot=farm.last, hand=Hand.WRITTEN, at=farm.at))
    assert isinstance(no, Refusal)
    assert no.reason.endswith("was recalled: soft lids")
    assert "checks are in" not in no.instead  # no check would end it


def test_a_process_is_not_typed_in_over_one_that_is_there():
    farm = Farm()
    farm.made("8 half-pints plum jelly, pantry", process_min=8)
    assert "in the record already" in late(farm, at(8, 0), at(8, 20)).reason


def test_saying_it_twice_books_it_once():
    farm = forgotten("gooseberry jam", "jam")
    farm.later(1)
    asked = Process(
        lot=farm.last,
        began=at(8, 40),
        ended=at(8, 51),
        who="Bram",
        at=farm.at,
        token="one",
    )
    farm.do(asked)
    assert decide(farm.stock, asked) == ()


def test_a_lot_of_another_thing_has_no_process_and_no_label():
    farm = Farm()
    for sentence in (
        "5 lb sugar, pantry",
        "6 quart jars pears, pantry, from Mill Shop",
    ):
        farm.add(sentence)
        assert (
            "no lot of jars that was filled here"
            in late(farm, at(8, 40), at(8, 51)).reason
        )
    sugar = next(iter(farm.stock.lots))
    no = farm.do(Label(lot=sugar, hand=Hand.PRINTED, at=farm.at))
    assert "no lot of jars that was filled here" in no.reason


def test_a_hold_says_which_jars_of_its_load_went_to_others():
    farm = Farm()
    farm.made("8 half-pints plum jelly, pantry", load=3, out_at="08:00")
    jelly = farm.last
    farm.made("6 pints plum jam, pantry", load=3, out_at="08:00", food="jam")
    farm.later(25)
    for code, good in ((jelly, 8), (farm.last, 6)):
        farm.do(Check(lot=code, good=good, failed=0, seen=Seen.SET, at=farm.at))
    assert farm.take(jelly, "8", Way.SOLD, to="stand") is None
    assert farm.take(farm.last, "1", Way.EATEN) is None
    farm.do(Hold(lot=jelly, doubt=Doubt.WATER_LOW, at=farm.at))
    (held,) = (e for e in farm.stock.events if isinstance(e, Held))
    said = told(farm.stock, held)
    assert said.endswith(
        f"; 8 half-pints of {printed(jelly)} went to others: its recall sheet says "
        "whom to tell"
    )
    farm.do(Recall(lot=jelly, why="water low", at=farm.at))
    assert "went to others" not in told(farm.stock, held)
