"""What is set out the evening before, and what the odd bag may become."""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable
from dataclasses import replace

import pytest

from stillroom.methods.learned import Share
from stillroom.methods.method import Kept
from stillroom.methods.today import air_in
from stillroom.planning.day import Day, Lot, Want
from stillroom.planning.dayplan import MadeBatch
from stillroom.planning.which_batches.batches import Batched, make_batches
from stillroom.planning.which_batches.choices import Place
from stillroom.planning.which_batches.evening import LAST_DAYS_CANNER, evening_before
from stillroom.planning.which_batches.leftovers import leftovers
from stillroom.planning.which_batches.shelf import Shelf
from stillroom.refusal import granted
from tests.kitchens import CUP, day, juice, kitchen, stores

HALF = "half-pint"
LB = 0.45359237
OWN_SEALS = Share(
    a=80.0, b=20.0, low=0.72, high=0.87, lots=9, jars=100, seen=20, book=0.05
)
"""Invented: one lid in five of hers does not seal."""


def place_of(today: Day) -> Place:
    return Place(kitchen=today.kitchen, air=granted(air_in(today.kitchen)))


def made_of(today: Day) -> tuple[Batched, Shelf]:
    shelf = Shelf(today.shelf)
    return make_batches(today, place_of(today), shelf), shelf


def two_jellies() -> Day:
    return day(Want(product="plum jelly", jars=16, jar=HALF))


def kept_otherwise(
    made: Batched, which: Callable[[MadeBatch], bool], kept: Kept
) -> Batched:
    """The batches, some of them kept elsewhere and without a process."""
    made.batches = [
        replace(batch, process=None, kept=kept) if which(batch) else batch
        for batch in made.batches
    ]
    return made


# --- the evening before ---------------------------------------------------------


@pytest.mark.parametrize(
    ("lot", "product", "jar", "moved"),
    [
        (
            Lot(name="box", what="strawberries", mass_kg=3.0, frozen=True),
            "strawberry jam",
            HALF,
            "Move 4 lb 2 oz (1.87 kg) of box",
        ),
        (
            Lot(name="box", what="plum juice", volume_m3=9 * CUP, frozen=True),
            "plum jelly",
            HALF,
            "Move 5 cups of box",
        ),
    ],
)
def test_what_was_frozen_in_no_measured_bag_is_thawed_as_well(lot, product, jar, moved):
    """Frozen strawberries were crushed at seven, and nobody was told to thaw them."""
    today = day(Want(product=product, jars=8, jar=jar), shelf=(lot, *stores()))
    made, shelf = made_of(today)
    assert len(made.batches) == 1
    at = dt.datetime.combine(today.date, dt.time(7, 9))
    (line,) = [x for x in evening_before(today, made, {"box": at}) if "freezer" in x]
    assert line.startswith(moved)
    assert "from the freezer to the refrigerator, in a pan" in line
    assert "the first is wanted at 7:09" in line
    (left,) = [x for x in leftovers(made, shelf, place_of(today)) if x.lot == "box"]
    assert "it stays frozen" in left.choices


def test_ladle_and_towels_are_for_hot_jars():
    """Beans that go into the freezer in boxes have neither lids nor hot jars."""
    beans = Lot(name="beans", what="green beans", mass_kg=4.6)
    frozen = Want(product="frozen green beans", jars=6, jar="pint")
    today = day(frozen, shelf=(beans, *stores()))
    made, _ = made_of(today)
    assert made.batches
    assert not any("hot jars" in line for line in evening_before(today, made))


def test_lids_are_counted_for_what_is_sealed_alone():
    """Jars that stand cold are filled as well; no lid of theirs has to seal."""
    today = two_jellies()
    made, _ = made_of(today)
    first, second = made.batches
    lines = evening_before(today, made)
    assert f"Count out {first.jars + second.jars} half-pint jars" in "\n".join(lines)
    made = kept_otherwise(made, lambda batch: batch.id == second.id, Kept.COLD)
    lines = evening_before(today, made)
    assert any(
        line.startswith(f"{first.jars + 1} lids ({first.jars} and 1 to spare)")
        for line in lines
    )
    assert f"Count out {first.jars + second.jars} half-pint jars" in "\n".join(lines)


def test_what_is_frozen_goes_into_boxes_of_its_own_size_and_not_into_glass():
    today = day(
        Want(product="plum jelly", jars=8, jar=HALF),
        Want(product="plum jelly", jars=4, jar="pint"),
    )
    made, _ = made_of(today)
    jars = {batch.jar: batch.jars for batch in made.batches}
    assert set(jars) == {HALF, "pint"}
    lines = evening_before(
        today, kept_otherwise(made, lambda batch: True, Kept.FREEZER)
    )
    boxes = [line for line in lines if "freezer box" in line]
    assert boxes == [
        f"Count out {n} {jar} freezer boxes; make room to freeze."
        for jar, n in jars.items()
    ]
    assert not any("look for nicks" in line for line in lines)


