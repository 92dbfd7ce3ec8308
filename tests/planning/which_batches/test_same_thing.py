"""Which names mean one thing on a shelf: never one that is not the other."""

from itertools import combinations

import pytest

from stillroom.book.names import ProductName, product_named
from stillroom.book.words import tokens
from stillroom.planning.which_batches.names_on_shelf import SYNONYMS, same_thing

ALL = [(a, b) for names in SYNONYMS for a, b in combinations(names, 2)]


def in_the_book(name: str) -> ProductName:
    """As it is named by itself, or as a fruit of a jam."""
    fruit = " ".join(tokens(name))
    found = [product_named(said) for said in (name, f"{fruit} jam")]
    return next(one for one in found if isinstance(one, ProductName))


@pytest.mark.parametrize(("one", "other"), ALL)
def test_names_of_the_trade_are_one_thing_and_one_food_of_the_book(one, other):
    assert same_thing(one, other)
    assert same_thing(other, f"frozen {one}")
    assert in_the_book(one).name == in_the_book(other).name


@pytest.mark.parametrize(("one", "other"), ALL)
def test_what_is_made_of_it_is_one_thing_as_well_and_not_the_thing(one, other):
    assert same_thing(f"{one} juice", f"{other} juice")
    assert not same_thing(one, f"{other} juice")


def test_no_two_groups_mean_one_thing():
    for one, other in combinations(SYNONYMS, 2):
        assert not any(same_thing(a, b) for a in one for b in other)


@pytest.mark.parametrize(
    ("one", "other"),
    [
        ("wax beans", "green beans"),
        ("yellow snap beans", "green beans"),
        ("snap peas", "snap beans"),
        ("lima beans", "string beans"),
        ("beans", "green beans"),
        ("sweet cherries", "tart cherries"),
        ("cherry pie filling", "sour cherry filling"),
        ("tart apples", "sour cherries"),
        ("currants", "redcurrants"),
        ("pears", "nashi"),
        ("white peaches", "peaches"),
        ("peaches, white", "peaches"),
        ("tomatoes green", "tomatoes"),
        ("frozen white-fleshed peaches", "yellow peaches"),
        ("white nectarines", "nectarines"),
        ("sugar beets", "sugar"),
        ("beet juice", "apple juice"),
        ("beet greens", "greens"),
        ("juice oranges", "orange juice"),
        ("cider apples", "apple cider"),
        ("strained tomatoes", "tomatoes"),
        ("fresh lemon juice", "bottled lemon juice"),
        ("lime juice, freshly squeezed", "bottled lemon or lime juice"),
        ("frozen lemon juice", "bottled lemon juice"),
        ("juice of lemons", "bottled lemon juice"),
        ("citric acid solution", "citric acid"),
        ("ascorbic acid powder", "citric acid"),
    ],
)
def test_what_is_near_by_its_name_is_another_thing(one, other):
    assert not same_thing(one, other)
    assert not same_thing(other, one)


@pytest.mark.parametrize(
    ("one", "other"),
    [
        ("beet sugar", "white granulated sugar"),
        ("distilled white vinegar, 5 % acidity", "vinegar 5%"),
        ("vinegar of 5 %", "vinegar 5%"),
        ("juice of apples", "apple juice"),
        ("heads of dill", "dill heads"),
        ("apple juice (frozen)", "unsweetened apple juice"),
        ("white cabbage", "cabbage"),
        ("lemon juice", "bottled lemon juice"),
        ("freshly squeezed lemon juice", "lemon juice"),
        ("jars, half-pint", "half-pint jars"),
        ("plum juice - frozen", "plum juice"),
        ("juice: apple", "apple juice"),
        ("lemon juice bottled", "bottled lemon juice"),
        ("sugar white", "sugar"),
        ("sugar, brown", "brown sugar"),
        ("vinegar cider 5%", "vinegar 5%"),
        ("beans green", "green beans"),
        ("apple cider fresh", "apple cider"),
        ("strawberries, frozen, unsweetened", "strawberries"),
        ("peaches, yellow", "peaches"),
        ("citric acid powder", "citric acid"),
        ("citric acid, food grade", "citric acid"),
        ("crystalline citric acid", "powdered citric acid"),
    ],
)
def test_what_says_no_more_of_it_is_the_same_thing(one, other):
    assert same_thing(one, other)
    assert same_thing(other, one)


@pytest.mark.parametrize("sold_as", ["pickling salt", "canning and pickling salt"])
def test_salt_of_a_pickle_is_salt_for_pickling(sold_as):
    assert same_thing(sold_as, "canning salt")
    assert not same_thing("pickling cucumbers", "cucumbers")
