"""One batch as it is asked for and as it is said, at the terminal and on the page."""

from __future__ import annotations

import math
import re
from collections.abc import Callable
from fractions import Fraction
from typing import TypeVar

from stillroom import measures
from stillroom.book.canner_rules import canner_rules
from stillroom.book.procedures import Procedure
from stillroom.book.processes import Process, processes
from stillroom.capital import capital
from stillroom.in_a_list import all_of, any_of
from stillroom.jar_count import counted, jars_said
from stillroom.methods.every_part import naming_every_part
from stillroom.methods.kitchen import Burner, Pot
from stillroom.methods.method import Filling, Kept, Method
from stillroom.methods.own_shares import TIMED
from stillroom.methods.portions import quantity_words
from stillroom.methods.step import Step
from stillroom.planning.day import Lot
from stillroom.planning.which_batches.one_batch import OneBatch
from stillroom.refusal import (
    COMMON_PRACTICE,
    Caution,
    Fault,
    Refusal,
    Unreadable,
    given_as,
)

T = TypeVar("T")

POT_M3 = (2e-4, 0.2)
BURNER_W = (100.0, 20_000.0)
HAVE_M3 = (1e-5, 2.0)
HAVE_KG = (1e-3, 2_000.0)
"""What a domestic kitchen has: our own limits, against a slip of the unit."""
TEASPOON_KG = (1e-3, 7e-3)
"""A level teaspoon of powder: our own limits, round 5 mL of what is light or dense."""
OF_HALF_PINTS = ("half-pint-as-pint", "half-pint-acid")
"""Rules of the canner for half-pints of what is printed for pints."""
EVERY_BAND = "every published process is banded by elevation"


def no_elevation(how: str) -> Caution:
    """Return the word of warning where no elevation was given; ``how`` to give it."""
    return Caution(
        "no elevation was given: the pot is reckoned at sea level and no process is "
        f"shown; {how}",
        EVERY_BAND,
    )


def pot_as_typed(text: str, *, key: str) -> Pot:
    """Read a pot by its volume to the brim; a fault names ``key``."""
    volume_m3 = float(_read(measures.read_volume_m3, text, key))
    _within(volume_m3, text, POT_M3, key)
    return Pot(name=f"the {text} pot", volume_m3=volume_m3)


def burner_as_typed(text: str, *, key: str) -> Burner:
    """Read a fire by its power; a fault names ``key``."""
    power_w = float(_read(measures.read_power_w, text, key))
    _within(power_w, text, BURNER_W, key)
    return Burner(name=f"the {text} burner", power_w=power_w)


def lot_as_typed(have: str, *, key: str) -> Lot:
    """Read what there is, as a lot of the shelf; a fault names ``key``."""
    quantity = _read(measures.read_quantity, have, key)
    value: Fraction = quantity.value
    dimension = quantity.dimension
    if value <= 0 or dimension not in (
        measures.Dimension.VOLUME,
        measures.Dimension.MASS,
    ):
        raise Unreadable(
            Fault(
                f"{have!r} is no quantity of fruit or juice; give one such as "
                '"11 cups", "6 bags of 5 cups" or "14 lb"',
                key=key,
            )
        )
    wet = dimension is measures.Dimension.VOLUME
    _within(float(value), have, HAVE_M3 if wet else HAVE_KG, key)
    return Lot(
        name="what you have",
        what="what you have",
        volume_m3=float(value) if wet else None,
        mass_kg=None if wet else float(value),
        bags=quantity.bags,
        bag_m3=float(quantity.bag) if wet and quantity.bag else None,
        frozen=bool(quantity.bags),
        typed=have,
    )


def reckoned_words(low: float, high: float) -> str:
    """
    Say how many jars a batch is reckoned to give.

    >>> reckoned_words(7.6, 9.1), reckoned_words(6.98, 7.02)
    ('7.6 to 9.1 reckoned', '7.0 reckoned')
    """
    least, most = f"{low:.1f}", f"{high:.1f}"
    return f"{least} reckoned" if least == most else f"{least} to {most} reckoned"


