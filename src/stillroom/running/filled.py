"""Whether anybody said that jars of a load are filled: what a wrong tap is told by."""

from __future__ import annotations

from stillroom.running.fold import RunState
from stillroom.running.load_run import LoadRun


def is_said_filled(state: RunState, run: LoadRun) -> bool:
    """
    Return whether a batch of a load was said, or is taken, to be filled and closed.

    Also where it cannot be known: nothing is asked then.
    """
    closes = {batch.id: batch.closes for batch in state.batches}
    return any(
        not closes.get(batch) or (batch, closes[batch]) in state.steps_done
        for batch, _ in run.load.jars
    )
