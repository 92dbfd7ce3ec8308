"""
What a jar costs in cash: what its batch draws, at what the lots cost. Never a price.

Own hours, heat, the wear of canners and fees are not in it: they are not on the shelf.
Sums are exact fractions; only what is shown is rounded, once, to the cent, half a cent
up. So lines as shown may differ from the sum as shown by a cent or two.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

from stillroom.book.words import tokens
from stillroom.planning.day import Lot
from stillroom.planning.dayplan import Draw, MadeBatch
from stillroom.planning.which_batches.names_on_shelf import same_thing
from stillroom.refusal import COMMON_PRACTICE, Source

LOST = Fraction(1, 25)
"""Jars lost to breakage or no seal: one in 25, of the one in 20 to 30 that is said."""
LOST_SOURCE = Source(COMMON_PRACTICE, "practice")

NOT_IN_IT = "own hours, heat, wear of pots and canners, fees and the stand itself"

_SAME = 0.99
"""A part drawn to within a hundredth is drawn whole: densities are no better."""
_FINEST = 1_000_000
"""Shares of a lot are read back as fractions no finer than this."""


@dataclass(frozen=True, slots=True, kw_only=True)
class CostLine:
    """What one lot adds to a batch."""

    lot: str
    what: str
    taken: str
    """In kitchen measures."""
    share: Fraction
    """Of the whole lot."""
    exact: Fraction | None
    """In the keeper's money; `None` where it is not known what the lot cost."""

    @property
    def shown(self) -> Decimal | None:
        """To the cent."""
        return None if self.exact is None else cents(self.exact)


@dataclass(frozen=True, slots=True, kw_only=True)
class Cost:
    """The cash cost of a batch, and of each of its good jars."""

    batch: str
    lines: tuple[CostLine, ...]
    jars: int
    """Jars filled."""
    unknown: tuple[str, ...]
    """What is not counted, and why; empty where everything was."""

    @property
    def exact(self) -> Fraction:
        """Sum of what is known."""
        return sum((line.exact for line in self.lines if line.exact), Fraction(0))

    @property
    def good_jars(self) -> Fraction:
        """Jars that are left to eat or to sell, on the average."""
        return self.jars * (1 - LOST)

    @property
    def total(self) -> Decimal:
        """The whole batch, to the cent."""
        return cents(self.exact)

    @property
    def per_jar(self) -> Decimal:
        """One good jar, to the cent: lost jars are paid by those that are left."""
        return cents(self.exact / self.good_jars)

    @property
    def complete(self) -> bool:
        """Nothing is unknown; otherwise a jar costs this *at least*."""
        return not self.unknown

    @property
    def sentence(self) -> str:
        """
        The answer in one sentence.

        >>> line = CostLine(lot="sugar", what="sugar", taken="2 lb",
        ...                 share=Fraction(1), exact=Fraction(12))
        >>> Cost(batch="plum jelly 1", lines=(line,), jars=8, unknown=()).sentence
        'A jar of plum jelly 1 costs 1.56 in cash, one jar in 25 reckoned as lost.'
        """
        if self.unknown and not self.per_jar:
            return (
                f"What a jar of {self.batch} costs in cash is not known: of what goes "
                "into it nobody said what it cost."
            )
        least = "" if self.complete else " at least"
        return (
            f"A jar of {self.batch} costs{least} {self.per_jar} in cash, "
            f"one jar in {LOST.denominator} reckoned as lost."
        )

    @property
    def qualified(self) -> str:
        """
        What the sum leaves out, and who says how many jars are lost.

        >>> print(Cost(batch="plum jelly 1", lines=(), jars=8, unknown=()).qualified)
        Not in it: own hours, heat, wear of pots and canners, fees and the stand itself.
        One jar in 25 lost to breakage or no seal: common practice, no source.
        """
        return (
            f"Not in it: {NOT_IN_IT}.\n"
            f"One jar in {LOST.denominator} lost to breakage or no seal: {LOST_SOURCE}."
        )


