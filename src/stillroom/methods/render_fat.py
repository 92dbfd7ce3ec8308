"""
Rendering fat: small pieces, a little water, a gentle fire, strained while it is clear.

It is kept cold and never sealed for the shelf: there is no published process for fat.
One recipe is one pound of raw fat.
"""

from __future__ import annotations

from stillroom.book.jars import jar_volume_m3
from stillroom.book.procedures import Procedure
from stillroom.book.rendering import YIELD_SOURCE, Rendering, rendering_for
from stillroom.jar_count import jars_said
from stillroom.measures import both, depth, kelvin
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
from stillroom.methods.multiples import so_many_times
from stillroom.methods.portions import sum_words, uses, weight_words
from stillroom.methods.solids import ROOM_K
from stillroom.methods.step import Link, Skill, Step
from stillroom.refusal import COMMON_PRACTICE, Caution, Refusal, Source

NAME = "render_fat"
KEPT = Kept.COLD
PER_JAR = True
ONE_IS = "lb"
"""What its recipe taken once is, where that is no jar's worth in every jar."""
PACK = None
TROUBLES = ("scorched",)
"""Rows of the table of troubles that belong to it."""

MOST_POUNDS = 40
GENTLE_W = 1_000.0
"""Part power, so that it neither scorches nor smokes: common practice. [W]"""
POT_TIMES = 2.0
"""It foams and spits: common practice, no source. [1]"""
RAW_KG_PER_M3 = 800.0
"""Cubes with their gaps: common practice, no source. [kg/m3]"""
FAT_J_PER_KG_K = 2_500.0
"""Of raw fat as it warms and melts: an estimate. [J/(kg K)]"""
DEFAULT_FINISH_F = 250.0
STAYED_WITH = 2
"""Quarters of a person: fat on a fire is never left, at the most looked away from."""
STRAIN_MIN = (4.0, 1.0)
SETTLE_MIN = 15
FIRE = Caution(
    "fat near the fire: never leave it, never fill the pot past half, no water into "
    "hot fat, a lid and salt within reach, and no water on burning fat",
    COMMON_PRACTICE,
)
STEAM = Caution(
    "it spits while there is water in it: long sleeves, a deep pot, stand back",
    COMMON_PRACTICE,
)


def scale(procedure: Procedure, multiple: int) -> Recipe | Refusal:
    """Return so many pounds' worth."""
    return so_many_times(
        procedure, multiple, most=MOST_POUNDS, source=f"hands: {COMMON_PRACTICE}"
    )


def materials(recipe: Recipe, jar: str, jars: int) -> tuple[Material, ...]:
    """Return the raw fat, then what it is filled into; no lids are used up."""
    return (*uses(recipe), Material(name=f"{jar} jars", count=jars))


def fat_of(recipe: Recipe) -> Rendering | Refusal:
    """Return the row of the table that a recipe was made from."""
    return rendering_for(recipe.procedure.name)


def checks(recipe: Recipe, station: Station) -> Checked | Refusal:
    """Return what pot and fire make of it, and what is dangerous about it."""
    fat = fat_of(recipe)
    if isinstance(fat, Refusal):
        return fat
    needed = POT_TIMES * (_raw_kg(recipe) / RAW_KG_PER_M3)
    what = f"{_raw_kg(recipe):.1f} kg of {fat.raw}"
    small = fire.holds(
        needed, station.pot, what, source=f"twice the raw fat: {COMMON_PRACTICE}"
    )
    if small is not None:
        return small
    if fire.net_w(GENTLE_W, station) <= 0:
        return Refusal(
            f"{GENTLE_W / 1000:.1f} kW of {station.heat.value} does not render fat",
            instead="use a stronger burner",
            source=f"heat balance; pot losses are an estimate, {COMMON_PRACTICE}",
        )
    return Checked(
        dissolved_m3=_raw_kg(recipe) * fat.yield_high / fat.density_kg_m3,
        pot_needed_m3=needed,
        pot_given_m3=station.pot.volume_m3,
        back_to_boil_min=None,
        outlook=f"takes about {melt_min(recipe, fat, station):.0f} min on a "
        f"gentle fire till the water is gone; {_raw_kg(recipe) * fat.yield_low:.1f} to "
        f"{_raw_kg(recipe) * fat.yield_high:.1f} kg of {fat.name}; done by its "
        "cracklings, not by the clock",
        cautions=(*recipe.cautions, FIRE, STEAM),
    )


