"""For whom the jars are of a day that goes otherwise, and which promises lack some."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

from stillroom.planning.jars_promised import jars_given, jars_had
from stillroom.planning.problem import Batch, Want


@dataclass(frozen=True, slots=True, kw_only=True)
class LackingJars:
    """Jars that were promised by an hour and are in no batch of the plan."""

    product: str
    """As the want has it, with its hour."""
    jars: int
    """How many; 0 in runs of before it was kept how many were promised: none is."""
    by_min: int


def not_made(
    wants: Iterable[Want], batches: Sequence[Batch]
) -> tuple[LackingJars, ...]:
    """Return what some wants lack, told of what *is* made; the earliest due first."""
    due = _due(wants)
    asked = {want.product: want.jars for want in due}
    had = jars_had(asked, [(b.jars, b.serves) for b in batches])
    served = {product for b in batches if b.jars for product in b.serves}
    return tuple(
        LackingJars(
            product=one.product, jars=one.jars - had[one.product], by_min=one.by_min
        )
        for one in wants
        if had[one.product] < one.jars or one.product not in served
    )


def served_anew(
    wants: Iterable[Want],
    before: Sequence[Batch],
    now: Sequence[Batch],
    changed: Collection[str],
    done_min: Mapping[str, int],
) -> tuple[Batch, ...]:
    """
    Return the batches of a day with whom their jars are for, after some have changed.

    Jars are alike where they hold the same and are of one size. Of those, the ones that
    are there first go to whoever waits for the earliest hour, so that a batch that is
    left out takes no promise with it that another one can keep.

    Parameters
    ----------
    wants : iterable of Want
        What is promised by an hour.
    before : sequence of Batch
        All batches, also those that are left out now.
    now : sequence of Batch
        Those that are made.
    changed : collection of str
        Ids of batches that are left out or taken in: only of their like anything
        changes.
    done_min : mapping
        Batch to the minute at which its jars are there in the plan so far.
    """
    asked = {want.product: want.jars for want in _due(wants)}
    given = jars_given(asked, [(b.jars, b.serves) for b in before])
    owed: dict[tuple[str, str], dict[str, int]] = {}
    for batch, mine in zip(before, given, strict=True):
        theirs = owed.setdefault(_like(batch), dict.fromkeys(asked, 0))
        for product, jars in mine.items():
            theirs[product] += jars
    serves = {b.id: b.serves for b in now}
    last = max(done_min.values(), default=0)
    for like in {_like(b) for b in before if b.id in changed}:
        group = [b for b in before if _like(b) == like]
        products = {product for b in group for product in b.serves}
        unknown = any(asked[p] == 0 for p in products if p in asked)
        if not all(like) or unknown:  # runs of before these were kept
            continue
        made = [b for b in now if _like(b) == like and b.jars]
        made.sort(key=lambda b: done_min.get(b.id, last))
        serves |= _in_turn(owed[like], made)
    return tuple(_serving(b, serves[b.id]) for b in now)


def taken_over(
    wants: Iterable[Want], before: Sequence[Batch], now: Sequence[Batch]
) -> tuple[tuple[str, str], ...]:
    """Return (batch, want) where a batch serves a want that it did not before."""
    served = {(b.id, product) for b in before for product in b.serves}
    return tuple(
        (b.id, want.product)
        for want in _due(wants)
        for b in now
        if want.product in b.serves and (b.id, want.product) not in served
    )


def _in_turn(
    owed: Mapping[str, int], made: Sequence[Batch]
) -> dict[str, tuple[str, ...]]:
    """Whom each batch serves: jars in the order of batches, hours in theirs."""
    serves, before = {}, 0
    for batch in made:
        after, reached, mine = before + batch.jars, 0, []
        for product, jars in owed.items():
            if before < reached + jars and reached < after and jars:
                mine.append(product)
            reached += jars
        serves[batch.id] = tuple(mine) or (batch.contents,)
        before = after
    return serves


def _serving(batch: Batch, serves: tuple[str, ...]) -> Batch:
    return replace(batch, product=serves[0], also_for=serves[1:])


def _like(batch: Batch) -> tuple[str, str]:
    return batch.contents, batch.jar


def _due(wants: Iterable[Want]) -> list[Want]:
    return sorted(wants, key=lambda want: want.by_min)
