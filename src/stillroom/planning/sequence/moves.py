"""Moves from one order of turns to another, and the orders to begin with."""

from __future__ import annotations

import random
from collections.abc import Callable
from dataclasses import dataclass, replace

from stillroom.planning.hot_jars import LIFT_WITHIN_MIN
from stillroom.planning.sequence.canning import process_for
from stillroom.planning.sequence.compiled import Compiled
from stillroom.planning.sequence.decode import Begin, Ride
from stillroom.planning.sequence.placing import Way
from stillroom.planning.timetable import Timetable

MOST_LATER_MIN = 30
"""By so much a batch may be put off so that another comes first. [min]"""
SHARE_OF_RESTS = 0.04
"""How often a rest is moved and nothing else."""
PLAIN = Way()


@dataclass(frozen=True, slots=True)
class Turns:
    """What a plan is made of: the loads in their order, and when rests are wished."""

    rides: tuple[Ride | Begin, ...]
    rests: tuple[tuple[int, ...], ...]


class Moves:
    """Draws turns that are a move away from others."""

    def __init__(self, day: Compiled, drawn: random.Random) -> None:
        self.day, self.drawn = day, drawn
        self.kind = _kinds(day)

    def key(self, turns: Turns) -> object:
        """What tells turns apart: batches alike have one name."""
        rides = tuple(
            (tuple(self.kind[b] for b in r.batches), r.ways, r.canner, r.lift_after)
            if isinstance(r, Ride)
            else (r.batch, r.cut, r.way)
            for r in turns.rides
        )
        return rides, turns.rests

    def moved(self, turns: Turns) -> tuple[Turns, int]:
        """Turns a move away, and the first load that differs."""
        moves: tuple[Callable[[list[Ride | Begin]], int | None], ...] = (
            self._put_elsewhere,
            self._put_elsewhere,
            self._swap,
            self._swap,
            self._change_rides,
            self._change_rides,
            self._trade,
            self._turn_round,
            self._begin,
            self._begin,
            self._other_way,
            self._other_way,
        )
        while True:
            if self.drawn.random() < SHARE_OF_RESTS and any(turns.rests):
                return replace(turns, rests=self._other_rest(turns.rests)), -1
            rides = list(turns.rides)
            first = self.drawn.choice(moves)(rides)
            if first is not None:
                return replace(turns, rides=tuple(rides)), first

    def _put_elsewhere(self, rides: list[Ride | Begin]) -> int | None:
        if len(rides) < 2:
            return None
        i = self.drawn.randrange(len(rides))
        ride = rides.pop(i)
        j = self._near(i, len(rides) + 1)
        rides.insert(j, ride)
        return min(i, j) if i != j else None

    def _swap(self, rides: list[Ride | Begin]) -> int | None:
        if len(rides) < 2:
            return None
        i = self.drawn.randrange(len(rides))
        j = self._near(i, len(rides))
        if i == j:
            return None
        rides[i], rides[j] = rides[j], rides[i]
        return min(i, j)

    def _near(self, i: int, many: int) -> int:
        if self.drawn.random() < 0.4:
            return self.drawn.randrange(many)
        far = max(1, many // 3)
        return min(many - 1, max(0, i + self.drawn.randint(-far, far)))

    def _change_rides(self, rides: list[Ride | Begin]) -> int | None:
        """One batch into another load, or into one of its own."""
        i = self.drawn.randrange(len(rides))
        ride = rides[i]
        if isinstance(ride, Begin):
            return None
        k = self.drawn.randrange(len(ride.batches))
        batch, way = ride.batches[k], ride.ways[k]
        if process_for(self.day, (batch,)) is None:
            return None
        targets = [
            j
            for j, other in enumerate(rides)
            if j != i
            and isinstance(other, Ride)
            and self._may_share((*other.batches, batch))
        ]
        alone = len(ride.batches) > 1
        if not targets and not alone:
            return None
        if alone and (not targets or self.drawn.random() < 0.3):
            rides[i] = _without(ride, k)
            j = self._near(i, len(rides) + 1)
            rides.insert(j, Ride((batch,), (way,), ride.canner))
            return min(i, j)
        j = self.drawn.choice(targets)
        other = rides[j]
        assert isinstance(other, Ride)
        rides[j] = _with(other, batch, way, self.drawn.random() < 0.5)
        if alone:
            rides[i] = _without(ride, k)
        else:
            del rides[i]
        return min(i, j)

    def _trade(self, rides: list[Ride | Begin]) -> int | None:
        """Two batches change their loads."""
        if len(rides) < 2:
            return None
        i, j = self.drawn.sample(range(len(rides)), 2)
        a, b = rides[i], rides[j]
        if isinstance(a, Begin) or isinstance(b, Begin):
            return None
        k, m = (
            self.drawn.randrange(len(a.batches)),
            self.drawn.randrange(len(b.batches)),
        )
        if self.kind[a.batches[k]] == self.kind[b.batches[m]]:
            return None
        x = _put(a, k, b.batches[m], b.ways[m])
        y = _put(b, m, a.batches[k], a.ways[k])
        if not self._may_share(x.batches) or not self._may_share(y.batches):
            return None
        rides[i], rides[j] = x, y
        return min(i, j)

    def _turn_round(self, rides: list[Ride | Begin]) -> int | None:
        several = [
            i for i, r in enumerate(rides) if isinstance(r, Ride) and len(r.batches) > 1
        ]
        if not several:
            return None
        i = self.drawn.choice(several)
        ride = rides[i]
        assert isinstance(ride, Ride)
        rides[i] = replace(ride, batches=ride.batches[::-1], ways=ride.ways[::-1])
        return i

    def _other_way(self, rides: list[Ride | Begin]) -> int | None:
        i = self.drawn.randrange(len(rides))
        ride = rides[i]
        if isinstance(ride, Begin):
            return None
        canners = len(self.day.problem.canners)
        if self.drawn.random() < 0.25:
            after = self.drawn.randint(0, LIFT_WITHIN_MIN)
            after = 0 if ride.lift_after else after
            rides[i] = replace(ride, lift_after=after)
            return i
        if canners > 1 and self.drawn.random() < 0.2:
            rides[i] = replace(ride, canner=self.drawn.randrange(canners))
            return i if rides[i] != ride else None
        k = self.drawn.randrange(len(ride.batches))
        way = ride.ways[k]
        drawn = self.drawn.random()
        if drawn < 0.3:
            way = replace(way, cooks_first=not way.cooks_first)
        elif drawn < 0.7:
            later = 0 if way.later else self.drawn.randint(1, MOST_LATER_MIN)
            way = replace(way, later=later)
        else:
            way = replace(way, late=not way.late)
        rides[i] = _put(ride, k, ride.batches[k], way)
        return i

    def _begin(self, rides: list[Ride | Begin]) -> int | None:
        """A batch is begun some turns before the rest of it, or no longer so."""
        i = self.drawn.randrange(len(rides))
        ride = rides[i]
        if isinstance(ride, Begin):
            del rides[i]
            return i
        batch = self.drawn.choice(ride.batches)
        cuts = len(self.day.made[batch].cuts)
        if not cuts:
            return None
        kept = [r for r in rides if not (isinstance(r, Begin) and r.batch == batch)]
        i = kept.index(ride)
        j = self.drawn.randint(max(0, i - 4), i)
        way = Way(cooks_first=self.drawn.random() < 0.3)
        kept.insert(j, Begin(batch, self.drawn.randrange(cuts), way))
        first = next(n for n, r in enumerate((*rides, None)) if r is not kept[n])
        rides[:] = kept
        return first

    def _other_rest(
        self, rests: tuple[tuple[int, ...], ...]
    ) -> tuple[tuple[int, ...], ...]:
        owners = [n for n, r in enumerate(rests) if r]
        n = self.drawn.choice(owners)
        k = self.drawn.randrange(len(rests[n]))
        rest = self.day.problem.people[n].breaks[k]
        minute = self.drawn.randint(rest.earliest_min, rest.latest_start_min)
        if self.drawn.random() < 0.4:
            minute = self.drawn.choice((rest.earliest_min, rest.latest_start_min))
        mine = tuple(minute if m == k else x for m, x in enumerate(rests[n]))
        return tuple(mine if m == n else r for m, r in enumerate(rests))

    def _may_share(self, batches: tuple[int, ...]) -> bool:
        if len(batches) == 1:
            return True
        return process_for(self.day, batches) is not None


def _kinds(day: Compiled) -> list[object]:
    """What tells batches apart: not their names."""
    number: dict[int, int] = {}
    wanted = [b.serves for b in day.problem.batches]
    return [
        (number.setdefault(id(m), len(number)), serves)
        for m, serves in zip(day.made, wanted, strict=True)
    ]


def _without(ride: Ride, k: int) -> Ride:
    return replace(
        ride,
        batches=ride.batches[:k] + ride.batches[k + 1 :],
        ways=ride.ways[:k] + ride.ways[k + 1 :],
    )


def _with(ride: Ride, batch: int, way: Way, first: bool) -> Ride:
    if first:
        return replace(ride, batches=(batch, *ride.batches), ways=(way, *ride.ways))
    return replace(ride, batches=(*ride.batches, batch), ways=(*ride.ways, way))


def _put(ride: Ride, k: int, batch: int, way: Way) -> Ride:
    return replace(
        ride,
        batches=(*ride.batches[:k], batch, *ride.batches[k + 1 :]),
        ways=(*ride.ways[:k], way, *ride.ways[k + 1 :]),
    )


def first_turns(day: Compiled) -> list[Turns]:
    """Plain orders, with loads filled as they come and with a load for each batch."""
    due = {b: by for by, _, batches in day.late for b in batches}
    listed = list(range(len(day.made)))
    tail = [max(n.tail, default=0) for n in day.networks]
    by_date = sorted(listed, key=lambda b: due.get(b, day.problem.horizon_min + 1))
    long_first = sorted(by_date, key=lambda b: -tail[b])
    people = day.problem.people
    soon = tuple(tuple(r.earliest_min for r in p.breaks) for p in people)
    late = tuple(tuple(r.latest_start_min for r in p.breaks) for p in people)
    return [
        Turns(tuple(_rides(day, order, shared)), rests)
        for order in (by_date, long_first, _spread(by_date, tail))
        for shared in (True, False)
        for rests in (late, soon)
    ]


def turns_like(day: Compiled, plan: Timetable) -> Turns:
    """The turns that a plan comes nearest to: its loads, by when they are lowered."""
    position = {b.id: n for n, b in enumerate(day.problem.batches)}
    begins = dict.fromkeys(position.values(), day.problem.horizon_min)
    for s in plan.steps:
        n = position[s.batch]
        begins[n] = min(begins[n], s.start_min)
    rides: list[tuple[int, tuple[int, ...]]] = []
    seen: set[int] = set()
    for load in sorted(plan.loads, key=lambda load: load.lower_min):
        aboard = [position[name] for name, _ in load.jars]
        mine = sorted({n for n in aboard if n not in seen}, key=lambda n: begins[n])
        seen.update(mine)
        if mine:
            rides.append((load.lower_min, tuple(mine)))
    rides += [(begins[n], (n,)) for n in begins if n not in seen]
    rests = tuple(
        tuple(
            max(rest.earliest_min, min(r.start_min, rest.latest_start_min))
            for rest, r in zip(
                person.breaks,
                [r for r in plan.breaks if r.person == person.id],
                strict=False,
            )
        )
        for person in day.problem.people
    )
    return Turns(tuple(Ride(b, (PLAIN,) * len(b)) for _, b in sorted(rides)), rests)


def _spread(order: list[int], tail: list[int]) -> list[int]:
    """Long batches spread evenly among the short."""
    middle = (min(tail) + max(tail)) / 2 if tail else 0
    place: dict[int, float] = {}
    for some in (
        [b for b in order if tail[b] > middle],
        [b for b in order if tail[b] <= middle],
    ):
        place.update({b: n / max(1, len(some)) for n, b in enumerate(some)})
    return sorted(order, key=lambda b: place[b])


def _rides(day: Compiled, order: list[int], shared: bool) -> list[Ride]:
    rides: list[Ride] = []
    for b in order:
        for n, ride in enumerate(rides if shared else ()):
            if process_for(day, (*ride.batches, b)) is not None:
                rides[n] = _with(ride, b, PLAIN, False)
                break
        else:
            rides.append(Ride((b,), (PLAIN,)))
    return rides
