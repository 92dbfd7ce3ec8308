"""Plans of what-if days that were shown, so that one of them can be taken over."""

from __future__ import annotations

import threading
from collections import OrderedDict

from stillroom.planning.dayplan import DayPlan

MOST = 24


class FoundKept:
    """Plans by the day file that they change, and the change."""

    def __init__(self) -> None:
        self._kept: OrderedDict[tuple[str, str], DayPlan] = OrderedDict()
        self._lock = threading.Lock()

    def keep(self, text: str, change: str, plan: DayPlan) -> None:
        """Keep a plan of a day with a change."""
        with self._lock:
            self._kept[text, change] = plan
            self._kept.move_to_end((text, change))
            while len(self._kept) > MOST:
                self._kept.popitem(last=False)

    def of(self, text: str, change: str) -> DayPlan | None:
        """Return the plan that was shown; `None` where it is gone."""
        with self._lock:
            return self._kept.get((text, change))
