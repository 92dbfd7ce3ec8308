"""``stillroom explain``: why it is so, in words, figures and a curve."""

from __future__ import annotations

from typing import Any

import click

from stillroom.cli.explained import (
    explanation_as_json,
    field_options,
    print_explanation,
    typed,
)
from stillroom.cli.options import as_json, print_json
from stillroom.cli.paragraphs import columns, say
from stillroom.explaining.topics import TOPICS, explain
from stillroom.refusal import granted

FIELDS = tuple(dict.fromkeys(name for topic in TOPICS.values() for name in topic.asks))


@click.command(name="explain")
@click.argument("topic", required=False)
@field_options(FIELDS)
@as_json
def command(topic: str | None, json_: bool, **options: Any) -> None:
    """Explain why: boil, pot, jar, set, canner, seal, freezer, brine and more."""
    if topic is None:
        if json_:
            print_json(
                {
                    "topics": [
                        {
                            "topic": one.name,
                            "question": one.question,
                            "options": [field.option for field in one.fields],
                        }
                        for one in TOPICS.values()
                    ]
                }
            )
            return
        say("Ask for one of these; nothing that is explained changes a process time.")
        columns(
            [
                (
                    one.name,
                    f"{one.question}. Options: "
                    + ", ".join(field.option for field in one.fields),
                )
                for one in TOPICS.values()
            ]
        )
        return
    told = granted(explain(topic, typed(options)))
    if json_:
        print_json(explanation_as_json(told))
    else:
        print_explanation(told)
