"""
What is not ready in time: juice that drips, or fruit that thaws, until late in the day.

Where a batch cannot be over once its fruit is ready, that is a sum. Where all of them
together cannot, the day is planned by hand as if all were ready: if that fits, the hour
is a reason.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator
from dataclasses import replace

from stillroom.in_a_list import all_of
from stillroom.planning.bounding.bounds import after_closing_min
from stillroom.planning.daytime import clock_time, said_minutes
from stillroom.planning.hand.by_hand import by_hand
from stillroom.planning.judge.check import violations
from stillroom.planning.network import UNTIED, network_of
from stillroom.planning.problem import Batch, Problem, Window

ORDERS = 10
"""Shuffled orders tried by hand."""


def ready_too_late(problem: Problem) -> Iterator[str]:
    """Say of each thing that is ready too late for a batch of it what follows."""
    end = clock_time(problem.starts_at, problem.horizon_min)
    longest: dict[tuple[str, str], int] = {}  # two may cut what one batch is made of
    for batch in problem.batches:
        for window in batch.windows:
            since, takes = _from_then_min(problem, batch, window)
            most = problem.horizon_min - takes
            if window.why and since <= most < window.earliest_min:
                key = (_ready(problem, window), batch.id)
                longest[key] = max(takes, longest.get(key, 0))
    found: dict[tuple[str, int], list[str]] = {}
    for (ready, name), takes in longest.items():
        found.setdefault((ready, takes), []).append(name)
    for (ready, takes), names in found.items():
        yield (
            f"{ready}, and {all_of(names)} "
            f"{'takes' if len(names) == 1 else 'take'} {said_minutes(takes)} from then "
            f"on{'' if len(names) == 1 else ' each'}; the day ends at {end}"
        )


def hours_that_hold(problem: Problem) -> tuple[tuple[str, ...], bool]:
    """
    Hours at which things are ready without which the day fits, in words.

    Returns
    -------
    tuple of str, bool
        Whether it fits without any single one of them.
    """
    hours = dict.fromkeys(
        (window.why, window.earliest_min, _ready(problem, window))
        for batch in problem.batches
        for window in batch.windows
        if window.why and window.earliest_min > 0
    )
    alone = [
        said for why, at, said in hours if _fits(_as_if_ready(problem, [(why, at)]))
    ]
    if alone:
        return tuple(alone), True
    every = [(why, at) for why, at, _ in hours]
    if len(every) > 1 and _fits(_as_if_ready(problem, every)):
        return tuple(said for _, _, said in hours), False
    return (), False


def _ready(problem: Problem, window: Window) -> str:
    return f"{window.why} at {clock_time(problem.starts_at, window.earliest_min)}"


def _from_then_min(problem: Problem, batch: Batch, window: Window) -> tuple[int, int]:
    """When it would be taken at the earliest, and how long the batch goes on then."""
    network, ids = network_of(batch), [step.id for step in batch.steps]
    at = ids.index(window.step)
    takes = network.tail[at]
    after = after_closing_min(problem, batch)
    for n, step in enumerate(batch.steps):
        if after and step.id == batch.ready_after and network.lag[at][n] > UNTIED:
            takes = max(takes, network.lag[at][n] + step.duration_min + after)
    return network.earliest[at], takes


def _as_if_ready(problem: Problem, hours: Collection[tuple[str, int]]) -> Problem:
    batches = tuple(
        replace(
            batch,
            windows=tuple(
                replace(w, earliest_min=0) if (w.why, w.earliest_min) in hours else w
                for w in batch.windows
            ),
        )
        for batch in problem.batches
    )
    return replace(problem, batches=batches)


def _fits(problem: Problem) -> bool:
    plan = by_hand(problem, seconds=0.0, shuffles=ORDERS)
    return plan is not None and not violations(problem, plan)
