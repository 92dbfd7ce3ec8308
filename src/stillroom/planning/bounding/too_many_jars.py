"""
Batches that fill more jars than the canners here take before the wait is over.

Neither hours nor hands help then: a tested batch is not trimmed, and its jars gel, so
that only a canner that takes them at once does.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from stillroom.in_a_list import all_of
from stillroom.jar_count import jars_said
from stillroom.planning.bounding.bounds import least_cycle_min
from stillroom.planning.problem import Batch, Problem

NO_TIME_HELPS = "more time does not help"


@dataclass(frozen=True, slots=True, kw_only=True)
class TooMany:
    """One such batch."""

    batch: Batch
    jar: str
    at_once: int
    """Places in all canners that take the jar."""
    largest: int
    """Places in the largest of them."""
    again_min: int
    """So long the others would wait, closed. [min]"""

    @property
    def reason(self) -> str:
        """Why it cannot be processed here, behind its name."""
        most = self.batch.closed_wait_at_most_min
        return (
            f"fills {jars_said(self.batch.jars, self.jar)}; the canners "
            f"take {self.at_once} at once and the others would wait {self.again_min} "
            f"min closed, at most {most} are allowed"
        )

    @property
    def sentence(self) -> str:
        """The same with its name."""
        return f"{self.batch.id} {self.reason}"


def too_many_jars(problem: Problem) -> Iterator[TooMany]:
    """Yield the batches that fill more jars than the canners take in time."""
    process_of = {p.id: p for p in problem.processes}
    for batch in problem.batches:
        process = process_of.get(batch.process or "")
        if process is None:
            continue
        canners = [c for c in problem.canners if c.places.get(process.jar, 0)]
        places = [c.places[process.jar] for c in canners]
        again = min((least_cycle_min(c, process) for c in canners), default=0)
        if batch.jars > sum(places) and again > batch.closed_wait_at_most_min:
            yield TooMany(
                batch=batch,
                jar=process.jar,
                at_once=sum(places),
                largest=max(places, default=0),
                again_min=again,
            )


def none_in_time(problem: Problem) -> bool:
    """Whether some batch's loads follow too slowly for it, however long the day is."""
    process_of = {p.id: p for p in problem.processes}
    for batch in problem.batches:
        process = process_of.get(batch.process or "")
        if process is None:
            continue
        places = 0
        for canner in problem.canners:
            again_min = least_cycle_min(canner, process)
            loads = batch.jars  # one after the other in no time
            if again_min:
                loads = 1 + batch.closed_wait_at_most_min // again_min
            places += loads * canner.places.get(process.jar, 0)
        if batch.jars > places:
            return True
    return False


def places_needed(problem: Problem) -> dict[str, int]:
    """Places, by jar, of a canner that takes the largest of those batches at once."""
    needed: dict[str, int] = {}
    for one in too_many_jars(problem):
        needed[one.jar] = max(needed.get(one.jar, 0), one.batch.jars)
    return needed


def a_larger_canner(problem: Problem) -> str:
    """
    Say what canner helps; empty where the canners take every batch.

    A published process is for a whole load: nothing is processed in two halves.
    """
    needed = places_needed(problem)
    if not needed:
        return ""
    jars = all_of(jars_said(n, jar) for jar, n in sorted(needed.items()))
    return f"use a canner that takes {jars} at once; {NO_TIME_HELPS}"


def a_canner_more(problem: Problem) -> str:
    """Say what canner helps where none is tried: a larger one, or one more like one."""
    larger = a_larger_canner(problem)
    too_many = list(too_many_jars(problem))
    for canner in problem.canners:
        if too_many and all(
            one.at_once + canner.places.get(one.jar, 0) >= one.batch.jars
            for one in too_many
        ):
            more = f"or one more like {canner.id}, on a fire of its own"
            return larger.replace("; ", f", {more}; ")
    return larger


def none_can_be_canned(problem: Problem) -> bool:
    """Whether even one more canner like the largest would not take any batch."""
    too_many = list(too_many_jars(problem))
    return len(too_many) == len(problem.batches) and all(
        one.at_once + one.largest < one.batch.jars for one in too_many
    )
