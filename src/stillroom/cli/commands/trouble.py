"""``stillroom trouble``: what a sign may mean, and what is done about it."""

from __future__ import annotations

import click

from stillroom.book.foods_said import FOODS
from stillroom.book.trouble import (
    Trouble,
    troubles,
    troubles_for,
    within_words,
)
from stillroom.book.trouble_by_clock import by_the_clock
from stillroom.cli.options import as_json, print_json
from stillroom.cli.paragraphs import bullet, heading, say
from stillroom.refusal import granted


@click.command(name="trouble")
@click.argument("sign", required=False)
@click.option("--hours", type=float, help="Hours since it was filled or processed.")
@click.option(
    "--food", type=click.Choice([f for f in FOODS if f != "any"]), help="What it is of."
)
@as_json
def command(
    sign: str | None, hours: float | None, food: str | None, json_: bool
) -> None:
    """Say what a sign may mean, and what is done about it."""
    found = (
        troubles()
        if sign is None
        else granted(troubles_for(sign, hours=hours, food=food))
    )
    if json_:
        print_json({"troubles": [trouble_as_json(trouble) for trouble in found]})
        return
    if sign is None:
        for trouble in found:
            bullet(f"{trouble.sign}: {trouble.do}")
        return
    for trouble in by_the_clock(found):
        heading(f"{trouble.sign.capitalize()}: {trouble.do}")
        say(trouble.then)
        say(f"Likely cause: {trouble.cause}.")
        if trouble.within_h is not None:
            say(within_words(trouble, hours))
        known = trouble.source.how_known.replace("_", " ")
        say(f"From: {trouble.source} ({known}).")


def trouble_as_json(trouble: Trouble) -> dict[str, object]:
    """Return one trouble of the contract of ``trouble --json``."""
    return {
        "id": trouble.id,
        "sign": trouble.sign,
        "food": trouble.food,
        "within_h": trouble.within_h,
        "cause": trouble.cause,
        "do": trouble.do,
        "then": trouble.then,
        "source": trouble.source.text,
        "how_known": trouble.source.how_known,
    }
