"""
One batch placed by hand: the earliest minute at which its pot is free and all fits.

Chains are placed by their earliest start, what only heats as late as fits. Where a
chain finds no room before its limit, what it must follow is put later, and all starts
anew.
"""

from __future__ import annotations

from stillroom.planning.hand.free_time import FreeKitchen
from stillroom.planning.hand.hand_chain import ChainsByHand
from stillroom.planning.hand.hand_loads import put_into_canner
from stillroom.planning.hand.hand_repeats import (
    Stretch,
    Try,
    changes_in,
    latest_round,
    load_span,
    rounds_to_come,
)
from stillroom.planning.hot_jars import LIFT_WITHIN_MIN
from stillroom.planning.network import UNTIED, Network, network_of
from stillroom.planning.problem import Batch, Problem
from stillroom.planning.rinses import Tool, contents_of

TRIES_A_BATCH = 400


def _mill(number: int) -> str:
    """Mills beside pots by a name that no pot has."""
    return f"\0mill {number}"


class Placing:
    """One batch being placed."""

    def __init__(
        self, problem: Problem, kitchen: FreeKitchen, batch: Batch, keeps_burner: bool
    ) -> None:
        self.problem, self.kitchen, self.batch = problem, kitchen, batch
        self.keeps_burner = keeps_burner
        self.network: Network = network_of(batch)
        # plain work goes to those who can do least else
        self.people = sorted(problem.people, key=lambda p: len(p.skills))
        self.not_before = [
            self.network.earliest[chain.members[0][0]] for chain in self.network.chains
        ]
        self.not_after: dict[int, int] = {}
        self._hold_to_windows()
        self.pot: str | None = None
        self.mill: int | None = None
        self.tries: list[Try] = []
        self.changes: dict[tuple[str | None, int | None], int] = {}
        self.late = [self._goes_late(c) for c in range(len(self.network.chains))]
        self.order = self._in_order()

    def _hold_to_windows(self) -> None:
        """Chains whose steps have a minute of the clock to begin by, or not before."""
        position = {s.id: i for i, s in enumerate(self.batch.steps)}
        for window in self.batch.windows:
            i = position[window.step]
            self._hold_back([i], window.earliest_min)
            if window.latest_min is not None:
                chain = self.network.chain_of[i]
                latest = window.latest_min - self.network.offset[i]
                self.not_after[chain] = min(latest, self.not_after.get(chain, latest))

    def place(self) -> bool:
        """Place the batch and its jars; `False` where they do not fit."""
        tried = 0
        self.tries.clear()
        while tried < TRIES_A_BATCH:
            tried += 1
            trial = self.kitchen.copy()
            late = self._attempt(trial)
            if late is None:
                self.kitchen.become(trial)
                return True
            chain, minute = late
            self.not_before[chain] = max(minute, self.not_before[chain] + 1)
            if self.not_before[chain] >= self.problem.horizon_min:
                return False
            tried += self._pass_over()
        return False

    def _pass_over(self) -> int:
        """Put all later by the rounds that would repeat; how many tries they were."""
        found = latest_round(self.tries)
        if found is None:
            return 0
        changes = self._changes()
        rounds = rounds_to_come(found, changes, self.network, self.not_after)
        if not rounds:
            return 0
        for chain in {one.chain for one in found.again}:
            self.not_before[chain] += rounds * found.later_min
        self.tries.clear()
        return rounds * len(found.again)

    def _changes(self) -> int:
        """Minutes at which something begins or ends, as it is and once rinsed."""
        chosen = self.pot, self.mill
        if chosen not in self.changes:
            rinsed = self.kitchen.copy()
            self._choose_pot(rinsed)
            both = (self.kitchen, rinsed)
            here, there = (changes_in(self.problem, kitchen) for kitchen in both)
            self.changes[chosen] = here | there
        return self.changes[chosen]

    def _attempt(self, trial: FreeKitchen) -> tuple[int, int] | None:
        """Place all chains; else (chain, minute before which it must not start)."""
        starts: dict[int, int] = {}
        stood: dict[int, Stretch] = {}
        self._choose_pot(trial)
        chains = ChainsByHand(
            problem=self.problem,
            batch=self.batch,
            network=self.network,
            people=self.people,
            kitchen=trial,
            pot=self.pot,
            mill=self.mill,
        )
        for chain in self.order:
            low, high, held_by = self._window(chain, starts)
            late = self.late[chain] and bool(starts)
            placed = chains.place(chain, low, high, late=late)
            if placed is None:
                if held_by is None:
                    return chain, self.problem.horizon_min
                since = max(high + 1, self.not_before[chain])
                end = self.problem.horizon_min
                found = chains.copy().place(chain, since, end, late=False)
                if found is None:
                    return chain, self.problem.horizon_min
                minute = starts[held_by] + found - high
                stood[chain] = Stretch(low, high, found, hangs_on_high=True)
                self._note(held_by, minute, since, found, stood)
                return held_by, minute
            starts[chain] = placed
            stood[chain] = Stretch(low, high, placed, hangs_on_high=late)
        self._book_pot_and_mill(trial)
        return self._put_jars_away(trial, stood)

    def _put_jars_away(
        self, trial: FreeKitchen, stood: dict[int, Stretch]
    ) -> tuple[int, int] | None:
        if self.batch.process is None:
            return None
        index = next(
            i for i, s in enumerate(self.batch.steps) if s.id == self.batch.ready_after
        )
        chain = self.network.chain_of[index]
        ready = stood[chain].start + self.network.offset[index]
        ready += self.batch.steps[index].duration_min
        missed = put_into_canner(
            self.problem,
            trial,
            self.batch,
            ready,
            people=self.people,
            keeps_burner=self.keeps_burner,
        )
        if missed is None:
            return None
        minute = stood[chain].start + missed
        lowered = ready + self.batch.closed_wait_at_most_min + missed
        before, after = load_span(self.problem, self.batch, LIFT_WITHIN_MIN)
        self._note(chain, minute, ready - before, lowered + after, stood)
        return chain, minute

    def _note(
        self,
        chain: int,
        minute: int,
        since: int,
        until: int,
        stood: dict[int, Stretch],
    ) -> None:
        failed = Try(chain, minute, since, until, self.pot, self.mill, stood)
        self.tries.append(failed)

    # --- pots and mills -----------------------------------------------------

    def _choose_pot(self, trial: FreeKitchen) -> None:
        steps, contents = self.batch.steps, contents_of(self.batch)
        self.pot = self.mill = None
        chain_of = self.network.chain_of
        if self.batch.pots and any(s.in_pot for s in steps):
            inside = [i for i, s in enumerate(steps) if s.in_pot]
            wanted = min(
                self.not_before[chain_of[i]] + self.network.offset[i] for i in inside
            )
            rank = {size: n for n, size in enumerate(self.batch.pots)}
            allowed = [p for p in self.problem.pots if p.size in rank]
            saved = {p.id: trial.saved_by_rinsing(p.id, contents) for p in allowed}
            free = {p.id: trial.pot_free_from[p.id] - saved[p.id] for p in allowed}
            best = min(
                allowed,
                key=lambda p: (max(free[p.id], wanted), rank[p.size], -saved[p.id]),
            )
            self.pot = best.id
            self._hold_back(inside, free[best.id])
            self._rinse(trial, best.id, saved[best.id])
        on_mill = [i for i, s in enumerate(steps) if s.on_mill]
        if on_mill:
            mills = range(len(trial.mill_free_from))
            saves = [trial.saved_by_rinsing(_mill(m), contents) for m in mills]
            free_from = [trial.mill_free_from[m] - saves[m] for m in mills]
            chosen = min(mills, key=lambda m: (free_from[m], -saves[m]))
            self.mill = chosen + 1
            self._hold_back(on_mill, free_from[chosen])
            self._rinse(trial, _mill(chosen), saves[chosen])

    def _rinse(self, trial: FreeKitchen, name: str, saved: int) -> None:
        """What was to be washed is only rinsed: the same goes in again."""
        if saved:
            trial.rinse(name, self.problem.people, self.problem.horizon_min)

    def _hold_back(self, members: list[int], minute: int) -> None:
        for i in members:
            chain = self.network.chain_of[i]
            earliest = minute - self.network.offset[i]
            self.not_before[chain] = max(self.not_before[chain], earliest)

    def _book_pot_and_mill(self, trial: FreeKitchen) -> None:
        mine = {s.step: s.end_min for s in trial.steps if s.batch == self.batch.id}
        if self.pot is not None:
            inside = [s.id for s in self.batch.steps if s.in_pot]
            trial.pot_free_from[self.pot] = max(mine[i] for i in inside)
            trial.leave(self.pot, self.batch, Tool.POT)
        if self.mill is not None:
            on_mill = [s.id for s in self.batch.steps if s.on_mill]
            trial.mill_free_from[self.mill - 1] = max(mine[i] for i in on_mill)
            trial.leave(_mill(self.mill - 1), self.batch, Tool.MILL)

    # --- order and windows --------------------------------------------------

    def _in_order(self) -> list[int]:
        """Chains by earliest start; those that go late after what waits for them."""
        chains = self.network.chains
        first = {
            c: self.network.earliest[chain.members[0][0]]
            for c, chain in enumerate(chains)
        }
        order = sorted(first, key=lambda c: (self.late[c], first[c], c))
        late = [c for c in order if self.late[c]]
        # a late chain, and what comes only before it, after the rest is placed
        return [c for c in order if c not in late] + late[::-1]

    def _goes_late(self, chain: int) -> bool:
        """Whether it needs neither hands nor pot, and something waits for it."""
        steps = [self.batch.steps[i] for i, _ in self.network.chains[chain].members]
        if any(s.attention_quarters or s.in_pot or s.on_mill for s in steps):
            return False
        ids = {s.id for s in steps}
        return any(
            link.before in ids and link.at_most_min is not None
            for link in self.batch.links
        )

    def _window(
        self, chain: int, starts: dict[int, int]
    ) -> tuple[int, int, int | None]:
        """Earliest and latest start, and the placed chain that sets the latest."""
        lag = self.network.lag
        root = self.network.chains[chain].members[0][0]
        length = self.network.chains[chain].length_min
        low, high = self.not_before[chain], self.problem.horizon_min - length
        high = min(high, self.not_after.get(chain, high))
        held_by: int | None = None
        for other, start in starts.items():
            other_root = self.network.chains[other].members[0][0]
            if lag[other_root][root] != UNTIED:
                low = max(low, start + lag[other_root][root])
            if lag[root][other_root] != UNTIED:
                latest = start - lag[root][other_root]
                if latest < high:
                    high, held_by = latest, other
        return low, high, held_by
