"""From shelf and wants to batches: what is short, what is left, what is refused."""

import datetime as dt
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from stillroom.measures import read_mass_kg
from stillroom.methods.kitchen import Canner, CannerKind, Pot
from stillroom.methods.today import air_in
from stillroom.planning.day import Day, Lot, Purpose, Want
from stillroom.planning.which_batches.batches import Batched, make_batches
from stillroom.planning.which_batches.choices import Place
from stillroom.planning.which_batches.evening import evening_before
from stillroom.planning.which_batches.leftovers import leftovers
from stillroom.planning.which_batches.shelf import Shelf
from stillroom.refusal import granted
from tests.kitchens import CUP, day, juice, kitchen, stores

HALF = "half-pint"
POUND = 0.45359237


def made_of(today: Day) -> tuple[Batched, Shelf]:
    shelf = Shelf(today.shelf)
    place = Place(kitchen=today.kitchen, air=granted(air_in(today.kitchen)))
    return make_batches(today, place, shelf), shelf


def place_of(today: Day) -> Place:
    return Place(kitchen=today.kitchen, air=granted(air_in(today.kitchen)))


def test_as_many_batches_as_the_want_asks_for():
    made, _ = made_of(day(Want(product="plum jelly", jars=16, jar=HALF)))
    assert [b.id for b in made.batches] == ["plum jelly 1", "plum jelly 2"]
    assert sum(b.jars for b in made.batches) >= 15
    assert not made.unmet


@pytest.mark.parametrize(("hot_oz", "batches"), [(64, 1), (63, 0)])
def test_a_day_with_the_very_pounds_of_a_recipe_makes_it(hot_oz, batches):
    """USDA Guide 6, Pickled hot peppers: 4 lb of hot ones and 3 lb of sweet ones."""
    hot = Lot(name="hot", what="hot peppers", mass_kg=hot_oz * 0.45359237 / 16)
    sweet = Lot(name="sweet", what="sweet peppers", mass_kg=3 * 0.45359237)
    want = Want(product="pickled hot peppers", jars=9, jar="pint")
    made, _ = made_of(day(want, shelf=(hot, sweet, *stores())))
    assert len(made.batches) == batches
    assert "sweet peppers" not in {purchase.name for purchase in made.shopping}


def test_the_fruit_limits_the_batches_and_says_by_how_much():
    made, _ = made_of(day(Want(product="plum jelly", jars=40, jar=HALF)))
    assert len(made.batches) == 3
    (unmet,) = made.unmet
    assert (unmet.wanted, unmet.planned) == (40, sum(b.jars for b in made.batches))
    assert "15 cups on the shelf makes 3 whole batches" in unmet.reason
    assert "5 cups more" in unmet.reason
    assert "not trimmed" in unmet.instead


def test_short_sugar_is_bought_not_refused():
    today = day(shelf=(juice(), *stores(sugar_kg=1.0)))
    made, _ = made_of(today)
    (sugar,) = made.shopping
    assert sugar.name == "sugar"
    assert "1.8 kg" in sugar.buy  # two batches take 2.8 kg
    assert sugar.why == "not enough for any of the 2 batches that take it"


def test_lids_to_spare_are_counted():
    """16 jars take 17 lids: one in twenty is spare."""
    today = day(shelf=(juice(), *stores(lids=10)))
    made, _ = made_of(today)
    (lids,) = made.shopping
    assert (lids.need, lids.have, lids.buy) == ("17", "10", "7")


def test_boxes_of_pectin_are_bought_whole():
    today = day(shelf=(juice(), *stores(boxes=0)))
    made, _ = made_of(today)
    assert [(p.name, p.buy, p.have) for p in made.shopping] == [
        ("regular powdered pectin", "2", "none")
    ]


def butter_day(*lots: Lot, multiple: int = 1) -> Day:
    """Apples for apple butter, which takes cinnamon and cloves."""
    apples = Lot(name="apples", what="apples", mass_kg=9.0 * multiple)
    want = Want(product="apple butter", jars=4 * multiple, jar="pint")
    return day(want, shelf=(apples, *stores(), *lots))


def bought(today: Day) -> dict[str, tuple[str, str, str]]:
    made, _ = made_of(today)
    assert made.batches
    return {p.name: (p.buy, p.have, p.why) for p in made.shopping}


