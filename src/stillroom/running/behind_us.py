"""
Steps that are over because their jars are in the canner, said done or not. Pure.

Nobody goes back to drain what is closed and has its clock. Such steps count as done
for what is shown to do; when they ended stays unknown, and nothing is learned of them.
"""

from __future__ import annotations

from stillroom.planning.problem import Batch, Problem
from stillroom.running.fold import RunState

Key = tuple[str, str]


def behind_us(problem: Problem, state: RunState) -> frozenset[Key]:
    """
    Return the steps that nobody has to do any more, as (batch, step).

    Those that were said done, and where every load with jars of a batch is in its
    canner, all that leads to its jars being closed. What comes behind that, a pot to
    wash say, is still to be done.
    """
    known = {batch.id: batch for batch in problem.batches}
    canned = {id_ for id_ in _aboard(state) if _is_all_in(state, id_)}
    return state.steps_done | {
        (id_, step) for id_ in canned & set(known) for step in _up_to_closed(known[id_])
    }


def _aboard(state: RunState) -> set[str]:
    return {batch for run in state.loads for batch, _ in run.load.jars}


def _is_all_in(state: RunState, batch: str) -> bool:
    mine = [run for run in state.loads if batch in dict(run.load.jars)]
    return all(run.is_in or run.lifted_at or run.all_broke for run in mine)


def _up_to_closed(batch: Batch) -> set[str]:
    """Return the step that closes the jars, and whatever has to end before it."""
    found: set[str] = set()
    more = [batch.ready_after]
    while more:
        step = more.pop()
        if step not in found:
            found.add(step)
            more += [link.before for link in batch.links if link.after == step]
    return found