def test_whoever_cans_is_asked_the_evening_before_whether_all_was_processed():
    today = two_jellies()
    made, _ = made_of(today)
    assert evening_before(today, made)[-1] == LAST_DAYS_CANNER
    cold = kept_otherwise(made, lambda batch: True, Kept.COLD)
    assert LAST_DAYS_CANNER not in evening_before(today, cold)


def test_jars_and_lids_to_spare_go_by_her_own_seals():
    today = two_jellies()
    made, _ = made_of(today)
    jars = sum(batch.jars for batch in made.batches)
    spare = OWN_SEALS.enough(jars)
    assert spare > 1
    said = "\n".join(evening_before(today, made, seals=OWN_SEALS))
    assert f"{jars + spare} lids ({jars} and {spare} to spare)" in said
    assert f"{jars} half-pint jars and {spare} to spare" in said


def test_the_last_bag_is_opened_for_what_is_still_lacking():
    """Five cups of bags of three: the second is opened for two of its three."""
    today = day(
        Want(product="plum jelly", jars=8, jar=HALF),
        shelf=(juice(bags=3, bag_cups=3.0), *stores()),
    )
    made, _ = made_of(today)
    (line,) = (x for x in evening_before(today, made) if x.startswith("Move"))
    assert line.startswith(
        "Move 2 of 3 bags of frozen plum juice (the last is opened for 2 cups)"
    )


@pytest.mark.parametrize(("hour", "sooner"), [(19, False), (9, True)])
def test_a_bag_that_thaws_in_one_night_is_moved_on_the_evening_before(hour, sooner):
    """A thin bag thaws within a day: for the evening, the evening before does."""
    today = day(
        Want(product="plum jelly", jars=8, jar=HALF),
        shelf=(juice(bags=5, bag_cups=1.0), *stores()),
    )
    made, _ = made_of(today)
    wanted = {"frozen plum juice": dt.datetime.combine(today.date, dt.time(hour))}
    (line,) = (x for x in evening_before(today, made, wanted) if x.startswith("Move"))
    assert ("better on the evening of" in line) == sooner


def jam_of(berries: Lot) -> Day:
    want = Want(product="blackberry jam", jars=7, jar=HALF)
    return day(want, shelf=(berries, *stores()))


def moved(today: Day) -> str:
    made, _ = made_of(today)
    wanted = {"berries": dt.datetime.combine(today.date, dt.time(9, 10))}
    lines = evening_before(today, made, wanted)
    return " ".join(x for x in lines if x.startswith("Move"))


def test_frozen_fruit_by_weight_is_moved_the_evening_before_too():
    """Nobody crushes berries that are a lump of ice."""
    berries = Lot(name="berries", what="blackberries", mass_kg=12 * LB)
    assert moved(jam_of(berries)) == ""  # fresh ones stand on the table
    said = moved(jam_of(replace(berries, frozen=True)))
    assert said.startswith("Move 4 lb 2 oz (1.87 kg) of berries from the freezer")
    assert "the first is wanted at 9:10" in said
    assert "0.6 in thick 10 to 24 h, 3.1 in thick 63 to 149 h (estimates)" in said


def test_bags_by_weight_are_counted_out_as_bags():
    bags = Lot(
        name="berries",
        what="blackberries",
        mass_kg=12 * LB,
        bags=6,
        bag_kg=2 * LB,
        frozen=True,
    )
    said = moved(jam_of(bags))
    assert said.startswith(
        "Move 3 of 6 bags of berries (the last is opened for 2 oz (57 g)) from"
    )
    assert "A bag lying flat, 1.5 in thick" in said
    assert left_of(jam_of(bags)) == (
        "3 whole bags stay frozen; the rest of an opened bag, 1 lb 14 oz (850 g), goes "
        "back to the freezer, weighed and dated"
    )


def test_frozen_fruit_that_is_left_is_not_told_to_be_frozen():
    berries = Lot(name="berries", what="blackberries", mass_kg=12 * LB, frozen=True)
    assert left_of(jam_of(berries)) == "it stays frozen"


def left_of(today: Day) -> str:
    made, shelf = made_of(today)
    found = leftovers(made, shelf, place_of(today), today.date)
    (kept,) = (one.choices[-1] for one in found if one.lot == "berries")
    return kept


# --- what is left over ----------------------------------------------------------


def choices(today: Day, lot: str) -> str:
    made, shelf = made_of(today)
    found = leftovers(made, shelf, place_of(today), today.date)
    return " | ".join(c for one in found if one.lot == lot for c in one.choices)


def with_left(*lots: Lot, **changes: object) -> Day:
    want = Want(product="blackberry jelly", jars=1, jar=HALF)
    return day(want, shelf=(*stores(), *lots), **changes)


