"""How jars that are wanted by an hour are said: their label carries the hour."""

from __future__ import annotations

import re

from stillroom.planning.day import Want
from stillroom.planning.problem import Problem

_DUE = re.compile(r"(.+) by (\d{1,2}:\d{2})")


def due_label(product: str, want: Want) -> str:
    """Tell batches for a want with an hour apart from the rest of the product."""
    return f"{product} by {want.by:%-H:%M}" if want.by else product


def batches_of(problem: Problem, label: str) -> str:
    """
    Say of what batches are, with the hour only where it tells them apart.

    "sour cherry jelly"; "the sour cherry jelly that is wanted by 14:30" where a day
    makes other sour cherry jelly as well.
    """
    due = _DUE.fullmatch(label)
    if due is None:
        return label
    product, by = due.groups()
    others = {b.product for b in problem.batches if b.product != label}
    if any(product_of(other) == product for other in others):
        return f"the {product} that is wanted by {by}"
    return product


def jars_due(label: str) -> str:
    """
    Say what comes late, with the hour by which it is wanted.

    >>> jars_due("sour cherry jelly by 14:30")
    'sour cherry jelly, wanted by 14:30,'
    >>> jars_due("plum jelly")
    'plum jelly'
    """
    due = _DUE.fullmatch(label)
    return label if due is None else f"{due[1]}, wanted by {due[2]},"


def wanted_by(label: str, by: str) -> str:
    """
    Say what was promised for an hour, whether its label carries that hour or not.

    >>> wanted_by("plum jelly", "10:30"), wanted_by("plum jelly by 10:30", "10:30")
    ('plum jelly, wanted by 10:30,', 'plum jelly, wanted by 10:30,')
    """
    return f"{product_of(label)}, wanted by {by},"


def product_of(label: str) -> str:
    """
    Say what is made, without the hour that its label carries.

    >>> product_of("plum jelly by 10:30"), product_of("plums by hand")
    ('plum jelly', 'plums by hand')
    """
    due = _DUE.fullmatch(label)
    return label if due is None else due[1]
