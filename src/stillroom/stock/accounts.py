"""
Where all of a lot went, and one step back and one step forward. Pure.

Made less what was sold, given, eaten, spoiled, broken, tasted, used and what is on hand
must be nothing; what a count found missing is said, not hidden in the sum.
"""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass

from stillroom.book.acid_foods import is_known_acid
from stillroom.book.trouble import Trouble, troubles_for
from stillroom.refusal import Refusal
from stillroom.stock.events import Kind, Lot, Received, Way
from stillroom.stock.fold import Out, Stock
from stillroom.stock.lacks import is_in_doubt
from stillroom.stock.lotcode import printed
from stillroom.stock.tracing import Trace, trace, whom


@dataclass(frozen=True, slots=True, kw_only=True)
class Account:
    """All of one lot, in its own unit."""

    lot: Lot
    begun: int
    """Made, or taken in."""
    went: tuple[tuple[Way, int], ...]
    """By way, in the order of `Way`; no zeros."""
    used: int
    """Went into other lots."""
    on_hand: int
    counted_less: int
    """What counts found missing; below zero, what they found more."""

    @property
    def unaccounted(self) -> int:
        """Begun less all that is known of; 0 where all is accounted for."""
        return self.begun - sum(n for _, n in self.went) - self.used - self.on_hand

    @property
    def is_whole(self) -> bool:
        """Whether the entries add up: what is missing is just what counts found."""
        return self.unaccounted == self.counted_less

    def words(self, number: int) -> str:
        """Say a number of this lot."""
        return self.lot.measure.words(number)

    @property
    def said(self) -> str:
        """The sum in a sentence without its full stop."""
        parts = [f"{way.value} {n}" for way, n in self._numbers()]
        total = f"{self.words(self.begun)} = {' + '.join(parts)}"
        if not self.unaccounted:
            return f"{total}; all accounted for"
        more = "not accounted for" if self.unaccounted > 0 else "more than were booked"
        return f"{total} + {self.words(abs(self.unaccounted))} {more}"

    def _numbers(self) -> list[tuple[Way | _Word, str]]:
        rows: list[tuple[Way | _Word, str]] = [
            (way, self.words(n)) for way, n in self.went
        ]
        if self.used:
            rows.append((_Word("made into other lots"), self.words(self.used)))
        return [*rows, (_Word("on hand"), self.words(self.on_hand))]


@dataclass(frozen=True, slots=True)
class _Word:
    value: str


