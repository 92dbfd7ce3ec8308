"""What the shelf has for a recipe, what that makes, and what one more lacks."""

from __future__ import annotations

from stillroom.jar_count import counted, jars_said
from stillroom.planning.which_batches.choices import Fitted
from stillroom.planning.which_batches.shelf import amount, to_fetch, words_for


def lacking(fitted: Fitted, number: int, there: float) -> str:
    """What the shelf has, what it makes, and what one more batch or jar lacks."""
    more = to_fetch(fitted.base, amount(fitted.base) * (number + 1) - there)
    one = f"one {fitted.jar} jar" if fitted.method.PER_JAR else "one whole batch"
    if there <= 0:
        return f"none on the shelf; {one} needs {more}"
    have = f"{words_for(fitted.base, there)} on the shelf"
    if number == 0:
        return f"{have}; {one} needs {more} more"
    return f"{have} makes {_number(fitted, number)}; one more needs {more} more"


def _number(fitted: Fitted, number: int) -> str:
    """How many jars or whole batches."""
    if fitted.method.PER_JAR:
        jars = round(number * fitted.expected.likely)
        return jars_said(jars, fitted.jar)
    return counted(number, "whole batch")
