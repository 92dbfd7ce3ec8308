"""Plans that were shown and may be taken over, until others were shown since."""

from __future__ import annotations

import secrets
import threading
from collections import OrderedDict
from collections.abc import Callable
from concurrent.futures import Future

from stillroom.refusal import Refusal
from stillroom.running.again import Again, with_room, without

MOST = 24
NAME_BYTES = 12
ONE_OF = "_"
"""Between the name of a plan and the number of one that it offers."""


class AgainKept:
    """
    New plans by the name in their page's address, each with those that it offers.

    Each is of one run, and is taken over into that one, whichever the stove shows by
    then.

    Only `keep` takes room. What is looked at or taken over stays before what is not.
    """

    def __init__(self) -> None:
        self._kept: OrderedDict[str, tuple[str, Again]] = OrderedDict()
        self._typed: dict[str, dict[str, list[str]]] = {}
        self._coming: dict[str, Future[Again | Refusal]] = {}
        self._lock = threading.Lock()

    def keep(
        self, run: str, again: Again, typed: dict[str, list[str]] | None = None
    ) -> str:
        """
        Keep a plan of the rest of a run, and return the name that it is found by.

        What was typed to come to it stays with it, to be said otherwise.
        """
        name = secrets.token_hex(NAME_BYTES)
        with self._lock:
            self._kept[name] = (run, again)
            self._typed[name] = typed or {}
            while len(self._kept) > MOST:
                gone, _ = self._kept.popitem(last=False)
                del self._typed[gone]
        return name

    def typed(self, name: str) -> dict[str, list[str]]:
        """Return what was typed to come to a plan, or one that it offers."""
        with self._lock:
            return self._typed.get(name.partition(ONE_OF)[0], {})

    def once(
        self, name: str, begin: Callable[[], Future[Again | Refusal]]
    ) -> Future[Again | Refusal]:
        """Begin a longer search of a plan; pressed twice, it is the same one."""
        with self._lock:
            coming = self._coming.get(name)
            if coming is None or coming.done():
                self._coming = {
                    of: one for of, one in self._coming.items() if not one.done()
                }
                coming = self._coming[name] = begin()
            return coming

    def of(self, name: str) -> tuple[str, Again] | None:
        """Return the plan of that name, its run before it; `None` where it is gone."""
        whole, _, number = name.partition(ONE_OF)
        with self._lock:
            found = self._kept.get(whole)
            if found is None:
                return None
            self._kept.move_to_end(whole)
        if not number:
            return found
        run, again = found
        offered = dict(_offered(whole, again)).get(name)
        return None if offered is None else (run, offered)


def without_names(name: str, again: Again) -> list[str]:
    """Names of the plans without one batch more, in the order of the offers."""
    return [named for named, _ in _offered(name, again)][: len(again.offers)]


def with_names(name: str, again: Again) -> list[str]:
    """Names of the plans with one batch more, in the order of what has room."""
    return [named for named, _ in _offered(name, again)][len(again.offers) :]


def _offered(name: str, again: Again) -> list[tuple[str, Again]]:
    plans = [
        *(without(again, offer) for offer in again.offers),
        *(with_room(again, room) for room in again.rooms),
    ]
    return [(f"{name}{ONE_OF}{n}", plan) for n, plan in enumerate(plans, start=1)]
