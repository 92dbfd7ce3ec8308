"""Cooked food that is not acid, loose on a shelf: its caution, and its hours."""

import datetime as dt

import pytest

from stillroom.refusal import Refusal
from stillroom.stock.commands import Make
from stillroom.stock.cooked import (
    COOKED_WARM_H,
    JUICE_WARM_H,
    cooked_and_warm,
    cooked_caution,
)
from stillroom.stock.events import Kind, Way
from stillroom.stock.first import use_first
from stillroom.stock.put_up import batch_put_up, thing_made
from stillroom.stock.sentence import propose
from tests.stock.kitchen import MORNING, Farm, thing


def cooked(sentence: str) -> Farm:
    farm = Farm()
    loose = thing_made(thing(sentence, as_jars=True), farm.at.date())
    batch = batch_put_up(
        loose, process_min=None, canner="boiling-water", elevation_ft=1017
    )
    assert loose.kind is Kind.HALF_MADE
    asked = Make(thing=loose, inputs=(), batch=batch, on=farm.at.date(), at=farm.at)
    assert farm.do(asked) is None
    return farm


def first(farm: Farm) -> list[str]:
    return [row.what for row in use_first(farm.stock, farm.at)]


@pytest.mark.parametrize(
    "sentence",
    [
        *("2 crocks chicken soup, cellar", "3 tubs beef stew, pantry"),
        *("8 cups gravy, loft", "3 bags chicken soup, porch"),
    ],
)
def test_what_stood_on_a_shelf_for_its_hours_is_on_no_list_and_eaten_by_nobody(
    sentence,
):
    farm = cooked(sentence)
    code, amount = farm.last, "1 cup" if "cups" in sentence else "1"
    farm.at += dt.timedelta(hours=COOKED_WARM_H)
    assert len(first(farm)) == 1
    farm.at += dt.timedelta(minutes=1)
    assert first(farm) == []
    for way in (Way.EATEN, Way.TASTED, Way.DRAWN, Way.SOLD, Way.GIVEN):
        no = farm.take(code, amount, way)
        assert isinstance(no, Refusal), way
        assert "longer than 2 h" in no.reason
    assert farm.move(code, "refrigerator") is None
    assert first(farm) == []  # the cold that came later mends nothing
    assert farm.take(code, amount, Way.SPOILED) is None


def test_what_came_into_the_cold_in_time_is_eaten_from_there():
    farm = cooked("2 crocks chicken soup, cellar")
    farm.at += dt.timedelta(hours=1)
    assert farm.move(farm.last, "refrigerator") is None
    farm.at += dt.timedelta(days=2)
    assert first(farm) == ["chicken soup"]
    assert farm.take(farm.last, "1 crock", Way.EATEN) is None


DRY_OR_NO_DISH = (
    *("dried chili", "dried vegetable soup", "coffee dark roast", "green chili"),
    *("dry curry", "chicken bouillon", "powdered chicken stock", "red chili"),
    *("powdered beef broth", "instant bean soup", "baked bread", "baked apples"),
    *(
        "leftover plum jelly",
        "mashed strawberries",
        "fresh-baked muffins",
        "canned baked beans",
        "potatoes",
        "dried beans",
    ),
    *("freeze-dried beef stew", "beef and vegetable soup mix", "serrano chili"),
    *("chilies", "chili powder", "fresh chili", "chili sauce", "chili flakes"),
    *("lasagna noodles", "macaroni", "spaghetti squash", "salad greens", "fruit salad"),
    *("apple pie", "roasted pumpkin seeds", "stuffed olives", "pie pumpkins"),
    *("macaroni and cheese mix", "taco seasoning", "boiled cider", "creamed honey"),
)
CALLED_AFTER_MEAT = (
    *("duck eggs", "brown turkey figs", "oyster mushrooms", "beef tomatoes"),
    *("chicken eggs", "beef tallow", "cod liver oil", "lamb's lettuce", "fish pepper"),
    *("rabbit pellets", "turkey rub"),
    *("beef stock cubes", "chicken of the woods", "lamb's quarters", "goat cheese"),
)
STILL_MINDED = (
    *("chili con carne", "black bean chili", "beef stew with dumplings", "pot roast"),
    *("chicken and noodle soup", "dried bean soup", "sausage and peppers"),
    *("dry-cured ham soup", "dried fruit soup", "white chili", "leftover chili"),
    *("dehydrated bean soup", "dried beef stew"),
    *("beef cubes", "bone-in pork chops", "beef stuffed peppers", "tuna in oil"),
    *("chicken breasts", "oysters", "chicken quarters", "curry"),
    *("baked beans", "mashed potatoes", "refried beans", "meatballs", "tamales"),
    *("steamed broccoli", "leftover roast beef"),
    *("potato salad", "lasagna", "egg salad", "coleslaw", "macaroni salad", "hummus"),
    *("macaroni and cheese", "mac & cheese", "spaghetti with meatballs", "burritos"),
    *("hard-boiled eggs", "fried rice", "roasted vegetables", "stuffed peppers"),
    *("pumpkin pie", "shepherd's pie", "mushroom risotto", "pot pie", "creamed corn"),
    *("homemade chili", "homemade red chili", "mom's chili", "Texas chili", "chili"),
)


