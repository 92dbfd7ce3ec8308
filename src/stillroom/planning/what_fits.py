"""
Which batches at all, on a day that is too small for every one of them.

Batches come in the order in which they would be missed: what will not keep, what
matters most, what sells. One after another is put into the day as long as a plan by
hand fits; then the search tries to put back what was left out, the most missed first.
"""

from __future__ import annotations

import time
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

from stillroom.planning.by_hand import by_hand
from stillroom.planning.plan import plan_day
from stillroom.planning.problem import Problem
from stillroom.planning.timetable import Answer

SHARE_OF_PUTTING_BACK = 0.6
"""Of the time, for trying again what a plan by hand has no room for: half of what is
left of it for each, since a search that is cut short finds no first plan at all."""
LEAST_S = 0.5


@dataclass(frozen=True, slots=True, kw_only=True)
class Fits:
    """What fits of a day, and its plan."""

    problem: Problem
    answer: Answer
    left_out: tuple[str, ...]
    """Ids of the batches that have no room, the most missed first."""


def only(problem: Problem, kept: Sequence[str]) -> Problem:
    """The day with some of its batches, in the order in which it lists them."""
    batches = tuple(b for b in problem.batches if b.id in kept)
    made = {b.product for b in batches}
    wants = tuple(w for w in problem.wants if w.product in made)
    return replace(problem, batches=batches, wants=wants)


def what_fits(
    problem: Problem,
    order: Sequence[str],
    *,
    seconds: float,
    workers: int = 2,
    deterministic: bool = False,
) -> Fits | None:
    """
    Plan as many batches as fit, the first in ``order`` before all others.

    Parameters
    ----------
    problem : Problem
        A day that has no plan with all of its batches.
    order : sequence of str
        Ids of its batches, the most missed first.
    seconds : float
        For everything. [s]
    workers : int
        Search threads.
    deterministic : bool
        The same choice every time; several times as slow.

    Returns
    -------
    Fits or None
        `None` where not one batch fits.
    """
    until = time.monotonic() + seconds

    def search(kept: Sequence[str], share_s: float) -> Answer | None:
        answer = plan_day(
            only(problem, kept),
            seconds=max(LEAST_S, share_s),
            workers=workers,
            deterministic=deterministic,
            explain=False,
        )
        return answer if isinstance(answer, Answer) else None

    kept = _by_hand(problem, order, deterministic)
    open_ = [name for name in order if name not in kept]
    best: Answer | None = None
    product_of = {b.id: b.product for b in problem.batches}
    no_room: set[str] = set()
    back = SHARE_OF_PUTTING_BACK * seconds / max(1, len(open_))
    back_until = time.monotonic() + SHARE_OF_PUTTING_BACK * seconds
    for name in open_:
        if best is not None and not deterministic and time.monotonic() > until:
            break
        if not deterministic:
            if product_of[name] in no_room:  # its like was tried, and for longer
                continue
            back = (back_until - time.monotonic()) / 2
        trial = _in(order, [*kept, name])
        if (answer := search(trial, back)) is not None:
            kept, best = trial, answer
        else:
            no_room.add(product_of[name])
    if not kept:
        return None
    left = seconds if deterministic else until - time.monotonic()
    final = search(kept, left)
    if final is None or (best is not None and best.finish_min < final.finish_min):
        final = best or final
    if final is None:
        return None
    return Fits(
        problem=only(problem, kept),
        answer=final,
        left_out=tuple(name for name in order if name not in kept),
    )


def _by_hand(problem: Problem, order: Sequence[str], deterministic: bool) -> list[str]:
    """One batch after another, as long as a plan by hand fits."""
    tries: Callable[[Problem], object] = (
        (lambda p: by_hand(p, seconds=1e9, shuffles=10))
        if deterministic
        else (lambda p: by_hand(p, seconds=0.0, shuffle_seconds=0.15))
    )
    kept: list[str] = []
    for name in order:
        trial = _in(order, [*kept, name])
        if tries(only(problem, trial)) is not None:
            kept = trial
    return kept


def _in(order: Sequence[str], names: Sequence[str]) -> list[str]:
    return [name for name in order if name in names]
