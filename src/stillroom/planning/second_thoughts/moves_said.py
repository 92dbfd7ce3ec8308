"""How much moves when a day is planned again, in a few words."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from stillroom.jar_count import counted
from stillroom.planning.daytime import said_minutes
from stillroom.planning.second_thoughts.moves import Move

FAR_MIN = 10
"""Steps that move by more than this are said apart. [min]"""


def moves_said(moves: Sequence[Move], *, new_plan_of: int | None) -> str:
    """
    Say how much moves: steps and loads, then their canners, then breaks.

    ``new_plan_of`` is how many steps and loads there are where it is a new plan, else
    `None`.
    """
    work = [m for m in moves if not m.rests]
    parts = [*_steps_said(work, new_plan_of), *_canners_said(work)]
    parts += [
        f"the break of {m.rests} begins {later_said(m.by_min)}"
        for m in moves
        if m.rests
    ]
    told = ", ".join(parts[:-1])
    return ", and ".join(filter(None, [told, *parts[-1:]])) or "nothing moves"


def _steps_said(work: Sequence[Move], new_plan_of: int | None) -> list[str]:
    moved = [m for m in work if m.by_min and not m.jars]  # a new load was nowhere
    hands = sum(m.was_by != m.is_by for m in work)
    things = "step moves" if len(moved) == 1 else "steps move"
    most = max((abs(m.by_min) for m in work), default=0)
    far = [m for m in moved if abs(m.by_min) > FAR_MIN]
    parts = []
    if new_plan_of is not None:
        parts.append(
            f"this is a new plan: {len(moved)} of {new_plan_of} {things}, by up to "
            f"{said_minutes(most)}"
        )
    elif moved:
        none = f"none by more than {said_minutes(most)}"
        how_many = "" if len(far) == len(moved) else f", {len(far)}"
        some = f"{how_many} by more than {FAR_MIN} min, the most {said_minutes(most)}"
        if len(moved) == 1 and far:
            some = f" by {said_minutes(most)}"
        parts.append(f"{len(moved)} {things}{some if far else f', {none}'}")
    if hands:
        steps = "" if moved else " step" if hands == 1 else " steps"
        goes = "goes" if hands == 1 else "go"
        parts.append(f"{hands}{steps} {goes} to other hands")
    return parts


def _canners_said(work: Sequence[Move]) -> Iterator[str]:
    """Say which loads are in other canners, and how many there are more."""
    others = sum(bool(m.into) and not m.jars for m in work)
    more = sum(bool(m.jars) for m in work)
    if others:
        goes = "goes into another canner" if others == 1 else "go into other canners"
        yield f"{counted(others, 'load')} {goes}"
    if more:
        yield f"there {'is' if more == 1 else 'are'} {counted(more, 'load')} more"


def later_said(minutes: int) -> str:
    """
    Say by how much something is later than it was, or earlier.

    >>> later_said(70), later_said(-3)
    ('1 h 10 min later', '3 min earlier')
    """
    return f"{said_minutes(abs(minutes))} {'later' if minutes > 0 else 'earlier'}"
