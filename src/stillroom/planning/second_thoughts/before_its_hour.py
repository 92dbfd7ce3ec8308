"""
A day that was begun before its hour, planned again before that hour, too.

Whoever has begun something is there, and their minutes are used; all others come as
they said. The search counts its minutes from now; what it found is told in those of
the day again, the ones before its hour negative.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from stillroom.planning.begun.as_known import Known
from stillroom.planning.begun.changes import Changes
from stillroom.planning.dayplan import Spare
from stillroom.planning.happened import Happened
from stillroom.planning.problem import Problem
from stillroom.planning.second_thoughts.replanned import Replanned
from stillroom.planning.timetable import Timetable
from stillroom.planning.way_changes import starting_earlier


@dataclass(frozen=True, slots=True)
class Sooner:
    """Minutes of a day as they count from so many minutes before its hour."""

    by: int
    there: frozenset[str]
    """People who have begun to work."""

    def day(self, problem: Problem) -> Problem:
        """The day, begun sooner by those who are there."""
        if not self.by:
            return problem
        people = {p.id: p for p in problem.people}
        earlier = starting_earlier(problem, self.by)
        come = (
            p
            if p.id in self.there
            else replace(p, arrives_min=people[p.id].arrives_min + self.by)
            for p in earlier.people
        )
        return replace(earlier, people=tuple(come))

    def plan(self, plan: Timetable) -> Timetable:
        """A plan of it."""
        return plan.moved(self.by)

    def happened(self, happened: Happened) -> Happened:
        """What has happened."""
        return _moved(happened, self.by)

    def changes(self, changes: Changes) -> Changes:
        """What is otherwise."""
        leaves = {who: minute + self.by for who, minute in changes.leaves_min.items()}
        back = {who: minute + self.by for who, minute in changes.back_min.items()}
        moved = {
            (who, was + self.by): at + self.by
            for (who, was), at in changes.moved_min.items()
        }
        return replace(changes, leaves_min=leaves, back_min=back, moved_min=moved)

    def spare(self, problem: Problem, spare: Spare) -> Spare:
        """A batch that was left out; ``problem`` is any day of the same hours."""
        alone = replace(problem, batches=(spare.batch,), wants=spare.wants)
        earlier = self.day(alone)
        (batch,) = earlier.batches
        return replace(spare, batch=batch, wants=earlier.wants)

    def back(self, found: Replanned) -> Replanned:
        """What was found, in the minutes of the day."""
        by, order, said = self.by, found.old_order, found.promised_min
        if not by:
            return found
        return replace(
            found,
            problem=starting_earlier(found.problem, -by),
            happened=_moved(found.happened, -by),
            old=found.old.moved(-by),
            new=found.new.moved(-by),
            moves=tuple(
                replace(m, was_min=m.was_min - by, is_min=m.is_min - by)
                for m in found.moves
            ),
            broken=tuple((what.moved(-by), over) for what, over in found.broken),
            old_order=order
            and replace(
                order, finish_min=order.finish_min - by, score=order.score - by
            ),
            ends_first={
                who: replace(
                    held, start_min=held.start_min - by, end_min=held.end_min - by
                )
                for who, held in found.ends_first.items()
            },
            promised_min=None if said is None else said - by,
            not_made=tuple(
                replace(out, by_min=out.by_min - by) for out in found.not_made
            ),
        )


def sooner(known: Known) -> Sooner:
    """How much before its hour the rest of a day may begin, and for whom."""
    there = frozenset(
        s.person
        for s in known.happened.steps
        if s.person is not None and (s.batch, s.step) not in known.by_plan
    )
    return Sooner(max(0, -known.happened.now_min) if there else 0, there)


def _moved(happened: Happened, by: int) -> Happened:
    plan = Timetable(steps=happened.steps, loads=happened.loads, breaks=happened.breaks)
    moved = plan.moved(by)
    return Happened(
        now_min=happened.now_min + by,
        steps=moved.steps,
        loads=moved.loads,
        breaks=moved.breaks,
        lit=None
        if happened.lit is None
        else {load: at + by for load, at in happened.lit.items()},
    )
