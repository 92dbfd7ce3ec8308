"""Steps as their keeper calls them: by what is done, not by their names in the plan."""

from __future__ import annotations

import re

from stillroom.planning.problem import Batch

_COUNTS = re.compile(
    r"(?:\bfor )?(?<![\w-])\d[\d.,/]*(?: to \d[\d.]*)?(?: min\b(?: \(\d+ s\))?)? ?"
)


def called(batch: Batch, step_id: str) -> str:
    """A step of a batch in quotes, without the figures that differ from day to day."""
    step = next((s for s in batch.steps if s.id == step_id), None)
    return f'"{step_id}"' if step is None else f'"{without_counts(step.verb)}"'


def without_counts(verb: str) -> str:
    """
    Leave the counts and minutes out of what is done, so that like steps are alike.

    >>> without_counts("Fill 8 half-pint jars")
    'Fill half-pint jars'
    >>> without_counts("Boil 9 empty pint jars for 10 min")
    'Boil empty pint jars'
    >>> without_counts("Boil hard 1 min by the clock")
    'Boil hard by the clock'
    >>> without_counts("Boil hard 1/2 min (30 s) by the clock")
    'Boil hard by the clock'
    """
    return _COUNTS.sub("", verb).strip() or verb
