"""
The steps of a pack, from the knife to the closed jar.

Minutes that are printed are taken as printed, the longer of a range; all that is hands
is a rule of thumb, common practice with no source.
"""

from __future__ import annotations

import math
from dataclasses import replace

from stillroom.book.packs import SALT_TSP, Pack, quarts_in
from stillroom.book.words import tokens
from stillroom.capital import capital
from stillroom.in_a_list import any_of
from stillroom.jar_count import counted, jars_said, plural
from stillroom.measures import depth, mixed_number
from stillroom.methods import handling as hand
from stillroom.methods import per_jar
from stillroom.methods import pot_and_fire as fire
from stillroom.methods.hand_steps import through_the_mill
from stillroom.methods.method import Filling, Recipe, Station
from stillroom.methods.portions import by_the_cup, weight_words
from stillroom.methods.solids import ROOM_K
from stillroom.methods.step import Link, Skill, Spread, Step
from stillroom.refusal import COMMON_PRACTICE

HANDS_MIN = {
    "pour": (3.0, 0.5),
    "scrub": (2.0, 1.5),
    "husk": (2.0, 1.5),
    "pick": (2.0, 2.0),
    "cut": (2.0, 3.0),
    "skin": (6.0, 4.0),
    "peel": (2.0, 5.0),
    "shell": (2.0, 8.0),
}
"""Minutes to begin with, and for each kilogram as bought: common practice."""
TRIM_MIN = (2.0, 1.5)
ACID_MIN = (1.0, 0.15)
FILL_LIQUID_MIN = (1.0, 0.45)
FILL_HOT_MIN = (1.0, 0.8)
FILL_RAW_MIN = (1.0, 1.5)
CLOSE_MIN = (1.0, 0.6)
"""Minutes to begin with, and for each jar: common practice."""

HOT_INTO_JARS_MIN = 10
"""From the fire to the jar, hot food into hot jars: common practice, 5 to 10 min."""
BROWNS_MIN = 60
RAW_BROWNS_MIN = 30
LIQUID_KEEPS_MIN = 60
"""Covering liquid under a lid, brought back to the boil before it is poured."""
DIP_S = "30 to 60"
"""As the packs print it for tomatoes and peaches; a test holds it to them."""
DIP_MIN = 1.5
"""One go in and out, the water back to the boil: common practice. [min]"""
DIPPED_AT_A_TIME_KG = 2.5
"""In one basket: common practice. [kg]"""
ACID_KEEPS_HOT_MIN = 5
"""Jars that have their acid are out of the hot water: common practice. [min]"""
BLANCH_KETTLE_KG = 4.0
"""Water to blanch in, about a gallon: common practice. [kg]"""


def cut(recipe: Recipe, pack: Pack) -> Step:
    """Wash the food, and cut it as the pack says."""
    kilos = per_jar.food_kg(recipe)
    duration = hand.for_count(HANDS_MIN[pack.hands], kilos)
    verbs = {
        "pour": f"Pour off and strain the {pack.food}",
        "scrub": f"Scrub the {pack.food}",
        "husk": f"Husk the {pack.food}",
        "pick": f"Wash and pick over the {pack.food}",
        "cut": f"Wash and cut the {pack.food}",
        "skin": f"Skin and cut the {pack.food}",
        "peel": f"Wash, peel and cut the {pack.food}",
        "shell": f"Shell and wash the {pack.food}",
    }
    return Step(
        id="cut",
        verb=verbs[pack.hands],
        end_sign="clear, no sediment" if pack.hands == "pour" else "no bruise left",
        duration_min=duration,
        spread=hand.spread_of(duration),
        basis=hand.BASIS,
        attention_quarters=3,
        skill=Skill.COLD if pack.hands in ("pour", "pick", "husk") else Skill.KNIFE,
        note=" · ".join(
            said
            for said in (
                weight_words(kilos, metric=recipe.metric),
                _beside(verbs[pack.hands], _once_dipped(pack)),
                _cups_of(recipe) if "sugar" in pack.prep else "",
            )
            if said
        ),
    )


