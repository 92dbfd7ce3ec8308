"""
Fruit butter: fruit cooked soft, milled, and cooked down with sugar till it mounds.

It is done by its look, not by a clock; the minutes here are what the fire needs to
drive off the water, so that the day can be planned round them.
"""

from __future__ import annotations

from stillroom.book.jars import jar_volume_m3
from stillroom.book.procedures import Procedure
from stillroom.book.words import many, tokens
from stillroom.in_a_list import all_of
from stillroom.measures import CUP_M3
from stillroom.methods import handling as hand
from stillroom.methods import jars as jar_work
from stillroom.methods import pot_and_fire as fire
from stillroom.methods.hand_steps import by_hand, through_the_mill
from stillroom.methods.method import (
    Checked,
    Filling,
    Kept,
    Material,
    Part,
    Recipe,
    Station,
    Work,
    Yield,
)
from stillroom.methods.portions import (
    drawn,
    material_of,
    printed_in,
    said,
    weight_words,
)
from stillroom.methods.scaling import at_multiple
from stillroom.methods.solids import ROOM_K, jars_at, mix_solids
from stillroom.methods.step import Link, Skill, Step
from stillroom.refusal import COMMON_PRACTICE, Caution, Refusal, Source
from stillroom.science import kettle

NAME = "butter"
KEPT = Kept.SHELF
PER_JAR = False
PACK = "hot"
MOUNDS = "mounds on a spoon held 2 min off the steam; no ring of liquid on a cold plate"

LEAST_SOLIDS = 0.43
"""Soluble solids that make it a fruit butter: 21 CFR 150.110."""
THICK_SOLIDS = 0.50
"""Where a thick one ends: the derived yields go by 43 to 50 %."""
LIKELY_SOLIDS = 0.46
RICH_RISE = 0.05
"""A mix that begins above 43 % is still cooked until it mounds: an estimate."""

GENTLE_W = 1_200.0
"""It spits: cooked down on part power, about 1.2 kW of the burner's rating. [W]"""
STIRRED_ALL_THE_TIME = 3
"""Quarters of a person. Stir all the time, the leaflet says (Michigan State Univ.
Extension 01600550), and not only once it thickens: of two pots one would stand
unstirred. That this leaves a glance for another pot is common practice, no source."""
STIRRING = "stir all the time, but for a glance at another pot"
POT_TIMES = 2.0
POT_SOURCE = f"twice the mix, for it spits: {COMMON_PRACTICE}"
BULK_KG_PER_M3 = 500.0
"""Quartered raw fruit with its gaps: common practice, no source. [kg/m3]"""

_STONED = ("halve and stone", "stone")
_CUT = {
    **dict.fromkeys(("apricots", "peaches", "plums"), _STONED),
    "grapes": ("stem and pick over", "leaf"),
}
"""What the knife does, and what is gone then; all other fruit is cored."""

PULP_M3_PER_KG = 8 * float(CUP_M3) / 3.175
"""Sieved pulp from raw fruit: 7 lb pears gave 2 quarts in the printed pear butter; the
same is taken for other fruit until the keeper has measured hers. [m3/kg]"""


def scale(procedure: Procedure, multiple: int) -> Recipe | Refusal:
    """Return the procedure at a whole multiple of its tested batch."""
    return at_multiple(procedure, multiple)


def materials(recipe: Recipe, jar: str, jars: int) -> tuple[Material, ...]:
    """Return what the batch uses up; pulp is given as the raw fruit that yields it."""
    fruit = recipe.of_role("fruit")
    others = tuple(material_of(part) for part in drawn(recipe) if part not in fruit)
    raw = tuple(
        Material(name=raw_name(recipe, part), mass_kg=fruit_kg(part)) for part in fruit
    )
    return (*raw, *others, *jar_work.jar_materials(jar, jars))


def raw_name(recipe: Recipe, part: Part) -> str:
    """Pulp is made of raw fruit: "pear pulp" lies on the shelf as pears."""
    if "pulp" not in part.name:
        return part.name
    return many(part.name.removesuffix(" pulp"))


def fruit_kg(part: Part) -> float:
    """Raw fruit for a part that the recipe gives by weight, or by cups of pulp."""
    if part.volume_m3 is not None:
        return part.volume_m3 / PULP_M3_PER_KG
    return part.mass_kg or 0.0


