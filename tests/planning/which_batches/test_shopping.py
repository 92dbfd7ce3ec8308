"""What is bought for a day is enough for it."""

from __future__ import annotations

from dataclasses import replace

import pytest

from stillroom.measures import read_mass_kg
from stillroom.methods.kitchen import Pot
from stillroom.methods.method import Material
from stillroom.methods.portions import uses
from stillroom.methods.today import air_in
from stillroom.planning.day import Lot, Want
from stillroom.planning.dayplan import Purchase
from stillroom.planning.which_batches.batches import make_batches
from stillroom.planning.which_batches.choices import Place
from stillroom.planning.which_batches.shelf import Shelf
from stillroom.planning.which_batches.shopping import Shopping
from stillroom.refusal import granted
from tests.kitchens import CUP, day, juice, kitchen, stores
from tests.one_batch_of import recipe_of


def shopping(sugar_kg: float) -> list[Purchase]:
    """Of two batches of plum jelly, which take 2.8 kg of sugar."""
    today = day(shelf=(juice(), *stores(sugar_kg=sugar_kg)))
    place = Place(kitchen=today.kitchen, air=granted(air_in(today.kitchen)))
    return make_batches(today, place, Shelf(today.shelf)).shopping


@pytest.mark.parametrize("there_kg", [0.123, 1.4, 2.31])
def test_who_buys_the_sugar_that_is_said_has_no_more_to_buy(there_kg: float):
    """Of 2.677 kg that lack 5 lb 14 oz were said, 12 g too little."""
    (sugar,) = shopping(there_kg)
    for said in sugar.buy.removesuffix(")").split(" ("):
        assert shopping(there_kg + float(read_mass_kg(said))) == []


@pytest.mark.parametrize("first", ["by the piece", "by the cup"])
def test_two_onions_and_8_cups_of_sliced_ones_are_bought_each_in_their_measure(first):
    """As one sum they were 3 onions, or 8,461 1/2 cups."""
    wants = [
        Want(product="pickle-reduced-sodium-dill", jars=8, jar="pint"),
        Want(product="pickle-bread-butter", jars=8, jar="pint"),
    ]
    cucumbers = Lot(name="c", what="pickling cucumbers", mass_kg=10 * 0.45359237)
    today = day(*(wants if first == "by the piece" else reversed(wants)))
    today = replace(today, shelf=(cucumbers, *stores()))
    place = Place(
        kitchen=kitchen(pots=(Pot(name="pot", volume_m3=0.03),)),
        air=granted(air_in(today.kitchen)),
    )
    bought = make_batches(today, place, Shelf(today.shelf)).shopping
    onions = [(p.need, p.buy) for p in bought if p.name == "onions"]
    assert sorted(onions) == [("2", "2"), ("8 cups", "8 cups")]


@pytest.mark.parametrize(
    ("product", "thing", "cups", "taken"),
    [
        ("bread-and-butter pickles", "canning salt", 2, "1/2 cup"),
        ("bread-and-butter pickles", "pickling salt", 1, "1/2 cup"),
        ("cranberry orange chutney", "raisins", 3, "2 cups"),
        ("grape conserve", "nuts", 1, "1 cup"),
    ],
)
def test_what_lies_there_by_the_cup_is_taken_by_the_cup(product, thing, cups, taken):
    """Two cups of canning salt were "in another measure", and salt was to be bought."""
    base = {"bread": ("pickling cucumbers", 6), "cranb": ("cranberries", 1.5)}
    what, pounds = base.get(product[:5], ("grapes", 4))
    fruit = Lot(name="fruit", what=what, mass_kg=pounds * 0.45359237)
    dry = Lot(name="dry", what=thing, volume_m3=cups * CUP)
    today = day(
        Want(product=product, jars=8, jar="pint" if what[0] == "p" else "half-pint"),
        shelf=(fruit, dry, *stores()),
    )
    place = Place(
        kitchen=kitchen(pots=(Pot(name="pot", volume_m3=0.03),)),
        air=granted(air_in(today.kitchen)),
    )
    made = make_batches(today, place, Shelf(today.shelf))
    (batch,) = made.batches
    assert [draw.text for draw in batch.draws if draw.lot == "dry"] == [taken]
    asked = thing.replace("pickling", "canning")
    assert asked not in {purchase.name for purchase in made.shopping}