@pytest.mark.parametrize(
    ("sentence", "is_minded"),
    [
        ("2 crocks chicken soup, cellar", True),
        ("8 cups bone broth, pantry", True),
        ("1 crock homemade chili, cellar", True),
        ("1 crock homemade chili, fridge", False),
        ("2 crocks chicken soup, fridge", False),
        ("8 cups chicken stock, freezer", False),
        ("2 crocks sauerkraut, cellar", False),
        ("25 lb green beans, cellar", False),
        ("8 cups apple butter, kitchen", False),
        ("4 lb smoked ham, attic", False),
        ("5 lb ground beef, pantry", True),
        ("5 lb ground beef, freezer", False),
        ("3 bags chicken soup, pantry", True),
        ("2 pieces whole chickens, porch", True),
        ("2 pieces whole chickens, barn", True),
        ("3 chickens, pantry", True),
        ("2 gallons milk, porch", True),
        ("4 cups cream, kitchen", True),
        ("2 gallons milk, fridge", False),
        ("3 lb powdered milk, pantry", False),
        ("4 cups coconut milk, pantry", False),
        ("4 containers chicken stock, pantry", True),
        ("1 pan lasagna, porch", True),
        ("1 pot of soup, kitchen", True),
        ("2 rings of sausage, cellar", True),
        ("6 cartons chicken broth, pantry", False),
        ("3 chickens, coop", False),
        ("1 goat, barn", False),
        ("5 lb ground beef, barn", True),
        ("3 bags chicken soup, freezer", False),
        ("2 rolls ground beef, pantry", True),
        ("2 bags beef jerky, pantry", False),
        ("2 bags dried beans, pantry", False),
        ("2 lb beef jerky, pantry", False),
        ("5 lb pork fat, pantry", False),
        ("10 lb goose berries, pantry", False),
        ("8 cups green tomato chutney curry, pantry", False),
        *((f"12 oz {what}, pantry", True) for what in STILL_MINDED),
        *((f"12 oz {what}, pantry", False) for what in DRY_OR_NO_DISH),
        *((f"12 oz {what}, pantry", False) for what in CALLED_AFTER_MEAT),
    ],
)
def test_it_is_minded_before_it_is_booked(sentence, is_minded):
    remarks = propose(sentence, today=MORNING.date()).remarks
    assert any("out of the cold for 2 h" in words for words in remarks) is is_minded
    if not is_minded:
        farm = cooked(sentence)
        farm.at += dt.timedelta(days=2)
        assert len(first(farm)) == 1


def test_meat_that_came_in_to_a_shelf_is_cautioned_where_it_is_listed_to_eat():
    farm = Farm()
    farm.add("5 lb ground beef, pantry")
    (row,) = use_first(farm.stock, farm.at)
    assert row.remarks[0].startswith("fresh meat and fish may stand out of the cold")
    assert farm.move(farm.last, "freezer") is None
    (row,) = use_first(farm.stock, farm.at)
    assert row.remarks == ()


@pytest.mark.parametrize(
    "what", ["chili con carne", "beef stew with dumplings", "pot roast"]
)
def test_a_dish_that_is_named_with_what_is_in_it_has_its_hours_too(what):
    farm = cooked(f"2 crocks {what}, cellar")
    farm.at += dt.timedelta(hours=COOKED_WARM_H, minutes=1)
    assert first(farm) == []
    assert isinstance(farm.take(farm.last, "1 crock", Way.EATEN), Refusal)


def test_pasta_in_a_tub_is_minded_and_no_more_where_it_is_said_to_be_dry():
    (said,) = propose("1 tub macaroni, pantry", today=MORNING.date()).remarks
    assert said.startswith("cooked food that is not acid may stand out of the cold")
    assert '"kept dry"' in said
    assert (
        propose("1 tub macaroni, kept dry, pantry", today=MORNING.date()).remarks == ()
    )
    farm = Farm()
    farm.add("1 tub noodles, pantry, kept dry")
    (row,) = use_first(farm.stock, farm.at)
    assert row.remarks == ()


def test_what_is_no_food_is_no_dish():
    for what in ("soap stock", "seed stock", "chicken wire", "fish emulsion"):
        assert cooked_caution(what, "pantry", "") == ""


