"""
Work of who is not there in other hands, and loads of a broken canner elsewhere.

This is where the search for a changed day begins: the old plan, with only what cannot
stay given to others. They may have too much at once then; put off, it comes in turn.
"""

from __future__ import annotations

from dataclasses import replace

from stillroom.planning.begun.absences import breaks_asked, is_there
from stillroom.planning.happened import Happened
from stillroom.planning.problem import Canner, Person, Problem
from stillroom.planning.timetable import PlacedLoad, PlacedStep, Timetable

LIFTS = "lift"


def handed_on(
    problem: Problem, plan: Timetable, happened: Happened, *, loads_too: bool = False
) -> Timetable:
    """
    Return the plan with everything in hands that are there.

    With ``loads_too`` the loads of a canner that takes none are in one that does: one
    behind another, which is late, but can be worked.
    """
    loads = list(plan.loads)
    if loads_too:
        loads = _loads_elsewhere(problem, plan, happened)
    given = _Hands(problem, plan, happened)
    steps = tuple(given.step(s) for s in plan.steps)
    return Timetable(
        steps=steps,
        loads=tuple(given.load(load) for load in loads),
        breaks=breaks_asked(problem, plan, happened),
    )


class _Hands:
    """Who takes what over: whoever is able and has taken least so far."""

    def __init__(self, problem: Problem, plan: Timetable, happened: Happened) -> None:
        self.people = problem.people
        self.begun = happened.begun
        self.now = happened.now_min
        self.in_canner = {load.id for load in happened.loads}
        self.skill = {
            (b.id, s.id): str(s.skill) for b in problem.batches for s in b.steps
        }
        word = {(b.id, s.id): s.same_hands for b in problem.batches for s in b.steps}
        self.group: dict[tuple[str, str], tuple[str, str]] = {}
        self.members: dict[tuple[str, str], list[PlacedStep]] = {}
        for s in plan.steps:
            key = (s.batch, s.step)
            same = word.get(key, "")
            self.group[key] = (s.batch, f"\0{same}" if same else s.step)
            self.members.setdefault(self.group[key], []).append(s)
        self.to: dict[tuple[str, str], str | None] = {}
        self.taken: dict[str, int] = {p.id: 0 for p in problem.people}

    def step(self, s: PlacedStep) -> PlacedStep:
        """The step in hands that are there; what has begun stays where it is."""
        key = (s.batch, s.step)
        if key in self.begun or s.person is None:
            return s
        group = self.group[key]
        if group not in self.to:
            self.to[group] = self._whose(self.members[group])
        return replace(s, person=self.to[group] or s.person)

    def _whose(self, mine: list[PlacedStep]) -> str | None:
        if any((s.batch, s.step) in self.begun for s in mine):
            return None
        first, last = min(s.start_min for s in mine), max(s.end_min for s in mine)
        skills = {self.skill[s.batch, s.step] for s in mine if s.quarters}
        length = sum(s.end_min - s.start_min for s in mine)
        return self._other(mine[0].person, skills, (first, last), length)

    def load(self, load: PlacedLoad) -> PlacedLoad:
        """The load lowered and lifted by somebody who is there."""
        lowered, lifted = load.lowered_by, load.lifted_by
        if load.id not in self.in_canner:
            span = (load.lower_min, load.lowered_min)
            lowered = self._other(lowered, {LIFTS}, span, span[1] - span[0]) or lowered
        if load.lift_min >= self.now:
            span = (load.lift_min, load.out_min)
            lifted = self._other(lifted, {LIFTS}, span, span[1] - span[0]) or lifted
        return replace(load, lowered_by=lowered, lifted_by=lifted)

    def _other(
        self, who: str | None, skills: set[str], span: tuple[int, int], length: int
    ) -> str | None:
        """Somebody else who can, where they themselves are not there then."""
        mine = next((p for p in self.people if p.id == who), None)
        if mine is None:
            return None
        start, until = span
        if until <= mine.leaves_min and is_there(mine, start, until):
            return None
        able = [p for p in self.people if p is not mine and _can(p, skills)]
        if until <= mine.leaves_min:  # it can wait for them, if nobody is there
            able = [p for p in able if until <= p.leaves_min]
            able = [p for p in able if is_there(p, start, until)]
        else:
            able = [p for p in able if p.leaves_min > mine.leaves_min]
        # whoever stays longest, of those the one who has taken over least
        best = max(
            able,
            key=lambda p: (min(p.leaves_min, until), -self.taken[p.id]),
            default=None,
        )
        if best is None:
            return None
        self.taken[best.id] += length
        return best.id


def _can(person: Person, skills: set[str]) -> bool:
    return skills <= {str(skill) for skill in person.skills}


def _loads_elsewhere(
    problem: Problem, plan: Timetable, happened: Happened
) -> list[PlacedLoad]:
    """Loads to come of a canner that takes none, in one that does."""
    jar_of = {p.id: p.jar for p in problem.processes}
    canner_of = {c.id: c for c in problem.canners}
    in_canner = {load.id for load in happened.loads}
    given: dict[str, int] = {}
    moved = []
    for load in sorted(plan.loads, key=lambda load: load.lower_min):
        jar = jar_of[load.process]
        if load.id in in_canner or canner_of[load.canner].places.get(jar, 0):
            moved.append(load)
            continue
        room = [c for c in problem.canners if c.places.get(jar, 0) >= load.count]
        if not room:
            moved.append(load)
            continue
        to = min(room, key=lambda c: given.get(c.id, 0))
        given[to.id] = given.get(to.id, 0) + 1
        moved.append(_in(load, to))
    return moved


def _in(load: PlacedLoad, canner: Canner) -> PlacedLoad:
    """The load in another canner: its own times to the boil, its process unchanged."""
    lowered = load.lower_min + canner.load_min
    boil = lowered + canner.minutes_up(load.process)
    done = boil + load.process_min
    lift = done + canner.rest_min
    return replace(
        load,
        canner=canner.id,
        hot=False,
        heat_min=load.lower_min - canner.reheat_min,
        lowered_min=lowered,
        boil_min=boil,
        done_min=done,
        lift_min=lift,
        out_min=lift + canner.unload_min,
        fire_free_min=done,
    )
