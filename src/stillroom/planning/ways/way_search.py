"""
The search for ways out: changed days looked at one after another, the cheapest first.

Changes are taken together: batches left out, things more, room, and hours at one end
of the day. What is more than a way already found is no way of its own. How many minutes
must give follows from how soon the day ends with its end left open.
"""

from __future__ import annotations

import heapq
import time
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from itertools import count

from stillroom.planning.cpsat.solve import is_small
from stillroom.planning.judge.check import violations
from stillroom.planning.problem import Batch, Problem
from stillroom.planning.timetable import Timetable
from stillroom.planning.way_changes import (
    COST_OF_A_JAR,
    THINGS,
    Change,
    Changes,
    Kind,
    changed,
    cost_of,
    is_more_than,
    leave_out,
    thing_more,
)
from stillroom.planning.ways.held_plan import PlanOfSome, is_better
from stillroom.planning.ways.way_begun import put_behind
from stillroom.planning.ways.way_costs import Costs, generous
from stillroom.planning.ways.way_found import (
    Node,
    Way,
    base_of,
    is_crowded,
    never_room,
    settled,
)
from stillroom.planning.ways.way_hours import Given, Hours, all_hours
from stillroom.planning.ways.way_less import at_the_start, with_one_less
from stillroom.planning.ways.way_plans import (
    Time,
    how_soon,
    with_end_open,
)

WAYS = 3
SHARE_OF_LOOKING = 0.5
"""Of the time, for looking at changed days; the rest makes the cheapest cheaper."""
SHARE_OF_THE_DAY = 0.25
"""Of the time, for the day with its end left open, where nobody searched it before."""
SHARE_FOR_BOTH_ENDS = 0.15
"""Of the time, kept for sharing minutes between both ends of the day."""
TURNS_FOR_BOTH_ENDS = 4
"""The same where work is counted."""
HOURS_TAKE_LONG = 30
"""Hours other than a large day's end take many looks: so much dearer goes first."""
AT_LEAST = 4
"""So much is looked at, whatever the time: the day's own hours, and its room."""
MOST_LEFT_OUT = 12
"""So many ways are tried with a batch less, where there are too few."""