def _raw_kg(recipe: Recipe) -> float:
    return recipe.base.mass_kg or 0.0


def melt_min(recipe: Recipe, fat: Rendering, station: Station) -> float:
    """
    Minutes on gentle fire until all water has gone off and the fat is hot. [min]

    Fat and water are warmed, then the water of the fat and what was added boils off:
    an estimate, for planning the day.
    """
    added = sum(part.mass_kg or 0.0 for part in recipe.of_role("liquid"))
    water = _raw_kg(recipe) * fat.water_share + added
    end_k = kelvin(fat.finish_f or DEFAULT_FINISH_F)
    warm = _raw_kg(recipe) * FAT_J_PER_KG_K * (end_k - ROOM_K)
    # water gets no hotter than its boil; what is over goes into the steam
    warm += added * 4_190.0 * (station.air.water_boils_k - ROOM_K)
    steam = water * fire.latent_heat_here(station)
    return (warm + steam) / fire.net_w(GENTLE_W, station) / 60.0


def expected_yield(recipe: Recipe, jar: str) -> Yield | Refusal:
    """Return how many jars it fills: a share of the raw fat, by common practice."""
    volume = jar_volume_m3(jar)
    if isinstance(volume, Refusal):
        return volume
    fat = fat_of(recipe)
    if isinstance(fat, Refusal):
        return fat
    low, high = (
        _raw_kg(recipe) * share / fat.density_kg_m3 / volume
        for share in (fat.yield_low, fat.yield_high)
    )
    return Yield(
        jar=jar,
        likely=(low + high) / 2,
        low=low,
        high=high,
        printed_low=None,
        printed_high=None,
        basis=f"{fat.yield_low:.0%} to {fat.yield_high:.0%} of the raw fat "
        f"({COMMON_PRACTICE}); {fat.density_source}",
        source=Source(f"{YIELD_SOURCE}; {fat.density_source}", "practice"),
    )


def steps(recipe: Recipe, station: Station, filling: Filling) -> Work | Refusal:
    """Return the steps of one batch, from the cold fat to the closed jars."""
    fat = fat_of(recipe)
    if isinstance(fat, Refusal):
        return fat
    made = [
        cold.by_hand(
            "dry_jars",
            f"Wash and dry {jars_said(filling.jars, filling.jar)}",
            "bone dry: a drop of water spoils fat",
            hand.for_count(hand.WASH_JARS_MIN, filling.jars),
            note="warm them in a barely warm oven, empty",
        ),
        _cut(recipe, fat),
        *_melt(recipe, fat, station),
        _strain(recipe, fat),
        _fill(filling),
        cold.by_hand(
            "close",
            f"Close {jars_said(filling.jars)}, label and date",
            "lids on when it is no longer hot; cloudy and white as it sets",
            hand.for_count(hand.WIPE_AND_LID_MIN, filling.jars),
            note="into the cold; airtight and dark",
        ),
        wash_pot(),
    ]
    return Work(
        steps=tuple(made),
        links=(
            Link(before="cut", after="melt", at_most_min=60, why="kept cold till then"),
            Link(before="melt", after="clear", at_most_min=0, why="fat is not left"),
            Link(before="clear", after="strain", at_most_min=10, why="it scorches"),
            Link(before="dry_jars", after="fill"),
            Link(before="strain", after="fill", at_most_min=20, why="filled while hot"),
            Link(before="fill", after="close", at_least_min=SETTLE_MIN),
            Link(before="strain", after="wash_pot"),
        ),
        ready_after="close",
        closed_wait_at_most_min=0,
        later=_later(fat),
    )


