"""No batch is promised a jar that its own pot does not fill."""

import math
import sys
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from stillroom.methods.today import air_in
from stillroom.planning.day import Day, Lot, Want
from stillroom.planning.which_batches.batches import Batched, make_batches
from stillroom.planning.which_batches.choices import Chosen, Place, choose
from stillroom.planning.which_batches.counted_jars import jars_of_each, part_jars
from stillroom.planning.which_batches.shelf import full_shelf
from stillroom.refusal import granted
from tests.kitchens import day, kitchen, stores

PLACE = Place(kitchen=kitchen(), air=granted(air_in(kitchen())))


def a_batch_of(jars: float, product: str = "plum jelly", jar: str = "half-pint"):
    found = choose(Want(product=product, jars=8, jar=jar), PLACE)
    assert isinstance(found, Chosen)
    expected = replace(found.fitted.expected, likely=jars)
    return replace(found, fitted=replace(found.fitted, expected=expected))


def made(today: Day) -> Batched:
    place = Place(kitchen=today.kitchen, air=granted(air_in(today.kitchen)))
    return make_batches(today, place, full_shelf(today))


@pytest.mark.parametrize(
    ("each", "jars"),
    [
        (8.4, [8, 8, 8]),  # were 8, 9, 8: no pot of them fills nine
        (8.5, [8, 9, 9]),  # a half either way: 25.5 in all
        (8.6, [9, 8, 9]),
        (4.19, [4, 4, 4]),  # the third was promised five
        (7.8, [8, 8, 7]),
        (6.0, [6, 6, 6]),
    ],
)
def test_a_pot_is_not_filled_up_from_the_next(each, jars):
    one = a_batch_of(each)
    assert jars_of_each(one, [one] * 3, sys.maxsize) == jars


@settings(deadline=None)
@given(st.floats(1.0, 40.0), st.integers(1, 12), st.sampled_from([9, sys.maxsize]))
def test_no_pot_has_more_than_its_own_and_the_sum_has_no_more_than_is_there(
    each, number, most
):
    one = a_batch_of(each)
    jars = jars_of_each(one, [one] * number, most)
    assert all(0 < count <= min(most, math.floor(each + 0.5)) for count in jars)
    assert sum(jars) <= round(each * number)
    assert sum(jars) >= number * min(most, math.floor(each))  # and no whole jar lost


def test_what_is_filled_by_the_jar_goes_on_from_pot_to_pot():
    """Of dried apples 0.3 of a jar is left in one go and comes to the next."""
    one = a_batch_of(0.3, product="dried apples", jar="quart")
    assert one.fitted.method.PER_JAR
    assert jars_of_each(one, [one] * 4, sys.maxsize) == [0, 1, 0, 0]


def test_a_want_is_not_met_by_parts_of_jars():
    """Three pots of pear butter of 4.19 pints were thirteen pints, and are twelve."""
    pears = Lot(name="pears", what="pears", mass_kg=14.0)
    want = Want(product="pear butter", jars=13, jar="pint")
    found = made(day(want, shelf=(pears, *stores())))
    assert [batch.jars for batch in found.batches] == [4, 4, 4]
    (unmet,) = found.unmet
    assert (unmet.wanted, unmet.planned) == (13, 12)
    assert "a batch fills 4.2 jars" in unmet.reason
    assert "no pot is filled up from the next" in unmet.reason
    more = made(day(replace(want, jars=14), shelf=(pears, *stores())))
    assert len(more.batches) == 4  # "want a batch more"
    assert not more.unmet


def test_a_last_jar_that_may_not_come_full_is_said():
    (said,) = part_jars(a_batch_of(8.5), "grape jelly 2", 9)
    counted = (
        "grape jelly 2 is counted on for 9 half-pint jars, and its pot fills about"
    )
    assert said.text.startswith(f"{counted} 8.5:")
    assert "into the refrigerator" in said.text
    assert part_jars(a_batch_of(8.5), "grape jelly 1", 8) == ()
    assert part_jars(a_batch_of(7.8), "plum jelly 1", 8) == ()