def account_of(stock: Stock, code: str) -> Account:
    """Return where all of a lot went."""
    event = stock.event(stock.begun(code))
    begun = 0 if stock.is_undone(code) else int(getattr(event, "number", 0))
    sums: dict[Way, int] = {}
    for out in stock.outs(code):
        sums[out.event.way] = sums.get(out.event.way, 0) + out.part.number
    return Account(
        lot=stock.lots[code],
        begun=begun,
        went=tuple((way, sums[way]) for way in Way if sums.get(way)),
        used=sum(
            part.number
            for made in stock.made_into(code)
            for part in made.inputs
            if part.lot == code
        ),
        on_hand=stock.balance(code),
        counted_less=sum(c.book - c.number for c in stock.counts(code)),
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class RecallSheet:
    """What, where, and who is told."""

    trace: Trace
    why: str
    accounts: tuple[Account, ...]
    """The lot and all that was made of it."""
    told: tuple[Out, ...]
    """What went to others; those are told, where it is known who they are."""
    suppliers: tuple[Lot, ...]
    untasted: Trouble | None
    """How jars are discarded that may hold toxin; `None` where there are none such."""


def recall_sheet(stock: Stock, code: str) -> RecallSheet:
    """Return the recall sheet of a lot, marked as recalled or not."""
    found, marked = trace(stock, code), stock.recall(code)
    lots = (found.lot, *(link.lot for link in found.forward))
    origins = (found.lot, *(link.lot for link in found.back))
    return RecallSheet(
        trace=found,
        why=marked.why if marked else "",
        accounts=tuple(account_of(stock, lot.code) for lot in lots),
        told=whom(found.outs),
        suppliers=tuple(lot for lot in origins if lot.supplier),
        untasted=_untasted(stock, lots),
    )


def _untasted(stock: Stock, lots: tuple[Lot, ...]) -> Trouble | None:
    """
    Return how jars of food that is not acid are discarded, where there are such.

    Why they are called back is in the keeper's words, so that it holds for all of them:
    none is eaten in any case.
    """
    if not any(_may_hold_toxin(stock, lot) for lot in lots):
        return None
    found = troubles_for("never processed", food="low_acid")
    if isinstance(found, Refusal):
        return None
    return next((trouble for trouble in found if trouble.do == "discard"), None)


def _may_hold_toxin(stock: Stock, lot: Lot) -> bool:
    made = stock.made(lot.code)
    if made is None or lot.kind is not Kind.FILLED or not made.batch.canned:
        return False
    is_back = stock.recall(lot.code) is not None or is_in_doubt(stock, lot.code)
    return is_back and not is_known_acid(lot.what)


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """One line of the sheet of one step back and one step forward."""

    when: str
    """Day, "2026-09-12"; empty where it was not written down."""
    what: str
    quantity: str
    whom: str
    """Supplier or receiver; says so where it was not written down."""


@dataclass(frozen=True, slots=True, kw_only=True)
class OneStep:
    """From whom it came, and to whom it went: one step each."""

    lot: Lot
    account: Account
    back: tuple[Step, ...]
    forward: tuple[Step, ...]
    gaps: tuple[str, ...]
    """What the record cannot say, in words."""


def one_step(stock: Stock, code: str, zone: dt.tzinfo | None = None) -> OneStep:
    """Return one step back and one step forward from a lot."""
    lot, made = stock.lots[code], stock.made(code)
    gaps: list[str] = []
    if made is None:
        event = stock.event(stock.begun(code))
        number = event.number if isinstance(event, Received) else 0
        back = [_from(stock, lot, lot.measure.words(number), zone)]
    else:
        back = [
            _from(
                stock,
                stock.lots[part.lot],
                _of(stock.lots[part.lot], part.number),
                zone,
            )
            for part in made.inputs
        ]
        if made.batch.unbooked:
            gaps.append(f"went in, and no lot of it is known: {made.batch.unbooked}")
        elif not back:
            gaps.append("what went into it was not booked")
    if any(step.whom == NOT_WRITTEN for step in back):
        gaps.append("whom an input came from was not written down everywhere")
    forward = [
        Step(
            when=out.event.occurred_at.astimezone(zone).date().isoformat(),
            what=f"{out.event.way.value}",
            quantity=_of(lot, out.part.number),
            whom=out.event.to or CONSUMERS,
        )
        for out in whom(stock.outs(code))
    ]
    forward += [
        Step(
            when=later.lot.day,
            what=f"made into {later.lot.what} {printed(later.lot.code)}",
            quantity=_of(lot, sum(p.number for p in later.inputs if p.lot == code)),
            whom="own kitchen",
        )
        for later in stock.made_into(code)
    ]
    return OneStep(
        lot=lot,
        account=account_of(stock, code),
        back=tuple(back),
        forward=tuple(sorted(forward, key=lambda step: step.when)),
        gaps=tuple(dict.fromkeys(gaps)),
    )


NOT_WRITTEN = "not written down"
CONSUMERS = "nobody named"


def _from(stock: Stock, lot: Lot, quantity: str, zone: dt.tzinfo | None) -> Step:
    """Say one input; where its own day is not known, the day on which it came in."""
    own = lot.kind.value in ("half-made", "jars filled")
    came = stock.event(stock.begun(lot.code)).occurred_at.astimezone(zone).date()
    return Step(
        when=lot.day or came.isoformat(),
        what=f"{lot.what} {printed(lot.code)}",
        quantity=quantity,
        whom=lot.supplier or ("own kitchen" if own else NOT_WRITTEN),
    )


def _of(lot: Lot, number: int) -> str:
    return lot.measure.words(number)
