"""How one want is met in a kitchen: its fire, its pots, its jar, its process."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import pytest

from stillroom.book.packs import INTO_EACH_JAR, packs
from stillroom.book.procedures import answered_procedures
from stillroom.book.processes import process_for
from stillroom.measures import feet
from stillroom.methods.kitchen import Burner, Canner, CannerKind, Kitchen, Pot
from stillroom.methods.method import Kept
from stillroom.methods.recipes import own_pack, process_name
from stillroom.methods.today import air_in
from stillroom.planning.day import Lot, Want
from stillroom.planning.which_batches.batches import make_batches
from stillroom.planning.which_batches.choices import (
    Chosen,
    Place,
    choose,
    cooking_fires,
    fit,
    in_loads,
)
from stillroom.planning.which_batches.shelf import Shelf
from stillroom.refusal import Refusal, granted
from tests.kitchens import day, juice, kitchen, stores

HALF = "half-pint"
GAUGE = Canner(
    name="gauge canner",
    kind=CannerKind.DIAL_GAUGE,
    stands_on=("front left",),
    places={HALF: 30, "pint": 30, "quart": 30},
)
JELLY = Want(product="plum jelly", jars=8, jar=HALF)


def place(at: Kitchen | None = None) -> Place:
    at = kitchen() if at is None else at
    return Place(kitchen=at, air=granted(air_in(at)))


def chosen(want: Want, at: Kitchen | None = None) -> Chosen:
    found = choose(want, place(at))
    assert isinstance(found, Chosen), found
    return found


def refused(want: Want, at: Kitchen | None = None) -> Refusal:
    found = choose(want, place(at))
    assert isinstance(found, Refusal), found
    return found


# --- the fire -------------------------------------------------------------------


def fires(**changes: object) -> list[str]:
    found = cooking_fires(kitchen(**changes))
    assert not isinstance(found, Refusal)
    return [fire.name for fire in found]


def test_durations_go_by_the_strongest_fire_that_no_canner_covers():
    """Of 3.5, 3.0 and 1.8 kW the canner stands on the one of 3.0 kW."""
    assert fires() == ["front left"]
    covered = replace(kitchen().canners[0], stands_on=("front left",))
    assert fires(canners=(covered,)) == ["front right"]


def test_where_canners_cover_every_fire_the_strongest_of_all_counts():
    one = Burner(name="front right", power_w=3000.0)
    other = Burner(name="front left", power_w=3500.0)
    covered = replace(kitchen().canners[0], stands_on=("front right", "front left"))
    assert fires(burners=(one, other), canners=(covered,)) == ["front left"]


FREE = (
    Burner(name="ring", power_w=3500.0, largest_pot_m3=0.00757),
    Burner(name="plate", power_w=3500.0),
    Burner(name="back", power_w=3000.0),
    Burner(name="front right", power_w=3000.0),  # under the canner
)


@pytest.mark.parametrize(
    ("plate_w", "names"), [(3500.0, ["plate"]), (3200.0, ["ring", "plate"])]
)
def test_a_large_pot_goes_on_the_fire_that_bears_it(plate_w, names):
    """All jelly was refused: the strongest fire bears only small pots."""
    plate = replace(FREE[1], power_w=plate_w)
    at = kitchen(burners=(FREE[0], plate, *FREE[2:]))
    assert fires(burners=at.burners) == names
    fitted = chosen(Want(product="apple butter", jars=3, jar="pint"), at).fitted
    assert "big pot" in {pot.name for pot in fitted.pots}
    assert fitted.station.burner is plate


def test_what_a_small_pot_holds_stays_on_the_strongest_fire():
    at = kitchen(
        burners=(FREE[0], replace(FREE[1], power_w=3200.0), *FREE[2:]),
        pots=(Pot(name="small", volume_m3=0.00757), Pot(name="vat", volume_m3=0.02)),
    )
    pears = chosen(Want(product="pears", jars=1, jar="pint"), at).fitted
    assert pears.station.burner.name == "ring"
    assert {pot.name for pot in pears.pots} == {"small"}


def test_a_pot_that_the_fire_does_not_bear_is_none_that_holds_it():
    small = Burner(name="small", power_w=3500.0, largest_pot_m3=0.00757)
    right = Burner(name="front right", power_w=3000.0)
    want = Want(product="apple butter", jars=3, jar="pint")
    assert "big pot" in {pot.name for pot in chosen(want).fitted.pots}
    at = kitchen(burners=(small, right), pots=(Pot(name="vat", volume_m3=0.02),))
    assert refused(want, at).reason == "vat is too large for small"


# --- the jar and its process ----------------------------------------------------


def test_a_jar_that_the_recipe_is_not_printed_for_is_refused():
    no = refused(replace(JELLY, jar="quart"))
    assert "printed for half-pint and pint jars, not for quart" in no.reason
    assert no.instead == "fill half-pint jars"


@cache
def half_pints_and_pints() -> list[tuple[str, Chosen, Chosen]]:
    """Whatever can be planned in pints, where there is each canner, by either jar."""
    canners = tuple(replace(GAUGE, name=kind.value, kind=kind) for kind in CannerKind)
    vat = (Pot(name="vat", volume_m3=0.03),)
    at = place(kitchen(canners=canners, pots=vat))
    names = {procedure.name for procedure in answered_procedures()}
    names |= {f"{pack.product.name} packed {pack.pack}" for pack in packs()}
    found = []
    for name in sorted(names):
        pint = choose(Want(product=name, jars=8, jar="pint"), at)
        if not isinstance(pint, Refusal):
            half = choose(Want(product=name, jars=8, jar=HALF), at)
            assert isinstance(half, Chosen), (name, half)
            found.append((name, half, pint))
    return found


def test_what_is_planned_in_pints_is_planned_in_half_pints_by_the_same_process():
    """`process` gave half-pints of pears the time of pints, and a plan refused them."""
    found = half_pints_and_pints()
    assert len(found) > 60
    for name, half, pint in found:
        if half.process is None or pint.process is None:
            assert half.process is pint.process is None, name
            continue
        assert half.process.minutes >= pint.process.minutes, name
        assert half.process.pressure_psi == pint.process.pressure_psi, name
        asked = process_for(
            process_name(half.fitted.recipe.procedure),
            jar=HALF,
            pack=half.fitted.method.PACK or own_pack(half.fitted.recipe.procedure),
            elevation_ft=feet(655.0),
            canner=half.process.method,
        )
        assert asked == half.process, name


def test_a_half_pint_in_place_of_a_pint_says_by_which_rule():
    said = {
        name: [c for c in half.process.cautions if "names no half-pint" in c.text]
        for name, half, _ in half_pints_and_pints()
        if half.process is not None
    }
    (pears,) = said["pears packed hot"]
    assert "NCHFP" in pears.source
    assert said["plum jelly"] == []  # its table names them


def test_no_half_pint_has_less_acid_than_is_printed_for_a_pint():
    acid = {
        name: [
            [
                (part.name, part.quantity / chosen.fitted.recipe.multiple)
                for part in chosen.fitted.recipe.parts
                if part.role == "acid" and INTO_EACH_JAR in part.prep
            ]
            for chosen in (half, pint)
        ]
        for name, half, pint in half_pints_and_pints()
    }
    dosed = {name: doses for name, doses in acid.items() if doses[1]}
    assert {"figs packed hot", "crushed tomatoes packed hot"} <= set(dosed)
    assert all(half == pint for half, pint in dosed.values())


def test_a_canner_that_takes_no_such_jar_is_none_for_it():
    pints = replace(kitchen().canners[0], places={"pint": 9})
    no = refused(JELLY, kitchen(canners=(pints,)))
    assert no.reason == "no boiling-water canner here takes half-pint jars"


def test_what_has_no_published_process_is_kept_cold_and_never_on_the_shelf():
    no = refused(Want(product="relish-sweet-pepper", jars=5, jar="pint"))
    assert "has no published process, and is not kept on the shelf" in no.reason
    assert no.instead == "freeze or refrigerate it, as its recipe says"


def test_a_recipe_of_her_own_without_a_process_is_cold_though_a_canner_is_here():
    published = chosen(JELLY).fitted.recipe.procedure
    own = replace(
        published,
        id="own-plum",
        title="Grandmother's plum jelly",
        keeping="cold",
        how_known="keeper",
    )
    at = Place(kitchen=kitchen(), air=granted(air_in(kitchen())), own=(own,))
    found = choose(replace(JELLY, product="Grandmother's plum jelly"), at)
    assert isinstance(found, Chosen), found
    assert (found.process, found.kept) == (None, Kept.COLD)
    assert found.product == "Grandmother's plum jelly"


# --- packs, and how many jars a canner takes ------------------------------------


@pytest.mark.parametrize(("units", "sizes"), [(7, [7]), (9, [5, 4]), (14, [7, 7])])
def test_a_pack_is_divided_by_the_canner_of_its_own_process(units, sizes):
    """Seven quarts in boiling water; the gauge canner's thirty are for other jars."""
    base = kitchen(pots=(Pot(name="vat", volume_m3=0.03),))
    at = replace(base, canners=(*base.canners, GAUGE))
    pears = chosen(Want(product="pears", jars=units, jar="quart"), at)
    pots = in_loads(pears, units, place(at))
    assert [one.fitted.recipe.multiple for one in pots] == sizes


