"""
Jelly and jam with added powdered pectin.

Pectin goes into the cold juice; a full boil; all the sugar at once; back to a full
boil; a minute by the clock; skim; fill. The return to the boil and the minute after it
cannot be left.
"""

from __future__ import annotations

from stillroom.book.procedures import Procedure
from stillroom.methods import handling as hand
from stillroom.methods import jars as jar_work
from stillroom.methods import pot_and_fire as fire
from stillroom.methods import spread
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
from stillroom.methods.portions import sum_words, uses
from stillroom.methods.scaling import at_multiple
from stillroom.methods.solids import mix_solids
from stillroom.methods.step import Link, Skill, Step
from stillroom.refusal import Refusal

NAME = "with_pectin"
KEPT = Kept.SHELF
PER_JAR = False
PACK = "hot"


def scale(procedure: Procedure, multiple: int) -> Recipe | Refusal:
    """Return the procedure at a whole multiple of its tested batch."""
    return at_multiple(procedure, multiple)


def materials(recipe: Recipe, jar: str, jars: int) -> tuple[Material, ...]:
    """Return what it uses up: its parts, whole boxes of pectin, jars, lids."""
    return (*uses(recipe), *jar_work.jar_materials(jar, jars))


def checks(recipe: Recipe, station: Station) -> Checked | Refusal:
    """Return what pot and fire make of the batch, or why they cannot hold it."""
    room = spread.fits(recipe, station)
    if isinstance(room, Refusal):
        return room
    back = fire.back_to_boil_min(recipe, station)
    if isinstance(back, Refusal):
        return back
    return spread.checked(recipe, station, back, _outlook(recipe, back))


def _outlook(recipe: Recipe, back: float) -> str:
    """When it boils again, when it sets, and what threatens the set."""
    return (
        f"boils back in about {back:.0f} min; {spread.sets(recipe)}; "
        f"{spread.risk(recipe, back)}"
    )


def expected_yield(recipe: Recipe, jar: str) -> Yield | Refusal:
    """Return how many jars it fills, from the balance of soluble solids."""
    return spread.timed_yield(recipe, jar)


def steps(recipe: Recipe, station: Station, filling: Filling) -> Work | Refusal:
    """Return the steps of one batch, from washing jars to the clean pot."""
    back = fire.back_to_boil_min(recipe, station)
    if isinstance(back, Refusal):
        return back
    made, links = spread.begun(recipe, station, filling)
    made += [
        spread.measure_sugar(recipe),
        spread.to_boil(
            recipe,
            station,
            ("fruit", "liquid", "acid"),
            "Stir in the pectin, bring to a full boil",
        ),
        _sugar_in(recipe, station, back),
        spread.hard_boil(recipe, station),
        spread.skim(),
    ]
    links += [
        Link(before="measure_sugar", after="sugar_in"),
        *spread.not_left("to_boil", "sugar_in", "hard_boil", "skim"),
    ]
    return spread.filled(made, links, recipe, filling)


def _sugar_in(recipe: Recipe, station: Station, back: float) -> Step:
    total, _ = mix_solids(recipe)
    minutes = hand.whole_min(back)
    return Step(
        id="sugar_in",
        verb="Sugar in all at once, back to a full boil",
        end_sign=spread.FULL_BOIL,
        duration_min=minutes,
        spread=hand.spread_of(minutes),
        basis=spread.fire_basis(total, station),
        attention_quarters=4,
        skill=Skill.PAN,
        burner_w=station.burner.power_w,
        in_pot=True,
        same_hands="pan",
        critical=True,
        caution="It foams up: a hand on the knob, do not leave the pot.",
        note=f"{sum_words(recipe.of_role('sugar'))} sugar",
    )
