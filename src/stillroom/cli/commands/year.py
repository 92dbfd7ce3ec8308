"""``stillroom year``: how many jars of a food a year asks for."""

from __future__ import annotations

import click

from stillroom.cli.options import as_json, print_json
from stillroom.cli.paragraphs import columns, say
from stillroom.jar_count import jars_said
from stillroom.planning.which_batches.year import YearWant, year_want
from stillroom.refusal import Unreadable, granted


@click.command(name="year")
@click.argument("foods", nargs=-1, required=True)
@click.option(
    "--persons", type=int, default=1, show_default=True, help="Who eat from it."
)
@click.option(
    "--jar", default="pint", show_default=True, help="Jar size that is reckoned in."
)
@click.option(
    "--eaten",
    multiple=True,
    metavar="FOOD=JARS",
    help="Your own use last year, in the same jars.",
)
@as_json
def command(
    foods: tuple[str, ...],
    persons: int,
    jar: str,
    eaten: tuple[str, ...],
    json_: bool,
) -> None:
    """Propose jars for a year, from your own use or printed amounts."""
    own = dict(_own(text) for text in eaten)
    wants = [
        granted(year_want(food, persons=persons, jar=jar, eaten=own.get(food)))
        for food in foods
    ]
    if json_:
        print_json({"wants": [want_as_json(want) for want in wants]})
        return
    for want in wants:
        jars = f"{jars_said(want.jars, want.jar)} for {want.persons}"
        say(f"{want.food}: {jars}, {want.because}.")
        columns(
            [
                (
                    str(o.jars),
                    f"{o.from_what}{'; ' + o.note if o.note else ''} ({o.source})",
                )
                for o in want.opinions
            ]
        )
    say(
        "A first guess only: printed tables disagree two- and threefold. Count what is "
        "eaten, and next year go by that."
    )


def _own(text: str) -> tuple[str, int]:
    food, _, number = text.rpartition("=")
    if not food or not number.isdecimal() or len(number) > 4:
        raise Unreadable(
            f"--eaten: {text!r} is not FOOD=JARS; write for example pears=12"
        )
    return food, int(number)


def want_as_json(want: YearWant) -> dict[str, object]:
    """Return one want of the contract of ``year --json``."""
    return {
        "food": want.food,
        "jar": want.jar,
        "persons": want.persons,
        "jars": want.jars,
        "because": want.because,
        "opinions": [
            {
                "jars": o.jars,
                "from": o.from_what,
                "note": o.note,
                "source": o.source.text,
                "how_known": o.source.how_known,
            }
            for o in want.opinions
        ],
    }
