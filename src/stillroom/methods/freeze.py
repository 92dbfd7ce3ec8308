"""
Freezing: blanched where it must be, cooled as long, packed with room to grow.

Low-acid vegetables are welcome here: nothing is sealed, and nothing keeps warm. One
recipe is one pint's worth.
"""

from __future__ import annotations

import math

from stillroom.book.freezing_packs import (
    FreezingPack,
    blanching_min,
    freezer_headspace_in,
    freezing_pack_for,
    freezing_rules,
)
from stillroom.book.jars import jar_volume_m3
from stillroom.book.procedures import Procedure
from stillroom.jar_count import counted
from stillroom.measures import (
    GALLON_M3,
    POUND_KG,
    both,
    kelvin,
    kitchen_volume,
    mixed_number,
)
from stillroom.methods import hand_steps as cold
from stillroom.methods import handling as hand
from stillroom.methods import pot_and_fire as fire
from stillroom.methods.jars import wash_pot
from stillroom.methods.method import (
    Checked,
    Filling,
    Kept,
    Later,
    Material,
    Recipe,
    Station,
    Work,
    Yield,
)
from stillroom.methods.multiples import about_kg, so_many_times
from stillroom.methods.portions import (
    printed_in,
    quantity_words,
    sum_words,
    uses,
    weight_words,
)
from stillroom.methods.solids import ROOM_K
from stillroom.methods.step import Link, Skill, Step
from stillroom.refusal import COMMON_PRACTICE, Caution, Refusal, Source
from stillroom.science import cold as freezing
from stillroom.science.cold import Shape

NAME = "freeze"
KEPT = Kept.FREEZER
PER_JAR = True
ONE_IS = "pint"
"""What its recipe taken once is, where that is no jar's worth in every jar."""
PACK = None
TROUBLES: tuple[str, ...] = ()
"""Rows of the table of troubles that belong to it: none is of frozen food yet."""

MOST_PINTS = 60
ROOM_OVER_WATER = 1.3
"""A pot for blanching holds so many times the water: common practice, no source."""
LIFT_MIN = 1.0
DRAIN_MIN = 5
SUGAR_STANDS_MIN = 15
_POT_SOURCE = "Univ. of Minnesota Extension, Vegetable blanching directions"
_PINT_THICK_M = 0.08
"""Of a pint box as a cylinder: what the estimate of its freezing goes by. [m]"""
_WATER_SHARE = 0.88
_KNOWN = {"looked_up": "looked up", "memory": "from memory"}
_WIDE = "for a wide top; a narrow neck needs more and breaks sooner"


def scale(procedure: Procedure, multiple: int) -> Recipe | Refusal:
    """Return so many pints' worth."""
    return so_many_times(
        procedure, multiple, most=MOST_PINTS, source=f"hands: {COMMON_PRACTICE}"
    )


def materials(recipe: Recipe, jar: str, jars: int) -> tuple[Material, ...]:
    """Return the food first, then sugar, and boxes; no lids, no jars."""
    return (*uses(recipe), Material(name=f"{jar} freezer boxes", count=jars))


def checks(recipe: Recipe, station: Station) -> Checked | Refusal:
    """Return what the pot blanches at once, and how large a freezer it takes."""
    pack = pack_of(recipe)
    if isinstance(pack, Refusal):
        return pack
    needed = 0.0
    if pack.blanched:
        needed = ROOM_OVER_WATER * (_water_m3_per_kg() + 0.001) * float(POUND_KG)
        what = f"a pound of {pack.food} in a gallon of boiling water"
        small = fire.holds(needed, station.pot, what, source=_POT_SOURCE)
        if small is not None:
            return small
    return cold.no_fire_needed(
        recipe,
        station,
        _outlook(pack, recipe, station),
        load_caution(food_kg(recipe)),
        needed_m3=needed,
    )


def _outlook(pack: FreezingPack, recipe: Recipe, station: Station) -> str:
    hours = freezing.estimated_freezing(
        Shape.CYLINDER, _PINT_THICK_M, water_share=_WATER_SHARE
    )
    blanch = blanching_min(pack, station.air.elevation_ft)
    goes = counted(blanch_loads(recipe, station), "go")
    first = (
        f"blanched {mixed_number(blanch)} min, in {goes}; "
        if pack.blanched
        else "not blanched; "
    )
    return (
        f"{first}a pint in one layer freezes in about {hours.value:.0f} h "
        f"({hours.low:.0f} to {hours.high:.0f}, an estimate by Plank's equation); best "
        f"within {pack.months[0]} to {pack.months[1]} months"
    )


