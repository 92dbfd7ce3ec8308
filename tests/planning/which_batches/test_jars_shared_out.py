"""To whom the jars of a day's batches go, and what is bought and drawn for them."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace

import pytest

from stillroom.methods.learned import Learned, Share
from stillroom.methods.method import Material
from stillroom.methods.today import air_in
from stillroom.planning.day import Day, Lot, Purpose, Want
from stillroom.planning.which_batches.batches import (
    Batched,
    first_served,
    keep_only,
    make_batches,
)
from stillroom.planning.which_batches.choices import Place
from stillroom.planning.which_batches.shelf import LotLeft, Shelf, draw_of, mass_words
from stillroom.refusal import granted
from tests.kitchens import CUP, day, juice, stores

HALF = "half-pint"
EARLY = Want(product="plum jelly", jars=8, jar=HALF, by=dt.time(11))
LATE = replace(EARLY, by=dt.time(14))
OWN_SEALS = Share(
    a=80.0, b=20.0, low=0.72, high=0.87, lots=9, jars=100, seen=20, book=0.05
)
"""Invented: one lid in five of hers does not seal."""


def made_of(today: Day, **given: object) -> Batched:
    learned = given.pop("learned", Learned())
    place = Place(
        kitchen=today.kitchen,
        air=granted(air_in(today.kitchen)),
        learned=learned,  # type: ignore[arg-type]
    )
    return make_batches(today, place, Shelf(today.shelf), **given)  # type: ignore[arg-type]


# --- whom the jars are for ------------------------------------------------------


def test_the_earliest_is_served_first_then_what_matters_then_what_sells():
    whenever = replace(EARLY, by=None)
    grave, light = replace(LATE, matters=5), replace(LATE, matters=1)
    sold = replace(whenever, purpose=Purpose.STAND)
    wants = [whenever, light, sold, grave, EARLY]
    assert sorted(wants, key=first_served) == [EARLY, grave, light, sold, whenever]


def exactly_two() -> tuple[Want, Want]:
    """Two promises of just what the first and the second batch fill."""
    made = made_of(day(replace(EARLY, jars=16)))
    first, second = (batch.jars for batch in made.batches)
    return replace(EARLY, jars=first), replace(LATE, jars=second)


def test_a_batch_whose_jars_all_go_to_one_promise_serves_no_other():
    early, late = exactly_two()
    assert [b.serves for b in made_of(day(early, late)).batches] == [(early,), (late,)]
    more = replace(early, jars=early.jars + 1)
    less = replace(late, jars=late.jars - 1)
    serves = [b.serves for b in made_of(day(more, less)).batches]
    assert serves == [(more,), (more, less)]


def test_what_is_left_out_by_name_is_not_what_the_first_promise_waits_for():
    early, late = exactly_two()
    made = made_of(day(early, late, without=("plum jelly 1",)))
    assert {b.id: b.serves for b in made.batches} == {
        "plum jelly 1": (late,),
        "plum jelly 2": (early,),
    }


def test_jars_that_the_first_promise_takes_are_none_for_the_second():
    early, late = exactly_two()
    shelf = (juice(bags=1), *stores())
    made = made_of(day(early, late, shelf=shelf))
    assert [(unmet.wanted, unmet.planned) for unmet in made.unmet] == [(late.jars, 0)]


def test_a_division_that_comes_to_another_number_of_jars_is_not_taken():
    pears = Lot(name="pears", what="pears", mass_kg=20.0)
    want = Want(product="pears", jars=7, jar="pint")
    today = day(want, shelf=(pears, *stores()))

    def sizes(divided: tuple[int, ...]) -> list[int]:
        made = made_of(today, divided={"pears, pint": divided})
        return [batch.multiple for batch in made.batches]

    assert sizes((4, 3)) == [4, 3]
    assert sum(sizes((2, 2))) == 7


# --- what is bought -------------------------------------------------------------


def test_nothing_is_bought_for_a_batch_that_is_left_out():
    today = day(EARLY, LATE, shelf=(juice(), *stores(boxes=1)))
    made = made_of(today)
    assert [(p.name, p.buy) for p in made.shopping] == [
        ("regular powdered pectin", "1")
    ]
    assert keep_only(made, ["plum jelly 2"], Shelf(today.shelf)).shopping == []


def test_lids_to_spare_go_by_her_own_seals_where_they_are_known():
    today = day(replace(EARLY, jars=16), shelf=(juice(), *stores(lids=10)))
    (published,) = made_of(today).shopping
    (own,) = made_of(today, learned=Learned(seals=OWN_SEALS)).shopping
    assert published.need == "17"  # one in twenty
    assert own.need == str(16 + OWN_SEALS.enough(16))
    assert OWN_SEALS.enough(16) > 1
    assert own.why == "with spare ones by your own seals of 100 jars"


# --- the shelf ------------------------------------------------------------------


def test_pieces_are_no_weight_and_no_volume():
    """Sixty pears are not sixty kilograms of them."""
    pears = Lot(name="pears", what="pears", count=60)
    shelf = Shelf([pears])
    assert shelf.on_hand(Material(name="pears", mass_kg=1.0)) == 0.0
    assert shelf.on_hand(Material(name="pears", volume_m3=1e-3)) == 0.0
    made = made_of(
        day(Want(product="pears", jars=4, jar="pint"), shelf=(pears, *stores()))
    )
    assert made.batches == []


def test_a_lot_that_is_used_up_hurries_nothing_more():
    old = juice(bags=1, use_by=dt.date(2026, 8, 23))
    new = replace(juice(use_by=dt.date(2026, 9, 30)), name="new bags")
    shelf = Shelf([new, old])
    assert shelf.use_by("plum juice") == dt.date(2026, 8, 23)
    shelf.draw(Material(name="plum juice", volume_m3=5 * CUP))
    assert shelf.use_by("plum juice") == dt.date(2026, 9, 30)


@pytest.mark.parametrize(
    ("cups", "said"), [(5, "5 cups (1 bag)"), (7.5, "7 1/2 cups (1.5 bags)")]
)
def test_what_is_drawn_is_told_in_bags_of_their_own_size(cups, said):
    assert draw_of(LotLeft(juice(bags=3, bag_cups=5.0), 0.0), cups * CUP).text == said


def test_a_part_of_a_piece_is_a_whole_one_drawn():
    boxes = Lot(name="pectin", what="regular powdered pectin", count=9)
    assert draw_of(LotLeft(boxes, 0.0), 2.5).count == 3
    assert draw_of(LotLeft(boxes, 0.0), 2.0 + 1e-12).count == 2


def test_a_crumb_that_the_scales_do_not_show_is_not_bought():
    shelf = Shelf([Lot(name="sugar", what="sugar", mass_kg=0.3)])
    third = Material(name="sugar", mass_kg=0.1)
    lacking = [shelf.draw(third)[1] for _ in range(3)]  # 0.1 + 0.1 + 0.1 > 0.3
    assert lacking == [0.0, 0.0, 0.0]


def test_what_is_to_be_fetched_is_rounded_up():
    """Who writes just that on the shelf has enough: 4 lb are less than 1.82 kg."""
    assert mass_words(1.82, metric=False) == "4 lb (1.82 kg)"
    assert mass_words(1.82, metric=False, at_least=True) == "4 lb 1 oz (1.82 kg)"
