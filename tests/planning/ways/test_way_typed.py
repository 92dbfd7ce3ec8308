"""Batches that are left out, as fewer jars wanted of the day file."""

from __future__ import annotations

from kitchens import day, juice, stores

from stillroom.methods.today import air_in
from stillroom.planning.day import Day, Want
from stillroom.planning.day_file.day_changes import changed_day_text
from stillroom.planning.day_file.dayfile import read_day
from stillroom.planning.day_file.dayfile_write import write_day
from stillroom.planning.way_changes import leave_out
from stillroom.planning.ways.way_typed import changes_typed
from stillroom.planning.which_batches.batches import make_batches
from stillroom.planning.which_batches.choices import Place
from stillroom.planning.which_batches.kitchen_problem import problem_of
from stillroom.planning.which_batches.shelf import Shelf
from stillroom.refusal import granted

SHELF = (juice(bags=6), juice("grape juice", bags=6), *stores(jars=200, lids=200))


def wanted(jars: int, product: str = "plum jelly") -> Want:
    return Want(product=product, jars=jars, jar="half-pint")


def typed(today: Day, *gone: str) -> str:
    """The plainest way to type that these batches are left out."""
    place = Place(kitchen=today.kitchen, air=granted(air_in(today.kitchen)))
    made = make_batches(today, place, Shelf(today.shelf))
    problem = granted(problem_of(today, made, place.air))
    out = tuple(leave_out(b) for b in problem.batches if b.id in gone)
    assert len(out) == len(gone)
    first = next(changes_typed(today, made, problem, out))
    read_day(changed_day_text(write_day(today), first))
    return first


def test_of_three_batches_so_many_jars_stay_wanted_as_are_still_made() -> None:
    today = day(wanted(23), wanted(8, "grape jelly"), shelf=SHELF)  # 8, 8 and 7
    for gone, jars in (
        (("plum jelly 3",), 16),
        (("plum jelly 1", "plum jelly 3"), 8),
        (("plum jelly 1", "plum jelly 2"), 8),
    ):
        assert typed(today, *gone) == f"wants.plum jelly.jars={jars}"
    all_ = ("plum jelly 1", "plum jelly 2", "plum jelly 3")
    assert typed(today, *all_) == "wants.plum jelly=nothing"


def test_what_lacks_fruit_anyhow_is_wanted_as_before() -> None:
    """Of grape jelly more is wanted than its juice makes: that is not the change."""
    today = day(wanted(16), wanted(90, "grape jelly"), shelf=SHELF)
    assert typed(today, "plum jelly 2") == "wants.plum jelly.jars=8"


def test_of_one_product_by_two_names_the_last_want_gives_first() -> None:
    """Nine jars of twelve are left: six for the first, and three for the other."""
    shelf = (juice("crabapple juice", bags=6, bag_cups=4), *stores(jars=99, lids=99))
    wants = wanted(6, "crab apple jelly"), wanted(6, "crabapple jelly")
    today = day(*wants, shelf=shelf)
    assert typed(today, "crabapple jelly 2") == "wants.crabapple jelly.jars=3"