def pack_of(recipe: Recipe) -> FreezingPack | Refusal:
    """Return the row of the table that a recipe was made from."""
    return freezing_pack_for(recipe.procedure.name)


def food_kg(recipe: Recipe) -> float:
    """Everything that has to freeze. [kg]"""
    return sum(about_kg(part) for part in recipe.parts)


def load_caution(mass_kg: float) -> Caution:
    """Say how large a freezer takes so much warm food in a day."""
    rules = freezing_rules()
    low, source = rules["load low"]
    high, _ = rules["load high"]
    pounds = mass_kg / float(POUND_KG)
    return Caution(
        f"a freezer freezes {low:g} to {high:g} lb to its cubic foot in 24 h: this "
        f"batch, {pounds:.1f} lb, needs {pounds / high:.1f} to {pounds / low:.1f} "
        "cubic feet; what is more waits in the refrigerator till the next day",
        str(source),
    )


def expected_yield(recipe: Recipe, jar: str) -> Yield | Refusal:
    """Return how many boxes it fills, from what a pint takes by weight."""
    volume = jar_volume_m3(jar)
    if isinstance(volume, Refusal):
        return volume
    printed = printed_in(recipe, volume)
    if printed is None:
        return Refusal(
            f"how much of {recipe.base.name} fills a {jar} is not known",
            instead="weigh what fills one box",
            source=recipe.procedure.source,
        )
    fill = recipe.procedure.ingredients[0]
    each = (recipe.base.mass_kg or 0.0) / printed[0]
    return Yield(
        jar=jar,
        likely=printed[0],
        low=round(0.85 * printed[0], 2),
        high=round(1.15 * printed[0], 2),
        printed_low=printed[0],
        printed_high=printed[1],
        basis=f"{each:.2f} kg prepared to a {jar}, 15 % either way ({COMMON_PRACTICE})",
        source=Source(fill.note, fill.mass_known),
    )


def blanch_loads(recipe: Recipe, station: Station) -> int:
    """How many times the pot is filled with vegetables: a pound to a gallon."""
    water = station.pot.volume_m3 / ROOM_OVER_WATER
    pounds = max(1.0, math.floor(water / (_water_m3_per_kg() * float(POUND_KG))))
    whole = (recipe.base.mass_kg or 0.0) / float(POUND_KG)
    return max(1, math.ceil(whole / pounds - 1e-9))


def _water_m3_per_kg() -> float:
    gallons = freezing_rules()["blanch water"][0]
    return gallons * float(GALLON_M3) / float(POUND_KG)


def steps(recipe: Recipe, station: Station, filling: Filling) -> Work | Refusal:
    """Return the steps of one batch, from the sink to the freezer."""
    pack = pack_of(recipe)
    if isinstance(pack, Refusal):
        return pack
    headspace = freezer_headspace_in(pack.pack, filling.jar)
    if isinstance(headspace, Refusal):
        return headspace
    made = [cold.wash_boxes(filling), _prepare(recipe, pack)]
    links = [*cold.box_links()]
    last = "prepare"
    if pack.blanched:
        made += [*_blanch(recipe, station, pack), wash_pot()]
        links += _blanch_links()
        last = "drain"
    if pack.pack != "dry":
        made.append(_sweeten(recipe, pack))
        links.append(Link(before=last, after="sweeten", at_most_min=30))
        last = "sweeten"
    made += [
        cold.fill_boxes(filling, headspace, f"{_how_packed(pack)} · {_WIDE}"),
        cold.label_boxes(filling, "one layer, against the coldest wall"),
    ]
    links.append(
        Link(before=last, after="fill", at_most_min=30, why="food is not left warm")
    )
    return Work(
        steps=tuple(made),
        links=tuple(links),
        ready_after="label",
        closed_wait_at_most_min=hand.CLOSED_WAIT_MIN,
        later=_later(pack),
    )


def _prepare(recipe: Recipe, pack: FreezingPack) -> Step:
    kilos = recipe.base.mass_kg or 0.0
    return cold.by_hand(
        "prepare",
        f"Prepare the {pack.food}",
        pack.prep,
        hand.for_count(hand.CUT_FRUIT_MIN, kilos),
        skill=Skill.KNIFE,
        note=weight_words(kilos, metric=recipe.metric),
    )