def test_spices_are_on_the_shopping_list_as_they_are_printed():
    """USDA Guide 2, apple butter: 2 tbsp cinnamon and 1 tbsp cloves."""
    lacking = bought(butter_day())
    assert lacking["cinnamon"][:2] == ("2 tbsp", "none")
    assert lacking["cloves"][:2] == ("1 tbsp", "none")
    assert lacking["cloves"][2] == "not enough for the batch that takes it"
    spoons = Lot(name="cinnamon", what="cinnamon", volume_m3=CUP)
    assert "cinnamon" not in bought(butter_day(spoons))


def test_a_ground_spice_is_the_spice_and_a_whole_one_is_not():
    """What the jar says: "ground cinnamon" was to be bought again."""

    def there(what: str) -> Lot:
        return Lot(name=what, what=what, volume_m3=CUP)

    lacking = bought(butter_day(there("ground cinnamon"), there("whole cloves")))
    assert "cinnamon" not in lacking
    assert lacking["cloves"][:2] == ("1 tbsp", "none")


def test_a_spice_in_another_measure_is_for_the_keeper_to_look_at():
    jar = Lot(name="cinnamon, jar", what="cinnamon", mass_kg=0.05)
    buy, have, why = bought(butter_day(jar))["cinnamon"]
    assert (buy, have) == ("2 tbsp", "some")
    assert why == (
        "cinnamon, jar: on the shelf in another measure, so see whether it is enough"
    )


def test_what_keeps_pears_from_browning_is_on_the_list_without_an_amount_of_ours():
    pears = Lot(name="pears", what="pears", mass_kg=9.0)
    want = Want(product="pears", jars=7, jar="quart")
    today = day(want, shelf=(pears, *stores()))
    assert bought(today)["ascorbic acid"] == (
        "some",
        "none",
        "1 tsp (3 g) to each gallon of cold water; no amount for a jar is printed",
    )
    there = Lot(name="vitamin C", what="ascorbic acid crystals", mass_kg=0.1)
    assert "ascorbic acid" not in bought(replace(today, shelf=(*today.shelf, there)))


def with_pectin(what: str, count: int = 4) -> Day:
    boxes = Lot(name="pectin", what=what, count=count)
    return day(shelf=(juice(), *stores(boxes=0), boxes))


def test_pectin_that_is_not_said_to_be_powdered_is_asked_after_and_not_taken():
    for what in ("pectin", "regular pectin", "box of pectin"):
        (buy, have, why) = bought(with_pectin(what))["regular powdered pectin"]
        assert (buy, have) == ("2", "none")
        assert why == (
            f'"{what}" on the shelf may be powdered, liquid or low-methoxyl pectin: '
            'write which it is; as "regular powdered pectin" it counts'
        )


@pytest.mark.parametrize(
    "what",
    [
        "liquid pectin",
        "low-methoxyl pectin",
        "low-sugar powdered pectin",
        "calcium pectin",
        "no-sugar-needed pectin powder",
        "pectin, pouches",
    ],
)
def test_no_other_pectin_is_taken_for_powdered_pectin(what):
    (_, have, why) = bought(with_pectin(what))["regular powdered pectin"]
    assert (have, why) == ("none", "not enough for any of the 2 batches that take it")


def test_powdered_pectin_is_taken_by_each_of_its_names():
    for what in ("pectin powder", "powdered fruit pectin", "dry pectin"):
        assert not bought(with_pectin(what))


def pickle_day(vinegar: str) -> Day:
    cucumbers = Lot(name="cucumbers", what="pickling cucumbers", mass_kg=3.7)
    jug = Lot(name=vinegar, what=vinegar, volume_m3=16 * CUP)
    want = Want(product="quick sweet pickles", jars=8, jar="pint")
    return day(want, shelf=(cucumbers, jug, *stores()))


@pytest.mark.parametrize("said", ["white vinegar", "vinegar", "cider vinegar"])
def test_vinegar_of_no_said_strength_is_asked_after_and_not_taken(said):
    """Weaker than 5 % it is no tested pickle; the jug on the shelf was passed over."""
    lacking = bought(pickle_day(said))
    assert lacking["vinegar 5%"][:2] == ("3 1/2 cups", "none")
    assert lacking["vinegar 5%"][2] == (
        f'"{said}" on the shelf may be weaker: read its label, and of 5 % write it as '
        f'"{said} 5%"'
    )


