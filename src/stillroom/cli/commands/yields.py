"""``stillroom yields``: every printed yield beside what the solids can fill."""

from __future__ import annotations

import click

from stillroom.cli.options import as_json, print_json
from stillroom.cli.paragraphs import columns, say
from stillroom.planning.which_batches.yields import yield_table


@click.command(name="yields")
@as_json
def command(json_: bool) -> None:
    """Show printed yields beside what the solids can fill."""
    rows = yield_table()
    if json_:
        print_json(
            {
                "yields": [
                    {
                        "recipe": row.procedure.id,
                        "product": row.procedure.name,
                        "jar": row.expected.jar,
                        "printed": row.expected.printed,
                        "likely": round(row.expected.likely, 2),
                        "low": round(row.expected.low, 2),
                        "high": round(row.expected.high, 2),
                        "verdict": row.verdict,
                        "source": row.procedure.source,
                    }
                    for row in rows
                ]
            }
        )
        return
    say("Printed yield, what is planned with, and what the solids allow.")
    columns(
        [
            (
                row.procedure.title,
                row.expected.jar,
                f"printed {row.expected.printed}",
                f"{row.expected.likely:.1f}",
                f"({row.expected.low:.1f} to {row.expected.high:.1f})  {row.verdict}",
            )
            for row in rows
        ]
    )
