"""
A day taken to have gone to plan, but for what was late: what has begun, and what not.

What was to begin and could not, since its link, its hands, its pot or its fire was held
by something that ran on, has not begun; nobody has to say so.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from stillroom.planning.begun.burners_left import was_taken
from stillroom.planning.daytime import clock_time
from stillroom.planning.happened import QUARTERS, Happened, Key
from stillroom.planning.hot_jars import LABOUR_QUARTERS
from stillroom.planning.problem import Problem
from stillroom.planning.timetable import PlacedLoad, PlacedStep, Timetable
from stillroom.planning.words.step_words import no_such_step
from stillroom.refusal import Fault, Unreadable


def as_planned(
    problem: Problem,
    plan: Timetable,
    now_min: int,
    *,
    late_min: Mapping[Key, int] | None = None,
) -> Happened:
    """
    Take the day to have gone to plan, but for what is late.

    A late step ends so much later. What was to begin before now, and could not because
    its link, its person or its pot was held by something late, has not begun.

    Parameters
    ----------
    problem : Problem
        The day.
    plan : Timetable
        Its plan.
    now_min : int
        Minute of the day.
    late_min : mapping, optional
        (batch, step) to minutes by which it ends later; negative is sooner.

    Raises
    ------
    Unreadable
        If a late step is not in the plan, or ends before it begins.
    """
    late = dict(late_min or {})
    known = {(s.batch, s.step) for s in plan.steps}
    for key in late:
        if key not in known:
            raise Unreadable(Fault(no_such_step(key, sorted(known))))
    going = _Going(problem, now_min)
    for placed in sorted(plan.steps, key=lambda s: (s.start_min, s.end_min)):
        if placed.start_min >= now_min:
            continue
        end = placed.end_min + late.get((placed.batch, placed.step), 0)
        if end <= placed.start_min < placed.end_min:
            raise Unreadable(
                Fault(
                    f"{placed.batch}/{placed.step} begins at "
                    f"{clock_time(problem.starts_at, placed.start_min)} and cannot end "
                    f"at {clock_time(problem.starts_at, end)}"
                )
            )
        going.begin(replace(placed, end_min=end), planned_end=placed.end_min)
    loads: list[PlacedLoad] = []
    emptied: set[str] = set()
    for load in sorted(plan.loads, key=lambda load: load.lower_min):
        waits = load.canner in emptied
        if load.lower_min >= now_min or waits or not going.loaded(load):
            continue
        lifts = load.lifted_by, load.lift_min, LABOUR_QUARTERS
        if load.lift_min < now_min and going.busy(*lifts):
            still = now_min - load.lift_min
            load = replace(load, lift_min=now_min, out_min=load.out_min + still)
            emptied.add(load.canner)
        loads.append(load)
    breaks = tuple(
        r
        for r in plan.breaks
        if r.start_min < now_min and not going.busy(r.person, r.start_min, QUARTERS)
    )
    return Happened(
        now_min=now_min,
        steps=tuple(going.begun.values()),
        loads=tuple(going.with_its_flame(load, plan, loads) for load in loads),
        breaks=breaks,
    )


class _Going:
    """Which steps could begin at their planned minute."""

    def __init__(self, problem: Problem, now: int) -> None:
        self.problem, self.now = problem, now
        self.batch_of = {b.id: b for b in problem.batches}
        self.has = {p.id: p.quarters for p in problem.people}
        self.begun: dict[Key, PlacedStep] = {}
        self.later: set[Key] = set()
        self.slipped: dict[Key, int] = {}
        """Planned ends of steps that end later than that."""

    def begin(self, placed: PlacedStep, *, planned_end: int) -> None:
        key = (placed.batch, placed.step)
        if self._linked(placed) and self._free(placed):
            self.begun[key] = placed
            if placed.end_min > planned_end:
                self.slipped[key] = planned_end
        else:
            self.later.add(key)

    def _linked(self, placed: PlacedStep) -> bool:
        for link in self.batch_of[placed.batch].links:
            if link.after != placed.step:
                continue
            before = self.begun.get((placed.batch, link.before))
            if before is None or before.end_min + link.at_least_min > placed.start_min:
                return False
        return True

    def _free(self, placed: PlacedStep) -> bool:
        """Whether nothing that ran on holds its person, its burner or its pot."""
        if self.busy(placed.person, placed.start_min, placed.quarters):
            return False
        for key, planned_end in self.slipped.items():
            other = self.begun[key]
            if not planned_end <= placed.start_min < other.end_min:
                continue
            same_fire = placed.burner is not None and placed.burner == other.burner
            same_mill = placed.mill is not None and placed.mill == other.mill
            if other.batch != placed.batch and (same_fire or same_mill):
                return False
        if placed.pot is None:
            return True
        # a pot whose wash has not come about is not free
        return not any(
            batch != placed.batch
            and self._pot(batch) == placed.pot
            and self._in_pot(batch, step)
            for batch, step in self.later
        )

    def busy(self, person: str | None, minute: int, quarters: int) -> bool:
        """
        Whether something that ran on leaves a person too little to begin this.

        What asks for more than they have, as a rest does, takes all that they have.
        """
        if person is None or quarters == 0:
            return False
        most = self.has.get(person, QUARTERS)
        asked = min(quarters, most)
        for key, planned_end in self.slipped.items():
            other = self.begun[key]
            if person == other.person and planned_end <= minute < other.end_min:
                asked += other.quarters
        return asked > most

    def with_its_flame(
        self, load: PlacedLoad, plan: Timetable, loads: Sequence[PlacedLoad]
    ) -> PlacedLoad:
        """Nobody turns off the flame under a canner whose next load is only late."""
        gone_in = {one.id for one in loads}
        waits = any(
            other.hot
            and other.canner == load.canner
            and other.id not in gone_in
            and other.lower_min == load.fire_free_min < self.now
            for other in plan.loads
        )
        canner = next(c for c in self.problem.canners if c.id == load.canner)
        taken = any(
            step.burner in canner.burners and step.end_min > load.fire_free_min
            for step in self.begun.values()
        ) or was_taken(self.problem, canner, load.fire_free_min, self.now)
        return replace(load, fire_free_min=self.now) if waits and not taken else load

    def _pot(self, batch: str) -> str | None:
        return next(
            (s.pot for s in self.begun.values() if s.batch == batch and s.pot), None
        )

    def _in_pot(self, batch: str, step: str) -> bool:
        return any(s.id == step and s.in_pot for s in self.batch_of[batch].steps)

    def loaded(self, load: PlacedLoad) -> bool:
        """Whether a load's jars were closed, and hands free, at its minute."""
        if self.busy(load.lowered_by, load.lower_min, LABOUR_QUARTERS):
            return False
        for name, _ in load.jars:
            batch = self.batch_of[name]
            for step in batch.steps:
                if batch.ready_after not in ("", step.id):
                    continue
                done = self.begun.get((name, step.id))
                if done is None or done.end_min > load.lower_min:
                    return False
        return True
