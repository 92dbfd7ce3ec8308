"""What the pages need of the house: the day file as it stands, and the plan of it."""

from __future__ import annotations

import threading
from collections import OrderedDict
from collections.abc import Callable
from concurrent.futures import Future
from queue import SimpleQueue
from typing import Any, Protocol

from stillroom.methods.learned import Learned
from stillroom.planning.dayplan import DayPlan
from stillroom.planning.other_days.what_if import plans_at_hand
from stillroom.planning.ways.held_plan import KnownPlan
from stillroom.records.days import ChangedMeanwhile
from stillroom.web.planner import Planned as Planned
from stillroom.web.planner import PlanningProcess
from stillroom.web.search_on import SEARCHED_ON, Searched, SearchOn
from stillroom.web.shown_kept import written

KEPT_PLANS = 8
"""Plans of the latest texts that are kept, so that going back to one costs nothing."""


_Asked = tuple[str, "Future[Planned]", tuple[KnownPlan, ...]]
"""A day file, where its plan is waited for, and plans to begin with."""


class DayStore(Protocol):
    """Where day files are kept; a new one never overwrites an old one."""

    def current(self) -> str | None:
        """Text of the latest day file; `None` where none was ever saved."""
        ...

    def save(
        self, text: str, why: str, *, over: str | None = None, shown: str = ""
    ) -> object:
        """Append a new revision, and say why; not ``over`` any text but that."""
        ...


class Shop:
    """
    The day file and its plan, for pages that must stay quick.

    One thread in the background plans each distinct text once; a page that comes while
    it is at work is told so (`None`) and asks again.

    Parameters
    ----------
    store : DayStore
        Where day files are kept.
    seconds : float
        What the search for a better timetable may take. [s]
    planner : callable, optional
        Takes text and ``seconds``, gives the plan; by default a `PlanningProcess`.
    learner : callable, optional
        Gives what past days taught, at the moment when a text is planned: a plan that
        was made does not change while someone works by it.
    begin_with : tuple of KnownPlan
        Plans that were kept with the day file as it stands.
    longer : SearchOn, optional
        Where the search for a better plan of a day goes on.
    """

    def __init__(
        self,
        store: DayStore,
        *,
        seconds: float = 5.0,
        planner: Callable[..., Planned] | None = None,
        learner: Callable[[str], Learned] | None = None,
        begin_with: tuple[KnownPlan, ...] = (),
        longer: SearchOn | None = None,
    ) -> None:
        self.seconds = seconds
        self.longer = SearchOn() if longer is None else longer
        self._store = store
        self._planner = PlanningProcess() if planner is None else planner
        self._learner = learner
        self._plans: OrderedDict[str, Future[Planned]] = OrderedDict()
        self._lock = threading.Lock()
        self._asked: SimpleQueue[_Asked] = SimpleQueue()
        # A daemon, so that ending the program never waits for a search.
        threading.Thread(target=self._work, name="planner", daemon=True).start()
        if self.day_text().strip():
            # so that the first page need not wait
            self._plan_of(self.day_text(), begin_with)

    def day_text(self) -> str:
        """Text of the day file as it stands; empty where there is none yet."""
        return self._store.current() or ""

    def save_day(
        self,
        text: str,
        why: str,
        *,
        over: str,
        begin_with: tuple[KnownPlan, ...] = (),
        promised: KnownPlan | None = None,
    ) -> None:
        """
        Append ``text`` as a new revision and begin to plan it.

        Parameters
        ----------
        text, why : str
            The day file, and what was changed.
        over : str
            The day file that the writer had before her, empty for none.
        begin_with : tuple of KnownPlan
            Plans of it that were shown: the search begins with the best of them, so
            that what she liked is not lost.
        promised : KnownPlan, optional
            The one of them that she chose: it is kept with the day file.

        Raises
        ------
        ChangedMeanwhile
            If another one was saved since, be it in the moment before.
        """
        shown = "" if promised is None else written(promised)
        self._store.save(text, why, over=over, shown=shown)
        self.longer.stop()  # of the day as it was
        self._plan_of(text, begin_with)

    def plan(self) -> Planned | None:
        """
        Plan of the day as it stands; `None` while it is still being worked out.

        Raises
        ------
        Exception
            Whatever the planner raised: a mistake in the program, for the error page.
        """
        future = self._plan_of(self.day_text())
        return future.result() if future.done() else None

    def plan_within(self, seconds: float) -> Planned | None:
        """Like `plan`, but wait so long for it. [s]"""
        future = self._plan_of(self.day_text())
        try:
            return future.result(timeout=seconds)
        except TimeoutError:
            return None

    def search_on(self, may_take: Callable[[], bool]) -> None:
        """
        Look for a better plan of the day as it stands, for longer, from the one it has.

        The one that it has is the day's until then. A better one is kept with the day
        file.

        Parameters
        ----------
        may_take : callable
            Whether the day may still have another plan, asked when one was found.
        """
        text, plan = self.day_text(), self.plan()
        if isinstance(plan, DayPlan):
            self.longer.begin(
                text,
                plan,
                lambda found, why: may_take() and self._take(text, found, why),
            )

    def searched(self) -> Searched | None:
        """Return the longer search of the day as it stands; `None` where none was."""
        return self.longer.of(self.day_text())

    def _take(self, text: str, plan: DayPlan, better: str) -> bool:
        """Make a plan that of the day file, if that is still the day's."""
        if text != self.day_text():
            return False
        if better:
            shown = written(plans_at_hand(plan)[0])
            try:
                why = f"{SEARCHED_ON}{better}"
                self._store.save(text, why, over=text, shown=shown)
            except ChangedMeanwhile:
                return False
        future: Future[Planned] = Future()
        future.set_result(plan)
        with self._lock:
            self._plans[text] = future
        return True

    def close(self) -> None:
        """Break off what is being planned; the end of the program does it as well."""
        self.longer.stop()
        if isinstance(self._planner, PlanningProcess):
            self._planner.close()

    def _plan_of(
        self, text: str, begin_with: tuple[KnownPlan, ...] = ()
    ) -> Future[Planned]:
        with self._lock:
            future = self._plans.get(text)
            if future is None or begin_with:
                future = self._plans[text] = Future()
                self._asked.put((text, future, begin_with))
                while len(self._plans) > KEPT_PLANS:
                    self._plans.popitem(last=False)
            self._plans.move_to_end(text)
            return future

    def _work(self) -> None:
        while True:
            text, future, begin_with = self._asked.get()
            with self._lock:
                wanted = self._plans.get(text) is future
            if not wanted:  # nobody wants this one any longer
                continue
            try:
                more: dict[str, Any] = {}
                if self._learner:
                    more["learned"] = self._learner(text)
                if begin_with:
                    more["begin_with"] = begin_with
                future.set_result(self._planner(text, seconds=self.seconds, **more))
            except Exception as error:  # noqa: BLE001  # goes on to whoever asks
                with self._lock:  # and who asks after them has it tried again
                    if self._plans.get(text) is future:
                        del self._plans[text]
                future.set_exception(error)
