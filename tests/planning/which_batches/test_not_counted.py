"""What lies on the shelf and does not count for a recipe; the shelves are invented."""

import pytest

from stillroom.measures import read_mass_kg
from stillroom.methods.method import Material
from stillroom.planning.day import Lot, Want
from stillroom.planning.dayplan import DayPlan, Unmet
from stillroom.planning.which_batches.not_counted import not_counted
from stillroom.planning.which_batches.shelf import Shelf
from stillroom.planning.whole_day import plan_the_day
from tests.kitchens import CUP, day, stores


def unmet(product: str, *lots: Lot) -> Unmet:
    want = Want(product=product, jars=7, jar="pint")
    plan = plan_the_day(day(want, shelf=(*lots, *stores())), seconds=0.2, explain=False)
    assert isinstance(plan, DayPlan)
    (found,) = plan.unmet
    return found


def left(product: str, *lots: Lot) -> str:
    jelly = Want(product="plum jelly", jars=8, jar="half-pint")
    want = Want(product=product, jars=7, jar="pint")
    juice = Lot(name="plum juice", what="plum juice", volume_m3=5 * CUP)
    plan = plan_the_day(
        day(jelly, want, shelf=(juice, *lots, *stores())), seconds=0.2, explain=False
    )
    assert isinstance(plan, DayPlan)
    (found,) = (one for one in plan.leftovers if one.lot == lots[0].name)
    return f"{found.text}. {'; or '.join(found.choices)}"


def test_a_weight_where_the_recipe_measures_cups_is_not_none_on_the_shelf():
    tomatoes = Lot(name="tomatoes", what="tomatoes", mass_kg=27.0)
    found = unmet("choice salsa", tomatoes)
    assert found.reason.startswith("tomatoes: 59 lb 8 oz (27.0 kg) of tomatoes")
    assert "the recipe measures 6 cups each time, " in found.reason
    assert "measure what there is" in found.instead


def test_cups_where_the_recipe_weighs_are_to_be_weighed():
    cups = Lot(name="cucumbers", what="pickling cucumbers", volume_m3=20 * CUP)
    found = unmet("bread-and-butter pickles", cups)
    assert "the recipe weighs 6 lb" in found.reason
    assert found.instead.startswith("weigh what there is")


def test_fruit_that_is_weighed_as_it_was_bought_is_not_to_be_prepared_first():
    # "Stone 3 1/2 lb of apricots": stoned ones of that weight are too many
    cups = Lot(name="apricots", what="apricots", volume_m3=20 * CUP)
    found = unmet("apricot jam", cups)
    assert "the recipe weighs 3 lb 8 oz" in found.reason
    assert found.instead.startswith("weigh what there is, as it was bought, and")


def test_bags_of_which_nobody_said_what_they_hold_are_bags():
    bags = Lot(name="plum juice", what="plum juice", count=3, typed="3 bags")
    found = unmet("plum jelly", bags)
    assert "plum juice: 3 bags of plum juice on the shelf, and" in found.reason
    found = unmet("plum jelly", Lot(name="plum juice", what="plum juice", count=3))
    assert "plum juice: 3 of plum juice on the shelf, and" in found.reason


def test_what_is_told_to_be_weighed_is_for_all_that_is_wanted_and_then_it_is_enough():
    """One pint's weight was told, and who wrote just that got one pint of six."""
    cups = Lot(name="blueberries", what="blueberries", volume_m3=32 * CUP)
    found = unmet("frozen blueberries", cups)
    told = found.instead.rpartition("blueberries, ")[2]
    kilos = read_mass_kg(told.partition(" (")[0])
    weighed = Lot(name="blueberries", what="blueberries", mass_kg=kilos)
    want = Want(product="frozen blueberries", jars=7, jar="pint")
    plan = plan_the_day(
        day(want, shelf=(weighed, *stores())), seconds=0.2, explain=False
    )
    assert isinstance(plan, DayPlan)
    assert plan.unmet == ()


