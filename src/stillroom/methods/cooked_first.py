"""
What is cooked, or stands, before a spread comes into its pan.

Peels that simmer half an hour, pulp that is cooked and sieved, a puree that is boiled
in its vinegar: it has no step and no minutes in a plan, so it is said where the fruit
is prepared, and among the cautions.
"""

from __future__ import annotations

import re

from stillroom.methods.method import Recipe
from stillroom.refusal import Caution

_TIMED = re.compile(r"\b([0-9]+ min|an hour)\b")


def cooked_first(recipe: Recipe) -> str:
    """Return what is done before the pan, as printed; empty where nothing cooks."""
    prep = recipe.procedure.base_prep
    if recipe.from_juice or not _TIMED.search(prep):
        return ""
    once = "" if recipe.multiple == 1 else " (so printed for one batch)"
    return f"before the pan: {prep.rstrip('.')}{once}"


def cooked_first_cautions(recipe: Recipe) -> tuple[Caution, ...]:
    """Warn of minutes that the plan does not have."""
    first = cooked_first(recipe)
    if not first:
        return ()
    said = f"{recipe.procedure.name}, {first}. The plan has no minutes for it: begin so"
    return (Caution(f"{said} much earlier.", recipe.procedure.source),)
