"""What is on hand as the shelf of a day; all of it is invented."""

from dataclasses import replace

import pytest

from stillroom.measures import POUND_KG, read_mass_kg
from stillroom.planning.day_file.dayfile import new_day_text, read_day
from stillroom.planning.day_file.dayfile_write import write_day
from stillroom.planning.day_file.dayschema import LONGEST_NAME
from stillroom.stock.commands import Make
from stillroom.stock.day_shelf import (
    day_shelf,
    is_unknown,
    look_at_first,
    stood_too_long,
    with_room,
)
from stillroom.stock.events import Way
from stillroom.stock.put_up import batch_put_up, thing_made
from tests.stock.kitchen import Farm, thing


@pytest.fixture
def farm() -> Farm:
    return Farm()


def test_filled_jars_and_what_is_never_eaten_are_on_no_shelf_of_a_day(farm):
    for sentence in (
        "6 half-pints plum jelly, pantry, today",
        "2 lb lye, shed, today",
        "10 lb sugar, pantry, today",
    ):
        farm.add(sentence)
    assert [lot.what for lot in day_shelf(farm.stock, farm.at)] == ["sugar"]
    for sentence in (
        "24 lids, shed, today",
        "6 pieces freezer boxes, shed, today",
    ):
        farm.add(sentence)  # no food, and batches take them
    assert len(day_shelf(farm.stock, farm.at)) == 3


@pytest.mark.parametrize("weight", ["25 lb", "2 lb 3 oz", "5 kg", "350 g"])
def test_a_weight_comes_to_the_day_as_it_was_typed(farm, weight):
    farm.add(f"{weight} tomatoes, kitchen, today")
    (lot,) = day_shelf(farm.stock, farm.at)
    assert lot.mass_kg == read_mass_kg(weight)


def test_what_was_recalled_is_on_no_shelf_of_a_day(farm):
    code = farm.add("10 lb sugar, pantry, today")
    assert day_shelf(farm.stock, farm.at)
    farm.recall(code, "broken glass in the sack")
    assert day_shelf(farm.stock, farm.at) == ()


def test_what_is_left_of_a_lot_has_cost_its_part(farm):
    juice = "5 bags plum juice, 4 cups each, freezer, today, paid $25.00"
    code = farm.add(juice)
    farm.take(code, "10 cups")
    farm.add("20 lb sugar, pantry, today, paid 12.60")
    farm.add("12 lids, drawer, today")
    costs = {
        lot.name.rpartition(", ")[2]: lot.paid for lot in day_shelf(farm.stock, farm.at)
    }
    open_bag, whole, sugar, lids = costs.values()  # an open bag goes first
    # two bags of five and half a bag are left: 10 and 2.50 of the 25
    assert (whole, open_bag, sugar, lids) == (10.0, 2.5, 12.6, None)


def test_bags_of_fruit_by_weight_stay_bags(farm):
    farm.add("6 bags raspberries, 2 lb each, freezer 1, today")
    (lot,) = day_shelf(farm.stock, farm.at)
    assert (lot.bags, lot.bag_kg) == (6, 2 * float(POUND_KG))
    day = replace(read_day(new_day_text()), shelf=(lot,))
    assert 'quantity = "6 bags of 2 lb"' in write_day(day)
    assert read_day(write_day(day)).shelf[0].bag_kg == lot.bag_kg


def test_bags_that_a_batch_took_by_the_pound_are_bags(farm):
    """A batch takes 4 lb: two bags of 2 lb, and the four that are left are whole."""
    code = farm.add("6 bags raspberries, 2 lb each, freezer 1, today")
    measure = farm.stock.lots[code].measure
    four_pounds = round(4 * POUND_KG * 10**6)
    assert four_pounds == 2 * measure.each - 1  # each bag was rounded by itself
    assert measure.words(four_pounds) == "2 bags (4 lb (1.81 kg))"
    farm.take(code, "4 lb")
    (lot,) = day_shelf(farm.stock, farm.at)
    assert (lot.bags, lot.mass_kg) == (4, 4 * lot.bag_kg)


def test_of_an_opened_bag_of_fruit_the_weight_alone_is_known(farm):
    code = farm.add("6 bags raspberries, 2 lb each, freezer 1, today")
    farm.take(code, "1 lb")
    (lot,) = day_shelf(farm.stock, farm.at)
    assert (lot.bags, lot.bag_kg) == (0, None)


def test_a_price_of_each_is_no_price_of_the_lot(farm):
    farm.add("10 lb sugar, pantry, today, paid 2.50 each")
    farm.add("12 lids, drawer, today, paid 3 USD")
    assert [lot.paid for lot in day_shelf(farm.stock, farm.at)] == [None, 3.0]


