"""
Jelly and jam with added liquid pectin.

Juice and sugar come to a full boil together; the pectin goes in at the boil; back to a
full boil, and the published minute by the clock. Powder and liquid are not exchanged:
their order of adding is not the same. Jams and a few jellies are boiled first, by the
clock, and take their pectin off the heat: nothing is boiled after it.
"""

from __future__ import annotations

from dataclasses import replace

from stillroom.book.procedures import Procedure
from stillroom.measures import minutes_said
from stillroom.methods import handling as hand
from stillroom.methods import jars as jar_work
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
from stillroom.methods.portions import said, uses
from stillroom.methods.scaling import at_multiple
from stillroom.methods.step import Link, Skill, Step
from stillroom.refusal import Refusal

NAME = "liquid_pectin"
KEPT = Kept.SHELF
PER_JAR = False
PACK = "hot"
PECTIN_RETURN_MIN = 1
"""A pouch cools the pot little: about a minute, common practice, no source."""


def scale(procedure: Procedure, multiple: int) -> Recipe | Refusal:
    """Return the procedure at a whole multiple of its tested batch."""
    return at_multiple(procedure, multiple)


def materials(recipe: Recipe, jar: str, jars: int) -> tuple[Material, ...]:
    """Return what it uses up: its parts, whole pouches of pectin, jars, lids."""
    return (*uses(recipe), *jar_work.jar_materials(jar, jars))


def checks(recipe: Recipe, station: Station) -> Checked | Refusal:
    """Return what pot and fire make of the batch, or why they cannot hold it."""
    room = spread.fits(recipe, station)
    if isinstance(room, Refusal):
        return room
    outlook = (
        "comes to the boil with all its sugar in: it foams; "
        f"{spread.sets(recipe)}; {spread.risk(recipe)}"
    )
    return spread.checked(recipe, station, None, outlook)


def expected_yield(recipe: Recipe, jar: str) -> Yield | Refusal:
    """Return how many jars it fills, from the balance of soluble solids."""
    return spread.timed_yield(recipe, jar)


def steps(recipe: Recipe, station: Station, filling: Filling) -> Work | Refusal:
    """Return the steps of one batch, from washing jars to the clean pot."""
    made, links = spread.begun(recipe, station, filling)
    late = base_goes_in_last(recipe.procedure)
    what = "Water" if late else "Juice" if recipe.from_juice else "Fruit"
    at_the_pan = [
        spread.to_boil(
            recipe,
            station,
            ("liquid", "sugar") if late else ("fruit", "liquid", "acid", "sugar"),
            f"{what} and sugar to a full boil, stirring",
        )
    ]
    if takes_pectin_off_the_heat(recipe.procedure):
        at_the_pan += [_boil(recipe, station), _pectin_off_the_heat(recipe, late)]
    else:
        at_the_pan += [_pectin_in(recipe, station), spread.hard_boil(recipe, station)]
    at_the_pan.append(_skim(recipe))
    made += [spread.measure_sugar(recipe), *at_the_pan]
    links += [
        Link(before="measure_sugar", after="to_boil"),
        *spread.not_left(*(step.id for step in at_the_pan)),
    ]
    return spread.filled(made, links, recipe, filling)


def takes_pectin_off_the_heat(procedure: Procedure) -> bool:
    """
    Tell whether the printed minutes are a slow boil before the pectin.

    >>> from stillroom.book.procedures import procedures
    >>> [p.fruit for p in procedures() if takes_pectin_off_the_heat(p)]
    ['grape', '', 'strawberry', 'fig', 'pear']
    """
    return "off the heat the liquid pectin" in procedure.order_of_adding


def base_goes_in_last(procedure: Procedure) -> bool:
    """Tell whether the fruit itself is stirred in after the pectin: a concentrate."""
    return procedure.order_of_adding.endswith("then the concentrate")


def _skim(recipe: Recipe) -> Step:
    """Off the fire, skim; leaves that gave their taste are strained out, as printed."""
    skim = spread.skim()
    if not recipe.procedure.order_of_adding.endswith("; strain"):
        return skim
    leaves, *_ = recipe.of_role("fruit")
    return replace(
        skim,
        verb=f"{skim.verb}, and strain out the {leaves.name}",
        end_sign="no foam, and clear",
    )


def _boil(recipe: Recipe, station: Station) -> Step:
    """The printed minutes before the pectin: hard for a jam, slow for peppers."""
    if "slowly" not in recipe.procedure.order_of_adding:
        return spread.hard_boil(recipe, station)
    printed = spread.printed_boil_min(recipe)
    said = minutes_said(printed)
    return Step(
        id="slow_boil",
        verb=f"Boil slowly {said} by the clock",
        end_sign=f"{said} from the boil, stirring often",
        duration_min=hand.whole_min(printed),
        basis=recipe.procedure.source,
        attention_quarters=3,
        skill=Skill.PAN,
        burner_w=station.burner.power_w,
        in_pot=True,
        same_hands="pan",
        caution="Hot peppers sting: keep your face out of the steam.",
    )


def _pectin_off_the_heat(recipe: Recipe, late: bool) -> Step:
    parts = recipe.of_role("pectin", "fruit") if late else recipe.of_role("pectin")
    return Step(
        id="pectin_in",
        verb="Off the fire, stir in the liquid pectin"
        + (", then the concentrate" if late else ""),
        end_sign="all of it stirred in",
        duration_min=PECTIN_RETURN_MIN,
        spread=hand.spread_of(PECTIN_RETURN_MIN),
        basis=hand.BASIS,
        attention_quarters=4,
        skill=Skill.PAN,
        in_pot=True,
        same_hands="pan",
        note=" · ".join(map(said, parts)),
    )


def _pectin_in(recipe: Recipe, station: Station) -> Step:
    pectin = recipe.of_role("pectin")
    return Step(
        id="pectin_in",
        verb="Stir in the liquid pectin, back to a full boil",
        end_sign=spread.FULL_BOIL,
        duration_min=PECTIN_RETURN_MIN,
        spread=hand.spread_of(PECTIN_RETURN_MIN, high=3.0),
        basis=hand.BASIS,
        attention_quarters=4,
        skill=Skill.PAN,
        burner_w=station.burner.power_w,
        in_pot=True,
        same_hands="pan",
        critical=True,
        caution="It foams up: a hand on the knob, do not leave the pot.",
        note=" · ".join(map(said, pectin)),
    )