@pytest.mark.parametrize(
    "said",
    ["white vinegar 5%", "cider vinegar, 5 % acidity", "vinegar of 5 %"]
    + [f"{kind} vinegar 5%" for kind in ("cider", "apple cider", "distilled white")],
)
def test_vinegar_of_five_percent_is_taken_whatever_it_is_of(said):
    assert "vinegar 5%" not in bought(pickle_day(said))


def test_what_will_not_keep_is_made_first():
    later, sooner = dt.date(2026, 12, 1), dt.date(2026, 8, 25)
    today = day(
        Want(product="plum jelly", jars=8, jar=HALF),
        Want(product="sour cherry jelly", jars=6, jar=HALF),
        shelf=(
            juice("plum juice", use_by=later),
            juice("sour cherry juice", bag_cups=3.5, use_by=sooner),
            *stores(),
        ),
    )
    made, _ = made_of(today)
    assert [b.product for b in made.batches] == ["sour cherry jelly", "plum jelly"]


def test_the_older_bag_is_drawn_first():
    old = juice("plum juice", bags=1, use_by=dt.date(2026, 9, 1))
    new = juice("plum juice", bags=5, use_by=dt.date(2027, 6, 1))
    old, new = replace(old, name="old"), replace(new, name="new")
    today = day(shelf=(new, old, *stores()))
    made, _ = made_of(today)
    assert made.batches[0].draws[0].lot == "old"
    assert made.batches[1].draws[0].lot == "new"


def test_pantry_and_stand_share_batches_and_the_stand_is_first():
    today = day(
        Want(product="plum jelly", jars=8, jar=HALF, purpose=Purpose.PANTRY),
        Want(
            product="plum jelly",
            jars=7,
            jar=HALF,
            purpose=Purpose.STAND,
            by=dt.time(12),
        ),
    )
    made, _ = made_of(today)
    assert [b.purpose for b in made.batches] == [Purpose.STAND, Purpose.PANTRY]


def test_a_product_that_the_book_lacks_is_unmet_with_its_reason():
    made, _ = made_of(day(Want(product="quince jelly", jars=6, jar=HALF)))
    assert not made.batches
    (unmet,) = made.unmet
    assert "quince" in unmet.reason


def test_a_jar_without_a_process_is_unmet():
    made, _ = made_of(day(Want(product="plum jelly", jars=6, jar="quart")))
    assert not made.batches
    assert "quart" in made.unmet[0].reason


def test_no_canner_no_jars():
    today = day(kitchen=kitchen(canners=()))
    made, _ = made_of(today)
    assert "boiling-water canner" in made.unmet[0].reason


def test_a_pot_too_small_for_any_batch_is_said():
    today = day(kitchen=kitchen(pots=(Pot(name="pan", volume_m3=0.003),)))
    made, _ = made_of(today)
    assert "pan holds 3.0 L" in made.unmet[0].reason


def test_pears_by_weight_become_butter():
    today = day(
        Want(product="pear butter", jars=4, jar="pint"),
        shelf=(Lot(name="pears", what="pears", mass_kg=4.0), *stores()),
    )
    made, shelf = made_of(today)
    assert [b.product for b in made.batches] == ["pear butter"]
    assert shelf.held[0].left == pytest.approx(4.0 - 7 * 0.45359237, abs=0.01)


def strawberry_day(canners: int, wanted: int) -> Day:
    """Jam of which a batch fills 9.5 half-pint jars; a canner here takes nine."""
    berries = Lot(name="berries", what="strawberries", mass_kg=8.0)
    one = kitchen().canners[0]
    more = tuple(replace(one, name=f"canner {n}") for n in range(canners))
    want = Want(product="strawberry jam", jars=wanted, jar=HALF)
    today = day(want, shelf=(berries, *stores()))
    return replace(today, kitchen=replace(today.kitchen, canners=more))


def test_a_part_of_a_jar_over_what_the_canners_take_costs_no_batch():
    """Three batches of 9.5 were 10, 9 and 9, and the first had no room in a canner."""
    made, _ = made_of(strawberry_day(canners=1, wanted=20))
    assert [b.jars for b in made.batches] == [9, 9, 9]
    assert not made.unmet
    (over,) = {c.text for b in made.batches for c in b.cautions if "refriger" in c.text}
    assert "a jar more than the 9 that the canners take at once" in over
    two, _ = made_of(strawberry_day(canners=2, wanted=20))
    assert sum(b.jars for b in two.batches) == 28
    said = [c.text for b in two.batches for c in b.cautions if "refriger" in c.text]
    assert ["strawberry jam 1 is counted on for 10" in text for text in said] == [True]


