"""Rendered fat and dried meat on a shelf: held, not sold, and not told to be wasted."""

import datetime as dt

import pytest

from stillroom.refusal import Refusal
from stillroom.stock.after import day_after
from stillroom.stock.commands import Make
from stillroom.stock.events import Way
from stillroom.stock.kept_cold import LOW_ACID, kept_cold
from stillroom.stock.making import holds
from stillroom.stock.no_process_needed import is_canned, is_dried_meat
from stillroom.stock.put_up import batch_put_up, thing_made
from stillroom.stock.unprocessed import not_on_a_shelf
from tests.stock.kitchen import MORNING, Farm, thing

NONE = {"process_min": None, "due_min": None, "food": ""}


def farm_with(what: str, **batch) -> Farm:
    farm = Farm()
    farm.made(f"6 pints {what}, pantry", **{**NONE, **batch})
    return farm


def choices(farm: Farm) -> str:
    (load,) = day_after(farm.stock, farm.at)
    return " ".join(t.advice for t in load.lots[0].choices.troubles)


@pytest.mark.parametrize("what", ["lard", "beef tallow", "dried beef", "beef jerky"])
def test_what_is_kept_by_cold_goes_into_the_cold_and_is_not_discarded(what):
    farm = farm_with(what)
    assert "Refrigerate or freeze it for your own use" in choices(farm)
    assert "untasted" not in choices(farm)
    assert holds(farm.stock, farm.last)
    no = not_on_a_shelf(farm.stock, farm.last, "pantry", farm.at)
    assert "into the refrigerator" in no.instead
    assert farm.take(farm.last, "1", Way.EATEN) is not None  # not from the shelf
    farm.later(40)
    assert farm.move(farm.last, "fridge") is None
    assert farm.take(farm.last, "1", Way.EATEN) is None
    assert farm.take(farm.last, "1", Way.SOLD) is not None


def test_a_hold_of_rendered_fat_says_that_it_is_kept_cold():
    farm = farm_with("lard")
    assert holds(farm.stock, farm.last) == (
        "no process is published for it, sealed or not: it is kept cold",
    )


@pytest.mark.parametrize("what", ["lard and beans", "beef in lard", "green beans"])
def test_what_only_has_fat_in_it_is_low_acid_as_before(what):
    farm = farm_with(what)
    farm.later(3)
    assert kept_cold(farm.stock, farm.last) == LOW_ACID
    assert "Discard it untasted" in choices(farm)
    farm.move(farm.last, "fridge")
    assert farm.take(farm.last, "1", Way.EATEN) is not None


def test_dried_meat_that_saw_a_canner_was_in_water_and_is_low_acid():
    farm = farm_with("dried beef", process_min=10, canner="boiling-water")
    assert kept_cold(farm.stock, farm.last) == LOW_ACID
    assert farm.take(farm.last, "1", Way.EATEN) is not None


def test_dried_meat_stands_on_a_shelf_only_where_it_is_said_to_be_dry():
    assert is_canned("dried fish", "pint", "pantry")
    assert not is_canned("dried fish", "pint", "pantry", kept_dry=True)
    assert thing("6 pints beef jerky kept dry, pantry", as_jars=True).kept_dry
    for dry in ("dried chicken soup mix", "dried apples", "beef broth powder"):
        assert not is_dried_meat(dry)


@pytest.mark.parametrize(
    ("sentence", "is_held"),
    [
        ("3 bottles chicken broth, pantry", True),
        ("3 bottles chicken broth, refrigerator", False),
        ("3 bottles plum wine, pantry", False),
        ("3 bottles cider vinegar, pantry", False),
        ("3 bottles pepper vinegar, pantry", False),
    ],
)
def test_broth_in_bottles_is_no_better_off_than_in_jars(sentence, is_held):
    farm = Farm()
    farm = Farm()
    said = thing_made(thing(sentence), farm.at.date())
    batch = batch_put_up(
        said, process_min=None, canner="boiling-water", elevation_ft=None
    )
    asked = Make(thing=said, inputs=(), batch=batch, on=farm.at.date(), at=farm.at)
    assert farm.do(asked) is None
    no = farm.take(farm.last, "1", Way.EATEN)
    assert isinstance(no, Refusal) is is_held


JAM = {"process_min": 0, "food": "jam", "filled_at": "09:00", "out_at": "09:10"}