def checks(recipe: Recipe, station: Station) -> Checked | Refusal:
    """Return what pot and fire make of the batch, or why they cannot hold it."""
    if (metal := fire.reacts(station.pot)) is not None:
        return metal
    volume = fire.dissolved_m3(recipe)
    raw_kg = sum(fruit_kg(part) for part in recipe.of_role("fruit"))
    needed = max(POT_TIMES * volume, raw_kg / BULK_KG_PER_M3)
    what = fire.batch_words(recipe)
    small = fire.holds(needed, station.pot, what, source=POT_SOURCE)
    if small is not None:
        return small
    if fire.net_w(GENTLE_W, station) <= 0:
        return Refusal(
            f"{GENTLE_W / 1000:.1f} kW of {station.heat.value} keeps no boil",
            instead="use a stronger burner",
            source=f"heat balance; pot losses are an estimate, {COMMON_PRACTICE}",
        )
    return Checked(
        dissolved_m3=volume,
        pot_needed_m3=needed,
        pot_given_m3=station.pot.volume_m3,
        back_to_boil_min=None,
        outlook=(
            f"cooks down in about {cook_down_min(recipe, station):.0f} min on a "
            "gentle fire; it is done when it mounds, not by the clock"
        ),
        cautions=(
            *recipe.cautions,
            *fire.metal_cautions(station.pot),
            Caution(
                "where it has caught at the bottom do not scrape: pour off into a "
                "clean pot, taste, and go on gently if it is clean",
                COMMON_PRACTICE,
            ),
        ),
    )


def expected_yield(recipe: Recipe, jar: str) -> Yield | Refusal:
    """Return how many jars it fills, from the balance of soluble solids."""
    volume = jar_volume_m3(jar)
    if isinstance(volume, Refusal):
        return volume
    total, solids = mix_solids(recipe)
    least, likely_end, thick = end_solids(solids)
    low = jars_at(total, solids, thick, volume)
    high = jars_at(total, solids, least, volume)
    likely = jars_at(total, solids, likely_end, volume)
    printed = printed_in(recipe, volume)
    basis = f"solids balance: {thick:.0%} to {least:.0%} soluble solids in the jar"
    if printed and printed[0] > high:
        basis += "; the printed yield is more than the solids can fill"
    return Yield(
        jar=jar,
        likely=likely,
        low=low,
        high=high,
        printed_low=printed[0] if printed else None,
        printed_high=printed[1] if printed else None,
        basis=basis,
        source=Source(
            "balance of soluble solids; 43 % by 21 CFR 150.110; printed yield: "
            + recipe.procedure.source,
            "computed",
        ),
    )


def end_solids(solids: float) -> tuple[float, float, float]:
    """
    Soluble solids at which it is done: least, likely, thickest.

    >>> end_solids(0.30)
    (0.43, 0.46, 0.5)
    """
    return (
        max(LEAST_SOLIDS, solids),
        max(LIKELY_SOLIDS, min(0.6, solids + RICH_RISE)),
        max(THICK_SOLIDS, min(0.65, solids + 2 * RICH_RISE)),
    )


def cook_down_min(recipe: Recipe, station: Station) -> float:
    """Minutes on gentle fire from the mixed pot to the likely end."""
    total, solids = mix_solids(recipe)
    seconds = kettle.boil_down_s(
        total,
        solids,
        end_solids(solids)[1],
        fire.latent_heat_here(station),
        GENTLE_W,
        station.efficiency,
        fire.POT_LOSS_W,
    )
    return float(seconds) / 60.0


def steps(recipe: Recipe, station: Station, filling: Filling) -> Work | Refusal:
    """Return the steps of one batch, from cutting the fruit to the clean pot."""
    kilos = sum(fruit_kg(part) for part in recipe.of_role("fruit"))
    made = [
        *jar_work.before_filling(filling, station.air),
        _cut(recipe),
        _soften(recipe, station),
        *through_the_mill(kilos, sieve=station.sieve),
        _measure_pulp(recipe),
        *_cook(recipe, station),
        *jar_work.fill_and_close(
            filling,
            recipe.procedure.headspace_in,
            sweet=bool(recipe.of_role("sugar")),
        ),
        jar_work.wash_pot(),
    ]
    links = [
        *jar_work.jar_links(),
        Link(before="cut", after="soften", at_most_min=60, why="cut fruit browns"),
        Link(before="soften", after="mill", at_most_min=30, why="milled while warm"),
        Link(before="mill", after="wash_mill"),
        Link(before="mill", after="measure_pulp", at_most_min=30),
        Link(before="measure_pulp", after="cook_down", at_most_min=30),
        Link(before="cook_down", after="thicken", at_most_min=0, why="it would burn"),
        Link(before="thicken", after="fill", at_most_min=5, why="filled boiling hot"),
    ]
    return Work(
        steps=tuple(made),
        links=tuple(links),
        ready_after="wipe_and_lid",
        closed_wait_at_most_min=hand.CLOSED_WAIT_MIN,
    )


