"""How cold a place is by its name; what may be either is asked and never guessed."""

import datetime as dt

import pytest

from stillroom.refusal import Refusal
from stillroom.stock.commands import Receive
from stillroom.stock.events import Way
from stillroom.stock.how_cold import Cold, cold_of, not_if_unsure
from stillroom.stock.making import holds
from stillroom.stock.no_process_needed import is_canned
from stillroom.stock.sentence import propose
from tests.stock.kitchen import Farm, thing

FREEZER, REFRIGERATOR, SHELF = Cold.FREEZER, Cold.REFRIGERATOR, Cold.SHELF


@pytest.mark.parametrize(
    ("place", "cold"),
    [
        ("freezer 2", FREEZER),
        ("Freezer2", FREEZER),
        ("deep freeze", FREEZER),
        ("Deep-Freeze in the garage", FREEZER),
        ("deepfreeze", FREEZER),
        ("deep freezer", FREEZER),
        ("chest freezer", FREEZER),
        ("garagefreezer", FREEZER),
        ("freezer over the fridge", FREEZER),
        ("top shelf of the freezer", FREEZER),
        ("fridge", REFRIGERATOR),
        ("old fridge in the barn", REFRIGERATOR),
        ("minifridge", REFRIGERATOR),
        ("refridgerator", REFRIGERATOR),
        ("fridge, crisper", REFRIGERATOR),
        ("walk-in cooler", REFRIGERATOR),
        ("fridge by the door", REFRIGERATOR),
        ("fridge, by the freezer", REFRIGERATOR),
        ("icebox (refrigerator)", REFRIGERATOR),
        ("back of the fridge", REFRIGERATOR),
        ("root cellar", SHELF),
        ("cold porch", SHELF),
        ("springhouse", SHELF),
        ("on top of the fridge", SHELF),
        ("fridge top", SHELF),
        ("shelf over the chest freezer", SHELF),
        ("by the big freezer", SHELF),
        ("cupboard beside the refrigerator", SHELF),
        ("not in the fridge", SHELF),
        ("broken freezer", SHELF),
        ("freezer (unplugged)", SHELF),
        ("freezer jars", SHELF),
        ("unrefrigerated", SHELF),
        ("icebox", SHELF),
        ("cold room", SHELF),
        ("wine fridge", SHELF),
    ],
)
def test_a_place_is_cold_only_where_its_name_says_so(place, cold):
    assert cold_of(place) is cold


@pytest.mark.parametrize(
    "place",
    [
        *("icebox", "the ice box", "cooler", "stand cooler", "cold room", "walk-in"),
        *("wine fridge", "fridge top", "cold storage 2"),
    ],
)
def test_what_may_be_either_is_asked_and_each_answer_is_understood(place):
    asked = not_if_unsure(place)
    assert "may be a refrigerator, a freezer or neither" in asked.reason
    for word, cold in (
        ("refrigerator", REFRIGERATOR),
        ("freezer", FREEZER),
        ("shelf", SHELF),
    ):
        answer = f"{place} ({word})"
        assert f'"{answer}"' in asked.instead
        assert not_if_unsure(answer) is None
        assert cold_of(answer) is cold


@pytest.mark.parametrize("place", ["walk-in pantry", "root cellar", "fridge", "stand"])
def test_what_is_sure_is_not_asked(place):
    assert not_if_unsure(place) is None


def test_jars_in_a_deep_freeze_are_not_told_to_be_thrown_away():
    farm = Farm()
    farm.made("6 half-pints freezer jam, deep freeze", canned=False, process_min=None)
    assert not is_canned("freezer jam", "half-pint", "deep freeze")
    assert holds(farm.stock, farm.last) == ()
    assert farm.take(farm.last, "1", Way.EATEN) is None


def test_jars_put_up_cold_do_not_go_on_top_of_the_fridge():
    farm = Farm()
    farm.made("6 half-pints fig jam, fridge", canned=False, process_min=None)
    assert "put up to be kept cold" in farm.move(farm.last, "top of the fridge").reason
    assert farm.move(farm.last, "chest freezer") is None


def test_nothing_comes_to_a_place_that_is_not_sure():
    farm = Farm()
    figs = farm.add("9 lb figs, fridge")
    before = farm.stock.sequence
    for no in (
        farm.do(Receive(things=(thing("9 lb plums, icebox"),), at=farm.at)),
        farm.made("6 half-pints fig jam, icebox", canned=False, process_min=None),
        farm.move(figs, "icebox"),
    ):
        assert isinstance(no, Refusal)
        assert "'icebox' may be" in no.reason
    assert farm.stock.sequence == before