def _beside(verb: str, prep: str) -> str:
    """
    Return what is printed beside what the verb says already.

    >>> _beside("Shell and wash the peas", "Shell and wash the peas.")
    ''
    >>> _beside("Wash and pick over the figs", "Wash the figs; do not peel them.")
    'Do not peel them.'
    """
    said = set(tokens(verb))
    rest = [part for part in prep.split("; ") if not set(tokens(part)) <= said]
    return capital("; ".join(rest))


def _once_dipped(pack: Pack) -> str:
    """Return what is prepared, without the dip that is a step before it."""
    if pack.hands != "skin":
        return pack.prep
    then = pack.prep.partition(", ")[2]
    return capital(then)


def dip(recipe: Recipe, pack: Pack, station: Station) -> Step:
    """Dip the food in boiling water, so that its skin slips: hot work, as a pan is."""
    kilos = per_jar.food_kg(recipe)
    goes = max(1, math.ceil(kilos / DIPPED_AT_A_TIME_KG))
    return replace(
        _in_boiling_water(goes * DIP_MIN, station),
        id="dip",
        verb=f"Wash the {pack.food}, dip them {DIP_S} s in boiling water, then cold",
        end_sign=f"skins slip; in {counted(goes, 'go')}",
        basis=f"{DIP_S} s as printed ({pack.source}); {BLANCH_KETTLE_KG:g} kg of water "
        f"to the boil computed, {DIPPED_AT_A_TIME_KG:g} kg in a go of {DIP_MIN:g} min: "
        f"{COMMON_PRACTICE}",
        note="in a kettle of its own; a basket or a slotted spoon",
    )


def blanch(recipe: Recipe, pack: Pack, station: Station) -> Step:
    """Blanch a quart or two at a time in boiling water, which is drained off."""
    printed = float(pack.cooking.blanch_min)
    goes = math.ceil(per_jar.quarts(recipe) / per_jar.BLANCHED_AT_A_TIME)
    said = f"{mixed_number(printed)} min" if printed >= 1 else f"{printed * 60:.0f} s"
    return replace(
        _in_boiling_water(goes * (printed + 1.0), station),
        id="blanch",
        verb=f"Blanch for {said} in boiling water, drain",
        end_sign=f"{said} each, in {counted(goes, 'go')}",
        basis=f"{said} as printed ({pack.source}); {BLANCH_KETTLE_KG:g} kg of water to "
        f"the boil computed, two quarts in a go with a minute between: "
        f"{COMMON_PRACTICE}",
        in_pot=True,
    )


def _in_boiling_water(minutes: float, station: Station) -> Step:
    """Return so long at a kettle that comes to the boil first; the rest is to say."""
    water = fire.heat_up_min(BLANCH_KETTLE_KG, 0.0, station, ROOM_K)
    duration = hand.whole_min(water + minutes)
    return Step(
        id="",
        verb="",
        duration_min=duration,
        spread=hand.spread_of(duration),
        attention_quarters=3,
        skill=Skill.PAN,
        burner_w=station.burner.power_w,
        caution="Boiling water: lift the basket away from you.",
    )


def boil_liquid(recipe: Recipe, pack: Pack, station: Station, *, in_pot: bool) -> Step:
    """Bring syrup, water or juice to the boil, in the pot or by itself."""
    kilos = per_jar.liquid_kg(recipe)
    duration = hand.whole_min(fire.heat_up_min(kilos, 0.15, station, ROOM_K))
    syrup = "syrup" in pack.liquid.name
    return Step(
        id="boil_liquid",
        verb=f"Bring the {pack.liquid.name.removeprefix('boiling ')} to the boil",
        end_sign="it boils, sugar dissolved" if syrup else "it boils",
        duration_min=duration,
        spread=hand.spread_of(duration),
        basis=f"computed: {kilos:.1f} kg on {station.burner.power_w / 1000:.1f} kW "
        f"{station.heat.value}, {station.efficiency:.0%} of it into the pot; amount: "
        f"{pack.liquid.source}",
        attention_quarters=1,
        skill=Skill.PAN,
        burner_w=station.burner.power_w,
        in_pot=in_pot,
        note=_cups_of(recipe),
    )


def _cups_of(recipe: Recipe) -> str:
    """Say the liquid as it is measured: "9 cups water · 2 1/4 cups sugar"."""
    parts = [p for p in recipe.of_role("liquid", "sugar") if not p.optional]
    return " · ".join(f"{by_the_cup(part)} {part.name}" for part in parts)


