"""``stillroom juice``: fruit to juice, and what to do with too little."""

from __future__ import annotations

from collections.abc import Callable

import click

from stillroom import measures
from stillroom.book.procedures import procedure_for
from stillroom.cli.options import as_json, print_json, read
from stillroom.cli.paragraphs import bullet, say
from stillroom.methods.getting_juice import JuiceAsked, juice_asked
from stillroom.planning.which_batches.juice_words import (
    NEVER_TRIMMED,
    cups_a_pound,
    juice_for,
    more_words,
    short_words,
)
from stillroom.refusal import granted


@click.command(name="juice")
@click.argument("fruit")
@click.option("--need", help='Juice that the recipe asks for: "6 1/2 cups".')
@click.option("--for", "product", help="A product of the book, in place of --need.")
@click.option("--fruit", "weight", help='Fruit that was pressed: "5 lb".')
@click.option("--got", help='Juice that it gave: "5 1/4 cups".')
@as_json
def command(
    fruit: str,
    need: str | None,
    product: str | None,
    weight: str | None,
    got: str | None,
    json_: bool,
) -> None:
    """Reckon fruit to juice, and what to do with too little."""
    if (need is None) == (product is None):
        raise click.UsageError("give --need or --for, one of the two")
    if weight is not None and got is None:
        raise click.UsageError("--fruit needs --got: what juice that fruit gave")
    recipe = None
    if need is not None:
        volume = float(read("--need", measures.read_volume_m3, need))
    else:
        volume = granted(juice_for(product or "", fruit=fruit))
        recipe = granted(procedure_for(product or ""))
    answer = granted(
        juice_asked(
            fruit,
            need_m3=volume,
            fruit_kg=_optional("--fruit", weight, measures.read_mass_kg),
            got_m3=_optional("--got", got, measures.read_volume_m3),
            recipe=recipe,
            metric=measures.writes_metric(need or "", weight or "", got or ""),
        )
    )
    if json_:
        print_json(juice_as_json(answer))
    else:
        _print(answer)


def _optional(
    option: str, text: str | None, reader: Callable[[str], float]
) -> float | None:
    return None if text is None else float(read(option, reader, text))


def juice_as_json(answer: JuiceAsked) -> dict[str, object]:
    """Return the contract of ``juice --json``."""
    own, printed = answer.own_m3_per_kg, answer.printed_m3_per_kg
    return {
        "fruit": answer.fruit,
        "need_cups": round(measures.cups(answer.need_m3), 3),
        "short_cups": round(measures.cups(answer.short_m3), 3),
        "own_cups_per_lb": None if own is None else round(cups_a_pound(own), 3),
        "printed_cups_per_lb": (
            None if printed is None else round(cups_a_pound(printed), 3)
        ),
        "more_kg": None if answer.more_kg is None else round(answer.more_kg, 3),
        "total_kg": None if answer.total_kg is None else round(answer.total_kg, 3),
        "choices": list(answer.choices),
        "how": answer.how,
        "source": answer.source.text,
    }


def _print(answer: JuiceAsked) -> None:
    for words in (short_words(answer), more_words(answer)):
        if words:
            say(words)
    if answer.how:
        say(f"How: {answer.how}.")
    for choice in answer.choices:
        bullet(choice)
    if answer.choices:
        say(NEVER_TRIMMED)
    say(f"From: {answer.source}.")
