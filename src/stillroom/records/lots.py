"""Lots, movements and links as the database answers for them."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Iterator
from contextlib import contextmanager
from typing import Any

from sqlalchemy import (
    CompoundSelect,
    Connection,
    Engine,
    Select,
    SelectBase,
    func,
    select,
    union,
)

from stillroom.records.engine import Place, told_in_words
from stillroom.records.following import (
    Following,
    Stand,
    follow,
    read_on,
    stand_of,
)
from stillroom.records.lot_tables import (
    lot,
    make_again,
    mark,
    movement,
    on_hand,
    place,
    request,
    shared_entry,
    undone,
)
from stillroom.records.stored import OF_ENTRIES, Recorded, recorded
from stillroom.records.tables import event
from stillroom.records.tracing import Family, counts, family_of

AT_ONCE = 500
"""Names in one question."""


class Lots:
    """
    What the entries of one stream lead to, asked for by lot.

    Every answer is that of the entries up to a number ``upto``: what is written behind
    it meanwhile changes no answer. May be used from several threads.
    """

    def __init__(self, engine: Engine, at: Place, *, may_write: bool = True) -> None:
        # Answers are as of a number, so each question may stand by itself; on a server
        # a transaction around it would be two more journeys.
        self._reader = (
            engine
            if engine.dialect.name == "sqlite"
            else engine.execution_options(isolation_level="AUTOCOMMIT")
        )
        self._writer = engine.execution_options(writes=True)
        self._place = at
        self._may_write = may_write

    def brought_up(self, following: Following) -> Stand | None:
        """
        Let the rows follow all entries of a stream, and return how far they go.

        Mostly nothing is to be done: who adds entries adds their rows. What was
        imported, or written by a Stillroom without these tables, is filled in here, in
        one transaction; rows that rest on other entries than these, or are of another
        form, are made again.

        Returns
        -------
        Stand or None
            `None` where the record may only be read and the rows do not go far enough.
        """
        with told_in_words(self._place):
            with self._reader.connect() as connection:
                stand = stand_of(connection, following)
            if stand.current:
                return stand
            if not self._may_write:
                return None
            with self._writer.begin() as connection:
                return follow(connection, following)

    def made_again(self, following: Following) -> Stand:
        """Throw all rows away and let them follow the entries from the first one."""
        with told_in_words(self._place), self._writer.begin() as connection:
            make_again(connection)
            return follow(connection, following)

    def family(self, code: str, upto: int) -> Family:
        """Return all that a lot came from, went into, and went along with."""
        with self._asking() as connection:
            return family_of(connection, code, upto)

    def about(self, stream: str, codes: Collection[str], upto: int) -> list[Recorded]:
        """
        Return every entry about these lots, and what took such an entry back.

        Entries about what a lot shared with others are about it too.
        """

        def told(some: list[str]) -> CompoundSelect[Any]:
            return union(
                select(movement.c.number).where(movement.c.lot.in_(some)),
                select(shared_entry.c.number)
                .join(lot, lot.c.shared == shared_entry.c.shared)
                .where(lot.c.code.in_(some)),
            )

        return self._entries(stream, told, codes, upto)

    def about_shared(self, stream: str, shared: str, upto: int) -> list[Recorded]:
        """Return the entries about all that shared something, and what undid those."""
        told = select(shared_entry.c.number)
        return self._entries(
            stream,
            lambda some: told.where(shared_entry.c.shared.in_(some)),
            (shared,),
            upto,
        )

    def begun(self, stream: str, codes: Collection[str], upto: int) -> list[Recorded]:
        """Return the entries by which these lots came to be, and what undid those."""
        told = select(lot.c.number)
        return self._entries(
            stream, lambda some: told.where(lot.c.code.in_(some)), codes, upto
        )

    def numbered(
        self, stream: str, numbers: Collection[int], upto: int
    ) -> list[Recorded]:
        """Return entries by number, and what took them back."""
        told = select(event.c.sequence).where(event.c.stream == stream)
        return self._entries(
            stream, lambda some: told.where(event.c.sequence.in_(some)), numbers, upto
        )

    def every(self, stream: str, upto: int) -> Iterator[Recorded]:
        """Yield every entry of the stream, in order."""
        with self._asking() as connection:
            for batch in read_on(connection, stream, after=0, upto=upto):
                yield from batch

    def named(self, name: str, upto: int) -> tuple[str, ...]:
        """Return the lots of a name that still count, in the order they came to be."""
        with self._asking() as connection:
            return _codes(
                connection,
                select(lot.c.code)
                .where(lot.c.name == name, counts(lot.c.number, upto))
                .order_by(lot.c.number),
            )

    def named_on_hand(self, name: str, upto: int) -> tuple[str, ...]:
        """Return those lots of a name that may have something left; see `on_hand`."""
        with self._asking() as connection:
            return _codes(
                connection,
                select(lot.c.code)
                .where(
                    lot.c.name == name,
                    counts(lot.c.number, upto),
                    lot.c.code.in_(_held(upto)),
                )
                .order_by(lot.c.number),
            )

    def sharing(self, shared: str, upto: int) -> tuple[str, ...]:
        """Return the lots that shared something, in the order they came to be."""
        with self._asking() as connection:
            return _codes(
                connection,
                select(lot.c.code)
                .where(lot.c.shared == shared, lot.c.number <= upto)
                .order_by(lot.c.number),
            )

    def marked(self, name: str, upto: int) -> tuple[str, ...]:
        """Return the lots that carry a mark, in the order they came to be."""
        with self._asking() as connection:
            return _codes(
                connection,
                select(mark.c.lot)
                .where(mark.c.mark == name, mark.c.number <= upto)
                .order_by(mark.c.number, mark.c.lot),
            )

    def names(self, upto: int) -> dict[str, str]:
        """Return every name that a lot has, and how it is written."""
        with self._asking() as connection:
            return {
                row.name: row.what
                for row in connection.execute(
                    select(lot.c.name, func.min(lot.c.what).label("what"))
                    .where(lot.c.number <= upto)
                    .group_by(lot.c.name)
                )
            }

    def supplied(self, upto: int) -> dict[str, str]:
        """Return of each lot from whom it came, if that was written, in order."""
        with self._asking() as connection:
            return {
                row.code: row.supplier
                for row in connection.execute(
                    select(lot.c.code, lot.c.supplier)
                    .where(lot.c.number <= upto, lot.c.supplier != "")
                    .order_by(lot.c.number, lot.c.code)
                )
            }

    def on_hand(self, upto: int) -> tuple[str, ...]:
        """
        Return every lot that had something left, in the order they came to be.

        What is on hand is known as it is now; so lots that were moved since are among
        them too, and the sum of their movements tells.
        """
        with self._asking() as connection:
            return _codes(
                connection,
                select(lot.c.code)
                .where(lot.c.number <= upto, lot.c.code.in_(_held(upto)))
                .order_by(lot.c.number),
            )

    def balance(self, code: str, upto: int) -> dict[str, int]:
        """Return how much of a lot is where: the sum of its movements."""
        total = func.sum(movement.c.quantity)
        with self._asking() as connection:
            return {
                row.place: int(row.total)
                for row in connection.execute(
                    select(movement.c.place, total.label("total"))
                    .where(movement.c.lot == code, movement.c.number <= upto)
                    .group_by(movement.c.place)
                    .having(total != 0)
                )
            }

    def places(self, upto: int) -> tuple[str, ...]:
        """Return every place that something was ever at."""
        with self._asking() as connection:
            return _codes(
                connection, select(place.c.name).where(place.c.number <= upto)
            )

    def in_series(self, series: str, upto: int) -> int:
        """Return how many lots have a code that counts up in a series."""
        with self._asking() as connection:
            return int(
                connection.execute(
                    select(func.count())
                    .select_from(lot)
                    .where(lot.c.series == series, lot.c.number <= upto)
                ).scalar_one()
            )

    def answered_by(self, token: str, upto: int) -> int:
        """Return the entry that answered a request; 0 if none did."""
        with self._asking() as connection:
            found = connection.execute(
                select(request.c.number).where(
                    request.c.token == token, request.c.number <= upto
                )
            ).scalar()
            return int(found or 0)

    def _entries(
        self,
        stream: str,
        told: Callable[[list[Any]], SelectBase],
        names: Collection[Any],
        upto: int,
    ) -> list[Recorded]:
        """
        Return the entries whose numbers are told, and those that took one back.

        One question for each few hundred names: on a server each is a journey.
        """
        found: dict[int, Recorded] = {}
        with self._asking() as connection:
            for some in _some(sorted(names)):
                numbers = told(some).cte("told")
                (number,) = numbers.c
                wanted = union(
                    select(number),
                    select(undone.c.by).join(numbers, number == undone.c.number),
                ).subquery()
                (asked,) = wanted.c
                # "Up to" is asked of the numbers: asked of the entries, a file reads
                # through all of them, and a trace grows with the record.
                rows = connection.execute(
                    select(*OF_ENTRIES).where(
                        event.c.stream == stream,
                        event.c.sequence.in_(select(asked).where(asked <= upto)),
                    )
                )
                found |= {row.sequence: recorded(row) for row in rows}
        return [found[number] for number in sorted(found)]

    @contextmanager
    def _asking(self) -> Iterator[Connection]:
        with told_in_words(self._place), self._reader.connect() as connection:
            yield connection


def _held(upto: int) -> Any:
    """Lots with something left now, or moved since: those with something left then."""
    return select(on_hand.c.lot).union(
        select(movement.c.lot).where(movement.c.number > upto)
    )


def _codes(connection: Connection, question: Select[Any]) -> tuple[str, ...]:
    return tuple(connection.execute(question).scalars().all())


def _some(names: list[Any]) -> Iterable[list[Any]]:
    return (names[i : i + AT_ONCE] for i in range(0, len(names), AT_ONCE))
