"""The shelf of the form, taken from the stock: shown, and saved by no one yet."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable
from dataclasses import dataclass, replace

from stillroom.jar_count import counted
from stillroom.planning.day import Lot
from stillroom.planning.day_file.dayfile import new_day_text, read_day
from stillroom.planning.day_file.dayfile_write import write_day
from stillroom.planning.day_file.dayschema import TABLES
from stillroom.planning.which_batches.names_on_shelf import same_thing
from stillroom.stock.day_shelf import (
    day_shelf,
    is_unknown,
    look_at_first,
    stood_too_long,
    with_room,
)
from stillroom.stock.fold import Stock
from stillroom.web.day_tree import Row, Tree, tree_of_file

MOST = TABLES["shelf"].at_most


@dataclass(frozen=True, slots=True)
class ShelfTaken:
    """What became of the lines of a form, to be said above them."""

    taken: int
    """Lines that come from the stock."""
    stays: tuple[str, ...]
    """Things that the stock never had: their lines stay as they were typed."""
    gone: tuple[str, ...]
    """Things that it had, and has none left of."""
    fresh: tuple[str, ...] = ()
    """Things of which no date says whether they are still good."""
    left: str = ""
    """What of the stock a day has no lines for, as a sentence."""
    past: str = ""
    """What stood too long to be eaten and is left out, as a sentence."""

    @property
    def words(self) -> str:
        """
        Say how much came.

        >>> ShelfTaken(12, (), ()).words, ShelfTaken(0, (), ()).words
        ('12 lines come from Stock.', 'Stock has nothing that a batch could draw on.')
        """
        if not self.taken:
            return "Stock has nothing that a batch could draw on."
        come = "comes" if self.taken == 1 else "come"
        return f"{counted(self.taken, 'line')} {come} from Stock."


def take_shelf(tree: Tree, stock: Stock, at: dt.datetime) -> ShelfTaken:
    """Put what is on hand into the shelf of the form, in place of what is the same."""
    typed = [row for row in tree["shelf"] if any(row.values())]
    stays = [row for row in typed if is_unknown(stock, _said(row))]
    there = day_shelf(stock, at)
    lots, left = with_room(there, MOST - len(stays))
    taken = _rows(lots)
    gone = [
        _said(row)
        for row in typed
        if row not in stays
        and not any(same_thing(_said(row), lot.what) for lot in there)
    ]
    tree["shelf"] = [*taken, *stays]
    fresh = look_at_first(stock, at)
    past = stood_too_long(stock, at)
    return ShelfTaken(
        len(taken), _once(map(_said, stays)), _once(gone), fresh, left, past
    )


def _said(row: Row) -> str:
    return str(row["is"] or row["name"] or "a line without a name")


def _once(words: Iterable[str]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(words))


def _rows(lots: tuple[Lot, ...]) -> list[Row]:
    """Return what is on hand, as it stands in a form."""
    if not lots:
        return []
    day = replace(read_day(new_day_text()), shelf=lots)
    return tree_of_file(write_day(day))["shelf"]
