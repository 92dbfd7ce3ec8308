"""How an explanation is printed, and its JSON; `explain` and `log` share it."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import Any

import click

from stillroom.cli.contracts import Json, cautions_as_json
from stillroom.cli.curve_text import curve_text
from stillroom.cli.options import F
from stillroom.cli.paragraphs import columns, heading, say, width
from stillroom.explaining.asking import FIELDS
from stillroom.explaining.explanation import Explanation, Picture


def field_options(names: Iterable[str]) -> Callable[[F], F]:
    """Add the options of fields, each with its words and an example."""

    def add(command: F) -> F:
        for name in reversed(list(names)):
            field = FIELDS[name]
            taken = f"; taken: {field.default}" if field.default else ""
            words = ", ".join(field.choices) if field.choices else field.example
            command = click.option(
                field.option,
                name,
                metavar="TEXT",
                help=f"{field.label}: {words}{taken}.",
            )(command)
        return command

    return add


def typed(options: dict[str, Any]) -> dict[str, str]:
    """What was typed, without what was not."""
    return {name: text for name, text in options.items() if text is not None}


def explanation_as_json(told: Explanation) -> Json:
    """Return the contract of ``explain --json`` and ``log --json``."""
    return {
        "topic": told.topic,
        "title": told.title,
        "sentence": told.sentence,
        "more": list(told.more),
        "estimate": told.estimate,
        "figures": [
            {
                "label": figure.label,
                "value": round(figure.value, 6),
                "unit": figure.unit,
                "low": None if figure.low is None else round(figure.low, 6),
                "high": None if figure.high is None else round(figure.high, 6),
                "text": figure.text,
                "note": figure.note,
            }
            for figure in told.figures
        ],
        "picture": None if told.picture is None else _picture(told.picture),
        "table": {
            "caption": told.table.caption,
            "heads": list(told.table.heads),
            "rows": [list(row) for row in told.table.rows],
        },
        "cautions": cautions_as_json(told.cautions),
        "source": told.source,
    }


def _picture(picture: Picture) -> Json:
    return {
        "title": picture.title,
        "desc": picture.desc,
        "x_label": picture.x_label,
        "y_label": picture.y_label,
        "lines": [
            {
                "name": one.name,
                "x": [round(x, 4) for x in one.x],
                "y": [round(y, 4) for y in one.y],
                "low": [round(y, 4) for y in one.low],
                "high": [round(y, 4) for y in one.high],
            }
            for one in picture.lines
        ],
        "marks": [
            {
                "text": mark.text,
                "at": round(mark.at, 4),
                "axis": "x" if mark.upright else "y",
                "published": mark.published,
            }
            for mark in picture.marks
        ],
    }


def print_explanation(told: Explanation) -> None:
    """Print words first, then figures, the picture, and who says so."""
    heading(told.title)
    say(told.sentence)
    for paragraph in told.more:
        click.echo()
        say(paragraph)
    heading("Figures")
    columns(
        [
            (
                figure.label,
                figure.text,
                "; ".join(part for part in (figure.spread, figure.note) if part),
            )
            for figure in told.figures
        ]
    )
    if told.picture is not None:
        heading(told.picture.title)
        for row in curve_text(told.picture, width()):
            click.echo(row)
    heading(told.table.caption)
    columns([told.table.heads, *told.table.rows])
    click.echo()
    for caution in told.cautions:
        say(f"Take care: {caution}.")
    say(f"From: {told.source}.")
