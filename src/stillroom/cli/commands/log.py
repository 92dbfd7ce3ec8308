"""``stillroom log``: look back over a probe's log, the published process beside it."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import click

from stillroom.cli.explained import (
    explanation_as_json,
    field_options,
    print_explanation,
    typed,
)
from stillroom.cli.options import NO_AIR, OR_BAROMETER, as_json, print_json
from stillroom.explaining.asking import Given
from stillroom.explaining.look_back import ASKS, MOST_LETTERS, look_back
from stillroom.refusal import Fault, Unreadable, granted


@click.command(name="log")
@click.argument(
    "file", type=click.Path(exists=True, dir_okay=False, path_type=Path), metavar="FILE"
)
@field_options(ASKS)
@as_json
def command(file: Path, json_: bool, **options: Any) -> None:
    """Look back over a probe's log: come-up, lost boil, lethality."""
    given = typed(options)
    if "elevation" not in given and "pressure" not in given:
        raise click.UsageError(NO_AIR + OR_BAROMETER)
    told = granted(look_back(_text(file), Given(given, ASKS)))
    if json_:
        print_json(explanation_as_json(told))
    else:
        print_explanation(told)


def _text(file: Path) -> str:
    if file.stat().st_size > 2 * MOST_LETTERS:
        raise Unreadable(Fault("the log is too long; cut it", key=str(file)))
    try:
        return file.read_text(encoding="utf-8")
    except UnicodeDecodeError:
        raise Unreadable(
            Fault("is no text: save the log as CSV in UTF-8", key=str(file))
        ) from None
