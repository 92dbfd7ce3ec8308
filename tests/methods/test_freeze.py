"""Freezing: printed minutes in, printed headspace, and no more than a freezer takes."""

import pytest

from stillroom.book.freezing_packs import (
    blanching_min,
    freezer_headspace_in,
    freezing_pack_for,
)
from stillroom.methods import freeze
from stillroom.refusal import Refusal, granted
from tests.one_batch_of import ids_of, recipe_of, station, step_of, work_of

POUND = 0.45359237


# Typed from the leaflets named; minutes in boiling water.
@pytest.mark.parametrize(
    ("food", "minutes"),
    [
        ("green beans", 3),  # Univ. of Maine (2010); Utah State; Minnesota
        ("whole onions", 7),  # Michigan State HNI24: 3 to 7, or till the centre is hot
        ("chopped onions", 0),  # Univ. of Nebraska-Lincoln
        ("carrots", 2),  # Univ. of Minnesota: diced, sliced or strips
        ("broccoli", 3),  # Univ. of Minnesota
        ("sweet corn", 4),  # Univ. of Minnesota: whole kernel
        ("asparagus", 3),  # Utah State Univ.: medium stalks
        ("blueberries", 0),
    ],
)
def test_blanching_is_as_printed(food, minutes):
    assert granted(freezing_pack_for(food)).blanch_high_min == minutes


def test_at_5000_ft_a_minute_more_and_never_less():
    """Utah State Univ. Extension: 1 minute longer at 5,000 or more feet."""
    beans = granted(freezing_pack_for("frozen green beans"))
    assert [blanching_min(beans, feet) for feet in (0, 4999, 5000, 9000)] == [
        3,
        3,
        4,
        4,
    ]
    berries = granted(freezing_pack_for("frozen blackberries"))
    assert blanching_min(berries, 9000) == 0


def test_a_row_from_memory_never_answers():
    answer = freezing_pack_for("frozen peas")
    assert isinstance(answer, Refusal)
    assert "memory" in answer.reason


def test_an_unknown_food_is_refused_and_the_known_ones_named():
    answer = freezing_pack_for("frozen soup")
    assert isinstance(answer, Refusal)
    assert "green beans" in answer.instead


# NCHFP, Headspace to allow between packed food and closure, wide top.
@pytest.mark.parametrize(
    ("pack", "jar", "inch"),
    [
        ("dry", "pint", 0.5),
        ("dry", "quart", 0.5),
        ("syrup", "pint", 0.5),
        ("syrup", "quart", 1.0),
        ("sugar", "quart", 1.0),
        ("juice", "quart", 1.0),
    ],
)
def test_headspace_is_as_printed(pack, jar, inch):
    assert freezer_headspace_in(pack, jar) == inch
    assert isinstance(freezer_headspace_in(pack, "half-gallon"), Refusal)


def test_six_pints_of_beans_by_hand():
    """
    Six pints take 6 x 3/4 = 4.5 lb. 15 L / 1.3 = 11.5 L = 3.05 gallons: 3 lb at once.

    Two goes of 3 min, a minute back to the boil and one to lift: 10 min.
    """
    beans = recipe_of("frozen green beans", 6)
    assert beans.base.mass_kg == pytest.approx(4.5 * POUND)
    assert freeze.blanch_loads(beans, station(15.0)) == 2
    work = work_of(beans, jars=6)
    assert step_of(work, "blanch").duration_min == 10
    assert step_of(work, "cool").duration_min == 3
    assert "1/2 in" in step_of(work, "fill").end_sign
    assert ids_of(work)[-1] == "label"


def test_a_smaller_pot_takes_more_goes():
    beans = recipe_of("frozen green beans", 6)
    loads = [freeze.blanch_loads(beans, station(pot)) for pot in (6, 10, 15, 30)]
    assert loads == sorted(loads, reverse=True)
    assert loads[0] == 5  # a pound at a time


def test_a_pot_that_holds_no_gallon_is_refused():
    answer = freeze.checks(recipe_of("frozen green beans"), station(3.0))
    assert isinstance(answer, Refusal)
    assert "gallon" in answer.reason


def test_hot_food_is_cooled_at_once_and_not_left_warm():
    links = {
        (link.before, link.after): link
        for link in work_of(recipe_of("frozen whole onions", 3)).links
    }
    assert links["blanch", "cool"].at_most_min == 0
    assert links["drain", "fill"].at_most_min == 30


def test_chopped_onions_are_packed_dry_without_fire():
    work = work_of(recipe_of("frozen onions", 4))
    assert not any(step.burner_w for step in work.steps)
    assert "blanch" not in ids_of(work)


def test_corn_on_the_cob_is_cooled_twice_as_long():
    cob = granted(freezing_pack_for("frozen corn on the cob"))
    assert cob.cool_times == 2
    assert cob.blanch_high_min == 9


def test_sugar_pack_by_hand():
    """3/4 cup to a quart: 3/8 cup, 75 g, to a pint of 2/3 lb."""
    berries = recipe_of("frozen blackberries in sugar", 4)
    (sugar,) = berries.of_role("sugar")
    assert sugar.quantity == pytest.approx(4 * 3 / 8)
    assert sugar.mass_kg == pytest.approx(0.300)
    assert berries.base.mass_kg == pytest.approx(4 * 0.667 * POUND)


def test_syrup_of_one_to_one_cups_is_46_percent_by_weight():
    """200 g of sugar in 236.6 g of water; printed as 50 percent."""
    berries = recipe_of("frozen blackberries in syrup", 6)
    (sugar,), (water,) = berries.of_role("sugar"), berries.of_role("liquid")
    share = sugar.mass_kg / (sugar.mass_kg + water.mass_kg)
    assert share == pytest.approx(200 / 436.6, abs=0.001)


def test_materials_are_food_and_boxes_without_lids():
    names = [m.name for m in freeze.materials(recipe_of("frozen onions", 2), "pint", 2)]
    assert names == ["onions", "pint freezer boxes"]


def test_everything_is_linear_in_pints():
    one, five = (
        recipe_of("frozen strawberries in sugar"),
        recipe_of("frozen strawberries in sugar", 5),
    )
    for single, several in zip(one.parts, five.parts, strict=True):
        assert several.mass_kg == pytest.approx(5 * single.mass_kg)
    made = granted(freeze.expected_yield(five, "pint"))
    assert made.likely == 5
    assert granted(freeze.expected_yield(five, "quart")).likely == 2.5


def test_the_freezer_load_says_how_large_a_freezer_it_takes():
    """4.5 lb at 2 to 3 lb to the cubic foot: 1.5 to 2.25, said as 2.2."""
    checked = granted(freeze.checks(recipe_of("frozen green beans", 6), station()))
    (load,) = [c for c in checked.cautions if "cubic" in c.text]
    assert "4.5 lb" in load.text
    assert "1.5 to 2.2" in load.text
    assert "Minnesota" in load.source


def test_the_freezing_time_is_called_an_estimate():
    checked = granted(freeze.checks(recipe_of("frozen onions"), station()))
    assert "an estimate by Plank" in checked.outlook


@pytest.mark.parametrize("multiple", [0, 61, 1.5])
def test_no_part_of_a_pint_and_no_more_than_hands_can_do(multiple):
    beans = recipe_of("frozen green beans")
    assert isinstance(freeze.scale(beans.procedure, multiple), Refusal)
