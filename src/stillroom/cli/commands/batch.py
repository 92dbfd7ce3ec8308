"""``stillroom batch``: from what there is to whole batches that a pot holds."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

import click

from stillroom import measures
from stillroom.book.processes import Process
from stillroom.cli.contracts import (
    cautions_as_json,
    expected_as_json,
    parts_as_json,
)
from stillroom.cli.options import air_of, as_json, elevation, print_json, read
from stillroom.cli.paragraphs import bullet, columns, heading, say
from stillroom.methods.kitchen import Burner, Heat, Pot
from stillroom.methods.method import Kept
from stillroom.methods.portions import quantity_words
from stillroom.planning.day import Lot
from stillroom.planning.one_batch import OneBatch, one_batch, small_kitchen
from stillroom.refusal import Caution, Fault, Refusal, Unreadable, granted

SEA_LEVEL = "0 ft"
NO_ELEVATION = Caution(
    "no elevation was given: the pot is reckoned at sea level and no process is shown; "
    "give --elevation",
    "every published process is banded by elevation",
)


@click.command(name="batch")
@click.argument("product")
@click.option("--have", required=True, help='"11 cups", "6 bags of 5 cups", "14 lb".')
@click.option("--pot", required=True, help="Volume of the pot to its brim: 12qt, 11L.")
@click.option("--burner", default="2.5kW", show_default=True, help="Power of the fire.")
@click.option(
    "--stove",
    type=click.Choice([heat.value for heat in Heat]),
    default=Heat.GAS.value,
    show_default=True,
)
@click.option(
    "--multiple",
    type=int,
    default=1,
    show_default=True,
    help="Your own multiple of the tested batch, in one pot.",
)
@click.option("--jar", default="half-pint", show_default=True)
@elevation
@as_json
def command(
    product: str,
    have: str,
    pot: str,
    burner: str,
    stove: str,
    multiple: int,
    jar: str,
    elevation: str | None,
    json_: bool,
) -> None:
    """Turn what there is into batches that a pot holds."""
    air = air_of(SEA_LEVEL if elevation is None else elevation)
    pot_m3 = _within(
        "--pot", read("--pot", measures.read_volume_m3, pot), pot, 2e-4, 0.2
    )
    watt = _within(
        "--burner",
        read("--burner", measures.read_power_w, burner),
        burner,
        100.0,
        20_000.0,
    )
    kitchen = small_kitchen(
        Pot(name=f"the {pot} pot", volume_m3=pot_m3),
        Burner(name=f"the {burner} burner", power_w=watt),
        Heat(stove),
        air,
    )
    asked = granted(
        one_batch(
            product,
            _lot(have),
            kitchen,
            air,
            multiple=multiple,
            jar=jar,
            with_process=elevation is not None,
        )
    )
    cautions = (
        *asked.fitted.checked.cautions,
        *((NO_ELEVATION,) if elevation is None else ()),
    )
    if json_:
        print_json(batch_as_json(asked, cautions))
    else:
        _print(asked, cautions)


def _within(option: str, value: Any, text: str, low: float, high: float) -> float:
    if not low <= value <= high:
        raise Unreadable(
            Fault(
                f"{text} is not what a domestic kitchen has; check the unit", key=option
            )
        )
    return float(value)


def _lot(have: str) -> Lot:
    """What there is, as a lot of the shelf."""
    quantity = read("--have", measures.read_quantity, have)
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
                key="--have",
            )
        )
    wet = dimension is measures.Dimension.VOLUME
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


def batch_as_json(asked: OneBatch, cautions: tuple[Caution, ...]) -> dict[str, Any]:
    """Return the contract of ``batch --json``."""
    fitted = asked.fitted
    checked = fitted.checked
    back = checked.back_to_boil_min
    process = asked.process
    return {
        "product": fitted.product,
        "multiple": fitted.recipe.multiple,
        "batches": asked.batches,
        "ingredients": parts_as_json(fitted.recipe.parts),
        "expected": expected_as_json(fitted.expected, asked.jars),
        "pot": {
            "needed_l": round(checked.pot_needed_m3 * 1000, 2),
            "given_l": round(checked.pot_given_m3 * 1000, 2),
        },
        "back_to_boil_min": None if back is None else round(back, 1),
        "outlook": checked.outlook,
        "process_min": (
            None if process is None or isinstance(process, Refusal) else process.minutes
        ),
        "left": (
            {"text": asked.left.text, "choices": list(asked.left.choices)}
            if asked.left
            else None
        ),
        "cautions": cautions_as_json(cautions),
        "source": fitted.recipe.procedure.source,
    }


def _print(asked: OneBatch, cautions: tuple[Caution, ...]) -> None:
    fitted, checked = asked.fitted, asked.fitted.checked
    procedure = fitted.recipe.procedure
    say(f"{procedure.title}: {_how_many(asked)}.")
    heading("One batch" if asked.jars_worth is None else "The largest batch")
    columns(
        [
            (
                quantity_words(part),
                "" if part.mass_kg is None else f"{part.mass_kg * 1000:.0f} g",
                part.name + (f", {part.prep}" if part.prep else ""),
            )
            for part in fitted.recipe.parts
        ]
    )
    say(f"Order: {procedure.order_of_adding}.")
    if checked.pot_needed_m3 > 0:
        say(
            f"Pot: needs {checked.pot_needed_m3 * 1000:.1f} L, holds "
            f"{checked.pot_given_m3 * 1000:.1f} L."
        )
    say(f"{checked.outlook[:1].upper()}{checked.outlook[1:]}.")
    if isinstance(asked.process, Refusal):
        say(f"Process: none. {asked.process}")
    elif asked.process is not None:
        process = asked.process
        say(
            f"Process: {process.minutes} min {_where(process)}, {process.jar} jars "
            f"({process.source})."
        )
    elif fitted.method.KEPT is not Kept.SHELF:
        say(f"Kept: {fitted.method.KEPT.value}; it goes through no canner.")
    if asked.left:
        heading("Left over")
        say(f"{asked.left.text}: " + "; or ".join(asked.left.choices) + ".")
    heading("Cautions")
    for caution in cautions:
        bullet(f"{caution.text} ({caution.source})")
    say(f"From: {procedure.source} ({procedure.how_known.replace('_', ' ')}).")


def _how_many(asked: OneBatch) -> str:
    """Say how many batches and jars, and what this rests on."""
    expected = asked.fitted.expected
    reckoned = f"{expected.low:.1f} to {expected.high:.1f} reckoned"
    if expected.printed != "not printed":
        reckoned += f", printed {expected.printed}"
    number = "1 batch" if asked.batches == 1 else f"{asked.batches} batches"
    if asked.jars_worth is None:
        return (
            f"{number}, each in its own pot, about {asked.jars} {asked.fitted.jar} "
            f"jars a batch ({reckoned})"
        )
    of_each = asked.fitted.recipe.multiple
    each = "" if asked.batches == 1 else f" of at most {of_each} jars' worth"
    return (
        f"{asked.jars_worth} jars' worth of the recipe, in {number}{each}: "
        f"{asked.fitted.jar} jars from the largest, {reckoned}"
    )


def _where(process: Process) -> str:
    if process.pressure_psi is None:
        return "in boiling water"
    gauge = process.method.replace("-", " ")
    return f"at {process.pressure_psi:g} psi ({gauge} canner)"