def how_many(asked: OneBatch) -> str:
    """Say how many batches and jars, and what this rests on."""
    expected = asked.fitted.expected
    reckoned = reckoned_words(expected.low, expected.high)
    if expected.printed != "not printed":
        reckoned += f", printed {expected.printed}"
    number = counted(asked.batches, "batch")
    if asked.jars_worth is None and asked.batches == 1:
        jars = jars_said(asked.jars, asked.fitted.jar)
        return f"{number}, about {jars} ({reckoned})"
    if asked.jars_worth is None:
        return (
            f"{number}, each in its own pot, about {asked.jars} {asked.fitted.jar} "
            f"jars a batch ({reckoned})"
        )
    of_each = worth_words(asked.fitted.method, asked.fitted.recipe.multiple)
    each = "" if asked.batches == 1 else f" of at most {of_each}"
    return (
        f"{worth_words(asked.fitted.method, asked.jars_worth)} of the recipe, in "
        f"{number}{each}: {asked.fitted.jar} jars from the largest, {reckoned}"
    )


def worth_words(method: Method, units: int) -> str:
    """
    Say how much of a recipe that is for one jar, or for a pound as it is bought.

    >>> from stillroom.methods import dry, hot_pack
    >>> worth_words(hot_pack, 1), worth_words(hot_pack, 9), worth_words(dry, 9)
    ("1 jar's worth", "9 jars' worth", '9 lb')
    """
    one_is = getattr(method, "ONE_IS", "")
    if not one_is:
        return f"{units} {'jar' if units == 1 else 'jars'}'{'s' * (units == 1)} worth"
    return f"{units} lb" if one_is == "lb" else counted(units, one_is)


def of_one_batch(asked: OneBatch) -> str:
    """Return the heading over the ingredients."""
    return "One batch" if asked.jars_worth is None else "The largest batch"


def until_words(procedure: Procedure) -> str:
    """
    Say what ends the cooking, and the boil by the clock where pectin asks for one.

    >>> from stillroom.book.procedures import procedure_for
    >>> from stillroom.refusal import granted
    >>> until_words(granted(procedure_for("plum jelly")))
    'a full boil that stirring does not stop, then 1 min by the clock'
    """
    minutes = procedure.boil_min
    told = re.search(r"\d min", procedure.order_of_adding)
    if minutes is None or told or procedure.method not in TIMED:
        return procedure.boil_sign
    words = f"then {measures.minutes_said(minutes)} by the clock"
    return f"{procedure.boil_sign}, {words}"


def yield_unit_words(procedure: Procedure) -> str:
    """
    Say in what the printed yield is counted.

    >>> from stillroom.book.procedures import procedure_for
    >>> from stillroom.refusal import granted
    >>> yield_unit_words(granted(procedure_for("plum jelly, no added pectin")))
    'glasses of 6 oz'
    """
    glass = re.fullmatch(r"(\d+ oz) glass", procedure.yield_unit)
    one = procedure.printed_yield_low == procedure.printed_yield_high == 1
    if glass:
        return f"glasses of {glass[1]}"
    return procedure.yield_unit + ("" if one else "s")


def heat_words(asked: OneBatch) -> str:
    """Say how many jars are heated for one pot; empty for what is filled cold."""
    if asked.fitted.method.KEPT is not Kept.SHELF:
        return ""
    number = math.ceil(asked.fitted.expected.high - 1e-6)
    several = "s" if number > 1 else ""
    return (
        f"Have {number} {asked.fitted.jar} jar{several} hot for it and a smaller one "
        f"for the rest ({COMMON_PRACTICE})."
    )


def at_the_pot(asked: OneBatch) -> tuple[Step, ...]:
    """Return what is done at the pot, from lighting the fire to the clean pot."""
    fitted, process = asked.fitted, asked.process
    filling = Filling(
        jar=fitted.jar,
        jars=asked.jars,
        process=None if isinstance(process, Refusal) else process,
    )
    work = fitted.method.steps(fitted.recipe, fitted.station, filling)
    if isinstance(work, Refusal):
        return ()
    named = naming_every_part(fitted.recipe, work)
    return tuple(step for step in named.steps if step.in_pot)


def gap_words(asked: OneBatch) -> str:
    """Say how long one batch holds its pot; empty where nothing is cooked."""
    minutes = sum(step.duration_min for step in at_the_pot(asked))
    if not minutes:
        return ""
    said = f"One batch holds its pot about {minutes} min, the washing counted"
    if asked.batches == 1:
        return f"{said}."
    return f"{said}: so far apart do batches begin that share one pot."