def _blanch(recipe: Recipe, station: Station, pack: FreezingPack) -> list[Step]:
    kilos = recipe.base.mass_kg or 0.0
    loads = blanch_loads(recipe, station)
    share = kilos / loads
    water_m3 = share * _water_m3_per_kg()
    water_kg, gallons = 1000.0 * water_m3, water_m3 / float(GALLON_M3)
    water = f"{gallons:.1f} gallons"
    if recipe.metric:
        water = f"{kitchen_volume(water_m3, metric=True)} ({water})"
    heat = hand.whole_min(fire.heat_up_min(water_kg, 0.0, station, ROOM_K))
    each = blanching_min(pack, station.air.elevation_ft)
    back = freezing_rules()["back to the boil"][0]
    whole = hand.whole_min(loads * (each + back + LIFT_MIN))
    cool = hand.whole_min(each * pack.cool_times)
    said = mixed_number(each)
    return [
        Step(
            id="boil_water",
            verb=f"Bring {water} of water to the boil",
            end_sign="a full boil, lid on",
            duration_min=heat,
            spread=hand.spread_of(heat),
            basis=f"computed: {water_kg:.1f} kg of water on "
            f"{station.burner.power_w / 1000:.1f} kW",
            attention_quarters=0,
            skill=Skill.PAN,
            burner_w=station.burner.power_w,
            in_pot=True,
            note="a gallon to each pound",
        ),
        Step(
            id="blanch",
            verb=f"Blanch {said} min, in {counted(loads, 'go')}",
            end_sign=pack.blanch_sign,
            duration_min=whole,
            spread=hand.spread_of(whole),
            basis=f"{pack.source}; {back:g} min back to the boil, {LIFT_MIN:g} to lift",
            attention_quarters=3,
            skill=Skill.PAN,
            burner_w=station.burner.power_w,
            in_pot=True,
            critical=True,
            caution="Steam under the lid: lift it away from you. Boiling water drips.",
            note=f"{weight_words(share, metric=recipe.metric)} at a time; "
            "too short is worse than not at all",
        ),
        Step(
            id="cool",
            verb="Cool in ice water, stirring",
            end_sign="cold to the middle"
            + (", twice as long as blanched" if pack.cool_times > 1 else ""),
            duration_min=cool,
            spread=hand.spread_of(cool),
            basis=f"as long as it was blanched: {pack.source}",
            attention_quarters=1,
            skill=Skill.COLD,
            note="each load as soon as it is lifted; change the ice",
        ),
        Step(
            id="drain",
            verb="Drain well",
            end_sign="no water in the sieve",
            duration_min=DRAIN_MIN,
            spread=hand.spread_of(DRAIN_MIN),
            basis=hand.BASIS,
            attention_quarters=1,
            skill=Skill.COLD,
            note="wet food freezes into one block",
        ),
    ]


def _blanch_links() -> list[Link]:
    return [
        Link(before="prepare", after="blanch", at_most_min=60, why="cut food wilts"),
        Link(before="boil_water", after="blanch", at_most_min=10),
        Link(before="blanch", after="cool", at_most_min=0, why="it goes on cooking"),
        Link(before="cool", after="drain", at_most_min=5),
        Link(before="blanch", after="wash_pot"),
    ]


def _sweeten(recipe: Recipe, pack: FreezingPack) -> Step:
    sugar = recipe.of_role("sugar")
    if pack.pack == "syrup":
        return cold.by_hand(
            "sweeten",
            "Stir the sugar into cold water",
            "clear, no grain at the bottom",
            hand.for_count((3.0, 0.3), sum(part.quantity for part in sugar)),
            note=_of_each(recipe),
        )
    return cold.by_hand(
        "sweeten",
        "Turn the fruit over in the sugar",
        "most of the sugar dissolved in its own juice",
        SUGAR_STANDS_MIN,
        note=f"{sum_words(sugar)} sugar",
    )


def _of_each(recipe: Recipe) -> str:
    """As much water as sugar by the cup: by weight that is not as much."""
    if not recipe.metric:
        return f"{sum_words(recipe.of_role('sugar'))} of each"
    parts = recipe.of_role("sugar", "liquid")
    return " · ".join(f"{quantity_words(part)} {part.name}" for part in parts)


def _how_packed(pack: FreezingPack) -> str:
    if pack.pack == "dry":
        return "packed close, air pressed out; or frozen on a tray first"
    if pack.pack == "sugar":
        return "fruit with all its juice"
    return "fruit under cold syrup, crumpled paper on top to hold it down"


def _later(pack: FreezingPack) -> tuple[Later, ...]:
    rule, source = freezing_rules()["store at"]
    return (
        Later(
            after_h=24.0,
            text="Frozen hard: stack the boxes; the freezer at "
            f"{both(kelvin(rule), 0)} or colder.",
            source=str(source),
        ),
        Later(
            after_h=pack.months[1] * 30.4 * 24.0,
            text=f"Use up the {pack.name}: best for {pack.months[0]} to "
            f"{pack.months[1]} months.",
            source=f"{pack.months_source} ({_KNOWN[pack.months_source.how_known]})",
        ),
    )