def cook(recipe: Recipe, pack: Pack, station: Station) -> Step:
    """Bring the food to the boil and keep it there for the printed minutes."""
    cooking = pack.cooking
    kilos = per_jar.prepared_kg(recipe)
    if pack.liquid.fresh:  # cooked in water of its own, which is not what covers it
        kilos += per_jar.liquid_kg(recipe)
    heat = hand.whole_min(fire.heat_up_min(kilos, per_jar.FOOD_SOLIDS, station, ROOM_K))
    duration = heat + cooking.most_min
    shorter = cooking.most_min - cooking.least_min
    usual = hand.spread_of(heat)
    to_the_boil = f"Bring the {pack.food} to the boil"
    verbs = {
        "boil": f"{to_the_boil}, then boil gently for {cooking.most_min} min",
        "simmer": f"{to_the_boil}, then simmer for {cooking.most_min} min",
        "soften": f"Cook the {pack.food} soft",
        "to the boil": to_the_boil,
    }
    ends = {"soften": "soft enough for the mill", "to the boil": "it boils"}
    printed = "as printed" if cooking.how_known == "looked_up" else COMMON_PRACTICE
    return Step(
        id="cook",
        verb=verbs[cooking.verb],
        end_sign=ends.get(cooking.verb, f"{cooking.most_min} min from the boil"),
        duration_min=duration,
        spread=Spread(
            low=max(1, usual.low + cooking.most_min - shorter),
            likely=duration,
            high=usual.high + cooking.most_min,
        ),
        basis=f"computed: {kilos:.1f} kg to the boil in {heat} min"
        + (f"; {cooking.most_min} min {printed}" if cooking.most_min else "")
        + f" ({pack.source})",
        attention_quarters=2,
        skill=Skill.PAN,
        burner_w=station.burner.power_w,
        in_pot=True,
        note=pack.at_pot,
    )


def stand(pack: Pack) -> Step:
    """Let it stand covered, off the fire."""
    cooking = pack.cooking
    return Step(
        id="stand",
        verb=f"Off the fire, stand covered {cooking.stand_min} min",
        end_sign=f"{cooking.stand_min} to {cooking.stand_most_min} min",
        duration_min=cooking.stand_min,
        spread=Spread(
            low=cooking.stand_min,
            likely=cooking.stand_min,
            high=cooking.stand_most_min,
        ),
        basis=f"as printed ({pack.source})",
        in_pot=True,
    )


def trim(recipe: Recipe, pack: Pack) -> Step:
    """Skin or cut what the heat has loosened."""
    duration = hand.for_count(TRIM_MIN, per_jar.food_kg(recipe))
    verb, _, rest = pack.trim.removesuffix(".").partition("; ")
    return Step(
        id="trim",
        verb=verb,
        end_sign="ready for the jars" if pack.trim_after == "cook" else "cut",
        duration_min=duration,
        spread=hand.spread_of(duration),
        basis=hand.BASIS,
        attention_quarters=3,
        skill=Skill.KNIFE,
        in_pot=pack.trim_after == "cook",
        note=rest,
    )


def measure_acid(recipe: Recipe, pack: Pack, filling: Filling) -> Step:
    """Put the published dose of acid into each jar, before the food."""
    rule = pack.acid
    assert rule is not None, pack.id
    taken = {part.name for part in recipe.of_role("acid")}
    doses = sorted(rule.in_jar(filling.jar), key=lambda dose: dose.acid not in taken)
    first, *others = (f"{mixed_number(d.quantity)} {d.unit} {d.acid}" for d in doses)
    duration = hand.for_count(ACID_MIN, filling.jars)
    jars = filling.jars
    return Step(
        id="measure_acid",
        verb=f"{first} into {'the jar' if jars == 1 else f'each of {jars} jars'}",
        end_sign="acid in every jar before the food",
        duration_min=duration,
        spread=hand.spread_of(duration),
        basis=f"dose: {doses[0].source}; {hand.BASIS}",
        attention_quarters=3,
        skill=Skill.KNIFE,  # jars out of hot water, and a dose that all hangs on
        caution="Never left out, under pressure neither; bottled juice, not fresh.",
        note=f"or {any_of(others)}" if others else "",
    )


