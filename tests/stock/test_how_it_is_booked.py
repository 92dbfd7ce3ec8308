"""From jars without a process to the entry that says they have one."""

import datetime as dt

import pytest

from stillroom.refusal import Refusal
from stillroom.stock.after import open_of
from stillroom.stock.commands import Process
from stillroom.stock.events import Way
from stillroom.stock.lacks import Lack, is_in_doubt, lack_of
from stillroom.stock.lotcode import printed
from tests.stock.kitchen import Farm
from tests.stock.test_lacks import deeds, put_up

AGAIN = {"food": "fruit", "process_min": 25, "due_min": 25, "filled_at": "09:00"}


def never_processed(what: str) -> Farm:
    """Eight quarts, filled at 7:30; it is 9:00."""
    canner = "dial-gauge" if what == "green beans" else "boiling-water"
    return put_up(what, minutes=None, canner=canner, pack="hot", out_at="")


def entry_of(farm: Farm) -> str:
    said = f"{printed(farm.last)} --began TIME --ended TIME --who NAME"
    return f"stillroom stock process {said}"


def process(farm: Farm, began: dt.datetime, minutes: int):
    ended = began + dt.timedelta(minutes=minutes)
    asked = Process(lot=farm.last, began=began, ended=ended, who="Ada", at=farm.at)
    return farm.do(asked)


def test_acid_jars_within_their_hours_are_sent_to_the_canner_as_the_same_lot():
    farm = never_processed("peaches")
    assert deeds(farm) == {"reprocess"}
    no = farm.made("8 quarts peaches, pantry", (farm.last, "8"), **AGAIN)
    assert no.instead.startswith("within 2 h of its filling put it through a canner")
    assert entry_of(farm) in no.instead
    assert entry_of(farm) in farm.take(farm.last, "1", Way.EATEN).instead
    assert entry_of(farm) in farm.move(farm.last, "stand").instead
    assert entry_of(farm) in open_of(farm.stock, farm.last, farm.at).how_booked
    began = farm.at + dt.timedelta(minutes=5)
    farm.later(1)  # 10:00: what the refusal named is done, and leads out of it
    assert process(farm, began, 30) is None
    assert lack_of(farm.stock, farm.last) is None
    assert farm.take(farm.last, "1", Way.EATEN) is None
    assert not open_of(farm.stock, farm.last, farm.at).how_booked


def test_after_their_hours_they_are_discarded_unless_it_was_not_booked():
    farm = never_processed("peaches")
    farm.later(1)
    no = farm.take(farm.last, "1", Way.EATEN)
    assert no.instead.startswith("discard it, or hold it in the refrigerator")
    assert f"nobody booked that: {entry_of(farm)}" in no.instead
    late = process(farm, farm.at - dt.timedelta(minutes=28), 27)  # 9:32
    assert "had stood 2.0 h when that process began" in late.reason
    assert "filled anew" in late.instead
    assert process(farm, farm.at - dt.timedelta(minutes=31), 30) is None  # 9:29
    assert not is_in_doubt(farm.stock, farm.last)


def test_low_acid_jars_are_told_the_strict_answer_and_what_may_be_done_until_then():
    """They were told to be discarded from the first minute, and canned at the stove."""
    farm = never_processed("green beans")
    for no in (
        farm.take(farm.last, "1", Way.EATEN),
        farm.move(farm.last, "stand"),
    ):
        said = no.instead
        assert said.startswith("2 h after its filling, from 9:30 on, discard it")
        assert said.index("discard it untasted") < said.index("Until then")
        assert (
            "under pressure unless boiling water is printed for it, and book " in said
        )
        assert entry_of(farm) in said
        assert f"stillroom stock move {printed(farm.last)} PLACE" in said
    lot = open_of(farm.stock, farm.last, farm.at)
    assert lot.choices.left(farm.at) == dt.timedelta(minutes=30)
    (soon,) = lot.choices.troubles
    assert soon.then.index("discard it untasted") < soon.then.index("Until then")
    farm.later(1)
    late = farm.take(farm.last, "1", Way.EATEN).instead
    assert late.startswith("discard it untasted")
    assert f"nobody booked that: {entry_of(farm)}" in late
    assert deeds(farm) == {"discard"}