@pytest.mark.parametrize(("places", "made"), [(9, 9), (7, 7), (6, None)])
def test_two_jars_over_what_the_canner_takes_cost_no_batch(places, made):
    """Nothing was made of 9.5 jars in a canner for seven; at six it is too much."""
    today = strawberry_day(canners=1, wanted=7)
    small = replace(today.kitchen.canners[0], places={HALF: places})
    today = replace(today, kitchen=replace(today.kitchen, canners=(small,)))
    (batch,) = made_of(today)[0].batches
    over = [c.text for c in batch.cautions if "take at once" in c.text]
    assert batch.jars == (made or 10)
    assert len(over) == (made is not None)
    if made == 7:
        assert over == [
            "a pot may fill 3 jars more than the 7 that the canners take at once: "
            "those go into the refrigerator, for they have had no process"
        ]


def test_a_jar_that_is_wanted_and_stays_over_is_said():
    made, _ = made_of(strawberry_day(canners=1, wanted=28))
    (unmet,) = made.unmet
    assert (unmet.wanted, unmet.planned) == (28, 27)
    assert unmet.reason == "a batch fills 9.5 jars, and the canners take 9 at once"
    assert "want a batch more" in unmet.instead


def test_grapes_on_the_shelf_are_pressed_before_they_are_jelly():
    """3.5 lb give a quart (USDA Guide 2): five cups take 4 lb 6 oz."""
    want = Want(product="grape jelly", jars=8, jar=HALF)
    grapes = Lot(name="grapes of the arbour", what="grapes", mass_kg=3.0)
    made, shelf = made_of(day(want, shelf=(grapes, *stores())))
    (unmet,) = made.unmet
    assert (
        unmet.reason == "grape juice: none on the shelf; one whole batch needs 5 cups"
    )
    assert "press grapes of the arbour for it the day before" in unmet.instead
    assert "4 lb 6 oz (1.99 kg) give 5 cups" in unmet.instead
    assert '"grape juice", with `ready`' in unmet.instead
    (left,) = [x for x in leftovers(made, shelf) if x.lot == grapes.name]
    jelly = [c for c in left.choices if c.startswith("grape jelly")]
    assert "when 4 lb 6 oz (1.99 kg) are pressed for its 5 cups" in jelly[0]


def test_a_weight_of_fruit_is_not_taken_for_as_much_juice():
    """Three pounds weigh more than the juice of a batch, and give 3.4 cups of it."""
    grapes = Lot(name="grapes", what="grapes", mass_kg=1.36)
    made, shelf = made_of(day(shelf=(juice(), grapes, *stores())))
    (left,) = [x for x in leftovers(made, shelf) if x.lot == "grapes"]
    assert not any("powdered pectin" in c and "jelly" in c for c in left.choices)


def test_apples_for_less_than_a_batch_lead_to_no_other_recipe():
    want = Want(product="apple jelly", jars=7, jar=HALF)
    apples = Lot(name="apples", what="apples", mass_kg=1.0)
    made, _ = made_of(day(want, shelf=(apples, *stores())))
    (unmet,) = made.unmet
    assert unmet.instead.startswith("want fewer, or add apple")


def test_no_fruit_is_pressed_for_a_recipe_of_bottled_juice_or_of_a_concentrate():
    want = Want(product="apple jelly, powdered pectin", jars=7, jar=HALF)
    apples = Lot(name="apples", what="apples", mass_kg=9.0)
    grapes = Lot(name="grapes", what="grapes", mass_kg=9.0)
    made, shelf = made_of(day(want, shelf=(apples, grapes, *stores())))
    (unmet,) = made.unmet
    other = 'want "jelly-apple-none" in its place (Apple jelly, no added pectin), and '
    assert unmet.instead.startswith(other + "press apples for it the day before")
    assert "give 4 cups" in unmet.instead  # that recipe's own, not the bottled one's
    left = {x.lot: " ".join(x.choices) for x in leftovers(made, shelf)}
    assert "Apple jelly, no added pectin" in left["apples"]
    assert "bottled" not in left["apples"]
    assert "Grape jelly, no added pectin" in left["grapes"]
    assert "concentrate" not in left["grapes"]


