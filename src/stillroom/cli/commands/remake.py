"""``stillroom remake``: a soft jelly, when to wait and what the remake takes."""

from __future__ import annotations

import datetime as dt
from typing import Any

import click

from stillroom.book.jars import clean_jars_words
from stillroom.book.names import JELLY_TABLE
from stillroom.book.procedures import Procedure
from stillroom.book.processes import process_for
from stillroom.cli.booking import now as kitchen_clock
from stillroom.cli.options import (
    Moment,
    WholeNumber,
    air_of,
    as_json,
    elevation,
    print_json,
)
from stillroom.cli.paragraphs import columns, heading, say
from stillroom.measures import writes_metric
from stillroom.methods.soft_jelly import (
    MOST_SOFT_JARS,
    Looks,
    Remaking,
    SoftJelly,
    soft_cups,
    soft_jelly,
)
from stillroom.methods.soft_jelly_words import (
    boil_words,
    jars_words,
    remade_parts,
    remake_words,
    whole_words,
)
from stillroom.planning.which_batches.batch_words import teaspoon_as_typed
from stillroom.refusal import granted


@click.command(name="remake")
@click.option(
    "--jars", type=WholeNumber(1, MOST_SOFT_JARS), required=True, help="Soft jars."
)
@click.option(
    "--jar", default="half-pint", show_default=True, help="half-pint or pint."
)
@click.option("--filled", type=Moment(), required=True, help="When.")
@click.option("--now", type=Moment(), help="Another time than now.")
@click.option(
    "--looks",
    type=click.Choice([looks.value for looks in Looks]),
    default=Looks.SOFT.value,
    show_default=True,
    help="What a tilted jar does.",
)
@click.option(
    "--pectin",
    type=click.Choice(["powdered", "liquid", "none"]),
    default="powdered",
    show_default=True,
    help="What it was made with.",
)
@click.option(
    "--teaspoon",
    metavar="MASS",
    help="What a level teaspoon of your powdered pectin weighs: 3.1g.",
)
@elevation
@as_json
def command(
    jars: int,
    jar: str,
    filled: dt.datetime,
    now: dt.datetime | None,
    looks: str,
    pectin: str,
    teaspoon: str | None,
    elevation: str | None,
    json_: bool,
) -> None:
    """Say whether a soft jelly waits, and what its remake takes."""
    spoon_kg = (
        None if teaspoon is None else teaspoon_as_typed(teaspoon, key="--teaspoon")
    )
    answer = granted(
        soft_jelly(
            pectin=pectin,
            cups=granted(soft_cups(jars, jar)),
            filled_at=filled,
            # as it was typed: what the clock on the kitchen's wall shows
            now=now or kitchen_clock().replace(tzinfo=None),
            looks=Looks(looks),
        )
    )
    minutes = None
    if elevation is not None:
        air = air_of(elevation)
        minutes = granted(
            process_for(JELLY_TABLE, jar=jar, elevation_ft=air.elevation_ft)
        ).minutes
    if json_:
        print_json(remake_as_json(answer, minutes))
    else:
        metric = writes_metric(elevation or "")  # a spoon is weighed in grams by all
        _print(answer, minutes, spoon_kg, metric=metric)


def remake_as_json(answer: SoftJelly, minutes: int | None) -> dict[str, Any]:
    """Return the contract of ``remake --json``."""
    remaking = answer.remaking
    return {
        "do": answer.do,
        "hours": round(answer.hours, 2),
        "look_at": answer.look_at.isoformat() if answer.look_at else None,
        "final_at": answer.final_at.isoformat(),
        "tell": answer.tell,
        "why": answer.why,
        "remake": None if remaking is None else _remaking_as_json(remaking),
        "process_min": minutes,
        "source": answer.source.text,
    }


def _remaking_as_json(remaking: Remaking) -> dict[str, Any]:
    return {
        "trial_cups": remaking.trial_cups,
        "trial_ingredients": _ingredients_as_json(remaking.trial),
        "batches": remaking.batches,
        "cups_each": remaking.cups,
        "ingredients_each": _ingredients_as_json(remaking.procedure),
        "boil_min": remaking.trial.boil_min,
        "jars": [remaking.jars_low, remaking.jars_high],
        "lids": remaking.lids,
    }


def _ingredients_as_json(procedure: Procedure | None) -> list[dict[str, Any]]:
    return [
        {"name": i.name, "quantity": float(i.quantity), "unit": i.unit}
        for i in (procedure.ingredients if procedure else ())
    ]


def _print(
    answer: SoftJelly, minutes: int | None, spoon_kg: float | None, *, metric: bool
) -> None:
    if answer.do == "wait" and answer.look_at is not None:
        say(
            f"{answer.hours:.0f} h: too early. Look {answer.look_at:%a %-d %b, %H:%M}; "
            f"for the last time {answer.final_at:%a %-d %b}."
        )
        say(f"How to tell: {answer.tell}.")
    elif answer.remaking is None:
        say(f"Keep it: {answer.why}.")
    else:
        remaking = answer.remaking
        say(
            f"Remake: {remake_words(remaking, metric=metric)}. Or keep it as syrup, "
            "with a label that says so."
        )
        for title, procedure in zip(
            ("The trial", "One batch"), remaking.procedures, strict=False
        ):
            heading(title)
            columns(list(remade_parts(procedure, metric=metric)))
        if remaking.batches:
            click.echo()
            say(whole_words(remaking, spoon_kg, metric=metric))
        say(f"In this order: {remaking.trial.order_of_adding}.")
        if boil := boil_words(remaking):
            say(boil)
        say(f"{jars_words(remaking)}; an old lid is never used again.")
        if minutes is not None:
            say(f"Process: {minutes} min in boiling water, as any jelly here.")
            if clean_jars_words(minutes):
                say(clean_jars_words(minutes))
    say(f"From: {answer.source}.")
