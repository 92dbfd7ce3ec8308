"""
Why then: what holds a step, a load or the whole day at its minute, link by link.

From a step the walk goes back along what it had to wait for: a link of its batch, a
person, a pot, a fire, a canner, a break, a place on the counter. Of several it takes
the one that was over last. What must not stand long is also held from behind: jars are
not heated before whoever fills them can.
"""

from __future__ import annotations

from stillroom.in_a_list import any_of
from stillroom.planning.problem import Problem
from stillroom.planning.timetable import Timetable
from stillroom.planning.waits.because import Because, Why
from stillroom.planning.waits.why_walk import Walk

__all__ = ["Because", "Why", "limit_of_the_day", "why", "why_so_long"]


def why(problem: Problem, plan: Timetable, asked: str) -> Why:
    """
    Return why something begins when it does.

    Parameters
    ----------
    problem : Problem
        The day.
    plan : Timetable
        A plan that breaks no rule of it.
    asked : str
        "BATCH/STEP", the name of a batch (its first step), or of a load.

    Raises
    ------
    Unreadable
        If the plan has nothing by that name; the nearest one is named.
    """
    walk = Walk(problem, plan)
    return walk.chain(walk.node_of(asked), asked)


def why_so_long(problem: Problem, plan: Timetable) -> Why:
    """Return what holds the end of the whole day."""
    walk = Walk(problem, plan)
    nodes = walk.net.nodes
    work = [n for n, node in enumerate(nodes) if node.is_work]
    if not work:
        return Why(asked="the end of the day", start_min=0, end_min=0, chain=())
    last = max(work, key=lambda n: (nodes[n].end_min, nodes[n].start_min))
    return walk.chain(last, "the end of the day")


READY = "what is not ready sooner"
KINDS = {
    "person": "hands",
    "break": "hands",
    "arrival": "hands",
    "ready": READY,
    "pot": "the pots",
    "mill": "the mill",
    "burner": "the fires",
    "canner": "the canners",
    "counter": "the counter",
}
HARDLY = 0.05
"""What holds the day for so small a part of what holds it most does not hold it."""

MOSTLY_OWN = 2
"""So many times what holds the day most are the batches' own steps, where these are
said first. A choice of ours."""


def limit_of_the_day(problem: Problem, plan: Timetable) -> str:
    """
    Say which resource holds the end of this plan longest, in one or two sentences.

    Minutes of a batch that nothing else waits for belong to no resource.
    """
    chain = why_so_long(problem, plan)
    by_kind: dict[str, int] = dict.fromkeys(
        ("hands", "the pots", "the fires", "the canners"), 0
    )
    by_name: dict[str, dict[str, int]] = {}
    own = 0
    for (kind, name), minutes in chain.minutes_by_resource().items():
        if kind not in KINDS:
            own += minutes
            continue
        group = KINDS[kind]
        by_kind[group] = by_kind.get(group, 0) + minutes
        if name:
            names = by_name.setdefault(group, {})
            names[name] = names.get(name, 0) + minutes
    total = own + sum(by_kind.values())
    first = max(by_kind, key=lambda k: by_kind[k])
    if by_kind[first] == 0:
        return (
            "In this plan nothing is waited for but the batches themselves: the "
            f"{total} min to the end are their own steps."
        )
    names = by_name.get(first, {})
    shown = ", ".join(
        f"{name} {minutes}" for name, minutes in sorted(names.items(), key=_by_minutes)
    )
    rest = [
        f"{kind} {minutes}"
        for kind, minutes in sorted(by_kind.items(), key=_by_minutes)
        if kind != first
    ]
    free = [
        kind
        for kind in ("the pots", "the canners")
        if by_kind[kind] <= HARDLY * by_kind[first]
    ]
    but = f", not {any_of(k for k in free if k != first)}" if free else ""
    hold = "holds" if first in ("the mill", "the counter", READY) else "hold"
    if own > MOSTLY_OWN * by_kind[first]:
        return (
            f"In this plan {own} of the {total} min on its longest chain are the last "
            f"batches' own steps; beside them {first} {hold} the end of the day{but}: "
            f"{by_kind[first]} min"
            + (f" ({shown})" if shown else "")
            + f"; {', '.join(rest)}."
        )
    return (
        f"In this plan {first} {hold} the end of the day{but}: "
        f"{by_kind[first]} of the {total} min on its longest chain"
        + (f" ({shown})" if shown else "")
        + f"; {', '.join(rest)}, and {own} are the last batches' own steps."
    )


def _by_minutes(item: tuple[str, int]) -> tuple[int, str]:
    return -item[1], item[0]
