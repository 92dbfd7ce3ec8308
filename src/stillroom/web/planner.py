"""
Planning in a process of its own, beside the one that serves the pages.

A search keeps a core busy for seconds and cannot be broken off from another thread: a
server that ends while one of its threads is in the solver is torn down by the system.
A process can be ended at any moment, and the pages stay quick beside it. It speaks
over its pipes: a pickled (function, arguments) in, a pickled (answer, error) out.
"""

from __future__ import annotations

import atexit
import contextlib
import os
import pickle
import subprocess
import sys
import threading
import traceback
from collections.abc import Callable, Sequence
from typing import IO, Any

from stillroom.methods.learned import AS_PUBLISHED, Learned
from stillroom.planning.day_file.dayfile import read_day
from stillroom.planning.dayplan import DayPlan
from stillroom.planning.ways.held_plan import KnownPlan
from stillroom.refusal import Refusal, Unreadable

Planned = DayPlan | Refusal | Unreadable


def plan_text(
    text: str,
    *,
    seconds: float,
    learned: Learned = AS_PUBLISHED,
    begin_with: Sequence[KnownPlan] = (),
    deterministic: bool = True,
) -> Planned:
    """
    Read a day file and plan it; what is wrong comes back as a value.

    Parameters
    ----------
    text : str
        A day file, TOML.
    seconds : float
        What the search for a better timetable may take. [s]
    learned : Learned
        What past days taught.
    begin_with : sequence of KnownPlan
        Plans that were shown of this day or days like it: what comes is no worse.
    deterministic : bool
        Whether the search ends by counted work; else by the clock.
    """
    from stillroom.planning.whole_day import plan_the_day  # loads the solver

    try:
        day = read_day(text)
        return plan_the_day(
            day,
            seconds=seconds,
            learned=learned,
            begin_with=begin_with,
            deterministic=deterministic,
        )
    except Unreadable as unreadable:  # also a day that nobody in it can work
        return unreadable


class PlanningProcess:
    """Plans as `plan_text` does, in a process that is started when first needed."""

    def __init__(self) -> None:
        self._process: subprocess.Popen[bytes] | None = None
        self._lock = threading.Lock()
        self._closed = False
        atexit.register(self.close)

    def __call__(self, text: str, *, seconds: float, **more: Any) -> Planned:
        """
        Plan a day file as `plan_text` does; blocks until it is done.

        Raises
        ------
        RuntimeError
            Where the planner itself failed, with its traceback, or was ended twice.
        """
        return self.run(  # type: ignore[no-any-return]
            plan_text, text, seconds=seconds, **more
        )

    def run(self, function: Callable[..., Any], *args: Any, **kwargs: Any) -> Any:
        """
        Call a function there, which is found by its name; blocks until it is done.

        Raises
        ------
        RuntimeError
            Where the function failed, with its traceback, or was ended twice.
        """
        for _ in range(2):  # a process that was killed from outside is started anew
            to, come = self._pipes()
            try:
                pickle.dump((function, args, kwargs), to)
                to.flush()
                answer, error = pickle.load(come)  # of our own child
            except (EOFError, OSError, ValueError, pickle.UnpicklingError):
                self._end()
                continue
            if error:
                raise RuntimeError(error)
            return answer
        raise RuntimeError("the planning process was ended from outside")

    def close(self) -> None:
        """End the process, also in the midst of a search."""
        self._closed = True
        self._end()

    def _end(self) -> None:
        with self._lock:
            process, self._process = self._process, None
        if process is None:
            return
        process.kill()
        process.wait()
        for pipe in (process.stdin, process.stdout):
            if pipe is not None:
                with contextlib.suppress(OSError):  # what was not sent is lost, rightly
                    pipe.close()

    def _pipes(self) -> tuple[IO[bytes], IO[bytes]]:
        with self._lock:
            if self._closed:
                raise RuntimeError("the planning process was closed")
            if self._process is None:
                self._process = subprocess.Popen(
                    [sys.executable, "-m", __name__],
                    stdin=subprocess.PIPE,
                    stdout=subprocess.PIPE,
                    start_new_session=True,  # Ctrl-C in the terminal is not for it
                )
            assert self._process.stdin is not None
            assert self._process.stdout is not None
            return self._process.stdin, self._process.stdout


def main() -> None:
    """Answer what comes in on standard input until it ends."""
    # What a library prints must not come between two answers.
    answers = os.fdopen(os.dup(1), "wb")
    os.dup2(2, 1)
    while True:
        try:
            function, args, kwargs = pickle.load(sys.stdin.buffer)
        except EOFError:  # the pages have ended
            return
        answer: Any = None
        error = ""
        try:
            answer = function(*args, **kwargs)
        except Exception:  # noqa: BLE001  # goes to the page that asked
            error = traceback.format_exc()
        try:
            pickle.dump((answer, error), answers)
            answers.flush()
        except BrokenPipeError:  # the pages have ended, and nobody waits for it
            os._exit(0)  # not past the pipe's own last flush, which would fail too


if __name__ == "__main__":
    main()
