"""Which supplies a proof rests on, in words."""

from __future__ import annotations

from collections.abc import Sequence

from stillroom.in_a_list import all_of
from stillroom.planning.bounding.marks import Minutes
from stillroom.planning.bounding.prices import Prices
from stillroom.planning.bounding.supplies import (
    Canners,
    Fires,
    Hands,
    Mills,
    Pots,
    Supply,
)
from stillroom.planning.problem import Problem

ONE_OF_THEM = frozenset({"the fire", "the pot", "the mill", "the canner"})
WORTH_NAMING = 0.05
"""A supply is named from such a share of all that the day costs on."""


def taken_until_then(
    problem: Problem,
    supplies: Sequence[Supply],
    prices: Prices,
    there: Sequence[Minutes],
    end: int,
) -> str:
    """
    What is taken until a day can end, the dearest first: "the pots are taken".

    Who comes at ``end`` or later has no hands that could be taken by then. [min]
    """
    come = frozenset(p.id for p in problem.people if p.arrives_min < end)
    paid: dict[str, int] = {}
    for supply, line, many in zip(supplies, prices.supply, there, strict=True):
        name = _name(problem, supply, come)
        paid[name] = paid.get(name, 0) + int(line @ many)
    total = sum(paid.values())
    named = [
        name
        for name, cost in sorted(paid.items(), key=lambda item: (-item[1], item[0]))
        if cost > 0 and cost >= WORTH_NAMING * total
    ]
    if not named:
        return "the jars of the day need that long"
    one = len(named) == 1 and named[0] in ONE_OF_THEM
    return f"{all_of(named)} {'is' if one else 'are'} taken until then"


def _name(problem: Problem, supply: Supply, come: frozenset[str]) -> str:
    match supply:
        case Hands(people):
            return f"the hands of {all_of(sorted(people & come or people))}"
        case Fires():
            return "the fire" if len(problem.burners) == 1 else "the fires"
        case Pots():
            return "the pot" if len(problem.pots) == 1 else "the pots"
        case Mills():
            return "the mill" if problem.mills == 1 else "the mills"
        case Canners():
            return "the canner" if len(problem.canners) == 1 else "the canners"
