"""Dried goods and soap in jars are not called unprocessed; what was put up cold is."""

import pytest

from stillroom.refusal import Refusal
from stillroom.stock.keeps import keeps
from stillroom.stock.making import is_canned
from stillroom.stock.no_process_needed import needs_no_process
from tests.stock.kitchen import Farm


@pytest.mark.parametrize(
    ("what", "needs_none"),
    [
        *((n, True) for n in ("dried apples", "Dried mint", "dehydrated carrots")),
        *((n, True) for n in ("hand cream", "lard soap", "honey", "Cider Vinegar")),
        *((n, False) for n in ("dried beans", "dry beans", "dried tomatoes in oil")),
        *((n, False) for n in ("plum jelly", "honey jelly", "garlic vinegar", "lard")),
        *((n, False) for n in ("green beans", "apples", "granny's mixture")),
    ],
)
def test_only_what_is_dry_or_no_food_stands_on_a_shelf_without_a_process(
    what, needs_none
):
    assert needs_no_process(what) is needs_none
    assert is_canned(what, "pint", "pantry") is not needs_none
    assert not is_canned(what, "pint", "freezer 2")


def test_a_jar_of_dry_goods_does_not_have_the_life_of_a_canned_one():
    farm = Farm()
    farm.made("3 pints honey, pantry", canned=False, process_min=None, food="")
    known = keeps(farm.stock.lots[farm.last], "pantry")
    assert (known.until, "no shelf life of honey" in known.words) == (None, True)


@pytest.fixture
def cold() -> Farm:
    """Eight pints put up for the refrigerator, without a process."""
    farm = Farm()
    farm.made(
        "8 pints pickled beets, refrigerator",
        canned=False,
        process_min=None,
        due_min=None,
        food="pickle",
    )
    return farm


def test_jars_put_up_for_the_cold_are_carried_to_no_shelf(cold: Farm):
    for to in ("pantry", "stand"):
        no = cold.move(cold.last, to, "2")
        assert isinstance(no, Refusal)
        assert "put up to be kept cold" in no.reason
        assert "--as eaten" in no.instead
    assert cold.move(cold.last, "freezer 2", "2") is None
    assert cold.take(cold.last, "1", place="refrigerator") is None
    counted = cold.count(cold.last, "3 pints", place="pantry")
    assert "put up to be kept cold" in counted.reason
    assert cold.count(cold.last, "6 pints", place="refrigerator") is None


def test_dry_goods_are_carried_where_they_are_wanted():
    farm = Farm()
    farm.made("3 pints dried apples, freezer", canned=False, process_min=None, food="")
    assert farm.move(farm.last, "pantry") is None