@pytest.mark.parametrize(
    "place", ["deep freeze", "deep-freeze 2", "icebox", "walk-in cooler", "crisper"]
)
def test_a_sentence_knows_the_places_of_the_trade(place):
    assert thing(f"9 lb figs, {place}").place == place
    assert thing(f"9 lb figs in the {place}").place == place


@pytest.mark.parametrize(
    "place",
    [
        *("on the fridge", "pantry or fridge", "pantry/fridge", "pantry, fridge full"),
        *("freezer shed", "counter (fridge tomorrow)", "old freezer used as cupboard"),
    ],
)
def test_what_may_be_beside_it_or_elsewhere_is_asked(place):
    assert cold_of(place) is Cold.SHELF
    assert not_if_unsure(place) is not None
    assert not_if_unsure(f"{place} (shelf)") is None
    assert cold_of(f"{place} (refrigerator)") is Cold.REFRIGERATOR


@pytest.mark.parametrize(
    "place",
    [
        *("fridge not working", "former fridge", "warm fridge", "refrigerator broke"),
        *("out of the freezer", "shelf next to my sister's old chest freezer"),
        *(
            "pantry across from fridge",
            "pantry left of fridge",
            "between fridge and wall",
        ),
    ],
)
def test_what_is_not_cold_or_not_in_it_is_a_shelf(place):
    assert cold_of(place) is Cold.SHELF


def test_on_the_fridge_stays_so_in_a_sentence():
    day = dt.date(2026, 11, 25)
    for said in ("8 pints pickled beets on the fridge", "8 pints beets, on the fridge"):
        assert propose(said, today=day, as_jars=True).thing.place == "on the fridge"


@pytest.mark.parametrize(
    "place",
    [
        *("under the stairs in the freezer", "next to the milk in the fridge"),
        *("freezr", "the freezr", "deep frezze", "refrigirator", "frdge 2"),
        *("fridge corner", "freezer aisle", "fridge end of the pantry"),
        *("freezer side of the barn", "the fridge side of the kitchen"),
        *("freezer far wall", "at the fridge", "at my old deep freezer"),
        *("barn shelf up to the fridge", "freezer hallway", "fridge lid"),
        *("in front of the freezer", "in sight of the fridge", "freezer-side shelf"),
        *("freezer bench", "freezer garage", "freezer larder", "freezer barn"),
        "freezer adjacent shelf",
    ],
)
def test_what_is_beside_it_or_misspelt_is_asked_and_answers_are_understood(place):
    assert cold_of(place) is Cold.SHELF
    assert not_if_unsure(place) is not None
    for word, cold in (("freezer", FREEZER), ("fridge", REFRIGERATOR)):
        assert cold_of(f"{place} ({word})") is cold
        assert not_if_unsure(f"{place} ({word})") is None
    assert not_if_unsure(f"{place} (shelf)") is None
    assert cold_of(f"{place} (shelf)") is Cold.SHELF


@pytest.mark.parametrize(
    ("place", "cold"),
    [
        ("freezer in the corner", FREEZER),
        ("freezer by the cellar wall", FREEZER),
        ("freezer bin 3", FREEZER),
        ("freezer in the garage", FREEZER),
        ("garage freezer", FREEZER),
        ("front freezer", FREEZER),
        ("nearby freezer", SHELF),
        ("upon the freezer", SHELF),
        ("fridge door", REFRIGERATOR),
        ("freezer side", FREEZER),
        ("freezer side of the fridge", FREEZER),
        ("fridge left side", REFRIGERATOR),
        ("to the fridge", REFRIGERATOR),
        ("bridge room", SHELF),
        ("free shelf", SHELF),
        ("shelf next to the fridge", SHELF),
        ("no longer in the freezer", SHELF),
        ("out of what was in the fridge", SHELF),
    ],
)
def test_what_leaves_no_doubt_is_not_asked(place, cold):
    assert cold_of(place) is cold
    assert not_if_unsure(place) is None


def test_a_misspelt_freezer_is_a_place_in_a_sentence_and_asked_about():
    farm = Farm()
    before = farm.stock.sequence
    asked = farm.do(Receive(things=(thing("9 lb plums, freezr"),), at=farm.at))
    assert "'freezr' may be a refrigerator, a freezer or neither" in asked.reason
    assert farm.stock.sequence == before
