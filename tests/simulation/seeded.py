"""All chance out of one seed: names of requests, times of recording, the clock."""

from __future__ import annotations

import datetime as dt
import functools
import random
import secrets
import uuid
from collections.abc import Iterator
from contextlib import ExitStack, contextmanager
from unittest.mock import patch

import anyio.to_thread

from stillroom.cli import booking
from stillroom.records import days
from tests.closed_for_good import close_for_good
from tests.simulation.browser import in_this_thread

ZONE = dt.timezone(dt.timedelta(hours=-7))
MONDAY = dt.datetime(2026, 9, 7, 6, 30, tzinfo=ZONE)


class FarmClock:
    """The clock of the house's computer: it stands until it is turned."""

    def __init__(self) -> None:
        self.at = MONDAY

    def now(self) -> dt.datetime:
        return self.at

    def go(self, **by: float) -> None:
        """Turn it on, or back as a clock that is set does."""
        self.at += dt.timedelta(**by)


@contextmanager
def seeded(seed: int, clock: FarmClock) -> Iterator[random.Random]:
    """
    Give the chance of a seed; inside, nothing else is left to chance or the hour.

    The names that pages and commands give to requests come from a second stream, so
    that a page that draws one more of them changes no other thing of the week.
    """
    names = random.Random(f"names of {seed}")

    def uuid4() -> uuid.UUID:
        return uuid.UUID(int=names.getrandbits(128), version=4)

    def token_hex(nbytes: int | None = None) -> str:
        return names.randbytes(nbytes or 32).hex()

    def utc_now() -> dt.datetime:
        return clock.now().astimezone(dt.UTC)

    with ExitStack() as stack:
        for thing, name, ours in (
            (anyio.to_thread, "run_sync", in_this_thread),
            (uuid, "uuid4", uuid4),
            (secrets, "token_hex", token_hex),
            (days, "utc_now", utc_now),
            (days, "Ledger", functools.partial(days.Ledger, now=utc_now)),
            # A command asks for its local time: the farm's, on every machine.
            (booking, "WallClock", lambda: clock),
            (days.Records, "close", close_for_good),
        ):
            stack.enter_context(patch.object(thing, name, ours))
        yield random.Random(f"farm week {seed}")
