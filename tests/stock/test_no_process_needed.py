"""Dried goods and soap in jars are not called unprocessed; what was put up cold is."""

import datetime as dt

import pytest

from stillroom.refusal import Refusal
from stillroom.stock.after import open_of
from stillroom.stock.events import Way
from stillroom.stock.first import use_first
from stillroom.stock.keeps import keeps
from stillroom.stock.making import holds
from stillroom.stock.no_process_needed import is_canned, needs_no_process
from stillroom.stock.sentence import propose
from tests.stock.kitchen import Farm

DAY = dt.date(2026, 11, 25)


@pytest.mark.parametrize(
    ("what", "needs_none"),
    [
        *((n, True) for n in ("dried apples", "Dried mint", "dehydrated carrots")),
        *((n, True) for n in ("hand cream", "lard soap", "honey", "Cider Vinegar")),
        *((n, False) for n in ("dried beans", "dry beans", "dried tomatoes in oil")),
        *((n, False) for n in ("plum jelly", "honey jelly", "garlic vinegar", "lard")),
        *((n, True) for n in ("rice", "dry noodles", "dry corn", "dried soup mix")),
        *((n, True) for n in ("dried apples and pears", "popcorn", "Rolled Oats")),
        *((n, False) for n in ("dried lima beans", "noodles", "rice soup")),
        *((n, False) for n in ("dried apricot jam", "dried tomato pesto")),
        *((n, False) for n in ("green beans", "apples", "granny's mixture")),
    ],
)
def test_only_what_is_dry_or_no_food_stands_on_a_shelf_without_a_process(
    what, needs_none
):
    assert needs_no_process(what) is needs_none
    assert is_canned(what, "pint", "pantry") is not needs_none
    assert not is_canned(what, "pint", "freezer 2")


def test_a_jar_of_dry_goods_does_not_have_the_life_of_a_canned_one():
    farm = Farm()
    farm.made("3 pints honey, pantry", canned=False, process_min=None, food="")
    known = keeps(farm.stock.lots[farm.last], "pantry")
    assert (known.until, "no shelf life of honey" in known.words) == (None, True)


@pytest.fixture
def cold() -> Farm:
    """Eight pints put up for the refrigerator, without a process."""
    farm = Farm()
    farm.made(
        "8 pints pickled beets, refrigerator",
        canned=False,
        process_min=None,
        due_min=None,
        food="pickle",
    )
    return farm


def test_jars_put_up_for_the_cold_are_carried_to_no_shelf(cold: Farm):
    for to in ("pantry", "stand"):
        no = cold.move(cold.last, to, "2")
        assert isinstance(no, Refusal)
        assert "put up to be kept cold" in no.reason
        assert "--as eaten" in no.instead
    assert cold.move(cold.last, "freezer 2", "2") is None
    assert cold.take(cold.last, "1", place="refrigerator") is None
    counted = cold.count(cold.last, "3 pints", place="pantry")
    assert "put up to be kept cold" in counted.reason
    assert cold.count(cold.last, "6 pints", place="refrigerator") is None


def test_dry_goods_are_carried_where_they_are_wanted():
    farm = Farm()
    farm.made("3 pints dried apples, freezer", canned=False, process_min=None, food="")
    assert farm.move(farm.last, "pantry") is None


@pytest.mark.parametrize(
    ("what", "may_be"),
    [
        *((n, True) for n in ("dried beans", "dry beans", "pinto beans", "peas")),
        *((n, True) for n in ("dried green peas", "corn", "noodles", "dried herbs")),
        *((n, True) for n in ("dal", "mung dal", "seaweed", "almond meal")),
        *((n, False) for n in ("dal soup", "chicken dal", "cooked dal", "ready meal")),
        *((n, False) for n in ("seaweed salad", "tikka masala")),
        *((n, True) for n in ("sun-dried tomatoes", "oven dried pears")),
        *((n, False) for n in ("sun-dried tomatoes in oil", "sun-dried tomato pesto")),
        *((n, False) for n in ("green beans", "bean soup", "baked beans", "plums")),
        *((n, False) for n in ("beans in water", "soaked beans", "fresh peas")),
        *((n, False) for n in ("plum jelly", "dried beans in brine", "rice pudding")),
    ],
)
def test_kept_dry_is_believed_of_what_can_be_dry(what, may_be):
    assert needs_no_process(what, kept_dry=True) is may_be
    read = propose(f"3 quarts {what}, kept dry, pantry", today=DAY, as_jars=True)
    assert (read.thing is not None) is may_be
    if read.thing is None:
        assert "is not known as something that is kept dry" in read.faults[0]


