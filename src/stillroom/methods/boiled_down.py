"""
Jelly and jam boiled down without added pectin, to the jellying point.

Fruit and sugar go in together and are boiled fast to 8 °F above the boil of water, on
the keeper's own thermometer, with the sheet test beside it. What it takes is the water
that has to leave: the solids are conserved.
"""

from __future__ import annotations

import re

from stillroom.book.procedures import Procedure
from stillroom.measures import both
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
from stillroom.methods.portions import uses
from stillroom.methods.scaling import at_multiple
from stillroom.methods.solids import JAM_SOLIDS, mix_solids, not_reckoned
from stillroom.methods.step import Link, Skill, Step
from stillroom.methods.thermometer import SHEET_TEST_BEFORE_K
from stillroom.refusal import Refusal
from stillroom.science import kettle
from stillroom.science.ranges import OutOfRange

NAME = "boiled_down"
KEPT = Kept.SHELF
PER_JAR = False
PACK = "hot"
SOLIDS_SPREAD = 0.03
"""A thermometer good to 0.5 K leaves the solids open by about so much. [1]"""
LONGEST_MIN = 120.0
RISE_F = 8
"""Above boiling water, where a recipe prints no other rise. [°F]"""
_RISE = re.compile(r"([0-9]{1,2}) °F .*above the boil of water")
_ABOUT = re.compile(r"\babout ([0-9]+) min$")
_SKINS = "; the skins"


def scale(procedure: Procedure, multiple: int) -> Recipe | Refusal:
    """Return the procedure at a whole multiple of its tested batch."""
    return at_multiple(procedure, multiple)


def materials(recipe: Recipe, jar: str, jars: int) -> tuple[Material, ...]:
    """Return what it uses up: its parts, jars, lids."""
    return (*uses(recipe), *jar_work.jar_materials(jar, jars))


def checks(recipe: Recipe, station: Station) -> Checked | Refusal:
    """Return what pot and fire make of the batch, or why they cannot hold it."""
    room = spread.fits(recipe, station)
    if isinstance(room, Refusal):
        return room
    minutes = boil_down_min(recipe, station)
    if isinstance(minutes, Refusal):
        return minutes
    outlook = (
        f"about {minutes:.0f} min from the boil to the jellying point, "
        f"{both(_done_k(station, rise_f(recipe)), 0)} here today; let it "
        f"stand a full day before you judge it; {spread.risk(recipe)}"
    )
    return spread.checked(recipe, station, None, outlook)


def boil_down_min(recipe: Recipe, station: Station) -> float | Refusal:
    """
    Minutes of fast boiling from the first boil to 65 % soluble solids.

    Where the balance lacks a part, no less than the recipe prints.
    """
    total, solids = mix_solids(recipe)
    try:
        seconds = kettle.boil_down_s(
            total,
            solids,
            max(JAM_SOLIDS, solids),
            fire.latent_heat_here(station),
            station.burner.power_w,
            station.efficiency,
            fire.POT_LOSS_W,
        )
    except OutOfRange:
        seconds = float("inf")
    minutes = float(seconds) / 60.0
    if minutes > LONGEST_MIN:
        return Refusal(
            f"{station.burner.name} is too weak to boil it down within two hours",
            instead="use a stronger burner, or make one tested batch at a time",
            source=fire.RETURN_SOURCE,
        )
    printed = _ABOUT.search(recipe.procedure.boil_sign)
    if printed and not_reckoned(recipe):  # whole fruit: its water is not in the balance
        return max(minutes, float(printed[1]))
    return minutes


def expected_yield(recipe: Recipe, jar: str) -> Yield | Refusal:
    """Return how many jars it fills; the printed yields of this kind run too high."""
    return spread.boiled_yield(recipe, jar, SOLIDS_SPREAD)


def steps(recipe: Recipe, station: Station, filling: Filling) -> Work | Refusal:
    """Return the steps of one batch, from washing jars to the clean pot."""
    minutes = boil_down_min(recipe, station)
    if isinstance(minutes, Refusal):
        return minutes
    made, links = spread.begun(recipe, station, filling)
    made += [
        spread.measure_sugar(recipe),
        spread.to_boil(
            recipe,
            station,
            ("fruit", "liquid", "acid", "sugar"),
            "Stir in the sugar, bring to a full boil",
        ),
        *_boil_down(recipe, station, minutes),
        spread.skim(),
    ]
    links += [
        Link(before="measure_sugar", after="to_boil"),
        *spread.not_left("to_boil", "boil_fast", "test", "skim"),
    ]
    return spread.filled(made, links, recipe, filling)


def rise_f(recipe: Recipe) -> int:
    """Return how far above boiling water a recipe is done, as it prints it. [°F]"""
    printed = _RISE.match(recipe.procedure.boil_sign)
    return int(printed[1]) if printed else RISE_F


def stop_at(station: Station, rise: int = RISE_F) -> str:
    """Where to stop, on her own thermometer where its boil is known."""
    done_k = _done_k(station, rise)
    own = station.air.thermometer
    if own is None:
        over = f"{rise} °F ({rise / 1.8:.1f} °C) over your thermometer's boil today"
        return f"{over}, near {both(done_k, 0)}"
    reads_k = float(own.line.reading_k(done_k))
    return (
        f"{both(reads_k)} on your thermometer, the sheet test asked from "
        f"{both(reads_k - SHEET_TEST_BEFORE_K, 0)} on"
    )


def _done_k(station: Station, rise: int) -> float:
    return station.air.jelly_point_k + (rise - RISE_F) / 1.8


def _boil_down(recipe: Recipe, station: Station, minutes: float) -> tuple[Step, Step]:
    whole = hand.whole_min(minutes)
    last = min(max(2, round(whole * 0.25)), 6)
    total, _ = mix_solids(recipe)
    basis = spread.fire_basis(total, station)
    first = max(1, whole - last)
    skins = _SKINS in recipe.procedure.order_of_adding
    return (
        Step(
            id="boil_fast",
            verb="Boil fast, stirring",
            end_sign="it climbs and the bubbles grow heavy",
            duration_min=first,
            spread=hand.spread_of(first),
            basis=basis,
            attention_quarters=2,
            skill=Skill.PAN,
            burner_w=station.burner.power_w,
            in_pot=True,
            same_hands="pan",
            caution="It foams up: a hand on the knob.",
            note="stir in the skins about 10 min before it is done" if skins else "",
        ),
        Step(
            id="test",
            verb="Boil on and test for the set",
            end_sign=f"{stop_at(station, rise_f(recipe))}, or two drops that run "
            "together and sheet off the spoon",
            duration_min=last,
            spread=hand.spread_of(last, high=2.0),
            basis=basis,
            attention_quarters=4,
            skill=Skill.PAN,
            burner_w=station.burner.power_w,
            in_pot=True,
            same_hands="pan",
            critical=True,
            caution="Off the fire while you test. Do not leave the pot.",
        ),
    )
