"""
The linear program that proposes prices: shreds of batches, smeared over a day.

It counts how much of the batches finds no room. Its dual prices go to `prices`, and
what is cheapest at these prices comes back as a new column.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np
from ortools.linear_solver import pywraplp

from stillroom.planning.bounding.canning import Canning
from stillroom.planning.bounding.kinds import Kind
from stillroom.planning.bounding.marks import Minutes, stretches
from stillroom.planning.bounding.pairs import Moments, Pair, Pairs
from stillroom.planning.bounding.prices import Prices, Rest, Stretches, Verdict

WHOLE = 10_000_000
"""Prices are whole figures of so many to one."""
NOTHING_LEFT = 1e-7
"""So little of the batches without room is none."""
CHEAPER = 1e-7
"""By so much a new column must be cheaper to be of use."""


class Proposal:
    """The program for a day that ends at some minute."""

    def __init__(
        self,
        day: Stretches,
        kinds: Sequence[Kind],
        canning: Canning,
        rests: Sequence[Rest],
        there: Sequence[Minutes],
        spared: Sequence[int],
        pairs: Mapping[int, Pairs],
    ) -> None:
        self.day, self.kinds, self.canning = day, kinds, canning
        self.solver = pywraplp.Solver.CreateSolver("GLOP")
        self.many = self.solver.infinity()
        self.batches: list[dict[tuple[int, ...], None]] = [{} for _ in kinds]
        self.loads: list[dict[tuple[int, int], None]] = [{} for _ in canning.kinds]
        self.both: dict[tuple[int, Moments], None] = {}
        row, each = self.solver.Constraint, range(day.count)
        self.supply = [
            [row(-self.many, float(many[k]) / day.width) for k in each]
            for many in there
        ]
        self.closed = [[row(-self.many, 0.0) for _ in each] for _ in canning.jars]
        self.place = [[row(-self.many, 0.0) for _ in each] for _ in canning.kinds]
        self.placed = [row(k.count, k.count) for k in kinds]
        self.worth = [1.0] * len(kinds)
        """What placing one more batch of each kind is worth, at the last prices."""
        self.family = [row(float(f.least), float(f.most)) for f in canning.families]
        goal = self.solver.Objective()
        goal.SetMinimization()
        for without_room in (*self.placed, *self.family):
            column = self._column()
            without_room.SetCoefficient(column, 1.0)
            goal.SetCoefficient(column, 1.0)
        self._add_rides()
        for rest in rests:
            self._add_rest(rest)
        self.of_pairs = pairs
        self.pairs = {n: row(-self.many, float(p.most)) for n, p in pairs.items()}
        self.pan = {
            n: row(-self.many, float(p.beside_min * p.room) / day.width)
            for n, p in pairs.items()
        }
        self.worth_of_pair = dict.fromkeys(pairs, 0.0)
        """What one more pair of stirrings at once would be worth."""
        for n, more in enumerate(spared):
            if more:
                self._add_spared(n, more)

    def _column(self) -> pywraplp.Variable:
        return self.solver.NumVar(0.0, self.many, "")

    def _add_rides(self) -> None:
        """Closed jars go into loads that are lowered within their wait."""
        for n, sort in enumerate(self.canning.jars):
            for closed in range(self.day.count):
                last = self.day.last_ride(closed, sort.wait_min)
                for load in self.canning.rides[n]:
                    for lowered in range(closed, last + 1):
                        column = self._column()
                        self.closed[n][closed].SetCoefficient(column, -1.0)
                        self.place[load][lowered].SetCoefficient(column, 1.0)

    def _add_rest(self, rest: Rest) -> None:
        taken = self.solver.Constraint(1.0, 1.0)
        for row in rest.taken:
            column = self._column()
            taken.SetCoefficient(column, 1.0)
            for supply, share in rest.shares:
                self._ask(supply, column, share * row)

    def _add_spared(self, supply: int, most: int) -> None:
        """More may be asked of a supply, here or there, so much in all."""
        total = self.solver.Constraint(-self.many, float(most) / self.day.width)
        for row in self.supply[supply]:
            column = self._column()
            row.SetCoefficient(column, -1.0)
            total.SetCoefficient(column, 1.0)
            if supply in self.pan:
                self.pan[supply].SetCoefficient(column, 1.0)

    def _ask(self, supply: int, column: pywraplp.Variable, minutes: Minutes) -> None:
        for k in np.nonzero(minutes)[0]:
            self.supply[supply][k].SetCoefficient(
                column, float(minutes[k]) / self.day.width
            )

    def _ask_by_marks(
        self, column: pywraplp.Variable, marks: Sequence[tuple[int, int, int]]
    ) -> None:
        by_supply: dict[int, list[tuple[int, int]]] = {}
        for supply, minute, weight in marks:
            by_supply.setdefault(supply, []).append((max(0, minute), weight))
        for supply, mine in by_supply.items():
            self._ask(supply, column, stretches(mine, self.day.width, self.day.count))

    def add_batch(self, number: int, starts: tuple[int, ...]) -> bool:
        """A way to place a batch of a kind; false where it is there already."""
        if starts in self.batches[number]:
            return False
        self.batches[number][starts] = None
        kind, column = self.kinds[number], self._column()
        self.placed[number].SetCoefficient(column, 1.0)
        self._ask_by_marks(
            column,
            [
                (m.supply, start + m.offset, m.weight)
                for start, marks in zip(starts, kind.marks, strict=True)
                for m in marks
            ],
        )
        closing = kind.closing
        if closing is not None:
            sort = [(j.process, j.wait_min) for j in self.canning.jars]
            mine = sort.index((closing.process, closing.wait_min))
            when = self.day.of(starts[closing.chain] + closing.offset)
            self.closed[mine][when].SetCoefficient(column, float(closing.jars))
        return True

    def add_load(self, number: int, lowered: int, late: int) -> bool:
        """A load of a kind; false where it is there already."""
        if (lowered, late) in self.loads[number]:
            return False
        self.loads[number][lowered, late] = None
        load, column = self.canning.kinds[number], self._column()
        self._ask_by_marks(column, list(load.at(lowered, late)))
        when = self.day.of(lowered)
        self.place[number][when].SetCoefficient(column, -float(load.places))
        for family, row in zip(self.canning.families, self.family, strict=True):
            if number in family.kinds:
                row.SetCoefficient(column, 1.0)
        return True

    def add_pair(self, supply: int, pair: Pair) -> bool:
        """Two stirrings at once in some hands; false where they are there already."""
        if (supply, pair.marks) in self.both:
            return False
        self.both[supply, pair.marks] = None
        column = self._column()
        self._ask_by_marks(column, [(supply, at, weight) for at, weight in pair.marks])
        self.pairs[supply].SetCoefficient(column, 1.0)
        pans = pair.pans * self.of_pairs[supply].beside_min
        self.pan[supply].SetCoefficient(column, pans / self.day.width)
        return True

    def prices(self) -> Prices | None:
        """Whole prices from the program; `None` where all batches find room."""
        status = self.solver.Solve()
        if status != pywraplp.Solver.OPTIMAL:
            return None
        if self.solver.Objective().Value() < NOTHING_LEFT:
            return None

        self.worth = [row.dual_value() for row in self.placed]
        self.worth_of_pair = {n: -row.dual_value() for n, row in self.pairs.items()}

        def whole(rows: list[pywraplp.Constraint], width: int) -> Minutes:
            dual = np.array([row.dual_value() for row in rows])
            rounded: Minutes = np.rint(np.maximum(0.0, -dual) * WHOLE / width).astype(
                np.int64
            )
            return rounded

        return Prices(
            tuple(whole(rows, self.day.width) for rows in self.supply),
            tuple(whole(rows, 1) for rows in self.closed),
            tuple(whole(rows, 1) for rows in self.place),
            {n: int(whole([row], self.day.width)[0]) for n, row in self.pan.items()},
            tuple(round(row.dual_value() * WHOLE) for row in self.family),
        )

    def add_cheap(self, verdict: Verdict) -> bool:
        """Columns that are cheaper than what there is; false where none is."""
        added = False
        for n, places in enumerate(verdict.batches):
            for cost, starts in places:
                if cost < (self.worth[n] - CHEAPER) * WHOLE:
                    added |= self.add_batch(n, starts)
        for n, (cost, lowered, late) in enumerate(verdict.loads):
            if cost < -CHEAPER * WHOLE:
                added |= self.add_load(n, lowered, late)
        for n, pairs in verdict.pairs.items():
            for pair in pairs:
                if pair.worth > (self.worth_of_pair[n] + CHEAPER) * WHOLE:
                    added |= self.add_pair(n, pair)
        return added
