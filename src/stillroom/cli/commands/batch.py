"""``stillroom batch``: from what there is to whole batches that a pot holds."""

from __future__ import annotations

from typing import Any

import click

from stillroom.cli.contracts import (
    cautions_as_json,
    expected_as_json,
    parts_as_json,
)
from stillroom.cli.options import air_of, as_json, elevation, print_json
from stillroom.cli.paragraphs import bullet, columns, heading, say
from stillroom.measures import writes_metric
from stillroom.methods.kitchen import Heat
from stillroom.methods.method import Part
from stillroom.methods.portions import quantity_words, weighs_beside
from stillroom.methods.step import Step
from stillroom.planning.which_batches.batch_words import (
    at_the_pot,
    burner_as_typed,
    cautions_of,
    gap_words,
    heat_words,
    how_many,
    kept_words,
    lot_as_typed,
    no_elevation,
    of_one_batch,
    outlook_words,
    pot_as_typed,
    pot_words,
    spoon_words,
    teaspoon_as_typed,
    until_words,
)
from stillroom.planning.which_batches.one_batch import (
    OneBatch,
    one_batch,
    small_kitchen,
)
from stillroom.refusal import Caution, Refusal, granted

SEA_LEVEL = "0 ft"
NO_ELEVATION = no_elevation("give --elevation")


@click.command(name="batch")
@click.argument("product")
@click.option(
    "--have",
    required=True,
    help='"11 cups", "6 bags of 5 cups"; or "14 lb", the weight of the fruit.',
)
@click.option("--pot", required=True, help="Volume of the pot to its brim: 12qt, 11L.")
@click.option("--burner", default="2.5kW", show_default=True, help="Power of the fire.")
@click.option(
    "--stove",
    type=click.Choice([heat.value for heat in Heat]),
    default=Heat.GAS.value,
    show_default=True,
    help="What the burner is; with --burner.",
)
@click.option(
    "--multiple",
    type=int,
    default=1,
    show_default=True,
    help="Your own multiple of the tested batch, in one pot.",
)
@click.option(
    "--jar",
    default="half-pint",
    show_default=True,
    help="Jar size that is reckoned in.",
)
@click.option(
    "--teaspoon",
    metavar="MASS",
    help="What a level teaspoon of your powdered pectin weighs: 3.1g.",
)
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
    teaspoon: str | None,
    elevation: str | None,
    json_: bool,
) -> None:
    """Turn what there is into batches that a pot holds."""
    air = air_of(SEA_LEVEL if elevation is None else elevation)
    kitchen = small_kitchen(
        pot_as_typed(pot, key="--pot"),
        burner_as_typed(burner, key="--burner"),
        Heat(stove),
        air,
        metric=writes_metric(have),
    )
    asked = granted(
        one_batch(
            product,
            lot_as_typed(have, key="--have"),
            kitchen,
            air,
            multiple=multiple,
            jar=jar,
            with_process=elevation is not None,
        )
    )
    spoon_kg = (
        None if teaspoon is None else teaspoon_as_typed(teaspoon, key="--teaspoon")
    )
    cautions = (
        *cautions_of(asked),
        *((NO_ELEVATION,) if elevation is None else ()),
    )
    if json_:
        print_json(batch_as_json(asked, cautions))
    else:
        _print(asked, cautions, spoon_kg)


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
        "taken_as": asked.taken or None,
        "ingredients": parts_as_json(fitted.recipe.parts),
        "expected": expected_as_json(fitted.expected, asked.jars),
        "pot": {
            "needed_l": round(checked.pot_needed_m3 * 1000, 2),
            "given_l": round(checked.pot_given_m3 * 1000, 2),
        },
        "back_to_boil_min": None if back is None else round(back, 1),
        "outlook": checked.outlook,
        "pot_steps": [
            {
                "verb": step.verb,
                "minutes": step.duration_min,
                "until": step.end_sign,
                "note": step.note,
            }
            for step in at_the_pot(asked)
        ],
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


def _print(
    asked: OneBatch, cautions: tuple[Caution, ...], spoon_kg: float | None
) -> None:
    procedure = asked.fitted.recipe.procedure
    say(f"{procedure.title}: {how_many(asked)}.")
    if asked.taken:
        say(f"{asked.taken}.")
    heading(of_one_batch(asked))
    columns(
        [
            (
                quantity_words(part),
                _grams(part),
                part.name + (f", {part.prep}" if part.prep else ""),
            )
            for part in asked.fitted.recipe.parts
        ]
    )
    if procedure.base_prep:
        say(f"To prepare: {procedure.base_prep}")
    say(f"Order: {procedure.order_of_adding}.")
    if until_words(procedure):
        say(f"Until: {until_words(procedure)}.")
    spoons = "" if spoon_kg is None else spoon_words(asked, spoon_kg)
    for words in (spoons, heat_words(asked)):
        if words:
            say(words)
    if pot_words(asked):
        say(f"Pot: {pot_words(asked)}.")
    say(outlook_words(asked))
    if kept_words(asked):
        say(kept_words(asked))
    steps = at_the_pot(asked)
    if steps:
        heading("At the pot, about")
        columns([(f"{step.duration_min} min", _step_words(step)) for step in steps])
        say(gap_words(asked))
    if asked.left:
        heading("Left over")
        say(f"{asked.left.text}: " + "; or ".join(asked.left.choices) + ".")
    heading("Cautions")
    for caution in cautions:
        bullet(f"{caution.text} ({caution.source})")
    say(f"From: {procedure.source} ({procedure.how_known.replace('_', ' ')}).")


def _grams(part: Part) -> str:
    """Whole grams, also above a kilogram; empty where the quantity says them."""
    weighs = weighs_beside(part)
    return f"{(part.mass_kg or 0.0) * 1000:.0f} g" if weighs else ""


def _step_words(step: Step) -> str:
    note = f" ({step.note})" if step.note else ""
    return f"{step.verb}{note}" + (f": {step.end_sign}" if step.end_sign else "")