@pytest.mark.parametrize(
    "sentence",
    [
        "3 quarts dried beans, kept dry, pantry",
        "3 quarts dried beans, dry, pantry",
        "3 quarts dried beans kept dry in the pantry",
        "3 quarts dried beans (stored dry), pantry",
        "3 quarts dried beans, dry in the jars, pantry",
    ],
)
def test_dry_beans_stand_on_a_shelf_where_they_are_said_to_be_dry(sentence):
    farm = Farm()
    farm.made(sentence, canned=False, process_min=None, food="")
    lot = farm.stock.lots[farm.last]
    assert (lot.what, lot.kept_dry) == ("dried beans", True)
    assert not is_canned(lot.what, "quart", "pantry", kept_dry=lot.kept_dry)
    assert holds(farm.stock, farm.last) == ()
    assert farm.move(farm.last, "stand", "1") is None
    assert farm.take(farm.last, "1", Way.EATEN, place="pantry") is None
    assert farm.take(farm.last, "1", Way.SOLD, place="stand") is None


@pytest.mark.parametrize(
    "what", ["dried beans", "pinto beans", "dried lima beans", "dried dal"]
)
def test_beans_of_which_that_was_not_said_are_held_and_told_how_to_say_it(what):
    farm = Farm()
    farm.made(f"3 quarts {what}, pantry", process_min=None, food="")
    (why,) = holds(farm.stock, farm.last)
    assert why.startswith(
        "it had no process: sealed is not processed; if it stands dry"
    )
    assert isinstance(farm.take(farm.last, "1", Way.EATEN), Refusal)
    farm.made(f"3 quarts {what}, pantry", process_min=None, food="", load=2)
    (of_a_load,) = holds(farm.stock, farm.last)
    assert of_a_load == "it had no process: sealed is not processed"


@pytest.mark.parametrize("batch", [{"process_min": 75}, {"load": 2}])
def test_what_is_kept_dry_was_in_no_canner(batch):
    farm = Farm()
    said = {"process_min": None, "canned": False, **batch}
    no = farm.made("3 quarts dried beans, kept dry, pantry", **said)
    assert "to be kept dry, and to have been in a canner" in no.reason


def test_honey_and_dry_beans_that_came_in_are_held_for_no_seals():
    farm = Farm()
    for sentence in ("6 pint jars honey", "6 pint jars dried beans kept dry"):
        farm.add(f"{sentence}, pantry")
        assert holds(farm.stock, farm.last) == ()
    farm.add("6 pint jars dried beans, pantry")
    assert holds(farm.stock, farm.last) != ()


@pytest.mark.parametrize(
    "what",
    [
        *("ham and beans", "boiled beans", "sprouted beans", "dried beef gravy"),
        *("chicken noodles", "creamed corn", "dry cottage cheese", "dry brined olives"),
        *("dried tomatoes marinated", "dried beans reconstituted", "fried rice"),
        *("dried apricots poached", "dry pack beans", "dilly beans", "mushy peas"),
    ],
)
def test_a_wet_dish_is_not_dry_by_words(what):
    assert not needs_no_process(what)
    assert not needs_no_process(what, kept_dry=True)


@pytest.mark.parametrize(
    "what", ["split peas", "dry milk", "dry soup mix", "popcorn", "dried dill"]
)
def test_dry_goods_are_believed_to_be_dry(what):
    assert needs_no_process(what, kept_dry=True)


def test_sun_dried_tomatoes_are_dry_only_where_somebody_says_so():
    # Much of what goes by that name lies in oil.
    assert not needs_no_process("sun-dried tomatoes")
    assert is_canned("sun-dried tomatoes", "pint", "pantry")
    assert not is_canned("sun-dried tomatoes", "pint", "pantry", kept_dry=True)


@pytest.mark.parametrize(
    "what", ["sun dried tomatoes", "dried beans", "air dried corn"]
)
def test_what_may_be_dry_is_asked_about_before_it_is_thrown_away(what):
    farm = Farm()
    said = {"process_min": None, "due_min": None, "food": ""}
    farm.made(f"3 quarts {what}, pantry", **said)
    lot = open_of(farm.stock, farm.last, farm.at)
    assert isinstance(lot.choices, Refusal)
    assert "words kept dry" in lot.choices.instead
    assert "discard it untasted" in lot.choices.instead
    assert not lot.all_to_discard
    for no in (farm.take(farm.last, "1", Way.EATEN), farm.move(farm.last, "stand")):
        assert "whether" in no.reason
    for way in (Way.SOLD, Way.GIVEN, Way.TASTED, Way.DRAWN):
        assert isinstance(farm.take(farm.last, "1", way), Refusal)
    assert use_first(farm.stock, farm.at) == ()


@pytest.mark.parametrize("what", ["sun dried tomatoes in oil", "green beans", "beef"])
def test_what_cannot_be_dry_is_not_asked_about(what):
    farm = Farm()
    farm.made(f"3 quarts {what}, pantry", process_min=None, due_min=None, food="")
    farm.later(3)
    assert open_of(farm.stock, farm.last, farm.at).all_to_discard


def test_what_was_in_a_canner_is_not_asked_whether_it_is_dry():
    farm = Farm()
    said = {"due_min": 75, "food": "", "load": 2, "canner": "dial-gauge"}
    farm.made("3 quarts dried beans, pantry", process_min=None, **said)
    farm.later(3)
    assert open_of(farm.stock, farm.last, farm.at).all_to_discard
