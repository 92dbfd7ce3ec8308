"""
The cheapest ways out of a day that does not fit, each of them solved.

Changes are taken together: batches left out, things more, room, and hours at one end
of the day. The cheapest sets come first, and what is more than a way already found is
no way of its own. How many minutes must give follows from how soon the day ends with
its end left open.
"""

from __future__ import annotations

import heapq
import math
import time
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace
from itertools import count

from stillroom.planning.bounds import lower_bound_min
from stillroom.planning.check import violations
from stillroom.planning.cpsat.give import fewest_minutes
from stillroom.planning.cpsat.solve import Search, find_timetable
from stillroom.planning.cpsat.soonest import is_small
from stillroom.planning.daytime import clock_time
from stillroom.planning.lateness import score
from stillroom.planning.problem import Batch, Problem
from stillroom.planning.timetable import Timetable, WayOut
from stillroom.planning.way_changes import (
    THINGS,
    WHOLE,
    Change,
    Changes,
    Kind,
    changed,
    cost_of,
    is_more_than,
    leave_out,
    said,
    thing_more,
)
from stillroom.planning.way_hours import Given, Hours, all_hours
from stillroom.planning.way_plans import LONGER_DAY_MIN, Time, how_soon, with_end_open

WAYS = 3
SHARE_OF_LOOKING = 0.5
"""Of the time, for looking at changed days; the rest makes the cheapest cheaper."""
SHARE_OF_ONE = 0.3
"""Of the time that is left, for making one way cheaper."""
MOST_FOR_ONE_S = 2.0
SHARE_OF_THE_DAY = 0.25
"""Of the time, for the day with its end left open, where nobody searched it before."""
SHARE_FOR_BOTH_ENDS = 0.15
"""Of the time, kept for sharing minutes between both ends of the day."""
LIKELY_GAIN = 0.93
"""So much sooner a plan of a large day ends once it is searched on, by experience."""
GAIN_OF_A_THING = 0.95
"""So much sooner a large day may end with one thing more: what is looked at first."""
HOURS_TAKE_LONG = 30
"""Hours other than a large day's end take many looks: so much dearer goes first."""
LEAST_S = 0.15


@dataclass(frozen=True, slots=True)
class _Node:
    """Changes that are whole, and the hours that may give beside them."""

    firm: Changes
    hours: Hours
    room: bool = False


@dataclass(slots=True)
class _Way:
    """A day with changes that fits, and a plan that shows it."""

    node: _Node
    changes: Changes
    cost: int
    problem: Problem
    plan: Timetable
    least: bool
    """Less does not do: proven."""
    tried: int = 0

    @property
    def order(self) -> tuple[int, int, bool, str]:
        """The cheapest first, then what changes least."""
        return self.cost, len(self.changes), not self.least, str(self.changes)


@dataclass(frozen=True, slots=True)
class Ways:
    """The ways out that were found, and why there are no more."""

    ways: tuple[WayOut, ...]
    why_fewer: str = ""
    """Why there are fewer than three; empty where there are three."""


def ways_out(
    problem: Problem,
    search: Search,
    *,
    missed: Sequence[str] = (),
    reached: Timetable | None = None,
) -> Ways:
    """
    Return the three cheapest ways out, the cheapest first.

    Parameters
    ----------
    problem : Problem
        A day without a plan.
    search : Search
        Time and threads for all of them.
    missed : sequence of str
        Ids of batches, those that would be missed most first; the last of a product is
        left out first. As the day lists them where none is given.
    reached : Timetable, optional
        The plan that the search for the day came to with its end left open.
    """
    finder = _Finder(problem, Time(search), missed, reached)
    finder.look()
    if finder.fits_after_all is not None:
        as_it_is = finder.fits_after_all
        return Ways((_as_it_is(problem, as_it_is),))
    finder.make_cheaper()
    if len(finder.best()) < WAYS and not finder.time.is_over():
        finder.look_on()
        finder.make_cheaper()
    best = finder.best()
    ways = []
    for left, way in zip(range(len(best), 0, -1), best, strict=True):
        plan = _better(way, search, finder.time.left() / left)
        gives = any(c.kind not in WHOLE for c in way.changes)
        least = ": less does not do" if way.least and gives else ""
        ways.append(
            WayOut(
                says=said(problem, way.changes) + least,
                cost_min=way.cost,
                finish_min=plan.finish_min,
                done_by=clock_time(way.problem.starts_at, plan.finish_min),
                timetable=plan,
                changes=way.changes,
            )
        )
    return Ways(tuple(ways), finder.why_fewer(len(ways)))


