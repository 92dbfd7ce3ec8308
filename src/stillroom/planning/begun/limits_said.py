"""How the limits of a day that has begun are called, by whoever does not keep them."""

from __future__ import annotations

from stillroom.methods.step import Link
from stillroom.planning.problem import Batch
from stillroom.planning.spoken_of import Sentence, TheLoad, says
from stillroom.planning.words.step_words import called

ENDS_IN_TIME = says("the day ends in time")
"""The limit of the day's end."""


def wait_said(batch: Batch, link: Link) -> Sentence:
    """Words for a longest wait."""
    within = "at once after"
    if link.at_most_min:
        within = f"at most {link.at_most_min} min after"
    why = f" ({link.why})" if link.why else ""
    return says(
        f"{called(batch, link.after)} of {batch.id} {within} "
        f"{called(batch, link.before)}{why}"
    )


def hour_said(batch: Batch, step: str) -> Sentence:
    """Words for the latest hour of a step."""
    return says(f"{called(batch, step)} of {batch.id} begins in time")


def closed_said(batch: str, most_min: int) -> Sentence:
    """Words for how long jars wait closed for the canner."""
    return says(f"closed jars of {batch} wait at most {most_min} min")


def rests_in_time(person: str) -> Sentence:
    """Words for the limit of a break."""
    return says(f"the hour by which {person} rests")


def lifted_too_late(load: str) -> Sentence:
    """Words for the limit of a load that is to be lifted out."""
    return says(TheLoad(load), " is lifted out too late")