def _cut(recipe: Recipe) -> Step:
    kilos = sum(fruit_kg(part) for part in recipe.of_role("fruit"))
    minutes = hand.for_count(hand.CUT_FRUIT_MIN, kilos)
    names = ", ".join(raw_name(recipe, part) for part in recipe.of_role("fruit"))
    how, gone = _CUT.get(names, ("quarter and core", "core"))
    return Step(
        id="cut",
        verb=f"Wash, {how} {names}",
        end_sign=f"no bruise, no stem, no {gone}",
        duration_min=minutes,
        spread=hand.spread_of(minutes),
        basis=hand.BASIS,
        attention_quarters=3,
        skill=Skill.KNIFE,
        note=weight_words(kilos, metric=recipe.metric),
    )


def _soften(recipe: Recipe, station: Station) -> Step:
    kilos = sum(fruit_kg(part) for part in recipe.of_role("fruit"))
    wet = kilos + sum(p.mass_kg or 0.0 for p in _softened_in(recipe))
    minutes = hand.whole_min(
        fire.heat_up_min(wet, 0.12, station, ROOM_K) + hand.SIMMER_SOFT_MIN
    )
    return Step(
        id="soften",
        verb="Cook the fruit soft",
        end_sign="soft to the core",
        duration_min=minutes,
        spread=hand.spread_of(minutes),
        basis=f"computed: {wet:.1f} kg to the boil, then {hand.BASIS}",
        attention_quarters=1,
        skill=Skill.PAN,
        burner_w=station.burner.power_w,
        in_pot=True,
        note=" · ".join(map(said, _softened_in(recipe))) or _water(recipe),
    )


def _softened_in(recipe: Recipe) -> tuple[Part, ...]:
    """
    What the fruit is cooked soft in: its cider and vinegar, its cup of water.

    What is printed of the softening; where nothing is and no pulp is sieved, all of it.
    """
    printed = set(tokens(recipe.procedure.base_prep))
    wet = recipe.of_role("liquid", "acid")
    named = tuple(part for part in wet if printed & set(tokens(part.name)))
    return named if named or recipe.base.name.endswith("pulp") else tuple(wet)


def _water(recipe: Recipe) -> str:
    """The water that is in no list of parts."""
    covered = "water to cover" in recipe.procedure.base_prep
    return "water to cover" if covered else "a little water at the bottom"


def _measure_pulp(recipe: Recipe) -> Step:
    sugars = all_of(
        f"{said(part)} ({part.prep})" if part.prep else said(part)
        for part in recipe.of_role("sugar")
    )
    pulp = [part for part in recipe.of_role("fruit") if part.volume_m3 is not None]
    sugar_goes = (
        f"{sugars} to {all_of(said(part) for part in pulp)}, by what there is"
        if pulp
        else f"{sugars}, however much pulp it gave: the recipe is printed so"
    )
    return by_hand(
        "measure_pulp",
        "Measure the pulp, weigh out the sugar",
        "cups of pulp written down",
        hand.MEASURE_PULP_MIN,
        in_pot=True,
        note=sugar_goes,
    )


def _cook(recipe: Recipe, station: Station) -> tuple[Step, Step]:
    total, solids = mix_solids(recipe)
    heat = fire.heat_up_min(total, min(0.6, solids), station, ROOM_K + 30)
    whole = hand.whole_min(heat + cook_down_min(recipe, station))
    last = max(3, round(whole * 0.3))
    basis = (
        f"computed: {total:.1f} kg from {solids:.0%} to {end_solids(solids)[1]:.0%} "
        f"solids at {GENTLE_W / 1000:.1f} kW"
    )
    first = max(1, whole - last)
    in_it = _softened_in(recipe)
    late = [said(p) for p in recipe.of_role("liquid", "acid") if p not in in_it]
    return (
        Step(
            id="cook_down",
            verb="Cook the butter down",
            end_sign="plops, and the spoon leaves a track",
            duration_min=first,
            spread=hand.spread_of(first),
            basis=basis,
            attention_quarters=STIRRED_ALL_THE_TIME,
            skill=Skill.PAN,
            burner_w=GENTLE_W,
            in_pot=True,
            same_hands="",
            caution="It spits: long sleeves, a deep pot.",
            note=" · ".join([STIRRING, *late]),
        ),
        Step(
            id="thicken",
            verb="Stir the butter till it mounds",
            end_sign=MOUNDS,
            duration_min=last,
            spread=hand.spread_of(last),
            basis=basis,
            attention_quarters=STIRRED_ALL_THE_TIME,
            skill=Skill.PAN,
            burner_w=GENTLE_W,
            in_pot=True,
            caution="It burns if it is left.",
            note=STIRRING,
        ),
    )
