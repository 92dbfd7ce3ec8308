"""Batches that are longer than the day, each alone: one sentence for all of them."""

from __future__ import annotations

from stillroom.in_a_list import all_of
from stillroom.planning.bounding.bounds import after_closing_min, closed_min
from stillroom.planning.daytime import said_minutes
from stillroom.planning.network import network_of
from stillroom.planning.problem import Batch, Problem


def longer_than_the_day(problem: Problem) -> str:
    """
    Say which batches take longer than the day has; empty where none does.

    One is said by its name, several by their products, the longest first.
    """
    long = [
        (batch, takes)
        for batch in problem.batches
        if (takes := _alone_min(problem, batch)) > problem.horizon_min
    ]
    if not long:
        return ""
    if len(long) == 1:
        ((batch, takes),) = long
        return f"{batch.id} alone takes {said_minutes(takes)}"
    of: dict[str, list[int]] = {}
    for batch, takes in sorted(long, key=lambda one: -one[1]):
        of.setdefault(batch.product, []).append(takes)
    if len(of) == 1:
        ((product, each),) = of.items()
        return f"{len(long)} batches of {product} take {_span(each)} each, even alone"
    products = all_of(f"{len(t)} of {name} ({_span(t)})" for name, t in of.items())
    return f"{len(long)} batches each take longer than the day, even alone: {products}"


def _span(takes: list[int]) -> str:
    least, most = said_minutes(min(takes)), said_minutes(max(takes))
    return least if least == most else f"{least} to {most}"


def _alone_min(problem: Problem, batch: Batch) -> int:
    network = network_of(batch)
    both = zip(network.earliest, network.tail, strict=True)
    steps = max((early + tail for early, tail in both), default=0)
    jars = closed_min(batch) + after_closing_min(problem, batch)
    return max(steps, jars)
