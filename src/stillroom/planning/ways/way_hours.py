"""
Hours that give: the day ends later or starts earlier, somebody stays or comes sooner.

Each kind is one figure, the minute until which, or from which, a group of people is
there. What fits with some minutes fits with more of them, so that the least is found by
halves; where the day's end itself moves it is read off a plan whose end is left open.
"""

from __future__ import annotations

from dataclasses import dataclass

from stillroom.planning.cpsat.solve import is_small
from stillroom.planning.cpsat.soonest import Soonest, soonest
from stillroom.planning.daytime import since_midnight_min
from stillroom.planning.judge.check import violations
from stillroom.planning.problem import Problem
from stillroom.planning.timetable import Timetable
from stillroom.planning.way_changes import (
    LONGER_DAY_MIN,
    Change,
    Changes,
    Kind,
    changed,
    ending_later,
    most_earlier,
)
from stillroom.planning.ways.way_plans import (
    SHARE,
    Time,
    how_soon,
    searched_on,
)

MOST_STEPS = 3
"""So often less is tried on a day whose answers are not proven."""
MOST_GROWTH = 8
SHARE_ON_A_SMALL_DAY = 0.35
SHARE_OF_HOURS = 0.2
"""Of the time that is left, for the hours of one changed day."""


@dataclass(frozen=True, slots=True)
class Given:
    """Hours that give, and the plan that shows that they suffice."""

    changes: Changes
    """None where the day fits as it is."""
    plan: Timetable
    least: bool
    """Less does not do: proven."""


@dataclass(frozen=True, slots=True)
class Hours:
    """Which hours may give."""

    at_end: bool
    who: tuple[str, ...] = ()
    """People who go before the day ends, or come after it starts, and need not."""

    @property
    def is_plain(self) -> bool:
        """Whether the day's end alone may give."""
        return self.at_end and not self.who

    @property
    def may_give(self) -> frozenset[tuple[Kind, str]]:
        """The hours that may give, and whose."""
        whose = Kind.STAYS if self.at_end else Kind.COMES
        all_ = Kind.ENDS if self.at_end else Kind.STARTS
        return frozenset({(all_, ""), *((whose, name) for name in self.who)})

    def least(
        self,
        day: Problem,
        like: Timetable | None,
        at: Time,
        guess: int = 1,
        limit: float = float("inf"),
        alone: int | None = None,
    ) -> Given | None:
        """
        Say how little must give; `None` where no plan was found.

        Parameters
        ----------
        day : Problem
            The day with what else is changed; its hours are as they were.
        like : Timetable or None
            A plan of a day like it.
        at : Time
            What time there is.
        guess : int
            So many minutes may do, where the day's own length gives.
        limit : float
            More minutes in all than so many are of no use.
        alone : int, optional
            So many minutes of the day's start, or end, suffice with nobody's hours.
        """
        return _Asked(self, day, like, at).least(guess, limit, alone)

    def by_end(
        self, day: Problem, plan: Timetable, *, least: bool = False
    ) -> Given | None:
        """What a plan whose end was left open asks for; `None`: more than there is."""
        ends = max([plan.finish_min, *(rest.end_min for rest in plan.breaks)])
        over = max(0, ends - day.horizon_min)
        if over > self.most(day):
            return None
        return Given(self.changes(day, over), plan, least or over == 0)

    def less(
        self, day: Problem, now: Problem, plan: Timetable, at: Time, seconds: float
    ) -> Given | None:
        """Search on from a plan of the day with hours that suffice: do fewer?"""
        return _Asked(self, day, plan, at).less(now, plan, seconds)

    def changes(self, day: Problem, minutes: int) -> Changes:
        """What changes where so many minutes are given."""
        found = []
        if self.at_end:
            until = self.from_min(day) + minutes
            if (over := until - day.horizon_min) > 0:
                found.append(Change(kind=Kind.ENDS, amount=over))
            for p in day.people:
                if p.id in self.who and until > p.leaves_min:
                    more = until - p.leaves_min
                    found.append(Change(kind=Kind.STAYS, subject=p.id, amount=more))
            return tuple(found)
        since = self.from_min(day) - minutes
        if since < 0:
            found.append(Change(kind=Kind.STARTS, amount=-since))
        for p in day.people:
            if p.id in self.who and since < p.arrives_min:
                more = p.arrives_min - since
                found.append(Change(kind=Kind.COMES, subject=p.id, amount=more))
        return tuple(found)

    def from_min(self, day: Problem) -> int:
        """The minute from which what is given is counted."""
        mine = [p for p in day.people if p.id in self.who]
        if self.at_end:
            return min((p.leaves_min for p in mine), default=day.horizon_min)
        return max((p.arrives_min for p in mine), default=0)

    def most(self, day: Problem) -> int:
        """So many minutes could be given at most: no night's sleep is for sale."""
        if not self.at_end:
            return self.from_min(day) + most_earlier(day)
        midnight = 24 * 60 - 1 - since_midnight_min(day.starts_at)
        if midnight <= day.horizon_min:  # it goes round the clock already
            midnight = day.horizon_min + LONGER_DAY_MIN
        return midnight - self.from_min(day)


