"""Things of house, garden and barn in the stock: no food; and food that is none."""

import datetime as dt

import pytest

from stillroom.book.acid_foods import is_known_acid, may_be_low_acid
from stillroom.book.names import product_names
from stillroom.book.never import never_in_a_spread, never_products
from stillroom.stock.amounts import Unit
from stillroom.stock.commands import Need
from stillroom.stock.drawing import Drawing
from stillroom.stock.events import Kind
from stillroom.stock.first import use_first
from stillroom.stock.household import is_of_the_house
from stillroom.stock.making import holds
from stillroom.stock.not_counted_down import not_counted_down
from stillroom.stock.not_food import is_never_eaten
from stillroom.stock.on_hand import on_hand
from stillroom.stock.sentence import propose
from stillroom.stock.sorts import other_raw_food, produce_names
from tests.stock.kitchen import Farm

TODAY = dt.date(2026, 11, 25)
THINGS = (
    *("freezer tape", "freezer bags", "freezer paper", "quart freezer boxes", "foil"),
    *("jar lifter", "jar rings", "bands", "canner rack", "canner gasket", "labels"),
    *("cheesecloth", "jelly bag", "butter muslin", "dish towels", "rubber gloves"),
    *("stock pots", "soup ladle", "bean pot", "sauce pans", "meat grinder", "fish net"),
    *(
        "butcher's twine",
        "meat hooks",
        "apple corers",
        "kitchen scale",
        "paring knives",
    ),
    *("seed stock", "root stock", "card stock", "seed potatoes", "seed garlic"),
    *("garlic for planting", "onion sets", "grass seed", "tomato seedlings"),
    *("tomato cages", "bean poles", "chicken wire", "chicken feed", "oyster shell"),
    *("bone meal", "fish emulsion", "milk filters", "empty milk jugs", "feed sacks"),
    *("vinegar for cleaning", "cleaning vinegar", "lamp oil", "motor oil", "firewood"),
    *(
        "paraffin wax",
        "matches",
        "hay",
        "straw",
        "freezer tape (wide)",
        "lids and bands",
    ),
    *("goose feathers", "rabbit hutch", "chicken coop", "chicken and turkey feed"),
    *("pan with a lid", "washing soda", "mouse traps", "vacuum sealer bags"),
    *("live chickens", "laying hens", "piglets", "feeder pigs", "honey bees"),
    *("buckets", "5-gallon bucket", "stoneware crock", "big pot", "glass jugs"),
)
FOODS = (
    *("onion rings", "mushroom caps", "rack of lamb", "lamb rack", "veggie tray"),
    *("tea bags", "hot pot", "chicken in a pot", "chicken pot pie", "rice paper"),
    *("beef stock", "vegetable stock", "root vegetable stock", "stock of bones"),
    *(
        "cheese straws",
        "cheese strings",
        "fish sticks",
        "pigs in blankets",
        "corn grits",
    ),
    *("wax beans", "beans yellow wax", "pole beans", "string beans", "sesame seed"),
    *("seed crackers", "almond meal", "olive oil", "cider vinegar", "canning salt"),
    *("freezer jam", "freezer corn", "kettle corn", "crock pickles", "milk jugs"),
    *("beans for seed soup", "bones for broth", "cucumbers for pickling", "dog food"),
    *("chickens", "stewing hens", "live oysters", "live yogurt", "whole rabbits"),
    *("pot roast", "bucket of lard", "honey buckets"),
    *("beef and barley", "ham and beans in a pan", "paper shell pecans", "soup cans"),
)


@pytest.mark.parametrize("what", THINGS)
def test_a_thing_is_no_food(what):
    assert is_of_the_house(what)
    assert is_never_eaten(what)


@pytest.mark.parametrize("what", FOODS)
def test_food_is_no_thing_whatever_stands_in_its_name(what):
    assert not is_never_eaten(what)


def test_no_food_that_the_book_names_is_a_thing():
    names = {*product_names(), *other_raw_food(), *produce_names()}
    for never in (*never_products(), *never_in_a_spread()):
        names.update(never.phrases)
    foods = {name for name in names if is_known_acid(name) or may_be_low_acid(name)}
    assert len(foods) > 400
    assert [name for name in foods if is_of_the_house(name)] == []


@pytest.mark.parametrize(
    "sentence",
    [
        "2 tubs seed stock, shed",
        "3 boxes freezer tape, pantry",
        "1 jar freezer labels, pantry",
        "2 jars seed stock, pantry",
        "10 lb seed potatoes, cellar",
        "2 pieces cheesecloth, pantry",
    ],
)
def test_it_is_not_cautioned_not_held_and_on_no_list_to_eat(sentence):
    assert propose(sentence, today=TODAY).remarks == ()
    farm = Farm()
    code = farm.add(sentence)
    assert holds(farm.stock, code) == ()
    assert use_first(farm.stock, farm.at) == ()
    (row,) = on_hand(farm.stock)
    assert "is no food" in row.keeps.words


