"""``stillroom measured``: what changes when a measure half-way is not as expected."""

from __future__ import annotations

import click

from stillroom import measures
from stillroom.book.procedures import procedure_for
from stillroom.cli.options import as_json, print_json, read
from stillroom.cli.paragraphs import columns, say
from stillroom.methods.by_name import method_named
from stillroom.methods.half_way import Remeasured, remeasured
from stillroom.methods.portions import volume_words
from stillroom.refusal import granted


@click.command(name="measured")
@click.argument("product")
@click.argument("quantity")
@click.option(
    "--multiple", type=int, default=1, show_default=True, help="Of the tested batch."
)
@click.option(
    "--jar",
    default="half-pint",
    show_default=True,
    help="Jar size that is reckoned in.",
)
@as_json
def command(product: str, quantity: str, multiple: int, jar: str, json_: bool) -> None:
    """Rescale what follows when pulp or juice measures QUANTITY."""
    volume = float(read("QUANTITY", measures.read_volume_m3, quantity))
    procedure = granted(procedure_for(product))
    method = granted(method_named(procedure.method))
    metric = measures.writes_metric(quantity)
    recipe = granted(method.scale(procedure, multiple)).said_metric(metric)
    answer = granted(remeasured(method, recipe, volume, jar))
    if json_:
        print_json(measured_as_json(answer))
        return
    say(
        f"{volume_words(volume, metric=metric)} is {answer.share:.0%} of what the "
        f"recipe reckons with ({procedure.title})."
    )
    columns([(c.name, c.now, f"was {c.was}: {c.what}") for c in answer.changes])
    say(
        f"About {answer.now.likely:.1f} {jar} jars, not {answer.was.likely:.1f}; fill "
        "the full ones and keep the rest for the table."
    )
    say(
        "It thickens sooner: stir more often. "
        f"From: {procedure.source}, by the cup of pulp."
    )


def measured_as_json(answer: Remeasured) -> dict[str, object]:
    """Return the contract of ``measured --json``."""
    return {
        "share": round(answer.share, 4),
        "changes": [
            {"name": c.name, "was": c.was, "now": c.now, "what": c.what}
            for c in answer.changes
        ],
        "jars_was": round(answer.was.likely, 2),
        "jars_now": round(answer.now.likely, 2),
    }