def mill(recipe: Recipe, station: Station) -> tuple[Step, Step]:
    """Put the soft food through the mill or the sieve, and wash that."""
    return through_the_mill(per_jar.food_kg(recipe), sieve=station.sieve)


def reheat(recipe: Recipe, pack: Pack, station: Station) -> Step:
    """Back to the boil after the mill, sugar in if it is wanted."""
    kilos = per_jar.quarts(recipe) * per_jar.QUART_M3 * 1000.0
    boils = station.air.water_boils_k
    duration = hand.whole_min(
        fire.heat_up_min(kilos, per_jar.FOOD_SOLIDS, station, boils - 30.0)
    )
    sweet = [part for part in recipe.of_role("sugar") if part.optional]
    return Step(
        id="reheat",
        verb="Bring it back to the boil, stirring",
        end_sign="it boils",
        duration_min=duration,
        spread=hand.spread_of(duration),
        basis=f"computed: {kilos:.1f} kg, 30 K cooler once milled ({COMMON_PRACTICE})"
        f"; boiled again as printed ({pack.source})",
        attention_quarters=2,
        skill=Skill.PAN,
        burner_w=station.burner.power_w,
        in_pot=True,
        caution="Thick purée spits." if pack.method == "puree" else "",
        note=" · ".join(f"{by_the_cup(part)} {part.name} if wanted" for part in sweet),
    )


def fill(pack: Pack, filling: Filling) -> Step:
    """Pack the jars and cover the food."""
    raw = pack.pack == "raw"
    pieces = pack.method not in ("juice", "puree") and bool(pack.liquid.name)
    rule = FILL_RAW_MIN if raw else FILL_HOT_MIN if pieces else FILL_LIQUID_MIN
    duration = hand.for_count(rule, filling.jars)
    how = "Pack" if pieces else "Fill"
    cover = pack.liquid.name if pack.liquid.water_cups and pieces else ""
    tight = "firm" if raw else "loose" if pieces else ""
    own = pack.at_pot.removesuffix(".")
    if raw and own:  # how it goes in is printed: peas are not even pressed down
        notes = [own, f"{cover} over it" if cover else ""]
    else:
        told = own if not pack.cooking.verb else ""  # else it is told while it cooks
        notes = [
            f"packed {tight}" if tight else "",
            f"{cover} over it" if cover else "",
            told,
        ]
    if pack.salt:
        each = float(SALT_TSP * quarts_in(filling.jar))  # printed by the quart
        notes.append(f"{mixed_number(each)} tsp salt a jar, as one likes")
    return Step(
        id="fill",
        verb=f"{how} {jars_said(filling.jars, filling.jar)}",
        end_sign=f"{depth(pack.headspace_in)} headspace in each",
        duration_min=duration,
        spread=hand.spread_of(duration),
        basis=f"{hand.BASIS}; headspace: {pack.source}",
        attention_quarters=3,
        skill=Skill.PAN,
        in_pot=not raw,
        put_up=True,
        caution="Boiling liquid. Hot jars only; cold glass cracks.",
        note=", ".join(note for note in notes if note),
    )


def close(pack: Pack, filling: Filling) -> Step:
    """Free the bubbles, wipe the rims, put the lids on."""
    duration = hand.for_count(CLOSE_MIN, filling.jars)
    rims = counted(filling.jars, "rim")
    return Step(
        id="wipe_and_lid",
        verb=f"Free bubbles, wipe {rims}, {plural(filling.jars, 'lid')} on",
        end_sign=f"{depth(pack.headspace_in)} still free; bands fingertip tight",
        duration_min=duration,
        spread=hand.spread_of(duration),
        basis=hand.BASIS,
        attention_quarters=3,
        skill=Skill.KNIFE,  # a spatula in jars of boiling food
        note="a thin spatula down the side; new lids; clean damp cloth",
    )


def into_hot_jars(last: str) -> Link:
    """Tie the last step on the fire to the filling."""
    return Link(
        before=last,
        after="fill",
        at_most_min=HOT_INTO_JARS_MIN,
        why="hot food goes into hot jars",
    )