def test_the_empty_jars_of_each_size_are_told_with_what_would_fill_them():
    pears = Lot(name="pears", what="pears", mass_kg=12.0)
    quarts = Lot(name="quarts", what="quart jars", count=5)
    said = choices(with_left(pears, quarts), "pears")
    assert (
        "10 quart jars (5 empty on the shelf) or 21 pint jars (60 empty on the shelf)"
        in said
    )


def test_jars_that_no_canner_here_takes_are_said_to_need_another():
    pears = Lot(name="pears", what="pears", mass_kg=12.0)
    said = choices(with_left(pears), "pears")
    assert "but only in" not in said
    halves = replace(kitchen().canners[0], places={HALF: 9})
    said = choices(with_left(pears, kitchen=kitchen(canners=(halves,))), "pears")
    assert "21 pint jars (60 empty on the shelf), but no canner here holds them" in said


def test_a_canner_that_takes_one_of_two_sizes_is_named_for_the_other_alone():
    """It was said to take a boiling-water canner, beside the one that it has."""
    pears = Lot(name="pears", what="pears", mass_kg=12.0)
    pints = replace(kitchen().canners[0], places={HALF: 9, "pint": 9})
    said = choices(with_left(pears, kitchen=kitchen(canners=(pints,))), "pears")
    assert (
        "10 quart jars (0 empty on the shelf; no canner here holds them) or 21 pint "
        "jars (60 empty on the shelf)" in said
    )
    assert "only in" not in said


@pytest.mark.parametrize(("days", "named"), [(7, True), (8, False)])
def test_what_is_over_within_a_week_is_named_though_nothing_takes_it(days, named):
    until = dt.date(2026, 8, 22) + dt.timedelta(days=days)
    milk = Lot(name="milk", what="milk", volume_m3=4 * CUP, use_by=until)
    assert bool(choices(with_left(milk), "milk")) == named


@pytest.mark.parametrize(
    ("what", "kept"),
    [
        ("Cider vinegar", "keep it closed, in a cupboard"),
        ("pickling cucumbers", "keep them cool; frozen, they go limp"),
        ("peppers in vinegar", "freeze it, measured and dated"),
        ("milk", "into the refrigerator, or freeze it"),
    ],
)
def test_nobody_is_told_to_freeze_what_freezing_spoils(what, kept):
    until = dt.date(2026, 8, 24)
    odd = Lot(name="odd", what=what, volume_m3=4 * CUP, use_by=until)
    assert choices(with_left(odd), "odd").split(" | ")[0] == kept


@pytest.mark.parametrize("what", ["ground beef", "chicken", "milk", "eggs"])
def test_meat_milk_and_eggs_that_are_left_go_into_the_cold(what):
    """ "Keep it cool, or freeze it" was said of raw beef."""
    lot = Lot(name=what, what=what, mass_kg=2.0, use_by=dt.date(2026, 8, 24))
    said = choices(with_left(lot), what)
    assert "into the refrigerator, or freeze it" in said
    assert "cool" not in said


@pytest.mark.parametrize(
    ("cups", "kinds"),
    [
        (5.0, ["powdered pectin", "liquid pectin", "no added pectin"]),
        (4.9, ["liquid pectin", "no added pectin"]),
        (3.9, []),
    ],
)
def test_less_than_a_tested_batch_is_enough_for_none(cups, kinds):
    """Plum jelly takes 5 cups of juice with powdered pectin, 4 cups otherwise."""
    jug = Lot(
        name="jug",
        what="plum juice",
        volume_m3=cups * CUP,
        use_by=dt.date(2026, 8, 23),
    )
    said = choices(with_left(jug), "jug").split(" | ")
    for_jelly = [one for one in said if one.startswith("plum jelly")]
    assert for_jelly == [
        f"plum jelly (Plum jelly, {kind}): enough for a whole tested batch"
        for kind in kinds
    ]
    assert any("no published recipe here is so small" in one for one in said) == (
        not kinds
    )


@pytest.mark.parametrize(
    ("pounds", "becomes"),
    [
        (6, "lard: enough for another batch, as it is made today"),
        (2.5, "cook with it: no published recipe here is so small"),
    ],
)
def test_fat_that_is_left_may_be_rendered_as_well(pounds, becomes):
    """Lard was made of it, and "no published recipe here takes it: drink it" stood."""
    fat = Lot(name="fat", what="pork fat", mass_kg=pounds * 0.45359237)
    today = day(Want(product="lard", jars=2, jar="pint"), shelf=(fat, *stores()))
    made, shelf = made_of(today)
    assert len(made.batches) == 1
    (left,) = [
        one
        for one in leftovers(made, shelf, place_of(today), today.date)
        if one.lot == "fat"
    ]
    assert becomes in left.choices
    assert not any("drink" in choice for choice in left.choices)
