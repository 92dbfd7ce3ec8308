"""
How many jars each batch is counted on for: the sum is right, and every jar is there.

Two pots that fill 8.4 jars each fill sixteen and two parts of one. The parts are 0.8 of
a jar together, and no seventeenth: what has set in one pot is not filled up from the
next.
"""

from __future__ import annotations

import math
import sys
from collections.abc import Sequence

from stillroom.jar_count import jars_said
from stillroom.planning.which_batches.choices import Chosen, Place
from stillroom.refusal import COMMON_PRACTICE, Caution

_SPARE = 0.25
"""So much less than a full jar is within what the ladle makes: common practice. [1]"""

ENOUGH_AT_ONCE = 2 / 3
"""Where the canners take so much of a pot at once it is made, and what is over goes
into the refrigerator. A choice of ours."""


def at_once(chosen: Chosen, place: Place) -> int:
    """
    Jars of one pot that are counted on: all, but for what is little over the canners.

    Of 9.5 jars seven or nine go into a canner for as many, and no batch is lost.
    """
    fitted, process = chosen.fitted, chosen.process
    each = fitted.expected.likely
    if fitted.method.PER_JAR or process is None:
        return sys.maxsize
    places = sum(
        canner.holds(fitted.jar)
        for canner in place.kitchen.canners
        if canner.kind == process.method
    )
    enough = min(math.floor(each), each * ENOUGH_AT_ONCE)
    return places if enough <= places < each else sys.maxsize


def jars_of_each(once: Chosen, pots: Sequence[Chosen], most: int) -> list[int]:
    """
    Return the jars of each pot; no pot has more than its own yield, to the nearest.

    ``once`` is the recipe taken once, and ``most`` the jars of a pot that the canners
    take. What is filled by the jar goes on from pot to pot, and is not held to a pot.
    """
    fitted = once.fitted
    each, units = fitted.expected.likely, 0
    own = sys.maxsize if fitted.method.PER_JAR else math.floor(each + 0.5)
    jars: list[int] = []
    for pot in pots:
        units += pot.fitted.recipe.multiple // fitted.recipe.multiple
        jars.append(min(most, own, round(each * units) - sum(jars)))
    return jars


def part_jars(chosen: Chosen, name: str, jars: int) -> tuple[Caution, ...]:
    """What is said of a pot whose last jar may not come full; of most nothing is."""
    each = chosen.fitted.expected.likely
    if chosen.fitted.method.PER_JAR or jars - each <= _SPARE:
        return ()
    return (
        Caution(
            f"{name} is counted on for {jars_said(jars, chosen.fitted.jar)}, and its "
            f"pot fills about {each:.1f}: a jar that does not come full goes into the "
            "refrigerator, and there is one less than is counted",
            COMMON_PRACTICE,
        ),
    )


def over_the_canners(most: int, each: float) -> tuple[Caution, ...]:
    """What becomes of the jars that the canners do not take."""
    more = math.ceil(each - most)
    many = more > 1
    return (
        Caution(
            f"a pot may fill {f'{more} jars' if many else 'a jar'} more than the "
            f"{most} that the canners take at once: "
            f"{'those go' if many else 'that one goes'} into the refrigerator, for "
            f"{'they have' if many else 'it has'} had no process",
            COMMON_PRACTICE,
        ),
    )


def why_short(each: float, number: int, most: int) -> tuple[str, str]:
    """Say why batches fill less jars than their yields come to, and what to do."""
    if most < sys.maxsize:
        return (
            f"a batch fills {each:.1f} jars, and the canners take {most} at once",
            "keep what is over in the refrigerator, or want a batch more",
        )
    return (
        f"a batch fills {each:.1f} jars, and what {number} pots have over is parts of "
        "jars: no pot is filled up from the next",
        "keep the parts in the refrigerator, or want a batch more",
    )
