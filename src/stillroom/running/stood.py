"""
How long the jars of a load have stood closed, and whether that is too long. Pure.

Filled jars do not wait. What stood too long is asked about before its clock starts,
and its lots count as unprocessed, whatever the canner then did (`stock.lacks`).
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime, timedelta, tzinfo

from stillroom.book.acid_foods import is_known_acid
from stillroom.methods.handling import CLOSED_WAIT_MIN
from stillroom.planning.daytime import said_minutes
from stillroom.planning.words.stood_closed import stood_closed
from stillroom.refusal import COMMON_PRACTICE
from stillroom.running.events import BOILING_WATER
from stillroom.running.fold import RunState
from stillroom.running.load_run import LoadRun
from stillroom.running.rules import CUT_SHORT
from stillroom.running.so_far import minute_of
from stillroom.stock.lacks import BEGUN_WITHIN_MIN


@dataclass(frozen=True, slots=True, kw_only=True)
class Stood:
    """Jars of one batch of a load that stand closed, and how long they may."""

    batch: str
    since: datetime
    minutes: int
    acid: bool
    """Whether some of it is ever kept, in the cold: then its hours are said there."""

    @property
    def words(self) -> str:
        """
        Say it, and what is to be done.

        >>> at = datetime(2026, 9, 12, 9, 5)
        >>> print(Stood(batch="green beans 1", since=at, minutes=1380,
        ...             acid=False).words)
        its jars of green beans 1 were closed at 9:05, 23 h ago, and 2 h is the limit. \
Filled jars do not wait: discard what is in them
        """
        return (
            f"its jars of {self.batch} were closed at {self.since:%-H:%M}, "
            f"{said_minutes(self.minutes)} ago, and {said_minutes(BEGUN_WITHIN_MIN)} "
            f"is the limit. Filled jars do not wait: {self._then}"
        )

    @property
    def _then(self) -> str:
        if not self.acid:
            return "discard what is in them"
        return (
            "book them as never processed, and what is published for such jars is said"
        )


STOOD_SOURCE = CUT_SHORT
"""Who says that low-acid jars without their process are redone within two hours."""


def stood_too_long(state: RunState, run: LoadRun, at: datetime) -> Stood | None:
    """Return what stands longest of the jars that wait for a clock; `None` if none."""
    late = [s for s in _standing(state, run, at) if s.minutes > BEGUN_WITHIN_MIN]
    # what is nowhere kept is said before what may still stand in the cold
    return max(late, key=lambda stood: (not stood.acid, stood.minutes), default=None)


WAITS_SAID_AFTER_MIN = {True: 60, False: 40}
"""Under pressure or not: by then jars that go in as planned have their clock, heating
and venting with it; common practice. [min]"""


def waits_closed(state: RunState, run: LoadRun, at: datetime) -> str:
    """
    Say since when jars of a load wait closed, where they are hardly in it by now.

    Jars of which the boil or the pressure was lost are in it, and have their two hours.
    """
    after = WAITS_SAID_AFTER_MIN[run.load.method != BOILING_WATER]
    waits = [s for s in _standing(state, run, at) if s.minutes > after]
    first = min(waits, key=lambda stood: stood.since, default=None)
    if first is None:
        return ""
    closed = f"its jars of {first.batch} are closed since {first.since:%-H:%M}"
    if run.times_lost:
        by = first.since + timedelta(minutes=BEGUN_WITHIN_MIN)
        return (
            f"{closed}: the whole time begins by {by:%-H:%M} at the latest, or it "
            f"counts as none ({STOOD_SOURCE})"
        )
    return (
        f"{closed}; filled jars "
        f"wait {CLOSED_WAIT_MIN} min at most before they go in ({COMMON_PRACTICE})"
    )


def stand_by_plan(state: RunState, zone: tzinfo | None) -> dict[str, str]:
    """
    Say of each load to come whose jars stand too long before it what becomes of them.

    So it may be by a plan of the rest of the day, where nothing else was left. What was
    said closed counts from then.
    """
    if state.plan is None or state.begun_at is None:
        return {}
    problem, timetable = state.plan.problem, state.plan.timetable
    begun = state.begun_at.astimezone(zone)
    done = {(batch, step): when for batch, step, when in state.done_at}
    closed = {
        batch.id: minute_of(state.earliest(when), begun, problem)
        for batch in state.batches
        if (when := done.get((batch.id, batch.closes))) is not None
    }
    gone_in = {run.load.id for run in state.loads if run.has_begun or run.lifted_at}
    found = {
        load.id: stood_closed(problem, timetable, load, closed)
        for load in timetable.loads
        if load.id not in gone_in and not load.is_cut_short
    }
    return {
        load: jars.words(problem.starts_at)
        for load, jars in found.items()
        if jars is not None
    }


def _standing(state: RunState, run: LoadRun, at: datetime) -> Iterator[Stood]:
    """Every batch of a load that was said to be closed and has no clock."""
    if run.boiling_since is not None or run.lifted_at is not None:
        return
    closed = {(batch, step): when for batch, step, when in state.done_at}
    for batch in state.batches:
        since = closed.get((batch.id, batch.closes))
        if since is None or batch.id not in dict(run.load.jars):
            continue
        since = state.earliest(since)
        yield Stood(
            batch=batch.id,
            since=since.astimezone(at.tzinfo),
            minutes=int((at - since).total_seconds() // 60),
            acid=is_known_acid(batch.product),
        )