def test_what_spoils_is_named_whatever_it_may_become():
    """No recipe of the book takes it, and it was passed over without a word."""
    today = day()
    soon, late = (today.date + dt.timedelta(days=n) for n in (1, 40))
    for until, named in ((soon, True), (late, False), (None, False)):
        odd = juice("raspberry juice", bags=1, use_by=until)
        odd = replace(odd, frozen=False)
        made, shelf = made_of(replace(today, shelf=(*today.shelf, odd)))
        left = {x.lot: x for x in leftovers(made, shelf, on=today.date)}
        assert (odd.name in left) == named
        if named:
            assert left[odd.name].text == f"5 cups, to be used by {soon:%-d %B}"
            assert left[odd.name].choices[0] == "freeze it, measured and dated"


def test_what_spoils_is_named_though_it_was_counted_and_not_weighed():
    """Three pumpkins of tomorrow were named nowhere; boxes of pectin are no fruit."""
    today = day()
    for what, days, named in (
        ("pumpkins", 1, True),
        ("pumpkins", 40, False),
        ("regular powdered pectin", 1, False),
    ):
        until = today.date + dt.timedelta(days=days)
        odd = Lot(name="of the porch", what=what, count=3, use_by=until)
        made, shelf = made_of(replace(today, shelf=(*today.shelf, odd)))
        left = {x.lot: x for x in leftovers(made, shelf, on=today.date)}
        assert (odd.name in left) == named
        if named:
            assert left[odd.name].text == f"3, to be used by {until:%-d %B}"
            assert left[odd.name].choices == (
                "keep it cool, or freeze it",
                "a recipe takes it by another measure: measure some to see",
            )


def test_a_crumb_of_weight_is_not_left_over():
    """Two batches of 3.5 lb out of 7.0 lb, weighed in kilograms."""
    want = Want(product="pear butter", jars=8, jar="pint")
    pears = Lot(name="pears", what="pears", mass_kg=2 * 3.175_147 + 0.001)
    made, shelf = made_of(day(want, shelf=(pears, *stores())))
    assert len(made.batches) == 2
    assert not [x for x in leftovers(made, shelf) if x.lot == "pears"]


def test_the_odd_bag_is_named_with_what_it_lacks():
    today = day(
        Want(product="plum jelly", jars=40, jar=HALF),
        shelf=(juice(bags=6, bag_cups=4.75), *stores()),
    )
    made, shelf = made_of(today)
    (left,) = leftovers(made, shelf)
    assert left.text == "3 1/2 cups, 1 1/2 cups short of another batch"
    assert any(
        choice.endswith(
            "the rest of an opened bag, 3 1/2 cups, goes back to the freezer, "
            "measured and dated"
        )
        for choice in left.choices
    )
    assert len(made.batches) == 5


def test_the_odd_bag_may_become_another_published_recipe():
    """3 1/2 cups of sour cherry juice left from a bigger lot make one more batch."""
    today = day(
        Want(product="sour cherry jelly", jars=6, jar=HALF),
        shelf=(juice("sour cherry juice", bags=2, bag_cups=3.5), *stores()),
    )
    made, shelf = made_of(today)
    (left,) = leftovers(made, shelf)
    assert left.choices[0].endswith(": enough for a whole tested batch")


def test_what_is_left_is_held_against_the_pots_here():
    today = day(kitchen=kitchen(pots=(Pot(name="pan", volume_m3=0.0019),)))
    made, shelf = made_of(today)
    (left,) = leftovers(made, shelf, place_of(today))
    assert left.choices[0].endswith(
        "enough for a whole tested batch, but not in these pots on this fire"
    )
    plain = day()
    made, shelf = made_of(plain)
    shelf = Shelf(plain.shelf)
    (left, *_) = leftovers(made, shelf, place_of(plain))
    assert left.choices[0].endswith("enough for a whole tested batch")


def test_what_only_a_pressure_canner_keeps_is_said_so():
    beans = Lot(name="beans", what="green beans", mass_kg=9.07)
    today = day(shelf=(beans, *stores()))
    made, shelf = made_of(today)
    (left,) = [x for x in leftovers(made, shelf, place_of(today)) if x.lot == "beans"]
    assert left.choices[0].endswith(
        ", but only in a pressure canner (dial or weighted gauge)"
    )
    gauge = Canner(
        name="pressure",
        kind=CannerKind.DIAL_GAUGE,
        stands_on=("front right",),
        places={"quart": 7, "pint": 9},
    )
    today = replace(today, kitchen=kitchen(canners=(gauge,)))
    (left,) = [x for x in leftovers(made, shelf, place_of(today)) if x.lot == "beans"]
    assert left.choices[0].endswith("empty on the shelf)")


