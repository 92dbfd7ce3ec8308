"""Plans that were shown and may be taken over, until the next few are made."""

from __future__ import annotations

import secrets
import threading
from collections import OrderedDict

from stillroom.running.again import Again

MOST = 24
NAME_BYTES = 12


class AgainKept:
    """New plans by the name in their page's address."""

    def __init__(self) -> None:
        self._kept: OrderedDict[str, Again] = OrderedDict()
        self._lock = threading.Lock()

    def keep(self, again: Again) -> str:
        """Keep a plan, and return the name that it is found by."""
        name = secrets.token_hex(NAME_BYTES)
        with self._lock:
            self._kept[name] = again
            while len(self._kept) > MOST:
                self._kept.popitem(last=False)
        return name

    def of(self, name: str) -> Again | None:
        """Return the plan of that name; `None` where it is gone."""
        with self._lock:
            return self._kept.get(name)