def spoon_words(asked: OneBatch, teaspoon_kg: float) -> str:
    """
    Say a box of powder in the keeper's own level teaspoons; empty where none goes in.

    By mass alone: the spoons that a box is said to hold differ from page to page.
    """
    boxes = [
        part
        for part in asked.fitted.recipe.parts
        if part.role == "pectin" and part.unit == "package" and part.mass_kg
    ]
    if not boxes:
        return ""
    mass_kg = sum(part.mass_kg or 0.0 for part in boxes)
    quarters = round(mass_kg / teaspoon_kg * 4) / 4
    return (
        f"{quantity_words(boxes[0])} of {boxes[0].name} is {mass_kg * 1000:.0f} g: "
        f"{measures.mixed_number(quarters)} level tsp of yours at "
        f"{teaspoon_kg * 1000:.3g} g each. Weigh it where you can; powder of another "
        "kind does not stand in for it."
    )


def teaspoon_as_typed(text: str, *, key: str) -> float:
    """Read what a level teaspoon of powder weighs; a fault names ``key``. [kg]"""
    mass_kg = float(_read(measures.read_mass_kg, text, key))
    low, high = TEASPOON_KG
    if not low <= mass_kg <= high:
        what = f"{text} is not what a level teaspoon of powder weighs; check the unit"
        raise Unreadable(Fault(what, key=key))
    return mass_kg


def pot_words(asked: OneBatch) -> str:
    """Say what the pot must hold and what it holds; empty where no pot is needed."""
    checked = asked.fitted.checked
    if checked.pot_needed_m3 <= 0:
        return ""
    return (
        f"needs {checked.pot_needed_m3 * 1000:.1f} L, holds "
        f"{checked.pot_given_m3 * 1000:.1f} L"
    )


def outlook_words(asked: OneBatch) -> str:
    """Say what makes it set and what threatens it, as a sentence."""
    outlook = asked.fitted.checked.outlook
    return f"{capital(outlook)}."


def kept_words(asked: OneBatch) -> str:
    """Say the process of a batch, or where it keeps; empty where neither is known."""
    process = asked.process
    if isinstance(process, Refusal):
        return f"Process: none. {process}"
    if process is not None:
        return f"Process: {process_words(process)} ({process.source})."
    if asked.fitted.method.KEPT is not Kept.SHELF:
        return f"Kept: {asked.fitted.method.KEPT.value}; {_canned_after(asked)}."
    return ""


def cautions_of(asked: OneBatch) -> tuple[Caution, ...]:
    """What goes with a batch: of its pot, and of a jar that no table names."""
    given, process = asked.fitted.checked.cautions, asked.process
    if not isinstance(process, Process):
        return given
    rules = canner_rules()
    of_the_jar = [rules[rule].caution for rule in OF_HALF_PINTS]
    return (*given, *(one for one in process.cautions if one in of_the_jar))


def _canned_after(asked: OneBatch) -> str:
    """Say that what comes out of its crock may be canned, where a table is of it."""
    procedure = asked.fitted.recipe.procedure
    packs = sorted(
        {r.pack for r in processes() if r.published_as == procedure.process_product}
    )
    if not packs or procedure.keeping == "cold":
        return "it goes through no canner"
    return (
        f"or in {all_of(procedure.jars)} jars for the shelf when it is ready, by the "
        f"process published for it ({any_of(packs)} pack)"
    )


def process_words(process: Process) -> str:
    """Say a process: how long, where, and in which jars."""
    where = "in boiling water"
    if process.pressure_psi is not None:
        gauge = process.method.replace("-", " ")
        where = f"at {process.pressure_psi:g} psi ({gauge} canner)"
    return f"{process.minutes} min {where}, {process.jar} jars"


def _read(reader: Callable[[str], T], text: str, key: str) -> T:
    with given_as(key):
        return reader(text)


def _within(value: float, text: str, limits: tuple[float, float], key: str) -> None:
    low, high = limits
    if not low <= value <= high:
        raise Unreadable(
            Fault(f"{text} is not what a domestic kitchen has; check the unit", key=key)
        )