def test_where_no_hour_was_said_two_hours_are_said_to_count_from_the_booking():
    farm = put_up("green beans", minutes=None, filled_at="", out_at="")
    choices = open_of(farm.stock, farm.last, farm.at).choices
    assert choices.since == "no hour was said: counted from when it was booked"
    assert farm.move(farm.last, "refrigerator") is None
    assert isinstance(farm.take(farm.last, "1", Way.EATEN), Refusal)  # since when?


@pytest.mark.parametrize("what", ["green beans", "chicken soup", "figs"])
def test_low_acid_jars_that_were_cold_within_two_hours_are_eaten_for_days(what):
    farm = put_up(what, minutes=None, canner="dial-gauge", pack="hot", out_at="")
    assert farm.move(farm.last, "refrigerator") is None
    assert farm.take(farm.last, "1", Way.EATEN) is None
    farm.later(24)
    said = open_of(farm.stock, farm.last, farm.at).choices
    assert "in the cold within 2 h of its filling" in said.reason
    assert "eaten within 3 to 4 days" in said.instead
    no = farm.move(farm.last, "pantry")
    assert no.instead.startswith("leave it in the cold")
    assert farm.take(farm.last, "1", Way.SOLD) is not None
    assert farm.take(farm.last, "1", Way.EATEN) is None
    farm.later(24 * 3)
    assert "was 4 days out of a freezer" in farm.take(farm.last, "1", Way.EATEN).reason
    assert deeds(farm) == {"discard"}


def test_low_acid_jars_that_came_into_the_cold_later_are_eaten_from_nowhere():
    farm = never_processed("green beans")
    farm.later(0.51)
    assert farm.move(farm.last, "refrigerator") is None
    no = farm.take(farm.last, "1", Way.EATEN)
    assert no.instead.startswith("discard it untasted")


def test_acid_food_out_of_an_oven_is_put_up_anew_within_its_hours():
    farm = put_up("peaches", minutes=40, canner="oven")
    assert lack_of(farm.stock, farm.last) is Lack.REFUSED
    assert deeds(farm) == {"reprocess"}
    old = farm.last
    lot = open_of(farm.stock, old, farm.at)
    assert lot.choices.left(farm.at) == dt.timedelta(minutes=30)  # filled at 7:30
    assert printed(old) in lot.how_booked
    farm.later(1)
    assert farm.made("7 quarts peaches, pantry", (old, "7"), **AGAIN) is None
    late = AGAIN | {"filled_at": "09:45"}
    assert farm.made("1 quart peaches, pantry", (old, "1"), **late) is not None


@pytest.mark.parametrize("canner", ["oven", "boiling-water"])
def test_low_acid_food_out_of_no_pressure_is_put_up_anew_within_its_hours(canner):
    farm = put_up("green beans", minutes=40, canner=canner)
    old = farm.last
    assert lack_of(farm.stock, old) is Lack.REFUSED
    lot = open_of(farm.stock, old, farm.at)
    assert deeds(farm) == {"reprocess"}
    assert lot.choices.left(farm.at) == dt.timedelta(minutes=30)  # filled at 7:30
    assert printed(old) in lot.how_booked
    assert f"--from {printed(old)}=QUANTITY" in farm.take(old, "1", Way.EATEN).instead
    late = AGAIN | {"filled_at": "09:45"}
    farm.later(1)
    no = farm.made("7 quarts green beans, pantry", (old, "7"), **late)
    assert "untasted" in no.instead
    assert farm.made("7 quarts green beans, pantry", (old, "7"), **AGAIN) is None
