"""How the limits of a day that has begun are called, by whoever does not keep them."""

from __future__ import annotations

from stillroom.methods.step import Link
from stillroom.planning.problem import Batch
from stillroom.planning.words.step_words import called

ENDS_IN_TIME = "the day ends in time"
"""The limit of the day's end."""


def wait_said(batch: Batch, link: Link) -> str:
    """Words for a longest wait."""
    within = "at once after"
    if link.at_most_min:
        within = f"at most {link.at_most_min} min after"
    why = f" ({link.why})" if link.why else ""
    return (
        f"{called(batch, link.after)} of {batch.id} {within} "
        f"{called(batch, link.before)}{why}"
    )


def hour_said(batch: Batch, step: str) -> str:
    """Words for the latest hour of a step."""
    return f"{called(batch, step)} of {batch.id} begins in time"


def closed_said(batch: str, most_min: int) -> str:
    """Words for how long jars wait closed for the canner."""
    return f"closed jars of {batch} wait at most {most_min} min"


def rests_in_time(person: str) -> str:
    """Words for the limit of a break."""
    return f"the hour by which {person} rests"


def lifted_too_late(load: str) -> str:
    """Words for the limit of a load that is to be lifted out."""
    return f"load {load} is lifted out too late"
