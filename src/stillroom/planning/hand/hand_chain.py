"""
Chains of one batch placed by hand: a minute at which hands and fire are free for all.

The steps of a chain hang together minute by minute, so it has one start. Work for the
same hands stays with whom it began with.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace

from stillroom.planning.hand import free_time
from stillroom.planning.hand.free_time import FreeKitchen, each_minute, minutes
from stillroom.planning.hand.hand_fires import Fire, fires_of, light, serves
from stillroom.planning.network import Network
from stillroom.planning.problem import Batch, Person, Problem
from stillroom.planning.timetable import PlacedStep


@dataclass(slots=True, kw_only=True)
class ChainsByHand:
    """What one try to place a batch has taken so far."""

    problem: Problem
    batch: Batch
    network: Network
    people: Sequence[Person]
    """Those who are asked first come first."""
    kitchen: FreeKitchen
    pot: str | None
    mill: int | None
    hands: dict[str, str] = field(default_factory=dict)
    """Who it is that does all of one word for the same hands."""
    fires: dict[int, str] = field(default_factory=dict)
    """Burner of each step that stands on one."""

    def copy(self) -> ChainsByHand:
        """The same so far, to try something in."""
        return replace(
            self,
            kitchen=self.kitchen.copy(),
            hands=dict(self.hands),
            fires=dict(self.fires),
        )

    def place(self, chain: int, low: int, high: int, *, late: bool) -> int | None:
        """Place a chain at its first minute, or its last; `None`: at none of them."""
        if low > high:
            return None
        open_starts = minutes(max(0, low), high + 1)
        for i, offset in self.network.chains[chain].members:
            step = self.batch.steps[i]
            if step.attention_quarters:
                open_starts &= self._someone(i) >> offset
        groups = fires_of(self.batch, self.network, chain)
        for fire in groups:
            length = fire.end - fire.start
            some = 0
            for burner in self.problem.burners:
                if serves(self.problem, self.batch, self.pot, burner, fire):
                    free = self.kitchen.burners[burner.id]
                    some |= free_time.room_for(free, length)
            open_starts &= some >> fire.start
        candidates: Iterator[int] = each_minute(open_starts)
        if late:
            candidates = iter(sorted(each_minute(open_starts), reverse=True))
        return next((m for m in candidates if self._book(chain, m, groups)), None)

    def _able(self, i: int, hands: dict[str, str]) -> list[Person]:
        step = self.batch.steps[i]
        if step.same_hands in hands and step.same_hands:
            return [p for p in self.people if p.id == hands[step.same_hands]]
        if not step.same_hands:
            return [p for p in self.people if step.skill in p.skills]
        group = [
            s
            for s in self.batch.steps
            if s.same_hands == step.same_hands and s.attention_quarters
        ]
        return [p for p in self.people if all(s.skill in p.skills for s in group)]

    def _someone(self, i: int) -> int:
        """Minutes at which somebody who is able has time for a step."""
        step = self.batch.steps[i]
        some = 0
        for person in self._able(i, self.hands):
            level = self.kitchen.hands[person.id][step.attention_quarters - 1]
            some |= free_time.room_for(level, step.duration_min)
        return some

    def _book(self, chain: int, start: int, groups: Sequence[Fire]) -> bool:
        """Try a start in full, on a copy first: two steps may ask for one person."""
        trial = self.kitchen.copy()
        hands, fires = dict(self.hands), dict(self.fires)
        for fire in groups:
            burner = light(self.problem, self.batch, self.pot, trial, fire, start)
            if burner is None:
                return False
            fires.update(dict.fromkeys(fire.members, burner))
        for i, offset in self.network.chains[chain].members:
            step = self.batch.steps[i]
            begin, end = start + offset, start + offset + step.duration_min
            person: str | None = None
            if step.attention_quarters:
                q = step.attention_quarters
                person = next(
                    (
                        p.id
                        for p in self._able(i, hands)
                        if self._stays(trial, p, chain, i, start, hands)
                        and trial.give(p.id, begin, end, q)
                    ),
                    None,
                )
                if person is None:
                    return False
                if step.same_hands:
                    hands[step.same_hands] = person
            trial.steps.append(
                PlacedStep(
                    batch=self.batch.id,
                    step=step.id,
                    start_min=begin,
                    end_min=end,
                    person=person,
                    quarters=step.attention_quarters,
                    pot=self.pot if step.in_pot else None,
                    burner=fires.get(i),
                    mill=self.mill if step.on_mill else None,
                )
            )
        self.kitchen.become(trial)
        self.hands, self.fires = hands, fires
        return True

    def _stays(
        self,
        trial: FreeKitchen,
        person: Person,
        chain: int,
        i: int,
        start: int,
        hands: dict[str, str],
    ) -> bool:
        """Whether a person has time for all steps of this chain in the same hands."""
        word = self.batch.steps[i].same_hands
        if not word or word in hands:
            return True
        for j, offset in self.network.chains[chain].members:
            step = self.batch.steps[j]
            if step.same_hands != word or not step.attention_quarters:
                continue
            span = minutes(start + offset, start + offset + step.duration_min)
            if span & ~trial.hands[person.id][step.attention_quarters - 1]:
                return False
        return True
