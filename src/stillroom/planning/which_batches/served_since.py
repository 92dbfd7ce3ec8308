"""Whom the batches of a day serve once it has gone otherwise than in the morning."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from stillroom.planning.day import Want
from stillroom.planning.dayplan import MadeBatch
from stillroom.planning.due_words import due_label
from stillroom.planning.problem import Problem


def served_as_in(
    problem: Problem, batches: Sequence[MadeBatch], all_batches: Sequence[MadeBatch]
) -> tuple[MadeBatch, ...]:
    """
    Return batches with the wants that their jars are for in a problem.

    Parameters
    ----------
    problem : Problem
        The day as it is planned now.
    batches : sequence of MadeBatch
        Those that are made, as the morning's plan has them.
    all_batches : sequence of MadeBatch
        Also those that were left out since: whom they were for waits all the same.
    """
    serves = {b.id: b.serves for b in problem.batches}
    return tuple(
        _serving(b, serves[b.id], all_batches) if b.id in serves else b for b in batches
    )


def _serving(
    batch: MadeBatch, serves: tuple[str, ...], others: Sequence[MadeBatch]
) -> MadeBatch:
    """The batch, for those of the wants for its like that it serves now."""

    def label(want: Want) -> str:
        return due_label(batch.product, want)

    due = set(serves) - {batch.product}
    if {label(want) for want in batch.serves if want.by} == due:
        return batch
    like = [b for b in others if (b.product, b.jar) == (batch.product, batch.jar)]
    all_wants = dict.fromkeys(want for b in like for want in b.serves)
    wants = [want for want in all_wants if want.by and label(want) in due]
    wants.sort(key=lambda want: (serves.index(label(want)), -want.matters))
    undated = [want for want in batch.serves if not want.by]
    mine = (*wants, *undated) or batch.serves[-1:]
    return replace(batch, serves=mine, purpose=mine[0].purpose)