@pytest.mark.parametrize("process_min", [0, 5])
def test_a_jam_without_a_process_is_eaten_from_the_cold_only_if_it_came_in_time(
    process_min,
):
    """The milder reply ends at 24 h; after a week on a shelf a fridge mends nothing."""
    for hours, is_eaten in ((23, True), (25, False), (24 * 7, False)):
        farm = Farm()
        farm.at += dt.timedelta(minutes=10)
        made = farm.made(
            "8 half-pints plum jam, pantry",
            **{**JAM, "process_min": process_min, "due_min": 10},
        )
        assert made is None
        farm.at = MORNING + dt.timedelta(hours=hours)
        on_its_shelf = farm.take(farm.last, "1", Way.EATEN)
        assert ("for your own use" in on_its_shelf.instead) is is_eaten
        assert ("closed and uneaten" in on_its_shelf.instead) is not is_eaten
        assert farm.move(farm.last, "fridge") is None
        no = farm.take(farm.last, "1", Way.EATEN)
        assert (no is None) is is_eaten
        if no is not None:
            assert "not in the cold within 24 h" in no.reason
            assert "--on DAY --clock TIME" in no.instead
        farm.later(24 * 30)
        assert (farm.take(farm.last, "1", Way.EATEN) is None) is is_eaten


@pytest.mark.parametrize(("hours", "is_in_time"), [(5, True), (25, False)])
def test_jam_in_the_cold_is_told_to_be_discarded_only_if_it_came_late(
    hours, is_in_time
):
    """What is eaten from a refrigerator was to be held uneaten, said `stock move`."""
    farm = Farm()
    farm.at += dt.timedelta(minutes=10)
    farm.made("8 half-pints plum jam, pantry", **JAM)
    farm.later(hours)
    assert farm.move(farm.last, "refrigerator") is None
    farm.later(24 * 6)
    no = farm.move(farm.last, "pantry")
    assert ("leave it in the cold, for your own use" in no.instead) is is_in_time
    assert ("uneaten" in no.instead) is not is_in_time
    said = choices(farm)
    stays = "and was in the refrigerator or freezer within 24 h"
    assert (stays in said) is is_in_time
    assert ("may stay there, for your own use. The strict reply" in said) is is_in_time
    eaten = farm.take(farm.last, "1", Way.EATEN, place="refrigerator")
    assert (eaten is None) is is_in_time


def test_jam_of_which_some_stands_warm_is_told_of_in_after_as_all_of_it():
    farm = Farm()
    farm.at += dt.timedelta(minutes=10)
    farm.made("8 half-pints plum jam, pantry", **JAM)
    farm.move(farm.last, "refrigerator", "4")
    farm.later(24 * 6)
    assert "may stay there" not in choices(farm)
    no = farm.move(farm.last, "cellar", "1", "refrigerator")
    assert "leave it in the cold" in no.instead


def test_jam_that_stood_too_long_is_not_told_from_what_it_was_put_beside():
    farm = Farm()
    farm.at += dt.timedelta(minutes=10)
    farm.made("8 half-pints plum jam, pantry", **JAM)
    farm.move(farm.last, "fridge", "4")
    assert farm.take(farm.last, "1", Way.EATEN, place="fridge") is None
    farm.later(30)
    assert farm.take(farm.last, "1", Way.EATEN, place="fridge") is None
    assert farm.move(farm.last, "fridge", "1", "pantry") is None
    assert farm.take(farm.last, "1", Way.EATEN, place="fridge") is not None
    assert farm.count(farm.last, "2", "freezer") is None  # found there: since when?
    assert farm.take(farm.last, "1", Way.EATEN, place="freezer") is not None


def test_jam_that_was_put_into_the_cold_at_once_is_eaten_from_wherever_it_is_cold():
    farm = Farm()
    farm.at += dt.timedelta(minutes=10)
    farm.made("8 half-pints plum jam, fridge", **JAM)
    farm.later(24 * 9)
    farm.move(farm.last, "freezer", "4")
    assert farm.take(farm.last, "1", Way.EATEN, place="freezer") is None
    assert farm.count(farm.last, "2", "freezer 2") is None  # of those in the cold
    assert farm.move(farm.last, "fridge 3", "2", "freezer 2") is None
    assert farm.take(farm.last, "1", Way.EATEN, place="fridge 3") is None


@pytest.mark.parametrize(
    "to", ["fridge yesterday", "fridge Sunday", "fridge 3 March 2026"]
)
def test_a_day_beside_the_place_of_a_move_is_told_where_it_goes(to):
    """It was the name of a refrigerator, and the jam came there a day too late."""
    farm = Farm()
    farm.at += dt.timedelta(minutes=10)
    farm.made("8 half-pints plum jam, pantry", **JAM)
    no = farm.move(farm.last, to)
    assert "beside the place" in no.reason
    assert "--on DAY and --clock TIME" in no.instead
    assert "name the place alone, fridge" in no.instead
    assert farm.move(farm.last, "fridge") is None
