"""The bound, reckoned beside the search for a plan, and for no longer than that."""

from __future__ import annotations

import threading
import time
from collections.abc import Sequence

from stillroom.planning.bounding.together import bound_together
from stillroom.planning.bounds import Bound
from stillroom.planning.problem import Problem

SHARE_OF_TIME = 0.25
LEAST_S = 1.0
"""The bound may take so much of the time, and of a short time so many seconds."""

Trace = Sequence[tuple[float, int, int]]
"""Seconds, best figure, bound."""


class BoundBeside:
    """
    A better bound on the finish than the one that is known, found in a thread.

    Parameters
    ----------
    problem : Problem
        The day.
    known : Bound
        A bound that is known already.
    at_most : int or None
        A plan that ends then is known. [min]
    began : float
        `time.monotonic` that the seconds of ``told`` count from.
    """

    def __init__(
        self, problem: Problem, known: Bound, at_most: int | None, began: float
    ) -> None:
        self.problem, self.best, self.at_most = problem, known, at_most
        self.began = began
        self.told: list[tuple[float, int]] = []
        self._until: float | None = None
        self._stopped = threading.Event()
        self._thread = threading.Thread(target=self._work)
        self._failed: Exception | None = None

    def start(self, seconds: float) -> None:
        """Begin; it takes its share of so many seconds at most."""
        allowed = max(min(LEAST_S, seconds), SHARE_OF_TIME * seconds)
        self._until = time.monotonic() + allowed
        self._thread.start()

    def reckon(self) -> None:
        """Do it all here and now, however long it takes: the same bound each time."""
        self._work()
        self._raise()

    def stop(self) -> Bound:
        """End it; what is proven by now."""
        self._stopped.set()
        if self._thread.ident is not None:
            self._thread.join()
        self._raise()
        return self.best

    def told_in(self, trace: Trace) -> tuple[tuple[float, int, int], ...]:
        """A trace of the search, with the bounds as they came, in order of time."""
        found = []
        for seconds, best, bound in trace:
            known = [minute for at, minute in self.told if at <= seconds]
            found.append((seconds, best, max([bound, *known])))
        for seconds, minute in self.told:
            before = [(best, bound) for at, best, bound in found if at <= seconds]
            if before:
                best, bound = before[-1]
                found.append((seconds, best, max(bound, minute)))
                found.sort(key=lambda moment: moment[0])
        return tuple(found)

    def _is_over(self) -> bool:
        late = self._until is not None and time.monotonic() >= self._until
        return late or self._stopped.is_set()

    def _hear(self, better: Bound) -> None:
        self.best = better
        self.told.append((time.monotonic() - self.began, better.minute))

    def _work(self) -> None:
        try:
            bound_together(
                self.problem,
                self.best,
                at_most=self.at_most,
                is_over=self._is_over,
                on_better=self._hear,
            )
        except Exception as failed:  # noqa: BLE001 - a thread: raised by `stop`
            self._failed = failed

    def _raise(self) -> None:
        if self._failed is not None:
            raise self._failed
