"""
Berry syrup: juice of crushed fruit and sugar, simmered a minute and processed.

It is to stay thin: nothing is tested for a set. Its jars have published times of their
own.
"""

from __future__ import annotations

from stillroom.book.jars import jar_volume_m3
from stillroom.book.procedures import Procedure
from stillroom.measures import CUP_M3
from stillroom.methods import crushing, spread
from stillroom.methods import handling as hand
from stillroom.methods import jars as jar_work
from stillroom.methods import pot_and_fire as fire
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
from stillroom.refusal import Refusal, Source
from stillroom.science import kettle

NAME = "syrup"
KEPT = Kept.SHELF
PER_JAR = False
PACK = "hot"
TROUBLES = ("crystals", "bubbles", "mould", "unsealed-day", "unsealed-late")
"""Rows of the table of troubles that belong to it."""

JUICE_PER_BERRIES = (4.5 / 6.5, 5.0 / 6.5)
"""Strained juice from crushed berries, by volume: the printed berry syrup gets 4 1/2 to
5 cups of juice from 6 1/2 cups. [1]"""
JUICE_KG_PER_M3 = 1_045.0
"""As apple juice by the cup. [kg/m3]"""
SIMMER_SOFT_MIN = 10
"""5 to 10 min are printed; the day is planned with the longer."""
STRAIN_MIN = 30
"""Hot through a bag: common practice, no source."""
SIMMER = "a simmer: bubbles that break slowly"


def scale(procedure: Procedure, multiple: int) -> Recipe | Refusal:
    """Return the procedure at a whole multiple of its tested batch."""
    return at_multiple(procedure, multiple)


def materials(recipe: Recipe, jar: str, jars: int) -> tuple[Material, ...]:
    """Return fruit and sugar, jars, lids."""
    return (*uses(recipe), *jar_work.jar_materials(jar, jars))


def juice_m3(recipe: Recipe) -> tuple[float, float]:
    """Least and most juice that the printed recipe strains from its fruit. [m3]"""
    fruit = recipe.base.volume_m3 or 0.0
    low, high = JUICE_PER_BERRIES
    return fruit * low, fruit * high


def syrup_m3(recipe: Recipe) -> tuple[float, float]:
    """Least and most syrup: juice, and the sugar dissolved in it. [m3]"""
    sugar = _sugar_kg(recipe)
    low, high = juice_m3(recipe)
    return (
        float(kettle.dissolved_volume_m3(low, sugar)),
        float(kettle.dissolved_volume_m3(high, sugar)),
    )


def _sugar_kg(recipe: Recipe) -> float:
    return sum(part.mass_kg or 0.0 for part in recipe.of_role("sugar"))


def checks(recipe: Recipe, station: Station) -> Checked | Refusal:
    """Return whether the pot holds it when it foams."""
    if (metal := fire.reacts(station.pot)) is not None:
        return metal
    volume = syrup_m3(recipe)[1]
    needed = fire.POT_TIMES * volume
    what = fire.batch_words(recipe)
    small = fire.holds(needed, station.pot, what, source=fire.POT_SOURCE)
    if small is not None:
        return small
    return Checked(
        dissolved_m3=volume,
        pot_needed_m3=needed,
        pot_given_m3=station.pot.volume_m3,
        back_to_boil_min=None,
        outlook="simmers a minute and is filled; it stays thin, nothing has to set",
        cautions=(*recipe.cautions, *fire.metal_cautions(station.pot)),
    )