@pytest.mark.parametrize(
    ("product", "what", "there", "made_of_it"),
    [
        ("sour cherry jam", "sour cherries", {"mass_kg": 1.36}, 1),  # 3 lb
        ("sour cherry jam", "sour cherries", {"mass_kg": 2.72}, 2),
        ("sour cherry jam", "sour cherries", {"mass_kg": 1.35}, 0),
        ("apple jelly", "apple juice", {"volume_m3": 9.46e-4}, 1),  # 4 cups
        ("apple jelly", "apple juice", {"volume_m3": 9.4e-4}, 0),
        ("apple jelly", "apple juice", {"volume_m3": 7.57e-3}, 8),  # 2 gallons
    ],
)
def test_what_a_rounded_measure_lacks_is_no_lack(product, what, there, made_of_it):
    """Of 1.36 kg of cherries, "3 lb (1.36 kg)", a gram was to be bought."""
    fruit = Lot(name="fruit", what=what, **there)
    today = day(
        Want(product=product, jars=60, jar="half-pint"),
        shelf=(fruit, *stores()),
    )
    place = Place(kitchen=today.kitchen, air=granted(air_in(today.kitchen)))
    made = make_batches(today, place, Shelf(today.shelf))
    assert len(made.batches) == made_of_it
    assert [p for p in made.shopping if p.name in (what, "sugar")] == []


def test_vinegar_from_a_bottle_of_a_quart_is_a_quart():
    cucumbers = Lot(name="c", what="pickling cucumbers", mass_kg=6 * 0.45359237)
    bottle = Lot(name="v", what="vinegar 5%", volume_m3=9.46e-4)
    today = day(
        Want(product="bread-and-butter pickles", jars=8, jar="pint"),
        shelf=(cucumbers, bottle, *stores()),
    )
    place = Place(kitchen=today.kitchen, air=granted(air_in(today.kitchen)))
    lacking = make_batches(today, place, Shelf(today.shelf)).shopping
    assert "vinegar 5%" not in {purchase.name for purchase in lacking}
    half = replace(today, shelf=(cucumbers, replace(bottle, volume_m3=9e-4), *stores()))
    (vinegar,) = (
        p
        for p in make_batches(half, place, Shelf(half.shelf)).shopping
        if p.name == "vinegar 5%"
    )
    assert vinegar.need == "4 cups"


@pytest.mark.parametrize(
    ("product", "multiple", "boxes"),
    [("apricot jam", 1, 1), ("apricot jam", 2, 2), ("plum jelly", 3, 3)],
)
def test_pectin_by_the_cup_is_as_many_boxes_as_weigh_the_same(product, multiple, boxes):
    """A third of a cup is one box; two thirds were counted as one too."""
    recipe = recipe_of(product, multiple, "half-pint")
    (pectin,) = [m for m in uses(recipe) if "pectin" in m.name]
    assert pectin.count == boxes


def test_a_bag_of_pectin_serves_as_boxes_of_its_weight():
    """Half a pound is 4.57 boxes of 1 3/4 oz: for both batches, and none is bought."""
    bag = Lot(name="bag", what="regular powdered pectin", mass_kg=0.22679618)
    jars = (lot for lot in stores(boxes=0) if "pectin" not in lot.what)
    today = day(shelf=(juice(), bag, *jars))
    place = Place(kitchen=today.kitchen, air=granted(air_in(today.kitchen)))
    made = make_batches(today, place, Shelf(today.shelf))
    assert made.shopping == []
    taken = [d.mass_kg for b in made.batches for d in b.draws if d.lot == "bag"]
    assert taken == pytest.approx([0.0496, 0.0496], rel=1e-3)
    little = replace(bag, mass_kg=0.06)
    today = replace(today, shelf=(juice(), little, *stores(boxes=0)))
    (pectin,) = make_batches(today, place, Shelf(today.shelf)).shopping
    assert (pectin.need, pectin.buy) == ("2", "1")


@pytest.mark.parametrize(("there", "have"), [(0.47, "just under 1/2 tsp"), (0.25, "")])
def test_what_is_there_is_never_said_as_what_is_needed(there: float, have: str):
    """A need of 1/2 tsp read "need 1/2 tsp, have 1/2 tsp, buy 1/4 tsp"."""
    tsp = CUP / 48
    nutmeg = Lot(name="n", what="nutmeg", volume_m3=there * tsp)
    shop = Shopping(Shelf((nutmeg,)))
    shop.draw([Material(name="nutmeg", volume_m3=0.5 * tsp)])
    (bought,) = shop.list()
    assert (bought.need, bought.buy) == ("1/2 tsp", "1/4 tsp")
    assert bought.have == (have or "1/4 tsp")