def _cut(recipe: Recipe, fat: Rendering) -> Step:
    kilos = _raw_kg(recipe)
    return cold.by_hand(
        "cut",
        f"Cut the {fat.raw} in 1-inch cubes, or grind it",
        "no lean meat left on it: it scorches",
        hand.for_count(hand.CUT_FRUIT_MIN, kilos),
        skill=Skill.KNIFE,
        note=f"{weight_words(kilos, metric=recipe.metric)}, well chilled",
    )


def _melt(recipe: Recipe, fat: Rendering, station: Station) -> tuple[Step, Step]:
    whole = hand.whole_min(melt_min(recipe, fat, station))
    last = max(5, round(whole * 0.25))
    first = max(1, whole - last)
    basis = (
        f"computed: {_raw_kg(recipe):.1f} kg of fat and its water at "
        f"{GENTLE_W / 1000:.1f} kW; water share and yield are {COMMON_PRACTICE}"
    )
    water = sum_words(recipe.of_role("liquid"))
    finish = ""
    if fat.finish_f:
        finish_k = kelvin(fat.finish_f)
        shown = both(station.air.shown_k(finish_k), 0)
        whose = "a" if station.air.thermometer is None else "your"
        finish = f"; {whose} thermometer near {shown} ({fat.finish_known})"
    return (
        Step(
            id="melt",
            verb="Melt the fat on a gentle fire",
            end_sign="clear fat over the pieces, small bubbles of steam",
            duration_min=first,
            spread=hand.spread_of(first),
            basis=basis,
            attention_quarters=STAYED_WITH,
            skill=Skill.PAN,
            burner_w=GENTLE_W,
            in_pot=True,
            caution="It spits. Never leave fat on the fire alone.",
            note=f"{water} water at the bottom first; stir often",
        ),
        Step(
            id="clear",
            verb="Stir till the last water is gone",
            end_sign="cracklings brown and light, no more steam" + finish,
            duration_min=last,
            spread=hand.spread_of(last),
            basis=basis,
            attention_quarters=STAYED_WITH,
            skill=Skill.PAN,
            burner_w=GENTLE_W,
            in_pot=True,
            caution="No smoke: off the fire at the first wisp. A lid within reach.",
            note="scrape nothing up that has caught",
        ),
    )


def _strain(recipe: Recipe, fat: Rendering) -> Step:
    minutes = hand.for_count(STRAIN_MIN, _raw_kg(recipe) * fat.yield_high)
    return Step(
        id="strain",
        verb="Off the fire; strain through cloth",
        end_sign="clear, no crumb in it",
        duration_min=minutes,
        spread=hand.spread_of(minutes),
        basis=hand.BASIS,
        attention_quarters=4,
        skill=Skill.PAN,
        in_pot=True,
        critical=True,
        caution="Far over the boil of water: it burns deep. Cool a little first.",
        note="press the cracklings apart; they are eaten soon or frozen",
    )


def _fill(filling: Filling) -> Step:
    minutes = hand.for_count(hand.FILL_MIN, filling.jars)
    return Step(
        id="fill",
        verb=f"Fill {jars_said(filling.jars, f'dry {filling.jar}')}",
        end_sign=f"{depth(0.5)} headspace in each",
        duration_min=minutes,
        spread=hand.spread_of(minutes),
        basis=hand.BASIS,
        attention_quarters=4,
        skill=Skill.PAN,
        put_up=True,
        critical=True,
        caution="Hot fat cracks cold glass: warm, dry jars on a towel.",
        note="stir as it cools for a fine white grain",
    )


def _later(fat: Rendering) -> tuple[Later, ...]:
    return (
        Later(
            after_h=fat.months_cold * 30.4 * 24.0,
            text=f"Use up or freeze the {fat.name}: about {fat.months_cold} months in "
            f"the refrigerator, {fat.months_frozen} frozen; what smells rancid goes.",
            source=str(fat.source),
        ),
    )
