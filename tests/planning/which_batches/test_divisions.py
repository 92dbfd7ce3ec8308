"""How the jars of a pack are divided into pots, and who has the last word."""

from __future__ import annotations

import pytest
from kitchens import CUP, day, stores

from stillroom.methods.today import air_in
from stillroom.planning.day import Day, Lot, Want
from stillroom.planning.which_batches.batches import Batched, make_batches
from stillroom.planning.which_batches.choices import Chosen, Place, choose, fit
from stillroom.planning.which_batches.divisions import (
    Division,
    divisions,
    largest_pot,
    stated,
)
from stillroom.planning.which_batches.shelf import Shelf
from stillroom.refusal import Refusal, granted

FRUIT = (
    Lot(name="apples", what="apples", mass_kg=60.0),
    Lot(name="pears", what="pears", mass_kg=60.0),
    Lot(name="apple juice", what="apple juice", volume_m3=80 * CUP),
    Lot(name="quarts", what="quart jars", count=60),
    *stores(),
)


def place(today: Day) -> Place:
    return Place(kitchen=today.kitchen, air=granted(air_in(today.kitchen)))


def ways(product: str, units: int, jar: str = "quart") -> tuple[Division, ...]:
    today = day()
    chosen = granted(choose(Want(product=product, jars=units, jar=jar), place(today)))
    assert isinstance(chosen, Chosen)
    return divisions(chosen, units, place(today))


def made(*wants: Want, **divided: tuple[int, ...]) -> Batched:
    today = day(*wants, shelf=FRUIT)
    names = {f"{k}, quart": sizes for k, sizes in divided.items()}
    return make_batches(today, place(today), Shelf(today.shelf), names)


def test_a_tested_batch_has_one_division():
    (only,) = ways("plum jelly", 3, "half-pint")
    assert only.sizes == (1, 1, 1)
    (only,) = ways("pear butter", 2, "pint")
    assert only.sizes == (1, 1)


@pytest.mark.parametrize("product", ["pears", "applesauce", "apple juice"])
def test_a_pack_is_divided_as_pots_and_loads_allow(product):
    found = ways(product, 14)
    assert found[0].sizes == (7, 7)  # two loads of the only canner
    assert {(5, 5, 4), (4, 4, 3, 3)} <= {one.sizes for one in found}
    assert all(sum(one.sizes) == 14 for one in found)
    today = day()
    one = granted(choose(Want(product=product, jars=1, jar="quart"), place(today)))
    most = largest_pot(one, 14, place(today))
    assert not isinstance(fit(product, "quart", most, place(today)), Refusal)
    assert isinstance(fit(product, "quart", most + 1, place(today)), Refusal)
    assert max(max(one.sizes) for one in found) == most


@pytest.mark.parametrize("units", [1, 2, 3])
def test_no_division_has_an_empty_pot(units):
    for one in ways("pears, packed hot", units):
        assert min(one.sizes) > 0
        assert sum(one.sizes) == units


def test_each_division_makes_the_same_jars_of_the_same_fruit():
    want = Want(product="applesauce", jars=14, jar="quart")
    takes = set()
    for one in ways("applesauce", 14):
        done = made(want, applesauce=one.sizes)
        assert [batch.jars for batch in done.batches] == list(one.sizes)
        mass = sum(draw.mass_kg or 0 for b in done.batches for draw in b.draws)
        takes.add(round(mass, 3))
    assert len(takes) == 1


def test_pots_that_the_keeper_states_are_her_own():
    # pots of five, and no other division of them is looked for; once they were empty
    done = made(Want(product="pears", jars=14, jar="quart", multiple=5), pears=(7, 7))
    assert [batch.jars for batch in done.batches] == [5, 5, 4]
    assert done.units == {}
    assert stated(14, 5) == (5, 5, 4)


def test_a_division_of_other_jars_is_not_taken():
    done = made(Want(product="pears", jars=14, jar="quart"), pears=(9, 9))
    assert [batch.jars for batch in done.batches] == [7, 7]