def test_what_is_loose_of_it_is_bought_and_no_raw_food():
    for sentence in ("2 pieces cheesecloth, pantry", "5 gallons lamp oil, shed"):
        thing = propose(sentence, today=TODAY).thing
        assert thing is not None
        assert thing.kind is Kind.BOUGHT


@pytest.mark.parametrize(
    ("said", "kind"),
    [
        *((what, Kind.LIDS) for what in ("60 lids", "60 regular lids", "60 jar lids")),
        *((what, Kind.LIDS) for what in ("12 lids with bands", "12 mason jar lids")),
        *((what, Kind.LIDS) for what in ("24 lids and bands", "24 bands & lids")),
        *((what, Kind.JARS) for what in ("24 jars and lids", "24 pint jars & bands")),
        *((what, Kind.BOUGHT) for what in ("2 bucket lids", "2 plastic storage lids")),
        *((what, Kind.BOUGHT) for what in ("1 piece crock lid", "3 pot lids")),
        *((what, Kind.JARS) for what in ("12 pint jars with lids", "24 mason jars")),
        *((what, Kind.JARS) for what in ("12 jars with lids and bands",)),
        *((what, Kind.JARS) for what in ("6 half-pint jars without lids",)),
    ],
)
def test_lids_of_canning_jars_are_told_from_those_of_other_vessels(said, kind):
    thing = propose(f"{said}, shed", today=TODAY).thing
    assert thing is not None
    assert thing.kind is kind


def test_what_only_says_with_what_is_asked_of_what():
    read = propose("12 jars with beans, pantry", today=TODAY)
    assert read.thing is None
    assert "says with what, and not of what" in read.faults[0]


def test_bucket_lids_are_not_named_beside_jars_that_were_just_filled():
    farm = Farm()
    farm.add("2 bucket lids, shed")
    farm.made("8 half-pints plum jelly, pantry", food="jelly")
    made = farm.stock.made(farm.last)
    assert made is not None
    assert not_counted_down(farm.stock, made) == ""
    farm.add("60 lids, shed")
    assert not_counted_down(farm.stock, made).startswith("not counted down: 60 lids")


@pytest.mark.parametrize(
    ("said", "number", "what"),
    [
        ("100 labels", 100, "labels"),
        ("2 stock pots", 2, "stock pots"),
        ("50 freezer bags", 50, "freezer bags"),
        ("24 quart freezer bags", 24, "quart freezer bags"),
        ("6 pint freezer boxes", 6, "pint freezer boxes"),
        ("2 dozen rubber gloves", 24, "rubber gloves"),
        ("24 lids and bands", 24, "lids and bands"),
        ("12 pressure canner", 12, "pressure canner"),
        ("1 canner", 1, "canner"),
        ("3 buckets", 3, "buckets"),
        ("half a dozen crocks", 6, "crocks"),
        ("2 5 gallon buckets", 2, "5-gallon buckets"),
        ("1 16-quart canner", 1, "16-quart canner"),
        ("12 laying hens", 12, "laying hens"),
    ],
)
def test_things_of_the_house_are_counted_without_a_word_for_it(said, number, what):
    thing = propose(f"{said}, shed", today=TODAY).thing
    assert thing is not None
    assert (thing.number, thing.what, thing.measure.part) == (number, what, "")


def test_freezer_boxes_in_the_stock_are_those_that_a_day_asks_for():
    farm = Farm()
    code = farm.add("6 pint freezer boxes, shed")
    need = Need(name="pint freezer boxes", unit=Unit.PIECES, number=4)
    ((part,), lacking) = Drawing(farm.stock).draw([need])
    assert (part.lot, part.number, lacking) == (code, 4, ())


def test_what_is_measured_of_the_house_is_asked_for_its_measure():
    for said in ("5 hay", "3 lamp oil"):
        assert propose(f"{said}, shed", today=TODAY).thing is None
    thing = propose("5 quarts lamp oil, shed", today=TODAY).thing
    assert thing is not None
    assert thing.measure.unit is Unit.UL


def test_it_is_said_before_it_is_booked_that_it_is_taken_for_no_food():
    understood = dict(propose("5 lb seed potatoes, cellar", today=TODAY).understood)
    assert understood["keeps"] == "it is no food, and on no list of what to eat"


@pytest.mark.parametrize("said", ["5 gallon crock", "8 quart pressure canner"])
def test_a_vessel_called_by_what_it_holds_is_asked_how_many_there_are(said):
    read = propose(f"{said}, shed", today=TODAY)
    assert read.thing is None
    size, unit, thing = said.split(" ", 2)
    assert f'write "1 {size}-{unit} {thing}" or "{size} {thing}s"' in read.faults[0]


def test_lids_and_bands_in_the_stock_are_lids_that_a_day_asks_for():
    farm = Farm()
    code = farm.add("24 lids and bands, shed")
    need = Need(name="lids", unit=Unit.PIECES, number=8)
    ((part,), lacking) = Drawing(farm.stock).draw([need])
    assert (part.lot, part.number, lacking) == (code, 8, ())
