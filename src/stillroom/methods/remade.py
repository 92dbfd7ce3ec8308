"""
A soft jelly cooked again, as a batch like any other.

The published quantities are for a quart of soft jelly, 4 to 6 cups at a time. Twenty
jars become so many even batches; the remade jars are new lots, under new lids.
"""

from __future__ import annotations

import math
from dataclasses import replace
from fractions import Fraction

from stillroom.book.jars import jar_volume_m3
from stillroom.book.procedure_table import Ingredient
from stillroom.book.procedures import Procedure
from stillroom.book.remake import MOST_CUPS, Remake, remake_for
from stillroom.jar_count import jars_said
from stillroom.methods import boiled_down, spread
from stillroom.methods import handling as hand
from stillroom.methods import jars as jar_work
from stillroom.methods import pot_and_fire as fire
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
from stillroom.methods.portions import said, uses
from stillroom.methods.scaling import at_multiple
from stillroom.methods.solids import JAM_SOLIDS, ROOM_K
from stillroom.methods.step import Link, Skill, Step
from stillroom.refusal import Caution, Refusal, Source, granted

NAME = "remade"
KEPT = Kept.SHELF
PER_JAR = False
PACK = "hot"
TROUBLES = ("soft-late", "soft-early")
SOFT_JELLY = "soft jelly"
JARS = ("half-pint", "pint")
"""Those that a process of remade jelly is printed for."""
ADDED = ("sugar", "liquid", "acid", "pectin")
JELLY_IN = "jelly_in"
STIR_IN_MIN = 1
"""Common practice, no source. [min]"""
JELLY_KG_PER_CUP = 0.31
"""At 65 % solids, 1,316 kg/m3: computed from the density of the syrup."""
EMPTY_MIN_PER_JAR = (1.0, 0.5)
"""Minutes to begin with and for each jar: common practice, no source."""


SPOONS = Caution(
    "the pectin goes by level spoons of your own tub: boxes hold 6 to 18 teaspoons by "
    "five different pages, so weigh one spoon once and go by the weight",
    "packets and leaflets that disagree; a box is 49 to 50 g",
)


def remade_procedure(pectin: str, cups: float = 4.0) -> Procedure | Refusal:
    """
    Return the published remake as a procedure for ``cups`` of soft jelly.

    Parameters
    ----------
    pectin : str
        ``powdered``, ``liquid`` or ``none``.
    cups : float
        Soft jelly in one batch, 1 (a trial) to 6. [cup]
    """
    row = remake_for(pectin, cups=cups)
    if isinstance(row, Refusal):
        return row
    share = Fraction(cups).limit_denominator(16) / Fraction(row.of_cups)
    added = {
        "powdered": "with powdered pectin",
        "liquid": "with liquid pectin",
        "none": "without added pectin",
    }[pectin]
    return Procedure(
        id=f"remade-{pectin}",
        name="remade jelly",
        title=f"Soft jelly cooked again, {added}",
        kind="jelly",
        method=NAME,
        fruit="",
        ingredients=tuple(_ingredients(row, share, cups)),
        printed_yield_low=None,
        printed_yield_high=None,
        yield_unit="half-pint",
        boil_min=row.boil_min[1] if row.boil_min else None,
        boil_sign=spread.FULL_BOIL,
        headspace_in=row.headspace_in,
        jars=JARS,
        process_product="jelly",
        base_prep="Open the jars; the old lids are done.",
        order_of_adding=row.steps,
        largest_batch_cups=MOST_CUPS,
        source=row.source.text,
        how_known=row.source.how_known,
        notes="",
        cautions=(),
    )