def test_a_part_of_a_jar_over_is_counted_by_the_canners_of_its_own_process():
    """Eight places for 8.2 jars or so; a gauge canner gives a jelly no process."""
    base = kitchen()
    want = replace(JELLY, jars=40)
    each = chosen(want, base).fitted.expected.likely
    whole = int(each)
    assert whole < each  # else there is no part of a jar
    water = replace(base.canners[0], places={HALF: whole})
    for canners in ((water,), (water, GAUGE)):
        today = day(
            want,
            shelf=(juice(bags=12), *stores()),
            kitchen=replace(base, canners=canners),
        )
        made = make_batches(today, place(today.kitchen), Shelf(today.shelf))
        assert len(made.batches) > 1
        assert {batch.jars for batch in made.batches} == {whole}


def test_a_kitchen_that_cans_less_than_a_pot_fills_counts_every_jar_of_it():
    """Five places at a time for a pot of eight: two loads, and no jar is lost."""
    water = replace(kitchen().canners[0], places={HALF: 5})
    today = day(JELLY, kitchen=kitchen(canners=(water,)))
    made = make_batches(today, place(today.kitchen), Shelf(today.shelf))
    (batch,) = made.batches
    assert batch.jars == round(batch.expected.likely) > 5


# --- wants of one product -------------------------------------------------------


