"""
Closed jars that a plan lets stand for too long to be canned: said at their load.

No plan of a whole day has any. One of a day under way may, where nothing else is left;
whoever lowers that load is to read it there, and not only when it was planned.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from stillroom.planning.daytime import clock_time, said_minutes
from stillroom.planning.problem import Problem
from stillroom.planning.timetable import PlacedLoad, Timetable

INTO_THE_COLD_MIN = 120
"""
Cooked food and filled jars are in the cold by then, or thrown away: row stood-before of
`book/data/trouble.csv` (Univ. of Nebraska-Lincoln Extension). [min]
"""
_SAID_BY = "Univ. of Nebraska-Lincoln Extension"


def cold_or_anew(hour: str) -> str:
    """
    Say what becomes of closed jars that stand too long, by a clock time.

    >>> cold_or_anew("11:05")[:52]
    'By 11:05, within 2 h, they go into the refrigerator '
    """
    return (
        f"By {hour}, within 2 h, they go into the refrigerator or freezer, and are "
        "eaten from there; or heat the food through before then, pack it hot into "
        "clean jars under new lids and give the full time."
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class StoodClosed:
    """Jars of one batch of a load that stand closed for longer than they may."""

    batch: str
    since_min: int
    stands_min: int

    def words(self, starts_at: str) -> str:
        """Say it, and what is done with them, the strict answer at its hour."""
        since = clock_time(starts_at, self.since_min)
        hour = clock_time(starts_at, self.since_min + INTO_THE_COLD_MIN)
        return (
            f"do not can the jars of {self.batch} so: closed at {since}, they would "
            f"stand {said_minutes(self.stands_min)} before they go in. "
            f"{cold_or_anew(hour)} Later than {hour} discard low-acid and doubtful "
            "food untasted; discard acid food too, or hold it cold and closed, eat "
            f"none of it, and ask the extension service ({_SAID_BY})"
        )


def stood_closed(
    problem: Problem,
    timetable: Timetable,
    load: PlacedLoad,
    closed_min: Mapping[str, int] | None = None,
) -> StoodClosed | None:
    """
    Return the jars of a load that stand longest before it; `None` if none too long.

    Parameters
    ----------
    problem : Problem
        The day.
    timetable : Timetable
        A plan of it.
    load : PlacedLoad
        One of its loads.
    closed_min : mapping, optional
        Batches whose jars were closed, and when: later than by the plan it counts from
        then. Sooner it does not: they may go in sooner as well. [min]
    """
    ends = {(s.batch, s.step): s.end_min for s in timetable.steps}
    aboard = {name for name, _ in load.jars}
    found = []
    for batch in problem.batches:
        if batch.id not in aboard:
            continue
        closing = (s.id for s in batch.steps if batch.ready_after in ("", s.id))
        planned = [ends[batch.id, s] for s in closing if (batch.id, s) in ends]
        said = (closed_min or {}).get(batch.id)
        since = max([*planned, *([] if said is None else [said])], default=None)
        if since is None:
            continue
        stands = load.lower_min - since
        if stands > INTO_THE_COLD_MIN:
            found.append(
                StoodClosed(batch=batch.id, since_min=since, stands_min=stands)
            )
    return max(found, key=lambda one: one.stands_min, default=None)
