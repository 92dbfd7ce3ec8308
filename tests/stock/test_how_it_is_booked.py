"""From jars without a process to the entry that says they have one."""

import datetime as dt

import pytest

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


def test_low_acid_jars_are_sent_to_no_canner():
    farm = never_processed("green beans")
    no = farm.take(farm.last, "1", Way.EATEN)
    assert no.instead.startswith("discard it untasted")
    assert f"nobody booked that: {entry_of(farm)}" in no.instead


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


@pytest.mark.parametrize("hour", ["07:40", "09:00"])
def test_low_acid_food_out_of_an_oven_never_is(hour):
    farm = put_up("green beans", minutes=40, canner="oven")
    assert not open_of(farm.stock, farm.last, farm.at).how_booked
    again = AGAIN | {"filled_at": hour}
    no = farm.made("7 quarts green beans, pantry", (farm.last, "7"), **again)
    assert "untasted" in no.instead