def test_jars_of_two_sizes_are_never_one_batch():
    pints = Want(product="plum jelly", jars=4, jar="pint")
    made = make_batches(day(JELLY, pints), place(), Shelf(day().shelf))
    assert {batch.jar: batch.serves for batch in made.batches} == {
        HALF: (JELLY,),
        "pint": (pints,),
    }
    assert [batch.id for batch in made.batches] == ["plum jelly 1", "plum jelly 2"]


def test_her_own_multiple_is_not_given_to_who_wants_one_at_a_time():
    double = replace(JELLY, multiple=2, jars=16)
    vat = kitchen(pots=(Pot(name="vat", volume_m3=0.04),), burners=STRONG)
    shelf = (juice(bags=9), *stores())
    made = make_batches(
        day(JELLY, double, kitchen=vat, shelf=shelf), place(vat), Shelf(shelf)
    )
    assert {batch.multiple: batch.serves for batch in made.batches} == {
        1: (JELLY,),
        2: (double,),
    }


STRONG = (
    Burner(name="front left", power_w=12000.0),
    Burner(name="front right", power_w=12000.0),
)


def test_pots_of_her_size_are_kept_apart_from_pots_of_another():
    pears = Lot(name="pears", what="pears", mass_kg=40.0)
    five = Want(product="pears", jars=10, jar="pint", multiple=5)
    three = replace(five, jars=6, multiple=3)
    today = day(five, three, shelf=(pears, *stores()))
    made = make_batches(today, place(), Shelf(today.shelf))
    assert sorted((b.multiple, b.serves) for b in made.batches) == [
        (3, (three,)),
        (3, (three,)),
        (5, (five,)),
        (5, (five,)),
    ]


@pytest.mark.parametrize("recipe", ["butter-peach", "butter-plum"])
def test_a_jar_that_a_batch_half_fills_is_not_promised_as_a_jar(recipe):
    """A cup of pulp and its sugar: 12 batches of it were promised as 12 pints."""
    here = place()
    no = fit(recipe, "pint", 1, here)
    assert isinstance(no, Refusal)
    assert "fills 0.5 of a pint jar" in no.reason
    assert "`multiple` = 2" in no.instead
    assert granted(fit(recipe, "pint", 2, here)).expected.likely > 0.9
    assert granted(fit(recipe, "half-pint", 1, here)).expected.likely > 0.9
