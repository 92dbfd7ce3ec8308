"""
Who has less attention to give at once than any step asks for: the plan gives them none.

Without a word it would look as if there were nothing to do.
"""

from __future__ import annotations

from collections.abc import Iterator

from stillroom.planning.problem import Problem
from stillroom.refusal import COMMON_PRACTICE, Caution


def too_few_quarters(problem: Problem) -> Iterator[Caution]:
    """Say of whom no step can be, for their quarters, and how many one would take."""
    steps = [s for b in problem.batches for s in b.steps if s.attention_quarters]
    for person in problem.people:
        asked = {s.attention_quarters for s in steps if s.skill in person.skills}
        if not asked or min(asked) <= person.quarters:
            continue
        has = f"{person.quarters} {'quarter' if person.quarters == 1 else 'quarters'}"
        yield Caution(
            f"{person.id} has {has} of attention, and no step of this day that "
            f"{person.id} may do takes so few: the plan gives {person.id} nothing. The "
            f"least of them takes {min(asked)}: write quarters = {min(asked)} for "
            "somebody who can see one thing through, or give small things by hand",
            COMMON_PRACTICE,
        )