def test_fruit_that_is_pressed_for_it_is_named_before_what_may_be_meant():
    plums = Lot(name="plums", what="plums", mass_kg=9.0)
    juice = Lot(name="juice", what="juice", volume_m3=5 * CUP)
    found = unmet("plum jelly", plums, juice)
    assert found.instead.startswith("press plums for it")
    assert found.reason.startswith("plum juice: none on the shelf; one whole batch")


def test_what_was_measured_then_counts():
    tomatoes = Lot(name="tomatoes", what="tomatoes", volume_m3=6 * CUP)
    want = Want(product="choice salsa", jars=4, jar="pint")
    plan = plan_the_day(
        day(want, shelf=(tomatoes, *stores())), seconds=0.2, explain=False
    )
    assert isinstance(plan, DayPlan)
    assert [batch.product for batch in plan.batches] == ["choice salsa"]


def test_a_plainer_name_may_be_the_kind_that_is_asked_for():
    cucumbers = Lot(name="cucumbers", what="cucumbers", mass_kg=4.5)
    found = unmet("bread-and-butter pickles", cucumbers)
    assert "pickling cucumbers: none on the shelf by that name" in found.reason
    assert found.instead == (
        '"cucumbers" on the shelf may be another kind: where it is the right one, '
        'write "pickling cucumbers"'
    )
    assert "enough for a whole tested batch, of pickling cucumbers" in left(
        "bread-and-butter pickles", cucumbers
    )


@pytest.mark.parametrize(
    ("product", "asked", "there"),
    [
        ("cherries", "cherries", "sweet cherries"),
        ("pears", "pears", "Bartlett pears"),
        ("berry syrup", "berries", "blackberries"),
        ("cherry syrup", "cherries", "sour cherries"),
        ("berry jam", "berries", "raspberries"),
        ("pickled hot peppers", "hot peppers", "jalapeños"),
        ("pickled bell peppers", "bell peppers", "sweet peppers"),
    ],
)
def test_one_kind_of_it_may_be_what_is_asked_for(product, asked, there):
    found = unmet(product, Lot(name=there, what=there, mass_kg=9.0))
    assert found.instead == (
        f'"{there}" on the shelf may be another kind: where it is the right one, '
        f'write "{asked}"'
    )


@pytest.mark.parametrize("what", ["elderberries", "juniper berries"])
def test_elderberries_are_no_berries_of_a_recipe(what):
    found = unmet("berry syrup", Lot(name="e", what=what, mass_kg=9.0))
    assert found.instead.startswith("want fewer, or add berries, cherries or grapes")


@pytest.mark.parametrize(
    ("asked", "there", "offered"),
    [
        ("potatoes", "sweet potatoes", False),
        ("potatoes", "waxy potatoes", True),
        ("lima beans", "dried lima beans", False),
        ("peas", "black-eyed peas", False),
        ("peas", "sugar snap peas", False),
        ("beets", "sugar beets", False),
        ("beets", "red beets", True),
        ("apples", "dried apples", False),
        ("apples", "apples, Bramley", True),
        ("tomatoes", "frost-killed tomatoes", False),
        ("figs", "Mission figs", True),  # acid goes to both
        ("figs", "dried figs", False),
        ("berries", "frozen unsweetened raspberries", True),
    ],
)
def test_no_other_food_is_offered_by_a_like_name(asked, there, offered):
    shelf = Shelf([Lot(name="a box", what=there, mass_kg=9.0)])
    found = not_counted(Material(name=asked, mass_kg=1.0), shelf)
    assert (found is not None) is offered


@pytest.mark.parametrize("other", ["salt", "pickling salt", "cucumber salad"])
def test_what_is_another_thing_is_none_on_the_shelf(other: str):
    found = unmet("bread-and-butter pickles", Lot(name=other, what=other, mass_kg=4.5))
    assert "none on the shelf; one whole batch needs" in found.reason
    assert found.instead.startswith("want fewer, or add pickling cucumbers")


