"""What the stock tells of yields, seals, sets and counts: through the real decide."""

import pytest

from stillroom.learning import lots
from stillroom.learning.learn import learned
from stillroom.learning.lots import (
    batches_filled,
    book_yield,
    counts,
    seals_seen,
    sets_seen,
)
from stillroom.methods.learned import AS_PUBLISHED
from stillroom.stock.events import Seen
from tests.stock.kitchen import Farm


@pytest.fixture
def farm() -> Farm:
    return Farm()


def jelly(farm: Farm, jars: int, **batch: object) -> str:
    assert farm.made(f"{jars} half-pints plum jelly, pantry", **batch) is None
    return farm.last


def test_a_yield_stands_beside_the_books(farm):
    jelly(farm, 9)
    (one,) = batches_filled(farm.stock)
    assert one.product == "plum jelly"
    assert one.jars == 9
    assert one.book_jars == pytest.approx(
        book_yield("plum jelly", "half-pint", 1).likely
    )


def test_lots_of_another_kitchens_days_teach_this_one_nothing(farm):
    here = jelly(farm, 9, run="run/2026-09-05")
    there = jelly(farm, 5, run="run/2026-09-06")
    farm.later(13)
    assert farm.check(here, 9) is None
    assert farm.check(there, 5) is None
    away = {"run/2026-09-06"}
    assert [one.jars for one in batches_filled(farm.stock, away)] == [9]
    assert [one.of for one in seals_seen(farm.stock, away)] == [9]
    assert len(batches_filled(farm.stock)) == 2
    assert len(list(seals_seen(farm.stock))) == 2


def test_a_pot_that_went_into_two_loads_is_one_batch(farm):
    same = {"pot": "wide pot", "boil_start": "10:05"}
    jelly(farm, 5, load=1, **same)
    jelly(farm, 3, load=2, **same)
    jelly(farm, 4, load=2, pot="wide pot", boil_start="11:40")
    assert [one.jars for one in batches_filled(farm.stock)] == [8, 4]


def test_twice_the_recipe_is_held_against_twice_the_book(farm):
    jelly(farm, 15, multiple=2)
    (one,) = batches_filled(farm.stock)
    assert one.book_jars == pytest.approx(
        2 * book_yield("plum jelly", "half-pint", 1).likely
    )


def test_what_the_book_does_not_reckon_teaches_no_yield(farm):
    assert farm.made("8 half-pints moon jelly, pantry") is None
    assert batches_filled(farm.stock) == ()
    assert book_yield("peaches packed raw", "pint", 1) is None  # as many as are filled


def test_a_lot_that_was_mended_away_teaches_nothing(farm):
    jelly(farm, 9)
    assert farm.mend(farm.stock.sequence) is None
    assert batches_filled(farm.stock) == ()


def test_seals_are_of_all_the_jars_and_later_looks_mend_the_first(farm):
    code = jelly(farm, 8)
    farm.later(13)
    assert farm.check(code, 6, 1, 1) is None
    assert [(s.count, s.of) for s in seals_seen(farm.stock)] == [(2, 8)]
    farm.later(1)
    assert farm.check(code, 7, 1, 0) is None  # the doubtful one had sealed
    assert [(s.count, s.of) for s in seals_seen(farm.stock)] == [(1, 8)]


def test_jars_that_were_never_processed_tell_nothing_of_seals(farm):
    code = jelly(farm, 8, process_min=None)
    farm.later(13)
    assert farm.check(code, 8) is None
    assert list(seals_seen(farm.stock)) == []


def test_the_last_look_at_a_set_counts(farm):
    code = jelly(farm, 8)
    farm.later(24)
    assert farm.check(code, 8, seen=Seen.SOFT) is None
    assert [(s.count, s.of) for s in sets_seen(farm.stock)] == [(1, 1)]
    farm.later(24 * 13)
    assert farm.check(code, 8, seen=Seen.SET) is None
    assert [(s.count, s.of) for s in sets_seen(farm.stock)] == [(0, 1)]


def test_a_count_stands_beside_the_book(farm):
    code = jelly(farm, 8)
    assert farm.count(code, "6") is None
    assert [(c.thing, c.share) for c in counts(farm.stock)] == [("plum jelly", 0.75)]
    assert farm.mend(farm.stock.sequence) is None
    assert list(counts(farm.stock)) == []


def test_fewer_than_three_are_left_to_the_book(farm):
    for number in range(2):
        code = jelly(farm, 9)
        farm.later(24)
        assert farm.check(code, 9) is None
        assert learned([], farm.stock) == AS_PUBLISHED, number
    code = jelly(farm, 9)
    farm.later(24)
    assert farm.check(code, 9) is None
    known = learned([], farm.stock)
    assert known.yields["plum jelly"].runs == 3
    assert known.yields["plum jelly"].middle > 1.0
    assert known.seals is not None
    assert known.seals.mean < 0.04
    assert known.sets_of["plum jelly"].book is None


def test_what_the_book_reckons_of_a_batch_is_looked_up_once(farm, monkeypatch):
    asked = []
    looked_up = lots.recipe_named
    monkeypatch.setattr(
        lots,
        "recipe_named",
        lambda what, **jar: asked.append(what) or looked_up(what, **jar),
    )
    for jars in (7, 8, 9, 8):
        jelly(farm, jars)
    book_yield.cache_clear()
    assert len(batches_filled(farm.stock)) == 4
    assert asked == ["plum jelly"]
