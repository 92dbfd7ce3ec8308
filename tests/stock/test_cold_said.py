"""A place that may be cold or not, in older entries: said to be cold, by whom."""

from dataclasses import replace

import pytest

from stillroom.refusal import Refusal
from stillroom.stock.codec import to_entry
from stillroom.stock.commands import Mend, SayCold
from stillroom.stock.events import ColdSaid, Way
from stillroom.stock.first import use_first
from stillroom.stock.lacks import is_in_doubt
from stillroom.stock.lotcode import printed
from stillroom.stock.making import holds
from stillroom.stock.told import told
from stillroom.stock.warm import doubtful_places, stood_warm
from tests.stock.kitchen import Farm
from tests.stock.test_warm import COLD, moved


@pytest.fixture
def beets() -> Farm:
    """Eight pints that were put up for the cold; two stood in the icebox since."""
    farm = Farm()
    farm.made("8 pints pickled beets, refrigerator", food="pickle", **COLD)
    moved(farm, 2, "refrigerator", "icebox")
    return farm


def say(farm: Farm, place: str = "", cold: str = "refrigerator", who: str = "Bram"):
    asked = SayCold(lot=farm.last, place=place, cold=cold, who=who, at=farm.at)
    return farm.do(asked)


def test_a_doubtful_place_counts_as_warm_and_says_how_it_is_answered(beets: Farm):
    (why,) = holds(beets.stock, beets.last)
    assert f"stillroom stock cold {printed(beets.last)}" in why
    assert "icebox, which may be as cold as a refrigerator or may not" in why
    assert isinstance(beets.take(beets.last, "1", Way.EATEN, place="icebox"), Refusal)


def test_who_knows_that_it_was_cold_ends_the_hold_and_is_in_the_record(beets: Farm):
    moved(beets, 2, "icebox", "refrigerator")  # carrying it on answers nothing
    assert is_in_doubt(beets.stock, beets.last)
    assert say(beets) is None
    assert stood_warm(beets.stock, beets.last) is None
    assert holds(beets.stock, beets.last) == ()
    assert beets.take(beets.last, "1", Way.EATEN) is None
    event = next(e for e in beets.stock.events if isinstance(e, ColdSaid))
    assert "icebox was as cold as a refrigerator, Bram says" in told(beets.stock, event)
    assert to_entry(event).kind == "cold-said"


def test_what_was_said_is_taken_back_like_any_entry(beets: Farm):
    say(beets)
    beets.do(Mend(of=beets.stock.sequence, why="it was off", at=beets.at))
    assert is_in_doubt(beets.stock, beets.last)
    assert doubtful_places(beets.stock, beets.last) == ("icebox",)


@pytest.mark.parametrize("shelf", ["pantry", "cellar", "on top of the fridge"])
def test_no_shelf_is_said_to_have_been_cold(beets: Farm, shelf):
    moved(beets, 1, "icebox", shelf)
    assert "it is not asked whether" in say(beets, shelf).reason
    assert say(beets, "icebox") is None
    assert is_in_doubt(beets.stock, beets.last)  # one stood on a shelf all the same
    assert isinstance(beets.take(beets.last, "1", Way.EATEN, place=shelf), Refusal)
    assert "no place of" in say(beets).reason


def test_one_lot_is_answered_for_and_no_other(beets: Farm):
    say(beets)
    beets.made("3 pints pickled beets, refrigerator", food="pickle", **COLD)
    moved(beets, 3, "refrigerator", "icebox")
    assert is_in_doubt(beets.stock, beets.last)


@pytest.mark.parametrize(
    ("said", "words"),
    [
        ({"who": " "}, "who knows how cold icebox was"),
        ({"cold": "shelf"}, "is not how cold a place is"),
        ({"place": "fridge"}, "not asked whether fridge was cold"),
    ],
)
def test_what_is_not_said_whole_is_refused(beets: Farm, said, words):
    assert words in say(beets, **said).reason
    assert is_in_doubt(beets.stock, beets.last)


def test_which_of_two_places_is_asked(beets: Farm):
    moved(beets, 1, "refrigerator", "cold room")
    assert "which is meant" in say(beets).reason
    assert say(beets, "cold room") is None
    assert is_in_doubt(beets.stock, beets.last)
    assert say(beets) is None  # only one is left
    assert holds(beets.stock, beets.last) == ()


def test_jars_put_up_in_a_doubtful_place_without_a_process_are_asked_about_too():
    farm = Farm()
    said = {**COLD, "canned": True}
    farm.made("4 pints pickled beets, refrigerator", food="pickle", **said)
    made = farm.stock.event(farm.stock.sequence)
    old = Farm()
    old.stock.apply(replace(made, place="cooler"))
    assert "stock cold" in holds(old.stock, old.last)[0]
    assert use_first(old.stock, old.at) == ()
    assert say(old, "cooler") is None
    assert holds(old.stock, old.last) == ()


def test_no_word_makes_a_process_of_one_that_was_too_short():
    farm = Farm()
    farm.made("4 pints pickled beets, pantry", food="pickle", process_min=5, due_min=30)
    moved(farm, 4, "pantry", "cold room")
    assert say(farm) is None
    assert is_in_doubt(farm.stock, farm.last)
    assert isinstance(farm.take(farm.last, "1", Way.EATEN), Refusal)
