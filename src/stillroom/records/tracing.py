"""Both ways of a trace in one query, whatever else the record holds."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from sqlalchemy import (
    CTE,
    BigInteger,
    BindParameter,
    Column,
    CompoundSelect,
    Connection,
    bindparam,
    literal,
    select,
    union_all,
)
from sqlalchemy.sql.elements import ColumnElement

from stillroom.records.lot_tables import CODE, link, lot, undone


@dataclass(frozen=True, slots=True)
class Family:
    """The lots that belong to one lot; each once, in no order."""

    back: frozenset[str]
    """What went into it, and into that, and so on."""
    forward: frozenset[str]
    """What was made of it, and of that, and so on."""
    beside: frozenset[str]
    """What went through something together with it, and still counts."""


def family_of(connection: Connection, code: str, upto: int) -> Family:
    """
    Return what belongs to a lot, as the entries up to number ``upto`` have it.

    Each walk joins with ``UNION``, not ``UNION ALL``: what is reached on two paths is
    walked on from once, and a ring, which no real kitchen makes, comes to an end.
    """
    found: dict[str, set[str]] = {"back": set(), "forward": set(), "beside": set()}
    for row in connection.execute(_QUERY, {"of": code, "upto": upto}):
        found[row.way].add(row.code)
    return Family(*(frozenset(found[way] - {code}) for way in found))


_OF: BindParameter[str] = bindparam("of", type_=CODE)
_UPTO: BindParameter[int] = bindparam("upto", type_=BigInteger)


def counts(number: Column[int], upto: ColumnElement[int] | int) -> ColumnElement[bool]:
    """Whether an entry is there by then, and was not taken back by then."""
    return (number <= upto) & ~(
        select(undone.c.number)
        .where(undone.c.number == number, undone.c.by <= upto)
        .exists()
    )


def _walk(name: str, nearer: Column[str], farther: Column[str]) -> CTE:
    walk = select(_OF.label("code")).cte(name, recursive=True)
    return walk.union(
        select(farther)
        .select_from(walk.join(link, nearer == walk.c.code))
        .where(counts(link.c.number, _UPTO))
    )


def _query() -> CompoundSelect[Any]:
    back = _walk("back", link.c.made, link.c.source)
    forward = _walk("forward", link.c.source, link.c.made)
    mine = lot.alias("mine")
    return union_all(
        select(literal("back").label("way"), back.c.code),
        select(literal("forward"), forward.c.code),
        select(literal("beside"), lot.c.code)
        .select_from(mine.join(lot, lot.c.shared == mine.c.shared))
        .where(mine.c.code == _OF, mine.c.shared != "", counts(lot.c.number, _UPTO)),
    )


_QUERY = _query()