@pytest.mark.parametrize(
    ("sentence", "amount"),
    [
        ("7 cups applesauce, cellar, 1 October 2026", "1 cup"),
        ("5 cups cooked applesauce, counter, 1 October 2026", "1 cup"),
        ("6 bags plum juice, 5 cups each, pantry, August 2026", "1 bag"),
        ("5 lb ground beef, counter, 22 November 2026", "1 lb"),
        ("2 pots chicken soup, counter, yesterday", "1"),
        ("2 gallons milk, porch, yesterday", "1 cup"),
        ("3 cups tomato sauce, counter, yesterday", "1 cup"),
        ("3 cups pumpkin puree, counter, yesterday", "1 cup"),
    ],
)
def test_what_came_in_and_stood_since_its_own_day_is_eaten_and_drawn_no_more(
    sentence, amount
):
    farm = Farm()
    code = farm.add(sentence)
    assert first(farm) == []
    for way in (Way.EATEN, Way.TASTED, Way.DRAWN, Way.SOLD, Way.GIVEN):
        no = farm.take(code, amount, way)
        assert isinstance(no, Refusal), way
        assert "out of the cold for longer than" in no.reason
    assert farm.move(code, "freezer") is None
    assert first(farm) == []  # the cold that came later mends nothing
    assert farm.take(code, amount, Way.SPOILED) is None


@pytest.mark.parametrize(
    ("sentence", "hours"),
    [
        ("5 cups applesauce, counter", COOKED_WARM_H),
        ("2 crocks chicken soup, cellar", COOKED_WARM_H),
        ("6 bags plum juice, pantry", JUICE_WARM_H),
    ],
)
def test_what_came_in_today_has_its_hours_from_when_it_was_booked(sentence, hours):
    farm = Farm()
    farm.add(sentence)
    farm.later(hours)
    (row,) = use_first(farm.stock, farm.at)
    assert "is discarded untasted" in row.remarks[0]
    farm.later(0.1)
    assert first(farm) == []


@pytest.mark.parametrize(
    "sentence",
    [
        *("6 bags plum juice, freezer, August 2026", "5 cups applesauce, fridge"),
        *(
            "9 quart jars applesauce, cellar, August 2026, from Ann",
            "40 lb apples, cellar",
        ),
        *("2 bottles apple juice, pantry, June", "8 cups apple butter, kitchen, June"),
        *("8 cups apple juice, pantry, June, from Orchard Row", "3 hens, coop, June"),
        *("2 cups soy sauce, pantry, June", "4 cups bottled lemon juice, pantry, June"),
    ],
)
def test_what_keeps_or_is_kept_cold_is_eaten_as_ever(sentence):
    farm = Farm()
    farm.add(sentence)
    farm.later(72)
    (code,) = farm.stock.lots
    (place,) = farm.stock.places(code)
    assert cooked_and_warm(farm.stock, code, place, farm.at) is None


def test_yesterdays_juice_that_dripped_overnight_still_becomes_jelly():
    farm = Farm()
    code = farm.add("8 cups plum juice, kitchen, yesterday")
    assert farm.take(code, "4 cups", Way.DRAWN) is None
    farm.later(24)
    assert isinstance(farm.take(code, "4 cups", Way.DRAWN), Refusal)


def test_no_long_stood_sauce_becomes_a_good_butter():
    farm = Farm()
    code = farm.add("5 cups applesauce, cellar, 1 October 2026")
    no = farm.made("4 half-pints apple butter, pantry", (code, "5 cups"), food="butter")
    assert isinstance(no, Refusal)
    assert "out of the cold" in no.reason


def test_a_hen_that_lives_in_the_coop_is_no_meat_that_stood():
    farm = Farm()
    code = farm.add("3 chickens, coop, June")
    assert farm.take(code, "1", Way.EATEN) is None


def test_what_a_count_finds_in_another_freezer_never_stood_warm():
    farm = Farm()
    code = farm.add("6 bags plum juice, freezer 1, June")
    assert farm.count(code, "2 bags", "freezer 2") is None
    assert farm.take(code, "6 bags", Way.DRAWN) is None
    farm.later(24)
    assert farm.count(code, "1 bag", "pantry") is None
    assert cooked_and_warm(farm.stock, code, "pantry", farm.at) is None
    farm.later(JUICE_WARM_H + 1)
    assert cooked_and_warm(farm.stock, code, "pantry", farm.at) is not None
    assert cooked_and_warm(farm.stock, code, "freezer 2", farm.at) is None


@pytest.mark.parametrize(
    ("sentence", "jars"),
    [
        ("9 quarts applesauce, cellar", "9 quart jars applesauce"),
        ("7 quarts apple juice, pantry", "7 quart jars apple juice"),
        ("3 1/2 pints applesauce, cellar", "N jars applesauce"),
    ],
)
def test_pints_of_sauce_on_a_shelf_may_be_jars_and_are_never_discarded_for_loose(
    sentence, jars
):
    read = propose(sentence, today=MORNING.date())
    assert read.thing is None
    assert any(f'write "{jars}"' in fault for fault in read.faults)
    cold = sentence.replace("cellar", "fridge").replace("pantry", "freezer")
    assert propose(cold, today=MORNING.date()).thing is not None
