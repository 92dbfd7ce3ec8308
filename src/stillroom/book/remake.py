"""A jelly that stayed soft: what is published for cooking it again."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from importlib.resources.abc import Traversable

from stillroom.book.reader import read_rows, table
from stillroom.refusal import Refusal, Source

PECTINS = ("powdered", "liquid", "none")
MOST_CUPS = 6.0
"""The lower of the printed limits, 4 to 6 cups and 8 cups at most. [cup]"""


@dataclass(frozen=True, slots=True)
class Remake:
    """What goes to a quantity of soft jelly, by the kind of pectin."""

    pectin: str
    """One of `PECTINS`."""
    form: str
    """``per quart``, or ``per cup`` by an older leaflet."""
    of_cups: float
    """Soft jelly that the quantities are printed for. [cup]"""
    most_cups: float
    """Most of it at one time. [cup]"""
    sugar_cups: float
    water_cups: float
    lemon_tbsp: float
    """Bottled lemon juice. [tbsp]"""
    powdered_pectin_tsp: float
    liquid_pectin_tbsp: float
    boil_min: tuple[float, float] | None
    """Hard boil by the clock; `None` where an end sign decides. [min]"""
    headspace_in: float
    steps: str
    source: Source


def read_remakes(path: Traversable) -> tuple[Remake, ...]:
    """Return the rows of a table, those by the quart first."""
    columns = [
        *("pectin", "form", "of_cups", "most_cups", "sugar_cups", "water_cups"),
        *("lemon_tbsp", "powdered_pectin_tsp", "liquid_pectin_tbsp"),
        *("boil_min_low", "boil_min_high", "headspace_in", "steps"),
        *("source", "how_known"),
    ]
    found = []
    for row in read_rows(path, columns):
        low = row.number_or_none("boil_min_low", 0.25, 10)
        high = row.number_or_none("boil_min_high", low or 0.25, 10)
        found.append(
            Remake(
                pectin=row.one_of("pectin", PECTINS),
                form=row.one_of("form", ("per quart", "per cup")),
                of_cups=row.number("of_cups", 1, 4),
                most_cups=row.number_or_none("most_cups", 1, 12) or MOST_CUPS,
                sugar_cups=row.number_or_none("sugar_cups", 0, 2) or 0.0,
                water_cups=row.number_or_none("water_cups", 0, 2) or 0.0,
                lemon_tbsp=row.number_or_none("lemon_tbsp", 0, 8) or 0.0,
                powdered_pectin_tsp=row.number_or_none("powdered_pectin_tsp", 0, 12)
                or 0.0,
                liquid_pectin_tbsp=row.number_or_none("liquid_pectin_tbsp", 0, 8)
                or 0.0,
                boil_min=None if low is None or high is None else (low, high),
                headspace_in=row.number("headspace_in", 0.125, 1),
                steps=row.text("steps"),
                source=row.source,
            )
        )
    return tuple(found)


@cache
def remakes() -> tuple[Remake, ...]:
    """Return every published way, those by the quart first."""
    return read_remakes(table("remake"))


def remake_for(
    pectin: str, *, cups: float = 4.0, form: str = "per quart"
) -> Remake | Refusal:
    """
    Return the published way to cook a soft jelly again.

    The quantities are those printed, for `Remake.of_cups`; nothing is scaled here.

    Parameters
    ----------
    pectin : str
        ``powdered``, ``liquid`` or ``none``: what is added now. Powder is never put in
        the place of liquid.
    cups : float
        Soft jelly that is to be cooked at one time, up to 6. [cup]
    form : str
        ``per quart``, or ``per cup`` for the older leaflet.

    Examples
    --------
    >>> remake_for("powdered").powdered_pectin_tsp
    4.0
    >>> print(remake_for("powdered", cups=8).instead)
    cook at most 6 cups at a time, and try one cup first
    """
    for row in remakes():
        if (row.pectin, row.form) != (pectin, form):
            continue
        if 0 < cups <= min(MOST_CUPS, row.most_cups):
            return row
        return Refusal(
            f"{cups:g} cups of soft jelly are too much or too little at one time",
            instead=f"cook at most {MOST_CUPS:g} cups at a time, and try one cup first",
            source=row.source.text,
        )
    return Refusal(
        f"no remake with pectin {pectin!r} ({form}) is published here",
        instead=f"one of {', '.join(PECTINS)}, per quart",
        source=remakes()[0].source.text,
    )