def _as_it_is(problem: Problem, plan: Timetable) -> WayOut:
    """The plan of a day that needs no way out, found while one was looked for."""
    return WayOut(
        says="it fits as it is",
        cost_min=0,
        finish_min=plan.finish_min,
        done_by=clock_time(problem.starts_at, plan.finish_min),
        timetable=plan,
    )


def with_one_found(
    problem: Problem, found: Sequence[WayOut], out: Sequence[str], plan: Timetable
) -> tuple[WayOut, ...]:
    """
    Ways out, and one that was found elsewhere: some batches left out.

    Parameters
    ----------
    problem : Problem
        The day with all of its batches.
    found : sequence of WayOut
        Ways out of it.
    out : sequence of str
        Ids of the batches that are left out.
    plan : Timetable
        The plan of all the others.
    """
    changes = tuple(leave_out(b) for b in problem.batches if b.id in out)
    if not changes or violations(changed(problem, changes), plan):
        return tuple(found)
    more = WayOut(
        says=said(problem, changes),
        cost_min=cost_of(problem, changes),
        finish_min=plan.finish_min,
        done_by=clock_time(problem.starts_at, plan.finish_min),
        timetable=plan,
        changes=changes,
    )
    kept: list[WayOut] = []
    for way in sorted((*found, more), key=lambda w: (w.cost_min, len(w.changes))):
        if not any(is_more_than(way.changes, k.changes) for k in kept):
            kept.append(way)
    return tuple(kept[:WAYS])


