"""Empty jars and lids of a lot of which more or fewer were filled. Pure."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from stillroom.stock.commands import Need

LIDS = "lids"


def as_filled(needs: Iterable[Need], jar: str, *, more: int) -> tuple[Need, ...]:
    """
    Return what a lot takes where the number of its jars is not the plan's.

    Each jar that was filled had its jar and its lid, and an empty one stays on the
    shelf; all else went into the pot, however many jars came of it. A jar that broke
    is no jar less here: the stove has a key for it, and its jar and lid are gone.

    Parameters
    ----------
    needs : iterable of Need
        What it takes by the plan.
    jar : str
        Size of its jars: "half-pint".
    more : int
        Jars filled beyond the plan's; below none where fewer came of it.

    Examples
    --------
    >>> from stillroom.stock.amounts import Unit
    >>> lids = Need(name="lids", unit=Unit.PIECES, number=8)
    >>> [need.number for need in as_filled([lids], "half-pint", more=-1)]
    [7]
    """
    found = list(needs)
    for name in (f"{jar} jars", LIDS):
        left = more
        for at in [i for i, need in enumerate(found) if need.name == name][::-1]:
            number = max(0, found[at].number + left)
            left -= number - found[at].number
            found[at] = replace(found[at], number=number)
    return tuple(need for need in found if need.number)