@dataclass(slots=True)
class Finder:
    """Looks at changed days, the cheapest first."""

    problem: Problem
    time: Time
    costs: Costs
    missed: Sequence[str]
    like: Timetable | None
    """The best plan of the day with its end left open: its order is a good one."""
    a_jar_min: Mapping[str, int] = field(default_factory=dict)
    """What a jar of a batch weighs that is left out."""
    shown: PlanOfSome | None = None
    """Batches that fit, and their plan: it is shown already, and is no way to find."""
    out: Changes = ()
    """What that plan leaves out."""
    found: list[Way] = field(default_factory=list)
    open_: list[tuple[float, int, Node, bool]] = field(default_factory=list)
    """By what they cost at least, or likely: to be looked at, or to be added to."""
    fits: set[tuple[Changes, bool]] = field(default_factory=set)
    """Changes that suffice with no other hours."""
    hopeless: set[tuple[Changes, bool]] = field(default_factory=set)
    """Changes with which no hours whatever would suffice."""
    seen: set[tuple[Node, bool]] = field(default_factory=set)
    number: Iterator[int] = field(default_factory=count)
    put_by: list[tuple[Node, bool]] = field(default_factory=list)
    """Too dear beside the ways that were there: a cheaper one may do away with them."""
    exhausted: bool = False
    """All was looked at, or ruled out."""
    fits_after_all: Timetable | None = None
    """A plan of the day as it is: a longer day is searched with more ease."""

    def begin(self) -> None:
        """Ways that follow from the batches that fit: the others put behind them."""
        if self.shown is None:
            return
        kept = self.shown.kept
        gone = [b for b in self.problem.batches if b.id not in kept]
        self._show(self.shown, _sorted(tuple(self._left_out(b) for b in gone)))
        place = {name: n for n, name in enumerate(self.missed)}
        gone.sort(key=lambda b: place.get(b.id, 0))
        for begun in put_behind(self.problem, self.shown.plan, gone, self.time):
            firm = _sorted(tuple(self._left_out(b) for b in begun.gone))
            if not firm:
                if not violations(self.problem, begun.plan):
                    self.fits_after_all = begun.plan
                    return
                if self.like is None or begun.plan.finish_min < self.like.finish_min:
                    self.like = begun.plan
            node = Node(firm, all_hours(self.problem)[0])
            given = node.hours.by_end(base_of(self.problem, node), begun.plan)
            if given is None:
                continue
            way = settled(self.problem, node, given.changes, begun.plan, least=False)
            if way is not None:
                self.note(way)

    def _show(self, shown: PlanOfSome, out: Changes) -> None:
        """Take it that a plan is the one that is shown."""
        self.shown, self.out = shown, out
        self.fits.add((out, False))
        self.seen.add((Node(out, all_hours(self.problem)[0]), False))

    def note(self, way: Way) -> None:
        """
        Keep a way that was found.

        One that only leaves batches out, and would be missed less than those that the
        plan shown leaves out, is shown in its stead.
        """
        self.found.append(way)
        if self.shown is None or any(c.kind is not Kind.LEAVE_OUT for c in way.changes):
            return
        gone = {c.subject for c in way.changes}
        order = list(self.missed) or [b.id for b in self.problem.batches]
        kept = tuple(name for name in order if name not in gone)
        held = PlanOfSome(kept=kept, plan=way.plan)
        more = {*kept} != {*self.shown.kept}
        if more and is_better(self.problem, held, self.shown, order):
            self._show(held, way.changes)

    def _left_out(self, batch: Batch) -> Change:
        return leave_out(batch, self.a_jar_min.get(batch.id, COST_OF_A_JAR))

    def look(self) -> None:
        """Look at one changed day after another, by what each costs at least."""
        until = time.monotonic() + SHARE_OF_LOOKING * self.time.left()
        kept = SHARE_FOR_BOTH_ENDS * self.time.left()
        turns = (1 - SHARE_OF_LOOKING) * self.time.turns
        self._push((), room=False)
        looked = 0
        while self.open_:
            best = self.best()
            enough = len(best) == WAYS
            if self.time.counted:
                late = self.time.turns < (turns if enough else TURNS_FOR_BOTH_ENDS)
            else:
                left = self.time.left()
                # what only changes more than another may be made a way of its own
                turn = enough or any(not w.least for w in self.found if w not in best)
                late = left < kept or (turn and time.monotonic() > until)
            if late and looked >= AT_LEAST:
                break
            looked += 1
            _, _, node, adds = heapq.heappop(self.open_)
            if self.costs.least(node, adds=adds) >= self.third():
                self.put_by.append((node, adds))
                continue
            if adds:
                self._add_to(node)
            else:
                self._look_at(node)
            if self.fits_after_all is not None:
                return
        self.exhausted = not self.open_

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

    def follow_up(self) -> None:
        """What follows from the ways that are there, where there are too few."""
        tried, ways = 0, self.best()
        for way in ways:
            for other in at_the_start(self.problem, way, self.time):
                self.note(other)
        for way in ways:  # and what comes of them, with two batches less
            for more in self._one_more(way.node.firm):
                if len(self.best()) == WAYS or tried == MOST_LEFT_OUT:
                    return
                if more[-1].kind is Kind.LEAVE_OUT:
                    tried += 1
                    firm = _sorted(more)
                    less = with_one_less(self.problem, way, firm, self.time)
                    if less is not None:
                        self.note(less)
                        if less.changes != firm:
                            ways.append(less)

    def look_at_both_ends(self) -> None:
        """Minutes shared by both ends of the day, where there are too few ways."""
        both = Hours(at_end=True)
        for firm in dict.fromkeys([(), *(w.node.firm for w in self.best())]):
            if len(self.best()) == WAYS or self.time.is_over():
                return
            node = Node(firm, both)
            alone = [w for w in self.found if w.node == node]
            base = base_of(self.problem, node)
            over = min(
                [c.amount for w in alone for c in w.changes if c.kind is Kind.ENDS],
                default=2 * Hours(at_end=False).most(base),
            )
            if over < 2 or (node.firm, node.room) in self.fits:
                continue
            sooner = min(over // 2, Hours(at_end=False).most(base))
            if sooner < 1:
                continue
            starts = Change(kind=Kind.STARTS, amount=sooner)
            day = changed(base, (starts,))
            node = Node((*firm, starts), both)
            at_once = [both.by_end(day, way.plan) for way in alone]
            for found in (*at_once, both.least(day, self.like, self.time)):
                if found is None or not found.changes:
                    continue
                way = settled(
                    self.problem, node, found.changes, found.plan, least=found.least
                )
                if way is not None:
                    self.note(way)

    def _look_at(self, node: Node) -> None:
        base = base_of(self.problem, node)
        if not node.room and never_room(base):
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
            self.costs.over[node.firm, node.room] = max(0, over)
        if node.hours.is_plain and not node.firm:
            self.costs.root_min, self.like = found.plan.finish_min, found.plan
            if not node.room and not violations(self.problem, found.plan):
                self.fits_after_all = found.plan
        way = settled(self.problem, node, found.changes, found.plan, least=found.least)
        if way is not None:
            self.note(way)

    def _least_of(self, node: Node, base: Problem) -> Given | None:
        root = node.hours.is_plain and not node.firm and not node.room
        if root and self.like is None and not is_small(self.problem):
            search = self.time.part(SHARE_OF_THE_DAY * self.time.left())
            self.like = with_end_open(self.problem, search)
        able: list[Given | None] = []
        if root and self.like is not None:
            able.append(node.hours.by_end(base, self.like))
        if not root or is_small(self.problem):
            over = max(1, self.costs.over.get((node.firm, node.room), 1))
            limit = self.third() - cost_of(self.problem, node.firm)
            alone = self._alone(node)
            hours = node.hours
            able.append(hours.least(base, self.like, self.time, over, limit, alone))
        return min(
            (given for given in able if given is not None),
            key=lambda given: (cost_of(base, given.changes), not given.least),
            default=None,
        )

    def _alone(self, node: Node) -> int | None:
        """Minutes of the day's start or end that suffice with nobody's own hours."""
        kind = Kind.ENDS if node.hours.at_end else Kind.STARTS
        alone = replace(node, hours=Hours(node.hours.at_end))
        found = [w for w in self.found if w.node == alone]
        return min(
            (c.amount for w in found for c in w.changes if c.kind is kind), default=None
        )

    def _is_hopeless(self, node: Node, base: Problem) -> None:
        """Remember where no hours whatever would help."""
        if how_soon(generous(base), self.like, 0, self.time).plan is None:
            self.hopeless.add((node.firm, node.room))

    def _add_to(self, node: Node) -> None:
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
            least_missed: dict[tuple[str, ...], tuple[int, Batch]] = {}
            for n, batch in enumerate(self.problem.batches):
                if batch.id in gone:
                    continue
                other = least_missed.get(batch.serves)
                here = place.get(batch.id, n)
                if other is None or here > other[0]:
                    least_missed[batch.serves] = (here, batch)
            for _, batch in least_missed.values():
                yield (*firm, self._left_out(batch))
        for kind in THINGS:
            if all(c.kind is not kind for c in firm) and thing_more(self.problem, kind):
                yield (*firm, Change(kind=kind))

    def _push(self, firm: Changes, *, room: bool) -> None:
        firm = _sorted(firm)
        plain = Node(firm, all_hours(self.problem)[0], room)
        self._add(plain, adds=False)
        self._add(plain, adds=True)
        if not room and is_crowded(self.problem, firm):
            self._add(replace(plain, room=True), adds=False)
            self._add(replace(plain, room=True), adds=True)

    def _add(self, node: Node, *, adds: bool) -> None:
        if (node, adds) in self.seen:
            return
        self.seen.add((node, adds))
        cost: float = self.costs.least(node, adds=adds)
        if not is_small(self.problem):
            dear = 0 if node.hours.is_plain or adds else HOURS_TAKE_LONG
            cost = max(cost, self.costs.likely(node) + dear)
        heapq.heappush(self.open_, (cost, next(self.number), node, adds))

    def third(self) -> float:
        """Cost of the dearest of three ways; nothing dearer is of use."""
        best = self.best()
        return best[-1].price if len(best) == WAYS else float("inf")

    def best(self, many: int = WAYS) -> list[Way]:
        """The cheapest, none of which changes all that another does."""
        kept: list[Way] = []
        for way in sorted(self.found, key=lambda w: w.order):
            if self.out and is_more_than(way.changes, self.out):
                continue  # the plan that is shown needs no more than that
            if not any(is_more_than(way.changes, k.changes) for k in kept):
                kept.append(way)
            if len(kept) == many:
                break
        return kept


def _sorted(firm: Changes) -> Changes:
    return tuple(sorted(firm, key=lambda c: (c.kind, c.subject)))