def expected_yield(recipe: Recipe, jar: str) -> Yield | Refusal:
    """Return how many jars it fills, by the volume of juice and dissolved sugar."""
    volume = jar_volume_m3(jar)
    if isinstance(volume, Refusal):
        return volume
    low, high = (filled / volume for filled in syrup_m3(recipe))
    printed = printed_in(recipe, volume)
    basis = (
        f"volume: {juice_m3(recipe)[0] / float(CUP_M3):.1f} to "
        f"{juice_m3(recipe)[1] / float(CUP_M3):.1f} cups of juice and the sugar "
        "dissolved in it"
    )
    if printed and printed[0] > high:
        basis += "; the printed yield is more than that"
    return Yield(
        jar=jar,
        likely=(low + high) / 2,
        low=low * (1 - spread.HELD_BACK),
        high=high,
        printed_low=printed[0] if printed else None,
        printed_high=printed[1] if printed else None,
        basis=basis,
        source=Source(
            f"volume of juice and sugar; printed yield: {recipe.procedure.source}",
            "computed",
        ),
    )


def steps(recipe: Recipe, station: Station, filling: Filling) -> Work | Refusal:
    """Return the steps of one batch, from crushing to the clean pot."""
    made = [
        *jar_work.before_filling(filling, station.air),
        crushing.crush(recipe),
        _soften(recipe, station),
        _strain(),
        spread.measure_sugar(recipe),
        _simmer(recipe, station),
        spread.skim(),
        *jar_work.fill_and_close(filling, recipe.procedure.headspace_in),
        jar_work.wash_pot(),
    ]
    return Work(
        steps=tuple(made),
        links=(
            *jar_work.jar_links(),
            Link(before="crush", after="soften", at_most_min=60),
            Link(before="soften", after="strain", at_most_min=15),
            Link(before="strain", after="simmer", at_most_min=240, why="juice sours"),
            Link(before="measure_sugar", after="simmer"),
            Link(
                before="simmer", after="skim", at_most_min=0, why="it would foam over"
            ),
            Link(before="skim", after="fill", at_most_min=10, why="filled hot"),
        ),
        ready_after="wipe_and_lid",
        closed_wait_at_most_min=hand.CLOSED_WAIT_MIN,
    )


def _soften(recipe: Recipe, station: Station) -> Step:
    mass = recipe.base.mass_kg or 0.0
    minutes = hand.whole_min(
        fire.heat_up_min(mass, 0.12, station, ROOM_K) + SIMMER_SOFT_MIN
    )
    return Step(
        id="soften",
        verb=f"Bring the crushed fruit to the boil, simmer {SIMMER_SOFT_MIN} min",
        end_sign="soft, and the juice runs",
        duration_min=minutes,
        spread=hand.spread_of(minutes),
        basis=f"{spread.fire_basis(mass, station)}; {recipe.procedure.source}",
        attention_quarters=2,
        skill=Skill.PAN,
        burner_w=station.burner.power_w,
        in_pot=True,
        note="5 to 10 min are printed",
    )


def _strain() -> Step:
    return Step(
        id="strain",
        verb="Strain it hot through a bag",
        end_sign="no more drops; measure the juice",
        duration_min=STRAIN_MIN,
        spread=hand.spread_of(STRAIN_MIN),
        basis=hand.BASIS,
        attention_quarters=1,
        skill=Skill.PAN,
        in_pot=True,
        caution="Hot juice: a bag over a deep pot, not over an arm.",
        note="discard the dry pulp",
    )


def _simmer(recipe: Recipe, station: Station) -> Step:
    sugar = _sugar_kg(recipe)
    juice = sum(juice_m3(recipe)) / 2 * JUICE_KG_PER_M3
    mass = juice + sugar
    solids = (0.1 * juice + sugar) / mass
    printed = spread.printed_boil_min(recipe)
    minutes = hand.whole_min(fire.heat_up_min(mass, solids, station, ROOM_K) + printed)
    return Step(
        id="simmer",
        verb=f"Sugar into the juice; simmer {printed:g} min",
        end_sign=f"{SIMMER}, {printed:g} min by the clock",
        duration_min=minutes,
        spread=hand.spread_of(minutes),
        basis=f"{spread.fire_basis(mass, station)}; {recipe.procedure.source}",
        attention_quarters=3,
        skill=Skill.PAN,
        burner_w=station.burner.power_w,
        in_pot=True,
        same_hands="pan",
        critical=True,
        caution="It foams up: do not leave the pot.",
    )
