"""The remake of a soft jelly in words, the same on the page and in the terminal."""

from __future__ import annotations

from stillroom import measures
from stillroom.methods.soft_jelly import Remaking


def remake_words(remaking: Remaking) -> str:
    """Return the trial and the batches after it, as part of a sentence."""
    if not remaking.batches:
        return (
            f"{_cups(remaking.trial_cups)} is all there is: the trial is the whole of "
            "it"
        )
    many = remaking.batches > 1
    return (
        f"first {_cups(remaking.trial_cups)} as a trial; when that has set, the rest "
        f"in {remaking.batches} {'batches' if many else 'batch'} of "
        f"{_cups(remaking.cups)}" + (", never all in one pot" if many else "")
    )


def jars_words(remaking: Remaking) -> str:
    """Return the jars and lids for all of it, as a sentence without its end."""
    low, high = remaking.jars_low, remaking.jars_high
    jars = f"{low} to {high}" if high > low else f"{low}"
    lids = "1 new lid" if remaking.lids == 1 else f"{remaking.lids} new lids"
    return f"Clean hot half-pint jars: {jars}, and {lids}"


def _cups(cups: float) -> str:
    """Write cups as they are measured: "1 cup", "1/2 cup", "4 3/4 cups"."""
    return f"{measures.mixed_number(cups)} {'cup' if cups <= 1 else 'cups'}"