def _ingredients(row: Remake, share: Fraction, cups: float) -> list[Ingredient]:
    def part(
        name: str, quantity: Fraction, unit: str, kg: float | None, role: str
    ) -> Ingredient:
        return Ingredient(
            name=name,
            quantity=quantity,
            unit=unit,
            mass_kg=kg,
            mass_known="computed" if kg is not None else "",
            prep="bottled" if name == "lemon juice" else "",
            role=role,
            optional=False,
            note="",
        )

    base = Fraction(cups).limit_denominator(16)
    found = [part(SOFT_JELLY, base, "cup", cups * JELLY_KG_PER_CUP, "fruit")]
    sugar, water = Fraction(row.sugar_cups) * share, Fraction(row.water_cups) * share
    lemon = Fraction(row.lemon_tbsp) * share
    if sugar:
        found.append(part("sugar", sugar, "cup", float(sugar) * 0.2, "sugar"))
    if water:
        found.append(part("water", water, "cup", float(water) * 0.2366, "liquid"))
    if lemon:
        found.append(part("lemon juice", lemon, "tbsp", float(lemon) * 0.01525, "acid"))
    if row.powdered_pectin_tsp:
        found.append(
            part(
                "regular powdered pectin",
                Fraction(row.powdered_pectin_tsp) * share,
                "tsp",
                None,
                "pectin",
            )
        )
    if row.liquid_pectin_tbsp:
        found.append(
            part(
                "liquid pectin",
                Fraction(row.liquid_pectin_tbsp) * share,
                "tbsp",
                None,
                "pectin",
            )
        )
    return found


def scale(procedure: Procedure, multiple: int) -> Recipe | Refusal:
    """Return one batch of it; a soft jelly is never cooked again in a bigger one."""
    if multiple != 1:
        return Refusal(
            f"{multiple} batches of soft jelly in one pot would stay soft again",
            instead="cook 4 to 6 cups at a time",
            source=procedure.source,
        )
    return at_multiple(procedure, 1)


def materials(recipe: Recipe, jar: str, jars: int) -> tuple[Material, ...]:
    """Return what it uses up, by the cup; pectin by the spoon is not drawn."""
    soft = Material(name=recipe.base.name, volume_m3=recipe.base.volume_m3)
    return (soft, *uses(recipe)[1:], *jar_work.jar_materials(jar, jars))


def checks(recipe: Recipe, station: Station) -> Checked | Refusal:
    """Return what pot and fire make of the batch, or why they cannot hold it."""
    outlook = (
        "try one cup first; the remade jars are new lots under new lids; judge the set "
        "after 24 h"
    )
    made = spread.checked(recipe, station, None, outlook)
    if isinstance(made, Refusal) or not recipe.of_role("pectin"):
        return made
    return replace(made, cautions=(*made.cautions, SPOONS))


def expected_yield(recipe: Recipe, jar: str) -> Yield | Refusal:
    """Return the jars: what came out of jars goes in again, and a little water."""
    volume = jar_volume_m3(jar)
    if isinstance(volume, Refusal):
        return volume
    soft = (recipe.base.volume_m3 or 0.0) / volume
    whole = fire.dissolved_m3(recipe) / volume
    return Yield(
        jar=jar,
        likely=soft,
        low=soft * (1 - spread.HELD_BACK),
        high=whole,
        printed_low=None,
        printed_high=None,
        basis="the jars that were emptied; at most what was added comes on top",
        source=Source(recipe.procedure.source, "computed"),
    )


def steps(recipe: Recipe, station: Station, filling: Filling) -> Work | Refusal:
    """Return the steps of one batch, from opening jars to the clean pot."""
    opened = hand.for_count(EMPTY_MIN_PER_JAR, filling.jars)
    at_the_pan = _at_the_pan(recipe, station)
    them = "it" if filling.jars == 1 else "them"
    made = [
        *jar_work.before_filling(filling, station.air),
        Step(
            id="empty_jars",
            verb=f"Open {jars_said(filling.jars, 'soft')} and scrape {them} out",
            end_sign="measured in cups; old lids thrown away",
            duration_min=opened,
            spread=hand.spread_of(opened),
            basis=hand.BASIS,
            attention_quarters=3,
            skill=Skill.COLD,
        ),
        *at_the_pan,
    ]
    links = [
        *jar_work.jar_links(),
        Link(before="empty_jars", after=_takes_the_jelly(at_the_pan)),
        *spread.not_left(*(step.id for step in at_the_pan)),
    ]
    return spread.filled(made, links, recipe, filling)