def all_hours(day: Problem) -> tuple[Hours, ...]:
    """Every kind of hours that may give on a day; the plain end first."""
    early = [
        p.id for p in day.people if p.leaves_min < day.horizon_min and not p.rests_later
    ]
    late = [p.id for p in day.people if p.arrives_min > 0]
    found = []
    for at_end, people in ((True, early), (False, late)):
        found.append(Hours(at_end))
        found += [Hours(at_end, (name,)) for name in people]
        if len(people) > 1:
            found.append(Hours(at_end, tuple(people)))
    return tuple(found)


@dataclass(slots=True)
class _Asked:
    hours: Hours
    day: Problem
    like: Timetable | None
    at: Time
    stop_at: float = 0.0
    """Seconds left at which these hours have had their share."""

    def _is_over(self) -> bool:
        return self.at.is_over() or self.at.left() < self.stop_at

    def least(self, guess: int, limit: float, alone: int | None) -> Given | None:
        if self.hours.is_plain:
            return self._plain_end()
        share = SHARE_ON_A_SMALL_DAY if is_small(self.day) else SHARE_OF_HOURS
        self.stop_at = 0.0 if self.at.counted else (1 - share) * self.at.left()
        most = self.hours.most(self.day)
        if alone is not None and self.hours.who:
            most = min(most, self._inside() + alone - 1)
        low, minutes = 0, self._inside() or guess
        proven = is_small(self.day)
        for _ in range(MOST_GROWTH):
            minutes = min(minutes, most)
            useless = low > 0 and self._sum_of(low) >= limit
            if minutes <= low or useless or self._is_over():
                return None
            found = self._plan_with(minutes)
            end = self._with(minutes).horizon_min
            if found.plan is None:
                if minutes == most:
                    return None
                # is there any that does? then it lies between
                low, minutes, proven = minutes, most, found.bound > end
                continue
            over = found.plan.finish_min - end
            if over <= 0:
                return self._least_below(low, minutes, found.plan, proven=proven)
            proven = found.bound > end
            # on a large day the answers are rough: go further, so as to come to an end
            low, minutes = minutes, minutes + (over if proven else 2 * over)
        return None

    def _sum_of(self, minutes: int) -> int:
        return sum(c.amount for c in self.hours.changes(self.day, minutes))

    def less(self, now: Problem, plan: Timetable, seconds: float) -> Given | None:
        if self.hours.is_plain:
            open_ = ending_later(self.day, LONGER_DAY_MIN)
            plan = searched_on(open_, plan, self.day.horizon_min, self.at, seconds)
            return self.hours.by_end(self.day, plan)
        open_ = ending_later(now, LONGER_DAY_MIN)
        enough = 0 if not self.hours.at_end else now.horizon_min
        plan = searched_on(open_, plan, enough, self.at, seconds)
        given = self._given_in(now)
        fewest = self._read_off(0, given, plan)
        return Given(self.hours.changes(self.day, fewest.minutes), fewest.plan, False)

    def _given_in(self, now: Problem) -> int:
        """How many minutes a changed day gives."""
        there = {p.id: p for p in now.people}
        if self.hours.at_end:
            ends = [there[w].leaves_min for w in self.hours.who]
            return max(ends, default=now.horizon_min) - self.hours.from_min(self.day)
        earlier = now.horizon_min - self.day.horizon_min
        comes = [there[w].arrives_min - earlier for w in self.hours.who]
        return self.hours.from_min(self.day) - min(comes, default=-earlier)

    def _plain_end(self) -> Given | None:
        open_ = ending_later(self.day, LONGER_DAY_MIN)
        found = how_soon(open_, self.like, self.day.horizon_min, self.at)
        if found.plan is None:
            return None
        return self.hours.by_end(self.day, found.plan, least=found.proven)

    def _inside(self) -> int:
        """So many minutes can be given while the day itself stays as long as it is."""
        start = self.hours.from_min(self.day)
        return self.day.horizon_min - start if self.hours.at_end else start

    def _with(self, minutes: int) -> Problem:
        return changed(self.day, self.hours.changes(self.day, minutes))

    def _plan_with(self, minutes: int) -> Soonest:
        day = self._with(minutes)
        return how_soon(
            ending_later(day, LONGER_DAY_MIN), self.like, day.horizon_min, self.at
        )

    def _least_below(
        self, low: int, minutes: int, plan: Timetable, *, proven: bool
    ) -> Given:
        """
        The least minutes between what does not do and what does.

        A plan that ends as soon as it can mostly needs no more than the least, so that
        one minute less is asked for first, then twice as much less.
        """
        small, step = is_small(self.day), 1
        if small:
            open_ = ending_later(self._with(minutes), LONGER_DAY_MIN)
            sooner = soonest(open_, plan, 0, self.at.part(SHARE * self.at.left())).plan
            plan = plan if sooner is None else sooner
        fewest = self._read_off(low, minutes, plan)
        minutes, plan = fewest.minutes, fewest.plan
        tried = 0
        while minutes - low > 1 and (small or tried < MOST_STEPS):
            if self._is_over():
                proven = False
                break
            tried += 1
            middle = max((low + minutes) // 2, minutes - step)
            found = self._plan_with(middle)
            end = self._with(middle).horizon_min
            if found.plan is not None and found.plan.finish_min <= end:
                fewest = self._read_off(low, middle, found.plan)
                minutes, plan, step = fewest.minutes, fewest.plan, 2 * step
                continue
            if found.bound <= end:
                proven = False
                break
            low, step, proven = middle, max(1, step // 2), True
        proven = proven and minutes - low <= 1
        return Given(self.hours.changes(self.day, minutes), plan, proven)

    def _read_off(self, low: int, minutes: int, plan: Timetable) -> _Enough:
        """
        Fewest minutes with which the judge passes a plan, begun later if it may be.

        A plan that is to end soon begins as soon as it can. Where it is over before the
        day is, all of it may be put off, so that whoever comes sooner comes later.
        """
        best = self._as_it_is(low, minutes, plan)
        if self.hours.at_end or not self.hours.who:
            return best
        ends = max([plan.finish_min, *(rest.end_min for rest in plan.breaks)])
        spare = self._with(minutes).horizon_min - ends
        for by in (spare, spare // 2, spare // 4):
            if by <= 0:
                break
            later = plan.moved(by)
            if not violations(self._with(minutes), later):
                found = self._as_it_is(low, minutes, later)
                best = min(best, found, key=lambda enough: enough.minutes)
                break
        return best

    def _as_it_is(self, low: int, minutes: int, plan: Timetable) -> _Enough:
        high = minutes
        while high - low > 1:
            middle = (low + high) // 2
            if violations(self._with(middle), plan):
                low = middle
            else:
                high = middle
        return _Enough(high, plan)


@dataclass(frozen=True, slots=True)
class _Enough:
    """Minutes that suffice, and the plan that shows it."""

    minutes: int
    plan: Timetable