@dataclass(slots=True)
class _Finder:
    """Looks at changed days, the cheapest first."""

    problem: Problem
    time: Time
    missed: Sequence[str]
    like: Timetable | None
    """The best plan of the day with its end left open: its order is a good one."""
    found: list[_Way] = field(default_factory=list)
    open_: list[tuple[float, int, _Node, bool]] = field(default_factory=list)
    """By what they cost at least, or likely: to be looked at, or to be added to."""
    fits: set[tuple[Changes, bool]] = field(default_factory=set)
    """Changes that suffice with no other hours."""
    over: dict[tuple[Changes, bool], int] = field(default_factory=dict)
    """Minutes by which the day with changes ends late, as far as it was searched."""
    hopeless: set[tuple[Changes, bool]] = field(default_factory=set)
    """Changes with which no hours whatever would suffice."""
    root_min: int | None = None
    """When the day with its end left open is over, as far as it was searched."""
    seen: set[tuple[_Node, bool]] = field(default_factory=set)
    short: dict[_Node, int] = field(default_factory=dict)
    """Minutes that a node lacks at least: proven."""
    number: Iterator[int] = field(default_factory=count)
    put_by: list[tuple[_Node, bool]] = field(default_factory=list)
    """Too dear beside the ways that were there: a cheaper one may do away with them."""
    exhausted: bool = False
    fits_after_all: Timetable | None = None
    """A plan of the day as it is: a longer day is searched with more ease."""

    def look(self) -> None:
        """Look at one changed day after another, by what each costs at least."""
        until = time.monotonic() + SHARE_OF_LOOKING * self.time.left()
        kept = SHARE_FOR_BOTH_ENDS * self.time.left()
        turns = (1 - SHARE_OF_LOOKING) * self.time.turns
        self._push((), room=False)
        while self.open_:
            best = self.best()
            enough = len(best) == WAYS
            if self.time.counted:
                late = self.time.turns < (turns if enough else 0)
            else:
                left = self.time.left()
                # what only changes more than another may be made a way of its own
                turn = enough or any(not w.least for w in self.found if w not in best)
                late = left < kept or (turn and time.monotonic() > until)
            if late:
                break
            _, _, node, adds = heapq.heappop(self.open_)
            if self._least(node, adds=adds) >= self._third():
                self.put_by.append((node, adds))
                continue
            if adds:
                self._add_to(node)
            else:
                self._look_at(node)
            if self.fits_after_all is not None:
                return
        self.exhausted = not self.open_
        if is_small(self.problem):
            self._share_minutes()
        self._look_at_both_ends()

    def look_on(self) -> None:
        """Look at what was not looked at, until there are three ways or no time."""
        for node, adds in self.put_by:
            self.seen.discard((node, adds))
            self._add(node, adds=adds)
        self.put_by.clear()
        while self.open_ and not self.time.is_over() and len(self.best()) < WAYS:
            _, _, node, adds = heapq.heappop(self.open_)
            if adds:
                self._add_to(node)
            else:
                self._look_at(node)
        self.exhausted = not self.open_

    def _share_minutes(self) -> None:
        """The fewest minutes, shared among all hours: they may be fewer than of one."""
        hours = [w for w in self.best() if any(c.kind not in WHOLE for c in w.changes)]
        for way in hours:
            if self.time.is_over() or way.node.room:
                continue
            firm = cost_of(self.problem, way.node.firm)
            base = self._base(way.node)
            part = self.time.part(SHARE_OF_ONE * self.time.left())
            found = fewest_minutes(base, way.cost - firm - 1, part)
            if found is None:
                continue
            shared = self._settled(
                way.node, found.changes, found.plan, least=found.least
            )
            if shared is not None:
                shared.tried = 2  # its minutes are no one figure to be made less
                self.found.append(shared)

    def _look_at_both_ends(self) -> None:
        """Minutes shared by both ends of the day, where there are too few ways."""
        both = Hours(at_end=True)
        for firm in dict.fromkeys([(), *(w.node.firm for w in self.best())]):
            if len(self.best()) == WAYS or self.time.is_over():
                return
            node = _Node(firm, both)
            alone = [w for w in self.found if w.node == node]
            base = self._base(node)
            over = min(
                [c.amount for w in alone for c in w.changes if c.kind is Kind.ENDS],
                default=2 * Hours(at_end=False).most(base),
            )
            if over < 2 or (node.firm, node.room) in self.fits:
                continue
            starts = Change(kind=Kind.STARTS, amount=over // 2)
            day = changed(base, (starts,))
            node = _Node((*firm, starts), both)
            at_once = [both.by_end(day, way.plan) for way in alone]
            for found in (*at_once, both.least(day, self.like, self.time)):
                if found is None or not found.changes:
                    continue
                way = self._settled(node, found.changes, found.plan, least=found.least)
                if way is not None:
                    self.found.append(way)

    def _look_at(self, node: _Node) -> None:
        base = self._base(node)
        if not node.room and _never_room(base):
            self.hopeless.add((node.firm, node.room))
            return
        found = self._least_of(node, base)
        if found is None:
            if node.hours.is_plain:
                self._is_hopeless(node, base)
            return
        if not found.changes:
            self.fits.add((node.firm, node.room))
        if node.hours.is_plain:
            over = found.plan.finish_min - base.horizon_min
            self.over[node.firm, node.room] = max(0, over)
        if node.hours.is_plain and not node.firm:
            self.root_min, self.like = found.plan.finish_min, found.plan
            if not node.room and not violations(self.problem, found.plan):
                self.fits_after_all = found.plan
        way = self._settled(node, found.changes, found.plan, least=found.least)
        if way is not None:
            self.found.append(way)

    def _least_of(self, node: _Node, base: Problem) -> Given | None:
        root = node.hours.is_plain and not node.firm and not node.room
        if root and self.like is None and not is_small(self.problem):
            search = self.time.part(SHARE_OF_THE_DAY * self.time.left())
            self.like = with_end_open(self.problem, search)
        able: list[Given | None] = []
        if root and self.like is not None:
            able.append(node.hours.by_end(base, self.like))
        if not root or is_small(self.problem):
            over = max(1, self.over.get((node.firm, node.room), 1))
            limit = self._third() - cost_of(self.problem, node.firm)
            alone = self._alone(node)
            hours = node.hours
            able.append(hours.least(base, self.like, self.time, over, limit, alone))
        return min(
            (given for given in able if given is not None),
            key=lambda given: (cost_of(base, given.changes), not given.least),
            default=None,
        )

    def _alone(self, node: _Node) -> int | None:
        """Minutes of the day's start or end that suffice with nobody's own hours."""
        kind = Kind.ENDS if node.hours.at_end else Kind.STARTS
        alone = replace(node, hours=Hours(node.hours.at_end))
        found = [w for w in self.found if w.node == alone]
        return min(
            (c.amount for w in found for c in w.changes if c.kind is kind), default=None
        )

    def _is_hopeless(self, node: _Node, base: Problem) -> None:
        """Remember where no hours whatever would help."""
        if how_soon(_generous(base), self.like, 0, self.time).plan is None:
            self.hopeless.add((node.firm, node.room))

    def _add_to(self, node: _Node) -> None:
        """The same day with other hours that give, and with one change more."""
        if (node.firm, node.room) in self.fits:
            return
        if (node.firm, node.room) not in self.hopeless:
            for hours in all_hours(self.problem):
                self._add(replace(node, hours=hours), adds=False)
        for more in self._one_more(node.firm):
            self._push(more, room=node.room)

    def _one_more(self, firm: Changes) -> Iterator[Changes]:
        """One batch less, of any product, or one thing more."""
        gone = {c.subject for c in firm if c.kind is Kind.LEAVE_OUT}
        if len(gone) + 1 < len(self.problem.batches):
            place = {name: n for n, name in enumerate(self.missed)}
            least_missed: dict[str, tuple[int, Batch]] = {}
            for n, batch in enumerate(self.problem.batches):
                if batch.id in gone:
                    continue
                other = least_missed.get(batch.product)
                here = place.get(batch.id, n)
                if other is None or here > other[0]:
                    least_missed[batch.product] = (here, batch)
            for _, batch in least_missed.values():
                yield (*firm, leave_out(batch))
        for kind in THINGS:
            if all(c.kind is not kind for c in firm) and thing_more(self.problem, kind):
                yield (*firm, Change(kind=kind))

    def _push(self, firm: Changes, *, room: bool) -> None:
        firm = tuple(sorted(firm, key=lambda c: (c.kind, c.subject)))
        plain = _Node(firm, all_hours(self.problem)[0], room)
        self._add(plain, adds=False)
        self._add(plain, adds=True)
        if not room and self._is_crowded(firm):
            self._add(replace(plain, room=True), adds=False)
            self._add(replace(plain, room=True), adds=True)

    def _add(self, node: _Node, *, adds: bool) -> None:
        if (node, adds) in self.seen:
            return
        self.seen.add((node, adds))
        cost: float = self._least(node, adds=adds)
        if not is_small(self.problem):
            dear = 0 if node.hours.is_plain or adds else HOURS_TAKE_LONG
            cost = max(cost, self._likely(node) + dear)
        heapq.heappush(self.open_, (cost, next(self.number), node, adds))

    def _least(self, node: _Node, *, adds: bool) -> int:
        """What a node costs at least, or what comes of it with a change more."""
        firm = cost_of(self.problem, node.firm) + node.room
        if adds:
            return firm
        if node not in self.short:
            day = changed(self.problem, node.firm)
            end = lower_bound_min(_generous(day))
            self.short[node] = max(0, end - day.horizon_min)
        return firm + max(self.short[node], not node.hours.is_plain)

    def _likely(self, node: _Node) -> float:
        """What it may cost, by how much less work there is than on the whole day."""
        firm = cost_of(self.problem, node.firm)
        if (over := self.over.get((node.firm, node.room))) is not None:
            return firm + over
        if self.root_min is None:
            return firm
        whole = sum(_work(b) for b in self.problem.batches)
        gone = {c.subject for c in node.firm if c.kind is Kind.LEAVE_OUT}
        left = sum(_work(b) for b in self.problem.batches if b.id not in gone)
        things = sum(c.kind in THINGS for c in node.firm)
        share = left / max(1, whole) * GAIN_OF_A_THING**things
        return firm + max(0.0, share * self.root_min - self.problem.horizon_min)

    def _is_crowded(self, firm: Changes) -> bool:
        day = changed(self.problem, firm)
        jars = sum(b.jars for b in day.batches if b.process is not None)
        taken = sum(n for n, _ in day.counter.taken)
        return jars + taken > day.counter.places

    def _base(self, node: _Node) -> Problem:
        """The day with what is firm, and with a counter that never is too small."""
        day = changed(self.problem, node.firm)
        if not node.room:
            return day
        return changed(day, (Change(kind=Kind.ROOM, amount=_jars_of(day)),))

    def _settled(
        self, node: _Node, hours: Changes, plan: Timetable, *, least: bool
    ) -> _Way | None:
        """The way with all its changes, its plan passed by the judge."""
        changes = (*node.firm, *hours)
        if node.room:
            places = self._places(changes, plan)
            if places == 0:
                return None  # there is room enough: it is no way of its own
            changes = (*changes, Change(kind=Kind.ROOM, amount=places))
            least = (
                least and not hours and _never_room(changed(self.problem, node.firm))
            )
        if node.hours.is_plain:
            changes = self._ending_later_still(changes, plan)
        if not changes:
            return None
        day = changed(self.problem, changes)
        if violations(day, plan):
            return None
        cost = cost_of(self.problem, changes)
        return _Way(node, changes, cost, day, plan, least)

    def _ending_later_still(self, changes: Changes, plan: Timetable) -> Changes:
        """The same, the day's end put off until the judge passes its plan."""
        firm = tuple(c for c in changes if c.kind is not Kind.ENDS)
        over = sum(c.amount for c in changes if c.kind is Kind.ENDS)
        for more in (0, 1, 5, 15, 30, 60):
            ends = (Change(kind=Kind.ENDS, amount=over + more),)
            later = (*firm, *ends) if over + more else firm
            if not violations(changed(self.problem, later), plan):
                return later
        return changes

    def _places(self, changes: Changes, plan: Timetable) -> int:
        """Fewest places more with which the judge passes a plan."""
        low, high = -1, _jars_of(self.problem)
        while high - low > 1:
            middle = (low + high) // 2
            room = Change(kind=Kind.ROOM, amount=middle)
            day = changed(self.problem, (*changes, room))
            if violations(day, plan):
                low = middle
            else:
                high = middle
        return high

    def _third(self) -> float:
        """Cost of the dearest of three ways; nothing dearer is of use."""
        best = self.best()
        return best[-1].cost if len(best) == WAYS else float("inf")

    def best(self) -> list[_Way]:
        """The cheapest, none of which changes all that another does."""
        kept: list[_Way] = []
        for way in sorted(self.found, key=lambda w: w.order):
            if not any(is_more_than(way.changes, k.changes) for k in kept):
                kept.append(way)
            if len(kept) == WAYS:
                break
        return kept

    def make_cheaper(self) -> None:
        """Search on from the plans of the likeliest: fewer minutes may do."""
        while not self.time.is_over():
            third = self._third()
            able = [
                way
                for way in self.found
                if not way.least
                and way.tried < (2 if math.isfinite(third) else 1)
                and way.changes != way.node.firm
                and self._hoped(way) < third
            ]
            if not able:
                return
            way = min(able, key=lambda w: (w.tried, self._hoped(w)))
            way.tried += 1
            seconds = min(MOST_FOR_ONE_S, SHARE_OF_ONE * self.time.left())
            base = self._base(way.node)
            found = way.node.hours.less(
                base, way.problem, way.plan, self.time, max(LEAST_S, seconds)
            )
            if found is None:
                continue
            better = self._settled(
                way.node, found.changes, found.plan, least=found.least
            )
            if better is None:
                if not found.changes:
                    self.found.remove(way)
                continue
            if better.cost < way.cost:
                better.tried = way.tried - 1  # what got cheaper may do so again
                self.found[self.found.index(way)] = better

    def _hoped(self, way: _Way) -> float:
        """What a way may come to cost once it is searched on."""
        firm = cost_of(self.problem, way.node.firm)
        gain = (1 - LIKELY_GAIN) * way.plan.finish_min
        return firm + max(1.0, way.cost - firm - gain)

    def why_fewer(self, many: int) -> str:
        """Why there are fewer than three."""
        if many == WAYS:
            return ""
        if not self.exhausted or self.put_by:
            return (
                "the time was over before more ways were found: allow more seconds "
                "for the search"
            )
        tried = (
            "other hours, fewer batches, more room to cool, one more helper, burner, "
            "canner or pot were tried, alone and together"
        )
        if many == 0:
            return f"nothing that can be changed makes it fit: {tried}"
        return f"no other change makes it fit: {tried}"


def _never_room(problem: Problem) -> bool:
    """Whether more jars are to cool than ever stand, as long as a day can be."""
    counter = problem.counter
    longest = problem.horizon_min + Hours(at_end=True).most(problem)
    if counter.cooling_min < longest:
        return False
    jars = sum(b.jars for b in problem.batches if b.process is not None)
    taken = sum(n for n, until in counter.taken if until >= longest)
    return jars + taken > counter.places


def _generous(problem: Problem) -> Problem:
    """The day with everybody there all the time, and nothing waited for."""
    long = problem.horizon_min + 2 * LONGER_DAY_MIN
    people = tuple(
        replace(p, arrives_min=0, leaves_min=long, breaks=(), away=())
        for p in problem.people
    )
    batches = tuple(replace(b, windows=()) for b in problem.batches)
    return replace(problem, horizon_min=long, people=people, batches=batches)


def _work(batch: Batch) -> int:
    """Quarters of somebody's minutes."""
    return sum(s.duration_min * s.attention_quarters for s in batch.steps)


def _jars_of(problem: Problem) -> int:
    taken = sum(n for n, _ in problem.counter.taken)
    return sum(b.jars for b in problem.batches) + taken


def _better(way: _Way, search: Search, seconds: float) -> Timetable:
    """The plan of a way out, searched on from what shows that it is one."""
    if seconds < LEAST_S or search.deterministic:
        return way.plan
    until = time.monotonic() + seconds
    on = replace(search, until=until, seconds=seconds)
    found = find_timetable(way.problem, way.plan, on).timetable
    if found is None or violations(way.problem, found):
        return way.plan
    return min((found, way.plan), key=lambda t: score(way.problem, t))