def cents(money: Fraction) -> Decimal:
    """
    Round money to the cent, half a cent up.

    >>> cents(Fraction(5, 1000)), cents(Fraction(1, 3)), cents(Fraction(2))
    (Decimal('0.01'), Decimal('0.33'), Decimal('2.00'))
    """
    whole, rest = divmod(money * 100, 1)
    return Decimal(int(whole) + (rest >= Fraction(1, 2))).scaleb(-2)


def cost_per_jar(batch: MadeBatch, shelf: tuple[Lot, ...]) -> Cost:
    """
    Return what a jar of the batch costs in cash.

    Parameters
    ----------
    batch : MadeBatch
        With its draws and the jars that the plan counts on.
    shelf : tuple of Lot
        The lots as they were before the day, with what each whole lot cost. A lot that
        cost nothing says ``paid = 0``; one that says nothing is named as unknown.

    Returns
    -------
    Cost
        It sets no price.

    Raises
    ------
    ValueError
        If the batch fills no jar.
    """
    if batch.jars < 1:
        raise ValueError(f"{batch.id} fills no jar, so no jar of it has a cost")
    lots = {lot.name: lot for lot in shelf}
    lines = tuple(_lines(batch.draws, lots))
    return Cost(
        batch=batch.id,
        lines=lines,
        jars=batch.jars,
        unknown=(
            *(
                f"{line.lot}: what it cost is not known"
                for line in lines
                if line.exact is None
            ),
            *_not_drawn(batch, lots),
        ),
    )


def _lines(draws: Iterable[Draw], lots: dict[str, Lot]) -> Iterator[CostLine]:
    for draw in draws:
        lot = lots.get(draw.lot)
        share = Fraction(0) if lot is None else _share(draw, lot)
        paid = None if lot is None else lot.paid
        yield CostLine(
            lot=draw.lot,
            what=draw.lot if lot is None else lot.what,
            taken=draw.text,
            share=share,
            # What was typed, not the binary number next to it: 12.60, not 12.5999…
            exact=None if paid is None else Fraction(str(paid)) * share,
        )


def _share(draw: Draw, lot: Lot) -> Fraction:
    """Part of the lot that is taken; 0 of an empty one."""
    for taken, whole in (
        (draw.volume_m3, lot.volume_m3),
        (draw.mass_kg, lot.mass_kg),
        (draw.count, lot.count),
    ):
        if taken is not None and whole is not None:
            if not whole:
                return Fraction(0)
            exact = Fraction(taken) / Fraction(whole)
            return exact.limit_denominator(_FINEST)
    raise ValueError(f"{draw.lot} is drawn in another measure than it is kept in")


def _not_drawn(batch: MadeBatch, lots: dict[str, Lot]) -> Iterator[str]:
    """Name what goes into the jars and does not come from the shelf: it is bought."""
    drawn = [(lots[d.lot].what, d) for d in batch.draws if d.lot in lots]
    for part in batch.parts:
        if part.role == "fruit" or part.optional:
            continue  # drawn as what it is made of; or left out
        taken = [draw for what, draw in drawn if same_thing(what, part.name)]
        if not taken:
            yield f"{part.name}: not on the shelf, so its cost is not known"
        elif _falls_short(taken, part.mass_kg, part.volume_m3):
            yield f"{part.name}: not all on the shelf; what is bought is not counted"
    for word in ("jar", "lid"):
        count = sum(d.count or 0 for what, d in drawn if word in tokens(what))
        if count < batch.jars:
            yield f"{word}s: {batch.jars - count} of {batch.jars} not on the shelf"


def _falls_short(
    taken: list[Draw], mass_kg: float | None, volume_m3: float | None
) -> bool:
    for got, need in (
        ([draw.mass_kg for draw in taken], mass_kg),
        ([draw.volume_m3 for draw in taken], volume_m3),
    ):
        known = [each for each in got if each is not None]
        if need is not None and len(known) == len(taken):
            return sum(known) < need * _SAME
    return False