def test_too_many_batches_in_one_pot_are_told_to_take_the_multiple_out():
    want = Want(product="plum jelly", jars=14, jar=HALF, multiple=9)
    made, _ = made_of(day(want))
    (unmet,) = made.unmet
    assert "9 × plum jelly needs a pot of" in unmet.reason
    assert unmet.instead == (
        "take `multiple` out of the want: big pot holds one tested batch at a time"
    )


def test_where_not_even_one_batch_is_held_the_pot_is_the_matter():
    want = Want(product="plum jelly", jars=14, jar=HALF, multiple=2)
    made, _ = made_of(
        day(want, kitchen=kitchen(pots=(Pot(name="pan", volume_m3=2e-3),)))
    )
    (unmet,) = made.unmet
    assert unmet.instead.startswith("use a larger pot")


@pytest.mark.parametrize(
    ("shelf", "said"),
    [
        ((), "plum juice: none on the shelf; one whole batch needs 5 cups"),
        (
            (juice(bags=1, bag_cups=3.0),),
            "plum juice: 3 cups on the shelf; one whole batch needs 2 cups more",
        ),
    ],
)
def test_a_shelf_that_makes_none_is_said_without_a_nought(
    shelf: tuple[Lot, ...], said: str
):
    made, _ = made_of(day(shelf=(*shelf, *stores())))
    (unmet,) = made.unmet
    assert unmet.reason == said


def test_bags_are_thawed_the_evening_before():
    today = day(
        Want(product="plum jelly", jars=40, jar=HALF),
        shelf=(juice(bags=6, bag_cups=4.75), *stores()),
    )
    made, _ = made_of(today)
    lines = evening_before(today, made)
    assert lines[0].startswith("Move 6 of 6 bags of frozen plum juice")
    assert "what is still hard in the morning" in lines[0]


@pytest.mark.parametrize(
    ("hour", "since", "begun"),
    [(9, "Wednesday 19 August", "7:00"), (22, "Thursday 20 August", "20:00")],
)
def test_it_is_said_when_bags_are_moved_so_that_they_have_time_to_thaw(
    hour: int, since: str, begun: str
) -> None:
    # up to 48 h for a bag of 4 3/4 cups: before 9 on Saturday that is Thursday at 9, so
    # that the evening of Wednesday is the last that is surely soon enough
    today = day(
        Want(product="plum jelly", jars=40, jar=HALF),
        shelf=(juice(bags=6, bag_cups=4.75), *stores()),
    )
    assert f"{today.date:%A}" == "Saturday"
    made, _ = made_of(today)
    wanted = dt.datetime.combine(today.date, dt.time(hour))
    (lot,) = {d.lot for b in made.batches for d in b.draws if "juice" in d.lot}
    said = evening_before(today, made, {lot: wanted})[0]
    assert f"in a pan, better on the evening of {since} already; measure" in said
    assert f"the first is wanted at {hour}:00. What is still hard" in said
    assert f"within 2 h: begun by {begun}." in said


def test_sugar_measured_in_cups_counts_as_weight():
    cups = Lot(name="sugar tin", what="granulated sugar", volume_m3=14 * CUP)
    shelf = (juice(), cups, *stores()[1:])
    made, _ = made_of(day(shelf=shelf))
    assert not made.shopping  # two batches take 14 cups


