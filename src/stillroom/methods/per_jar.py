"""
What ways of putting up have in common whose recipe is per jar.

Pears in syrup are so many pounds to a quart: any whole number of jars may be filled, up
to what pot and canner hold, and none of them is a doubled batch.
"""

from __future__ import annotations

from dataclasses import replace

from stillroom.book.jars import jar_named, may_fill, not_printed_for
from stillroom.book.packs import (
    INTO_EACH_JAR,
    Pack,
    acid_instead,
    pack_for,
    pack_of,
    pack_procedure,
    quarts_in,
)
from stillroom.book.procedures import Ingredient, Procedure
from stillroom.jar_count import plural
from stillroom.measures import (
    CUP_M3,
    POUND_KG,
    TABLESPOON_M3,
    TEASPOON_M3,
    mixed_number,
)
from stillroom.methods import jars as jar_work
from stillroom.methods import pot_and_fire as fire
from stillroom.methods.canner_water import (
    COOL_PINTS_MIN,
    COOL_QUARTS_MIN,
    OPEN_MIN,
)
from stillroom.methods.method import (
    Checked,
    Filling,
    Material,
    Part,
    Recipe,
    Station,
    Yield,
)
from stillroom.methods.portions import uses
from stillroom.methods.solids import ROOM_K
from stillroom.refusal import COMMON_PRACTICE, Caution, Refusal, Source
from stillroom.science.ranges import OutOfRange

MOST_JARS = 48
QUART_M3 = 4 * float(CUP_M3)
POT_TIMES = 1.25
POT_SOURCE = (
    "1.25 times what the jars take, or what they take and all the liquid beside it: "
    f"{COMMON_PRACTICE}; it agrees with the 8 to 10 qt pot that is printed for 7 "
    "quarts of applesauce"
)
BLANCHED_AT_A_TIME = 2.0
"""Quarts in one go, as printed for berries; the water takes as much again. [quart]"""
FOOD_SOLIDS = 0.12
"""Of fruit and vegetables, for their heat capacity only: an estimate. [1]"""
ASCORBIC_ACID = Material(
    name="ascorbic acid", said="1 tsp (3 g) to each gallon of cold water"
)
"""
Against browning, while a load is made ready: Michigan State Univ. Extension leaflet
01600943. How much water that is, nobody prints.
"""

_VOLUMES = {
    "cup": float(CUP_M3),
    "tbsp": float(TABLESPOON_M3),
    "tsp": float(TEASPOON_M3),
}
_KEPT_AS_IT_IS = (
    "A jar that lost liquid is kept as it is, if it sealed: never opened to top it up."
)
_LOST_LIQUID = Caution(
    f"{_KEPT_AS_IT_IS} In boiling water the five minutes of rest before lifting hold "
    "the liquid in; in a pressure canner that cools by itself it is the whole cooling.",
    "Michigan State Univ. Extension leaflet 01600950; the reason from memory",
)
_LOST_UNDER_PRESSURE = Caution(
    f"{_KEPT_AS_IT_IS} What holds the liquid in is that the canner cools by itself, "
    f"its lid shut: {COOL_PINTS_MIN} min with pints, {COOL_QUARTS_MIN} min with "
    f"quarts, and {OPEN_MIN} min more with the vent open.",
    "Michigan State Univ. Extension leaflets 01600949 and 01600950; Pacific Northwest "
    f"Extension PNW 421; the {OPEN_MIN} min and the reason from memory",
)
_RAW_WATER = Caution(
    "Jars packed raw go into water of 140 °F (60 °C), not hotter: glass cracks.",
    "Penn State Extension, Quick process pickles; USDA Complete Guide to Home Canning "
    "(AIB 539), Guide 1",
)
_NO_OTHER_CANNER = Caution(
    "Low-acid food: a pressure canner only. Boiling water leaves spores alive.",
    "Michigan State Univ. Extension leaflet 01600938",
)


def scale(procedure: Procedure, multiple: int, method: str) -> Recipe | Refusal:
    """
    Return a pack for a whole number of its jars.

    A recipe of the book that is printed by the load, "7 quarts of nectarines", is made
    by the quart as well, where the same way of packing is known.
    """
    pack = pack_of(procedure)
    if pack is None:
        return _by_the_quart(procedure, multiple, method)
    if pack.method != method:
        return Refusal(
            f"{procedure.title} is no {method.replace('_', ' ')}",
            instead=f"plan it as {pack.method.replace('_', ' ')}",
            source=procedure.source,
        )
    if multiple != int(multiple) or not 1 <= multiple <= MOST_JARS:
        return Refusal(
            f"{multiple:g} is no whole number of jars from 1 to {MOST_JARS}",
            instead="fill whole jars, and no more than the canner takes at once",
            source=COMMON_PRACTICE,
        )
    times = int(multiple)
    others = acid_instead(pack, procedure.yield_unit)
    instead = {"acid": tuple(_part(other, times) for other in others)}
    parts = (_part(each, times) for each in procedure.ingredients)
    return Recipe(
        procedure=procedure,
        multiple=times,
        parts=tuple(replace(p, instead=instead.get(p.role, ())) for p in parts),
        cautions=procedure.cautions,
    )


