"""
Jelly and jam with pectin that sets by calcium: its own tested recipes only.

The book holds none, for none with all its figures was seen, so this way of putting up
refuses whatever it is given that is not such a recipe. A recipe that has fruit, calcium
water and that pectin is taken as it is: acid and fruit are never changed.
"""

from __future__ import annotations

from stillroom.book.calcium_pectin import calcium_rules, no_tested_recipe
from stillroom.book.jars import jar_volume_m3
from stillroom.book.procedures import Procedure
from stillroom.methods import handling as hand
from stillroom.methods import jars as jar_work
from stillroom.methods import pot_and_fire as fire
from stillroom.methods import spread
from stillroom.methods.hand_steps import by_hand
from stillroom.methods.method import (
    Checked,
    Filling,
    Kept,
    Material,
    Recipe,
    Station,
    Work,
    Yield,
)
from stillroom.methods.portions import printed_in, uses
from stillroom.methods.scaling import at_multiple
from stillroom.methods.solids import ROOM_K
from stillroom.methods.step import Link, Skill, Step
from stillroom.refusal import COMMON_PRACTICE, Caution, Refusal, Source

NAME = "calcium_pectin"
KEPT = Kept.SHELF
PER_JAR = False
PACK = "hot"
TROUBLES = ("soft-late", "weeping", "mould", "bubbles", "unsealed-day")
"""Rows of the table of troubles that belong to it."""

CALCIUM = "calcium water"
"""What its ingredient must be called."""
DISSOLVE_MIN = 2
BOIL_OFF = 0.03
"""What boils away and stays in the pot: common practice, no source. [1]"""


def scale(procedure: Procedure, multiple: int) -> Recipe | Refusal:
    """Return a recipe with calcium water and its pectin; refuse any other."""
    whole = (
        any(i.name == CALCIUM for i in procedure.ingredients)
        and procedure.of_role("pectin")
        and procedure.of_role("fruit")
        and procedure.boil_min is not None
    )
    if procedure.method != NAME or not whole:
        return no_tested_recipe(procedure.name)
    return at_multiple(procedure, multiple)


def materials(recipe: Recipe, jar: str, jars: int) -> tuple[Material, ...]:
    """Return its parts, jars, lids."""
    return (*uses(recipe), *jar_work.jar_materials(jar, jars))


def checks(recipe: Recipe, station: Station) -> Checked | Refusal:
    """Return whether the pot holds it, and the rules that belong to this pectin."""
    made = spread.checked(
        recipe,
        station,
        None,
        f"sets by calcium as it cools, with little sugar; {spread.risk(recipe)}",
    )
    if isinstance(made, Refusal):
        return made
    rules = tuple(
        Caution(text, str(source))
        for rule, (text, source) in calcium_rules().items()
        if rule in ("longer process", "proportions")
    )
    return Checked(
        dissolved_m3=made.dissolved_m3,
        pot_needed_m3=made.pot_needed_m3,
        pot_given_m3=made.pot_given_m3,
        back_to_boil_min=None,
        outlook=made.outlook,
        cautions=(*made.cautions, *rules),
    )


def expected_yield(recipe: Recipe, jar: str) -> Yield | Refusal:
    """Return how many jars it fills: hardly anything boils away, so by volume."""
    volume = jar_volume_m3(jar)
    if isinstance(volume, Refusal):
        return volume
    high = fire.dissolved_m3(recipe) / volume
    printed = printed_in(recipe, volume)
    return Yield(
        jar=jar,
        likely=high * (1 - BOIL_OFF),
        low=high * (1 - 3 * BOIL_OFF),
        high=high,
        printed_low=printed[0] if printed else None,
        printed_high=printed[1] if printed else None,
        basis=f"volume of fruit and dissolved sugar, {BOIL_OFF:.0%} boiled away or "
        f"left in the pot ({COMMON_PRACTICE})",
        source=Source(
            f"volumes as measured; printed yield: {recipe.procedure.source}",
            "computed",
        ),
    )


def steps(recipe: Recipe, station: Station, filling: Filling) -> Work | Refusal:
    """Return the steps of one batch, from the calcium water to the clean pot."""
    made, links = spread.begun(recipe, station, filling)
    made += [
        by_hand(
            "shake_calcium",
            "Shake the calcium water",
            "cloudy all through",
            1,
            note="measured while it is cloudy",
        ),
        by_hand(
            "mix_pectin",
            "Mix the dry pectin into the sugar",
            "no lump of pectin",
            4,
            note="pectin by itself clots in the pot",
        ),
        spread.to_boil(
            recipe,
            station,
            ("fruit", "liquid", "acid"),
            "Stir in the calcium water, bring to a full boil",
        ),
        _pectin_in(recipe, station),
        spread.hard_boil(recipe, station),
        spread.skim(),
    ]
    links += [
        Link(before="shake_calcium", after="to_boil", at_most_min=10),
        Link(before="mix_pectin", after="pectin_in"),
        *spread.not_left("to_boil", "pectin_in", "hard_boil", "skim"),
    ]
    return spread.filled(made, links, recipe, filling)


def _pectin_in(recipe: Recipe, station: Station) -> Step:
    sugar = sum(part.mass_kg or 0.0 for part in recipe.of_role("sugar"))
    wet = sum(part.mass_kg or 0.0 for part in recipe.of_role("fruit", "liquid", "acid"))
    back = fire.heat_up_min(
        wet + sugar,
        min(0.6, sugar / (wet + sugar) + 0.1),
        station,
        station.air.water_boils_k - (station.air.water_boils_k - ROOM_K) * 0.1,
    )
    minutes = hand.whole_min(DISSOLVE_MIN + back)
    return Step(
        id="pectin_in",
        verb=f"Pectin and sugar in, stir hard {DISSOLVE_MIN} min, back to the boil",
        end_sign=spread.FULL_BOIL,
        duration_min=minutes,
        spread=hand.spread_of(minutes),
        basis=spread.fire_basis(wet + sugar, station),
        attention_quarters=4,
        skill=Skill.PAN,
        burner_w=station.burner.power_w,
        in_pot=True,
        same_hands="pan",
        critical=True,
        caution="It foams up: a hand on the knob, do not leave the pot.",
    )
