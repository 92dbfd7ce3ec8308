"""What is left out of a day: which first, and what becomes of its fruit."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace

from stillroom.methods.today import air_in
from stillroom.planning.day import Day, Lot, Want
from stillroom.planning.which_batches.batches import Batched, make_batches
from stillroom.planning.which_batches.choices import Place
from stillroom.planning.which_batches.missed_most import (
    a_jar_min,
    left_out_of,
    most_missed_first,
    weight_min,
)
from stillroom.planning.which_batches.shelf import Shelf
from stillroom.refusal import granted
from tests.kitchens import CUP, day, juice, stores

HALF = "half-pint"
DATE = dt.date(2026, 8, 22)
"""Of the day: see `tests.kitchens`."""


def made_of(today: Day) -> Batched:
    place = Place(kitchen=today.kitchen, air=granted(air_in(today.kitchen)))
    return make_batches(today, place, Shelf(today.shelf))


def plums(**changes: object) -> Lot:
    """Plum juice for one batch, in a jug."""
    lot = Lot(name="jug", what="plum juice", volume_m3=5 * CUP)
    return replace(lot, **changes)  # type: ignore[arg-type]


def jelly_day(*lots: Lot, jars: int = 8) -> Day:
    want = Want(product="plum jelly", jars=jars, jar=HALF)
    return day(want, shelf=(*lots, *stores()))


def left_out(today: Day) -> tuple[object, ...]:
    """Why, what of the fruit, and whether it spoils, of the one batch of a day."""
    (one,) = left_out_of(today, made_of(today), ("plum jelly 1",))
    return one.why.partition(", it matters")[0], one.fruit, one.spoils


def test_what_is_in_the_freezer_keeps_whatever_date_it_bears():
    today = jelly_day(juice(bags=1, use_by=DATE))
    assert left_out(today) == (
        "frozen plum juice can stay frozen",
        "leave frozen plum juice in the freezer",
        False,
    )
    assert a_jar_min(today, made_of(today)) == {"plum jelly 1": weight_min(2, 3, False)}


def test_juice_in_a_jug_is_frozen_today_unless_it_keeps_for_a_week():
    def of(days: int) -> tuple[object, ...]:
        return left_out(jelly_day(plums(use_by=DATE + dt.timedelta(days=days))))

    soon = "freeze jug today, measured and dated"
    assert of(2) == ("jug cannot wait, and still there is no room", soon, True)
    assert of(3) == ("jug can wait until 25 August", soon, False)
    assert of(7) == ("jug can wait until 29 August", soon, False)
    keeps = "keep jug in the refrigerator and use by 30 August"
    assert of(8) == ("jug can wait until 30 August", keeps, False)


def test_of_two_lots_the_one_that_spoils_first_says_how_long_it_can_wait():
    first = plums(name="old", volume_m3=2 * CUP, use_by=dt.date(2026, 9, 3))
    second = plums(name="new", volume_m3=3 * CUP, use_by=dt.date(2026, 9, 20))
    why, _, _ = left_out(jelly_day(first, second))
    assert why == "old and new can wait until 3 September"


def test_a_batch_half_from_the_freezer_does_not_stay_frozen():
    thawed = plums(volume_m3=2 * CUP, use_by=DATE)
    frozen = juice(bags=1)
    why, _, spoils = left_out(jelly_day(thawed, frozen))
    assert why == "jug and frozen plum juice cannot wait, and still there is no room"
    assert spoils


def test_only_its_fruit_says_how_long_a_batch_can_wait():
    """An orange juice that is over tomorrow goes into no plum jelly's haste."""
    orange = Lot(name="oranges", what="orange juice", volume_m3=4 * CUP, use_by=DATE)
    pears = Lot(name="pears", what="pears", mass_kg=9.0, use_by=dt.date(2026, 9, 12))
    sugar = Lot(name="open sugar", what="sugar", mass_kg=20.0, use_by=DATE)
    want = Want(product="pears", jars=6, jar="pint")
    today = day(want, shelf=(pears, orange, sugar, *stores()))
    made = made_of(today)
    taken = {draw.lot for batch in made.batches for draw in batch.draws}
    assert "open sugar" in taken  # for its syrup: else the test tells nothing
    outs = left_out_of(today, made, most_missed_first(today, made))
    assert not any(out.spoils for out in outs)
    assert {out.fruit for out in outs} == {
        "keep pears cold and use by 12 September, or freeze"
    }


def test_batches_alike_are_told_together_with_all_their_jars():
    today = jelly_day(juice(bags=3), jars=24)
    made = made_of(today)
    names = tuple(batch.id for batch in made.batches)
    assert len(names) == 3
    (one,) = left_out_of(today, made, names)
    assert one.batches == names
    assert one.jars == sum(batch.jars for batch in made.batches)
    assert one.each == tuple((b.id, b.jars) for b in made.batches)


def test_what_is_proven_of_one_batch_is_not_said_of_the_next():
    today = jelly_day(juice(bags=3), jars=24)
    made = made_of(today)
    first, second, third = (batch.id for batch in made.batches)
    found = left_out_of(today, made, (first, second, third), proven=(third,))
    assert {out.batches: out.proven for out in found} == {
        (first, second): False,
        (third,): True,
    }
