"""A soft jelly: how long to wait, how to tell, and what the remake takes."""

from __future__ import annotations

import datetime as dt
import math
from dataclasses import dataclass
from enum import StrEnum

from stillroom.book.jars import jar_named
from stillroom.book.procedures import Procedure
from stillroom.book.remake import remake_for, remakes
from stillroom.methods.jars import lids_for
from stillroom.methods.remade import JARS, even_batches, remade_procedure
from stillroom.methods.scaling import at_multiple
from stillroom.refusal import COMMON_PRACTICE, Refusal, Source, granted

FINAL = dt.timedelta(days=14)
FIRST_LOOK = {
    "powdered": dt.timedelta(hours=72),
    "liquid": dt.timedelta(hours=24),
    "none": dt.timedelta(hours=24),
}
WAITING = Source(
    "remake leaflets print 24 h, Univ. of Saskatchewan three days; the two weeks of "
    "the last look, for some powdered-pectin sets, are from memory",
    "memory",
)
"""Marked by its weakest part: the text of the two weeks was not seen."""
OLDEST = dt.timedelta(days=3653)
"""Filled longer ago is taken for a slip of the pen; nothing printed sets an age."""
MOST_CUPS_ASKED = 400
TRIAL_CUPS = 1.0
"""Cooked anew before all the rest, as the older leaflet has it (book/remake). [cup]"""
TELL = (
    "tilt a jar: it moves like water, it is syrup; it bulges and slides, it is soft; "
    "it holds an edge, it is set"
)


class Looks(StrEnum):
    """What a jar does when it is tilted."""

    SYRUP = "syrup"
    SOFT = "soft"
    SET = "set"


@dataclass(frozen=True, slots=True, kw_only=True)
class Remaking:
    """One cup as a trial, then so many even batches, each with what goes in."""

    trial: Procedure
    trial_cups: float
    """Soft jelly in the trial: one cup, or all of it where there is less. [cup]"""
    batches: int
    """After the trial; none where the trial is all of it."""
    cups: float
    """Soft jelly in each of them. [cup]"""
    procedure: Procedure | None
    """Of one of them; `None` where there is none."""
    jars_low: int
    """Half-pints of the trial and of all batches, at least."""
    jars_high: int
    lids: int

    @property
    def procedures(self) -> tuple[Procedure, ...]:
        """The trial, and one of the batches after it."""
        return (self.trial,) if self.procedure is None else (self.trial, self.procedure)


@dataclass(frozen=True, slots=True, kw_only=True)
class SoftJelly:
    """What to do about it now."""

    do: str
    """``wait``, ``remake`` or ``keep``."""
    hours: float
    """Since it was filled. [h]"""
    look_at: dt.datetime | None
    final_at: dt.datetime
    tell: str
    remaking: Remaking | None
    why: str
    source: Source


MOST_SOFT_JARS = 400
"""So many soft jars are taken at once: more is a slip (no source)."""


def soft_cups(jars: int, jar: str) -> float | Refusal:
    """Return what so many jars hold, of a size that jelly is put up in. [cup]"""
    size = jar_named(jar)
    if isinstance(size, Refusal):
        return size
    if size.name not in JARS:
        return Refusal(
            f"no process for jelly in {size.name} jars is published",
            instead=f"if they were kept cold, count each as {size.cups / 2} pint jars; "
            'if they stood on the shelf, look up "never processed" among the troubles',
            source=remakes()[0].source.text,
        )
    return round(float(jars * size.cups), 3)


def soft_jelly(
    *,
    pectin: str,
    cups: float,
    filled_at: dt.datetime,
    now: dt.datetime,
    looks: Looks,
) -> SoftJelly | Refusal:
    """
    Return whether to wait or to remake, and the published quantities.

    Parameters
    ----------
    pectin : str
        What it was made with: ``powdered``, ``liquid`` or ``none``.
    cups : float
        All the soft jelly there is. [cup]
    filled_at, now : datetime
        When it was filled, and now; both local or both aware.
    looks : Looks
        What a jar does when tilted.
    """
    row = remake_for(pectin)
    if isinstance(row, Refusal):
        return row
    if (no := _cannot_be(cups, filled_at, now)) is not None:
        return no
    final_at = filled_at + FINAL
    first = filled_at + FIRST_LOOK[pectin]
    hours = (now - filled_at) / dt.timedelta(hours=1)
    if looks is Looks.SET:
        return SoftJelly(
            do="keep",
            hours=hours,
            look_at=None,
            final_at=final_at,
            tell=TELL,
            remaking=None,
            why="it is set",
            source=WAITING,
        )
    if now < first:
        return SoftJelly(
            do="wait",
            hours=hours,
            look_at=first,
            final_at=final_at,
            tell=TELL,
            remaking=None,
            why=f"{hours:.0f} h is too early to say; look again then",
            source=WAITING,
        )
    remaking = _remaking(pectin, cups)
    if isinstance(remaking, Refusal):
        return remaking
    return SoftJelly(
        do="remake",
        hours=hours,
        look_at=final_at if now < final_at else None,
        final_at=final_at,
        tell=TELL,
        remaking=remaking,
        why="one cup as a trial first; or keep it as syrup, with a label that says so",
        source=row.source,
    )


def _cannot_be(cups: float, filled_at: dt.datetime, now: dt.datetime) -> Refusal | None:
    """Refuse hours and quantities that no jelly has."""
    if now < filled_at:
        return Refusal(
            "it was filled after now",
            instead="check the date and the hour",
            source="the clock",
        )
    if now - filled_at > OLDEST:
        return Refusal(
            f"it was filled in {filled_at.year}, by the date given",
            instead="check the year; the program takes up to ten years, as no "
            "publication says how old a jelly may be that is cooked again",
            source=COMMON_PRACTICE,
        )
    if not 0.5 <= cups <= MOST_CUPS_ASKED:
        return Refusal(
            f"{cups:g} cups is no quantity of jelly to remake",
            instead=f"give what there is, half a cup to {MOST_CUPS_ASKED} cups",
            source=COMMON_PRACTICE,
        )
    return None


def _remaking(pectin: str, cups: float) -> Remaking | Refusal:
    trial_cups = min(TRIAL_CUPS, cups)
    trial = remade_procedure(pectin, trial_cups)
    if isinstance(trial, Refusal):
        return trial
    more_cups = _added_cups(trial)
    number, each, procedure = 0, 0.0, None
    rest = round(cups - trial_cups, 3)
    if rest > 0:
        number, each = even_batches(rest)
        batch = remade_procedure(pectin, each)
        if isinstance(batch, Refusal):
            return batch
        procedure = batch
        more_cups += number * _added_cups(batch)
    low = max(1, math.floor(cups + 1e-6))
    high = max(low, math.floor(cups + more_cups + 1e-6))
    return Remaking(
        trial=trial,
        trial_cups=trial_cups,
        batches=number,
        cups=each,
        procedure=procedure,
        jars_low=low,
        jars_high=high,
        lids=lids_for(high),
    )


def _added_cups(procedure: Procedure) -> float:
    """Return what sugar and liquids add to a batch. [cup]"""
    recipe = granted(at_multiple(procedure, 1))
    added = sum(
        float(part.volume_m3 or 0.0) for part in recipe.of_role("liquid", "acid")
    )
    sugar = sum(part.mass_kg or 0.0 for part in recipe.of_role("sugar"))
    # Sugar dissolves to about half of its cup (see kettle.dissolved_volume_m3).
    return added / 2.365882365e-4 + sugar / 0.2 * 0.53
