"""
Jars into the canner, by hand.

Closed jars join the last load that is not yet lowered, if process, places and
everyone's wait allow; else the next load begins as soon as a canner is free. A load
that is joined may be put later; nothing else moves.
"""

from __future__ import annotations

from dataclasses import replace
from math import ceil

from stillroom.planning.hand.free_time import (
    FreeKitchen,
    HandLoad,
    each_minute,
    minutes,
    not_ours,
    room_for,
)
from stillroom.planning.hot_jars import LABOUR_QUARTERS, LIFT_WITHIN_MIN
from stillroom.planning.problem import Batch, Canner, Person, Problem, Process
from stillroom.planning.timetable import PlacedLoad


def put_into_canner(
    problem: Problem,
    kitchen: FreeKitchen,
    batch: Batch,
    ready_min: int,
    *,
    people: list[Person],
    keeps_burner: bool,
) -> int | None:
    """
    Put the jars of a batch, closed at ``ready_min``, into loads of ``kitchen``.

    Returns
    -------
    int or None
        `None` when done; else by how many minutes the jars would have to be closed
        later for the next load to take them (the whole day where none ever would).
    """
    lifters = [p for p in people if "lift" in p.skills]
    putting = _Putting(problem, kitchen, lifters, keeps_burner)
    return putting.join(batch, ready_min) and putting.begin(batch, ready_min)