def _by_the_quart(procedure: Procedure, multiple: int, method: str) -> Recipe | Refusal:
    quarts = procedure.printed_yield_low
    pack = pack_for(procedure.name, pack="raw" if method == "raw_pack" else "hot")
    if (
        isinstance(pack, Refusal)
        or pack.method != method
        or procedure.yield_unit != "quart"
        or quarts is None
        or quarts != int(quarts)
    ):
        return Refusal(
            f"no steps are known here for {procedure.title}: it is no plain pack",
            instead="follow the recipe and its process by hand",
            source=procedure.source,
        )
    by_quart = pack_procedure(pack)
    if isinstance(by_quart, Refusal):
        return by_quart
    return scale(by_quart, multiple * int(quarts), method)


def _part(ingredient: Ingredient, multiple: int) -> Part:
    quantity = float(ingredient.quantity) * multiple
    cup = _VOLUMES.get(ingredient.unit)
    mass = ingredient.mass_kg
    return Part(
        name=ingredient.name,
        quantity=quantity,
        unit=ingredient.unit,
        mass_kg=None if mass is None else mass * multiple,
        volume_m3=None if cup is None else quantity * cup,
        role=ingredient.role,
        prep=_prepared(ingredient, multiple),
        optional=ingredient.optional,
    )


def _prepared(ingredient: Ingredient, multiple: int) -> str:
    """How it goes in; beside the sum for all jars, what each of them gets."""
    if multiple == 1 or ingredient.prep != INTO_EACH_JAR:
        return ingredient.prep
    each = mixed_number(float(ingredient.quantity))
    return f"{each} {ingredient.unit} {INTO_EACH_JAR}"


def the_pack(recipe: Recipe) -> Pack:
    """Return the pack of a recipe that `scale` has given."""
    pack = pack_of(recipe.procedure)
    assert pack is not None, recipe.procedure.id
    return pack


def materials(recipe: Recipe, jar: str, jars: int) -> tuple[Material, ...]:
    """Return what it uses up: the food, sugar, acid for every jar, jars, lids."""
    found = uses(recipe)
    if ASCORBIC_ACID.name in recipe.procedure.base_prep:
        found = (*found, ASCORBIC_ACID)
    return (*found, *jar_work.jar_materials(jar, jars))


def quarts(recipe: Recipe) -> float:
    """Quarts that a recipe fills, by its printed quantities. [quart]"""
    return float(recipe.multiple * quarts_in(recipe.procedure.yield_unit))


def food_kg(recipe: Recipe) -> float:
    """Food as it is bought, before it is peeled and cored. [kg]"""
    return sum(part.mass_kg or 0.0 for part in recipe.of_role("fruit"))


def prepared_kg(recipe: Recipe) -> float:
    """
    Food as it goes into the pot: what the jars hold beside the liquid. [kg]

    Taken at the density of water; the food that is bought weighs more where peel, husk
    or pod come off.
    """
    liquid = sum(part.volume_m3 or 0.0 for part in recipe.of_role("liquid"))
    held = (quarts(recipe) * QUART_M3 - liquid) * 1000.0
    return max(0.3 * held, min(food_kg(recipe), held))


def liquid_kg(recipe: Recipe) -> float:
    """Covering liquid with its sugar. [kg]"""
    parts = recipe.of_role("liquid", "sugar")
    return sum(part.mass_kg or 0.0 for part in parts if not part.optional)


def checks(recipe: Recipe, station: Station) -> Checked | Refusal:
    """Return what pot and fire make of it, or why they cannot hold it."""
    pack = the_pack(recipe)
    volume = quarts(recipe) * QUART_M3
    needed = pot_needed_m3(recipe)
    if needed:
        if not pack.low_acid and (metal := fire.reacts(station.pot)) is not None:
            return metal
        what = f"{quarts(recipe):g} quarts of {recipe.procedure.name}"
        small = fire.holds(needed, station.pot, what, source=POT_SOURCE)
        if small is not None:
            return small
    weak = boils(recipe, station)
    if isinstance(weak, Refusal):
        return weak
    return Checked(
        dissolved_m3=volume,
        pot_needed_m3=needed,
        pot_given_m3=station.pot.volume_m3,
        back_to_boil_min=None,
        outlook=_outlook(recipe, pack),
        cautions=(
            *recipe.cautions,
            *(fire.metal_cautions(station.pot) if needed and not pack.low_acid else ()),
            *((_NO_OTHER_CANNER,) if pack.low_acid else ()),
            *((_RAW_WATER,) if pack.pack == "raw" else ()),
            _LOST_UNDER_PRESSURE if pack.low_acid else _LOST_LIQUID,
        ),
    )


