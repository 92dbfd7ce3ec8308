"""
Searches beside the pages: an executor of planning processes.

A page that plans must not keep the server in the solver, and several days may be
planned at once. Any other `concurrent.futures.Executor` may stand here, one that spans
machines too.
"""

from __future__ import annotations

from collections.abc import Callable
from concurrent.futures import Executor, Future, ThreadPoolExecutor
from queue import SimpleQueue
from typing import Any, ParamSpec, TypeVar

from stillroom.web.planner import PlanningProcess

P = ParamSpec("P")
T = TypeVar("T")


class Beside(Executor):
    """
    So many planning processes, each started when first needed.

    Parameters
    ----------
    at_once : int
        How many may plan at a time.
    """

    def __init__(self, at_once: int = 1) -> None:
        self._threads = ThreadPoolExecutor(at_once, thread_name_prefix="beside")
        self._all = [PlanningProcess() for _ in range(at_once)]
        self._free: SimpleQueue[PlanningProcess] = SimpleQueue()
        for process in self._all:
            self._free.put(process)

    def submit(
        self, fn: Callable[P, T], /, *args: P.args, **kwargs: P.kwargs
    ) -> Future[T]:
        """Call a function, which is found by its name, in a free process."""
        return self._threads.submit(self._run, fn, args, kwargs)

    def shutdown(self, wait: bool = True, *, cancel_futures: bool = False) -> None:
        """End the processes, also in the midst of a search."""
        self._threads.shutdown(wait=False, cancel_futures=True)
        for process in self._all:
            process.close()

    def _run(self, fn: Any, args: Any, kwargs: Any) -> Any:
        process = self._free.get()
        try:
            return process.run(fn, *args, **kwargs)
        finally:
            self._free.put(process)