class _Putting:
    def __init__(
        self, problem: Problem, kitchen: FreeKitchen, lifters: list[Person], keeps: bool
    ) -> None:
        self.problem, self.kitchen = problem, kitchen
        self.lifters, self.keeps_burner = lifters, keeps
        self.process_of = {p.id: p for p in problem.processes}
        self.not_ours = {b.id: not_ours(b) for b in problem.burners}

    def join(self, batch: Batch, ready: int) -> int | None:
        """Join an open load; `None` when done."""
        own = self.process_of[str(batch.process)]
        latest = ready + batch.closed_wait_at_most_min
        for canner in self.problem.canners:
            line = self.kitchen.loads[canner.id]
            if not line:
                continue
            held = line[-1]
            count = held.placed.count + batch.jars
            if held.placed.process not in own.may_ride_in:
                continue
            if count > canner.places.get(own.jar, 0):
                continue
            low = max(ready, held.placed.lower_min)
            high = min(latest, held.latest_lower_min)
            if low > high:
                continue
            before = self.kitchen.copy()
            line.pop()
            self._free(held, canner, line)
            process = self.process_of[held.placed.process]
            jars = (*held.placed.jars, (batch.id, batch.jars))
            if self._lower(canner, process, jars, low, high, high):
                return None
            self.kitchen.become(before)
        return 1

    def _free(self, held: HandLoad, canner: Canner, line: list[HandLoad]) -> None:
        """Give back hands and fire of a load that is taken out again."""
        load = held.placed
        for person in self.lifters:
            if person.id in (load.lowered_by, load.lifted_by):
                self.kitchen.release_hands(person, self.problem.horizon_min)
        if load.hot and line:  # the fire kept on for its sake goes too
            kept = line[-1].placed
            line[-1].placed = replace(kept, fire_free_min=kept.done_min)
        if not self.keeps_burner:
            for burner in canner.burners:
                self.kitchen.burners[burner] |= minutes(
                    held.stands_from_min, load.stands_until_min
                )

    def begin(self, batch: Batch, ready: int) -> int | None:
        """Put the jars into new loads, as few as hold them."""
        own = self.process_of[str(batch.process)]
        latest = ready + batch.closed_wait_at_most_min
        horizon = self.problem.horizon_min
        left = batch.jars
        most = max((c.places.get(own.jar, 0) for c in self.problem.canners), default=0)
        loads = ceil(left / most) if most else 0
        for later in reversed(range(loads)):
            first: tuple[int, Canner] | None = None
            for canner in self.problem.canners:
                aboard = min(left, canner.places.get(own.jar, 0))
                if not aboard or left - aboard > later * most:
                    continue  # so small that one load more would follow
                jars = ((batch.id, aboard),)
                start = self._first_lowering(canner, own, jars, ready, horizon)
                if start is not None and (first is None or start < first[0]):
                    first = (start, canner)
            if first is None:
                return horizon
            start, canner = first
            if start > latest:
                return start - latest
            aboard = min(left, canner.places[own.jar])
            self._lower(canner, own, ((batch.id, aboard),), start, start, latest)
            left -= aboard
        return horizon if left else None

    def _first_lowering(
        self,
        canner: Canner,
        process: Process,
        jars: tuple[tuple[str, int], ...],
        low: int,
        high: int,
    ) -> int | None:
        trial = self.kitchen
        self.kitchen = trial.copy()
        try:
            if self._lower(canner, process, jars, low, high, high):
                return self.kitchen.loads[canner.id][-1].placed.lower_min
            return None
        finally:
            self.kitchen = trial

    def _lower(
        self,
        canner: Canner,
        process: Process,
        jars: tuple[tuple[str, int], ...],
        low: int,
        high: int,
        latest: int,
    ) -> bool:
        """Lower a load at the earliest minute of ``low`` .. ``high`` that serves."""
        line = self.kitchen.loads[canner.id]
        before = line[-1].placed if line else None
        boil = canner.load_min + canner.minutes_up(process.id)
        lift_after = boil + process.minutes + canner.rest_min
        to_lower, to_lift = (
            self._lifting(canner.load_min),
            self._lifting(canner.unload_min),
        )
        lift = 0
        for later in range(LIFT_WITHIN_MIN + 1):
            lift |= to_lift >> (lift_after + later)
        starts = to_lower & lift & minutes(max(0, low), high + 1)
        starts &= self._lit(canner, before, lift_after + canner.unload_min)
        count = sum(n for _, n in jars)
        room: dict[int, bool] = {}
        for start in each_minute(starts):
            done = start + boil + process.minutes
            for later in range(LIFT_WITHIN_MIN + 1):
                lift_at = start + lift_after + later
                out = lift_at + canner.unload_min
                if not to_lift >> lift_at & 1:
                    continue
                if out not in room:
                    room[out] = self._room(count, out)
                if not room[out]:
                    continue
                heated = self._heated(canner, before, start, out)
                if heated is None:
                    break
                since, heat, hot = heated
                load = PlacedLoad(
                    id=f"{canner.id}/{len(line) + 1}",
                    canner=canner.id,
                    process=process.id,
                    process_min=process.minutes,
                    jars=jars,
                    hot=hot,
                    heat_min=heat,
                    lower_min=start,
                    lowered_min=start + canner.load_min,
                    boil_min=start + boil,
                    done_min=done,
                    lift_min=lift_at,
                    out_min=out,
                    fire_free_min=done,
                    lowered_by=self._who(start, canner.load_min),
                    lifted_by=self._who(lift_at, canner.unload_min),
                )
                if hot:
                    line[-1].placed = replace(line[-1].placed, fire_free_min=start)
                if not self.keeps_burner:
                    for burner in canner.burners:
                        self.kitchen.take_burner(burner, since, out)
                line.append(HandLoad(load, latest, since))
                return True
        return False

    def _lit(self, canner: Canner, before: PlacedLoad | None, takes: int) -> int:
        """Minutes to lower at which its fires may be free until the jars are out."""
        others = any(self.not_ours[burner] for burner in canner.burners)
        if not canner.burners or (self.keeps_burner and not others):
            return -1
        free = minutes(0, self.problem.horizon_min)
        for burner in canner.burners:
            if self.keeps_burner:
                free &= ~self.not_ours[burner]
            else:
                free &= self.kitchen.burners[burner]
        cold = room_for(free, canner.first_heat_min + takes) << canner.first_heat_min
        if before is None:
            return cold
        off = before.out_min
        taken = ~(free >> off)
        stays = (taken & -taken).bit_length() - 1  # minutes free on end from then on
        return cold | minutes(off, off + stays - takes + 1)

    def _lifting(self, length: int) -> int:
        some = 0
        for person in self.lifters:
            level = self.kitchen.hands[person.id][LABOUR_QUARTERS - 1]
            some |= room_for(level, max(1, length))
        return some

    def _who(self, start: int, length: int) -> str:
        """Take the hands of the first who is free then: somebody is."""
        return next(
            person.id
            for person in self.lifters
            if self.kitchen.give(person.id, start, start + length, LABOUR_QUARTERS)
        )

    def _heated(
        self, canner: Canner, before: PlacedLoad | None, start: int, out: int
    ) -> tuple[int, int, bool] | None:
        """
        Since when the canner stands there, and is heated, and whether it is hot still.

        Its water is reheated where it stayed on its fire since the load before.
        """
        first = start - canner.first_heat_min
        ways = [(first, first, False)]
        if before is not None:
            off = before.out_min
            ways = [(first, first, False)] if first >= off else []
            if start - canner.reheat_min >= off:
                ways.insert(0, (off, start - canner.reheat_min, False))
            if off <= start <= off + canner.stays_hot_min:
                ways.insert(0, (off, start, True))
        for since, heat, hot in ways:
            if since >= 0 and self._fire(canner, since, out):
                return since, heat, hot
        return None

    def _fire(self, canner: Canner, since: int, out: int) -> bool:
        """Whether its burners are free from heating until its jars are out."""
        span = minutes(since, out)
        if self.keeps_burner:
            taken = any(span & self.not_ours[b] for b in canner.burners)
            return not taken and self._no_other_canner(canner, since, out)
        return all(not span & ~self.kitchen.burners[b] for b in canner.burners)

    def _no_other_canner(self, canner: Canner, start: int, end: int) -> bool:
        """Whether canners that stand on the same burners are off the fire."""
        for other in self.problem.canners:
            if other.id == canner.id or not set(other.burners) & set(canner.burners):
                continue
            for held in self.kitchen.loads[other.id]:
                until = held.placed.stands_until_min
                if start < until and held.stands_from_min < end:
                    return False
        return True

    def _room(self, count: int, out: int) -> bool:
        counter = self.problem.counter
        standing = [(out, count)] + [
            (held.placed.out_min, held.placed.count)
            for line in self.kitchen.loads.values()
            for held in line
        ]
        of_before = sum(jars for jars, _ in counter.taken)
        if of_before + sum(n for _, n in standing) <= counter.places:
            return True
        return all(
            sum(n for o, n in standing if o <= at < o + counter.cooling_min)
            + sum(jars for jars, until in counter.taken if at < until)
            <= counter.places
            for at, _ in standing
        )