def test_filled_jars_of_its_name_say_nothing_of_a_bag(farm):
    farm.add("6 half-pints plum juice, pantry, today")
    assert is_unknown(farm.stock, "plum juice")


def test_of_a_thing_that_never_was_there_the_stock_says_nothing(farm):
    code = farm.add("10 lb sugar, pantry, today")
    farm.take(code, "10 lb", Way.SPOILED)
    assert not is_unknown(farm.stock, "sugar")  # it was, and is used up
    assert is_unknown(farm.stock, "bottled lemon juice")


def test_what_was_booked_by_mistake_never_was_there(farm):
    farm.add("10 lb sugar, pantry, today")
    farm.mend(farm.stock.sequence, "wrong farm")
    assert is_unknown(farm.stock, "sugar")


def test_fresh_fruit_is_to_be_looked_at_and_frozen_fruit_is_not(farm):
    farm.add("3 lb strawberries, refrigerator, 19 June 2026")
    farm.add("5 bags plum juice, 4 cups each, freezer, today")
    (said,) = look_at_first(farm.stock, farm.at)
    assert said.startswith("strawberries L")
    assert said.endswith(" of 19 June 2026")


def test_a_name_of_nothing_is_known_to_no_stock(farm):
    farm.add("10 lb sugar, pantry, today")
    assert is_unknown(farm.stock, ", or ,")


def test_what_a_day_has_no_lines_for_is_named_and_nothing_is_missing(farm):
    """Lines over the limit were dropped without a word, sugar and lids among them."""
    for n in range(1, 8):
        until = f"best before {n + 1} December 2026"
        farm.add(f"{n} lb plums, cellar, {n} November 2026, {until}")
    farm.add("20 lb sugar, pantry, today")
    farm.add("30 lids, drawer, today")
    lots = day_shelf(farm.stock, farm.at)
    assert len(lots) == 9
    assert with_room(lots) == (lots, "")
    assert with_room(lots, 9) == (lots, "")
    kept, said = with_room(lots, 5)
    assert [lot.what for lot in kept].count("plums") == 3
    assert {lot.what for lot in kept} == {"plums", "sugar", "lids"}
    plums = [lot for lot in lots if lot.what == "plums"]
    assert [lot for lot in kept if lot.what == "plums"] == plums[:3]  # the first out
    assert said == (
        "A day has room for 5 lines here: 4 lots of plums stay in the stock, what "
        "keeps longest."
    )
    assert with_room(lots, 8)[1].startswith("A day has room for 8 lines here: 1 lot of")
    one_each = (plums[0], *(lot for lot in lots if lot.what != "plums"))
    kept, _ = with_room(one_each, 2)
    assert kept == one_each[:2]  # the last of them keeps longest
    assert with_room(one_each, -3)[0] == ()


def test_an_open_bag_is_marked_however_long_its_place_is_called(farm):
    """The mark was cut off with the end of the place, and two lines had one name."""
    place = "the long shelf behind the door of the old dairy by the well"
    code = farm.add(f"5 bags plum juice, 4 cups each, {place}, today")
    farm.take(code, "6 cups")
    farm.move(code, "pantry", "1 bag")
    names = [lot.name for lot in day_shelf(farm.stock, farm.at)]
    assert len(names) == len(set(names))
    assert max(map(len, names)) <= LONGEST_NAME
    assert sum(name.endswith(", open") for name in names) == 1


def made(farm: Farm, sentence: str) -> None:
    """Book what was cooked here and is in no jar."""
    loose = thing_made(thing(sentence, as_jars=True), farm.at.date())
    batch = batch_put_up(
        loose, process_min=None, canner="boiling-water", elevation_ft=1017
    )
    asked = Make(thing=loose, inputs=(), batch=batch, on=farm.at.date(), at=farm.at)
    assert farm.do(asked) is None


@pytest.mark.parametrize(
    ("sentence", "hours"),
    [
        ("8 cups chicken stock, pantry", 3),
        ("4 cups garlic in oil, refrigerator", 4 * 24),
    ],
)
def test_what_stood_too_long_to_be_eaten_is_on_no_shelf_of_a_day(farm, sentence, hours):
    made(farm, sentence)
    farm.add("10 lb sugar, pantry, today")
    assert len(day_shelf(farm.stock, farm.at)) == 2
    assert stood_too_long(farm.stock, farm.at) == ""
    farm.later(hours)
    assert [lot.what for lot in day_shelf(farm.stock, farm.at)] == ["sugar"]
    said = stood_too_long(farm.stock, farm.at)
    assert said.startswith("Left out, for it stood too long to be eaten: ")
    assert sentence.split(",")[0].split(" cups ")[1] in said
