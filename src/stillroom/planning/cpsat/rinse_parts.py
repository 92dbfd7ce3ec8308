"""Washes that may be rinses as solver variables: whether each is one, and for whom."""

from __future__ import annotations

from dataclasses import dataclass

from ortools.sat.python import cp_model

from stillroom.planning.problem import Problem
from stillroom.planning.rinses import Tool, may_follow, wash_of

Expr = cp_model.LinearExpr


@dataclass(slots=True)
class Rinse:
    """A wash that is a rinse where another batch of the same product follows."""

    tool: Tool
    rinsed: cp_model.IntVar
    end: cp_model.IntVar
    full_min: int
    saved_min: int

    @property
    def length(self) -> Expr:
        """Minutes that it takes."""
        return self.full_min - self.saved_min * self.rinsed


@dataclass(frozen=True, slots=True)
class Follow:
    """``after`` is next in the very pot or mill of ``before``, which is rinsed only."""

    tool: Tool
    before: str
    after: str
    holds: cp_model.IntVar


@dataclass(frozen=True, slots=True)
class Kept:
    """A pot or mill that stands rinsed for a batch, from a minute on."""

    tool: Tool
    batch: str
    size: str
    """Of the pot; empty for a mill."""
    since: int


def make_rinses(
    model: cp_model.CpModel, problem: Problem, horizon: int
) -> tuple[dict[tuple[str, int], Rinse], list[Follow]]:
    """
    Return what may be rinsed, by batch and position of the wash, and who may follow.

    A wash is a rinse where one batch follows, and for that one alone.
    """
    rinses: dict[tuple[str, int], Rinse] = {}
    follows: list[Follow] = []
    for batch in problem.batches:
        for tool in Tool:
            later = [b for b in problem.batches if may_follow(batch, b, tool)]
            wash = wash_of(batch, tool)
            if wash is None or wash.rinse_min is None or not later:
                continue
            name = f"{tool} of {batch.id}"
            rinses[batch.id, batch.steps.index(wash)] = rinse = Rinse(
                tool,
                model.new_bool_var(f"{name} rinsed"),
                model.new_int_var(0, horizon, f"{name} clean"),
                wash.duration_min,
                wash.duration_min - wash.rinse_min,
            )
            mine = [
                Follow(tool, batch.id, b.id, model.new_bool_var(f"{name} for {b.id}"))
                for b in later
            ]
            model.add(sum(follow.holds for follow in mine) == rinse.rinsed)
            follows += mine
    return rinses, follows
