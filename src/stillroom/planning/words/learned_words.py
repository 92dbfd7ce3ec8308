"""Which figures of a plan were learned, each beside the book's."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from stillroom.jar_count import jars_said
from stillroom.planning.dayplan import DayPlan


@dataclass(frozen=True, slots=True, kw_only=True)
class OwnFigure:
    """One figure that a plan took from past days."""

    product: str
    """Empty for what goes for the whole day."""
    what: str
    """The verb of a step, ``jars`` of a batch, or ``jars that do not seal``."""
    step: str
    """Id of the step; empty for other figures."""
    own: float
    book: float
    unit: str
    words: str
    """What it rests on: "learned from 7 runs of yours"."""

    @property
    def sentence(self) -> str:
        """
        The figure with what it rests on and the book's.

        >>> OwnFigure(product="plum jelly", what="Fill 8 jars", step="fill", own=6,
        ...     book=5, unit="min", words="learned from 7 runs of yours").sentence
        'Fill 8 jars (plum jelly): 6 min, learned from 7 runs of yours; the book says 5'
        """
        of = f" ({self.product})" if self.product else ""
        own, book = f"{self.own:.3g}", f"{self.book:.3g}"
        return f"{self.what}{of}: {own} {self.unit}, {self.words}; the book says {book}"


def apart(figures: Iterable[OwnFigure]) -> tuple[tuple[OwnFigure, ...], str]:
    """Return those that are not as the book has them, and a word on the others."""
    listed = tuple(figures)
    other = tuple(figure for figure in listed if figure.own != figure.book)
    same = len(listed) - len(other)
    if not same:
        return other, ""
    more = " more" if other else ""
    agree = "agrees" if same == 1 else "agree"
    return other, f"{same}{more} of your own figures {agree} with the book's."


def own_figures(plan: DayPlan) -> tuple[OwnFigure, ...]:
    """Return each learned figure of a plan once; none where it goes by the book."""
    found: dict[OwnFigure, None] = {}
    made = {batch.id: batch for batch in plan.batches}
    for batch in plan.batches:
        expected = batch.expected
        if expected.book_likely is not None:
            figure = OwnFigure(
                product=batch.product,
                what="jars of a batch",
                step="",
                own=round(expected.likely, 1),
                book=round(expected.book_likely, 1),
                unit=f"{batch.jar} jars",
                words=_rests_on(expected.basis),
            )
            found[figure] = None
    for one in plan.problem.batches if plan.problem else ():
        for step in one.steps:
            if step.book_min is None:
                continue
            figure = OwnFigure(
                product=made[one.id].product,
                what=step.verb,
                step=step.id,
                own=step.duration_min,
                book=step.book_min,
                unit="min",
                words=_rests_on(step.basis),
            )
            found[figure] = None
    seals = plan.learned.seals
    if seals is not None and any(batch.process for batch in plan.batches):
        figure = OwnFigure(
            product="",
            what="jars that do not seal",
            step="",
            own=round(100 * seals.mean, 1),
            book=round(100 * (seals.book or 0.0), 1),
            unit="of 100",
            words=f"learned from {jars_said(seals.jars)} of yours, {seals.seen} "
            "not good",
        )
        found[figure] = None
    return tuple(found)


def _rests_on(basis: str) -> str:
    return basis.partition("; the book says")[0]
