"""The rest of a running day looked at for longer, where two seconds were not enough."""

from __future__ import annotations

from dataclasses import replace

from stillroom.planning.second_thoughts.replan import points
from stillroom.planning.second_thoughts.until_it_fits import harm_min
from stillroom.refusal import Refusal
from stillroom.running.again import (
    HARDER,
    OFFERS_S,
    Again,
    is_harder,
    plan_again,
)
from stillroom.running.fold import RunState
from stillroom.running.take_plan import HAPPENED_SINCE

LONGER_S = 10.0
"""Twice as long where hands or a canner are gone, as at first. [s]"""


def takes_s(again: Again) -> float:
    """Return how long a longer search takes, what may be left out among it. [s]"""
    return LONGER_S * (HARDER if is_harder(again.told) else 1) + OFFERS_S


def look_longer(
    again: Again, state: RunState, *, seconds: float = LONGER_S
) -> Again | Refusal:
    """
    Return a plan for the same minute and what was told then, or the one before.

    The better of the two by end, lateness and what gives way; which it is stands in
    ``better``.

    Parameters
    ----------
    again : Again
        The plan that was shown.
    state : RunState
        The run as it stands now.
    seconds : float
        For the plan. [s]
    """
    if again.seen < state.sequence:
        return HAPPENED_SINCE
    found = plan_again(state, again.at, again.said, seconds=seconds, own=again.own)
    if isinstance(found, Refusal):
        return found
    better = _worth(found) < _worth(again)
    return replace(found if better else again, better=better)


def _worth(again: Again) -> tuple[int, int, int]:
    """What stands or gives way beside rests, then jars left out, then all by points."""
    found = again.found
    jars = sum(one.jars for one in found.left_out)
    goes = any(p.goes_then for p in found.problem.people)
    # where nobody goes, all is weighed together, as ever
    return harm_min(found) if goes else 0, jars, points(found)
