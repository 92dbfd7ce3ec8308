"""What the shelf has for a recipe, what that makes, and what one more lacks."""

from __future__ import annotations

from stillroom.jar_count import counted, jars_said
from stillroom.planning.which_batches.choices import Fitted
from stillroom.planning.which_batches.shelf import amount, to_fetch, words_for


def lacking(fitted: Fitted, number: int, there: float) -> str:
    """What the shelf has, what it makes, and what one more batch or jar lacks."""
    metric = fitted.recipe.metric
    short = amount(fitted.base) * _for_one_more(fitted, number) - there
    more = to_fetch(fitted.base, short, metric=metric)
    one = f"one {fitted.jar} jar" if fitted.method.PER_JAR else "one whole batch"
    if there <= 0:
        return f"none on the shelf; {one} needs {more}"
    have = f"{words_for(fitted.base, there, metric=metric)} on the shelf"
    if number == 0:
        return f"{have}; {one} needs {more} more"
    return f"{have} makes {_number(fitted, number)}; one more needs {more} more"


def _for_one_more(fitted: Fitted, number: int) -> int:
    """
    How often the recipe is taken for one batch more, or for one jar more.

    A recipe by the pound is for less than a jar: of dried apples several fill one.
    """
    if not fitted.method.PER_JAR:
        return number + 1
    each, units = fitted.expected.likely, number + 1
    while round(each * units) <= round(each * number):
        units += 1
    return units


def _number(fitted: Fitted, number: int) -> str:
    """How many jars or whole batches."""
    if fitted.method.PER_JAR:
        jars = round(number * fitted.expected.likely)
        return jars_said(jars, fitted.jar)
    return counted(number, "whole batch")
