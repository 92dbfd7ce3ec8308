"""
The bound, reckoned beside the search for a plan, and for no longer than that.

First come sums, and then, where the caller has one, a slower proof that goes further.
"""

from __future__ import annotations

import threading
import time
from collections.abc import Callable, Sequence
from dataclasses import replace
from typing import Protocol

from stillroom.planning.bounding.bounds import Bound
from stillroom.planning.bounding.together import FINEST, bound_together
from stillroom.planning.daytime import clock_time
from stillroom.planning.problem import Problem

SHARE_OF_TIME = 0.25
SHARE_GOING_FURTHER = 0.35
"""The same where a slower proof comes after the sums."""
SHARE_OF_SUMS, LEAST_SUMS_S = 0.5, 1.25
"""Of that, for the sums, where something comes after them; what they leave is its."""
A_ROUND_S = 0.005
"""What one of the first rounds takes for each kind of batch: 3 to 5 ms. [s]"""
LEAST_ROUNDS = 8
FIRST_ROUNDS = 20
"""So many are waited for where the search has its proof already: they give a reason."""
A_LOOK_S = 0.1
"""So long its end is waited for before it is told again to stop. [s]"""
LEAST_S = 1.0
"""The bound may take so much of the time, and of a short time so many seconds."""

Trace = Sequence[tuple[float, int, int]]
"""Seconds, best figure, bound."""


RULED_OUT = "one rule or another forbids it"


class Further(Protocol):
    """A slower proof, which begins where the sums ended."""

    cut: bool
    """Whether the clock ended counted work before it was done."""

    def stop(self) -> None:
        """End it, from another thread."""

    def up_from(
        self,
        known: int,
        at_most: int,
        seconds: float,
        latest: float | None,
        on_better: Callable[[int], None],
    ) -> int:
        """
        Prove of later minutes that no plan ends before them.

        ``latest`` is the clock's last resort where work is counted, else `None`.
        """


def rounds_in(problem: Problem, seconds: float) -> int:
    """Rounds of a bound that so many seconds of a core have room for, about."""
    return max(LEAST_ROUNDS, int(seconds / _round_s(problem)))


def _round_s(problem: Problem) -> float:
    kinds = len({repr(replace(batch, id="")) for batch in problem.batches})
    return A_ROUND_S * max(1, kinds)


def counted_rounds(problem: Problem, seconds: float) -> Callable[[], bool]:
    """
    Count rounds of bounds, all asked together; true when they come to so many seconds.

    For ``is_over`` of a bound where work is counted and not timed.
    """
    left = rounds_in(problem, seconds)

    def is_over() -> bool:
        nonlocal left
        left -= 1
        return left < 0

    return is_over


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
    further : Further, optional
        What goes on where the sums end; only where a plan is known.
    """

    def __init__(
        self,
        problem: Problem,
        known: Bound,
        at_most: int | None,
        began: float,
        further: Further | None = None,
    ) -> None:
        self.problem, self.best, self.at_most = problem, known, at_most
        self.began = began
        self.further = None if at_most is None else further
        self.told: list[tuple[float, int]] = []
        self.cut = False
        """Whether the clock ended it before its rounds were over."""
        self._until: float | None = None
        self._latest: float | None = None
        self._further_s = 0.0
        self._rounds_left: int | None = None
        self._rounds, self._early = 0, known
        self._first_rounds_over = threading.Event()
        self._by_sums = known
        """What the slower proof begins with."""
        self._stopped = threading.Event()
        self._thread = threading.Thread(target=self._work)
        self._failed: Exception | None = None

    def start(self, seconds: float) -> None:
        """Begin; it takes its share of so many seconds at most."""
        self._until = time.monotonic() + self._for_sums(seconds)
        self._thread.start()

    def start_counted(self, seconds: float, latest: float) -> None:
        """
        Begin; it takes its share of so many seconds in rounds, not by the clock.

        Past ``latest`` by `time.monotonic` it ends all the same, which ``cut`` says.
        """
        self._rounds_left = rounds_in(self.problem, self._for_sums(seconds))
        self._until = self._latest = latest
        self._thread.start()

    def stop(self, *, now: bool = True) -> Bound:
        """End it, or let it end where it counts its rounds; what is proven by then."""
        if now:
            self._stop_further()
        try:
            while self._thread.is_alive():
                self._thread.join(A_LOOK_S)
                if self._stopped.is_set():  # it may have begun just then
                    self._stop_further()
        except BaseException:  # broken off: nobody waits for it
            self._stop_further()
            raise
        self._raise()
        return self.best

    def _stop_further(self) -> None:
        self._stopped.set()
        if self.further is not None:
            self.further.stop()

    def go_on(
        self, further: Further, at_most: int, seconds: float, latest: float | None
    ) -> Bound:
        """Prove more in so many seconds that were left, when all else is over."""
        further.up_from(self.best.minute, at_most, seconds, latest, self._ruled_out)
        self.cut |= further.cut
        return self.best

    def stop_early(self) -> Bound:
        """End it after its first rounds: what was proven in those, and no more."""
        self._first_rounds_over.wait()
        self.stop()
        return self._early

    def _for_sums(self, seconds: float) -> float:
        """Its share of the time for the sums; the rest is for what goes further."""
        share = SHARE_OF_TIME if self.further is None else SHARE_GOING_FURTHER
        allowed = max(min(LEAST_S, seconds), share * seconds)
        if self.further is None:
            return allowed
        sums = min(allowed, max(LEAST_SUMS_S, SHARE_OF_SUMS * allowed))
        self._further_s = allowed - sums
        return sums

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
        if self._rounds_left is not None:
            self.cut |= late
            self._rounds_left -= 1
            self._rounds += 1
            if self._rounds > FIRST_ROUNDS:
                self._first_rounds_over.set()
            late |= self._rounds_left < 0
        return late or self._stopped.is_set()

    def _hear(self, better: Bound) -> None:
        if self._rounds <= FIRST_ROUNDS:
            self._early = better
        self._by_sums = better
        self._tell(better)

    def _tell(self, better: Bound) -> None:
        self.best = better
        self.told.append((time.monotonic() - self.began, better.minute))

    def _work(self) -> None:
        try:
            bound_together(
                self.problem,
                self.best,
                at_most=self.at_most,
                finest=FINEST,
                is_over=self._is_over,
                on_better=self._hear,
            )
            self._first_rounds_over.set()
            self._go_further()
        except Exception as failed:  # noqa: BLE001 - a thread: raised by `stop`
            self._failed = failed
        finally:
            self._first_rounds_over.set()

    def _go_further(self) -> None:
        if self.further is None or self.at_most is None or self._stopped.is_set():
            return
        seconds = self._further_s
        if self._rounds_left is not None:
            seconds += max(0, self._rounds_left) * _round_s(self.problem)
        elif self._until is not None:
            seconds += max(0.0, self._until - time.monotonic())
        if seconds <= 0 or self.best.minute >= self.at_most:
            return
        self.further.up_from(
            self.best.minute,
            self.at_most,
            seconds,
            self._latest,
            self._ruled_out,
        )
        self.cut |= self.further.cut

    def _ruled_out(self, minute: int) -> None:
        sums, why = self._by_sums, RULED_OUT
        if sums.why:
            until = clock_time(self.problem.starts_at, sums.minute)
            why = f"{why}, and before {until} this: {sums.why}"
        self._tell(Bound(minute, why))

    def _raise(self) -> None:
        if self._failed is not None:
            raise self._failed