@settings(max_examples=60, deadline=None)
@given(
    bags=st.integers(0, 12),
    bag_cups=st.floats(0.5, 8.0),
    wanted=st.integers(1, 90),
    sugar_kg=st.floats(0.01, 30.0),
    boxes=st.integers(1, 15),
)
def test_inputs_are_conserved(bags, bag_cups, wanted, sugar_kg, boxes):
    """What is drawn and what is left is what there was; nothing is made of nothing."""
    shelf = (
        *((juice(bags=bags, bag_cups=bag_cups),) if bags else ()),
        *stores(sugar_kg=sugar_kg, boxes=boxes),
    )
    today = day(Want(product="plum jelly", jars=wanted, jar=HALF), shelf=shelf)
    made, after = made_of(today)
    taken: dict[str, float] = {}
    for batch in made.batches:
        for draw in batch.draws:
            amount = draw.volume_m3 or draw.mass_kg or draw.count or 0.0
            taken[draw.lot] = taken.get(draw.lot, 0.0) + amount
    spare = 0.0
    for held in after.held:
        if held.lot.what == "lids":
            spare = held.whole - held.left - taken.get(held.lot.name, 0.0)
            assert -1e-9 <= spare <= len(made.batches) + 10
            continue
        assert held.left >= -1e-9
        assert taken.get(held.lot.name, 0.0) + held.left == pytest.approx(held.whole)
    number = len(made.batches)
    assert taken.get("frozen plum juice", 0.0) == pytest.approx(number * 5 * CUP)
    assert number <= bags * bag_cups / 5.0 + 1e-5
    assert sum(b.jars for b in made.batches) == round(
        number * (made.batches[0].expected.likely if number else 0)
    )
    bought = {p.name for p in made.shopping}
    assert ("sugar" in bought) == (number * 1.4 > sugar_kg + 1e-6)
    assert ("regular powdered pectin" in bought) == (number > boxes)


@given(st.permutations([0, 1, 2]))
def test_the_order_of_wants_does_not_change_what_is_made(order):
    wants = [
        Want(product="plum jelly", jars=8, jar=HALF),
        Want(product="sour cherry jelly", jars=6, jar=HALF),
        Want(product="blackberry jelly", jars=5, jar=HALF),
    ]
    shelf = (
        juice("plum juice"),
        juice("sour cherry juice", bag_cups=3.5),
        juice("blackberry juice", bag_cups=3.5),
        *stores(),
    )
    made, _ = made_of(day(*(wants[i] for i in order), shelf=shelf))
    assert {b.id for b in made.batches} == {
        "plum jelly 1",
        "sour cherry jelly 1",
        "blackberry jelly 1",
    }


def test_fruit_that_dries_to_less_than_a_jar_is_left_for_something_else():
    """
    A pound of pears dries to an eighth of a quart: a batch of no jar took it, so that
    no pint of pears was packed either, which takes a pound and a fifth.
    """
    pears = Lot(name="pears", what="pears", mass_kg=1.25 * POUND)
    wants = [
        Want(product="dried pears", jars=2, jar="quart"),
        Want(product="pears", jars=1, jar="pint"),
    ]
    made, _ = made_of(day(*wants, shelf=(pears, *stores())))
    assert [batch.id for batch in made.batches] == ["pears 1"]
    (unmet,) = made.unmet
    assert (unmet.product, unmet.planned) == ("dried pears", 0)


@pytest.mark.parametrize(
    ("product", "jar"), [("dried pears", "quart"), ("lard", "pint")]
)
def test_what_one_jar_more_is_said_to_need_makes_it(product, jar):
    """It said "one quart jar needs 14 oz more" of pears, and a quart takes 7 lb."""
    food = {"dried pears": "pears", "lard": "pork fat"}[product]
    want = Want(product=product, jars=9, jar=jar)

    def unmet(pounds: float):
        lot = Lot(name="food", what=food, mass_kg=pounds * POUND)
        made, _ = made_of(day(want, shelf=(lot, *stores())))
        return sum(b.jars for b in made.batches), next(iter(made.unmet), None)

    for pounds in (0.9, 1.0, 3.0, 7.0):
        jars, short = unmet(pounds)
        said = short.reason.rpartition(" more")[0].rpartition(" needs ")[2]
        more = float(read_mass_kg(said.split(" (")[0])) / POUND
        assert unmet(pounds + more + 0.01)[0] == jars + 1
        assert unmet(pounds + more - 0.2)[0] == jars


@pytest.mark.parametrize(("days", "past"), [(0, False), (-1, True)])
def test_what_is_left_and_past_its_day_is_told_so(days: int, past: bool) -> None:
    """Strawberries of yesterday were told to be enough for jam, and no word more."""
    today = day()
    until = today.date + dt.timedelta(days=days)
    odd = replace(juice("raspberry juice", bags=1, use_by=until), frozen=False)
    made, shelf = made_of(replace(today, shelf=(*today.shelf, odd)))
    (left,) = (x for x in leftovers(made, shelf, on=today.date) if x.lot == odd.name)
    assert f"to be used by {until:%-d %B}" in left.text
    assert left.text.endswith("discard what is doubtful") == past