def pot_needed_m3(recipe: Recipe) -> float:
    """
    Volume of the pot; 0 where nothing is cooked in one. [m3]

    Raw food lies looser than in the jars: it takes their room, and its water is on top.
    """
    pack = the_pack(recipe)
    if pack.pack == "raw":
        return 0.0
    inside = quarts(recipe) * QUART_M3
    if not pack.cooking.verb:  # blanched a little at a time
        return POT_TIMES * min(2 * inside, 2 * BLANCHED_AT_A_TIME * QUART_M3)
    liquid = sum(part.volume_m3 or 0.0 for part in recipe.of_role("liquid"))
    return max(POT_TIMES * inside, inside + liquid)


def boils(recipe: Recipe, station: Station) -> float | Refusal:
    """Minutes to bring all of it to the boil on this fire, or why it never boils."""
    mass = prepared_kg(recipe) + liquid_kg(recipe)
    try:
        return fire.heat_up_min(mass, FOOD_SOLIDS, station, ROOM_K)
    except OutOfRange:
        return Refusal(
            f"{station.burner.name} ({station.burner.power_w / 1000:.1f} kW, "
            f"{station.heat.value}) never brings {mass:.1f} kg to the boil",
            instead="use a stronger burner",
            source=f"heat balance; pot losses are an estimate, {COMMON_PRACTICE}",
        )


def _outlook(recipe: Recipe, pack: Pack) -> str:
    """What fills the jars, in one line."""
    of = quarts(recipe)
    said = f"{of:g} {plural(of, 'quart')}, packed {pack.pack}"
    if pack.cooking.most_min:
        known = " (rule of thumb)" if pack.cooking.how_known == "practice" else ""
        said += f" after {pack.cooking.most_min} min in the pot{known}"
    if pack.liquid.name and pack.liquid.water_cups:
        said += f", under {pack.liquid.name}"
    return f"{said}; acid in every jar" if pack.acid else said


def expected_yield(recipe: Recipe, jar: str) -> Yield | Refusal:
    """
    Return how many jars it fills, by the printed quantity line.

    Low and high are what a bushel, lug or crate is printed to fill at least and most.
    """
    size = jar_named(jar)
    if isinstance(size, Refusal):
        return size
    pack = the_pack(recipe)
    likely = quarts(recipe) / float(quarts_in(size.name))
    low = high = 1.0
    measure, weight = pack.measure, pack.planned_lb
    if measure is not None and weight is not None:
        average = measure.mass_lb / float(weight)
        low = min(1.0, measure.quarts_low / average)
        high = max(1.0, measure.quarts_high / average)
    printed = _printed(recipe, pack, size.name)
    return Yield(
        jar=size.name,
        likely=likely,
        low=round(likely * low, 2),
        high=round(likely * high, 2),
        printed_low=printed,
        printed_high=printed,
        basis=_yield_basis(pack, size.name),
        source=Source(pack.source, pack.how_known),
    )


def _printed(recipe: Recipe, pack: Pack, jar: str) -> float | None:
    """Jars that the printed load line gives for this weight."""
    pounds = food_kg(recipe) / float(POUND_KG)
    load, pints = pack.lb_per_load, pack.lb_per_nine_pints
    if jar == "quart" and load:
        return round(pounds * 7 / float(load), 1)
    if jar == "pint" and pints:
        return round(pounds * 9 / float(pints), 1)
    return None


def _yield_basis(pack: Pack, jar: str) -> str:
    planned = pack.planned_lb_in(jar)
    if planned is None:
        return "filled by volume, 4 cups to a quart"
    by_nine = jar == "pint" and pack.lb_per_nine_pints is not None
    said = "planned by nine pints" if by_nine else f"{mixed_number(planned)} lb a quart"
    if pack.lb_per_load and pack.lb_per_nine_pints:
        said += (
            f"; printed: {float(pack.lb_per_load):g} lb for 7 quarts, "
            f"{float(pack.lb_per_nine_pints):g} lb for 9 pints"
        )
    measure = pack.measure
    if measure is not None:
        said += (
            f"; a {measure.name} of {measure.mass_lb:g} lb fills "
            f"{measure.quarts_low:g} to {measure.quarts_high:g} quarts"
        )
    elif pack.how_known == "practice":
        said += "; no quantity is printed"
    return said


def process_fits(pack: Pack, filling: Filling) -> Refusal | None:
    """Refuse jars and processes that are not those of the pack."""
    process = filling.process
    if not may_fill(filling.jar, pack.jars):
        return not_printed_for(
            filling.jar, pack.product.name, pack.jars, source=pack.source
        )
    if process is None:
        return Refusal(
            f"{pack.product.name} keeps on no shelf without a process",
            instead="process it, or freeze it",
            source="Kansas State Univ. Extension on open-kettle canning",
        )
    if pack.low_acid and process.pressure_psi is None:
        return Refusal(
            f"{pack.product.name} is low-acid, and spores live through boiling water",
            instead="use a pressure canner with its published process, or freeze it",
            source="Michigan State Univ. Extension leaflet 01600938",
        )
    if process.pack != pack.pack or process.jar != filling.jar:
        return Refusal(
            f"the process is for {process.pack} pack in {process.jar} jars, and these "
            f"are {filling.jar} jars packed {pack.pack}",
            instead=f"look up the process for {pack.pack} pack in {filling.jar} jars",
            source=process.source,
        )
    return None
