"""Who does what in a plan, kept so that one change of hands is quickly weighed."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from stillroom.planning.bounding.bounds import able_people, lifters_of
from stillroom.planning.hot_jars import LABOUR_QUARTERS
from stillroom.planning.how_good.goals import helpers
from stillroom.planning.how_good.moments import BREATH_MIN
from stillroom.planning.problem import Batch, Person, Problem
from stillroom.planning.timetable import Timetable

Key = tuple[str, str]
"""(batch, step) or (load, ``lower`` or ``lift``)."""
Worth = tuple[int, int]
"""Pairs of hurried moments; free time, the more the larger its pieces (negative)."""


@dataclass(slots=True)
class Work:
    """What one person does: steps in the same hands, or one end of a load."""

    keys: tuple[Key, ...]
    spans: tuple[tuple[int, int, int], ...]
    """Start, end and quarters of each."""
    moments: tuple[tuple[int, int], ...]
    """Start and end of those that cannot wait."""
    able: frozenset[str]
    who: str

    @property
    def of(self) -> str:
        """Batch or load."""
        return self.keys[0][0]

    def touches(self, other: Work) -> bool:
        """Whether both fall together for a minute."""
        return any(
            start < other_end and other_start < end
            for start, end, _ in self.spans
            for other_start, other_end, _ in other.spans
        )


class WhoDoes:
    """All work of a plan by who does it."""

    def __init__(self, problem: Problem, plan: Timetable) -> None:
        self.works = _works(problem, plan)
        self.people = {p.id: p for p in problem.people}
        self.helpers = {p.id for p in helpers(problem)}
        self.ends = plan.finish_min
        self.rests: dict[str, list[tuple[int, int]]] = {p: [] for p in self.people}
        for rest in plan.breaks:
            self.rests[rest.person].append((rest.start_min, rest.end_min))
        self.of_person: dict[str, Worth] = {p: self._worth_of(p) for p in self.people}

    @property
    def worth(self) -> Worth:
        """How good it is, the smaller the better."""
        return _sum(self.of_person.values())

    def given(self, changes: list[tuple[Work, str]]) -> Worth | None:
        """
        Give work to others, and return what that is worth.

        `None`, and everything as it was, where it is no better or nobody has the hands.
        """
        was = [(work, work.who) for work, _ in changes]
        touched = {who for _, who in was} | {who for _, who in changes}
        for work, who in changes:
            work.who = who
        new = {p: self._worth_of(p) for p in touched}
        worth = _sum({**self.of_person, **new}.values())
        if worth < self.worth and all(self.has_hands(p) for p in touched):
            self.of_person.update(new)
            return worth
        for work, who in was:
            work.who = who
        return None

    def hurried(self) -> set[int]:
        """Works, by number, that are part of a hurried pair."""
        found: set[int] = set()
        for person in self.people:
            if not self.of_person[person][0]:
                continue
            mine = [
                (start, end, n)
                for n, work in enumerate(self.works)
                if work.who == person
                for start, end in work.moments
            ]
            for start, end, n in mine:
                for other, other_end, m in mine:
                    apart = self.works[n].of != self.works[m].of
                    near = other - end < BREATH_MIN and start - other_end < BREATH_MIN
                    if apart and near:
                        found |= {n, m}
        return found

    def _worth_of(self, person: str) -> Worth:
        mine = [work for work in self.works if work.who == person]
        free = 0
        if person in self.helpers:
            free = self._free_squared(self.people[person], mine)
        return _too_near(mine), -free

    def _free_squared(self, person: Person, mine: list[Work]) -> int:
        until = min(person.leaves_min, self.ends)
        spans = [(s, e) for work in mine for s, e, _ in work.spans] + list(person.away)
        at, total = person.arrives_min, 0
        for start, end in [*sorted(spans), (until, until)]:
            stop = min(start, until)
            if stop > at:
                rests = sum(
                    max(0, min(stop, b) - max(at, a)) for a, b in self.rests[person.id]
                )
                total += (stop - at - rests) ** 2
            at = max(at, end)
        return total

    def has_hands(self, name: str) -> bool:
        """Whether a person is there for all they do, and has the quarters for it."""
        person = self.people[name]
        mine = [span for work in self.works if work.who == name for span in work.spans]
        if any(s < person.arrives_min or e > person.leaves_min for s, e, _ in mine):
            return False
        full = [(s, e, person.quarters) for s, e in (*self.rests[name], *person.away)]
        turns = sorted(
            turn
            for start, end, quarters in mine + full
            for turn in ((start, quarters), (end, -quarters))
            if start < end
        )
        level = 0
        for _, quarters in turns:  # of one minute, what ends comes first
            level += quarters
            if level > person.quarters:
                return False
        return True


def _sum(worths: Iterable[Worth]) -> Worth:
    both = list(worths)
    return sum(near for near, _ in both), sum(free for _, free in both)


def _too_near(mine: list[Work]) -> int:
    """Pairs of moments in two batches or loads with less than a breath between."""
    by_of: dict[str, list[tuple[int, int]]] = {}
    for work in mine:
        if work.moments:
            by_of.setdefault(work.of, []).extend(work.moments)
    found: list[tuple[int, int, str]] = []
    for of, spans in by_of.items():
        joined: list[tuple[int, int]] = []
        for start, end in sorted(spans):
            if joined and start - joined[-1][1] < BREATH_MIN:
                joined[-1] = (joined[-1][0], max(joined[-1][1], end))
            else:
                joined.append((start, end))
        found += [(start, end, of) for start, end in joined]
    found.sort()
    pairs = 0
    for n, (_, end, of) in enumerate(found):
        for start, _, other in found[n + 1 :]:
            if other != of and start - end < BREATH_MIN:
                pairs += 1
    return pairs


def _works(problem: Problem, plan: Timetable) -> list[Work]:
    placed = {(s.batch, s.step): s for s in plan.steps}
    works: list[Work] = []
    for batch in problem.batches:
        for members in _in_same_hands(batch):
            steps = [placed[batch.id, batch.steps[i].id] for i in members]
            critical = [batch.steps[i].critical for i in members]
            works.append(
                Work(
                    tuple((s.batch, s.step) for s in steps),
                    tuple((s.start_min, s.end_min, s.quarters) for s in steps),
                    tuple(
                        (s.start_min, s.end_min)
                        for s, cannot_wait in zip(steps, critical, strict=True)
                        if cannot_wait
                    ),
                    able_people(problem, batch, members[0]),
                    str(steps[0].person),
                )
            )
    lifters = frozenset(p.id for p in lifters_of(problem))
    for load in plan.loads:
        for what, start, end, who in (
            ("lower", load.lower_min, load.lowered_min, load.lowered_by),
            ("lift", load.lift_min, load.out_min, load.lifted_by),
        ):
            moments = ((start, end),) if what == "lift" else ()
            span = (start, end, LABOUR_QUARTERS)
            works.append(Work(((load.id, what),), (span,), moments, lifters, who))
    return works


def _in_same_hands(batch: Batch) -> list[list[int]]:
    groups: dict[str, list[int]] = {}
    for i, step in enumerate(batch.steps):
        if step.attention_quarters:
            groups.setdefault(step.same_hands or f" {i}", []).append(i)
    return list(groups.values())