def _at_the_pan(recipe: Recipe, station: Station) -> list[Step]:
    """Return the steps at the pan in the printed order, another with each pectin."""
    jelly, added = recipe.of_role("fruit"), recipe.of_role(*ADDED)
    both = (*jelly, *added)
    match recipe.procedure.id:
        case "remade-powdered":
            boiled = [
                _boil(
                    "to_boil",
                    "Bring all but the jelly to a boil",
                    added,
                    added,
                    station,
                ),
                _boil(JELLY_IN, "Jelly in, to a full boil", jelly, both, station),
                spread.hard_boil(recipe, station),
            ]
        case "remade-liquid":
            boiled = [
                _boil(
                    "to_boil", "Bring the jelly alone to a boil", jelly, jelly, station
                ),
                _off_the_heat(added),
                # the jelly is hot still: only what went in has to be warmed
                _boil("back_to_boil", "Back to a full boil", (), added, station),
                spread.hard_boil(recipe, station),
            ]
        case _:
            boiled = [
                _boil("to_boil", "Lemon juice in, to a boil", both, both, station),
                _boil_and_test(recipe, station),
            ]
    return [*boiled, spread.skim()]


def _takes_the_jelly(at_the_pan: list[Step]) -> str:
    """Return the step that the soft jelly goes in with."""
    return next((s.id for s in at_the_pan if s.id == JELLY_IN), at_the_pan[0].id)


def _boil(
    id: str,
    verb: str,
    goes_in: tuple[Part, ...],
    heated: tuple[Part, ...],
    station: Station,
) -> Step:
    """Bring what is heated from room temperature to a boil, stirring."""
    mass = sum(part.mass_kg or 0.0 for part in heated)
    minutes = hand.whole_min(fire.heat_up_min(mass, JAM_SOLIDS, station, ROOM_K))
    return Step(
        id=id,
        verb=f"{verb}, stirring",
        end_sign=spread.FULL_BOIL,
        duration_min=minutes,
        spread=hand.spread_of(minutes),
        basis=spread.fire_basis(mass, station),
        attention_quarters=2,
        skill=Skill.PAN,
        burner_w=station.burner.power_w,
        in_pot=True,
        same_hands="pan",
        caution="It foams up near the boil.",
        note=_named(goes_in),
    )


def _off_the_heat(added: tuple[Part, ...]) -> Step:
    return Step(
        id="pectin_in",
        verb="Off the fire, stir in what is added",
        end_sign="all of it stirred in",
        duration_min=STIR_IN_MIN,
        spread=hand.spread_of(STIR_IN_MIN),
        basis=hand.BASIS,
        attention_quarters=4,
        skill=Skill.PAN,
        in_pot=True,
        same_hands="pan",
        note=_named(added),
    )


def _boil_and_test(recipe: Recipe, station: Station) -> Step:
    """Boil as long as is printed; what ends it is the test and not the clock."""
    printed = granted(remake_for("none")).boil_min
    assert printed is not None  # of this one the table has minutes and a test
    return replace(
        spread.hard_boil(recipe, station),
        id="test",
        verb=f"Boil {printed[0]:g} to {printed[1]:g} min, then test it off the fire",
        end_sign=f"{boiled_down.stop_at(station)}, or two drops that run together and "
        "sheet off the spoon; if not yet, boil on",
    )


def _named(parts: tuple[Part, ...]) -> str:
    return " · ".join(map(said, parts))


def even_batches(cups: float) -> tuple[int, float]:
    """
    Split soft jelly into the fewest even batches of at most six cups.

    >>> even_batches(20.0)
    (4, 5.0)
    """
    number = max(1, math.ceil(cups / MOST_CUPS - 1e-9))
    return number, cups / number