def test_what_is_left_in_another_measure_is_not_called_too_small():
    onions = Lot(name="onions", what="onions", mass_kg=2.7)
    said = left("pepper-onion relish", onions)
    assert "cups short" not in said
    assert "is so small" not in said
    assert "a recipe takes it by another measure" in said


def test_what_has_several_packs_is_not_called_too_small():
    said = left(
        "tomatoes packed in water", Lot(name="tomatoes", what="tomatoes", mass_kg=20.0)
    )
    assert "is so small" not in said
    assert "crushed tomatoes, packed hot: " in said


@pytest.mark.parametrize(
    ("product", "what", "plainly"),
    [
        ("applesauce", "windfall apples", "apples"),
        ("pears in syrup", "Williams pears", "pears"),
        ("apple butter", "Bramley apples", "apples"),
    ],
)
def test_a_kind_that_the_book_does_not_know_is_named_and_asked_about(
    product, what, plainly
):
    found = unmet(product, Lot(name="a box", what=what, mass_kg=27.0))
    assert "none on the shelf by that name; the recipe takes" in found.reason
    assert found.instead == (
        f'"{what}" on the shelf may be another kind: where it is the right one, '
        f'write "{plainly}"'
    )


def test_what_the_book_has_as_another_food_is_not_offered_as_a_kind_of_it():
    # Asian pears are lower in acid, and green tomatoes have recipes of their own
    found = unmet("pears in syrup", Lot(name="a box", what="apple pears", mass_kg=27.0))
    assert "may be another kind" not in found.instead
    assert '"apple pears" on the shelf does not count' in found.reason
    for what, offered in (("green tomatoes", False), ("plum tomatoes", True)):
        found = unmet("crushed tomatoes", Lot(name="a box", what=what, mass_kg=27.0))
        assert ("may be another kind" in found.instead) is offered


@pytest.mark.parametrize(
    "what",
    [
        "white peaches",
        "white-fleshed peaches",
        "peaches, white",
        "frozen white peaches",
        "white freestone peaches",
        "homegrown peaches (white)",
    ],
)
def test_white_peaches_are_never_canned_as_peaches_and_it_is_said_why(what):
    """Some lie above pH 4.6: no process for them is in the book."""
    lot = Lot(name="a box", what=what, mass_kg=27.0)
    for product in ("peach jam", "peach butter", "peaches"):
        found = unmet(product, lot)
        assert found.planned == 0
        assert "does not count: white-fleshed peaches can lie above" in found.reason
        assert found.instead.startswith("freeze it, or follow an acidified tested")


def test_yellow_peaches_are_peaches():
    want = Want(product="peach jam", jars=6, jar="half-pint")
    lot = Lot(name="a box", what="yellow-fleshed peaches", mass_kg=3.0)
    plan = plan_the_day(day(want, shelf=(lot, *stores())), seconds=0.2, explain=False)
    assert isinstance(plan, DayPlan)
    (batch,) = plan.batches
    assert batch.draws[0].lot == "a box"


def test_where_lemon_juice_must_be_bottled_what_was_squeezed_at_home_is_not_taken():
    """Printed as bottled: its acidity is known; what has no word of it may be it."""
    want = Want(product="crushed tomatoes", jars=7, jar="pint")
    tomatoes = Lot(name="tomatoes", what="tomatoes", mass_kg=27.0)
    rest = tuple(one for one in stores() if "lemon" not in one.what)
    for what, lacks in (
        ("fresh lemon juice", ["bottled lemon juice"]),
        ("lemon juice", []),
        ("lemon juice, bottled", []),
    ):
        juice = Lot(name="juice", what=what, volume_m3=8 * CUP)
        plan = plan_the_day(
            day(want, shelf=(tomatoes, juice, *rest)), seconds=0.2, explain=False
        )
        assert isinstance(plan, DayPlan)
        assert plan.batches
        assert [p.name for p in plan.shopping if "lemon" in p.name] == lacks
